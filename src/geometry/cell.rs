//! Cells of azimuth and elevation with a radius that holds all of them.

use super::{AzimuthSpan, Direction, Patch};
use crate::units::Interval;

/// A rectangle of azimuth and elevation with its middle and the radius of a cap that holds it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// Its middle.
    pub center: Direction,
    /// An angle in radians: no point of the cell is farther from the middle.
    pub radius_rad: f64,
    /// Its azimuths.
    pub azimuth: AzimuthSpan,
    /// Its elevations, in degrees.
    pub elevation_deg: Interval,
}

impl Cell {
    /// The cell of a span of azimuth and an interval of elevation in degrees.
    #[must_use]
    pub fn new(azimuth: AzimuthSpan, elevation_deg: Interval) -> Self {
        let center = Direction::from_degrees(azimuth.at(0.5 * azimuth.width_deg), elevation_deg.middle());
        let radius_rad = radius_rad(azimuth.width_deg, elevation_deg);
        Self { center, radius_rad, azimuth, elevation_deg }
    }

    /// Its solid angle in steradian, exact: d az (sin el2 - sin el1).
    #[must_use]
    pub fn solid_angle_sr(&self) -> f64 {
        Patch { azimuth: self.azimuth, elevation_deg: self.elevation_deg }.solid_angle_sr()
    }

    /// The least and the greatest angle in radians from an axis to any point of the cell, exact to rounding.
    ///
    /// With azimuth d from the axis, cos angle = cos el_a cos d cos el + sin el_a sin el: for a fixed elevation it
    /// rises with cos d, and for a fixed cos d it is one cosine of elevation.
    ///
    /// # Example
    /// ```
    /// use lampwright::{geometry::{AzimuthSpan, Cell, Direction}, units::Interval};
    /// // From dead ahead, the octant right, up and ahead reaches from 0 to 90 degrees.
    /// let octant = Cell::new(AzimuthSpan::new(0.0, 90.0), Interval::new(0.0, 90.0));
    /// let angles = octant.angles_to_rad(&Direction::from_degrees(0.0, 0.0));
    /// assert!(angles.low.abs() < 1e-7 && (angles.high - std::f64::consts::FRAC_PI_2).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn angles_to_rad(&self, axis: &Direction) -> Interval {
        let angle = |cos: f64| cos.clamp(-1.0, 1.0).acos();
        self.cosines_to(axis).falling(angle)
    }

    /// The cosines of [`Cell::angles_to_rad`], the least first.
    #[must_use]
    pub fn cosines_to(&self, axis: &Direction) -> Interval {
        let (low, high) = (self.elevation_deg.low.to_radians(), self.elevation_deg.high.to_radians());
        let level = axis.forward().hypot(axis.right());
        let from = |azimuth_deg: f64| (azimuth_deg - axis.azimuth_deg()).to_radians().cos();
        let ends = [from(self.azimuth.from_deg), from(self.azimuth.to_deg())];
        let holds = |azimuth_deg: f64| self.azimuth.contains(azimuth_deg, true);
        let most = if holds(axis.azimuth_deg()) { 1.0 } else { ends[0].max(ends[1]) };
        let least = if holds(axis.azimuth_deg() + 180.0) { -1.0 } else { ends[0].min(ends[1]) };
        let greatest = |cos_d: f64| {
            let (a, b) = (level * cos_d, axis.up());
            let top = b.atan2(a);
            let at = |el: f64| a * el.cos() + b * el.sin();
            if low <= top && top <= high { a.hypot(b) } else { at(low).max(at(high)) }
        };
        // The least of a cos el + b sin el is minus the greatest of its negative.
        let smallest = |cos_d: f64| {
            let (a, b) = (-level * cos_d, -axis.up());
            let top = b.atan2(a);
            let at = |el: f64| a * el.cos() + b * el.sin();
            -(if low <= top && top <= high { a.hypot(b) } else { at(low).max(at(high)) })
        };
        Interval { low: smallest(least), high: greatest(most) }
    }

    /// Its two halves, cut across its longer side.
    #[must_use]
    pub fn halves(&self) -> [Self; 2] {
        let el = self.elevation_deg;
        let half = 0.5 * self.azimuth.width_deg;
        if self.azimuth.width_deg * el.middle().to_radians().cos() > el.width() {
            let later = AzimuthSpan::new(self.azimuth.at(half), self.azimuth.width_deg - half);
            [AzimuthSpan::new(self.azimuth.from_deg, half), later].map(|azimuth| Self::new(azimuth, el))
        } else {
            [Interval { high: el.middle(), ..el }, Interval { low: el.middle(), ..el }]
                .map(|part| Self::new(self.azimuth, part))
        }
    }
}

/// The angle from the middle to the farther corner, for cells up to 180 degrees wide: along a meridian at most 90
/// degrees of azimuth away the cosine of the distance has one peak and no dip, and it falls with the difference of
/// azimuth, so the farthest point is a corner.
fn radius_rad(width_deg: f64, elevation_deg: Interval) -> f64 {
    if width_deg > 180.0 {
        return std::f64::consts::PI;
    }
    let middle = elevation_deg.middle().to_radians();
    let across = (0.25 * width_deg).to_radians().sin().powi(2);
    let to_corner = |corner_deg: f64| {
        let corner = corner_deg.to_radians();
        let haversine = (0.5 * (corner - middle)).sin().powi(2) + corner.cos() * middle.cos() * across;
        2.0 * haversine.clamp(0.0, 1.0).sqrt().asin()
    };
    let radius = to_corner(elevation_deg.low).max(to_corner(elevation_deg.high));
    if radius.is_nan() { std::f64::consts::PI } else { radius * (1.0 + 1e-9) + 1e-12 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn no_point_is_farther_than_the_radius(az in -180.0..180.0_f64, w in 0.0..360.0_f64, a in -90.0..90.0_f64, b in -90.0..90.0_f64, s in 0.0..1.0_f64, t in 0.0..1.0_f64) {
            let cell = Cell::new(AzimuthSpan::new(az, w), Interval::new(a, b));
            let el = cell.elevation_deg;
            let point = Direction::from_degrees(cell.azimuth.at(s * w), el.low + t * el.width());
            prop_assert!(cell.center.angle_to_rad(&point) <= cell.radius_rad);
        }

        #[test]
        fn every_point_lies_between_the_angles(az in -180.0..180.0_f64, w in 0.0..360.0_f64, a in -90.0..90.0_f64, b in -90.0..90.0_f64, s in 0.0..1.0_f64, t in 0.0..1.0_f64, x in -180.0..180.0_f64, y in -90.0..=90.0_f64) {
            let cell = Cell::new(AzimuthSpan::new(az, w), Interval::new(a, b));
            let el = cell.elevation_deg;
            let point = Direction::from_degrees(cell.azimuth.at(s * w), el.low + t * el.width());
            let axis = Direction::from_degrees(x, y);
            let (angle, angles) = (axis.angle_to_rad(&point), cell.angles_to_rad(&axis));
            prop_assert!(angles.low - 1e-7 <= angle && angle <= angles.high + 1e-7, "{angle} {angles:?}");
        }

        #[test]
        fn the_angles_are_reached(az in -180.0..180.0_f64, w in 1.0..40.0_f64, a in -90.0..40.0_f64, h in 1.0..40.0_f64, x in -180.0..180.0_f64, y in -90.0..=90.0_f64) {
            let cell = Cell::new(AzimuthSpan::new(az, w), Interval::new(a, a + h));
            let axis = Direction::from_degrees(x, y);
            let angles = cell.angles_to_rad(&axis);
            let seen = (0..=60).flat_map(|i| (0..=60).map(move |j| (f64::from(i) / 60.0, f64::from(j) / 60.0)))
                .map(|(s, t)| axis.angle_to_rad(&Direction::from_degrees(cell.azimuth.at(s * w), a + t * h)));
            let (least, most) = seen.fold((9.0_f64, 0.0_f64), |(l, m), v| (l.min(v), m.max(v)));
            prop_assert!(least - angles.low < 0.02 && angles.high - most < 0.02, "{least} {most} {angles:?}");
        }
    }
}
