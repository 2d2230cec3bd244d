//! Where a lamp points, in words: `left 55 deg`, `aft`, `up`, `ahead down 3 deg`.

use crate::geometry::Direction;
use crate::source::text_decode;
use crate::units::{Azimuth, Elevation, UnitError};
use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

/// The axis of a beam in the craft's axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    /// Azimuth.
    pub azimuth: Azimuth,
    /// Elevation.
    pub elevation: Elevation,
}

impl Aim {
    /// An aim by azimuth and elevation in degrees.
    #[must_use]
    pub fn from_degrees(azimuth_deg: f64, elevation_deg: f64) -> Self {
        Self { azimuth: Azimuth::from_deg(azimuth_deg), elevation: Elevation::from_deg(elevation_deg) }
    }
    /// The direction of the axis.
    #[must_use]
    pub fn direction(self) -> Direction {
        Direction::from_degrees(self.azimuth.deg(), self.elevation.deg())
    }
}

impl FromStr for Aim {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let words: Vec<&str> = text.split([' ', ',']).filter(|w| !w.is_empty()).collect();
        let split = words.iter().position(|w| matches!(*w, "up" | "down" | "level")).unwrap_or(words.len());
        let (azimuth, elevation) = words.split_at(split);
        if words.is_empty() {
            return Err(UnitError {
                what: "this aim is empty".into(),
                instead: "write `left 55 deg`, `aft` or `up`".into(),
            });
        }
        Ok(Self {
            azimuth: if azimuth.is_empty() { Azimuth::from_deg(0.0) } else { azimuth.join(" ").parse()? },
            elevation: if elevation.is_empty() { Elevation::from_deg(0.0) } else { elevation.join(" ").parse()? },
        })
    }
}

impl fmt::Display for Aim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.elevation.deg() {
            0.0 => self.azimuth.fmt(f),
            90.0 => f.write_str("up"),
            -90.0 => f.write_str("down"),
            _ => write!(f, "{} {}", self.azimuth, self.elevation),
        }
    }
}

impl schemars::JsonSchema for Aim {
    fn schema_name() -> Cow<'static, str> {
        "Aim".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "where the lamp points, in the craft's axes, as words",
            "pattern": "^\\s*(ahead|aft|left|right|up|down)",
            "examples": ["left 55 deg", "aft", "up", "ahead down 3 deg"],
        })
    }
}
text_decode!(Aim);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_point() {
        let aim = |t: &str| t.parse::<Aim>().expect("reads").direction();
        assert!(aim("up").up() > 0.999 && aim("aft").forward() < -0.999 && aim("left").right() < -0.999);
        let down = aim("ahead down 3 deg");
        assert!((down.elevation_deg() + 3.0).abs() < 1e-9 && down.azimuth_deg().abs() < 1e-9);
        assert!("backwards".parse::<Aim>().is_err() && "-55 deg".parse::<Aim>().is_err() && "".parse::<Aim>().is_err());
    }
}
