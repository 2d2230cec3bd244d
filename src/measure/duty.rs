//! How much of the time a channel is lit.

use super::zones::{blame, channel, plain_finding, takes_plain};
use super::{CannotTell, Finding, Needs, Quantity, Where};
use crate::resolve::Goal;
use crate::rules::{Each, Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct Duty;

impl Quantity for Duty {
    fn id(&self) -> &'static str {
        "duty"
    }

    fn how(&self) -> &'static str {
        "The share of its period in which the channel is above a tenth of its peak."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Share], "write `limit: {at_most: 50 %}`")
    }

    fn needs(&self) -> Needs {
        Needs::each(Each::Channel)
    }

    fn is_of_channels(&self) -> bool {
        true
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let channel = channel(goal, scene)?;
        let duty = channel.waveform.duty(&scene.readings.flash);
        let at = Some(Where::Channel(channel.name.clone()));
        let blame = blame(goal, scene, |l| &l.places.pattern);
        let mut finding = plain_finding(goal, Interval::exactly(duty), Unit::Share, at, &blame)?;
        if finding.margin.high < 0.0 {
            finding.to_meet = Some(format!(
                "lit {} of the time, yours {}: change `lit:` or the period",
                finding.required.text,
                crate::rules::show(duty, Unit::Share)
            ));
        }
        Ok(finding)
    }
}
