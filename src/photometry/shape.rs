//! The forms a beam may have, and the flux that goes with a peak intensity.

use super::{Grid, PhotometryError};
use crate::geometry::cap_solid_angle_sr;
use crate::source::formats::Photometry;
use crate::units::Interval;
use std::f64::consts::PI;
use std::sync::Arc;

/// How intensity falls off with the angle from the beam's axis, relative to the peak.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// I = I0 cos^m theta with m = ln 0.5 / ln cos(half angle), dark from 90 degrees on.
    CosinePower {
        /// The HALF angle in degrees, axis to half intensity, above 0 and under 90: not the full viewing angle of
        /// data sheets.
        half_angle_deg: Interval,
    },
    /// The same in every direction, but for an unevenness and for a base that may block a part.
    Isotropic {
        /// The angle from the axis in degrees beyond which the base blocks the light; `None` is no base.
        blocked_behind_deg: Option<f64>,
        /// The factors on the nominal intensity that occur over the directions, such as 0.8..1.2.
        unevenness: Interval,
    },
    /// Measured points joined by straight lines in degrees, the same at every roll.
    Table {
        /// The angles from the axis in degrees, rising from 0 to at most 180.
        off_axis_deg: Vec<f64>,
        /// The intensity at each, relative to the peak.
        relative: Vec<f64>,
    },
    /// A photometric file: intensities on a grid of two angles, known where the file has data.
    ///
    /// Its gamma 0 (type C) or its H 0, V 0 (types A and B) is the aim. Seen from behind the lamp, looking along its aim,
    /// C 0 and H 90 lie to the right, C 90 and V 90 upward; straight up or down counts as tipped from pointing ahead.
    Grid {
        /// The intensities.
        grid: Arc<Grid>,
        /// How far it is turned about the aim in degrees, clockwise as seen from behind.
        roll_deg: f64,
        /// Whether it is the mirror image, left for right, of what it would be about the mirrored aim.
        mirrored: bool,
    },
}

impl Shape {
    /// A cosine-power beam of a half angle in degrees or a range of them.
    ///
    /// # Errors
    /// A half angle that is not above 0 and under 90 degrees.
    pub fn cosine_power(half_angle_deg: Interval) -> Result<Self, PhotometryError> {
        Self::CosinePower { half_angle_deg }.checked()
    }

    /// A beam equal in every direction up to `unevenness`, free to an angle from the axis in degrees.
    ///
    /// # Errors
    /// A free angle not above 0 and at most 180 degrees, or an unevenness that is negative or not finite.
    pub fn isotropic(blocked_behind_deg: Option<f64>, unevenness: Interval) -> Result<Self, PhotometryError> {
        Self::Isotropic { blocked_behind_deg, unevenness }.checked()
    }

    /// A beam from a table of angles off the axis (degrees) and relative intensities.
    ///
    /// # Errors
    /// Fewer than two points, lists of different length, angles that do not rise from 0 to at most 180 degrees, or a
    /// value that is negative or not finite.
    pub fn table(off_axis_deg: Vec<f64>, relative: Vec<f64>) -> Result<Self, PhotometryError> {
        Self::Table { off_axis_deg, relative }.checked()
    }

    /// The beam of a photometric file, not turned about its aim.
    ///
    /// # Errors
    /// As [`Grid::of`].
    ///
    /// ```
    /// use lampwright::{geometry::Direction, photometry::{Beam, Shape}, source::formats::lm63};
    /// // 40 cd at C 0, which lies to the right, and 20 cd at C 90, above; 30 cd straight along the aim.
    /// let text = "TILT=NONE\n1 -1 1 2 3 1 2 0 0 0\n1 1 4\n0 90\n0 90 180\n30 40 30 20 30 10\n";
    /// let file = lm63("led.ies", text).expect("well formed");
    /// let rolled = Shape::grid(&file).and_then(|s| s.with_roll_deg(90.0)).expect("well formed");
    /// let beam = Beam::new(Direction::from_degrees(0.0, 0.0), file.peak_cd(), rolled).expect("well formed");
    /// // A quarter clockwise brings C 0 down and C 90 to the right.
    /// assert!((beam.intensity_cd(&Direction::from_degrees(0.0, -90.0)).low - 40.0).abs() < 1e-9);
    /// assert!((beam.intensity_cd(&Direction::from_degrees(90.0, 0.0)).low - 20.0).abs() < 1e-9);
    /// ```
    pub fn grid(file: &Photometry) -> Result<Self, PhotometryError> {
        Self::Grid { grid: Arc::new(Grid::of(file)?), roll_deg: 0.0, mirrored: false }.checked()
    }

    /// The same beam turned about its aim by degrees, clockwise as seen from behind; round beams stay as they are.
    ///
    /// # Errors
    /// A roll that is not finite.
    pub fn with_roll_deg(self, roll_deg: f64) -> Result<Self, PhotometryError> {
        match self {
            Self::Grid { grid, mirrored, .. } => Self::Grid { grid, roll_deg, mirrored }.checked(),
            round => Ok(round),
        }
    }

    /// The mirror image, left for right, for a beam whose axis is mirrored too.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        match self {
            Self::Grid { grid, roll_deg, mirrored } => {
                Self::Grid { grid: grid.clone(), roll_deg: *roll_deg, mirrored: !mirrored }
            }
            round => round.clone(),
        }
    }

    /// The shape itself if it is well formed.
    pub(super) fn checked(self) -> Result<Self, PhotometryError> {
        match &self {
            Self::CosinePower { half_angle_deg } => check_half_angle(*half_angle_deg),
            Self::Isotropic { blocked_behind_deg, unevenness } => check_isotropic(*blocked_behind_deg, *unevenness),
            Self::Table { off_axis_deg, relative } => check_table(off_axis_deg, relative),
            Self::Grid { roll_deg, .. } => check_roll(*roll_deg),
        }?;
        Ok(self)
    }

    /// The luminous flux per peak intensity, in lm per cd.
    ///
    /// Cosine power: 2 pi / (m + 1). Isotropic: the free solid angle (4 pi without a base) times the unevenness. Table:
    /// 2 pi times the exact integral of relative x sin theta over its straight pieces; beyond its end it adds nothing.
    /// Grid: the exact integral of what stands between its angles; where the file has no data it adds nothing.
    ///
    /// ```
    /// use lampwright::{photometry::Shape, units::Interval};
    /// // A lamp of 30 degrees FULL angle has the half angle 15 and gives 0.299289 lm per cd (closed form 2 pi / (m + 1)).
    /// let shape = Shape::cosine_power(Interval::exactly(15.0)).expect("well formed");
    /// assert!((shape.flux_per_peak().low - 0.299289).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn flux_per_peak(&self) -> Interval {
        match self {
            Self::CosinePower { half_angle_deg } => half_angle_deg.rising(|half| 2.0 * PI / (exponent(half) + 1.0)),
            Self::Isotropic { blocked_behind_deg, unevenness } => {
                unevenness.scaled(cap_solid_angle_sr(blocked_behind_deg.unwrap_or(180.0)))
            }
            Self::Table { off_axis_deg, relative } => {
                let points: Vec<(f64, f64)> = off_axis_deg.iter().copied().zip(relative.iter().copied()).collect();
                Interval::exactly(2.0 * PI * points.windows(2).map(|w| piece(w[0], w[1])).sum::<f64>())
            }
            Self::Grid { grid, .. } => Interval::exactly(grid.flux_per_peak()),
        }
    }

    /// The peak intensity in cd for a luminous flux in lm; `None` for a shape that may give no light at all.
    #[must_use]
    pub fn peak_from_flux(&self, flux_lm: Interval) -> Option<Interval> {
        let per_peak = self.flux_per_peak();
        (per_peak.low > 0.0).then(|| Interval::new(flux_lm.low / per_peak.high, flux_lm.high / per_peak.low))
    }
}

/// m = ln 0.5 / ln cos(half angle).
pub(super) fn exponent(half_angle_deg: f64) -> f64 {
    0.5_f64.ln() / half_angle_deg.to_radians().cos().ln()
}

/// The integral of (a + b theta) sin theta over one straight piece: [-(a + b theta) cos theta + b sin theta].
pub(super) fn piece((from_deg, from): (f64, f64), (to_deg, to): (f64, f64)) -> f64 {
    let (p, q) = (from_deg.to_radians(), to_deg.to_radians());
    if q <= p {
        return 0.0;
    }
    let slope = (to - from) / (q - p);
    from * p.cos() - to * q.cos() + slope * (q.sin() - p.sin())
}

fn check_half_angle(half: Interval) -> Result<(), PhotometryError> {
    // Under a thousandth of a degree m overflows what the cosine can tell from 1.
    if half.low >= 1e-3 && half.low <= half.high && half.high < 90.0 {
        return Ok(());
    }
    Err(PhotometryError::new(
        format!("{} to {} degrees is no half angle of a cosine-power beam", half.low, half.high),
        "give the angle from the axis to half intensity, above 0 and under 90 degrees",
    ))
}

fn check_isotropic(blocked: Option<f64>, unevenness: Interval) -> Result<(), PhotometryError> {
    if let Some(angle) = blocked
        && !(angle > 0.0 && angle <= 180.0)
    {
        return Err(PhotometryError::new(
            format!("a lamp free to {angle} degrees from its axis cannot be"),
            "give an angle above 0 and at most 180 degrees, or no base",
        ));
    }
    if unevenness.low >= 0.0 && unevenness.low <= unevenness.high && unevenness.high.is_finite() {
        return Ok(());
    }
    Err(PhotometryError::new(
        format!("an unevenness of {} to {} cannot be", unevenness.low, unevenness.high),
        "give factors on the nominal intensity, such as 0.8 to 1.2",
    ))
}

fn check_roll(roll_deg: f64) -> Result<(), PhotometryError> {
    if roll_deg.is_finite() {
        return Ok(());
    }
    Err(PhotometryError::new(format!("a roll of {roll_deg} degrees cannot be"), "give degrees about the aim, like 90"))
}

fn check_table(angles: &[f64], relative: &[f64]) -> Result<(), PhotometryError> {
    if angles.len() != relative.len() || angles.len() < 2 {
        return Err(PhotometryError::new(
            format!("the beam table has {} angles and {} relative intensities", angles.len(), relative.len()),
            "give one relative intensity for each angle, and at least two",
        ));
    }
    let rising = angles.windows(2).all(|w| w[0] < w[1]);
    if angles.first() != Some(&0.0) || !rising || !angles.last().is_some_and(|a| *a <= 180.0) {
        return Err(PhotometryError::new(
            "the angles of the beam table do not rise from 0 to at most 180 degrees",
            "list angles from the axis outward, beginning with 0",
        ));
    }
    if let Some(bad) = relative.iter().find(|r| !r.is_finite() || **r < 0.0) {
        return Err(PhotometryError::new(
            format!("the beam table has a relative intensity of {bad}"),
            "give numbers from 0 up, relative to the peak",
        ));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_shapes_are_told_what_to_give() {
        let table = |a: &[f64], r: &[f64]| Shape::table(a.to_vec(), r.to_vec());
        assert!(table(&[0.0, 90.0], &[1.0, 0.0]).is_ok());
        for (a, r) in [
            (vec![0.0], vec![1.0]),
            (vec![0.0, 90.0], vec![1.0]),
            (vec![1.0, 90.0], vec![1.0, 0.0]),
            (vec![0.0, 90.0, 90.0], vec![1.0, 0.5, 0.0]),
            (vec![0.0, 181.0], vec![1.0, 0.0]),
            (vec![0.0, f64::NAN], vec![1.0, 0.0]),
            (vec![0.0, 90.0], vec![1.0, -0.1]),
            (vec![0.0, 90.0], vec![f64::INFINITY, 0.0]),
        ] {
            assert!(table(&a, &r).is_err(), "{a:?} {r:?}");
        }
        for half in [0.0, 90.0, -5.0, f64::NAN] {
            assert!(Shape::cosine_power(Interval::exactly(half)).is_err(), "{half}");
        }
        assert!(Shape::isotropic(Some(0.0), Interval::exactly(1.0)).is_err());
        assert!(Shape::isotropic(None, Interval { low: 0.8, high: f64::INFINITY }).is_err());
    }
}
