//! The angles of a photometric file about a lamp: which direction they mean, and what of them a cell may hold.

use crate::geometry::{Cell, Direction};
use crate::source::formats::PhotometricType;
use crate::units::Interval;

/// A direction this little beyond the end of a file counts as on the end, in degrees: it is rounding.
const ROUNDING_DEG: f64 = 3e-6;
/// What cells are taken larger by, in degrees: less than the above.
const WIDER_DEG: f64 = 1e-6;

/// Three axes at right angles: latitudes rise towards the pole, longitudes from the zero towards the quarter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Frame {
    pole: Direction,
    zero: [f64; 3],
    quarter: [f64; 3],
}

/// A longitude and a latitude in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    pub lon: f64,
    pub lat: f64,
}

/// The longitudes and latitudes a cell may hold, in degrees; the longitudes may run past 180 on either side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Reach {
    pub lon: Interval,
    pub lat: Interval,
}

/// The longitudes and latitudes of which something is known, in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Field {
    pub lon: Interval,
    pub lat: Interval,
}

impl Frame {
    /// The axes of a file of a type for a lamp aimed along an axis.
    ///
    /// Seen from behind the lamp, looking along its aim, C 0 and H 90 lie to the right and C 90 and V 90 upward; a lamp
    /// that points straight up or down counts as tipped from pointing ahead. The roll turns all of it clockwise, and a
    /// mirrored file is the mirror image of what it would be about the mirrored axis.
    pub fn of(axis: &Direction, kind: PhotometricType, roll_deg: f64, mirrored: bool) -> Self {
        let aim = [axis.forward(), axis.right(), axis.up()];
        let level = axis.forward().hypot(axis.right());
        let (forward, right) = if level == 0.0 { (1.0, 0.0) } else { (axis.forward() / level, axis.right() / level) };
        let side = if mirrored { [right, -forward, 0.0] } else { [-right, forward, 0.0] };
        let upward = [-axis.up() * forward, -axis.up() * right, level];
        let (sin, cos) = roll_deg.to_radians().sin_cos();
        let side_rolled = mixed(cos, side, -sin, upward);
        let up_rolled = mixed(cos, upward, sin, side);
        let (pole, zero, quarter) = match kind {
            PhotometricType::C => (aim.map(|x| -x), side_rolled, up_rolled),
            PhotometricType::B => (side_rolled, aim, up_rolled),
            PhotometricType::A => (up_rolled, aim, side_rolled),
        };
        // Unit vectors always make a direction.
        let pole = Direction::from_vector(pole[0], pole[1], pole[2]).unwrap_or(*axis);
        Self { pole, zero, quarter }
    }

    /// The longitude and latitude of a direction.
    pub fn place(&self, d: &Direction) -> Place {
        let along = |[forward, right, up]: [f64; 3]| d.forward() * forward + d.right() * right + d.up() * up;
        let (x, y) = (along(self.zero), along(self.quarter));
        let z = along([self.pole.forward(), self.pole.right(), self.pole.up()]);
        Place { lon: y.atan2(x).to_degrees(), lat: z.atan2(x.hypot(y)).to_degrees() }
    }

    /// The longitudes and latitudes a cell may hold, from the cap about it.
    pub fn reach(&self, cell: &Cell) -> Reach {
        let middle = self.place(&cell.center);
        let radius = cell.radius_rad.to_degrees() + WIDER_DEG;
        let exact = cell.angles_to_rad(&self.pole).falling(|rad| 90.0 - rad.to_degrees());
        let lat = Interval {
            low: (middle.lat - radius).max(exact.low - WIDER_DEG).max(-90.0),
            high: (middle.lat + radius).min(exact.high + WIDER_DEG).min(90.0),
        };
        let half = if middle.lat.abs() + radius >= 90.0 {
            180.0
        } else {
            let sine = radius.to_radians().sin() / middle.lat.to_radians().cos();
            sine.min(1.0).asin().to_degrees() + WIDER_DEG
        };
        Reach { lon: Interval { low: middle.lon - half, high: middle.lon + half }, lat }
    }
}

fn mixed(a: f64, x: [f64; 3], b: f64, y: [f64; 3]) -> [f64; 3] {
    [a * x[0] + b * y[0], a * x[1] + b * y[1], a * x[2] + b * y[2]]
}

impl Field {
    /// Whether its longitudes go all the way around.
    pub fn is_round(&self) -> bool {
        self.lon.width() >= 360.0 - ROUNDING_DEG
    }

    /// A place brought into the field, where it lies in it or on its end.
    pub fn within(&self, place: Place) -> Option<Place> {
        let Place { lon, lat } = place;
        let lat = inside(self.lat, lat)?;
        // A longitude stands a whole turn up or down as well.
        let lon = [0.0, 360.0, -360.0].into_iter().find_map(|turn| inside(self.lon, lon + turn))?;
        Some(Place { lon, lat })
    }

    /// The parts of the field a reach holds: its latitudes, and the longitudes of each part.
    pub fn parts(&self, reach: &Reach) -> Option<(Interval, Vec<Interval>)> {
        let lat = overlap(self.lat, reach.lat)?;
        if self.is_round() && reach.lon.width() >= 360.0 - ROUNDING_DEG {
            return Some((lat, vec![self.lon]));
        }
        let turned = |turn: f64| Interval { low: reach.lon.low + turn, high: reach.lon.high + turn };
        let lon: Vec<Interval> =
            [0.0, 360.0, -360.0].into_iter().filter_map(|turn| overlap(self.lon, turned(turn))).collect();
        (!lon.is_empty()).then_some((lat, lon))
    }

    /// Whether all of a reach lies in the field.
    pub fn holds(&self, reach: &Reach) -> bool {
        let lat = inside(self.lat, reach.lat.low).is_some() && inside(self.lat, reach.lat.high).is_some();
        let at = |turn: f64| {
            inside(self.lon, reach.lon.low + turn).is_some() && inside(self.lon, reach.lon.high + turn).is_some()
        };
        lat && (self.is_round() || [0.0, 360.0, -360.0].into_iter().any(at))
    }
}

/// A value within a span, or on its end where it lies beyond it by rounding.
fn inside(span: Interval, x: f64) -> Option<f64> {
    (x >= span.low - ROUNDING_DEG && x <= span.high + ROUNDING_DEG).then(|| x.clamp(span.low, span.high))
}

/// What two spans share, where they come as near as rounding.
fn overlap(span: Interval, other: Interval) -> Option<Interval> {
    let near = other.high >= span.low - ROUNDING_DEG && other.low <= span.high + ROUNDING_DEG;
    near.then(|| Interval { low: other.low.clamp(span.low, span.high), high: other.high.clamp(span.low, span.high) })
}
