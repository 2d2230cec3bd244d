//! What a mask hides, in words, and the sectors of the sphere it stands for.

use crate::geometry::AzimuthSpan;
use crate::photometry::{Sector, penumbra_half_width_deg};
use crate::rules::Side;
use crate::source::{Decode, Located, Node, Sink, from_text, record, words};
use crate::units::{Angle, Azimuth, Elevation, Interval, Length, UnitError};
use std::borrow::Cow;
use std::str::FromStr;

/// What a mask hides, as directions seen from the emitter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hides {
    /// Everything on the side of the fuselage.
    Inboard,
    /// Everything on the side away from the fuselage.
    Outboard,
    /// Everything nearer dead ahead than this azimuth, on both sides.
    AheadOf(f64),
    /// Everything farther from dead ahead than this azimuth, on both sides.
    AftOf(f64),
    /// Everything below this elevation.
    Below(f64),
    /// Everything above this elevation.
    Above(f64),
    /// From one azimuth to another, between two elevations.
    Sector {
        /// The azimuths, growing.
        azimuth: AzimuthSpan,
        /// The elevations, in degrees.
        elevation_deg: Interval,
    },
}

words! {
    /// The way a sector goes from its first azimuth to its last.
    what "a way round";
    pub enum Through {
        /// Past dead ahead.
        Ahead = "ahead",
        /// Past dead astern.
        Aft = "aft",
        /// Past the left.
        Left = "left",
        /// Past the right.
        Right = "right",
    }
}

record! {
    /// A sector of directions.
    what "a sector";
    pub struct SectorDecl {
        /// From this azimuth.
        pub from: Located<Azimuth>,
        /// To this azimuth.
        pub to: Located<Azimuth>,
        /// The way round; the shorter one where not said.
        pub through: Option<Located<Through>>,
        /// Only above this elevation.
        pub above: Option<Located<Elevation>>,
        /// Only below this elevation.
        pub below: Option<Located<Elevation>>,
    }
}

impl Through {
    fn deg(self) -> f64 {
        match self {
            Self::Ahead => 0.0,
            Self::Aft => 180.0,
            Self::Left => -90.0,
            Self::Right => 90.0,
        }
    }
}

impl SectorDecl {
    fn hides(&self) -> Option<Hides> {
        let (from, to) = (self.from.deg(), self.to.deg());
        let growing = AzimuthSpan::between(from, to);
        let other = AzimuthSpan::between(to, from);
        let azimuth = match &self.through {
            Some(through) if growing.contains(through.deg(), true) => growing,
            Some(through) if other.contains(through.deg(), true) => other,
            Some(_) => return None,
            None if growing.width_deg < 180.0 => growing,
            None if other.width_deg < 180.0 => other,
            None => return None,
        };
        let low = self.above.as_ref().map_or(-90.0, |e| e.deg());
        let high = self.below.as_ref().map_or(90.0, |e| e.deg());
        (low < high).then_some(Hides::Sector { azimuth, elevation_deg: Interval::new(low, high) })
    }
}

impl FromStr for Hides {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let wrong = || {
            UnitError {
            what: format!("`{words}` is not what a mask can hide"),
            instead: "write `inboard`, `outboard`, `ahead of 70 deg`, `aft of 110 deg`, `below`, `above`, `below down 10 deg`, or a sector `{from: left 5 deg, to: right 30 deg}`".into(),
        }
        };
        let angle = |rest: &str| rest.parse::<Angle>().map(|a| (a.deg() * 1e9).round() / 1e9);
        let elevation = |rest: &str| rest.trim().parse::<Elevation>().map(Elevation::deg);
        Ok(match words.as_str() {
            "inboard" => Self::Inboard,
            "outboard" => Self::Outboard,
            "below" => Self::Below(0.0),
            "above" => Self::Above(0.0),
            other => {
                if let Some(rest) = other.strip_prefix("ahead of ") {
                    Self::AheadOf(within(angle(rest)?).ok_or_else(wrong)?)
                } else if let Some(rest) = other.strip_prefix("aft of ") {
                    Self::AftOf(within(angle(rest)?).ok_or_else(wrong)?)
                } else if let Some(rest) = other.strip_prefix("below ") {
                    Self::Below(elevation(rest)?)
                } else if let Some(rest) = other.strip_prefix("above ") {
                    Self::Above(elevation(rest)?)
                } else {
                    return Err(wrong());
                }
            }
        })
    }
}

fn within(degrees: f64) -> Option<f64> {
    (degrees > 0.0 && degrees < 180.0).then_some(degrees)
}

impl Decode for Hides {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        if !matches!(node, Node::Map { .. }) {
            return from_text(node, sink);
        }
        let sector = SectorDecl::decode(node, sink)?;
        let hides = sector.hides();
        if hides.is_none() {
            sink.say(
                crate::source::Code::Contradiction,
                node.at(),
                "this sector cannot be told: which way round it goes, or it has no height",
                "add `through: ahead` or `through: aft`, and let `above` lie under `below`",
            );
        }
        hides
    }
}

impl schemars::JsonSchema for Hides {
    fn schema_name() -> Cow<'static, str> {
        "Hides".into()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let sector = generator.subschema_for::<SectorDecl>();
        schemars::json_schema!({ "anyOf": [
            { "type": "string", "pattern": "^\\s*(inboard|outboard|ahead of .+|aft of .+|below( .+)?|above( .+)?)\\s*$" },
            sector,
        ] })
    }
}

/// A mask: what it hides and how far its edge is from the emitter.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MaskSpec {
    /// What it hides.
    pub hides: Vec<Hides>,
    /// Distance from the emitter to the edge, in mm, where known.
    pub edge_mm: Option<Interval>,
}

impl MaskSpec {
    /// The hidden sectors; `None` where `inboard` or `outboard` is said of a lamp with no side.
    #[must_use]
    pub fn sectors(&self, side: Option<Side>) -> Option<Vec<Sector>> {
        self.hides.iter().map(|h| h.sector(side)).collect()
    }

    /// Half the width of the penumbra of an emitter of a size, atan(size / (2 distance)); `None` where it is not known.
    #[must_use]
    pub fn half_penumbra_deg(&self, size_mm: Option<Interval>) -> Option<f64> {
        match (size_mm, self.edge_mm) {
            (Some(size), _) if size.high == 0.0 => Some(0.0),
            (Some(size), Some(edge)) if edge.low > 0.0 => {
                Some(penumbra_half_width_deg(Length::from_mm(size.high), Length::from_mm(edge.low)))
            }
            _ => None,
        }
    }
}

impl Hides {
    fn sector(self, side: Option<Side>) -> Option<Sector> {
        let all = (-90.0, 90.0);
        let (azimuth, elevation) = match self {
            Self::Inboard => (AzimuthSpan::new(if side? == Side::Left { 0.0 } else { -180.0 }, 180.0), all),
            Self::Outboard => (AzimuthSpan::new(if side? == Side::Left { -180.0 } else { 0.0 }, 180.0), all),
            Self::AheadOf(deg) => (AzimuthSpan::new(-deg, 2.0 * deg), all),
            Self::AftOf(deg) => (AzimuthSpan::new(deg, 360.0 - 2.0 * deg), all),
            Self::Below(deg) => (AzimuthSpan::FULL, (-90.0, deg)),
            Self::Above(deg) => (AzimuthSpan::FULL, (deg, 90.0)),
            Self::Sector { azimuth, elevation_deg } => (azimuth, (elevation_deg.low, elevation_deg.high)),
        };
        Some(Sector { azimuth, elevation_deg: elevation })
    }
}
