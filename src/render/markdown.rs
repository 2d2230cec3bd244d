//! Markdown for a pull request: what is missed first, each goal with its verdict.

use super::Render;
use super::entry::Entry;
use crate::judge::Verdict;
use crate::report::Report;
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
        entries(&Entry::all(report), out)?;
        writeln!(out)?;
        for caution in &report.cautions {
            writeln!(out, "> {} ({})", escaped(&caution.text), escaped(&caution.source))?;
            writeln!(out, ">")?;
        }
        writeln!(out, "> {}", escaped(&report.notice))
    }
}

pub(super) fn entries(entries: &[Entry<'_>], out: &mut dyn Write) -> io::Result<()> {
    for verdict in [Verdict::Missed, Verdict::CannotTell, Verdict::Met, Verdict::NotApplicable] {
        let some: Vec<&Entry<'_>> = entries.iter().filter(|e| e.verdict == verdict).collect();
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
        writeln!(out, "| verdict | goal | paragraph | required | found | to mend | line |")?;
        writeln!(out, "| --- | --- | --- | --- | --- | --- | --- |")?;
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

fn row(entry: &Entry<'_>, out: &mut dyn Write) -> io::Result<()> {
    let told = |label: &str| {
        let texts = entry.details.iter().filter(|(l, _)| *l == label).map(|(_, text)| escaped(text));
        texts.collect::<Vec<_>>().join("; ")
    };
    let found = [told("found"), told("because")].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("; ");
    let mend = [told("to meet"), told("add")].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("; ");
    let place = if entry.at.is_real() { format!("`{}:{}`", entry.at.file, entry.at.line) } else { String::new() };
    let free = if entry.binding { "" } else { " (does not decide)" };
    writeln!(
        out,
        "| {} | {} `{}/{}`{free} | {} | {} | {found} | {mend} | {place} |",
        entry.verdict,
        escaped(entry.title),
        entry.set,
        entry.id,
        escaped(entry.cite),
        told("required"),
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
