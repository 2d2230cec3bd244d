//! The words of a colour condition.

use super::ConditionError;
use super::parse::error;
use std::fmt;

/// A word or sign.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Kind<'a> {
    Number(f64),
    Name(&'a str),
    AtMost,
    AtLeast,
    Plus,
    Minus,
    Star,
    Open,
    Close,
    Comma,
}

impl fmt::Display for Kind<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(value) => write!(f, "`{value}`"),
            Self::Name(name) => write!(f, "`{name}`"),
            Self::AtMost => f.write_str("`<=`"),
            Self::AtLeast => f.write_str("`>=`"),
            Self::Plus => f.write_str("`+`"),
            Self::Minus => f.write_str("`-`"),
            Self::Star => f.write_str("`*`"),
            Self::Open => f.write_str("`(`"),
            Self::Close => f.write_str("`)`"),
            Self::Comma => f.write_str("`,`"),
        }
    }
}

/// A word or sign and where it starts, in bytes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Token<'a> {
    pub kind: Kind<'a>,
    pub offset: usize,
}

/// Splits a condition into its words and signs.
///
/// # Errors
/// A character or a number that no condition has.
pub(super) fn tokens(text: &str) -> Result<Vec<Token<'_>>, ConditionError> {
    let mut found = Vec::new();
    let mut rest = text.trim_start();
    while let Some(first) = rest.chars().next() {
        let offset = text.len() - rest.len();
        let (kind, length) = match first {
            '0'..='9' | '.' => number(rest, offset)?,
            'a'..='z' | 'A'..='Z' | '_' => {
                let name = word(rest, |c| c.is_ascii_alphanumeric() || c == '_');
                (Kind::Name(name), name.len())
            }
            _ => sign(rest, first, offset)?,
        };
        found.push(Token { kind, offset });
        rest = rest.get(length..).unwrap_or_default().trim_start();
    }
    Ok(found)
}

/// The characters at the start of a text that all have a property.
fn word(text: &str, belongs: impl Fn(char) -> bool) -> &str {
    text.find(|c| !belongs(c)).and_then(|end| text.get(..end)).unwrap_or(text)
}

/// The largest number of digits of a coefficient.
const MOST_DIGITS: usize = 18;

fn number(text: &str, offset: usize) -> Result<(Kind<'_>, usize), ConditionError> {
    let shown = word(text, |c| c.is_ascii_alphanumeric() || c == '.' || c == '_');
    let digits = word(shown, |c| c.is_ascii_digit() || c == '.');
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    if shown != digits {
        let rest = shown.get(digits.len()..).unwrap_or_default();
        let instead = if ["x", "y", "z", "y0"].contains(&rest) {
            format!("write `{digits} {rest}` or `{digits}*{rest}`")
        } else {
            "write a plain decimal number like `0.320`".into()
        };
        return error(offset, format!("`{shown}` is not a number"), instead);
    }
    if whole.is_empty() || part.is_empty() || part.contains('.') || digits.len() > MOST_DIGITS {
        return error(offset, format!("`{digits}` is not a plain decimal number"), "write it like `0.320`");
    }
    match digits.parse::<f64>() {
        Ok(value) if value <= 1e6 => Ok((Kind::Number(value), digits.len())),
        _ => error(offset, format!("`{digits}` is too large"), "write a number up to 1000000"),
    }
}

fn sign(rest: &str, first: char, offset: usize) -> Result<(Kind<'_>, usize), ConditionError> {
    for (text, kind) in [
        ("<=", Kind::AtMost),
        (">=", Kind::AtLeast),
        ("+", Kind::Plus),
        ("-", Kind::Minus),
        ("*", Kind::Star),
        ("(", Kind::Open),
        (")", Kind::Close),
        (",", Kind::Comma),
    ] {
        if rest.starts_with(text) {
            return Ok((kind, text.len()));
        }
    }
    let instead = match first {
        '<' | '\u{2264}' => "write `<=`",
        '>' | '\u{2265}' => "write `>=`",
        '=' => "write `<=` or `>=`",
        '\u{2212}' | '\u{2013}' => "write the minus sign `-`",
        '\u{d7}' | '\u{b7}' => "write `0.320 y` or `0.320*y`",
        '/' => "write the quotient as a decimal number",
        _ => "use numbers, x, y, z, y0, `+`, `-`, `min(...)`, `max(...)`, and `<=` or `>=`",
    };
    error(offset, format!("`{first}` has no meaning in a condition"), instead)
}
