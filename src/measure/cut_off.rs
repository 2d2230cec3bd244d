//! How sharply a light is cut off, as a share of its own beam.

use super::zones::{blame, distinct, light, overlap_of, plain_finding, takes_plain};
use super::{CannotTell, Finding, Needs, Quantity};
use crate::geometry::Extremum;
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct CutOff;

impl Quantity for CutOff {
    fn id(&self) -> &'static str {
        "cut-off"
    }

    fn how(&self) -> &'static str {
        "The highest intensity over an overlap, divided by the light's own highest intensity in any direction."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Share], "write `limit: {at_most: 25 %}`")
    }

    fn needs(&self) -> Needs {
        Needs::region(&["overlap"])
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let light = light(goal, scene)?;
        let (zone, ..) = overlap_of(goal)?;
        let empty = || CannotTell::Beyond("the overlap is empty".to_string());
        let worst = light.extremes(&zone, Extremum::Highest).ok_or_else(empty)?;
        let peak = scene.peak_cd(&goal.lamps).filter(|p| p.high > 0.0).ok_or_else(empty)?;
        let found = worst.interval();
        // One lamp's spill and peak rise and fall together; of several each may be dim where the other is bright.
        let share = if light.single().is_some() && peak.low > 0.0 {
            Interval { low: found.low / peak.low, high: found.high / peak.high }
        } else {
            Interval { low: found.low / peak.high, high: (found.high / peak.low.max(f64::MIN_POSITIVE)).min(1.0) }
        };
        let at = worst.high.at;
        let mut finding =
            plain_finding(goal, share, Unit::Share, Some(at.into()), &blame(goal, scene, |l| &l.places.mask))?;
        finding.causes = distinct(light.causes(&at));
        finding.origin = light.origin();
        Ok(finding)
    }
}
