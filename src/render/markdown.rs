//! Markdown for a pull request: what is missed first, each goal with its verdict.

use super::Render;
use super::parts::entry::{Entry, Outcome};
use super::parts::lint_text::tally;
use super::words::goals::counted;
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
            writeln!(out, "- {} {}, for {}", code(&set.id), escaped(&set.title), escaped(&set.standing_at))?;
        }
        let t = &report.all;
        writeln!(out)?;
        writeln!(
            out,
            "**{} missed, {} cannot be told, {} met, {} not applicable** ({} missed)",
            t.missed,
            t.cannot_tell,
            t.met,
            t.not_applicable,
            counted(report.required.missed, "required goal")
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
        let [files, errors, warnings, notes] = tally(report);
        let weighed = report.settings.as_ref().map_or(String::new(), |file| format!(", weighed by `{file}`"));
        writeln!(out, "**{files}: {errors}, {warnings}, {notes}**{weighed}")?;
        let entries = Entry::of_findings(report);
        if !entries.is_empty() {
            writeln!(out)?;
            writeln!(out, "| severity | code | found | to mend | line |")?;
            writeln!(out, "| --- | --- | --- | --- | --- |")?;
        }
        for entry in &entries {
            let settled = match (entry.let_pass, entry.known) {
                (Some(why), _) => format!(" (let pass: {})", cell(why)),
                (_, Some(true)) => " (there before)".to_string(),
                _ => String::new(),
            };
            let told = |label| told(entry, label);
            let (word, rule, place) = (entry.word, code(&entry.rule), place(entry));
            writeln!(out, "| {word}{settled} | {rule} | {} | {} | {place} |", told("found"), told("to mend"))?;
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
    let texts = entry.details.iter().filter(|(l, _)| *l == label).map(|(_, text)| cell(text));
    texts.collect::<Vec<_>>().join("; ")
}

fn place(entry: &Entry<'_>) -> String {
    match (entry.at.is_real(), entry.at.file.is_empty()) {
        (true, _) => code(&format!("{}:{}", entry.at.file, entry.at.line)),
        (false, false) => code(&entry.at.file),
        (false, true) => String::new(),
    }
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
        "| {} | {} {}{note} | {} | {found} | {mend} | {} |",
        entry.word,
        cell(&entry.rule_title),
        code(&format!("{}/{}", entry.group, entry.name)),
        told(entry, "required"),
        place(entry),
    )
}

/// Text that Markdown takes as text; what stands in backticks is code, in which nothing is escaped.
fn escaped(text: &str) -> String {
    spans(text, &|code| code.to_string())
}

/// The same in a table, where a bar ends a cell even within code.
pub(super) fn cell(text: &str) -> String {
    spans(text, &|code| code.replace('|', "\\|"))
}

/// A word as code in a table, whatever backticks it holds.
fn code(text: &str) -> String {
    let text = text.replace(['\n', '\r'], " ").replace('|', "\\|");
    let longest = text.split(|c| c != '`').map(str::len).max().unwrap_or(0);
    let fence = "`".repeat(longest + 1);
    let blank = if longest > 0 { " " } else { "" };
    format!("{fence}{blank}{text}{blank}{fence}")
}

fn spans(text: &str, in_code: &dyn Fn(&str) -> String) -> String {
    let text = text.replace(['\n', '\r'], " ");
    let parts: Vec<&str> = text.split('`').collect();
    // Of an odd number of backticks the last begins nothing.
    let lone = if parts.len().is_multiple_of(2) { parts.len() - 1 } else { parts.len() };
    let mut out = String::new();
    for (n, part) in parts.iter().enumerate() {
        match n {
            n if n == lone => out.push_str(&format!("\\`{}", plain(part))),
            n if n % 2 == 1 => out.push_str(&format!("`{}`", in_code(part))),
            _ => out.push_str(&plain(part)),
        }
    }
    out
}

fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '|' | '*' | '_' | '[' | ']' | '\\' | '#' => {
                out.push('\\');
                out.push(c);
            }
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{cell, code, escaped};

    #[test]
    fn nothing_is_escaped_in_code() {
        // CommonMark 0.31.2, section 6.1: backslashes and references are plain text in a code span; a span ends at as many
        // backticks as began it, and one blank on either side is taken off.
        assert_eq!(escaped("channel `top_b` is *long*, a<b"), "channel `top_b` is \\*long\\*, a&lt;b");
        assert_eq!(escaped("`a<b>` and `c|d`"), "`a<b>` and `c|d`");
        assert_eq!(escaped("one ` alone_"), "one \\` alone\\_");
        assert_eq!(code("a`b.yaml:3"), "`` a`b.yaml:3 ``");
        // GitHub Flavored Markdown 0.29, section 4.10: in a table a bar is escaped even within code.
        assert_eq!(cell("`c|d` e|f"), "`c\\|d` e\\|f");
        assert_eq!(code("a|b.yaml:3"), "`a\\|b.yaml:3`");
    }
}
