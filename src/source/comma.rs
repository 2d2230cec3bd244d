//! Numbers written with a decimal comma: between braces `{lit: 0,05 s}` reads as `lit: 0` and a key `05 s`.

use super::place::At;
use super::tree::{Kind, Node};

/// A number with a comma, as it was written.
pub(super) struct WithComma {
    whole: String,
    rest: String,
    /// Where it stands, from its first digit to its unit.
    pub at: At,
}

impl WithComma {
    pub fn message(&self) -> String {
        format!("`{},{}` is written with a comma", self.whole, self.rest)
    }

    pub fn instead(&self) -> String {
        format!("write `{}.{}`, with a point", self.whole, self.rest)
    }
}

/// The number of which an entry is the rest: a key without a value that begins with digits, after a value of digits alone.
pub(super) fn rest(entries: &[(String, At, Node)], n: usize) -> Option<WithComma> {
    let (key, key_at, Node::Scalar { kind: Kind::Null, .. }) = entries.get(n)? else { return None };
    let (.., Node::Scalar { text, kind: Kind::Number, at }) = entries.get(n.checked_sub(1)?)? else { return None };
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let begins = key.split(|c: char| !c.is_ascii_digit()).next().is_some_and(digits);
    (begins && digits(text)).then(|| {
        let length = (key_at.offset + key_at.length).saturating_sub(at.offset);
        WithComma { whole: text.clone(), rest: key.clone(), at: At { length, ..at.clone() } }
    })
}
