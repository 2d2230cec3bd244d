//! What a machine-read format says of one goal or one finding: the same for each of them.

use crate::judge::Verdict;
use crate::render::words::goals::details;
use crate::report::{GoalReport, LintFinding, LintReport, Report, Severity};
use crate::source::At;

/// How an entry came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::render) enum Outcome {
    /// As it should be.
    Pass,
    /// Not as it should be, and how much that weighs.
    Fail(Severity),
    /// It cannot be told.
    Open,
    /// It does not apply.
    NotApplicable,
}

/// A goal or a finding as results, test cases and rows have it.
pub(in crate::render) struct Entry<'a> {
    /// The rule set, or the file.
    pub group: &'a str,
    /// The rule, unique among all.
    pub rule: String,
    /// The rule in a few words.
    pub rule_title: String,
    /// What tells more of the rule.
    pub explain: &'a str,
    /// The goal, or the code.
    pub name: &'a str,
    /// How it came out.
    pub outcome: Outcome,
    /// The same as a word: a verdict or a severity.
    pub word: &'static str,
    /// What there is to say, label and text.
    pub details: Vec<(&'static str, String)>,
    /// The line of the user's file to change.
    pub at: &'a At,
    /// Other places in the user's files.
    pub related: &'a [(At, String)],
    /// The requirement's line.
    pub requirement: Option<&'a At>,
    /// What stays the same when the file is edited.
    pub key: String,
    /// Why it is let pass.
    pub let_pass: Option<&'a str>,
    /// Whether it was there before, where a baseline tells: of what failed and was not let pass.
    pub known: Option<bool>,
    /// Whether it makes the run fail.
    pub fails: bool,
}

impl<'a> Entry<'a> {
    fn of_goal(goal: &'a GoalReport, report: &Report) -> Self {
        let requirement = goal.id.split('/').next().unwrap_or(&goal.id);
        let cite = if goal.citation.is_empty() { String::new() } else { format!(" ({})", goal.citation) };
        let title = goal.title.split(": ").next().unwrap_or(&goal.title);
        Self {
            group: &goal.rule_set,
            rule: format!("{}/{requirement}", goal.rule_set),
            rule_title: format!("{title}{cite}"),
            explain: requirement,
            name: &goal.id,
            outcome: match goal.verdict {
                Verdict::Met => Outcome::Pass,
                Verdict::Missed if goal.binding => Outcome::Fail(Severity::Error),
                Verdict::Missed => Outcome::Fail(Severity::Warning),
                Verdict::CannotTell => Outcome::Open,
                Verdict::NotApplicable => Outcome::NotApplicable,
            },
            word: goal.verdict.as_str(),
            details: details(goal),
            at: &goal.location,
            related: &[],
            requirement: Some(&goal.related),
            key: goal.key(),
            let_pass: None,
            known: (report.has_baseline && goal.verdict == Verdict::Missed).then_some(goal.known),
            fails: goal.fails(report.strict),
        }
    }

    /// Every goal of a report.
    pub fn of_goals(report: &'a Report) -> Vec<Self> {
        report.goals.iter().map(|goal| Self::of_goal(goal, report)).collect()
    }

    fn of_finding(path: &'a str, finding: &'a LintFinding, report: &LintReport) -> Self {
        let set = finding.rule_set.as_deref();
        let mut details = vec![("found", finding.message.clone())];
        if !finding.instead.is_empty() {
            details.push(("to mend", finding.instead.clone()));
        }
        Self {
            group: path,
            rule: set.map_or_else(|| finding.code.clone(), |set| format!("{set}/{}", finding.code)),
            rule_title: finding.title.clone(),
            explain: &finding.code,
            name: &finding.code,
            outcome: Outcome::Fail(finding.severity),
            word: finding.severity.as_str(),
            details,
            at: &finding.at,
            related: &finding.related,
            requirement: None,
            key: finding.key(),
            let_pass: finding.let_pass.as_deref(),
            known: (report.has_baseline && finding.let_pass.is_none()).then_some(finding.known),
            fails: finding.fails(report.strict),
        }
    }

    /// Every finding of a lint.
    pub fn of_findings(report: &'a LintReport) -> Vec<Self> {
        let all = report.files.iter().flat_map(|file| file.findings.iter().map(move |f| (file.path.as_str(), f)));
        all.map(|(path, finding)| Self::of_finding(path, finding, report)).collect()
    }

    /// One sentence: what it is, how it came out, and what there is to say.
    pub fn sentence(&self) -> String {
        let told = self.details.iter().filter(|(label, _)| *label != "look at");
        let told: Vec<String> = told.map(|(label, text)| format!("{label} {text}")).collect();
        format!("{}: {}. {}", self.rule_title, self.word, told.join("; "))
    }
}
