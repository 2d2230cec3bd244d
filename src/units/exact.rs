//! Times in whole microseconds and rates as exact fractions, so that 40 and 100 per minute are inclusive.

use super::quantity::text_form;
use super::{Quantity, UnitError, parse};
use std::borrow::Cow;
use std::fmt;

/// An exact fraction of whole numbers.
pub type Fraction = num_rational::Ratio<i128>;

/// Reads a decimal number exactly, scaled by a power of ten; `None` where it is no plain decimal.
fn decimal(number: &str) -> Option<Fraction> {
    let (mantissa, exponent) = match number.split_once(['e', 'E']) {
        Some((m, e)) => (m, e.parse::<i32>().ok()?),
        None => (number, 0),
    };
    let (whole, part) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let digits = format!("{whole}{part}");
    if part.len() > 12 || digits.len() > 24 || exponent.abs() > 12 {
        return None;
    }
    let value: i128 = digits.parse().ok()?;
    let shift = exponent - i32::try_from(part.len()).ok()?;
    let ten = 10_i128.checked_pow(shift.unsigned_abs())?;
    Some(if shift >= 0 { Fraction::new(value.checked_mul(ten)?, 1) } else { Fraction::new(value, ten) })
}

fn unreadable(number: &str, example: &str) -> UnitError {
    UnitError {
        what: format!("`{number}` has too many digits to be read exactly"),
        instead: format!("write it shorter, like `{example}`"),
    }
}

/// A time in whole microseconds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Micros(pub u64);

impl Micros {
    /// The longest time a file may state: one day.
    pub const LONGEST: Self = Self(86_400_000_000);

    /// The time in seconds.
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.0 as f64 * 1e-6
    }
    /// The time in milliseconds.
    #[must_use]
    pub fn ms(self) -> f64 {
        self.0 as f64 * 1e-3
    }
}

impl Quantity for Micros {
    const NAME: &'static str = "a time";
    const EXAMPLE: &'static str = "50 ms";
    fn units() -> &'static [&'static str] {
        &["ms", "us", "s", "min"]
    }
    fn from_parts(number: &str, unit: &str) -> Option<Result<Self, UnitError>> {
        let factor: i128 = match unit {
            "us" => 1,
            "ms" => 1_000,
            "s" => 1_000_000,
            "min" => 60_000_000,
            _ => return None,
        };
        let Some(value) = decimal(number) else { return Some(Err(unreadable(number, Self::EXAMPLE))) };
        let Some(micros) = value.numer().checked_mul(factor).map(|n| Fraction::new(n, *value.denom())) else {
            return Some(Err(unreadable(number, Self::EXAMPLE)));
        };
        Some(match (micros.is_integer(), u64::try_from(micros.to_integer())) {
            (true, Ok(us)) if us <= Self::LONGEST.0 => Ok(Self(us)),
            (false, _) => Err(UnitError {
                what: format!("`{number} {unit}` is not a whole number of microseconds"),
                instead: "round it to microseconds, like `1.304348 s`".into(),
            }),
            _ => Err(UnitError {
                what: format!("`{number} {unit}` is not a time from 0 to one day"),
                instead: "write a time like `50 ms`".into(),
            }),
        })
    }
}

impl fmt::Display for Micros {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 >= 10_000_000 {
            write!(f, "{} s", super::quantity::short(self.seconds()))
        } else {
            write!(f, "{} ms", super::quantity::short(self.ms()))
        }
    }
}
text_form!(Micros);

/// A frequency per minute, exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rate(Fraction);

impl Rate {
    /// A rate of so many per minute.
    #[must_use]
    pub fn per_minute(value: Fraction) -> Self {
        Self(value)
    }
    /// How many a minute, exact.
    #[must_use]
    pub fn exact_per_minute(self) -> Fraction {
        self.0
    }
    /// How many a minute, as a float.
    #[must_use]
    pub fn per_min(self) -> f64 {
        *self.0.numer() as f64 / *self.0.denom() as f64
    }
    /// The period in microseconds, exact; `None` for a rate of zero.
    #[must_use]
    pub fn period_us(self) -> Option<Fraction> {
        (*self.0.numer() != 0).then(|| Fraction::new(60_000_000, 1) / self.0)
    }
}

impl Quantity for Rate {
    const NAME: &'static str = "a frequency";
    const EXAMPLE: &'static str = "46 per min";
    fn units() -> &'static [&'static str] {
        &["per min", "/min", "Hz"]
    }
    fn from_parts(number: &str, unit: &str) -> Option<Result<Self, UnitError>> {
        let factor = match unit {
            "per min" | "/min" => 1,
            "Hz" => 60,
            _ => return None,
        };
        let Some(value) = decimal(number) else { return Some(Err(unreadable(number, Self::EXAMPLE))) };
        let rate = value * Fraction::new(factor, 1);
        let most = Fraction::new(60_000_000, 1);
        Some(if rate > Fraction::new(0, 1) && rate <= most {
            Ok(Self(rate))
        } else {
            Err(UnitError {
                what: format!("`{number} {unit}` is not a frequency above 0"),
                instead: format!("write a frequency like `{}`", Self::EXAMPLE),
            })
        })
    }
}

impl fmt::Display for Rate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} per min", super::quantity::short(self.per_min()))
    }
}
text_form!(Rate);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_whole_microseconds() {
        assert_eq!("50 ms".parse::<Micros>().expect("ok"), Micros(50_000));
        assert_eq!("1.304348 s".parse::<Micros>().expect("ok"), Micros(1_304_348));
        let error = "0.0005 ms".parse::<Micros>().expect_err("half a microsecond");
        assert!(error.what.contains("whole number of microseconds"), "{error}");
        assert!("-5 ms".parse::<Micros>().is_err());
        assert!("1e12 min".parse::<Micros>().is_err());
    }

    #[test]
    fn rates_are_exact() {
        let rate: Rate = "46 per min".parse().expect("ok");
        assert_eq!(rate.period_us(), Some(Fraction::new(30_000_000, 23)));
        assert_eq!("1.5 Hz".parse::<Rate>().expect("ok").exact_per_minute(), Fraction::new(90, 1));
        assert!("0 per min".parse::<Rate>().is_err());
        assert_eq!("40 /min".parse::<Rate>().expect("ok").to_string(), "40 per min");
    }
}
