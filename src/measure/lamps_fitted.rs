//! How many lamps a light has.

use super::zones::{plain_finding, takes_plain};
use super::{CannotTell, Finding, Quantity};
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct LampsFitted;

impl Quantity for LampsFitted {
    fn id(&self) -> &'static str {
        "lamps fitted"
    }

    fn how(&self) -> &'static str {
        "The number of lamps declared as part of the light; lamps that only a local rule requires do not count."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Lamps], "write `limit: {at_least: 1 lamp}`")
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let count = Interval::exactly(goal.lamps.len() as f64);
        let at = goal.lamps.first().and_then(|n| scene.aircraft.lamps.get(*n)).map(|l| l.places.light.clone());
        let mut finding =
            plain_finding(goal, count, Unit::Lamps, None, &at.unwrap_or_else(|| scene.aircraft.at.clone()))?;
        if finding.margin.high < 0.0 {
            finding.to_meet = Some(format!(
                "add a lamp with `light: {}`",
                match goal.spec.light.as_str() {
                    "anti-collision" => "beacon` or `light: strobe",
                    other => other,
                }
            ));
        }
        Ok(finding)
    }
}
