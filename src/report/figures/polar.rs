//! Luminous intensity of a light around the horizon and around an upright plane, beside what is asked.

use super::lights::Shown;
use crate::geometry::Direction;
use crate::measure::asks;
use crate::report::evidence::{Plane, Polar, PolarPoint};
use crate::resolve::Goal;
use crate::scene::{Scene, Sum, System};
use crate::units::Interval;

/// Both planes of a light.
pub(super) struct Around {
    pub horizon: Polar,
    pub azimuth_deg: f64,
    pub upright: Polar,
}

/// The light of a system in any direction.
pub(super) struct Light<'s> {
    sum: Sum<'s>,
    system: Option<System<'s>>,
    known: bool,
}

impl<'s> Light<'s> {
    pub fn new(light: &Shown, scene: &'s Scene<'_>) -> Self {
        let sum = Sum::new(scene.lamps(&light.lamps));
        let known = sum.known().is_ok();
        let system = if light.effective { System::new(scene, &light.lamps).ok() } else { None };
        Self { sum, system, known }
    }

    /// Its intensity at full-size equivalent, effective where it flashes, in cd.
    pub fn found(&self, d: &Direction) -> Interval {
        match &self.system {
            _ if !self.known => Interval { low: 0.0, high: f64::INFINITY },
            Some(system) => system.effective_cd(d),
            None => self.sum.mean_cd(d),
        }
    }
}

/// The greatest floor and the least ceiling of some goals in a direction, in cd.
pub(super) fn asked(goals: &[&Goal<'_>], scene: &Scene<'_>, d: &Direction) -> (Option<f64>, Option<f64>) {
    goals.iter().filter_map(|goal| asks(goal, scene, d)).fold((None, None), |(floor, ceiling), asked| {
        let both = |a: Option<f64>, b: Option<f64>, pick: fn(f64, f64) -> f64| match (a, b) {
            (Some(a), Some(b)) => Some(pick(a, b)),
            (one, other) => one.or(other),
        };
        (both(floor, asked.floor_cd, f64::max), both(ceiling, asked.ceiling_cd, f64::min))
    })
}

/// A light around both planes, the upright one through its worst direction, else through the middle of what is asked; `None`
/// where nothing is asked of it in any direction of them.
pub(super) fn around(
    light: &Shown,
    scene: &Scene<'_>,
    goals: &[&Goal<'_>],
    worst: Option<(f64, f64)>,
) -> Option<Around> {
    let shines = Light::new(light, scene);
    let plane = |plane: Plane| {
        let points = (-180..180).map(|angle| {
            let d = direction(plane, f64::from(angle));
            let (floor, ceiling) = asked(goals, scene, &d);
            PolarPoint { angle_deg: f64::from(angle), found: shines.found(&d), floor, ceiling }
        });
        points.collect::<Vec<_>>()
    };
    let points = plane(Plane::Horizontal);
    let is_asked = |p: &PolarPoint| p.floor.is_some() || p.ceiling.is_some();
    let azimuth_deg = worst.map_or_else(|| middle(&points), |(azimuth, _)| azimuth.round());
    let upright = plane(Plane::Vertical { azimuth_deg });
    if !points.iter().chain(&upright).any(is_asked) {
        return None;
    }
    let on_horizon = worst.filter(|(_, el)| el.abs() < 0.5).map(|(az, _)| az);
    let horizon = Polar { plane: Plane::Horizontal, points, worst_deg: on_horizon };
    let worst_deg = worst.map(|(_, el)| el);
    Some(Around {
        horizon,
        azimuth_deg,
        upright: Polar { plane: Plane::Vertical { azimuth_deg }, points: upright, worst_deg },
    })
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
