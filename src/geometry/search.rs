//! The lowest or highest value of a function over a zone, from bounds over cells: a cell that cannot hold a better value
//! is never looked into, and one that can is cut in halves.

use super::area::first_cells;
use super::refine::{Start, descend};
use super::{Cell, Direction, Ends, Zone};
use crate::units::Interval;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// No direction is better than the one found by more than this share of it.
const WITHIN: f64 = 1e-3;
/// And by no more than this share, where few cells settle that.
const FINELY: f64 = 1e-7;
/// Cells looked into before the best so far is taken.
const MOST_CELLS: usize = 6_000;
/// Cells looked into where only [`FINELY`] is not yet settled.
const FEW_CELLS: usize = 200;
/// Cells of a smaller radius are not cut any more: along an edge that is no break, what a cell may hold stays apart from
/// what is found in it.
const FINEST_RAD: f64 = 1e-7;
/// The least first step of a refinement, in degrees.
const ROUGHLY_DEG: f64 = 1e-2;
/// Where a refinement stops, in degrees.
const FINEST_DEG: f64 = 5e-7;

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
    /// The lowest or highest value of a function of direction over the zone; `None` where the zone is empty or no value
    /// was found but NaN (directions whose value is NaN are passed over).
    ///
    /// `over` gives, for a cell, a range that holds every value in its interior; cells are cut at the breaks (degrees).
    /// What is found is within 1e-3 of the true extreme, of itself, unless 6000 cells did not settle it, and within
    /// 1e-7 where few cells settle that; else it is refined to 1e-6 degrees without leaving the zone.
    ///
    /// ```
    /// use lampwright::geometry::{AzimuthSpan, Direction, Extremum, Zone};
    /// // 125 cos(theta) about dead astern is lowest in A's horizon at its edges: 125 cos 70 = 42.7525 (by hand).
    /// let astern = Direction::from_degrees(180.0, 0.0);
    /// let zone = Zone::rectangle(AzimuthSpan::between(110.0, -110.0), &[(0.0, 0.0)]);
    /// let lowest = zone
    ///     .extreme(Extremum::Lowest, (&[], &[]), |d| 125.0 * d.cos_to(&astern), |c| c.cosines_to(&astern).scaled(125.0))
    ///     .expect("not empty");
    /// assert!((lowest.value - 42.7525).abs() < 1e-4 && lowest.at.azimuth_deg().abs() == 110.0);
    /// ```
    #[must_use]
    pub fn extreme(
        &self,
        kind: Extremum,
        (az_breaks_deg, el_breaks_deg): (&[f64], &[f64]),
        at: impl Fn(&Direction) -> f64,
        over: impl Fn(&Cell) -> Interval,
    ) -> Option<Extreme> {
        let cells = self.cells(az_breaks_deg, el_breaks_deg);
        self.extreme_in(&cells, kind, at, over)
    }

    /// The extremes of both ends of an interval: (lowest low, lowest high) or (highest low, highest high), each with
    /// its direction; as [`Zone::extreme`] otherwise.
    #[must_use]
    pub fn extremes_of_interval(
        &self,
        kind: Extremum,
        (az_breaks_deg, el_breaks_deg): (&[f64], &[f64]),
        at: impl Fn(&Direction) -> Interval,
        over: impl Fn(&Cell) -> Ends,
    ) -> Option<IntervalExtreme> {
        let cells = self.cells(az_breaks_deg, el_breaks_deg);
        let low = self.extreme_in(&cells, kind, |d| at(d).low, |c| over(c).low)?;
        let high = self.extreme_in(&cells, kind, |d| at(d).high, |c| over(c).high)?;
        Some(IntervalExtreme { low, high })
    }

    /// The first cells of a search, none of them outside.
    fn cells(&self, az_breaks_deg: &[f64], el_breaks_deg: &[f64]) -> Vec<Cell> {
        let azimuths: Vec<f64> = az_breaks_deg.iter().copied().chain(self.quarters()).collect();
        first_cells(self, &azimuths, el_breaks_deg).iter().filter_map(|cell| self.shrunk(cell)).collect()
    }

    fn extreme_in(
        &self,
        cells: &[Cell],
        kind: Extremum,
        at: impl Fn(&Direction) -> f64,
        over: impl Fn(&Cell) -> Interval,
    ) -> Option<Extreme> {
        let sign = if kind == Extremum::Lowest { 1.0 } else { -1.0 };
        let mut seek = Seek {
            zone: self,
            at: |d: &Direction| sign * at(d),
            least_in: |c: &Cell| if kind == Extremum::Lowest { over(c).low } else { -over(c).high },
            best: None,
        };
        seek.run(cells);
        seek.best.map(|best| Extreme { value: sign * best.value, at: best.at })
    }
}

/// A cell still to be looked into, and what no value in it is below.
struct Open {
    least: f64,
    cell: Cell,
}

impl PartialEq for Open {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Open {}
impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Open {
    /// The lowest bound is the greatest: it comes off a heap first.
    fn cmp(&self, other: &Self) -> Ordering {
        other.least.total_cmp(&self.least)
    }
}

/// A search for the lowest value.
struct Seek<'z, F, G> {
    zone: &'z Zone,
    at: F,
    least_in: G,
    best: Option<Start>,
}

impl<F: Fn(&Direction) -> f64, G: Fn(&Cell) -> f64> Seek<'_, F, G> {
    fn run(&mut self, cells: &[Cell]) {
        for cell in cells {
            self.look_at_corners(cell);
            self.look_at_middle(cell);
        }
        let mut open: BinaryHeap<Open> = BinaryHeap::new();
        for cell in cells {
            self.keep(&mut open, *cell);
        }
        let mut looked_into = 0;
        while let Some(Open { least, cell }) = open.pop() {
            if !self.may_beat(least, FINELY) {
                return;
            }
            if looked_into >= if self.may_beat(least, WITHIN) { MOST_CELLS } else { FEW_CELLS } {
                return self.refine(cell.radius_rad.to_degrees().max(ROUGHLY_DEG), FINEST_DEG);
            }
            looked_into += 1;
            for half in cell.halves() {
                let Some(half) = self.zone.shrunk(&half) else { continue };
                self.look_at_middle(&half);
                self.keep(&mut open, half);
            }
        }
        self.refine(ROUGHLY_DEG, FINEST_DEG);
    }

    fn keep(&self, open: &mut BinaryHeap<Open>, cell: Cell) {
        let least = (self.least_in)(&cell);
        if cell.radius_rad > FINEST_RAD && self.may_beat(least, FINELY) {
            open.push(Open { least, cell });
        }
    }

    /// Whether a value as low as this would better what was found by more than a share of it.
    fn may_beat(&self, least: f64, share: f64) -> bool {
        self.best.is_none_or(|best| least < best.value - (share * best.value.abs()).max(f64::MIN_POSITIVE))
    }

    fn look_at_corners(&mut self, cell: &Cell) {
        // Two of four: the others are corners of the cells beside it.
        let el = cell.elevation_deg;
        self.look(cell.azimuth.from_deg, el.low);
        self.look(cell.azimuth.to_deg(), el.high);
    }

    fn look_at_middle(&mut self, cell: &Cell) {
        self.look(cell.center.azimuth_deg(), cell.elevation_deg.middle());
    }

    /// Takes the value at the place of the zone nearest to this on its meridian, if it is the lowest so far.
    fn look(&mut self, azimuth_deg: f64, el_deg: f64) {
        let Some(el_deg) = self.zone.nearest_on_meridian(azimuth_deg, el_deg) else { return };
        let at = Direction::from_degrees(azimuth_deg, el_deg);
        let value = (self.at)(&at);
        if !value.is_nan() && self.best.is_none_or(|best| value < best.value) {
            let offset_deg = self.zone.span().offset_deg(azimuth_deg);
            self.best = Some(Start { value, offset_deg, el_deg, at });
        }
    }

    fn refine(&mut self, step_deg: f64, finest_deg: f64) {
        if let Some(best) = self.best {
            self.best = Some(descend(self.zone, best, (step_deg, finest_deg), &mut |d| (self.at)(d)));
        }
    }
}
