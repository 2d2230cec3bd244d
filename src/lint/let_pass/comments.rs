//! Comments of a file that would let something pass, and what each says.

use crate::source::{At, value_spans};
use std::ops::Range;

/// What a comment says.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Said {
    /// Another spelling of the words it begins with.
    Spelt(String),
    /// The words and no code.
    NoCode,
    /// Several codes.
    Several(String),
    /// A code without a reason.
    Reasonless(String),
    /// A code and its reason.
    Whole {
        /// The code.
        code: String,
        /// Why it is let pass.
        reason: String,
    },
}

/// A comment that would let something pass.
pub(super) struct Comment {
    pub said: Said,
    pub at: At,
    /// The last line it speaks of: the next one that is no comment.
    until: u32,
    pub used: bool,
}

impl Comment {
    /// The code it names.
    pub fn code(&self) -> Option<&str> {
        match &self.said {
            Said::Reasonless(code) | Said::Whole { code, .. } => Some(code),
            Said::Spelt(_) | Said::NoCode | Said::Several(_) => None,
        }
    }

    /// The reason it gives.
    pub fn reason(&self) -> Option<String> {
        match &self.said {
            Said::Whole { reason, .. } => Some(reason.clone()),
            _ => None,
        }
    }

    /// Whether it speaks of a line: its own or the one below, comments between not counted.
    pub fn stands_at(&self, line: u32) -> bool {
        line == self.at.line || line == self.until
    }
}

/// The comments of a text that would let something pass.
pub(super) fn comments(file: &str, text: &str) -> Vec<Comment> {
    if !text.contains('#') || !text.to_lowercase().contains("pass") {
        return Vec::new();
    }
    let values = value_spans(text);
    let mut found = Vec::new();
    let mut offset = 0;
    for (line, written) in (1..).zip(text.split_inclusive('\n')) {
        found.extend(comment(file, written, line, offset, &values));
        offset += written.len();
    }
    let reach = Reach::of(text);
    for one in &mut found {
        one.until = reach.from(one.at.line);
    }
    found
}

/// For each line, whether it is a comment alone, and the first line at or below it that is none.
struct Reach(Vec<(bool, u32)>);

impl Reach {
    fn of(text: &str) -> Self {
        let mut next = u32::MAX;
        let mut lines: Vec<(bool, u32)> =
            (1_u32..).zip(text.lines()).map(|(n, l)| (l.trim_start().starts_with('#'), n)).collect();
        for (comment, line) in lines.iter_mut().rev() {
            next = if *comment { next } else { *line };
            *line = next;
        }
        Self(lines)
    }

    /// The line a comment speaks of besides its own: the one below, where it stands alone; behind a value, none.
    fn from(&self, line: u32) -> u32 {
        let own = usize::try_from(line).unwrap_or(usize::MAX).saturating_sub(1);
        match self.0.get(own) {
            Some((true, next)) => *next,
            _ => line,
        }
    }
}

/// The comment of a line: a `#` at its start or after a blank, and within no value.
fn comment(file: &str, line: &str, number: u32, offset: usize, values: &[Range<usize>]) -> Option<Comment> {
    let in_value = |n: usize| {
        let next = values.partition_point(|span| span.end <= offset + n);
        values.get(next).is_some_and(|span| span.start <= offset + n)
    };
    let begins = |n: &usize| {
        let before = line.get(..*n).unwrap_or_default();
        (before.is_empty() || before.ends_with([' ', '\t'])) && !in_value(*n)
    };
    let hashes = line.match_indices('#').map(|(n, _)| n).filter(begins);
    let (start, said) = hashes.filter_map(|n| Some((n, said(line.get(n + 1..)?.trim())?))).next()?;
    let column = u32::try_from(line.get(..start).unwrap_or_default().chars().count()).unwrap_or(u32::MAX);
    let length = line.trim_end().len().saturating_sub(start);
    let at = At { file: file.into(), line: number, column: column.saturating_add(1), offset: offset + start, length };
    Some(Comment { said, at, until: number, used: false })
}

/// What a comment says after its `#`; `None` where it is about something else.
fn said(text: &str) -> Option<Said> {
    if let Some(rest) = text.strip_prefix("let pass ").or((text == "let pass").then_some("")) {
        return Some(named(rest.trim()));
    }
    let lower = text.to_lowercase();
    let spellings = ["let pass", "let  pass", "let-pass", "let_pass", "letpass", "lets pass"];
    let spelt = spellings.iter().find(|spelling| lower.starts_with(**spelling))?;
    let rest = lower.get(spelt.len()..).unwrap_or_default();
    // A word that only begins so is another word.
    let ends = rest.is_empty() || rest.starts_with([' ', ':', '\t']);
    let written = if rest.starts_with(':') { spelt.len() + 1 } else { spelt.len() };
    ends.then(|| match rest.trim_matches([' ', ':', '\t']).is_empty() && *spelt == "let pass" {
        true => Said::NoCode,
        false => Said::Spelt(text.get(..written).unwrap_or(text).to_string()),
    })
}

fn named(rest: &str) -> Said {
    let (code, reason) = rest.split_once(':').unwrap_or((rest, ""));
    let (code, reason) = (code.trim(), reason.trim());
    match (code, reason) {
        ("", _) => Said::NoCode,
        (list, _) if list.contains(',') => Said::Several(list.to_string()),
        (code, "") => Said::Reasonless(code.to_string()),
        (code, reason) => Said::Whole { code: code.to_string(), reason: reason.to_string() },
    }
}

#[cfg(test)]
mod tests {
    use super::{Said, comments, said};

    #[test]
    fn a_comment_says_one_code_and_why() {
        let whole = Said::Whole { code: "a-b".into(), reason: "it: is so".into() };
        assert_eq!(said("let pass a-b: it: is so"), Some(whole));
        assert_eq!(said("let pass a-b"), Some(Said::Reasonless("a-b".into())));
        assert_eq!(said("let pass a-b, c: why"), Some(Said::Several("a-b, c".into())));
        for text in ["let pass", "let pass :", "let pass: "] {
            assert_eq!(said(text), Some(Said::NoCode), "{text}");
        }
        for text in ["Let pass a-b: why", "let-pass a-b: why", "let pass: a-b: why", "LET PASS a-b"] {
            assert!(matches!(said(text), Some(Said::Spelt(_))), "{text}");
        }
        assert_eq!(said("let passengers board"), None);
    }

    #[test]
    fn what_is_in_quotes_is_no_comment() {
        let text = "a: \"x # let pass one: why\"\nb: 'y\n  # let pass two: why'\nc: |\n  # let pass three: why\nd: z # let pass four: why\n";
        let found: Vec<u32> = comments("x.yaml", text).iter().map(|c| c.at.line).collect();
        // YAML 1.2.2, sections 7.3 and 8.1.2: in quotes and in a block text a `#` is part of the value.
        assert_eq!(found, [6]);
    }
}
