//! What a machine-read format says of one goal: the same for each of them.

use super::words::details;
use crate::judge::Verdict;
use crate::report::{GoalReport, Report};
use crate::source::At;

/// A goal as results, test cases and rows have it.
pub(super) struct Entry<'a> {
    /// The rule set.
    pub set: &'a str,
    /// The requirement, without what tells its goals apart.
    pub requirement: &'a str,
    /// The goal.
    pub id: &'a str,
    /// Its title.
    pub title: &'a str,
    /// Section and paragraph.
    pub cite: &'a str,
    /// The verdict.
    pub verdict: Verdict,
    /// Whether it decides the exit status.
    pub binding: bool,
    /// What there is to say, label and text.
    pub details: Vec<(&'static str, String)>,
    /// The line of the user's file to change.
    pub at: &'a At,
    /// The requirement's line.
    pub related: &'a At,
}

impl<'a> Entry<'a> {
    fn of(goal: &'a GoalReport) -> Self {
        Self {
            set: &goal.rule_set,
            requirement: goal.id.split('/').next().unwrap_or(&goal.id),
            id: &goal.id,
            title: &goal.title,
            cite: &goal.citation,
            verdict: goal.verdict,
            binding: goal.binding,
            details: details(goal),
            at: &goal.location,
            related: &goal.related,
        }
    }

    /// Every goal of a report.
    pub fn all(report: &'a Report) -> Vec<Self> {
        report.goals.iter().map(Self::of).collect()
    }

    /// One sentence: title, verdict, and what there is to say.
    pub fn sentence(&self) -> String {
        let told = self.details.iter().filter(|(label, _)| *label != "look at");
        let told: Vec<String> = told.map(|(label, text)| format!("{label} {text}")).collect();
        format!("{}: {}. {}", self.title, self.verdict, told.join("; "))
    }

    /// What stays the same when the file is edited: rule set, goal, file.
    pub fn key(&self) -> String {
        format!("{}/{}@{}", self.set, self.id, self.at.file)
    }
}
