//! Quantities with their units: what a file may say, and what the physics computes with.
//!
//! Each quantity is a newtype over a `uom` type, so that a luminous flux cannot be given where an
//! intensity is wanted (to `uom` alone lumen and candela are one dimension). One macro gives every
//! one of them its text form, JSON Schema and serde; [`Micros`] and [`Rate`] are exact.

mod bearing;
mod exact;
mod interval;
mod quantity;
mod range;

pub use bearing::{Azimuth, Elevation};
pub use exact::{Fraction, Micros, Rate};
pub use interval::Interval;
pub use quantity::{
    Angle, Current, Flux, Illuminance, Intensity, Length, Mass, Share, SolidAngle, Temperature, Unspecified, Wavelength,
};
pub(crate) use quantity::{rounded, short};
pub use range::Range;

/// Why a text is not the quantity it should be: what is wrong, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{what}; {instead}")]
pub struct UnitError {
    /// What is wrong, in words a user reads.
    pub what: String,
    /// What to write instead.
    pub instead: String,
}

/// A quantity that can be written as text with a unit.
pub trait Quantity: Sized + Copy {
    /// The quantity's name with its article: `a luminous intensity`.
    const NAME: &'static str;
    /// A well-formed example, used in error messages and schemas.
    const EXAMPLE: &'static str;
    /// The unit words accepted, the usual one first.
    fn units() -> &'static [&'static str];
    /// Reads the quantity from a number and a unit word.
    fn from_parts(number: &str, unit: &str) -> Option<Result<Self, UnitError>>;
}

/// Splits `45 cd` or `45cd` into its number and its unit.
fn split_number(text: &str) -> (&str, &str) {
    let text = text.trim();
    let mut end = 0;
    let bytes = text.as_bytes();
    while end < bytes.len() {
        let c = bytes[end];
        let exponent_sign = (c == b'+' || c == b'-') && end > 0 && matches!(bytes[end - 1], b'e' | b'E');
        let exponent = (c == b'e' || c == b'E')
            && end > 0
            && bytes.get(end + 1).is_some_and(|n| {
                n.is_ascii_digit() || ((*n == b'-' || *n == b'+') && bytes.get(end + 2).is_some_and(u8::is_ascii_digit))
            });
        if c.is_ascii_digit() || c == b'.' || exponent || exponent_sign || (end == 0 && (c == b'+' || c == b'-')) {
            end += 1;
        } else {
            break;
        }
    }
    (&text[..end], text[end..].trim())
}

/// Reads one quantity from text, with an error that says what to write instead.
///
/// # Errors
/// No number, no unit, a unit of another quantity, or a value that is not finite.
pub fn parse<Q: Quantity>(text: &str) -> Result<Q, UnitError> {
    let (number, unit) = split_number(text);
    let example = Q::EXAMPLE;
    if number.is_empty() || number.parse::<f64>().is_err() {
        return Err(UnitError {
            what: format!("`{}` is not {}", text.trim(), Q::NAME),
            instead: format!("write a number and a unit, like `{example}`"),
        });
    }
    if unit.is_empty() {
        return Err(UnitError {
            what: format!("`{number}` has no unit"),
            instead: format!("write it as `{number} {}`", Q::units()[0]),
        });
    }
    let unit = unit.split_whitespace().collect::<Vec<_>>().join(" ");
    Q::from_parts(number, &unit).unwrap_or_else(|| {
        Err(UnitError {
            what: format!("`{unit}` is not a unit of {}", Q::NAME),
            instead: format!("use one of {}, like `{example}`", Q::units().join(", ")),
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bare_number_is_told_its_unit() {
        let error = parse::<Intensity>("40").expect_err("no unit");
        assert_eq!(error.to_string(), "`40` has no unit; write it as `40 cd`");
    }

    #[test]
    fn lumens_are_no_intensity() {
        let error = parse::<Intensity>("40 lm").expect_err("wrong unit");
        assert_eq!(error.what, "`lm` is not a unit of a luminous intensity");
    }

    #[test]
    fn non_finite_values_are_refused() {
        for text in ["NaN cd", "inf cd", "1e999 cd", "-nan cd", "", "cd"] {
            assert!(parse::<Intensity>(text).is_err(), "{text}");
        }
    }

    #[test]
    fn spelling_does_not_change_the_value() {
        // 1 kcd = 1000 cd; 1 nautical mile = 1852 m, 1 statute mile = 1609.344 m, 1 in = 25.4 mm (exact by definition).
        assert_eq!(parse::<Intensity>("0.4kcd").expect("ok").cd(), 400.0);
        assert!((parse::<Length>("2 nmi").expect("ok").m() - 3704.0).abs() < 1e-9);
        assert!((parse::<Length>("3 mi").expect("ok").m() - 4828.032).abs() < 1e-9);
        assert!((parse::<Length>("1 in").expect("ok").mm() - 25.4).abs() < 1e-9);
        assert!((parse::<Illuminance>("2e-7 lx").expect("ok").lx() - 2e-7).abs() < 1e-20);
    }
}
