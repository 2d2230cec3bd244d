//! Directions in words: `ahead`, `aft`, `left 55 deg`, `up 5 deg`. Nobody writes a sign.

use super::{Angle, UnitError};
use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

/// An azimuth: 0 dead ahead, positive to the right, (-180, 180].
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Azimuth(f64);

impl Azimuth {
    /// An azimuth of so many degrees, brought into (-180, 180].
    #[must_use]
    pub fn from_deg(degrees: f64) -> Self {
        let turned = degrees.rem_euclid(360.0);
        Self(if turned > 180.0 { turned - 360.0 } else { turned })
    }
    /// The azimuth in degrees.
    #[must_use]
    pub fn deg(self) -> f64 {
        self.0
    }
}

/// An elevation: positive up, -90 to 90.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Elevation(f64);

impl Elevation {
    /// An elevation of so many degrees, held within -90 to 90.
    #[must_use]
    pub fn from_deg(degrees: f64) -> Self {
        Self(degrees.clamp(-90.0, 90.0))
    }
    /// The elevation in degrees.
    #[must_use]
    pub fn deg(self) -> f64 {
        self.0
    }
}

fn wrong(text: &str, what: &str, instead: &str) -> UnitError {
    UnitError { what: format!("`{}` is not {what}", text.trim()), instead: instead.into() }
}

/// Splits `left 55 deg` into its word and its angle in degrees.
fn word_and_angle<'t>(text: &'t str, words: &[&str], most: f64) -> Result<(&'t str, Option<f64>), UnitError> {
    let text = text.trim();
    let Some((word, angle)) = text.split_once(char::is_whitespace) else { return Ok((text, None)) };
    if !words.contains(&word) {
        return Ok((text, None));
    }
    let with_word = |e: UnitError| UnitError { instead: e.instead.replacen('`', &format!("`{word} "), 1), ..e };
    let degrees = angle.parse::<Angle>().map_err(with_word)?.deg();
    // Radians come back a rounding error off; a micro-degree is far under anything a model can show.
    let degrees = (degrees * 1e9).round() / 1e9;
    if (0.0..=most).contains(&degrees) {
        Ok((word, Some(degrees)))
    } else {
        Err(UnitError {
            what: format!("`{}` is not an angle from 0 to {most} deg", angle.trim()),
            instead: if degrees < 0.0 {
                "the word gives the side, so the angle has no sign".into()
            } else {
                format!("write an angle from 0 to {most} deg; the other side has its own word")
            },
        })
    }
}

const AZIMUTH: &str = "write `ahead`, `aft`, `left 55 deg` or `right 110 deg`";
const ELEVATION: &str = "write `level`, `up 10 deg` or `down 10 deg`";

impl FromStr for Azimuth {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        match word_and_angle(text, &["left", "right"], 180.0)? {
            ("ahead", None) => Ok(Self(0.0)),
            ("aft", None) => Ok(Self(180.0)),
            ("left", angle) => Ok(Self::from_deg(-angle.unwrap_or(90.0))),
            ("right", angle) => Ok(Self::from_deg(angle.unwrap_or(90.0))),
            _ => Err(wrong(text, "an azimuth", AZIMUTH)),
        }
    }
}

impl FromStr for Elevation {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        match word_and_angle(text, &["up", "down"], 90.0)? {
            ("level", None) => Ok(Self(0.0)),
            ("up", angle) => Ok(Self(angle.unwrap_or(90.0))),
            ("down", angle) => Ok(Self(-angle.unwrap_or(90.0))),
            _ => Err(wrong(text, "an elevation", ELEVATION)),
        }
    }
}

fn degrees(value: f64) -> String {
    super::short((value * 100.0).round() / 100.0)
}

impl fmt::Display for Azimuth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match degrees(self.0.abs()).as_str() {
            "0" => f.write_str("ahead"),
            "180" => f.write_str("aft"),
            angle if self.0 < 0.0 => write!(f, "left {angle} deg"),
            angle => write!(f, "right {angle} deg"),
        }
    }
}

impl fmt::Display for Elevation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match degrees(self.0.abs()).as_str() {
            "0" => f.write_str("level"),
            angle if self.0 < 0.0 => write!(f, "down {angle} deg"),
            angle => write!(f, "up {angle} deg"),
        }
    }
}

macro_rules! bearing_schema {
    ($name:ident, $pattern:literal, $example:literal) => {
        impl schemars::JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "type": "string", "pattern": $pattern, "examples": [$example] })
            }
        }
    };
}
bearing_schema!(Azimuth, "^\\s*(ahead|aft|left|right)( +[0-9.]+ *(deg|degrees|\u{b0}|rad))?\\s*$", "left 55 deg");
bearing_schema!(Elevation, "^\\s*(level|up|down)( +[0-9.]+ *(deg|degrees|\u{b0}|rad))?\\s*$", "up 10 deg");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_to_degrees_and_back() {
        for (text, deg) in [("ahead", 0.0), ("aft", 180.0), ("left 55 deg", -55.0), ("right 110 deg", 110.0)] {
            let azimuth: Azimuth = text.parse().expect("reads");
            assert_eq!(azimuth.deg(), deg);
            assert_eq!(azimuth.to_string(), text);
        }
        assert_eq!("left 180 deg".parse::<Azimuth>().expect("aft").deg(), 180.0);
        assert_eq!("down".parse::<Elevation>().expect("reads").deg(), -90.0);
    }

    #[test]
    fn signs_and_large_angles_are_refused() {
        for bad in ["-55 deg", "left -5 deg", "left 200 deg", "up", "starboard 5 deg", "left 5", ""] {
            assert!(bad.parse::<Azimuth>().is_err(), "{bad}");
        }
        assert!("up 95 deg".parse::<Elevation>().is_err());
    }
}
