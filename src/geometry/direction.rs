//! Directions from a lamp.

/// The azimuth brought into (-180, 180], in degrees; a value that is not finite counts as 0.
pub(super) fn normalised_deg(azimuth_deg: f64) -> f64 {
    if !azimuth_deg.is_finite() {
        return 0.0;
    }
    if azimuth_deg > -180.0 && azimuth_deg <= 180.0 {
        return azimuth_deg;
    }
    let turned = azimuth_deg.rem_euclid(360.0);
    if turned > 180.0 { turned - 360.0 } else { turned }
}

/// Sine and cosine of an angle in degrees, exact at whole right angles.
pub(super) fn sin_cos_deg(angle_deg: f64) -> (f64, f64) {
    let quarters = (angle_deg / 90.0).round();
    let (s, c) = (angle_deg - quarters * 90.0).to_radians().sin_cos();
    match (quarters as i64).rem_euclid(4) {
        0 => (s, c),
        1 => (c, -s),
        2 => (-s, -c),
        _ => (-c, s),
    }
}

/// A direction as a unit vector in aircraft axes, with its azimuth and elevation as given.
///
/// The angles are kept beside the vector, so a direction made on a boundary stays on it.
///
/// ```
/// use lampwright::geometry::Direction;
/// let up = Direction::from_degrees(37.0, 90.0);
/// assert_eq!((up.forward(), up.right(), up.up()), (0.0, 0.0, 1.0));
/// // The angle between the lune's two planes: 110 degrees (14 CFR 25.1387).
/// let ahead = Direction::from_degrees(0.0, 0.0);
/// assert!((ahead.angle_to_deg(&Direction::from_degrees(110.0, 0.0)) - 110.0).abs() < 1e-12);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Direction {
    azimuth_deg: f64,
    elevation_deg: f64,
    forward: f64,
    right: f64,
    up: f64,
}

impl Direction {
    /// The direction of an azimuth and an elevation in degrees.
    ///
    /// The azimuth is brought into (-180, 180], the elevation is limited to -90..=90; at the poles,
    /// where azimuth has no meaning, it becomes 0. A value that is not finite counts as 0.
    #[must_use]
    pub fn from_degrees(azimuth_deg: f64, elevation_deg: f64) -> Self {
        let elevation_deg = if elevation_deg.is_nan() { 0.0 } else { elevation_deg.clamp(-90.0, 90.0) };
        let azimuth_deg = if elevation_deg.abs() == 90.0 { 0.0 } else { normalised_deg(azimuth_deg) };
        let (sin_el, cos_el) = sin_cos_deg(elevation_deg);
        let (sin_az, cos_az) = sin_cos_deg(azimuth_deg);
        Self { azimuth_deg, elevation_deg, forward: cos_el * cos_az, right: cos_el * sin_az, up: sin_el }
    }

    /// The direction of a vector (forward, right, up) of any length; `None` for no length or no finite one.
    #[must_use]
    pub fn from_vector(forward: f64, right: f64, up: f64) -> Option<Self> {
        let length = forward.hypot(right).hypot(up);
        if !length.is_finite() || length == 0.0 {
            return None;
        }
        let (forward, right, up) = (forward / length, right / length, up / length);
        let level = forward.hypot(right);
        // atan2 and not asin: asin loses half the digits near the poles.
        let elevation_deg = up.atan2(level).to_degrees();
        let azimuth_deg = if level == 0.0 { 0.0 } else { normalised_deg(right.atan2(forward).to_degrees()) };
        Some(Self { azimuth_deg, elevation_deg, forward, right, up })
    }

    /// The azimuth in degrees, in (-180, 180], positive to the right; 0 at the poles.
    #[must_use]
    pub fn azimuth_deg(&self) -> f64 {
        self.azimuth_deg
    }
    /// The elevation in degrees, in -90..=90, positive up.
    #[must_use]
    pub fn elevation_deg(&self) -> f64 {
        self.elevation_deg
    }
    /// The forward component of the unit vector.
    #[must_use]
    pub fn forward(&self) -> f64 {
        self.forward
    }
    /// The component of the unit vector to the right.
    #[must_use]
    pub fn right(&self) -> f64 {
        self.right
    }
    /// The upward component of the unit vector.
    #[must_use]
    pub fn up(&self) -> f64 {
        self.up
    }
    /// The cosine of its elevation.
    pub(super) fn level(&self) -> f64 {
        (self.forward * self.forward + self.right * self.right).sqrt()
    }
    /// Whether it is straight up or straight down, where every azimuth meets.
    #[must_use]
    pub fn is_pole(&self) -> bool {
        self.elevation_deg.abs() == 90.0
    }

    /// The cosine of the angle to another direction, in -1..=1.
    #[must_use]
    pub fn cos_to(&self, other: &Self) -> f64 {
        (self.forward * other.forward + self.right * other.right + self.up * other.up).clamp(-1.0, 1.0)
    }

    /// The angle to another direction in radians, precise for small and for nearly opposite angles too.
    #[must_use]
    pub fn angle_to_rad(&self, other: &Self) -> f64 {
        let cross = [
            self.right * other.up - self.up * other.right,
            self.up * other.forward - self.forward * other.up,
            self.forward * other.right - self.right * other.forward,
        ];
        cross[0].hypot(cross[1]).hypot(cross[2]).atan2(self.cos_to(other))
    }

    /// The angle to another direction in degrees, 0..=180.
    #[must_use]
    pub fn angle_to_deg(&self, other: &Self) -> f64 {
        self.angle_to_rad(other).to_degrees()
    }

    /// The mirror image in the plane of symmetry, left for right.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let azimuth_deg = if self.azimuth_deg == 180.0 { 180.0 } else { 0.0 - self.azimuth_deg };
        Self { azimuth_deg, right: 0.0 - self.right, ..*self }
    }
}

/// The angle in degrees, 0..=90, between a direction and the vertical plane of an azimuth:
/// asin(cos el |sin(az - plane)|), the angle by which 14 CFR 23/25/27/29.1395 bound areas A and B.
///
/// It is not the difference of azimuths; the two agree at elevation 0 only.
///
/// ```
/// use lampwright::geometry::{Direction, line_to_plane_deg};
/// // Abeam at elevation 75 the direction is 15 degrees from the plane: 90 - 75.
/// let phi = line_to_plane_deg(&Direction::from_degrees(90.0, 75.0), 0.0);
/// assert!((phi - 15.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn line_to_plane_deg(d: &Direction, plane_azimuth_deg: f64) -> f64 {
    sin_line_to_plane(d, sin_cos_deg(normalised_deg(plane_azimuth_deg))).asin().to_degrees()
}

/// The sine of [`line_to_plane_deg`], from the sine and cosine of the plane's azimuth.
pub(super) fn sin_line_to_plane(d: &Direction, (s, c): (f64, f64)) -> f64 {
    (d.right * c - d.forward * s).abs().min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn azimuth_is_kept_and_normalised() {
        assert_eq!(Direction::from_degrees(-180.0, 0.0).azimuth_deg(), 180.0);
        assert_eq!(Direction::from_degrees(250.0, 0.0).azimuth_deg(), -110.0);
        assert_eq!(Direction::from_degrees(-720.5, 0.0).azimuth_deg(), -0.5);
        assert_eq!(Direction::from_degrees(-1e-12, 0.0).azimuth_deg(), -1e-12);
    }

    #[test]
    fn nothing_is_nan() {
        for (a, e) in [(f64::NAN, 0.0), (f64::INFINITY, f64::NAN), (1e300, -f64::INFINITY), (0.0, 91.0)] {
            let d = Direction::from_degrees(a, e);
            assert!((d.cos_to(&d) - 1.0).abs() < 1e-12, "{d:?}");
        }
        assert!(Direction::from_vector(0.0, 0.0, 0.0).is_none());
        assert!(Direction::from_vector(f64::NAN, 1.0, 0.0).is_none());
    }
}
