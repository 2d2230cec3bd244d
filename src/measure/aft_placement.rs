//! How far aft a light sits.

use super::zones::{blame, declared, missing, plain_finding, takes_floor};
use super::{CannotTell, Finding, Quantity, Where};
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct AftPlacement;

impl Quantity for AftPlacement {
    fn id(&self) -> &'static str {
        "aft placement"
    }

    fn how(&self) -> &'static str {
        "The lamp's distance aft of the nose divided by the length; of several lamps the one farthest forward."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_floor(limit, &[Unit::Share], "write `limit: {at_least: 90 %}`")
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let length =
            scene.aircraft.length.ok_or_else(|| missing(goal, scene, "model.length", "the length of the model"))?;
        let nose = scene.aircraft.nose_forward_mm.ok_or_else(|| {
            missing(goal, scene, "model.nose", "how far the nose is forward of the datum, like `forward 700 mm`")
        })?;
        let mut least: Option<(f64, String)> = None;
        for lamp in declared(goal, scene) {
            let forward = lamp.place.and_then(|p| p.forward_mm).ok_or_else(|| {
                missing(goal, scene, "lamps.{lamp}.place", "where it sits, like `aft 1330 mm, up 260 mm`")
            })?;
            let share = (nose - forward) / length.mm();
            if least.as_ref().is_none_or(|(old, _)| share < *old) {
                least = Some((share, lamp.name.clone()));
            }
        }
        let (share, name) = least.ok_or_else(|| CannotTell::Beyond("no lamp".to_string()))?;
        plain_finding(
            goal,
            Interval::exactly(share),
            Unit::Share,
            Some(Where::Lamp(name)),
            &blame(goal, scene, |l| &l.places.place),
        )
    }
}
