//! Markdown for a pull request: what is missed first, each goal with its verdict.

use super::Render;
use super::parts::entry::{Entry, Outcome};
use crate::judge::Verdict;
use crate::report::{LOCAL_RULES, LintReport, Report, Severity};
use std::io::{self, Write};

/// See [`Render`].
pub struct Markdown;

impl Render for Markdown {
    fn name(&self) -> &'static str {
        "markdown"
    }

    fn write(&self, report: &Report, _colour: bool, out: &mut dyn Write) -> io::Result<()> {
        let craft = &report.aircraft;
        writeln!(out, "## {}, 1:{}", escaped(&craft.title), crate::units::short(craft.scale))?;
        writeln!(out)?;
        for set in &report.rule_sets {
            writeln!(out, "- `{}` {}, for {}", set.id, escaped(&set.title), escaped(&set.standing_at))?;
        }
        let t = &report.all;
        writeln!(out)?;
        writeln!(
            out,
            "**{} missed, {} cannot be told, {} met, {} not applicable** ({} required goals missed)",
            t.missed, t.cannot_tell, t.met, t.not_applicable, report.required.missed
        )?;
        entries(&Entry::of_goals(report), out)?;
        writeln!(out)?;
        for caution in &report.cautions {
            writeln!(out, "> {} ({})", escaped(&caution.text), escaped(&caution.source))?;
            writeln!(out, ">")?;
        }
        writeln!(out, "> {}", escaped(&report.notice))
    }

    fn write_lint(&self, report: &LintReport, _colour: bool, out: &mut dyn Write) -> io::Result<()> {
        let count = |severity| report.count(severity);
        writeln!(
            out,
            "**{} files: {} errors, {} warnings, {} notes**",
            report.files.len(),
            count(Severity::Error),
            count(Severity::Warning),
            count(Severity::Note)
        )?;
        let entries = Entry::of_findings(report);
        if !entries.is_empty() {
            writeln!(out)?;
            writeln!(out, "| severity | code | found | to mend | line |")?;
            writeln!(out, "| --- | --- | --- | --- | --- |")?;
        }
        for entry in &entries {
            let settled = match (entry.let_pass, entry.known) {
                (Some(why), _) => format!(" (let pass: {})", escaped(why)),
                (_, Some(true)) => " (there before)".to_string(),
                _ => String::new(),
            };
            let told = |label| told(entry, label);
            let (word, rule, place) = (entry.word, &entry.rule, place(entry));
            writeln!(out, "| {word}{settled} | `{rule}` | {} | {} | {place} |", told("found"), told("to mend"))?;
        }
        writeln!(out)?;
        writeln!(out, "> {}", escaped(LOCAL_RULES))
    }
}

fn entries(entries: &[Entry<'_>], out: &mut dyn Write) -> io::Result<()> {
    for verdict in [Verdict::Missed, Verdict::CannotTell, Verdict::Met, Verdict::NotApplicable] {
        let some: Vec<&Entry<'_>> = entries.iter().filter(|e| e.word == verdict.as_str()).collect();
        if some.is_empty() {
            continue;
        }
        writeln!(out)?;
        // Only what is missed stands open: a comment on a pull request should fit a screen.
        let folded = verdict != Verdict::Missed;
        if folded {
            writeln!(out, "<details><summary>{} {verdict}</summary>", some.len())?;
        } else {
            writeln!(out, "### {} {verdict}", some.len())?;
        }
        writeln!(out)?;
        writeln!(out, "| verdict | goal | required | found | to mend | line |")?;
        writeln!(out, "| --- | --- | --- | --- | --- | --- |")?;
        for entry in some {
            row(entry, out)?;
        }
        if folded {
            writeln!(out)?;
            writeln!(out, "</details>")?;
        }
    }
    Ok(())
}

fn told(entry: &Entry<'_>, label: &str) -> String {
    let texts = entry.details.iter().filter(|(l, _)| *l == label).map(|(_, text)| escaped(text));
    texts.collect::<Vec<_>>().join("; ")
}

fn place(entry: &Entry<'_>) -> String {
    if entry.at.is_real() { format!("`{}:{}`", entry.at.file, entry.at.line) } else { String::new() }
}

fn row(entry: &Entry<'_>, out: &mut dyn Write) -> io::Result<()> {
    let both = |a, b| {
        let texts = [told(entry, a), told(entry, b)].into_iter().filter(|t| !t.is_empty());
        texts.collect::<Vec<_>>().join("; ")
    };
    let (found, mend) = (both("found", "because"), both("to meet", "add"));
    let note = match (entry.known, entry.outcome) {
        (Some(true), Outcome::Fail(_)) => " (there before)",
        (_, Outcome::Fail(Severity::Error) | Outcome::Pass) => "",
        (_, Outcome::Fail(_)) => " (does not decide)",
        _ => "",
    };
    writeln!(
        out,
        "| {} | {} `{}/{}`{note} | {} | {found} | {mend} | {} |",
        entry.word,
        escaped(&entry.rule_title),
        entry.group,
        entry.name,
        told(entry, "required"),
        place(entry),
    )
}

/// Text that Markdown and its tables take as text.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '|' | '*' | '_' | '[' | ']' | '\\' | '#' => {
                out.push('\\');
                out.push(c);
            }
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '\n' | '\r' => out.push(' '),
            other => out.push(other),
        }
    }
    out
}
