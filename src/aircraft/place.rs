//! Where a lamp sits on the model, in words: `left 680 mm, forward 40 mm, up 25 mm`.

use crate::source::{Code, Decode, Node, Sink};
use crate::units::{Length, UnitError, parse};
use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

/// No model is a kilometre long.
const MOST_MM: f64 = 1e6;

/// A place on the model, from its datum, in millimetres; an axis that is not said is not known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Place {
    /// Forward of the datum; aft is negative.
    pub forward_mm: Option<f64>,
    /// Right of the plane of symmetry; left is negative.
    pub right_mm: Option<f64>,
    /// Above the datum; below is negative.
    pub up_mm: Option<f64>,
}

impl Place {
    /// A place known on all three axes, in millimetres.
    #[must_use]
    pub fn from_mm(forward: f64, right: f64, up: f64) -> Self {
        Self { forward_mm: Some(forward), right_mm: Some(right), up_mm: Some(up) }
    }

    fn add(&mut self, part: &str) -> Result<(), UnitError> {
        let (word, length) = part.trim().split_once(char::is_whitespace).unwrap_or((part.trim(), ""));
        let mm = match (word, length) {
            ("centre", "") => 0.0,
            // Millimetres that went through metres come back a rounding error off.
            _ => (parse::<Length>(length)?.mm() * 1e9).round() / 1e9,
        };
        if mm < 0.0 {
            return Err(UnitError {
                what: format!("`{}` has a sign", part.trim()),
                instead: "the word gives the side: write `left 680 mm`, never a minus".into(),
            });
        }
        if mm > MOST_MM {
            return Err(UnitError {
                what: format!("`{}` is not on a model", part.trim()),
                instead: "write how far from the datum the lamp is, like `left 680 mm`".into(),
            });
        }
        let (axis, value) = match word {
            "forward" => (&mut self.forward_mm, mm),
            "aft" => (&mut self.forward_mm, -mm),
            "right" => (&mut self.right_mm, mm),
            "left" => (&mut self.right_mm, -mm),
            "centre" => (&mut self.right_mm, 0.0),
            "up" => (&mut self.up_mm, mm),
            "down" => (&mut self.up_mm, -mm),
            _ => {
                return Err(UnitError {
                    what: format!("`{}` is not part of a place", part.trim()),
                    instead: "write `left 680 mm, forward 40 mm, up 25 mm`; the words are forward, aft, left, right, centre, up, down".into(),
                });
            }
        };
        if axis.replace(value).is_some() {
            return Err(UnitError {
                what: format!("`{}` says the same axis twice", part.trim()),
                instead: "keep one of the two".into(),
            });
        }
        Ok(())
    }
}

impl FromStr for Place {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let mut place = Self::default();
        for part in text.split(',').filter(|p| !p.trim().is_empty()) {
            place.add(part)?;
        }
        if place == Self::default() {
            return Err(UnitError {
                what: "this place is empty".into(),
                instead: "write `left 680 mm, forward 40 mm, up 25 mm`".into(),
            });
        }
        Ok(place)
    }
}

impl Decode for Place {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        let Node::List { items, .. } = node else { return crate::source::from_text(node, sink) };
        let mut place = Self::default();
        let mut sound = true;
        for item in items {
            let result = match item {
                Node::Scalar { text, .. } => place.add(text),
                _ => Err(UnitError {
                    what: format!("{} stands in a place", item.what()),
                    instead: "write words like `left 680 mm`".into(),
                }),
            };
            if let Err(error) = result {
                sink.say(Code::WrongValue, item.at(), error.what, error.instead);
                sound = false;
            }
        }
        sound.then_some(place)
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let axes = [(self.right_mm, "right", "left"), (self.forward_mm, "forward", "aft"), (self.up_mm, "up", "down")];
        let said: Vec<String> = axes
            .iter()
            .filter_map(|(mm, positive, negative)| {
                mm.map(|mm| {
                    format!("{} {} mm", if mm < 0.0 { negative } else { positive }, crate::units::short(mm.abs()))
                })
            })
            .collect();
        f.write_str(&said.join(", "))
    }
}

impl schemars::JsonSchema for Place {
    fn schema_name() -> Cow<'static, str> {
        "Place".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let part = "(forward|aft|left|right|up|down) +[0-9.]+ *(mm|cm|m|in|ft)|centre";
        schemars::json_schema!({
            "description": "where the lamp sits on the model, from its datum, as words without signs",
            "anyOf": [
                { "type": "string", "pattern": format!("^\\s*({part})(\\s*,\\s*({part}))*\\s*$") },
                { "type": "array", "items": { "type": "string", "pattern": format!("^\\s*({part})\\s*$") }, "minItems": 1, "maxItems": 3 },
            ],
            "examples": ["left 680 mm, forward 40 mm, up 25 mm"],
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_place() {
        let place: Place = "left 680 mm, forward 4 cm, up 1 in".parse().expect("reads");
        assert_eq!((place.right_mm, place.forward_mm, place.up_mm), (Some(-680.0), Some(40.0), Some(25.4)));
        assert_eq!("aft 1330 mm".parse::<Place>().expect("reads").right_mm, None);
        for bad in ["left -680 mm", "left 680", "left 5 mm, right 5 mm", "680 mm", ""] {
            assert!(bad.parse::<Place>().is_err(), "{bad}");
        }
    }
}
