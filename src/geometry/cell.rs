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
    }
}
