//! The intensity of one emitter by direction.

use super::frame::Frame;
use super::shape::exponent;
use super::{Body, PhotometryError, Shape};
use crate::geometry::{Cell, Direction, Ends};
use crate::units::Interval;

/// A direction this little beyond the end of what is known counts as on the end: it is rounding.
const ROUNDING_DEG: f64 = 1e-7;

/// The beam of one emitter: an axis, a peak intensity and a shape.
///
/// ```
/// use lampwright::{geometry::Direction, photometry::{Beam, Shape}, units::Interval};
/// // 5 cd, half angle 60 degrees (m = 1), aimed astern: 5 cos 70 = 1.7101 cd at azimuth 110 (by hand).
/// let shape = Shape::cosine_power(Interval::exactly(60.0)).expect("well formed");
/// let rear = Beam::new(Direction::from_degrees(180.0, 0.0), Interval::exactly(5.0), shape).expect("well formed");
/// let found = rear.intensity_cd(&Direction::from_degrees(110.0, 0.0));
/// assert!(found.is_exact() && (found.low - 1.7101).abs() < 1e-4);
/// // Dead ahead is behind the emitter: dark unless something is said of it.
/// assert_eq!(rear.intensity_cd(&Direction::from_degrees(0.0, 0.0)), Interval::ZERO);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Beam {
    axis: Direction,
    peak_cd: Interval,
    shape: Shape,
    known_to: f64,
    behind_high_cd: f64,
    law: Law,
}

/// The shape with everything worked out that does not depend on the direction.
#[derive(Debug, Clone, PartialEq)]
enum Law {
    Cosine { narrow: Power, wide: Option<Power>, rest_high_cd: f64 },
    Even { cos_free: f64, free_cd: Interval },
    Table { cos_end: f64, rest_high_cd: f64 },
    Grid { frame: Frame, rest_high_cd: f64 },
}

/// One cosine power: its exponent, and the cosine of the angle to which it is trusted.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Power {
    m: f64,
    cos_known: f64,
}

impl Power {
    fn of(half_angle_deg: f64, known_to: f64) -> Self {
        let m = exponent(half_angle_deg);
        Self { m, cos_known: known_to.powf(1.0 / m) }
    }
    fn known(self, cos: f64) -> Option<f64> {
        (cos >= self.cos_known).then(|| cos.min(1.0).powf(self.m))
    }
}

impl Beam {
    /// The share of the peak down to which a cosine power is taken as known.
    pub const KNOWN_TO: f64 = 0.1;

    /// The beam about an axis with a peak intensity in cd; nothing shows behind the emitter.
    ///
    /// # Errors
    /// A peak that is negative or not finite, or a shape that is not well formed.
    pub fn new(axis: Direction, peak_cd: Interval, shape: Shape) -> Result<Self, PhotometryError> {
        if !(peak_cd.low >= 0.0 && peak_cd.low <= peak_cd.high && peak_cd.high.is_finite()) {
            return Err(PhotometryError::new(
                format!("a peak intensity of {} to {} cd cannot be", peak_cd.low, peak_cd.high),
                "give a peak of 0 cd or more",
            ));
        }
        let shape = shape.checked()?;
        let law = Law::of(&axis, &shape, peak_cd, Self::KNOWN_TO);
        Ok(Self { axis, peak_cd, shape, known_to: Self::KNOWN_TO, behind_high_cd: 0.0, law })
    }

    /// The same beam, its cosine power known down to another share of the peak: below it may be dark.
    ///
    /// # Errors
    /// A share not above 0 and at most 1.
    pub fn with_known_to(mut self, share: f64) -> Result<Self, PhotometryError> {
        if !(share > 0.0 && share <= 1.0) {
            let what = format!("a beam cannot be known down to {share} of its peak");
            return Err(PhotometryError::new(what, "give a share above 0 and at most 1, such as 0.1"));
        }
        self.known_to = share;
        self.law = Law::of(&self.axis, &self.shape, self.peak_cd, share);
        Ok(self)
    }

    /// The same beam with a leak of at most so many cd where the emitter's own body is in the way.
    ///
    /// # Errors
    /// A leak that is negative or not finite.
    pub fn with_behind_high_cd(mut self, behind_high_cd: f64) -> Result<Self, PhotometryError> {
        if !(behind_high_cd >= 0.0 && behind_high_cd.is_finite()) {
            let what = format!("a leak of {behind_high_cd} cd cannot be");
            return Err(PhotometryError::new(what, "give the most that may show behind, 0 cd or more"));
        }
        self.behind_high_cd = behind_high_cd;
        Ok(self)
    }

    /// Where it is aimed.
    #[must_use]
    pub fn axis(&self) -> &Direction {
        &self.axis
    }
    /// Its peak intensity in cd (for an isotropic shape the nominal one).
    #[must_use]
    pub fn peak_cd(&self) -> Interval {
        self.peak_cd
    }
    /// Its shape.
    #[must_use]
    pub fn shape(&self) -> &Shape {
        &self.shape
    }
    /// The share of the peak down to which a cosine power is taken as known.
    #[must_use]
    pub fn known_to(&self) -> f64 {
        self.known_to
    }
    /// The most that may show behind the emitter, in cd.
    #[must_use]
    pub fn behind_high_cd(&self) -> f64 {
        self.behind_high_cd
    }
    /// What the emitter's own body hides of it.
    #[must_use]
    pub fn body(&self) -> Body {
        Body::of(&self.axis, &self.shape)
    }

    /// The mirror image, left for right.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let (axis, shape) = (self.axis.mirrored(), self.shape.mirrored());
        let law = Law::of(&axis, &shape, self.peak_cd, self.known_to);
        Self { axis, shape, law, ..self.clone() }
    }

    /// Whether a direction lies beyond what is stated of the beam: of a photometric file, where it has no data, else
    /// farther off the axis than so many degrees.
    #[must_use]
    pub fn is_beyond(&self, d: &Direction, known_to_deg: f64) -> bool {
        match (&self.law, &self.shape) {
            (Law::Grid { frame, .. }, Shape::Grid { grid, .. }) => grid.at(frame.place(d)).is_none(),
            _ => self.axis.angle_to_deg(d) > known_to_deg,
        }
    }

    /// The horizontal and the vertical angle (C and gamma, or H and V) a direction has in the beam's photometric file,
    /// in degrees; `None` for a beam without one.
    #[must_use]
    pub fn file_angles_deg(&self, d: &Direction) -> Option<(f64, f64)> {
        match (&self.law, &self.shape) {
            (Law::Grid { frame, .. }, Shape::Grid { grid, .. }) => Some(grid.file_angles(frame.place(d))),
            _ => None,
        }
    }

    /// The intensity in a direction, in cd: where nothing is known, from dark to the highest it may be.
    ///
    /// Cosine power: exact down to [`Beam::known_to`] of the peak, below [0, that share of the peak] in front and
    /// [0, leak] behind 90 degrees; of a range of half angles the narrow one gives the low end and the wide one the
    /// high end. Isotropic: the peak times the unevenness, [0, leak] in the base's shadow. Table: straight lines in
    /// degrees, beyond its end [0, its highest value]. Grid: straight lines in degrees along each angle of the file, where
    /// it has no data [0, its highest value].
    #[must_use]
    pub fn intensity_cd(&self, d: &Direction) -> Interval {
        match (&self.law, &self.shape) {
            (Law::Grid { frame, rest_high_cd }, Shape::Grid { grid, .. }) => match grid.at(frame.place(d)) {
                Some(share) => self.peak_cd.scaled(share),
                None => Interval { low: 0.0, high: *rest_high_cd },
            },
            _ => self.at_cos(self.axis.cos_to(d)),
        }
    }

    /// What the ends of the intensity are over a cell, in cd: no direction in it has a lower or a higher one.
    #[must_use]
    pub fn intensity_over(&self, cell: &Cell) -> Ends {
        if let (Law::Grid { frame, rest_high_cd }, Shape::Grid { grid, .. }) = (&self.law, &self.shape) {
            let (shares, beyond) = grid.over(&frame.reach(cell));
            let known =
                shares.map(|s| Ends::of(self.peak_cd.scaled(s.low)).hull(Ends::of(self.peak_cd.scaled(s.high))));
            let rest = beyond.then(|| Ends::of(Interval { low: 0.0, high: *rest_high_cd }));
            let all = known.into_iter().chain(rest).reduce(Ends::hull);
            return all.unwrap_or(Ends::of(Interval { low: 0.0, high: *rest_high_cd }));
        }
        let cosines = cell.cosines_to(&self.axis);
        let near = self.at_cos(cosines.high);
        let far = self.at_cos(cosines.low);
        let mut ends = Ends::of(near).hull(Ends::of(far));
        match (&self.law, &self.shape) {
            // More may leak behind the emitter than its beam has left at its side.
            (Law::Cosine { .. }, _) if cosines.contains(0.0) => ends = ends.hull(Ends::of(self.at_cos(0.0))),
            (Law::Table { .. }, Shape::Table { off_axis_deg, relative }) => {
                let reach = cosines.falling(|cos| cos.clamp(-1.0, 1.0).acos().to_degrees());
                for (_, share) in off_axis_deg.iter().zip(relative).filter(|(a, _)| reach.contains(**a)) {
                    ends = ends.hull(Ends::of(self.peak_cd.scaled(*share)));
                }
            }
            _ => {}
        }
        ends
    }

    fn at_cos(&self, cos: f64) -> Interval {
        match &self.law {
            Law::Cosine { narrow, wide, rest_high_cd } => {
                if cos < -ROUNDING_COS {
                    return Interval { low: 0.0, high: self.behind_high_cd };
                }
                let at_narrow = narrow.known(cos);
                let at_wide = if let Some(wide) = wide { wide.known(cos) } else { at_narrow };
                Interval {
                    low: at_narrow.map_or(0.0, |share| share * self.peak_cd.low),
                    high: at_wide.map_or(*rest_high_cd, |share| share * self.peak_cd.high),
                }
            }
            Law::Even { cos_free, free_cd } => {
                if cos >= *cos_free {
                    *free_cd
                } else {
                    Interval { low: 0.0, high: self.behind_high_cd }
                }
            }
            Law::Grid { rest_high_cd, .. } => Interval { low: 0.0, high: *rest_high_cd },
            Law::Table { cos_end, rest_high_cd } => {
                if cos >= *cos_end {
                    let share = self.table_share(cos.min(1.0).acos().to_degrees());
                    Interval { low: share * self.peak_cd.low, high: share * self.peak_cd.high }
                } else {
                    Interval { low: 0.0, high: *rest_high_cd }
                }
            }
        }
    }

    /// The table's relative intensity at an angle in degrees.
    fn table_share(&self, off_axis_deg: f64) -> f64 {
        let Shape::Table { off_axis_deg: angles, relative } = &self.shape else { return 0.0 };
        let next = angles.partition_point(|a| *a <= off_axis_deg).clamp(1, angles.len().max(2) - 1);
        match (angles.get(next - 1..=next), relative.get(next - 1..=next)) {
            (Some([a, b]), Some([p, q])) => {
                let t = ((off_axis_deg - a) / (b - a)).clamp(0.0, 1.0);
                p * (1.0 - t) + q * t
            }
            _ => 0.0,
        }
    }
}

/// Cosines this little below that of 90 degrees are rounding.
const ROUNDING_COS: f64 = 1e-12;

impl Law {
    fn of(axis: &Direction, shape: &Shape, peak_cd: Interval, known_to: f64) -> Self {
        match shape {
            Shape::CosinePower { half_angle_deg: half } => Self::Cosine {
                narrow: Power::of(half.low, known_to),
                wide: (!half.is_exact()).then(|| Power::of(half.high, known_to)),
                rest_high_cd: known_to * peak_cd.high,
            },
            Shape::Isotropic { blocked_behind_deg, unevenness } => {
                Self::Even { cos_free: cos_within(blocked_behind_deg.unwrap_or(180.0)), free_cd: peak_cd * *unevenness }
            }
            Shape::Table { off_axis_deg, relative } => Self::Table {
                cos_end: cos_within(off_axis_deg.last().copied().unwrap_or(0.0)),
                rest_high_cd: peak_cd.high * relative.iter().copied().fold(0.0, f64::max),
            },
            Shape::Grid { grid, roll_deg, mirrored } => {
                Self::Grid { frame: Frame::of(axis, grid.kind(), *roll_deg, *mirrored), rest_high_cd: peak_cd.high }
            }
        }
    }
}

/// The cosine from which a direction lies within an angle in degrees, rounding forgiven.
fn cos_within(angle_deg: f64) -> f64 {
    if angle_deg + ROUNDING_DEG >= 180.0 { -2.0 } else { (angle_deg + ROUNDING_DEG).to_radians().cos() }
}
