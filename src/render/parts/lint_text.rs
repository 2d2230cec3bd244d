//! What lint found, as a person reads it: the line, a caret, what to write instead.

use crate::report::{LintFinding, LintReport, LintedFile, Severity};
use crate::source::{Shown, Weight};
use std::io::{self, Write};

pub(in crate::render) fn lint_text(report: &LintReport, colour: bool, out: &mut dyn Write) -> io::Result<()> {
    for file in &report.files {
        for finding in file.findings.iter().filter(|f| f.counts()) {
            writeln!(out, "{}\n", shown(file, finding, colour))?;
        }
    }
    let count = |n: usize, what: &str| format!("{n} {what}{}", if n == 1 { "" } else { "s" });
    let mut line = vec![
        count(report.files.len(), "file"),
        count(report.count(Severity::Error), "error"),
        count(report.count(Severity::Warning), "warning"),
        count(report.count(Severity::Note), "note"),
    ];
    let passed = report.findings().filter(|f| f.let_pass.is_some()).count();
    if passed > 0 {
        line.push(format!("{passed} let pass"));
    }
    let known = report.findings().filter(|f| f.known && f.let_pass.is_none()).count();
    if known > 0 {
        line.push(format!("{known} there before"));
    }
    if report.passed_over > 0 {
        line.push(format!("{} not looked at", count(report.passed_over, "other file")));
    }
    writeln!(out, "{}", line.join(", "))
}

fn shown(file: &LintedFile, finding: &LintFinding, colour: bool) -> String {
    Shown {
        weight: match finding.severity {
            Severity::Error => Weight::Error,
            Severity::Warning => Weight::Warning,
            _ => Weight::Note,
        },
        code: &finding.code,
        message: &finding.message,
        instead: &finding.instead,
        at: &finding.at,
        related: &finding.related,
    }
    .text(&file.sources, colour)
}
