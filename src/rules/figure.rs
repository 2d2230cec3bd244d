//! A figure of a rule: its value with a unit, and how well it is known.

use crate::source::{Decode, Fields, Located, Node, Sink, Text, text_decode};
use crate::units::{Interval, Micros, Quantity, Rate, UnitError, parse};
use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

/// The unit a scalar is held in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Unit {
    /// Candela.
    Candela,
    /// The document's candle, before its factor is applied.
    Candle,
    /// Steradian.
    Steradian,
    /// Degree.
    Degree,
    /// Per minute.
    PerMinute,
    /// Millisecond.
    Millisecond,
    /// Millimetre.
    Millimetre,
    /// Lux.
    Lux,
    /// A share of one, shown in per cent.
    Share,
    /// A factor: so many times.
    Times,
    /// A number of lamps.
    Lamps,
    /// A distance in the chromaticity diagram.
    Chromaticity,
}

impl Unit {
    /// The unit as reports print it.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Candela => "cd",
            Self::Candle => "candles",
            Self::Steradian => "sr",
            Self::Degree => "deg",
            Self::PerMinute => "per min",
            Self::Millisecond => "ms",
            Self::Millimetre => "mm",
            Self::Lux => "lx",
            Self::Share => "%",
            Self::Times => "times",
            Self::Lamps => "lamps",
            Self::Chromaticity => "in x, y",
        }
    }
}

/// A number with its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scalar {
    /// The number, in `unit`; a share is a fraction of one.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
}

impl Scalar {
    /// A number with its unit.
    #[must_use]
    pub fn new(value: f64, unit: Unit) -> Self {
        Self { value, unit }
    }
}

/// Writes a value in a unit the way reports do.
#[must_use]
pub fn show(value: f64, unit: Unit) -> String {
    let number = |v: f64| crate::units::short(v);
    match unit {
        Unit::Share => format!("{} %", number(value * 100.0)),
        Unit::Lamps if value == 1.0 => "1 lamp".into(),
        Unit::Millimetre if value.abs() >= 1e6 => format!("{} km", number(value / 1e6)),
        Unit::Millimetre if value.abs() >= 1e4 => format!("{} m", number(value / 1e3)),
        Unit::Candela if value != 0.0 && value.abs() < 0.1 => format!("{} mcd", number(value * 1e3)),
        Unit::Millisecond if value.abs() >= 6e5 => format!("{} min", number(value / 6e4)),
        Unit::Millisecond if value.abs() >= 1e4 => format!("{} s", number(value / 1e3)),
        _ => format!("{} {}", number(value), unit.symbol()),
    }
}

/// Writes a range in a unit the way reports do: the unit once, three figures.
#[must_use]
pub fn show_range(range: Interval, unit: Unit) -> String {
    show_range_to(range, unit, 3)
}

/// Writes a range in a unit to so many figures.
#[must_use]
pub fn show_range_to(range: Interval, unit: Unit, figures: i32) -> String {
    // The unit is chosen by the larger end, so that both ends read in one unit.
    let (factor, symbol) = match unit {
        Unit::Share => (100.0, "%"),
        Unit::Millimetre if range.high.abs() >= 1e6 => (1e-6, "km"),
        Unit::Millimetre if range.high.abs() >= 1e4 => (1e-3, "m"),
        Unit::Candela if range.high != 0.0 && range.high.abs() < 0.1 => (1e3, "mcd"),
        Unit::Millisecond if range.high.abs() >= 6e5 => (1.0 / 6e4, "min"),
        Unit::Millisecond if range.high.abs() >= 1e4 => (1e-3, "s"),
        _ => (1.0, unit.symbol()),
    };
    let number = |v: f64| match v * factor {
        v if v.is_infinite() => "any".to_string(),
        // Digits past the resolution of the reckoning mislead.
        v if unit == Unit::Steradian => crate::units::rounded((v * 1e4).round() / 1e4, figures),
        v => crate::units::rounded(v, figures),
    };
    if unit == Unit::Lamps && range.is_exact() {
        return show(range.high, unit);
    }
    let (low, high) = (number(range.low), number(range.high));
    if low == high { format!("{high} {symbol}") } else { format!("{low} to {high} {symbol}") }
}

impl fmt::Display for Scalar {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&show(self.value, self.unit))
    }
}

const UNITS: &[&str] =
    &["cd", "candles", "sr", "deg", "per min", "ms", "s", "mm", "m", "nmi", "mi", "lx", "%", "times", "lamps"];

struct Parts(Scalar);

impl Clone for Parts {
    fn clone(&self) -> Self {
        *self
    }
}
impl Copy for Parts {}

impl Quantity for Parts {
    const NAME: &'static str = "a figure";
    const EXAMPLE: &'static str = "40 candles";
    fn units() -> &'static [&'static str] {
        UNITS
    }
    fn from_parts(number: &str, unit: &str) -> Option<Result<Self, UnitError>> {
        let value: f64 = number.parse().ok()?;
        let made = match unit {
            "cd" => Scalar::new(value, Unit::Candela),
            "candle" | "candles" => Scalar::new(value, Unit::Candle),
            "sr" => Scalar::new(value, Unit::Steradian),
            "deg" => Scalar::new(value, Unit::Degree),
            "ms" | "s" | "us" | "min" => {
                return Some(Micros::from_parts(number, unit)?.map(|t| Self(Scalar::new(t.ms(), Unit::Millisecond))));
            }
            "per min" | "Hz" => {
                return Some(Rate::from_parts(number, unit)?.map(|r| Self(Scalar::new(r.per_min(), Unit::PerMinute))));
            }
            "mm" | "cm" | "m" | "km" | "nmi" | "mi" | "ft" | "in" => {
                let length = crate::units::Length::from_parts(number, unit)?;
                return Some(length.map(|l| Self(Scalar::new(l.mm(), Unit::Millimetre))));
            }
            "lx" => Scalar::new(value, Unit::Lux),
            "%" => Scalar::new(value / 100.0, Unit::Share),
            "times" => Scalar::new(value, Unit::Times),
            "lamp" | "lamps" => Scalar::new(value, Unit::Lamps),
            _ => return None,
        };
        Some(if value.is_finite() {
            Ok(Self(made))
        } else {
            Err(UnitError {
                what: format!("`{number}` is not a finite number"),
                instead: "write a finite figure".into(),
            })
        })
    }
}

impl FromStr for Scalar {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        parse::<Parts>(text).map(|p| p.0).map_err(|error| match text.trim().parse::<f64>() {
            // Only the quantity knows which unit a bare number wants.
            Ok(_) => UnitError { what: error.what, instead: format!("add its unit, one of {}", UNITS.join(", ")) },
            Err(_) => error,
        })
    }
}

impl schemars::JsonSchema for Scalar {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        "Scalar".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": format!("a number with its unit: {}", UNITS.join(", ")),
            "pattern": "^\\s*[+-]?[0-9.]+([eE][+-]?[0-9]+)?\\s*[a-zA-Z%]",
            "examples": ["40 candles", "0.03 sr", "40 per min"],
        })
    }
}
text_decode!(Scalar, Standing);

/// How well a figure is known.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Read in so many copies of the text; `through` says where it was not the text itself.
    Read {
        /// How many copies.
        copies: u8,
        /// `a quotation`, or `a sister section`, where the section itself was not read.
        through: Option<String>,
    },
    /// From memory, not read.
    Recalled,
    /// The rule gives no figure here: a reading of this program's own.
    OwnReading,
}

impl Standing {
    /// How much it leaves in doubt, for comparing: fewer copies and copies at second hand are less sure.
    #[must_use]
    pub fn doubt(&self) -> (u8, u8) {
        match self {
            Self::Read { copies, through: None } => (0, u8::MAX - copies),
            Self::Read { copies, through: Some(_) } => (1, u8::MAX - copies),
            Self::Recalled => (2, 0),
            Self::OwnReading => (3, 0),
        }
    }
}

impl fmt::Display for Standing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read { copies, through: None } => write!(f, "read {copies}"),
            Self::Read { copies, through: Some(through) } => write!(f, "read {copies} in {through}"),
            Self::Recalled => f.write_str("recalled"),
            Self::OwnReading => f.write_str("own reading"),
        }
    }
}

impl FromStr for Standing {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let wrong = || UnitError {
            what: format!("`{}` is not the standing of a figure", text.trim()),
            instead: "write `read 2` (in how many copies), `read 1 in a quotation`, `recalled` or `own reading`".into(),
        };
        match text.trim() {
            "recalled" => Ok(Self::Recalled),
            "own reading" => Ok(Self::OwnReading),
            read => {
                let rest = read.strip_prefix("read ").ok_or_else(wrong)?;
                let (count, through) = match rest.split_once(" in ") {
                    Some((count, through)) => (count, Some(through.trim().to_string())),
                    None => (rest, None),
                };
                let copies: u8 = count.trim().parse().map_err(|_| wrong())?;
                if copies == 0 { Err(wrong()) } else { Ok(Self::Read { copies, through }) }
            }
        }
    }
}

impl schemars::JsonSchema for Standing {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        "Standing".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "how well the figure is known: `read N` copies, `recalled`, `own reading`",
            "pattern": "^(read [1-9][0-9]*( in .+)?|recalled|own reading)$",
        })
    }
}

/// A figure of a rule: bare, or with a standing of its own.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The value.
    pub scalar: Scalar,
    /// Its own standing; where absent, the requirement's holds.
    pub standing: Option<Standing>,
    /// Why it is what it is, for own readings.
    pub why: Option<String>,
}

impl Decode for Figure {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        if !matches!(node, Node::Map { .. }) {
            return Scalar::decode(node, sink).map(|scalar| Self { scalar, standing: None, why: None });
        }
        let fields = Fields::open(node, "a figure", &["is", "standing", "why"], sink)?;
        let scalar = fields.take::<Scalar>("is", sink);
        let standing = fields.take::<Option<Standing>>("standing", sink);
        let why = fields.take::<Option<Located<Text>>>("why", sink);
        Some(Self { scalar: scalar?, standing: standing?, why: why?.map(|w| w.value.0) })
    }
}

impl schemars::JsonSchema for Figure {
    fn schema_name() -> Cow<'static, str> {
        "Figure".into()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let (scalar, standing) = (generator.subschema_for::<Scalar>(), generator.subschema_for::<Standing>());
        schemars::json_schema!({ "anyOf": [scalar, {
            "type": "object",
            "properties": { "is": scalar, "standing": standing, "why": { "type": "string" } },
            "required": ["is"],
            "additionalProperties": false,
        }] })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bare_number_is_no_figure() {
        assert!("40".parse::<Scalar>().is_err());
        assert_eq!("2 nmi".parse::<Scalar>().expect("ok"), Scalar::new(3_704_000.0, Unit::Millimetre));
        assert_eq!("2.5 %".parse::<Scalar>().expect("ok").to_string(), "2.5 %");
    }

    #[test]
    fn standings_read_back() {
        for text in ["read 2", "read 1 in a quotation", "recalled", "own reading"] {
            assert_eq!(text.parse::<Standing>().expect("ok").to_string(), text);
        }
        assert!("read 0".parse::<Standing>().is_err());
    }
}
