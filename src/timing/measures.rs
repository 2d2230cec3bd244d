//! Levels and times of one channel: mean, peak, lit time, duty, rise and fall.

use super::waveform::float;
use super::{FlashReading, Piece, Waveform};
use crate::units::{Fraction, Micros};

/// How long a channel is lit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LitTime {
    /// In one period altogether, microseconds.
    pub total_us: Fraction,
    /// The longest single pulse, microseconds; the period for a channel that is never dark.
    pub longest_pulse_us: Fraction,
}

impl Waveform {
    /// The mean level over a period, 0 to 1; the share of full brightness a blend of light and dark has
    /// (Talbot-Plateau).
    #[must_use]
    pub fn mean_level(&self) -> f64 {
        let area: f64 = self.pieces().iter().map(|p| 0.5 * (p.from_level + p.to_level) * float(p.length_us())).sum();
        (area / float(self.period_us())).clamp(self.lowest_level(), self.peak_level())
    }
    /// The highest level, 0 to 1.
    #[must_use]
    pub fn peak_level(&self) -> f64 {
        self.pieces().iter().map(|p| p.from_level.max(p.to_level)).fold(0.0, f64::max)
    }
    /// The lowest level, 0 to 1.
    #[must_use]
    pub fn lowest_level(&self) -> f64 {
        self.pieces().iter().map(|p| p.from_level.min(p.to_level)).fold(1.0, f64::min)
    }
    /// Whether the level never changes.
    #[must_use]
    pub fn is_steady(&self) -> bool {
        self.lowest_level() == self.peak_level()
    }
    /// The time above the reading's share of the peak: per period, and of the longest single pulse.
    #[must_use]
    pub fn lit_time(&self, reading: &FlashReading) -> LitTime {
        let lit = self.above(reading.pulse_above);
        let zero = Fraction::new(0, 1);
        let total_us = lit.iter().fold(zero, |sum, (from, to)| sum + (*to - *from));
        let longest = self.pulses(reading).iter().map(|p| p.end_us - p.onset_us).max();
        LitTime { total_us, longest_pulse_us: longest.unwrap_or(total_us) }
    }
    /// The share of the time it is above the reading's share of its peak, 0 to 1.
    #[must_use]
    pub fn duty(&self, reading: &FlashReading) -> f64 {
        float(self.lit_time(reading).total_us) / float(self.period_us())
    }
    /// How long the longest ramp up to the peak takes; 0 for a sudden rise or a steady level.
    #[must_use]
    pub fn rise_time(&self) -> Micros {
        let pieces = self.pieces().iter();
        longest_rise(pieces.clone().chain(pieces), self.peak_level(), |p| (p.from_level, p.to_level))
    }
    /// How long the longest ramp down from the peak takes; 0 for a sudden fall or a steady level.
    #[must_use]
    pub fn fall_time(&self) -> Micros {
        // A fall is a rise run backwards.
        let pieces = self.pieces().iter().rev();
        longest_rise(pieces.clone().chain(pieces), self.peak_level(), |p| (p.to_level, p.from_level))
    }
}

/// The longest unbroken rise that ends at the peak, over two periods so that it may wrap.
fn longest_rise<'a>(pieces: impl Iterator<Item = &'a Piece>, peak: f64, ends: impl Fn(&Piece) -> (f64, f64)) -> Micros {
    let zero = Fraction::new(0, 1);
    let (mut run, mut longest, mut level) = (zero, zero, f64::NAN);
    for piece in pieces {
        let (from, to) = ends(piece);
        if to > from {
            run = if from == level { run + piece.length_us() } else { piece.length_us() };
            if to == peak {
                longest = longest.max(run);
            }
        } else {
            run = zero;
        }
        level = to;
    }
    Micros(u64::try_from(longest.to_integer()).unwrap_or(u64::MAX))
}
