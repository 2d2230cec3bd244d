//! What lint found, as a person reads it: the line, a caret, what to write instead.

use crate::render::words::goals::counted;
use crate::report::{LintFinding, LintReport, LintedFile, Severity};
use crate::source::{Shown, Weight};
use std::io::{self, Write};

pub(in crate::render) fn lint_text(report: &LintReport, colour: bool, out: &mut dyn Write) -> io::Result<()> {
    for file in &report.files {
        for finding in file.findings.iter().filter(|f| f.counts()) {
            writeln!(out, "{}\n", shown(file, finding, colour))?;
        }
    }
    let mut line = tally(report).to_vec();
    let passed = report.findings().filter(|f| f.let_pass.is_some()).count();
    if passed > 0 {
        line.push(format!("{passed} let pass"));
    }
    let known = report.findings().filter(|f| f.known && f.let_pass.is_none()).count();
    if known > 0 {
        line.push(format!("{known} there before"));
    }
    if report.passed_over > 0 {
        line.push(format!("{} not looked at", counted(report.passed_over, "other file")));
    }
    line.extend(report.settings.iter().map(|file| format!("weighed by {file}")));
    writeln!(out, "{}", line.join(", "))
}

/// How many files, errors, warnings and notes count.
pub(in crate::render) fn tally(report: &LintReport) -> [String; 4] {
    [
        counted(report.files.len(), "file"),
        counted(report.count(Severity::Error), "error"),
        counted(report.count(Severity::Warning), "warning"),
        counted(report.count(Severity::Note), "note"),
    ]
}

fn shown(file: &LintedFile, finding: &LintFinding, colour: bool) -> String {
    let weight = finding.severity.as_str();
    let message = folded(&finding.message, weight.len() + finding.code.len() + "[]: ".len());
    Shown {
        weight: match finding.severity {
            Severity::Error => Weight::Error,
            Severity::Warning => Weight::Warning,
            _ => Weight::Note,
        },
        code: &finding.code,
        message: &message,
        instead: &finding.instead,
        at: &finding.at,
        related: &finding.related,
    }
    .text(&file.sources, colour)
}

/// A headline on lines of 80 columns, of which its head takes some; it stays on one where it fits.
fn folded(message: &str, head: usize) -> String {
    let options = textwrap::Options::new(80_usize.saturating_sub(head)).break_words(false);
    textwrap::fill(message, options.word_splitter(textwrap::WordSplitter::NoHyphenation))
}
