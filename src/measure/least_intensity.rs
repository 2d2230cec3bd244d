//! The faintest direction of a region against one figure.

use super::zones::{blame, light, lighten, measured, takes_plain, zone_of};
use super::{ANY_REGION, Asked, CannotTell, Finding, LEVEL, Needs, Quantity, Required};
use crate::geometry::{Direction, Extremum};
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;

/// See [`Quantity`].
pub struct LeastIntensity;

impl Quantity for LeastIntensity {
    fn id(&self) -> &'static str {
        "least intensity"
    }

    fn how(&self) -> &'static str {
        "The lamps of the light are summed by direction, at full-size equivalent and at their mean level, and the lowest \
         intensity is sought over the whole region, edges included."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        match limit {
            Limit::AtLeast(_) => takes_plain(limit, &[Unit::Candela], "give it in cd"),
            _ => Err("write `limit: {at_least: 5 cd}`"),
        }
    }

    fn needs(&self) -> Needs {
        Needs { may_have: LEVEL, ..Needs::region(ANY_REGION) }
    }

    fn asks(&self, goal: &Goal<'_>, _: &Scene<'_>, d: &Direction) -> Option<Asked> {
        let Limit::AtLeast(floor) = &goal.spec.limit else { return None };
        let within = zone_of(goal).is_ok_and(|zone| zone.contains(d));
        within.then_some(Asked { measured: measured(goal), floor_cd: Some(floor.scalar.value), ceiling_cd: None })
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let light = light(goal, scene)?;
        let Limit::AtLeast(floor) = &goal.spec.limit else {
            return Err(CannotTell::Beyond("no limit".to_string()));
        };
        let worst = light
            .extremes(&zone_of(goal)?, Extremum::Lowest)
            .ok_or_else(|| CannotTell::Beyond("the region is empty".to_string()))?;
        let ratio = worst.interval().scaled(1.0 / floor.scalar.value);
        let at = if ratio.high < 1.0 { worst.high.at } else { worst.low.at };
        let blame = blame(goal, scene, |l| &l.places.emitter);
        let required = Required::figure("at least", floor.scalar);
        let mut finding = Finding::new(light.mean_cd(&at), Unit::Candela, required, ratio.rising(|r| r - 1.0), &blame);
        finding.causes = light.causes(&at);
        finding.at = Some(at.into());
        finding.origin = light.origin();
        if ratio.high < 1.0 {
            finding.to_meet = Some(lighten(ratio));
        }
        Ok(finding)
    }
}
