//! How far apart lamps begin their flashes that should flash together.

use super::zones::{blame, channels, plain_finding, takes_plain};
use super::{CannotTell, Finding, Quantity, Where};
use crate::aircraft::Channel;
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::timing::{FlashReading, JointLimits, drifting_spread, milliseconds, onset_spread};
use crate::units::Interval;

/// See [`Quantity`].
pub struct OnsetSpread;

impl Quantity for OnsetSpread {
    fn id(&self) -> &'static str {
        "onset spread"
    }

    fn how(&self) -> &'static str {
        "For every flash of each channel the nearest beginning of a flash of each other channel is sought over their common \
         pattern; the greatest distance counts. Channels on different clocks drift, and sooner or later one flashes in the middle \
         of the other's longest wait. Offsets under about 20 ms are seen as together, over about 50 ms as apart."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Millisecond], "write `limit: {at_most: 20 ms}`")
    }

    fn is_of_channels(&self) -> bool {
        true
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let channels = channels(goal, scene)?;
        let reading = &scene.readings.flash;
        if let Some(dark) = channels.iter().find(|c| c.waveform.flashes(reading).flashes.is_empty()) {
            return Err(CannotTell::Beyond(format!("channel {} never flashes", dark.name)));
        }
        let mut worst: (f64, Option<(&Channel, &Channel)>) = (0.0, None);
        for (n, one) in channels.iter().enumerate() {
            for other in channels.iter().skip(n + 1) {
                let apart = apart_ms(one, other, reading);
                if apart > worst.0 {
                    worst = (apart, Some((one, other)));
                }
            }
        }
        let at = worst.1.map(|(_, other)| Where::Channel(other.name.clone()));
        let blame = blame(goal, scene, |l| &l.places.pattern);
        let mut finding = plain_finding(goal, Interval::exactly(worst.0), Unit::Millisecond, at, &blame)?;
        if let Some((one, other)) = worst.1 {
            let drift = if one.clock == other.clock { "" } else { ", which run on clocks of their own and drift" };
            finding.notes.push(format!("between channels {} and {}{drift}", one.name, other.name));
        } else {
            finding.notes.push("one channel lights them all".to_string());
        }
        if finding.margin.high < 0.0 {
            finding.to_meet =
                Some("put the channels on one clock with the same `start`, or use one channel".to_string());
        }
        Ok(finding)
    }
}

/// The greatest distance from a flash of one channel to the nearest of the other, in milliseconds.
fn apart_ms(one: &Channel, other: &Channel, reading: &FlashReading) -> f64 {
    let (first, second) = (&one.waveform, &other.waveform);
    let joint = (one.clock == other.clock).then(|| onset_spread(first, second, reading, &JointLimits::default()));
    milliseconds(joint.flatten().unwrap_or_else(|| drifting_spread(first, second, reading)))
}
