//! Steady intensity in the horizontal plane against a table over azimuth.

use super::zones::{blame, dihedral, dihedral_of, floor_finding, light, measured, worst_ratio};
use super::{Asked, CannotTell, Finding, LEVEL, Needs, Quantity};
use crate::geometry::Direction;
use crate::resolve::Goal;
use crate::rules::Limit;
use crate::scene::Scene;

/// See [`Quantity`].
pub struct HorizontalIntensity;

impl Quantity for HorizontalIntensity {
    fn id(&self) -> &'static str {
        "horizontal intensity"
    }

    fn how(&self) -> &'static str {
        "The lamps of the light are summed by direction, at full-size equivalent and at their mean level, and the lowest \
         ratio to the table is sought over the closed dihedral angle at elevation 0. At a joint of rows the stricter one holds."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        match limit {
            Limit::Floor { times_by_elevation: None, .. } => Ok(()),
            _ => Err("write `limit: {floor: {by_azimuth: TABLE}}`"),
        }
    }

    fn needs(&self) -> Needs {
        Needs { may_have: LEVEL, ..Needs::region(&["dihedral"]) }
    }

    fn asks(&self, goal: &Goal<'_>, _: &Scene<'_>, d: &Direction) -> Option<Asked> {
        let Limit::Floor { by_azimuth, .. } = &goal.spec.limit else { return None };
        let angle = dihedral(dihedral_of(goal).ok()?);
        let level = d.elevation_deg().abs() < 1e-9 && angle.contains(d.azimuth_deg(), true);
        let floor_cd = by_azimuth.strictest(d.azimuth_deg().abs()).filter(|_| level)?;
        Some(Asked { measured: measured(goal), floor_cd: Some(floor_cd), ceiling_cd: None })
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let light = light(goal, scene)?;
        let angle = dihedral_of(goal)?;
        let Limit::Floor { by_azimuth, .. } = &goal.spec.limit else {
            return Err(CannotTell::Beyond("no table".to_string()));
        };
        let worst = worst_ratio(&light, angle, by_azimuth, 1.0, &[(0.0, 0.0)])
            .ok_or_else(|| CannotTell::Beyond("the table has no rows".to_string()))?;
        Ok(floor_finding(&worst, &light, &blame(goal, scene, |l| &l.places.emitter)))
    }
}
