//! JUnit XML: a suite a rule set, a case a goal. What fails is what decides; the verdict itself is a property of the case.

use super::Render;
use super::entry::Entry;
use crate::judge::Verdict;
use crate::report::Report;
use quick_junit::{NonSuccessKind, Property, TestCase, TestCaseStatus, TestSuite};
use std::io::{self, Write};

/// See [`Render`].
pub struct JUnit;

impl Render for JUnit {
    fn name(&self) -> &'static str {
        "junit"
    }

    fn write(&self, report: &Report, _colour: bool, out: &mut dyn Write) -> io::Result<()> {
        suites("lampwright check", &Entry::all(report)).serialize(&mut *out).map_err(io::Error::other)
    }
}

pub(super) fn suites(name: &str, entries: &[Entry<'_>]) -> quick_junit::Report {
    let mut report = quick_junit::Report::new(name);
    let mut sets: Vec<&str> = Vec::new();
    for entry in entries {
        if !sets.contains(&entry.set) {
            sets.push(entry.set);
        }
    }
    for set in sets {
        let mut suite = TestSuite::new(set);
        suite.add_test_cases(entries.iter().filter(|e| e.set == set).map(case));
        report.add_test_suite(suite);
    }
    report
}

fn case(entry: &Entry<'_>) -> TestCase {
    let status = match entry.verdict {
        Verdict::Met => TestCaseStatus::success(),
        Verdict::Missed if entry.binding => {
            let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
            status.set_type(entry.set).set_message(entry.title).set_description(text(entry));
            status
        }
        // JUnit knows only passed, failed and skipped: what does not decide is skipped, and says what it is.
        _ => {
            let mut status = TestCaseStatus::skipped();
            status.set_message(format!("{}: {}", entry.verdict, entry.title)).set_description(text(entry));
            status
        }
    };
    let mut case = TestCase::new(entry.id, status);
    case.set_classname(entry.set);
    case.add_property(Property::new("verdict", entry.verdict.as_str()));
    if entry.at.is_real() {
        case.extra.insert("file".into(), entry.at.file.to_string().into());
        case.extra.insert("line".into(), entry.at.line.to_string().into());
    }
    case
}

fn text(entry: &Entry<'_>) -> String {
    let lines: Vec<String> = entry.details.iter().map(|(label, text)| format!("{label}: {text}")).collect();
    lines.join("\n")
}
