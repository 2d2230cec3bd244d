//! What a measure gives back.

use crate::aircraft::Origin;
use crate::geometry::Direction;
use crate::rules::{Figure, Scalar, Unit};
use crate::scene::{Cause, Missing};
use crate::source::At;
use crate::units::Interval;

/// Where the worst was found.
#[derive(Debug, Clone, PartialEq)]
pub enum Where {
    /// In a direction.
    Direction {
        /// Azimuth in degrees.
        azimuth_deg: f64,
        /// Elevation in degrees.
        elevation_deg: f64,
    },
    /// At a lamp.
    Lamp(String),
    /// On a channel.
    Channel(String),
}

impl From<Direction> for Where {
    fn from(d: Direction) -> Self {
        Self::Direction { azimuth_deg: d.azimuth_deg(), elevation_deg: d.elevation_deg() }
    }
}

/// Which intensity of a light a goal looks at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measured {
    /// Its mean over its pattern.
    Mean,
    /// Its intensity kept on.
    FullLevel,
    /// Its effective intensity.
    Effective,
}

/// What a goal asks of a light in one direction, at full size, in cd.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// Of which intensity.
    pub measured: Measured,
    /// At the least.
    pub floor_cd: Option<f64>,
    /// At the most.
    pub ceiling_cd: Option<f64>,
}

/// What was required where the worst was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Required {
    /// In words: `at least 40 cd`.
    pub text: String,
    /// The figure at full size, where there is one.
    pub full_size: Option<Scalar>,
    /// Whether it is an intensity or a length, which the model's scale divides.
    pub scales: bool,
}

impl Required {
    /// A requirement in words only.
    #[must_use]
    pub fn words(text: impl Into<String>) -> Self {
        Self { text: text.into(), full_size: None, scales: false }
    }
    /// `at least` or `at most` a figure.
    #[must_use]
    pub fn figure(word: &str, scalar: Scalar) -> Self {
        let scales = scalar.unit == Unit::Candela;
        Self { text: format!("{word} {scalar}"), full_size: Some(scalar), scales }
    }
}

/// A shortfall too small to decide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LetOff {
    /// The solid angle that falls short: low when the light is as strong as it may be, high when as weak, in sr.
    pub shortfall_sr: Interval,
    /// What does not decide, in sr.
    pub under_sr: f64,
}

/// What was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The figure found, at full size.
    pub found: Option<Interval>,
    /// Its unit.
    pub unit: Unit,
    /// What was found, in words, where the figure alone does not say it.
    pub found_text: Option<String>,
    /// What was required.
    pub required: Required,
    /// How far on the right side of the limit: 0 or more is met.
    pub margin: Interval,
    /// What the margin is measured in, where it is no ratio.
    pub margin_unit: Option<Unit>,
    /// Where the worst was found.
    pub at: Option<Where>,
    /// Why the figure is a range.
    pub causes: Vec<Cause>,
    /// A shortfall too small to decide.
    pub let_off: Option<LetOff>,
    /// What else a reader should know.
    pub notes: Vec<String>,
    /// What would meet the goal, where one free number would.
    pub to_meet: Option<String>,
    /// Whether a relief of the rule had a part in it.
    pub relieved: bool,
    /// The least sure figure it rests on.
    pub origin: Origin,
    /// The line of the user's file to change.
    pub blame: At,
}

impl Finding {
    /// A finding with a figure and a margin and nothing else yet.
    #[must_use]
    pub fn new(found: Interval, unit: Unit, required: Required, margin: Interval, blame: &At) -> Self {
        Self {
            found: Some(found),
            unit,
            found_text: None,
            required,
            margin,
            margin_unit: None,
            at: None,
            causes: Vec::new(),
            let_off: None,
            notes: Vec::new(),
            to_meet: None,
            relieved: false,
            origin: Origin::Measured,
            blame: blame.clone(),
        }
    }
}

/// Why a goal cannot be told.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotTell {
    /// A figure is missing.
    MissingInput(Missing),
    /// The limit lies within what the figure may be.
    WithinBounds,
    /// The document's figure was not at hand; where to find it.
    NotAtHand(String),
    /// It lies beyond what is reckoned here; why, in a whole sentence.
    Beyond(String),
    /// There is nothing the goal speaks of; why. It does not apply.
    NotAsked(String),
    /// Which rule applies is not known; the key that would tell.
    WhichRule(String),
}

impl From<Missing> for CannotTell {
    fn from(missing: Missing) -> Self {
        Self::MissingInput(missing)
    }
}

/// The margin of a figure against a plain limit: ratio minus 1 for a floor, 1 minus ratio for a ceiling.
#[must_use]
pub fn margin_at_least(found: Interval, limit: &Figure) -> Interval {
    let limit = limit.scalar.value;
    found.rising(|v| if limit == 0.0 { v } else { v / limit - 1.0 })
}

/// The margin of a figure against a ceiling.
#[must_use]
pub fn margin_at_most(found: Interval, limit: &Figure) -> Interval {
    let limit = limit.scalar.value;
    found.falling(|v| if limit == 0.0 { -v } else { 1.0 - v / limit })
}
