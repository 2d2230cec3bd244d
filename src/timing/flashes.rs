//! Pulses and flashes of one channel.

use super::Waveform;
use super::waveform::float;
use crate::units::{Fraction, Micros, Rate};

/// How pulses and flashes are told from a waveform.
///
/// No rule for aircraft says when two pulses are one flash; the values are this program's reading, which is why
/// they can be changed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlashReading {
    /// A pulse is the time the level stands above this share of the channel's own peak.
    pub pulse_above: f64,
    /// Pulses join into one flash when the dark between is shorter than this ...
    pub merge_under: Micros,
    /// ... and shorter than this share of the channel's longest dark.
    pub merge_share: f64,
}

impl Default for FlashReading {
    fn default() -> Self {
        Self { pulse_above: 0.10, merge_under: Micros(200_000), merge_share: 0.5 }
    }
}

impl FlashReading {
    /// The same reading with every pulse a flash of its own.
    #[must_use]
    pub fn every_pulse(self) -> Self {
        Self { merge_under: Micros(0), ..self }
    }
}

/// One pulse, in microseconds of the channel's own cycle; `end_us` passes the period where the pulse wraps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pulse {
    /// When the level rises above the threshold: 0 up to the period.
    pub onset_us: Fraction,
    /// When it falls below it, after the onset.
    pub end_us: Fraction,
}

/// One flash, in microseconds of the channel's own cycle; `end_us` passes the period where the flash wraps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flash {
    /// The onset of its first pulse: 0 up to the period.
    pub onset_us: Fraction,
    /// The end of its last pulse.
    pub end_us: Fraction,
    /// How many pulses it has.
    pub pulses: usize,
}

/// The flashes of one period of a channel, by onset.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Flashes {
    /// The flashes; none for a light that is never dark or never lit.
    pub flashes: Vec<Flash>,
    /// The period in microseconds.
    pub period_us: Fraction,
}

impl Flashes {
    /// Flashes a minute, exact.
    #[must_use]
    pub fn flash_rate(&self) -> Rate {
        per_minute(self.flashes.len(), self.period_us)
    }
    /// Pulses a minute, exact.
    #[must_use]
    pub fn pulse_rate(&self) -> Rate {
        per_minute(self.flashes.iter().map(|f| f.pulses).sum(), self.period_us)
    }
}

/// So many in a period, as a rate.
pub(super) fn per_minute(count: usize, period_us: Fraction) -> Rate {
    Rate::per_minute(Fraction::new(60_000_000 * count as i128, 1) / period_us)
}

impl Waveform {
    /// The stretches of one period above a share of the peak, in order, not wrapped.
    pub(super) fn above(&self, share: f64) -> Vec<(Fraction, Fraction)> {
        let threshold = share * self.peak_level();
        let mut lit: Vec<(Fraction, Fraction)> = Vec::new();
        for piece in self.pieces() {
            let crossing = || {
                let ratio = (threshold - piece.from_level) / (piece.to_level - piece.from_level);
                let whole_ns = (ratio * float(piece.length_us()) * 1e3).round();
                (piece.from_us + Fraction::new(whole_ns as i128, 1000)).clamp(piece.from_us, piece.to_us)
            };
            let (from, to) = match (piece.from_level > threshold, piece.to_level > threshold) {
                (true, true) => (piece.from_us, piece.to_us),
                (true, false) => (piece.from_us, crossing()),
                (false, true) => (crossing(), piece.to_us),
                (false, false) => continue,
            };
            match lit.last_mut() {
                Some(last) if last.1 == from => last.1 = to,
                _ if from < to => lit.push((from, to)),
                _ => {}
            }
        }
        lit
    }

    /// The pulses of one period, by onset; none for a light that is never dark or never lit.
    #[must_use]
    pub fn pulses(&self, reading: &FlashReading) -> Vec<Pulse> {
        let mut lit = self.above(reading.pulse_above);
        let period = self.period_us();
        if let (Some(first), Some(last)) = (lit.first().copied(), lit.last().copied())
            && first.0 == Fraction::new(0, 1)
            && last.1 == period
        {
            lit.remove(0);
            match lit.last_mut() {
                Some(wraps) => wraps.1 = period + first.1,
                None => return Vec::new(),
            }
        }
        lit.into_iter().map(|(onset_us, end_us)| Pulse { onset_us, end_us }).collect()
    }

    /// The dark after each pulse of one period, in their order, in microseconds.
    #[must_use]
    pub fn darks(&self, reading: &FlashReading) -> Vec<Fraction> {
        let pulses = self.pulses(reading);
        let next = pulses.iter().skip(1).map(|p| p.onset_us);
        let next = next.chain(pulses.first().map(|p| p.onset_us + self.period_us()));
        pulses.iter().zip(next).map(|(pulse, onset)| onset - pulse.end_us).collect()
    }

    /// The flashes of one period: pulses joined over short darks, cyclically.
    ///
    /// Two pulses join when the dark between is strictly under `merge_under` and strictly under `merge_share` of
    /// the channel's longest dark, so that evenly spaced pulses are flashes, not a group. The longest dark never
    /// joins.
    #[must_use]
    pub fn flashes(&self, reading: &FlashReading) -> Flashes {
        let period_us = self.period_us();
        let pulses = self.pulses(reading);
        let darks = self.darks(reading);
        let Some(longest) = darks.iter().max().copied() else { return Flashes { flashes: Vec::new(), period_us } };
        let under = Fraction::new(i128::from(reading.merge_under.0), 1);
        let share = reading.merge_share * float(longest);
        let parts = |dark: Fraction| dark == longest || dark >= under || float(dark) >= share;
        let mut flashes = grouped(&pulses, &darks, longest, period_us, parts);
        for flash in flashes.iter_mut().filter(|flash| flash.onset_us >= period_us) {
            flash.onset_us -= period_us;
            flash.end_us -= period_us;
        }
        flashes.sort_by_key(|flash| flash.onset_us);
        Flashes { flashes, period_us }
    }

    /// Flashes a minute of this channel alone, exact.
    #[must_use]
    pub fn flash_rate(&self, reading: &FlashReading) -> Rate {
        self.flashes(reading).flash_rate()
    }
    /// Pulses a minute of this channel alone, exact.
    #[must_use]
    pub fn pulse_rate(&self, reading: &FlashReading) -> Rate {
        per_minute(self.pulses(reading).len(), self.period_us())
    }
}

/// Joins pulses, beginning after a longest dark so that no flash is cut; times run on past the period.
fn grouped(
    pulses: &[Pulse],
    darks: &[Fraction],
    longest: Fraction,
    period_us: Fraction,
    parts: impl Fn(Fraction) -> bool,
) -> Vec<Flash> {
    let after = darks.iter().position(|dark| *dark == longest).map_or(0, |at| at + 1);
    let zero = Fraction::new(0, 1);
    let order = pulses.iter().zip(darks);
    let turned = order.clone().skip(after).zip(std::iter::repeat(zero));
    let turned = turned.chain(order.take(after).zip(std::iter::repeat(period_us)));
    let mut flashes: Vec<Flash> = Vec::new();
    let mut open = false;
    for ((pulse, dark), wrap) in turned {
        match flashes.last_mut() {
            Some(flash) if open => {
                flash.end_us = pulse.end_us + wrap;
                flash.pulses += 1;
            }
            _ => flashes.push(Flash { onset_us: pulse.onset_us + wrap, end_us: pulse.end_us + wrap, pulses: 1 }),
        }
        open = !parts(*dark);
    }
    flashes
}
