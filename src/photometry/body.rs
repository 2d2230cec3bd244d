//! What the body of an emitter itself hides: geometry only, whatever its intensity.

use super::Shape;
use super::frame::{Field, Frame};
use crate::geometry::{Cell, Direction};

/// An angle this little beyond a limit is rounding, in radians.
const ROUNDING_RAD: f64 = 1e-9;

/// Whether an emitter's own body is in the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BodyState {
    /// It is not.
    Clear,
    /// It is.
    Hidden,
    /// Nothing is said of it.
    Unknown,
}

/// The directions an emitter can show at all: a cone about its axis, and what lies beyond it.
///
/// A cosine power shows to 90 degrees; an isotropic lamp to where its base blocks it; a table to its end, beyond which
/// nothing is known unless the end is 180 degrees; a photometric file wherever it has data, also behind and where it says
/// that it is dark, and nothing is known where it has none.
///
/// ```
/// use lampwright::{geometry::Direction, photometry::{Body, BodyState, Shape}, units::Interval};
/// let axis = Direction::from_degrees(180.0, 0.0);
/// let shape = Shape::cosine_power(Interval::exactly(15.0)).expect("well formed");
/// let body = Body::of(&axis, &shape);
/// assert_eq!(body.body_state(&Direction::from_degrees(91.0, 0.0)), BodyState::Clear);
/// assert_eq!(body.body_state(&Direction::from_degrees(89.0, 0.0)), BodyState::Hidden);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    axis: Direction,
    clear_to_rad: f64,
    beyond: BodyState,
    /// What a photometric file has data of, where that is no cone.
    field: Option<(Frame, Field)>,
}

impl Body {
    /// The body of an emitter of a shape aimed along an axis.
    #[must_use]
    pub fn of(axis: &Direction, shape: &Shape) -> Self {
        let (clear_to_deg, beyond) = match shape {
            Shape::CosinePower { .. } => (90.0, BodyState::Hidden),
            Shape::Isotropic { blocked_behind_deg, .. } => (blocked_behind_deg.unwrap_or(180.0), BodyState::Hidden),
            Shape::Table { off_axis_deg, .. } => (off_axis_deg.last().copied().unwrap_or(0.0), BodyState::Unknown),
            Shape::Grid { grid, .. } => (grid.known_cone_deg().0, BodyState::Unknown),
        };
        let field = match shape {
            Shape::Grid { grid, roll_deg, mirrored } if !grid.known_cone_deg().1 => {
                Some((Frame::of(axis, grid.kind(), *roll_deg, *mirrored), grid.field()))
            }
            _ => None,
        };
        Self { axis: *axis, clear_to_rad: clear_to_deg.to_radians() + ROUNDING_RAD, beyond, field }
    }

    /// The azimuths and the elevations in degrees along which its limit runs, where it runs along any.
    ///
    /// A limit of 90 degrees about a level axis is two meridians; one about a vertical axis is a parallel.
    #[must_use]
    pub fn breaks_deg(&self) -> (Vec<f64>, Vec<f64>) {
        let clear_to_deg = (self.clear_to_rad - ROUNDING_RAD).to_degrees();
        if self.field.is_some() {
            return (Vec::new(), Vec::new());
        }
        if self.axis.is_pole() {
            let elevation = (90.0 - clear_to_deg) * self.axis.up().signum();
            return (Vec::new(), vec![elevation]);
        }
        if self.axis.up().abs() < 1e-12 && (clear_to_deg - 90.0).abs() < 1e-9 {
            let azimuth = self.axis.azimuth_deg();
            return (vec![azimuth - 90.0, azimuth + 90.0], Vec::new());
        }
        (Vec::new(), Vec::new())
    }

    /// Whether the body is in the way of a direction.
    #[must_use]
    pub fn body_state(&self, d: &Direction) -> BodyState {
        if let Some((frame, field)) = &self.field {
            return if field.within(frame.place(d)).is_some() { BodyState::Clear } else { self.beyond };
        }
        if self.axis.angle_to_rad(d) > self.clear_to_rad { self.beyond } else { BodyState::Clear }
    }

    /// Whether the body is in the way of all of a cell; `None` where it is of a part.
    #[must_use]
    pub fn body_state_of_cell(&self, cell: &Cell) -> Option<BodyState> {
        if let Some((frame, field)) = &self.field {
            let reach = frame.reach(cell);
            return match (field.holds(&reach), field.parts(&reach)) {
                (true, _) => Some(BodyState::Clear),
                (_, None) => Some(self.beyond),
                _ => None,
            };
        }
        let angles = cell.angles_to_rad(&self.axis);
        if angles.high <= self.clear_to_rad || self.clear_to_rad >= std::f64::consts::PI {
            Some(BodyState::Clear)
        } else if angles.low >= self.clear_to_rad - 3.0 * ROUNDING_RAD {
            // A cell that only touches the limit with an edge is beyond it.
            Some(self.beyond)
        } else {
            None
        }
    }
}
