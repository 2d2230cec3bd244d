//! How far a light is seen, by Allard's law.

use super::zones::{blame, light, plain_finding, takes_plain, zone_of};
use super::{ANY_REGION, CannotTell, Finding, LEVEL, Needs, Quantity};
use crate::geometry::Extremum;
use crate::photometry::{Transmission, range_of_intensity};
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::units::{Illuminance, Intensity, Length};

/// See [`Quantity`].
pub struct VisibleRange;

impl Quantity for VisibleRange {
    fn id(&self) -> &'static str {
        "visible range"
    }

    fn how(&self) -> &'static str {
        "Allard's law: the distance at which the faintest direction of the region, at full-size equivalent, still gives the \
         `threshold` illuminance through air of the given `visibility` (5 % contrast)."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        match limit {
            Limit::AtLeast(_) => takes_plain(limit, &[Unit::Millimetre], "give the range in nmi, mi or km"),
            _ => Err("write `limit: {at_least: 2 nmi}`"),
        }
    }

    fn needs(&self) -> Needs {
        Needs {
            with: &[("threshold", Unit::Lux), ("visibility", Unit::Millimetre)],
            may_have: LEVEL,
            ..Needs::region(ANY_REGION)
        }
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let light = light(goal, scene)?;
        let figure = |name: &str, unit: Unit| {
            let found = goal.spec.with.get(name).filter(|f| f.scalar.unit == unit).map(|f| f.scalar.value);
            found.ok_or_else(|| CannotTell::Beyond(format!("the rule set gives no `{name}`")))
        };
        let threshold = Illuminance::from_lx(figure("threshold", Unit::Lux)?);
        let air = Transmission::from_visibility(Length::from_mm(figure("visibility", Unit::Millimetre)?))
            .ok_or_else(|| CannotTell::Beyond("the rule set's `visibility` is none".to_string()))?;
        let worst = light
            .extremes(&zone_of(goal)?, Extremum::Lowest)
            .ok_or_else(|| CannotTell::Beyond("the region is empty".to_string()))?;
        let range = |cd: f64| range_of_intensity(Intensity::from_cd(cd), threshold, air).map_or(0.0, Length::mm);
        let found = worst.interval().rising(range);
        let at = worst.low.at;
        let mut finding =
            plain_finding(goal, found, Unit::Millimetre, Some(at.into()), &blame(goal, scene, |l| &l.places.emitter))?;
        finding.causes = light.causes(&at);
        finding.origin = light.origin();
        finding.notes.push(format!(
            "{} threshold, {} visibility",
            threshold,
            Length::from_mm(figure("visibility", Unit::Millimetre)?)
        ));
        Ok(finding)
    }
}
