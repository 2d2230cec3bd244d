//! Whether two channels begin their flashes together.

use super::common::CommonPeriod;
use super::{FlashReading, JointLimits, Waveform};
use crate::units::Fraction;

impl Waveform {
    /// The longest time from one flash to the next, in microseconds, exact; 0 for a channel that never flashes.
    #[must_use]
    pub fn longest_wait_us(&self, reading: &FlashReading) -> Fraction {
        let onsets: Vec<Fraction> = self.flashes(reading).flashes.iter().map(|f| f.onset_us).collect();
        let next = onsets.iter().skip(1).copied().chain(onsets.first().map(|first| *first + self.period_us()));
        onsets.iter().zip(next).map(|(one, next)| next - *one).max().unwrap_or_else(zero)
    }
}

/// The greatest time from a flash of one channel to the nearest of the other, in microseconds, exact, over their common
/// pattern on one clock; `None` where that is longer than the limits, so that they count as drifting, or where one of
/// them never flashes.
///
/// # Example
/// ```
/// use lampwright::timing::{FlashReading, JointLimits, Waveform, onset_spread};
/// use lampwright::units::{Fraction, Micros};
/// // Flashes every second on one clock, the second channel 15 ms later: 15 ms.
/// let tip = Waveform::flash(Fraction::new(1_000_000, 1), Micros(50_000), 1, Micros(0))?;
/// let tail = tip.clone().with_start(Micros(15_000));
/// let spread = onset_spread(&tip, &tail, &FlashReading::default(), &JointLimits::default());
/// assert_eq!(spread, Some(Fraction::new(15_000, 1)));
/// # Ok::<(), lampwright::timing::TimingError>(())
/// ```
#[must_use]
pub fn onset_spread(
    one: &Waveform,
    other: &Waveform,
    reading: &FlashReading,
    limits: &JointLimits,
) -> Option<Fraction> {
    let common = CommonPeriod::of(&[one.period_us(), other.period_us()], 1, limits)?;
    let (first, second) = (onsets(one, reading, &common, limits)?, onsets(other, reading, &common, limits)?);
    let length = common.length_us();
    Some(farthest(&first, &second, length)?.max(farthest(&second, &first, length)?))
}

/// The greatest time from a flash of one channel to the nearest of the other, in microseconds, of channels that drift:
/// sooner or later one flashes in the middle of the other's longest wait.
#[must_use]
pub fn drifting_spread(one: &Waveform, other: &Waveform, reading: &FlashReading) -> Fraction {
    one.longest_wait_us(reading).max(other.longest_wait_us(reading)) / Fraction::new(2, 1)
}

fn zero() -> Fraction {
    Fraction::new(0, 1)
}

/// When a channel begins its flashes, over the common period, rising.
fn onsets(
    wave: &Waveform,
    reading: &FlashReading,
    common: &CommonPeriod,
    limits: &JointLimits,
) -> Option<Vec<Fraction>> {
    let flashes = wave.flashes(reading).flashes;
    let (_, times) = common.fits(wave)?;
    if usize::try_from(times).ok()?.checked_mul(flashes.len())? > limits.events {
        return None;
    }
    let at = |k: i128, onset: Fraction| {
        (onset + wave.phase_us() + wave.period_us() * Fraction::new(k, 1)) % common.length_us()
    };
    let mut all: Vec<Fraction> =
        (0..times).flat_map(|k| flashes.iter().map(move |flash| (k, flash.onset_us))).map(|(k, o)| at(k, o)).collect();
    all.sort_unstable();
    Some(all)
}

/// The greatest distance from a time of the first list to the nearest of the second, rising, round a period.
fn farthest(from: &[Fraction], to: &[Fraction], period: Fraction) -> Option<Fraction> {
    let distance = |a: Fraction, b: Fraction| {
        let apart = if a > b { a - b } else { b - a };
        apart.min(period - apart)
    };
    let nearest = |time: &Fraction| {
        let next = to.partition_point(|t| t < time) % to.len().max(1);
        let before = (next + to.len()).checked_sub(1)? % to.len().max(1);
        [next, before].iter().filter_map(|n| to.get(*n)).map(|t| distance(*time, *t)).min()
    };
    from.iter().map(nearest).collect::<Option<Vec<_>>>()?.into_iter().max()
}
