//! JUnit XML: a suite a rule set, a case a goal; of lint a suite a file, a case a finding. What fails is what decides; the
//! verdict or weight itself is a property of the case.

use super::Render;
use super::parts::entry::{Entry, Outcome};
use crate::report::{LintReport, Report};
use quick_junit::{NonSuccessKind, Property, TestCase, TestCaseStatus, TestSuite};
use std::io::{self, Write};

/// See [`Render`].
pub struct JUnit;

impl Render for JUnit {
    fn name(&self) -> &'static str {
        "junit"
    }

    fn write(&self, report: &Report, _colour: bool, out: &mut dyn Write) -> io::Result<()> {
        let entries = Entry::of_goals(report);
        let mut sets: Vec<&str> = Vec::new();
        for entry in &entries {
            if !sets.contains(&entry.group) {
                sets.push(entry.group);
            }
        }
        let mut all = quick_junit::Report::new("lampwright check");
        for set in sets {
            all.add_test_suite(suite(set, entries.iter().filter(|e| e.group == set)));
        }
        all.serialize(&mut *out).map_err(io::Error::other)
    }

    fn write_lint(&self, report: &LintReport, _colour: bool, out: &mut dyn Write) -> io::Result<()> {
        let entries = Entry::of_findings(report);
        let mut rest = entries.as_slice();
        let mut all = quick_junit::Report::new("lampwright lint");
        for file in &report.files {
            // Findings stand in the order of the files.
            let (own, others) = rest.split_at_checked(file.findings.len()).unwrap_or((rest, &[]));
            rest = others;
            let mut suite = suite(&file.path, own.iter());
            if own.is_empty() {
                let mut clean = TestCase::new("nothing found", TestCaseStatus::success());
                clean.set_classname(file.path.as_str());
                suite.add_test_case(clean);
            }
            all.add_test_suite(suite);
        }
        all.serialize(&mut *out).map_err(io::Error::other)
    }
}

fn suite<'e>(name: &str, entries: impl Iterator<Item = &'e Entry<'e>>) -> TestSuite {
    let mut suite = TestSuite::new(name);
    suite.add_test_cases(entries.map(case));
    suite
}

fn case(entry: &Entry<'_>) -> TestCase {
    let status = match entry.outcome {
        _ if entry.fails => {
            let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
            status.set_type(entry.rule.as_str()).set_message(entry.rule_title.as_str()).set_description(text(entry));
            status
        }
        Outcome::Pass => TestCaseStatus::success(),
        // JUnit knows only passed, failed and skipped: what does not decide is skipped, and says what it is.
        _ => {
            let mut status = TestCaseStatus::skipped();
            status.set_message(format!("{}: {}", entry.word, entry.rule_title)).set_description(text(entry));
            status
        }
    };
    let mut case = TestCase::new(entry.name, status);
    case.set_classname(entry.group);
    case.add_property(Property::new("verdict", entry.word));
    if let Some(why) = entry.let_pass {
        case.add_property(Property::new("let pass", why));
    }
    if !entry.at.file.is_empty() {
        case.extra.insert("file".into(), entry.at.file.to_string().into());
    }
    if entry.at.is_real() {
        case.extra.insert("line".into(), entry.at.line.to_string().into());
    }
    case
}

fn text(entry: &Entry<'_>) -> String {
    let lines: Vec<String> = entry.details.iter().map(|(label, text)| format!("{label}: {text}")).collect();
    lines.join("\n")
}
