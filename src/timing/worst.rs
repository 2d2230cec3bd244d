//! The most flashes of light in any one second.

use super::flashes::Flashes;
use super::joint::JointSpans;
use super::{Clock, FlashReading, JointLimits, Waveform};

/// The most work spent on trying which channels are seen.
const MOST_TRIED: usize = 4_000_000;

/// The most pulses that begin in any half-open second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WorstSecond {
    /// With every channel seen.
    pub all: u64,
    /// With the channels seen that make it most: one lamp can fill the dark of another.
    pub some: u64,
    /// Whether each clock was counted over its whole common period; else the channels of a clock that drifts, or
    /// that has too many to try, are added, which may be more than ever happens.
    pub exact: bool,
}

/// Counts the pulses that begin in the worst half-open second: over the common period of each clock, where pulses
/// that overlap count once, and added over the clocks, which may come together.
///
/// More than three is the line of WCAG 2.2, success criterion 2.3.1; that rule is for screens.
///
/// # Example
/// ```
/// use lampwright::timing::{Clock, FlashReading, JointLimits, Waveform, worst_second};
/// use lampwright::units::{Fraction, Micros};
/// // 180 single flashes a minute put 3 into one second.
/// let lamp = Waveform::flash(Fraction::new(1_000_000, 3), Micros(50_000), 1, Micros(0))?;
/// let worst = worst_second(&[Clock::new([&lamp])], &FlashReading::default(), &JointLimits::default());
/// assert_eq!(worst.all, 3);
/// # Ok::<(), lampwright::timing::TimingError>(())
/// ```
#[must_use]
pub fn worst_second(clocks: &[Clock<'_>], reading: &FlashReading, limits: &JointLimits) -> WorstSecond {
    let pulses = reading.every_pulse();
    let mut sum = WorstSecond { all: 0, some: 0, exact: true };
    for clock in clocks {
        let one = of_clock(&clock.channels, &pulses, limits);
        sum.all = sum.all.saturating_add(one.all);
        sum.some = sum.some.saturating_add(one.some);
        sum.exact &= one.exact;
    }
    sum
}

fn of_clock(channels: &[&Waveform], pulses: &FlashReading, limits: &JointLimits) -> WorstSecond {
    let mut flashing: Vec<(&Waveform, Flashes)> = Vec::new();
    for waveform in channels {
        // A channel that is another's twin changes nothing.
        if !flashing.iter().any(|(other, _)| other == waveform) {
            flashing.push((waveform, waveform.flashes(pulses)));
        }
    }
    flashing.retain(|(_, flashes)| !flashes.flashes.is_empty());
    if flashing.is_empty() {
        return WorstSecond { all: 0, some: 0, exact: true };
    }
    let added = || flashing.iter().map(alone).fold(0, u64::saturating_add);
    let Some(joint) = JointSpans::of(&flashing, limits) else {
        let sum = added();
        return WorstSecond { all: sum, some: sum, exact: false };
    };
    let all = most(&joint);
    let events = flashing.iter().map(|(w, f)| f.flashes.len() * joint.common.fits(w).map_or(0, |fit| fit.1 as usize));
    let tries = 1_usize.checked_shl(flashing.len() as u32).and_then(|n| n.checked_mul(events.sum()));
    if tries.is_none_or(|tries| tries > MOST_TRIED) {
        return WorstSecond { all, some: added().max(all), exact: flashing.len() == 1 };
    }
    let some = (1..1_usize << flashing.len()).filter_map(|mask| of_subset(&flashing, mask, limits)).max();
    WorstSecond { all, some: some.unwrap_or(all).max(all), exact: true }
}

fn of_subset(flashing: &[(&Waveform, Flashes)], mask: usize, limits: &JointLimits) -> Option<u64> {
    let seen: Vec<(&Waveform, Flashes)> =
        flashing.iter().enumerate().filter(|(i, _)| mask >> i & 1 == 1).map(|(_, one)| one.clone()).collect();
    JointSpans::of(&seen, limits).map(|joint| most(&joint))
}

/// The worst second of one channel, which is never too long to count.
fn alone(one: &(&Waveform, Flashes)) -> u64 {
    let unlimited = JointLimits { events: usize::MAX, ..JointLimits::default() };
    JointSpans::of(std::slice::from_ref(one), &unlimited).map_or(u64::MAX, |joint| most(&joint))
}

/// The most onsets in a half-open second; the second may hold the period several times.
fn most(joint: &JointSpans) -> u64 {
    let (second, circle) = (joint.common.second(), joint.common.length);
    let onsets = &joint.onsets;
    let whole = u64::try_from(second / circle).unwrap_or(u64::MAX).saturating_mul(onsets.len() as u64);
    let rest = second % circle;
    let twice = onsets.iter().copied().chain(onsets.iter().map(|onset| onset + circle));
    let mut best = 0;
    let mut ahead = twice.enumerate().peekable();
    for (index, onset) in onsets.iter().enumerate() {
        while ahead.peek().is_some_and(|(_, next)| *next < onset + rest) {
            ahead.next();
        }
        let end = ahead.peek().map_or(2 * onsets.len(), |(end, _)| *end);
        best = best.max(end.saturating_sub(index));
    }
    whole.saturating_add(best as u64)
}
