//! The lowest or highest value of a function over a zone: a grid of directions with both sides of every break, then
//! refinement of the best few.

use super::refine::{Start, Starts, refined};
use super::zone::stations;
use super::{BESIDE_DEG, Direction, Zone};
use crate::units::Interval;

/// Which end is sought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extremum {
    /// The lowest value.
    Lowest,
    /// The highest value.
    Highest,
}

/// A value and the direction it was found in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extreme {
    /// The value.
    pub value: f64,
    /// Where it was found.
    pub at: Direction,
}

/// The extremes of the two ends of an interval, each where it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IntervalExtreme {
    /// The extreme of the low ends.
    pub low: Extreme,
    /// The extreme of the high ends.
    pub high: Extreme,
}

impl IntervalExtreme {
    /// The two values as an interval.
    #[must_use]
    pub fn interval(&self) -> Interval {
        Interval { low: self.low.value, high: self.high.value }
    }
}

impl Zone {
    /// The lowest or highest value of a function of direction over the zone; `None` where the zone is empty or the
    /// function has no value but NaN (single NaN values are passed over).
    ///
    /// The function is taken every `step_deg` (limited to 0.05..=30; 1 or 2 suits beams of 10 degrees and more), on and
    /// 1e-7 degrees to both sides of every break (degrees) and at the ends of the bands; then the best few are refined
    /// to 1e-6 degrees without leaving the zone.
    ///
    /// ```
    /// use lampwright::geometry::{AzimuthSpan, Direction, Extremum, Zone};
    /// // 125 cos(theta) about dead astern is lowest in A's horizon at its edges: 125 cos 70 = 42.7525 (by hand).
    /// let astern = Direction::from_degrees(180.0, 0.0);
    /// let zone = Zone::rectangle(AzimuthSpan::between(110.0, -110.0), &[(0.0, 0.0)]);
    /// let lowest = zone.extreme(Extremum::Lowest, &[], &[], 1.0, |d| 125.0 * d.cos_to(&astern)).expect("not empty");
    /// assert!((lowest.value - 42.7525).abs() < 1e-4 && lowest.at.azimuth_deg().abs() == 110.0);
    /// ```
    #[must_use]
    pub fn extreme(
        &self,
        kind: Extremum,
        az_breaks_deg: &[f64],
        el_breaks_deg: &[f64],
        step_deg: f64,
        mut f: impl FnMut(&Direction) -> f64,
    ) -> Option<Extreme> {
        self.extremes(kind, az_breaks_deg, el_breaks_deg, step_deg, |d| [f(d)]).map(|[only]| only)
    }

    /// The extremes of both ends of an interval in one pass: (lowest low, lowest high) or (highest low, highest high),
    /// each with its direction; as [`Zone::extreme`] otherwise.
    #[must_use]
    pub fn extremes_of_interval(
        &self,
        kind: Extremum,
        az_breaks_deg: &[f64],
        el_breaks_deg: &[f64],
        step_deg: f64,
        mut f: impl FnMut(&Direction) -> Interval,
    ) -> Option<IntervalExtreme> {
        let ends = |d: &Direction| {
            let i = f(d);
            [i.low, i.high]
        };
        let [low, high] = self.extremes(kind, az_breaks_deg, el_breaks_deg, step_deg, ends)?;
        Some(IntervalExtreme { low, high })
    }

    /// The extremes of several functions taken together, each with its direction; as [`Zone::extreme`] otherwise.
    #[must_use]
    pub fn extremes<const N: usize>(
        &self,
        kind: Extremum,
        az_breaks_deg: &[f64],
        el_breaks_deg: &[f64],
        step_deg: f64,
        mut f: impl FnMut(&Direction) -> [f64; N],
    ) -> Option<[Extreme; N]> {
        let step = if step_deg.is_finite() { step_deg.clamp(0.05, 30.0) } else { 1.0 };
        let sign = if kind == Extremum::Lowest { 1.0 } else { -1.0 };
        let mut best: [Starts; N] = std::array::from_fn(|_| Starts::apart_by(2.5 * step));
        for offset in self.meridians(az_breaks_deg, step) {
            let azimuth = self.span().at(offset);
            for (low, high) in self.bands_at(azimuth) {
                for el in stations(low, high, step, 0.0, el_breaks_deg) {
                    let at = Direction::from_degrees(azimuth, el);
                    for (starts, value) in best.iter_mut().zip(f(&at)) {
                        starts.offer(Start { value: sign * value, offset_deg: offset, el_deg: el, at });
                    }
                }
            }
        }
        let mut found = [None; N];
        for (n, (starts, slot)) in best.iter().zip(found.iter_mut()).enumerate() {
            let mut one = |d: &Direction| sign * f(d).get(n).copied().unwrap_or(f64::NAN);
            let lowest = refined(self, starts, step, &mut one)?;
            *slot = Some(Extreme { value: sign * lowest.value, at: lowest.at });
        }
        let first = found.iter().copied().flatten().next()?;
        Some(found.map(|extreme| extreme.unwrap_or(first)))
    }

    /// The offsets of the meridians a search visits.
    fn meridians(&self, az_breaks_deg: &[f64], step: f64) -> Vec<f64> {
        let span = self.span();
        let critical = self.critical_azimuths();
        let mut breaks: Vec<f64> = az_breaks_deg.iter().chain(&critical).map(|b| span.offset_deg(*b)).collect();
        // A break at the beginning of a full circle has its left side at the end.
        breaks.extend(breaks.clone().iter().filter(|b| **b < 3.0 * BESIDE_DEG).map(|b| b + 360.0));
        stations(0.0, span.width_deg, step, -span.from_deg, &breaks)
    }
}
