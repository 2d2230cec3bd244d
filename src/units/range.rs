//! A quantity as one value or as a range: `525 nm`, `520 nm to 530 nm`, `520 to 530 nm`.

use super::{Interval, Quantity, UnitError, parse, split_number};
use std::borrow::Cow;
use std::fmt;

/// A quantity known to lie between two values; one value when both are the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range<Q> {
    /// The lowest it may be.
    pub low: Q,
    /// The highest it may be.
    pub high: Q,
}

impl<Q: Copy> Range<Q> {
    /// A value known exactly.
    #[must_use]
    pub fn exactly(value: Q) -> Self {
        Self { low: value, high: value }
    }
    /// The range as a bare interval, by an accessor such as `Intensity::cd`.
    #[must_use]
    pub fn interval(self, get: impl Fn(Q) -> f64) -> Interval {
        Interval::new(get(self.low), get(self.high))
    }
}

impl<Q: Quantity + PartialOrd + std::str::FromStr<Err = UnitError>> std::str::FromStr for Range<Q> {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let Some((low, high)) = text.split_once(" to ") else {
            return text.parse().map(Self::exactly);
        };
        let high_value: Q = high.parse()?;
        let (number, unit) = split_number(low);
        let low_value: Q = if unit.is_empty() && Q::units() != [""] {
            parse(&format!("{number} {}", split_number(high).1))?
        } else {
            low.parse()?
        };
        if low_value > high_value {
            return Err(UnitError {
                what: format!("the range `{}` runs backwards", text.trim()),
                instead: format!("write `{} to {}`", spelt(high, low), spelt(low, high)),
            });
        }
        Ok(Self { low: low_value, high: high_value })
    }
}

/// One end of a range with its unit, which may stand on the other end alone.
fn spelt(end: &str, other: &str) -> String {
    match split_number(end) {
        (number, "") => format!("{number} {}", split_number(other).1).trim_end().to_string(),
        _ => end.trim().to_string(),
    }
}

impl<Q: fmt::Display + PartialEq> fmt::Display for Range<Q> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.low == self.high { self.low.fmt(f) } else { write!(f, "{} to {}", self.low, self.high) }
    }
}

impl<Q: Quantity> schemars::JsonSchema for Range<Q> {
    fn schema_name() -> Cow<'static, str> {
        format!("RangeOf{}", std::any::type_name::<Q>().rsplit("::").next().unwrap_or("Number")).into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let text = schemars::json_schema!({
            "type": "string",
            "description": format!("{}, one value or a range: `{}` or `LOW to HIGH`", Q::NAME, Q::EXAMPLE),
            "pattern": "^\\s*[+-]?[0-9.]",
        });
        if Q::units() == [""] { schemars::json_schema!({ "anyOf": [{ "type": "number" }, text] }) } else { text }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Temperature, Unspecified, Wavelength};
    use super::*;

    #[test]
    fn one_value_or_two() {
        let one: Range<Wavelength> = "525 nm".parse().expect("ok");
        assert_eq!(one.low, one.high);
        let two: Range<Wavelength> = "520 to 530 nm".parse().expect("ok");
        assert_eq!(two, "520 nm to 530 nm".parse().expect("ok"));
        assert_eq!(two.to_string(), "520 nm to 530 nm");
        let duv: Range<Unspecified> = "-0.006 to 0.006".parse().expect("ok");
        assert_eq!(duv.low.0, -0.006);
    }

    #[test]
    fn backwards_is_said() {
        let error = "4500 K to 4000 K".parse::<Range<Temperature>>().expect_err("backwards");
        assert_eq!(error.instead, "write `4000 K to 4500 K`");
    }
}
