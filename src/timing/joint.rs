//! Flash frequency of several channels together.

use super::common::CommonPeriod;
use super::flashes::{Flashes, per_minute};
use super::{FlashReading, JointLimits, Waveform};
use crate::units::{Fraction, Rate};

/// Channels that keep their phase to each other for ever.
#[derive(Debug, Clone, Default)]
pub struct Clock<'a> {
    /// The channels' waveforms, each with its own start.
    pub channels: Vec<&'a Waveform>,
}

impl<'a> Clock<'a> {
    /// A clock with these channels.
    #[must_use]
    pub fn new(channels: impl IntoIterator<Item = &'a Waveform>) -> Self {
        Self { channels: channels.into_iter().collect() }
    }
}

/// The flash frequency of several channels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JointRate {
    /// Known exactly: one clock whose pattern repeats soon enough.
    Exact(Rate),
    /// The channels drift past each other.
    Drifting {
        /// With no flash hidden in another: the sum.
        upper: Rate,
        /// With as many as may be hidden: the largest alone.
        lower: Rate,
    },
}

impl JointRate {
    /// The highest it may be.
    #[must_use]
    pub fn upper(self) -> Rate {
        match self {
            Self::Exact(rate) | Self::Drifting { upper: rate, .. } => rate,
        }
    }
    /// The lowest it may be.
    #[must_use]
    pub fn lower(self) -> Rate {
        match self {
            Self::Exact(rate) | Self::Drifting { lower: rate, .. } => rate,
        }
    }
}

/// The flash frequency of channels on one clock, counted over their common period.
///
/// Flashes whose whole spans (first onset to last end, inner gaps included) overlap count once; spans that only
/// touch do not overlap. Channels without flashes are left out; lights that together are never dark have a frequency
/// of 0. Where the common period passes the limits, the sum and the largest of the channels are given.
///
/// # Example
/// ```
/// use lampwright::timing::{FlashReading, JointLimits, JointRate, Waveform, joint_flashes};
/// use lampwright::units::{Fraction, Micros, Rate};
/// // Two lamps that alternate at 90 a minute each are 180 a minute, the limit for overlaps (14 CFR 25.1401(c)).
/// let top = Waveform::flash(Fraction::new(2_000_000, 3), Micros(50_000), 1, Micros(0))?;
/// let bottom = top.clone().with_start(Micros(333_333));
/// let rate = joint_flashes(&[&top, &bottom], &FlashReading::default(), &JointLimits::default());
/// assert_eq!(rate, JointRate::Exact(Rate::per_minute(Fraction::new(180, 1))));
/// # Ok::<(), lampwright::timing::TimingError>(())
/// ```
#[must_use]
pub fn joint_flashes(waveforms: &[&Waveform], reading: &FlashReading, limits: &JointLimits) -> JointRate {
    let flashing: Vec<(&Waveform, Flashes)> =
        waveforms.iter().map(|w| (*w, w.flashes(reading))).filter(|(_, f)| !f.flashes.is_empty()).collect();
    if flashing.is_empty() {
        return JointRate::Exact(none());
    }
    match JointSpans::of(&flashing, limits) {
        Some(joint) => JointRate::Exact(per_minute(joint.onsets.len(), joint.common.length_us())),
        None => drifting(flashing.iter().map(|(_, flashes)| JointRate::Exact(flashes.flash_rate()))),
    }
}

/// The flash frequency of channels on several clocks: exact for one clock; else between the largest clock alone and
/// the sum of all.
///
/// # Example
/// ```
/// use lampwright::timing::{Clock, FlashReading, JointLimits, Waveform, flash_frequency};
/// use lampwright::units::{Fraction, Micros};
/// // Flashes every 1.28 s and every 1.2 s on clocks of their own: 60 / 1.28 + 60 / 1.2 = 96.875 a minute at most.
/// let strobe = Waveform::flash(Fraction::new(1_280_000, 1), Micros(50_000), 2, Micros(70_000))?;
/// let beacon = Waveform::flash(Fraction::new(1_200_000, 1), Micros(80_000), 1, Micros(0))?;
/// let clocks = [Clock::new([&strobe]), Clock::new([&beacon])];
/// let rate = flash_frequency(&clocks, &FlashReading::default(), &JointLimits::default());
/// assert_eq!((rate.lower().per_min(), rate.upper().per_min()), (50.0, 96.875));
/// # Ok::<(), lampwright::timing::TimingError>(())
/// ```
#[must_use]
pub fn flash_frequency(clocks: &[Clock<'_>], reading: &FlashReading, limits: &JointLimits) -> JointRate {
    let rates: Vec<JointRate> = clocks.iter().map(|c| joint_flashes(&c.channels, reading, limits)).collect();
    let mut flashing = rates.into_iter().filter(|rate| rate.upper() > none());
    match (flashing.next(), flashing.next()) {
        (None, _) => JointRate::Exact(none()),
        (Some(only), None) => only,
        (Some(first), Some(second)) => drifting([first, second].into_iter().chain(flashing)),
    }
}

fn none() -> Rate {
    Rate::per_minute(Fraction::new(0, 1))
}

fn drifting(rates: impl Iterator<Item = JointRate>) -> JointRate {
    let (upper, lower) =
        rates.fold((none(), none()), |(upper, lower), rate| (sum(upper, rate.upper()), lower.max(rate.lower())));
    JointRate::Drifting { upper, lower }
}

/// The sum of two rates; exact, but for fractions so fine that their sum leaves `i128`: to 1e-9 a minute.
fn sum(a: Rate, b: Rate) -> Rate {
    let exact = |a: Fraction, b: Fraction| {
        let left = a.numer().checked_mul(*b.denom())?;
        let right = b.numer().checked_mul(*a.denom())?;
        Some(Fraction::new(left.checked_add(right)?, a.denom().checked_mul(*b.denom())?))
    };
    Rate::per_minute(exact(a.exact_per_minute(), b.exact_per_minute()).unwrap_or_else(|| {
        let billionths = (a.per_min() + b.per_min()) * 1e9;
        Fraction::new(billionths.round() as i128, 1_000_000_000)
    }))
}

/// The lit spans of channels on one clock, joined where they overlap, over the common period.
pub(super) struct JointSpans {
    /// The common period.
    pub common: CommonPeriod,
    /// When each joined span begins, in ticks, rising; none where it is never dark.
    pub onsets: Vec<i128>,
}

impl JointSpans {
    /// Joins the flashes of channels; `None` where the common period or the number of flashes passes the limits.
    pub fn of(flashing: &[(&Waveform, Flashes)], limits: &JointLimits) -> Option<Self> {
        let periods: Vec<Fraction> = flashing.iter().map(|(w, _)| w.period_us()).collect();
        // Threshold crossings on ramps lie on whole nanoseconds.
        let common = CommonPeriod::of(&periods, 1000, limits)?;
        let mut room = limits.events as i128;
        for (waveform, flashes) in flashing {
            room -= common.fits(waveform)?.1.checked_mul(flashes.flashes.len() as i128)?;
        }
        if room < 0 {
            return None;
        }
        let mut spans = Vec::new();
        for (waveform, flashes) in flashing {
            let (period, times) = common.fits(waveform)?;
            let phase = common.ticks(waveform.phase_us())?;
            for flash in &flashes.flashes {
                let onset = phase + common.ticks(flash.onset_us)?;
                let length = common.ticks(flash.end_us)? - common.ticks(flash.onset_us)?;
                spans.extend((0..times).map(|k| {
                    let from = (onset + k * period) % common.length;
                    (from, from + length)
                }));
            }
        }
        Some(Self { common, onsets: joined(spans, common.length) })
    }
}

/// Onsets of the unions of spans on a circle.
fn joined(mut spans: Vec<(i128, i128)>, circle: i128) -> Vec<i128> {
    spans.sort_unstable();
    let mut unions: Vec<(i128, i128)> = Vec::new();
    for (from, to) in spans {
        match unions.last_mut() {
            Some(last) if from < last.1 => last.1 = last.1.max(to),
            _ => unions.push((from, to)),
        }
    }
    // The last union may run past the circle's end into the first ones.
    let Some(last) = unions.pop() else { return Vec::new() };
    let mut end = last.1;
    let mut swallowed = 0;
    for (from, to) in &unions {
        if from + circle >= end {
            break;
        }
        end = end.max(to + circle);
        swallowed += 1;
    }
    if end > last.0 + circle {
        // It runs into itself: never dark.
        return Vec::new();
    }
    unions.iter().skip(swallowed).map(|union| union.0).chain(std::iter::once(last.0)).collect()
}
