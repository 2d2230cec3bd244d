//! Comments that let a finding pass: `# let pass CODE: why`, on its line or the one above.

use super::Found;
use super::codes::{LET_PASS_WITHOUT_REASON, NOTHING_LET_PASS};
use crate::source::At;

/// How such a comment begins, after the `#`.
const WORDS: &str = "let pass ";

struct Comment {
    code: String,
    reason: String,
    at: At,
    used: bool,
}

/// Marks what comments let pass, and tells of comments that let nothing pass or say no reason.
pub(super) fn apply(file: &str, text: &str, found: &mut Vec<Found>) {
    let mut comments = comments(file, text);
    if comments.is_empty() {
        return;
    }
    for one in found.iter_mut().filter(|f| !f.unusable && &*f.at.file == file) {
        let here = |c: &&mut Comment| c.code == one.code && (c.at.line == one.at.line || c.at.line + 1 == one.at.line);
        if let Some(comment) = comments.iter_mut().find(here) {
            comment.used = true;
            if !comment.reason.is_empty() {
                one.let_pass = Some(comment.reason.clone());
            }
        }
    }
    for comment in comments {
        if comment.reason.is_empty() {
            let message = format!("`{}` is let pass without a reason", comment.code);
            found.push(Found::own(LET_PASS_WITHOUT_REASON, &comment.at, message));
        } else if !comment.used {
            let message = format!("there is no `{}` here to let pass", comment.code);
            found.push(Found::own(NOTHING_LET_PASS, &comment.at, message));
        }
    }
}

fn comments(file: &str, text: &str) -> Vec<Comment> {
    let mut found = Vec::new();
    let mut offset = 0;
    for (line, written) in (1..).zip(text.split_inclusive('\n')) {
        found.extend(comment(file, written, line, offset));
        offset += written.len();
    }
    found
}

/// The comment of a line: a `#` at its start or after a blank.
fn comment(file: &str, line: &str, number: u32, offset: usize) -> Option<Comment> {
    let start = line.match_indices('#').map(|(n, _)| n).find(|n| {
        let before = line.get(..*n).unwrap_or_default();
        (before.is_empty() || before.ends_with([' ', '\t'])) && said(line, *n).is_some()
    })?;
    let said = said(line, start)?;
    let (code, reason) = said.split_once(':').unwrap_or((said, ""));
    let column = u32::try_from(line.get(..start).unwrap_or_default().chars().count()).unwrap_or(u32::MAX);
    let length = line.trim_end().len().saturating_sub(start);
    let at = At { file: file.into(), line: number, column: column.saturating_add(1), offset: offset + start, length };
    Some(Comment { code: code.trim().to_string(), reason: reason.trim().to_string(), at, used: false })
}

fn said(line: &str, hash: usize) -> Option<&str> {
    line.get(hash + 1..)?.trim_start().strip_prefix(WORDS).map(str::trim_end)
}
