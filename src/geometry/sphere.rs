//! Azimuth spans, rectangles and the closed forms of solid angle.

use super::EDGE_DEG;
use super::direction::{normalised_deg, sin_cos_deg};
use crate::units::Interval;
use std::f64::consts::PI;

/// A span of azimuth from one meridian to another with growing azimuth; it may pass 180.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AzimuthSpan {
    /// Where it begins, in degrees.
    pub from_deg: f64,
    /// How wide it is in degrees, 0..=360.
    pub width_deg: f64,
}

impl AzimuthSpan {
    /// Every azimuth.
    pub const FULL: Self = Self { from_deg: -180.0, width_deg: 360.0 };

    /// The span of a width in degrees (limited to 0..=360) from an azimuth on; not finite counts as 0.
    #[must_use]
    pub fn new(from_deg: f64, width_deg: f64) -> Self {
        let width_deg = if width_deg.is_nan() { 0.0 } else { width_deg.clamp(0.0, 360.0) };
        if width_deg == 360.0 { Self::FULL } else { Self { from_deg: normalised_deg(from_deg), width_deg } }
    }

    /// The span from the first azimuth to the second with growing azimuth, through 180 if the second is
    /// smaller, in degrees; equal azimuths give an empty width, a difference of 360 or more all of it.
    ///
    /// ```
    /// use lampwright::geometry::AzimuthSpan;
    /// // Dihedral angle A (14 CFR 25.1387): 70 degrees to each side of dead astern.
    /// let a = AzimuthSpan::between(110.0, -110.0);
    /// assert_eq!(a.width_deg, 140.0);
    /// assert!(a.contains(180.0, true) && a.contains(-110.0, true) && !a.contains(-110.0, false));
    /// ```
    #[must_use]
    pub fn between(from_deg: f64, to_deg: f64) -> Self {
        let difference = to_deg - from_deg;
        let width = if difference >= 360.0 { 360.0 } else { difference.rem_euclid(360.0) };
        Self::new(from_deg, width)
    }

    /// Where it ends, in degrees, in (-180, 180].
    #[must_use]
    pub fn to_deg(&self) -> f64 {
        self.at(self.width_deg)
    }
    /// Whether it is every azimuth.
    #[must_use]
    pub fn is_full(&self) -> bool {
        self.width_deg >= 360.0 - EDGE_DEG
    }
    /// The azimuth in degrees that lies so far beyond its beginning.
    #[must_use]
    pub fn at(&self, offset_deg: f64) -> f64 {
        normalised_deg(self.from_deg + offset_deg)
    }
    /// How far an azimuth lies beyond the beginning, in degrees, in 0..360; just before it counts as 0.
    #[must_use]
    pub fn offset_deg(&self, azimuth_deg: f64) -> f64 {
        let offset = (normalised_deg(azimuth_deg) - self.from_deg).rem_euclid(360.0);
        if offset >= 360.0 - EDGE_DEG { 0.0 } else { offset }
    }

    /// Whether an azimuth lies in it, the ends included if `closed`; within 1e-9 degrees counts as on an end.
    #[must_use]
    pub fn contains(&self, azimuth_deg: f64, closed: bool) -> bool {
        let offset = self.offset_deg(azimuth_deg);
        self.is_full()
            || if closed {
                offset <= self.width_deg + EDGE_DEG
            } else {
                offset > EDGE_DEG && offset < self.width_deg - EDGE_DEG
            }
    }

    /// The parts of it that lie in another span too, from its beginning on: none, one or two, each wider than 1e-9 degrees.
    #[must_use]
    pub fn clip(&self, other: &Self) -> Vec<Self> {
        if other.is_full() {
            return vec![*self];
        }
        if self.is_full() {
            return vec![*other];
        }
        let start = self.offset_deg(other.from_deg);
        [start - 360.0, start]
            .into_iter()
            .filter_map(|from| {
                let (low, high) = (from.max(0.0), (from + other.width_deg).min(self.width_deg));
                (high - low > EDGE_DEG).then(|| Self::new(self.at(low), high - low))
            })
            .collect()
    }

    /// The mirror image, left for right.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self::new(-self.to_deg(), self.width_deg)
    }

    /// The offsets at which breaks cut it, its two ends included, rising.
    pub(super) fn cuts(&self, breaks_deg: &[f64]) -> Vec<f64> {
        let mut cuts: Vec<f64> = breaks_deg.iter().filter(|b| b.is_finite()).map(|b| self.offset_deg(*b)).collect();
        cuts.extend([0.0, self.width_deg]);
        tidied(cuts, 0.0, self.width_deg)
    }
}

/// The values within the limits, rising, each once.
pub(super) fn tidied(mut values: Vec<f64>, low: f64, high: f64) -> Vec<f64> {
    values.retain(|v| *v >= low && *v <= high);
    values.sort_by(f64::total_cmp);
    values.dedup_by(|b, a| *b - *a <= EDGE_DEG);
    // An interior cut just before the end must not replace the end itself.
    if let Some(last) = values.last_mut()
        && high - *last <= EDGE_DEG
    {
        *last = high;
    }
    values
}

/// A rectangle of azimuth and elevation on the sphere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Patch {
    /// Its azimuths.
    pub azimuth: AzimuthSpan,
    /// Its elevations, in degrees.
    pub elevation_deg: Interval,
}

impl Patch {
    /// Its solid angle in steradian: d az (sin el2 - sin el1).
    ///
    /// ```
    /// use lampwright::geometry::{AzimuthSpan, Patch};
    /// use lampwright::units::Interval;
    /// // Within 75 degrees of the horizontal in a 110 degree wedge: 2 phi sin e = 3.708888919734 sr.
    /// let patch = Patch { azimuth: AzimuthSpan::between(0.0, 110.0), elevation_deg: Interval::new(-75.0, 75.0) };
    /// assert!((patch.solid_angle_sr() - 3.708888919734).abs() < 1e-11);
    /// ```
    #[must_use]
    pub fn solid_angle_sr(&self) -> f64 {
        let width = self.azimuth.width_deg.to_radians();
        // max() turns a NaN of hand-made fields into nothing.
        (width * sine_rise(self.elevation_deg.low, self.elevation_deg.high)).max(0.0)
    }
}

/// sin(high) - sin(low) of elevations in degrees, without loss of digits near the poles.
pub(super) fn sine_rise(low_deg: f64, high_deg: f64) -> f64 {
    let (low, high) = (low_deg.clamp(-90.0, 90.0), high_deg.clamp(-90.0, 90.0));
    2.0 * sin_cos_deg(0.5 * (low + high)).1 * (0.5 * (high - low)).to_radians().sin()
}

/// The solid angle in steradian of a cap: 2 pi (1 - cos h), h its half angle in degrees (limited to 0..=180).
#[must_use]
pub fn cap_solid_angle_sr(half_angle_deg: f64) -> f64 {
    let half = if half_angle_deg.is_nan() { 0.0 } else { half_angle_deg.clamp(0.0, 180.0) };
    4.0 * PI * (0.5 * half).to_radians().sin().powi(2)
}

/// The half angle in degrees of the cap of a solid angle in steradian (limited to 0..=4 pi): acos(1 - sr / 2 pi).
///
/// ```
/// // The 0.15 sr cone of 14 CFR 25.1401(b).
/// assert!((lampwright::geometry::cap_half_angle_deg(0.15) - 12.544725).abs() < 1e-6);
/// ```
#[must_use]
pub fn cap_half_angle_deg(solid_angle_sr: f64) -> f64 {
    let share = if solid_angle_sr.is_nan() { 0.0 } else { (solid_angle_sr / (4.0 * PI)).clamp(0.0, 1.0) };
    2.0 * share.sqrt().asin().to_degrees()
}

/// The solid angle in steradian between two vertical planes a width in degrees apart, all elevations: 2 phi.
#[must_use]
pub fn wedge_solid_angle_sr(width_deg: f64) -> f64 {
    Patch { azimuth: AzimuthSpan::new(0.0, width_deg), elevation_deg: Interval { low: -90.0, high: 90.0 } }
        .solid_angle_sr()
}

/// The solid angle in steradian between two elevations in degrees, all azimuths: 2 pi (sin e2 - sin e1).
#[must_use]
pub fn band_solid_angle_sr(low_deg: f64, high_deg: f64) -> f64 {
    if low_deg.is_nan() || high_deg.is_nan() { 0.0 } else { 2.0 * PI * sine_rise(low_deg, high_deg) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_meet_where_they_should() {
        let a = AzimuthSpan::between(110.0, -110.0);
        let wide = AzimuthSpan::between(-170.0, 170.0);
        let parts = a.clip(&wide);
        assert_eq!(parts, vec![AzimuthSpan::between(110.0, 170.0), AzimuthSpan::between(-170.0, -110.0)]);
        assert!(a.clip(&AzimuthSpan::between(-110.0, 0.0)).is_empty());
        assert_eq!(AzimuthSpan::between(-180.0, 180.0).width_deg, 360.0);
        assert_eq!(AzimuthSpan::between(-115.0, 4.0).mirrored(), AzimuthSpan::between(-4.0, 115.0));
    }

    #[test]
    fn cuts_are_inside_and_rising() {
        let a = AzimuthSpan::between(110.0, -110.0);
        assert_eq!(a.cuts(&[180.0, 110.0, -120.0, 0.0, f64::NAN]), vec![0.0, 70.0, 130.0, 140.0]);
    }
}
