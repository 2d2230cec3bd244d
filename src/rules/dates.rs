//! Dates as people know them: a day, a month, a year, or a range of these.

use crate::source::text_decode;
use crate::units::UnitError;
use jiff::civil::{Date, date};
use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

/// The first and the last day something may have been.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dates {
    /// The earliest day.
    pub first: Date,
    /// The latest day.
    pub last: Date,
}

impl Dates {
    /// Every day a craft may have been applied for.
    pub const ALWAYS: Self = Self { first: Date::constant(1900, 1, 1), last: Date::constant(2199, 12, 31) };

    /// One day.
    #[must_use]
    pub fn day(day: Date) -> Self {
        Self { first: day, last: day }
    }

    fn part(text: &str) -> Option<Self> {
        let numbers: Vec<i16> = text.trim().split('-').map(|n| n.parse().ok()).collect::<Option<_>>()?;
        match numbers.as_slice() {
            [year] if (1900..2200).contains(year) => Some(Self { first: date(*year, 1, 1), last: date(*year, 12, 31) }),
            [year, month] => {
                let first = Date::new(*year, i8::try_from(*month).ok()?, 1).ok()?;
                Some(Self { first, last: first.last_of_month() })
            }
            [year, month, day] => {
                Some(Self::day(Date::new(*year, i8::try_from(*month).ok()?, i8::try_from(*day).ok()?).ok()?))
            }
            _ => None,
        }
    }
}

impl FromStr for Dates {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let wrong = || UnitError {
            what: format!("`{}` is not a date", text.trim()),
            instead: "write a year `1980`, a month `1980-05`, a day `1980-05-12`, or a range `1978 to 1980`".into(),
        };
        let read = match text.split_once(" to ") {
            Some((a, b)) => {
                Self { first: Self::part(a).ok_or_else(wrong)?.first, last: Self::part(b).ok_or_else(wrong)?.last }
            }
            None => Self::part(text).ok_or_else(wrong)?,
        };
        if read.first > read.last || read.first < Self::ALWAYS.first || read.last > Self::ALWAYS.last {
            return Err(UnitError {
                what: format!("the dates `{}` run backwards or lie outside 1900 to 2199", text.trim()),
                instead: "write the earlier date first".into(),
            });
        }
        Ok(read)
    }
}

impl fmt::Display for Dates {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let whole_years =
            self.first.month() == 1 && self.first.day() == 1 && self.last.month() == 12 && self.last.day() == 31;
        match (self.first == Self::ALWAYS.first, self.last == Self::ALWAYS.last) {
            (true, true) => return f.write_str("any date"),
            (true, false) => return write!(f, "dates to {}", self.last),
            (false, true) => return write!(f, "dates from {}", self.first),
            (false, false) => {}
        }
        match (self.first == self.last, whole_years) {
            (true, _) => write!(f, "{}", self.first),
            (_, true) if self.first.year() == self.last.year() => write!(f, "{}", self.first.year()),
            (_, true) => write!(f, "{} to {}", self.first.year(), self.last.year()),
            _ if self.first.day() == 1 && self.last == self.first.last_of_month() => {
                write!(f, "{:04}-{:02}", self.first.year(), self.first.month())
            }
            _ => write!(f, "{} to {}", self.first, self.last),
        }
    }
}

impl schemars::JsonSchema for Dates {
    fn schema_name() -> Cow<'static, str> {
        "Dates".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": ["string", "integer"],
            "description": "a year, a month, a day, or a range of these",
            "examples": ["1980", "1980-05", "1980-05-12", "1978 to 1980"],
        })
    }
}
text_decode!(Dates);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_months_days_and_ranges() {
        let d = |t: &str| t.parse::<Dates>().expect("reads");
        assert_eq!((d("1980").first, d("1980").last), (date(1980, 1, 1), date(1980, 12, 31)));
        assert_eq!(d("1980-02").last, date(1980, 2, 29));
        assert_eq!(d("1978 to 1980-05").last, date(1980, 5, 31));
        for bad in ["80", "1980-13", "1981 to 1980", "May 1980", "1980-02-30", ""] {
            assert!(bad.parse::<Dates>().is_err(), "{bad}");
        }
    }
}
