//! How far apart lamps begin their flashes that should flash together.

use super::zones::{blame, channels, plain_finding, takes_plain};
use super::{CannotTell, Finding, Quantity, Where};
use crate::aircraft::Channel;
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::timing::{FlashReading, JointLimits, coincide_every, drifting_spread, milliseconds, onset_spread};
use crate::units::{Fraction, Interval};

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
        let worst = farthest_apart(&channels, reading);
        let at = worst.pair.map(|(_, other)| Where::Channel(other.name.clone()));
        let blame = blame(goal, scene, |l| &l.places.pattern);
        let mut finding = plain_finding(goal, worst.ms, Unit::Millisecond, at, &blame)?;
        if let Some((one, other)) = worst.pair {
            let drift = if one.clock == other.clock { "" } else { ", which run on clocks of their own and drift" };
            finding.notes.push(format!("between channels {} and {}{drift}", one.name, other.name));
        } else {
            finding.notes.push("one channel lights them all".to_string());
        }
        if finding.margin.high < 0.0 {
            finding.to_meet = worst.pair.map(|(one, other)| mend(one, other));
        }
        Ok(finding)
    }
}

/// The keys in which a pair must be the same.
fn mend(one: &Channel, other: &Channel) -> String {
    let clock = if one.clock == other.clock { "" } else { "`clock`, " };
    let rate = if one.waveform.period_us() == other.waveform.period_us() { "" } else { "`rate`, " };
    let keys = format!("{clock}{rate}`start`");
    let keys = keys.rsplit_once(", ").map_or(keys.clone(), |(first, last)| format!("{first} and {last}"));
    format!("give `{}` and `{}` the same {keys}, or use one channel", one.name, other.name)
}

/// The most flashes looked at for one goal; what more would find is a range.
const MOST_FLASHES: f64 = 1e6;

/// The pair of channels that is farthest apart.
struct Farthest<'a> {
    /// How far, in milliseconds.
    ms: Interval,
    /// The pair, in the order of the file; none where all begin together.
    pair: Option<(&'a Channel, &'a Channel)>,
}

/// Seeks the pair that is farthest apart. Half of the longest wait of either is the most a pair can be, so pairs are
/// looked at by falling wait, and no longer than one may still be farther.
fn farthest_apart<'a>(channels: &[&'a Channel], reading: &FlashReading) -> Farthest<'a> {
    let waits = by_wait(channels, reading);
    let mut found = Farthest { ms: Interval::exactly(0.0), pair: None };
    let mut room = MOST_FLASHES;
    for (k, (most, n, one)) in waits.iter().enumerate() {
        for (_, m, other) in waits.iter().skip(k + 1) {
            if *most <= found.ms.low {
                return found;
            }
            room -= flashes_in(one, other);
            if room < 0.0 {
                found.ms.high = *most;
                return found;
            }
            let apart = apart_ms(one, other, reading);
            if apart > found.ms.low {
                let pair = if n < m { (*one, *other) } else { (*other, *one) };
                found = Farthest { ms: Interval::exactly(apart), pair: Some(pair) };
            }
        }
    }
    found
}

/// Channels that are not the same in all, each with half of its longest wait in milliseconds and its number, longest
/// wait first.
fn by_wait<'a>(channels: &[&'a Channel], reading: &FlashReading) -> Vec<(f64, usize, &'a Channel)> {
    let mut found: Vec<(f64, usize, &Channel)> = Vec::new();
    for (n, channel) in channels.iter().enumerate() {
        if !found.iter().any(|(.., known)| known.clock == channel.clock && known.waveform == channel.waveform) {
            found.push((milliseconds(channel.waveform.longest_wait_us(reading)) / 2.0, n, channel));
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found
}

/// About how many flashes a pair shows until it comes back to where it began.
fn flashes_in(one: &Channel, other: &Channel) -> f64 {
    let (first, second) = (one.waveform.period_us(), other.waveform.period_us());
    let longest = Fraction::new(i128::from(JointLimits::default().longest.0), 1);
    let common = coincide_every(first, second).filter(|common| one.clock == other.clock && *common <= longest);
    common.map_or(1.0, |us| milliseconds(us) / milliseconds(first) + milliseconds(us) / milliseconds(second))
}

/// The greatest distance from a flash of one channel to the nearest of the other, in milliseconds.
fn apart_ms(one: &Channel, other: &Channel, reading: &FlashReading) -> f64 {
    let (first, second) = (&one.waveform, &other.waveform);
    let joint = (one.clock == other.clock).then(|| onset_spread(first, second, reading, &JointLimits::default()));
    milliseconds(joint.flatten().unwrap_or_else(|| drifting_spread(first, second, reading)))
}
