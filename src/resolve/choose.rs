//! The rule sets of a craft, each at every standing its dates allow.

use crate::error::Error;
use crate::rules::{Craft, Dates, Holds, RuleKind, RuleSet};
use jiff::ToSpan;

/// A rule set at one standing.
#[derive(Debug, Clone)]
pub struct Candidate<'a> {
    /// The rule set.
    pub set: &'a RuleSet,
    /// The application dates for which this standing holds.
    pub days: Dates,
    /// Why it was chosen.
    pub why: String,
    /// Whether its goals decide if the model passes: the published ones do, and a set that was asked for by name.
    pub binding: bool,
}

/// Why a set was chosen that was asked for by its id.
const ASKED: &str = "asked for";

/// The published rule sets of a craft at every standing its dates allow, then those that hold for every craft.
///
/// A set asked for by its id is used whatever its basis says, and instead of every other published one.
///
/// # Errors
/// No published rule set answers the craft; names what is missing or nearest.
pub fn choose<'a>(craft: &Craft, sets: &'a [RuleSet], asked: Option<&str>) -> Result<Vec<Candidate<'a>>, Error> {
    let mut chosen = Vec::new();
    for set in sets.iter().filter(|s| s.basis.is_some()) {
        if let Some(why) = fits(craft, set, asked) {
            chosen.extend(standings(craft.application(), set, &why));
        }
    }
    if chosen.is_empty() && asked.is_none() {
        return Err(Error::NoRuleSet { why: nearest(craft, sets) });
    }
    for set in sets.iter().filter(|s| s.basis.is_none()) {
        let binding = asked == Some(set.id.as_str()) || set.kind == RuleKind::Published;
        let why = if asked == Some(set.id.as_str()) { ASKED } else { "holds for every craft" };
        chosen.push(Candidate { set, days: Dates::ALWAYS, why: why.to_string(), binding });
    }
    Ok(chosen)
}

/// Why a rule set fits a craft; `None` where it does not.
fn fits(craft: &Craft, set: &RuleSet, asked: Option<&str>) -> Option<String> {
    let basis = set.basis.as_ref()?;
    if let Some(asked) = asked {
        return (asked == set.id).then(|| ASKED.to_string());
    }
    if let Some(named) = &craft.judge_by {
        return (*named == set.id).then(|| "named by prototype.judge_by".to_string());
    }
    let same = craft.authority == Some(basis.authority) && basis.categories.contains(&craft.category?);
    (same && !matches!(basis.in_force.on(craft.application()), Holds::No(_)))
        .then(|| format!("{} of {}", craft.category.map_or(String::new(), |c| c.to_string()), basis.authority))
}

/// The standings of a rule set over the days a craft may have been applied for.
fn standings<'a>(days: Dates, set: &'a RuleSet, why: &str) -> Vec<Candidate<'a>> {
    let basis = set.basis.as_ref().map(|b| b.in_force.clone()).unwrap_or_default();
    let given = days;
    let first = basis.from.map_or(days.first, |f| f.first.max(days.first));
    let days = Dates { first: first.min(days.last), last: days.last };
    let mut cuts: Vec<_> = set
        .requirements
        .iter()
        .flat_map(|r| r.in_force.boundaries())
        .filter(|day| days.first < *day && *day <= days.last)
        .collect();
    cuts.sort();
    cuts.dedup();
    let mut starts = vec![days.first];
    starts.extend(&cuts);
    let ends = cuts.iter().map(|cut| cut.checked_sub(1.day()).unwrap_or(*cut)).chain([days.last]);
    let asked = match (given.first == Dates::ALWAYS.first, given.last == Dates::ALWAYS.last) {
        (true, true) => ", application date not given".to_string(),
        (true, false) => format!(", applied for not later than {}", given.last),
        _ => format!(", applied for {given}"),
    };
    // What an earlier document asked is not at hand: that must be said, not passed over.
    let dated = match days.first > given.first {
        true => format!("{asked}; what held before {} is not at hand and not judged", days.first),
        false => asked,
    };
    starts
        .into_iter()
        .zip(ends)
        .map(|(first, last)| Candidate {
            set,
            days: Dates { first, last },
            why: format!("{why}{dated}"),
            binding: true,
        })
        .collect()
}

/// What to tell a user whose craft no rule set answers.
fn nearest(craft: &Craft, sets: &[RuleSet]) -> String {
    if let Some(named) = &craft.judge_by {
        let ids: Vec<&str> = sets.iter().filter(|s| s.basis.is_some()).map(|s| s.id.as_str()).collect();
        return format!("prototype.judge_by names `{named}`, and the rule sets are {}", crate::source::one_of(&ids));
    }
    let wanted = match (craft.category, craft.authority) {
        (None, None) => return "the file says neither prototype.category nor prototype.authority; add both, or name a rule set with prototype.judge_by".to_string(),
        (None, _) => return "the file has no prototype.category; add it, like `category: transport aeroplane`".to_string(),
        (_, None) => return "the file has no prototype.authority; add it, like `authority: US`".to_string(),
        (Some(category), Some(authority)) => format!("{category}, {authority}, applied for {}", craft.application()),
    };
    let near: Vec<String> = sets
        .iter()
        .filter_map(|s| {
            let basis = s.basis.as_ref()?;
            let categories: Vec<&str> = basis.categories.iter().map(|c| c.as_str()).collect();
            let from = basis.in_force.from.map_or(String::new(), |d| format!(", applied for from {d}"));
            Some(format!("`{}` ({}, {}{from})", s.id, basis.authority, categories.join(", ")))
        })
        .collect();
    format!("{wanted}; nearest: {}; to judge by it all the same, write `judge_by: ID` under prototype", near.join(", "))
}
