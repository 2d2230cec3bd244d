//! Two reports side by side: which goals changed.

use super::{GoalReport, Report};
use crate::judge::Verdict;
use crate::units::Interval;

/// A margin that moved by less is rounding.
const SAME: f64 = 1e-9;

/// How a goal changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
    /// Its verdict is worse: met, cannot tell, missed, in that order.
    Worse,
    /// Its verdict is better.
    Better,
    /// It applies now, or no longer.
    Applies,
    /// Its verdict is the same and its margin is not.
    Margin,
    /// Only the old report has it.
    Gone,
    /// Only the new report has it.
    New,
}

impl Change {
    /// The word reports print.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Worse => "worse",
            Self::Better => "better",
            Self::Applies => "applies otherwise",
            Self::Margin => "other margin",
            Self::Gone => "gone",
            Self::New => "new",
        }
    }
}

/// A goal that changed.
#[derive(Debug, Clone, Copy)]
pub struct Changed<'r> {
    /// How.
    pub change: Change,
    /// As it was.
    pub old: Option<&'r GoalReport>,
    /// As it is.
    pub new: Option<&'r GoalReport>,
}

impl<'r> Changed<'r> {
    /// The goal, as it is, or as it was where it is gone.
    #[must_use]
    pub fn goal(&self) -> Option<&'r GoalReport> {
        self.new.or(self.old)
    }

    /// Whether a goal that decides is worse off, or is missed and was not before: new, or one that did not apply.
    #[must_use]
    pub fn fails(&self) -> bool {
        let was_missed = self.old.is_some_and(|old| old.verdict == Verdict::Missed);
        self.new.is_some_and(|new| {
            let missed = new.verdict == Verdict::Missed && !was_missed;
            new.binding && (missed || self.change == Change::Worse)
        })
    }
}

/// The goals that changed between two reports, worst first, each kind in the order of the reports. Goals are the same by
/// requirement; where two rule sets are compared, whatever these are called.
#[must_use]
pub fn changes<'r>(old: &'r Report, new: &'r Report, whatever_set: bool) -> Vec<Changed<'r>> {
    let is = |a: &GoalReport, b: &GoalReport| a.id == b.id && (whatever_set || a.rule_set == b.rule_set);
    let mut found: Vec<Changed<'r>> = Vec::new();
    for goal in &old.goals {
        match new.goals.iter().find(|n| is(goal, n)) {
            Some(now) => {
                found.extend(changed(goal, now).map(|change| Changed { change, old: Some(goal), new: Some(now) }));
            }
            None => found.push(Changed { change: Change::Gone, old: Some(goal), new: None }),
        }
    }
    let fresh = new.goals.iter().filter(|goal| !old.goals.iter().any(|o| is(o, goal)));
    found.extend(fresh.map(|goal| Changed { change: Change::New, old: None, new: Some(goal) }));
    found.sort_by_key(|c| c.change);
    found
}

fn changed(old: &GoalReport, new: &GoalReport) -> Option<Change> {
    let rank = |v: Verdict| match v {
        Verdict::Missed => Some(0),
        Verdict::CannotTell => Some(1),
        Verdict::Met => Some(2),
        Verdict::NotApplicable => None,
    };
    match (rank(old.verdict), rank(new.verdict)) {
        (Some(a), Some(b)) if b < a => Some(Change::Worse),
        (Some(a), Some(b)) if b > a => Some(Change::Better),
        (Some(_), None) | (None, Some(_)) => Some(Change::Applies),
        _ => moved(old.margin, new.margin).then_some(Change::Margin),
    }
}

fn moved(old: Option<Interval>, new: Option<Interval>) -> bool {
    let apart = |a: f64, b: f64| a != b && (a - b).abs() > SAME * a.abs().max(b.abs()).max(1.0);
    match (old, new) {
        (Some(a), Some(b)) => apart(a.low, b.low) || apart(a.high, b.high),
        (None, None) => false,
        _ => true,
    }
}
