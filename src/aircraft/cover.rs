//! What a cover does to the light behind it.

use super::colour_family::Family;
use super::words::CoverKind;
use crate::colorimetry::ColourSet;
use crate::photometry::Shape;
use crate::source::At;
use crate::units::Interval;

/// A cover over the emitter.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cover {
    /// What it is.
    pub kind: Option<CoverKind>,
    /// The share of light it lets through, where known.
    pub transmittance: Option<Interval>,
    /// The colour seen through it, where measured.
    pub seen_as: Option<ColourSet>,
    /// Where it was written.
    pub at: Option<At>,
}

/// What a cover does.
#[derive(Debug, Clone, PartialEq)]
pub struct CoverEffect {
    /// The share of light let through.
    pub transmittance: Interval,
    /// The beam behind a cover that spreads light; `None`: unchanged.
    pub shape: Option<Shape>,
    /// Whether the colour seen outside is that of the emitter.
    pub keeps_colour: bool,
    /// Whether the transmittance is the kind's usual range, not the user's figure.
    pub typical: bool,
}

impl Cover {
    /// A cover of a kind.
    #[must_use]
    pub fn of(kind: CoverKind) -> Self {
        Self { kind: Some(kind), ..Self::default() }
    }

    /// What the cover does to an emitter's light.
    ///
    /// The ranges are the trade's: clear acrylic and PC 0.88 to 0.92 read in data sheets, opal sheet 0.50 to 0.85;
    /// tinted covers reckoned from model dyes; the rest from memory.
    #[must_use]
    pub fn effect(&self, shape: Option<&Shape>, family: Option<Family>) -> CoverEffect {
        let (usual, keeps_colour) = match (self.kind, family) {
            (None, _) => (Interval::exactly(1.0), true),
            (Some(CoverKind::Clear), _) => (Interval::new(0.88, 0.92), true),
            (Some(CoverKind::Worn), _) => (Interval::new(0.75, 0.90), true),
            (Some(CoverKind::Frosted), _) => (Interval::new(0.70, 0.90), true),
            (Some(CoverKind::Opal), _) => (Interval::new(0.50, 0.85), true),
            (Some(CoverKind::Printed), _) => (Interval::new(0.30, 0.80), true),
            (Some(CoverKind::Red), Some(Family::Red)) => (Interval::new(0.48, 0.88), true),
            (Some(CoverKind::Green), Some(Family::Green)) => (Interval::new(0.50, 0.75), true),
            (Some(CoverKind::Red), Some(Family::White | Family::Filament)) => (Interval::new(0.04, 0.31), false),
            (Some(CoverKind::Green), Some(Family::White | Family::Filament)) => (Interval::new(0.16, 0.57), false),
            (Some(CoverKind::Red), Some(Family::Green | Family::Blue)) => (Interval::new(0.0, 0.005), false),
            (Some(CoverKind::Green), Some(Family::Red | Family::Blue)) => (Interval::new(0.0, 0.08), false),
            (Some(CoverKind::Red | CoverKind::Green), _) => (Interval::new(0.0, 0.9), false),
        };
        CoverEffect {
            transmittance: self.transmittance.unwrap_or(usual),
            shape: self.spread(shape),
            keeps_colour: keeps_colour && self.seen_as.is_none(),
            typical: self.transmittance.is_none() && self.kind.is_some(),
        }
    }

    /// Frosting adds 20 to 60 deg to a beam; an opal sheet makes about 120 deg of any.
    fn spread(&self, shape: Option<&Shape>) -> Option<Shape> {
        let opal = Shape::CosinePower { half_angle_deg: Interval::new(54.0, 66.0) };
        match (self.kind?, shape?) {
            (CoverKind::Opal, _) => Some(opal),
            (CoverKind::Frosted | CoverKind::Printed, Shape::CosinePower { half_angle_deg: half }) => {
                let wider = Interval::new((half.low + 10.0).min(75.0), (half.high + 30.0).min(75.0));
                Some(Shape::CosinePower { half_angle_deg: wider })
            }
            (CoverKind::Frosted | CoverKind::Printed, Shape::Table { .. } | Shape::Grid { .. }) => Some(opal),
            _ => None,
        }
    }
}
