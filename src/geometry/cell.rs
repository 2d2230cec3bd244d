//! Cells of azimuth and elevation with a radius that holds all of them.

use super::direction::sin_cos_deg;
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
    edges: Edges,
}

/// Sine and cosine of the angles that bound a cell: worked out once, for every axis it is compared with.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Edges {
    from: (f64, f64),
    to: (f64, f64),
    low: (f64, f64),
    high: (f64, f64),
}

impl Cell {
    /// The cell of a span of azimuth and an interval of elevation in degrees.
    #[must_use]
    pub fn new(azimuth: AzimuthSpan, elevation_deg: Interval) -> Self {
        let edges = Edges {
            from: sin_cos_deg(azimuth.from_deg),
            to: sin_cos_deg(azimuth.to_deg()),
            low: sin_cos_deg(elevation_deg.low),
            high: sin_cos_deg(elevation_deg.high),
        };
        Self::within(azimuth, elevation_deg, edges)
    }

    fn within(azimuth: AzimuthSpan, elevation_deg: Interval, edges: Edges) -> Self {
        let center = Direction::from_degrees(azimuth.at(0.5 * azimuth.width_deg), elevation_deg.middle());
        let radius_rad = radius_rad(&center, azimuth.width_deg, &edges);
        Self { center, radius_rad, azimuth, elevation_deg, edges }
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
        let Edges { from, to, low, high } = self.edges;
        // cos el_a times the cosine of the azimuth from the axis, at the two sides.
        let toward = |(sin, cos): (f64, f64)| axis.forward() * cos + axis.right() * sin;
        let holds = |azimuth_deg: f64| self.azimuth.contains(azimuth_deg, true);
        let most = if holds(axis.azimuth_deg()) { axis.level() } else { toward(from).max(toward(to)) };
        let least = if holds(axis.azimuth_deg() + 180.0) { -axis.level() } else { toward(from).min(toward(to)) };
        // The greatest of a cos el + b sin el: hypot(a, b) where its direction lies between the elevations.
        let greatest = |a: f64, b: f64| {
            let at = |(sin, cos): (f64, f64)| a * cos + b * sin;
            let ends = (at(low), at(high));
            let beyond_low = b * low.1 - a * low.0 >= 0.0;
            let before_high = a * high.0 - b * high.1 >= 0.0;
            if beyond_low && before_high && ends.0 + ends.1 >= 0.0 { a.hypot(b) } else { ends.0.max(ends.1) }
        };
        // The least is minus the greatest of its negative.
        Interval { low: -greatest(-least, -axis.up()), high: greatest(most, axis.up()) }
    }

    /// The sines of the azimuths of its two sides from a plane, without sign; the plane by the sine and cosine of its azimuth.
    pub(super) fn azimuth_sines(&self, (plane_sin, plane_cos): (f64, f64)) -> [f64; 2] {
        [self.edges.from, self.edges.to].map(|(sin, cos)| (sin * plane_cos - cos * plane_sin).abs())
    }

    /// The least and the greatest cosine of its elevations.
    pub(super) fn elevation_cosines(&self) -> Interval {
        let (low, high) = (self.edges.low.1, self.edges.high.1);
        let most = if self.elevation_deg.contains(0.0) { 1.0 } else { low.max(high) };
        Interval { low: low.min(high), high: most }
    }

    /// Its two halves, cut across its longer side.
    #[must_use]
    pub fn halves(&self) -> [Self; 2] {
        let (el, edges) = (self.elevation_deg, self.edges);
        let half = 0.5 * self.azimuth.width_deg;
        if self.azimuth.width_deg * self.center.level() > el.width() {
            let (first, later) = (
                AzimuthSpan::new(self.azimuth.from_deg, half),
                AzimuthSpan::new(self.azimuth.at(half), self.azimuth.width_deg - half),
            );
            let cut = sin_cos_deg(later.from_deg);
            [Self::within(first, el, Edges { to: cut, ..edges }), Self::within(later, el, Edges { from: cut, ..edges })]
        } else {
            let middle = el.middle();
            let cut = sin_cos_deg(middle);
            [
                Self::within(self.azimuth, Interval { high: middle, ..el }, Edges { high: cut, ..edges }),
                Self::within(self.azimuth, Interval { low: middle, ..el }, Edges { low: cut, ..edges }),
            ]
        }
    }
}

/// The angle from the middle to the farther corner, for cells up to 180 degrees wide: along a meridian at most 90
/// degrees of azimuth away the cosine of the distance has one peak and no dip, and it falls with the difference of
/// azimuth, so the farthest point is a corner.
fn radius_rad(center: &Direction, width_deg: f64, edges: &Edges) -> f64 {
    if width_deg > 180.0 {
        return std::f64::consts::PI;
    }
    let to_corner_sq = |(sin, cos): (f64, f64)| {
        let (sin_az, cos_az) = edges.from;
        let apart = [center.forward() - cos * cos_az, center.right() - cos * sin_az, center.up() - sin];
        apart.iter().map(|x| x * x).sum::<f64>()
    };
    // Half the chord is the sine of half the angle.
    let chord = to_corner_sq(edges.low).max(to_corner_sq(edges.high)).sqrt();
    let radius = 2.0 * (0.5 * chord).min(1.0).asin();
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
