//! The part of a cell on one side of a circle on the sphere.

use super::Cell;
use super::mesh::{Point, dot};
use std::f64::consts::TAU;

/// Nodes and weights of Gauss and Legendre on [-1, 1], five points (Abramowitz and Stegun, table 25.4).
const GAUSS: [(f64, f64); 5] = [
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

/// The directions whose component along an axis is at least so much: a side of a plane, or within or outside a cone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Side {
    /// A unit vector: forward, right, up.
    pub axis: Point,
    /// The least component along it, -1 to 1; 0 for a plane through the middle of the sphere.
    pub at_least: f64,
}

impl Side {
    /// Whether a direction is among them.
    #[must_use]
    pub fn holds(&self, d: Point) -> bool {
        dot(self.axis, d) >= self.at_least
    }
    /// All others.
    #[must_use]
    pub fn opposite(self) -> Self {
        Self { axis: self.axis.map(|x| -x), at_least: -self.at_least }
    }
}

impl Cell {
    /// The solid angle in steradian of its part on a side, to about 1e-9 of it for cells of a few degrees.
    ///
    /// Along a meridian a cos el + c sin el >= k holds within acos(k / hypot(a, c)) of the elevation atan2(c, a); the sines of
    /// the ends of that, within the cell, are integrated over azimuth, piece by piece between the azimuths where one passes
    /// an end of the cell or both meet.
    ///
    /// # Example
    /// ```
    /// use lampwright::geometry::{AzimuthSpan, Cell, Side};
    /// use lampwright::units::Interval;
    /// // A plane through the zenith cuts a cell of equal azimuths on either side in halves.
    /// let cell = Cell::new(AzimuthSpan::new(-2.0, 4.0), Interval::new(10.0, 12.0));
    /// let right = Side { axis: [0.0, 1.0, 0.0], at_least: 0.0 };
    /// assert!((cell.part_on_side_sr(&right) - cell.solid_angle_sr() / 2.0).abs() < 1e-15);
    /// ```
    #[must_use]
    pub fn part_on_side_sr(&self, side: &Side) -> f64 {
        let (low, high) = (self.elevation_deg.low.to_radians(), self.elevation_deg.high.to_radians());
        let (from, width) = (self.azimuth.from_deg.to_radians(), self.azimuth.width_deg.to_radians());
        let mut breaks = vec![0.0, width];
        let levels = [low, high].map(|el| (side.at_least - side.axis[2] * el.sin()) / el.cos());
        // Where both ends meet the component along the axis is k all over the meridian's best elevation.
        let meet = (side.at_least * side.at_least - side.axis[2] * side.axis[2]).max(0.0).sqrt();
        for level in levels.into_iter().chain([meet, -meet]) {
            let azimuths = azimuths_of(side.axis, level).into_iter().flatten();
            breaks.extend(azimuths.map(|az| (az - from).rem_euclid(TAU)));
        }
        breaks.retain(|b| (0.0..=width).contains(b));
        breaks.sort_by(f64::total_cmp);
        let height = |az: f64| within(side, az, low, high);
        let piece = |ends: &[f64]| match ends {
            [start, end] => {
                let (middle, half) = (from + 0.5 * (start + end), 0.5 * (end - start));
                half * GAUSS.iter().map(|(node, weight)| weight * height(middle + half * node)).sum::<f64>()
            }
            _ => 0.0,
        };
        breaks.windows(2).map(piece).sum()
    }
}

/// The azimuths at which a cos az + b sin az is a level.
fn azimuths_of([a, b, _]: Point, level: f64) -> [Option<f64>; 2] {
    let (most, toward) = (a.hypot(b), b.atan2(a));
    let cos = level / most;
    if cos.abs() <= 1.0 { [Some(toward + cos.acos()), Some(toward - cos.acos())] } else { [None, None] }
}

/// The difference of the sines of the elevations of a meridian that lie on a side, between two.
fn within(side: &Side, az: f64, low: f64, high: f64) -> f64 {
    let [a, b, c] = side.axis;
    let level = a * az.cos() + b * az.sin();
    let (best, most) = (c.atan2(level), level.hypot(c));
    let share = side.at_least / most;
    if share >= 1.0 {
        return 0.0;
    }
    let reach = if share <= -1.0 { std::f64::consts::PI } else { share.acos() };
    // An elevation past straight up is the same meridian's far side: the interval may come round again below.
    let part = |turn: f64| {
        let (from, to) = ((best - reach + turn).max(low), (best + reach + turn).min(high));
        if from < to { to.sin() - from.sin() } else { 0.0 }
    };
    part(0.0) + part(TAU) + part(-TAU)
}
