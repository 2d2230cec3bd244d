//! The level of one channel over one period.

use super::TimingError;
use crate::units::{Fraction, Micros};

/// The most pieces a waveform may have.
pub(super) const MOST_PIECES: usize = 20_000;
/// The finest fraction of a microsecond a period may end on; keeps `u64` times this inside `i128`.
const FINEST: i128 = 1_000_000_000_000_000_000;

/// A stretch of a waveform in which the level is constant or a straight ramp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// When it begins, in microseconds of the channel's own cycle; whole.
    pub from_us: Fraction,
    /// When it ends, in microseconds; whole but for the last piece, which ends with the period.
    pub to_us: Fraction,
    /// The level at its beginning, 0 to 1.
    pub from_level: f64,
    /// The level at its end, 0 to 1.
    pub to_level: f64,
}

impl Piece {
    /// Its length in microseconds, exact.
    #[must_use]
    pub fn length_us(&self) -> Fraction {
        self.to_us - self.from_us
    }
    /// Whether the level does not change in it.
    #[must_use]
    pub fn is_level(&self) -> bool {
        self.from_level == self.to_level
    }
}

/// The level of one channel, a fraction of luminous intensity from 0 to 1, piecewise linear over a period that
/// repeats for ever.
///
/// The pieces cover the whole period without gaps. `start` is when the cycle begins on the channel's clock.
/// Periods reach from above 0 to one day.
#[derive(Debug, Clone, PartialEq)]
pub struct Waveform {
    period_us: Fraction,
    start: Micros,
    pieces: Vec<Piece>,
}

impl Waveform {
    /// Lays pieces of whole microseconds one after the other; the rest of a period already checked is dark.
    pub(super) fn laid(period_us: Fraction, parts: impl Iterator<Item = (u64, f64, f64)>) -> Self {
        let mut pieces: Vec<Piece> = Vec::new();
        let mut now = Fraction::new(0, 1);
        for (length, from_level, to_level) in parts {
            let to_us = now + Fraction::new(i128::from(length), 1);
            push(&mut pieces, Piece { from_us: now, to_us, from_level, to_level });
            now = to_us;
        }
        if now < period_us {
            push(&mut pieces, Piece { from_us: now, to_us: period_us, from_level: 0.0, to_level: 0.0 });
        }
        Self { period_us, start: Micros(0), pieces }
    }

    /// The same waveform beginning its cycle at another time of its clock; any time, taken modulo the period.
    #[must_use]
    pub fn with_start(mut self, start: Micros) -> Self {
        self.start = start;
        self
    }
    /// When the cycle begins on the clock.
    #[must_use]
    pub fn start(&self) -> Micros {
        self.start
    }
    /// The start taken modulo the period: 0 up to the period, in microseconds, exact.
    #[must_use]
    pub fn phase_us(&self) -> Fraction {
        let (period, fineness) = (*self.period_us.numer(), *self.period_us.denom());
        Fraction::new(i128::from(self.start.0) * fineness % period, fineness)
    }
    /// The period in microseconds, exact.
    #[must_use]
    pub fn period_us(&self) -> Fraction {
        self.period_us
    }
    /// The pieces, in order, from 0 to the period; `start` is not added.
    #[must_use]
    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }
}

/// Appends a piece; none of no length, and equal neighbouring levels become one.
fn push(pieces: &mut Vec<Piece>, piece: Piece) {
    if piece.to_us <= piece.from_us {
        return;
    }
    match pieces.last_mut() {
        Some(last) if last.is_level() && piece.is_level() && last.to_level == piece.from_level => {
            last.to_us = piece.to_us;
        }
        _ => pieces.push(piece),
    }
}

/// The period in lowest terms, where it is above 0, at most a day and not too fine.
pub(super) fn checked_period(period_us: Fraction) -> Result<Fraction, TimingError> {
    let (numer, denom) = (*period_us.numer(), *period_us.denom());
    if numer <= 0 || denom <= 0 {
        return Err(TimingError::new(
            "the period is not above 0",
            "write a period like `1.2 s` or a rate like `50 per min`",
        ));
    }
    let reduced = Fraction::new(numer, denom);
    if *reduced.denom() > FINEST {
        return Err(TimingError::new(
            "the period is too fine a fraction of a microsecond",
            "write a rate with fewer digits",
        ));
    }
    if reduced > Fraction::new(i128::from(Micros::LONGEST.0), 1) {
        return Err(TimingError::new("the period is longer than one day", "write a shorter one"));
    }
    Ok(reduced)
}

/// A time in microseconds as words.
pub(super) fn words(time_us: Fraction) -> String {
    Micros(u64::try_from(time_us.to_integer()).unwrap_or(u64::MAX)).to_string()
}
/// A fraction as the nearest float.
pub(super) fn float(value: Fraction) -> f64 {
    *value.numer() as f64 / *value.denom() as f64
}
/// A time in microseconds as the nearest float in milliseconds.
#[must_use]
pub fn milliseconds(time_us: Fraction) -> f64 {
    float(time_us) * 1e-3
}
