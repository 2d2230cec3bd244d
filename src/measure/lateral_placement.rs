//! How far out on the wing a light sits.

use super::zones::{blame, declared, missing, plain_finding, takes_floor};
use super::{CannotTell, Finding, Quantity, Where};
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct LateralPlacement;

impl Quantity for LateralPlacement {
    fn id(&self) -> &'static str {
        "lateral placement"
    }

    fn how(&self) -> &'static str {
        "The lamp's distance from the plane of symmetry divided by half the span; of several lamps the one nearest the fuselage."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_floor(limit, &[Unit::Share], "write `limit: {at_least: 90 %}`")
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let span = scene.aircraft.span.ok_or_else(|| missing(goal, scene, "model.span", "the span of the model"))?;
        let mut least: Option<(f64, String)> = None;
        for lamp in declared(goal, scene) {
            let right = lamp.place.and_then(|p| p.right_mm).ok_or_else(|| {
                missing(goal, scene, "lamps.{lamp}.place", "where it sits, like `left 680 mm, forward 40 mm`")
            })?;
            let share = right.abs() / (0.5 * span.mm());
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
