//! How soon two clocks slip past each other.

use super::common::lcm_of_fractions;
use super::waveform::float;
use crate::units::Fraction;

/// The time between two moments at which two periods (microseconds) begin together: their least common multiple, in
/// microseconds; `None` for a period not above 0 or a time too large to be held.
///
/// # Example
/// ```
/// use lampwright::timing::coincide_every;
/// use lampwright::units::Fraction;
/// // Periods of 1.000 s and 1.050 s begin together every 21 s.
/// let every = coincide_every(Fraction::new(1_000_000, 1), Fraction::new(1_050_000, 1));
/// assert_eq!(every, Some(Fraction::new(21_000_000, 1)));
/// ```
#[must_use]
pub fn coincide_every(first_us: Fraction, second_us: Fraction) -> Option<Fraction> {
    lcm_of_fractions(first_us, second_us)
}

/// The time in seconds until two clocks whose speeds differ by a relative amount (0.01 = 1 %) have slipped by a time
/// (microseconds); `None` where they never do: no difference, or one that is not a number.
///
/// The slip grows evenly, so the period of what they drive does not matter; half a period is a time like another.
#[must_use]
pub fn time_to_slip(relative: f64, by_us: Fraction) -> Option<f64> {
    let seconds = float(by_us).abs() * 1e-6 / relative.abs();
    seconds.is_finite().then_some(seconds)
}

/// The time in seconds until flashes of two periods (microseconds) that began together have slipped by a time
/// (microseconds), counted against the first; `None` where they never do, or a period is not above 0.
#[must_use]
pub fn slip_between(first_us: Fraction, second_us: Fraction, by_us: Fraction) -> Option<f64> {
    let (first, second) = (float(first_us), float(second_us));
    if first > 0.0 && second > 0.0 { time_to_slip((second - first) / first, by_us) } else { None }
}
