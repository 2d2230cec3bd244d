//! The model in three views with its lamps and what they are asked to show.

use super::lights::Shown;
use crate::aircraft::Aircraft;
use crate::geometry::{Direction, Point};
use crate::report::documentation::LampRow;
use crate::report::evidence::{PlacedLamp, ThreeViews};
use crate::resolve::Goal;
use crate::rules::{DihedralAngle, Region};
use crate::scene::{Hidden, Scene, SceneLamp};

const FORWARD: Point = [1.0, 0.0, 0.0];
const RIGHT: Point = [0.0, 1.0, 0.0];
const LEFT: Point = [0.0, -1.0, 0.0];
const UP: Point = [0.0, 0.0, 1.0];

type Rings = Vec<Vec<[f64; 2]>>;

/// The three views.
pub(super) fn three(scene: &Scene<'_>, lights: &[Shown], asked: &[Goal<'_>], rows: &[LampRow]) -> ThreeViews {
    let aircraft = scene.aircraft;
    let of_mesh = |across, up| aircraft.airframe.as_ref().map(|a| a.mesh().silhouette(across, up));
    let [plan, side, front] = match (of_mesh(RIGHT, FORWARD), of_mesh(FORWARD, UP), of_mesh(LEFT, UP)) {
        (Some(plan), Some(side), Some(front)) => [plan, side, front],
        _ => declared(aircraft),
    };
    let lamp = |(n, row): (usize, &LampRow)| {
        let place = aircraft.lamps.get(n)?.place?;
        let physics = scene.lamps.get(n)?;
        let asked_deg = lights.iter().find(|l| l.lamps.contains(&n)).and_then(|light| span(light, asked));
        Some(PlacedLamp {
            number: row.number,
            name: row.name.clone(),
            place: [place.forward_mm, place.right_mm, place.up_mm],
            asked_deg,
            hidden_deg: asked_deg.map_or_else(Vec::new, |span| hidden(physics, span)),
            hue: row.hue,
        })
    };
    ThreeViews {
        from_mesh: aircraft.airframe.is_some(),
        plan,
        side,
        front,
        lamps: rows.iter().enumerate().filter_map(lamp).collect(),
    }
}

/// What the declared span and length bound: a box in each view they tell of, its height unknown and so left out.
fn declared(aircraft: &Aircraft) -> [Rings; 3] {
    let places: Vec<[f64; 3]> = aircraft
        .lamps
        .iter()
        .filter_map(|l| l.place)
        .map(|p| [p.forward_mm.unwrap_or(0.0), p.right_mm.unwrap_or(0.0), p.up_mm.unwrap_or(0.0)])
        .collect();
    let ends = |axis: usize| {
        let of = places.iter().map(|p| p[axis]);
        (of.clone().fold(0.0_f64, f64::min), of.fold(0.0_f64, f64::max))
    };
    let half_span = aircraft.span.map(|s| 0.5 * s.mm());
    let nose = aircraft.nose_forward_mm;
    let along = aircraft.length.map(|l| {
        // Where the nose is not said, the lamps tell where the length may lie.
        let nose = nose.unwrap_or_else(|| 0.5 * (ends(0).0 + ends(0).1 + l.mm()));
        (nose - l.mm(), nose)
    });
    let ring = |(left, right): (f64, f64), (low, high): (f64, f64)| {
        vec![vec![[left, low], [right, low], [right, high], [left, high]]]
    };
    let height = ends(2);
    let (span, length) = (half_span.map(|h| (-h, h)), along);
    let plan = span.zip(length).map_or_else(Vec::new, |(span, length)| ring(span, length));
    let side = length.map_or_else(Vec::new, |length| ring(length, height));
    let front = span.map_or_else(Vec::new, |span| ring(span, height));
    [plan, side, front]
}

/// The azimuths of the dihedral angle a light is asked over, from and to turning right.
fn span(light: &Shown, asked: &[Goal<'_>]) -> Option<(f64, f64)> {
    let own = |g: &&Goal<'_>| !g.lamps.is_empty() && g.lamps.iter().all(|n| light.lamps.contains(n));
    asked.iter().filter(own).find_map(|goal| match goal.spec.region.as_ref()? {
        Region::Dihedral(DihedralAngle::L) => Some((-110.0, 0.0)),
        Region::Dihedral(DihedralAngle::R) => Some((0.0, 110.0)),
        Region::Dihedral(DihedralAngle::A) => Some((110.0, 250.0)),
        _ => None,
    })
}

/// The azimuths on the horizon, within some, in which a lamp is hidden, whole degrees.
fn hidden(lamp: &SceneLamp, (from, to): (f64, f64)) -> Vec<(f64, f64)> {
    let mut runs: Vec<(f64, f64)> = Vec::new();
    let mut azimuth = from + 0.5;
    while azimuth < to {
        if lamp.hidden(&Direction::from_degrees(azimuth, 0.0)) == Hidden::Yes {
            match runs.last_mut().filter(|(_, end)| (*end - (azimuth - 0.5)).abs() < 1e-9) {
                Some((_, end)) => *end = azimuth + 0.5,
                None => runs.push((azimuth - 0.5, azimuth + 0.5)),
            }
        }
        azimuth += 1.0;
    }
    runs
}
