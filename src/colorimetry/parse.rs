//! The text form of a colour condition.

use super::condition::{Condition, Join, Linear};
use super::lexer::{Kind, Token, tokens};

/// Why a text is not a colour condition: what is wrong, what to write instead, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{what}; {instead}")]
pub struct ConditionError {
    /// What is wrong, in words a user reads.
    pub what: String,
    /// What to write instead.
    pub instead: String,
    /// Where in the text, in bytes from its start; always at the start of a character or at the end.
    pub offset: usize,
}

/// An error at a place.
pub(super) fn error<T>(
    offset: usize,
    what: impl Into<String>,
    instead: impl Into<String>,
) -> Result<T, ConditionError> {
    Err(ConditionError { what: what.into(), instead: instead.into(), offset })
}

/// x, y, z, y0 and a constant, as read.
type Sum = [f64; 5];

#[derive(Clone, Copy, PartialEq)]
enum Pick {
    Min,
    Max,
}

/// One side of the inequality.
struct Side {
    pick: Option<Pick>,
    sums: Vec<Sum>,
    offset: usize,
}

/// Reads a condition.
///
/// # Errors
/// Anything but one `<=` or `>=` between sums of numbers, variables and number-variable products,
/// at most one side of which is a `min` or `max`.
pub(super) fn condition(text: &str) -> Result<Condition, ConditionError> {
    let mut reader = Reader { tokens: tokens(text)?, at: 0, end: text.len() };
    if reader.tokens.is_empty() {
        return error(0, "the condition is empty", "write an inequality like `x <= 0.440 - 0.320 y`");
    }
    let left = reader.side()?;
    let rising = reader.comparison()?;
    let right = reader.side()?;
    reader.finish()?;
    let (small, big) = if rising { (left, right) } else { (right, left) };
    let join = match (small.pick, big.pick) {
        (Some(_), Some(_)) => {
            let at = small.offset.max(big.offset);
            return error(at, "there is a `min` or `max` on both sides", "write two conditions with one each");
        }
        // big >= min(...) and small <= max(...) need one alternative; the others need all.
        (Some(Pick::Min), None) | (None, Some(Pick::Max)) => Join::Any,
        _ => Join::All,
    };
    let pairs = big.sums.iter().flat_map(|b| small.sums.iter().map(move |s| difference(b, s)));
    let terms = pairs.map(checked).collect::<Result<Vec<_>, _>>()?;
    Ok(Condition { text: text.trim().to_string(), join, terms })
}

/// The larger side less the smaller one, with z replaced by 1 - x - y.
fn difference(big: &Sum, small: &Sum) -> Linear {
    let [x, y, z, y0, constant]: Sum = std::array::from_fn(|i| big[i] - small[i]);
    Linear { x: x - z, y: y - z, y0, constant: constant + z }
}

/// A term that has a boundary: a line, or a curve that has one y for every x.
fn checked(term: Linear) -> Result<Linear, ConditionError> {
    // Coefficients smaller than this are what rounding leaves of terms that cancel.
    const SMALLEST: f64 = 1e-9;
    let term = if term.y0.abs() < SMALLEST { Linear { y0: 0.0, ..term } } else { term };
    if term.y0 != 0.0 && term.y.abs() < SMALLEST {
        return error(0, "y0 is not compared with y", "write y beside it, like `y >= y0 - 0.010`");
    }
    if term.gradient() < SMALLEST {
        return error(0, "the condition does not depend on the colour", "write x, y or z in it, like `y <= 0.335`");
    }
    Ok(term)
}

struct Reader<'a> {
    tokens: Vec<Token<'a>>,
    at: usize,
    end: usize,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<Kind<'a>> {
        self.tokens.get(self.at).map(|t| t.kind)
    }
    fn offset(&self) -> usize {
        self.tokens.get(self.at).map_or(self.end, |t| t.offset)
    }
    /// Takes the next token if it is this one.
    fn take(&mut self, kind: Kind<'_>) -> bool {
        let found = self.peek() == Some(kind);
        self.at += usize::from(found);
        found
    }

    /// Reads `<=` (true) or `>=` (false).
    fn comparison(&mut self) -> Result<bool, ConditionError> {
        match self.peek() {
            Some(Kind::AtMost | Kind::AtLeast) => Ok(self.take(Kind::AtMost) || !self.take(Kind::AtLeast)),
            None => error(self.end, "there is no comparison", "write `<=` or `>=` and what to compare with"),
            Some(kind) => self.unexpected(kind),
        }
    }

    fn finish(&self) -> Result<(), ConditionError> {
        match self.peek() {
            None => Ok(()),
            Some(Kind::AtMost | Kind::AtLeast) => error(
                self.offset(),
                "there are two comparisons",
                "write two conditions, like `0.300 <= x` and `x <= 0.540`",
            ),
            Some(kind) => self.unexpected(kind),
        }
    }

    fn side(&mut self) -> Result<Side, ConditionError> {
        let offset = self.offset();
        let pick = match self.peek() {
            Some(Kind::Name("min")) => Some(Pick::Min),
            Some(Kind::Name("max")) => Some(Pick::Max),
            _ => return Ok(Side { pick: None, sums: vec![self.sum()?], offset }),
        };
        self.at += 1;
        if !self.take(Kind::Open) {
            return error(
                self.offset(),
                "after `min` or `max` comes a bracket",
                "write it like `min(x - 0.040, y0 - 0.010)`",
            );
        }
        let mut sums = vec![self.sum()?];
        while self.take(Kind::Comma) {
            sums.push(self.sum()?);
        }
        if !self.take(Kind::Close) {
            return match self.peek() {
                None => error(self.end, "the bracket is not closed", "write `)` after the last term"),
                Some(kind) => self.unexpected(kind),
            };
        }
        if sums.len() < 2 {
            return error(offset, "`min` or `max` of a single term", "write two terms or more, or the term alone");
        }
        if let Some(Kind::Plus | Kind::Minus | Kind::Star) = self.peek() {
            return error(
                self.offset(),
                "there is more beside the `min` or `max`",
                "put it inside the brackets, in every term",
            );
        }
        Ok(Side { pick, sums, offset })
    }

    fn sum(&mut self) -> Result<Sum, ConditionError> {
        let mut sum = Sum::default();
        let mut sign = if self.take(Kind::Minus) { -1.0 } else { 1.0 };
        loop {
            let (slot, value) = self.term()?;
            if let Some(total) = sum.get_mut(slot) {
                *total += sign * value;
            }
            sign = if self.take(Kind::Plus) {
                1.0
            } else if self.take(Kind::Minus) {
                -1.0
            } else {
                return Ok(sum);
            };
        }
    }

    /// Reads a number, a variable, or a number and a variable: the place in a [`Sum`] and the coefficient.
    fn term(&mut self) -> Result<(usize, f64), ConditionError> {
        let (value, needs_name) = match self.peek() {
            Some(Kind::Number(value)) => {
                self.at += 1;
                (value, self.take(Kind::Star))
            }
            _ => (1.0, true),
        };
        let slot = match self.peek() {
            Some(Kind::Name(name)) => self.variable(name)?,
            Some(Kind::Number(_)) if !needs_name => return self.two_factors("two numbers stand side by side"),
            _ if !needs_name => return Ok((4, value)),
            Some(kind) => return self.unexpected(kind),
            None => return error(self.end, "the condition ends too early", "write a number or x, y, z or y0 here"),
        };
        self.at += 1;
        match self.peek() {
            Some(Kind::Star | Kind::Name(_) | Kind::Number(_)) => {
                self.two_factors("a variable is multiplied or followed by something")
            }
            _ => Ok((slot, value)),
        }
    }

    fn variable(&self, name: &str) -> Result<usize, ConditionError> {
        match ["x", "y", "z", "y0"].iter().position(|v| *v == name) {
            Some(slot) => Ok(slot),
            None if name == "min" || name == "max" => error(
                self.offset(),
                format!("`{name}` stands inside a sum or another `min` or `max`"),
                format!("let `{name}(...)` be a whole side, once in a condition"),
            ),
            None => error(self.offset(), format!("`{name}` is not a variable"), "use x, y, z or y0"),
        }
    }

    fn two_factors<T>(&self, what: &str) -> Result<T, ConditionError> {
        error(self.offset(), what, "write each term as a number, a variable, or a number and a variable: `0.320 y`")
    }

    fn unexpected<T>(&self, kind: Kind<'_>) -> Result<T, ConditionError> {
        error(self.offset(), format!("{kind} does not belong here"), "write an inequality like `x <= 0.440 - 0.320 y`")
    }
}
