//! Whether a light is bright enough, and not too bright, for the scale of the model.

use super::zones::{blame, dihedral, dihedral_of, light, plain_finding, takes_plain};
use super::{CannotTell, Finding, Needs, Quantity};
use crate::geometry::{Extremum, Zone};
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;

/// See [`Quantity`].
pub struct BrightnessForTheScale;

impl Quantity for BrightnessForTheScale {
    fn id(&self) -> &'static str {
        "brightness for the scale"
    }

    fn how(&self) -> &'static str {
        "The highest intensity in the horizontal plane of the dihedral angle, at full-size equivalent (the model's \
         intensity times the square of the scale), divided by `minimum`."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Times], "write `limit: {between: [1 times, 10 times]}`")
    }

    fn needs(&self) -> Needs {
        Needs { with: &[("minimum", Unit::Candela)], ..Needs::region(&["dihedral"]) }
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let light = light(goal, scene)?;
        let minimum = goal.spec.with.get("minimum").map(|f| f.scalar.value).filter(|m| *m > 0.0);
        let minimum = minimum.ok_or_else(|| CannotTell::Beyond("the rule set gives no `minimum`".to_string()))?;
        let zone = Zone::rectangle(dihedral(dihedral_of(goal)?), &[(0.0, 0.0)]);
        let found = light
            .extremes(&zone, Extremum::Highest)
            .ok_or_else(|| CannotTell::Beyond("the dihedral angle is empty".to_string()))?;
        let (ratio, at) = (found.interval().scaled(1.0 / minimum), found.high.at);
        let mut finding =
            plain_finding(goal, ratio, Unit::Times, Some(at.into()), &blame(goal, scene, |l| &l.places.emitter))?;
        finding.required.text = format!(
            "{} the minimum of {} cd",
            finding.required.text,
            crate::rules::show(minimum, Unit::Candela).trim_end_matches(" cd")
        );
        finding.causes = light.causes(&at);
        finding.origin = light.origin();
        if let (Limit::Between(low, high), true) = (&goal.spec.limit, finding.margin.high < 0.0) {
            finding.to_meet = Some(if ratio.low > high.scalar.value {
                // As bright as it may be, it must still keep the limit.
                let sure = high.scalar.value / ratio.high;
                format!("dim it to {} of this or less", crate::rules::show(sure, Unit::Share))
            } else {
                format!("needs x {:.3}", low.scalar.value / ratio.high)
            });
        }
        Ok(finding)
    }
}
