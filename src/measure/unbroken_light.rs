//! What hides a position light inside its dihedral angle.

use super::field_of_coverage::obstructed;
use super::zones::zone_of;
use super::{ANY_REGION, CannotTell, Finding, Needs, Quantity};
use crate::resolve::Goal;
use crate::rules::Limit;
use crate::scene::Scene;

/// See [`Quantity`].
pub struct UnbrokenLight;

impl Quantity for UnbrokenLight {
    fn id(&self) -> &'static str {
        "unbroken light"
    }

    fn how(&self) -> &'static str {
        "The solid angle of the region (of a dihedral angle: all elevations) in which masks, the emitters' own bodies and the airframe, where one is given, hide every lamp \
         of the light, each about its own place, seen from the middle of the emitter: the half-shadow of a soft edge does not count as hidden. Geometry only: a faint beam does not obstruct."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        super::field_of_coverage::FieldOfCoverage.takes(limit)
    }

    fn needs(&self) -> Needs {
        Needs { keys: &["allow"], ..Needs::region(ANY_REGION) }
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        obstructed(goal, scene, &zone_of(goal)?)
    }
}
