//! Luminous intensity of a light around the horizon and around an upright plane, beside what is asked.

use super::lights::Shown;
use crate::geometry::Direction;
use crate::measure::{Asked, Measured, asks};
use crate::report::evidence::{Plane, Polar, PolarPoint};
use crate::resolve::Goal;
use crate::scene::{Scene, Sum, System};
use crate::units::Interval;

/// Both planes of a light, for one kind of intensity.
pub(super) struct Around {
    pub measured: Measured,
    pub horizon: Polar,
    pub azimuth_deg: f64,
    pub upright: Polar,
}

/// The light of a system in any direction.
pub(super) struct Light<'s> {
    sum: Sum<'s>,
    kept_on: Sum<'s>,
    system: Option<System<'s>>,
    known: bool,
}

impl<'s> Light<'s> {
    pub fn new(light: &Shown, scene: &'s Scene<'_>) -> Self {
        let sum = || Sum::new(scene.lamps(&light.lamps));
        let known = sum().known().is_ok();
        Self { sum: sum(), kept_on: sum().at_full_level(), system: System::new(scene, &light.lamps).ok(), known }
    }

    /// Its intensity at full-size equivalent, in cd.
    pub fn found(&self, measured: Measured, d: &Direction) -> Interval {
        let unknown = Interval { low: 0.0, high: f64::INFINITY };
        match measured {
            _ if !self.known => unknown,
            Measured::Mean => self.sum.mean_cd(d),
            Measured::FullLevel => self.kept_on.mean_cd(d),
            Measured::Effective => self.system.as_ref().map_or(unknown, |system| system.effective_cd(d)),
        }
    }
}

/// The greatest floor and the least ceiling of some goals in a direction, in cd, for each kind of intensity they look at.
pub(super) fn asked(goals: &[&Goal<'_>], scene: &Scene<'_>, d: &Direction) -> Vec<Asked> {
    let mut all: Vec<Asked> = Vec::new();
    for asked in goals.iter().filter_map(|goal| asks(goal, scene, d)) {
        let both = |a: Option<f64>, b: Option<f64>, pick: fn(f64, f64) -> f64| match (a, b) {
            (Some(a), Some(b)) => Some(pick(a, b)),
            (one, other) => one.or(other),
        };
        match all.iter_mut().find(|known| known.measured == asked.measured) {
            Some(known) => {
                known.floor_cd = both(known.floor_cd, asked.floor_cd, f64::max);
                known.ceiling_cd = both(known.ceiling_cd, asked.ceiling_cd, f64::min);
            }
            None => all.push(asked),
        }
    }
    all
}

/// A light around both planes for each kind of intensity that anything is asked of in them. The upright plane goes through
/// the first of the worst directions above or below at which a floor is asked, else through the middle of what is asked.
pub(super) fn around(
    shines: &Light<'_>,
    scene: &Scene<'_>,
    goals: &[&Goal<'_>],
    worst: &[(f64, f64, String)],
) -> Vec<Around> {
    let plane = |plane: Plane, measured: Measured| -> Vec<PolarPoint> {
        let point = |angle: i32| {
            let d = direction(plane, f64::from(angle));
            let own = asked(goals, scene, &d).into_iter().find(|a| a.measured == measured);
            PolarPoint {
                angle_deg: f64::from(angle),
                found: shines.found(measured, &d),
                floor: own.and_then(|a| a.floor_cd),
                ceiling: own.and_then(|a| a.ceiling_cd),
            }
        };
        (-180..180).map(point).collect()
    };
    let one = |measured: Measured| {
        let horizon = plane(Plane::Horizontal, measured);
        let floored = |az: f64, el: f64| {
            let own =
                asked(goals, scene, &Direction::from_degrees(az, el)).into_iter().find(|a| a.measured == measured);
            own.is_some_and(|a| a.floor_cd.is_some())
        };
        let aloft = worst.iter().find(|(az, el, _)| (0.5..89.0).contains(&el.abs()) && floored(*az, *el));
        let azimuth_deg = aloft.map_or_else(|| middle(&horizon), |(az, ..)| az.round());
        let upright = plane(Plane::Vertical { azimuth_deg }, measured);
        let is_asked = |p: &PolarPoint| p.floor.is_some() || p.ceiling.is_some();
        horizon.iter().chain(&upright).any(is_asked).then(|| {
            let level = worst.first().filter(|(_, el, _)| el.abs() < 0.5).map(|(az, ..)| *az);
            Around {
                measured,
                horizon: Polar { plane: Plane::Horizontal, points: horizon, worst_deg: level },
                azimuth_deg,
                upright: Polar {
                    plane: Plane::Vertical { azimuth_deg },
                    points: upright,
                    worst_deg: aloft.map(|(_, el, _)| *el),
                },
            }
        })
    };
    [Measured::Mean, Measured::FullLevel, Measured::Effective].into_iter().filter_map(one).collect()
}

/// The direction of an angle of a plane.
fn direction(plane: Plane, angle_deg: f64) -> Direction {
    match plane {
        Plane::Horizontal => Direction::from_degrees(angle_deg, 0.0),
        Plane::Vertical { azimuth_deg } if angle_deg.abs() <= 90.0 => Direction::from_degrees(azimuth_deg, angle_deg),
        Plane::Vertical { azimuth_deg } => {
            Direction::from_degrees(azimuth_deg + 180.0, angle_deg.signum() * 180.0 - angle_deg)
        }
    }
}

/// The middle of the angles at which most is asked, in degrees.
fn middle(points: &[PolarPoint]) -> f64 {
    let (sin, cos) = points.iter().filter(|p| p.floor.is_some()).fold((0.0, 0.0), |(sin, cos), p| {
        let (s, c) = p.angle_deg.to_radians().sin_cos();
        (sin + s, cos + c)
    });
    if sin.hypot(cos) < 1e-6 { 0.0 } else { sin.atan2(cos).to_degrees().round() }
}
