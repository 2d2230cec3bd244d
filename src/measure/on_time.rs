//! How long a pulse is lit.

use super::zones::{blame, channel, plain_finding, takes_plain};
use super::{CannotTell, Finding, Needs, Quantity, Where};
use crate::resolve::Goal;
use crate::rules::{Each, Limit, Unit};
use crate::scene::Scene;
use crate::timing::milliseconds;
use crate::units::Interval;

/// See [`Quantity`].
pub struct OnTime;

impl Quantity for OnTime {
    fn id(&self) -> &'static str {
        "on-time"
    }

    fn how(&self) -> &'static str {
        "The longest pulse of the channel: how long it stays above a tenth of its peak."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Millisecond], "write `limit: {at_most: 150 ms}`")
    }

    fn needs(&self) -> Needs {
        Needs::each(Each::Channel)
    }

    fn is_of_channels(&self) -> bool {
        true
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let channel = channel(goal, scene)?;
        let lit = channel.waveform.lit_time(&scene.readings.flash).longest_pulse_us;
        let ms = milliseconds(lit);
        let at = Some(Where::Channel(channel.name.clone()));
        let blame = blame(goal, scene, |l| &l.places.pattern);
        let mut finding = plain_finding(goal, Interval::exactly(ms), Unit::Millisecond, at, &blame)?;
        if finding.margin.high < 0.0 {
            finding.to_meet = Some(format!(
                "lit {}, yours {} ms: change `lit:`, or the lit steps",
                finding.required.text,
                crate::units::short(ms)
            ));
        }
        Ok(finding)
    }
}
