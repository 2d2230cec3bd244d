//! How far apart lamps begin their flashes that should flash together.

use super::zones::{blame, missing, plain_finding, takes_plain};
use super::{CannotTell, Finding, Quantity, Where};
use crate::aircraft::Channel;
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::timing::{FlashReading, Waveform, coincide_every};
use crate::units::{Fraction, Interval};
use std::collections::BTreeSet;

/// A joint pattern with more flashes of one channel than this is taken as drifting.
const MOST_FLASHES: f64 = 10_000.0;

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

/// The channels of a goal's lamps, each once.
pub(super) fn channels<'s>(goal: &Goal<'_>, scene: &'s Scene<'_>) -> Result<Vec<&'s Channel>, CannotTell> {
    let mut names = BTreeSet::new();
    let mut channels = Vec::new();
    for lamp in &goal.lamps {
        let channel = scene.channel(*lamp).ok_or_else(|| {
            missing(goal, scene, "lamps.{lamp}.flash", "how it flashes: a `channel`, or `flash:`, `swell:` or `steps:`")
        })?;
        if names.insert(channel.name.as_str()) {
            channels.push(channel);
        }
    }
    Ok(channels)
}

/// The greatest distance from a flash of one channel to the nearest of the other, in milliseconds.
fn apart_ms(one: &Channel, other: &Channel, reading: &FlashReading) -> f64 {
    let ms = milliseconds;
    let (first, second) = (&one.waveform, &other.waveform);
    // A flash may come in the middle of the other channel's longest wait for a flash.
    let drifting = 0.5 * longest_wait_ms(first, reading).max(longest_wait_ms(second, reading));
    if one.clock != other.clock {
        return drifting;
    }
    let Some(common) = coincide_every(first.period_us(), second.period_us()) else { return drifting };
    let common_ms = ms(common);
    let onsets = |wave: &Waveform| {
        let period = ms(wave.period_us());
        let times = (common_ms / period).round();
        let own: Vec<f64> = wave.flashes(reading).flashes.iter().map(|f| ms(f.onset_us + wave.phase_us())).collect();
        (times * own.len() as f64 <= MOST_FLASHES).then(|| {
            let mut all: Vec<f64> = (0..times as u32)
                .flat_map(|k| own.iter().map(move |onset| (onset + f64::from(k) * period) % common_ms))
                .collect();
            all.sort_by(f64::total_cmp);
            all
        })
    };
    let (Some(a), Some(b)) = (onsets(first), onsets(second)) else { return drifting };
    farthest(&a, &b, common_ms).max(farthest(&b, &a, common_ms))
}

/// The longest time from one flash of a channel to its next, in milliseconds.
fn longest_wait_ms(wave: &Waveform, reading: &FlashReading) -> f64 {
    let onsets: Vec<Fraction> = wave.flashes(reading).flashes.iter().map(|f| f.onset_us).collect();
    let next = onsets.iter().skip(1).copied().chain(onsets.first().map(|first| *first + wave.period_us()));
    onsets.iter().zip(next).map(|(one, next)| milliseconds(next - *one)).fold(0.0, f64::max)
}

fn milliseconds(time_us: Fraction) -> f64 {
    *time_us.numer() as f64 / *time_us.denom() as f64 * 1e-3
}

/// The greatest distance from a time of the first list to the nearest of the second, both rising, round a period.
fn farthest(from: &[f64], to: &[f64], period: f64) -> f64 {
    let distance = |a: f64, b: f64| {
        let apart = (a - b).rem_euclid(period);
        apart.min(period - apart)
    };
    from.iter()
        .map(|time| {
            let next = to.partition_point(|t| t < time) % to.len();
            let before = (next + to.len() - 1) % to.len();
            [next, before].iter().filter_map(|n| to.get(*n)).map(|t| distance(*time, *t)).fold(f64::INFINITY, f64::min)
        })
        .fold(0.0, f64::max)
}
