//! Whether a light is lit without change.

use super::zones::{blame, plain_finding, takes_plain};
use super::{CannotTell, Finding, Quantity, Where};
use crate::aircraft::Channel;
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct Steadiness;

/// The lowest level of a channel as a share of its highest; a lamp without a channel is always lit.
fn share(channel: Option<&Channel>) -> f64 {
    channel.map_or(1.0, |c| {
        let (low, high) = (c.waveform.lowest_level(), c.waveform.peak_level());
        if high > 0.0 { low / high } else { 0.0 }
    })
}

impl Quantity for Steadiness {
    fn id(&self) -> &'static str {
        "steadiness"
    }

    fn how(&self) -> &'static str {
        "The lowest level of the channel divided by its highest; of several lamps, that of the one farthest from what is asked. A lamp without a channel is taken as always lit."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        match limit {
            // Of several lamps one has the least share and another the greatest: a range has two worst lamps.
            Limit::Between(..) => Err("write `at_least` or `at_most`"),
            _ => takes_plain(limit, &[Unit::Share], "write `limit: {at_least: 100 %}`"),
        }
    }

    fn is_of_channels(&self) -> bool {
        true
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        // Of several lamps the one that is farthest from what is asked.
        let sign = if matches!(goal.spec.limit, Limit::AtMost(_)) { -1.0 } else { 1.0 };
        let each = goal.lamps.iter().map(|n| (scene.channel(*n), share(scene.channel(*n))));
        let worst = each.min_by(|a, b| (sign * a.1).total_cmp(&(sign * b.1)));
        let (channel, share) = worst.unwrap_or((None, 1.0));
        let at = channel.map(|c| Where::Channel(c.name.clone()));
        let mut finding =
            plain_finding(goal, Interval::exactly(share), Unit::Share, at, &blame(goal, scene, |l| &l.places.pattern))?;
        if channel.is_none() {
            finding.notes.push("no channel is given: taken as always lit".to_string());
        }
        if finding.margin.high < 0.0 {
            finding.to_meet = Some("leave the lamp without a channel, or give it one with `steady: 100 %`".to_string());
        }
        Ok(finding)
    }
}
