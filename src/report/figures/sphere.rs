//! What becomes of a light over the whole sphere.

use super::lights::Shown;
use super::polar::{Light, asked};
use crate::geometry::{AzimuthSpan, Direction, Patch};
use crate::judge::Verdict;
use crate::measure::{Asked, Where};
use crate::report::evidence::{Cover, SphereMap};
use crate::report::{GoalReport, Report};
use crate::resolve::Goal;
use crate::scene::{Cause, Hidden, Scene, Sum};
use crate::units::Interval;
use std::collections::BTreeMap;

const STEP_DEG: f64 = 3.0;
/// More marks than this hide the map.
const MOST_WORST: usize = 5;

/// The worst directions of the goals of a light: those missed first, then those that cannot be told, then the least margins.
pub(super) fn worst(light: &Shown, scene: &Scene<'_>, report: &Report) -> Vec<(f64, f64, String)> {
    let names: Vec<&String> = scene.lamps(&light.lamps).map(|l| &l.name).collect();
    let own = |g: &&GoalReport| g.binding && !g.lamps.is_empty() && g.lamps.iter().all(|l| names.contains(&l));
    let mut goals: Vec<&GoalReport> = report.goals.iter().filter(own).collect();
    let rank = |g: &GoalReport| match g.verdict {
        Verdict::Missed => 0,
        Verdict::CannotTell => 1,
        _ => 2,
    };
    let margin = |g: &GoalReport| g.margin.filter(|_| g.margin_unit.is_none()).map_or(f64::INFINITY, |m| m.low);
    goals.sort_by(|a, b| rank(a).cmp(&rank(b)).then(margin(a).total_cmp(&margin(b))));
    let place = |g: &GoalReport| match g.found.as_ref()?.at.as_ref()? {
        Where::Direction { azimuth_deg, elevation_deg } => Some((*azimuth_deg, *elevation_deg, g.title.clone())),
        _ => None,
    };
    let mut marks: Vec<(f64, f64, String)> = Vec::new();
    for (azimuth, elevation, title) in goals.into_iter().filter_map(place) {
        let apart = |a: f64, b: f64| ((a - b + 540.0).rem_euclid(360.0) - 180.0).abs();
        let near = |a: &(f64, f64, String)| apart(a.0, azimuth) < 1.0 && (a.1 - elevation).abs() < 1.0;
        if marks.len() < MOST_WORST && !marks.iter().any(near) {
            marks.push((azimuth, elevation, title));
        }
    }
    marks
}

/// The map of a light.
pub(super) fn map(
    light: &Shown,
    shines: &Light<'_>,
    scene: &Scene<'_>,
    goals: &[&Goal<'_>],
    worst: Vec<(f64, f64, String)>,
) -> SphereMap {
    let sum = Sum::new(scene.lamps(&light.lamps));
    let cover = |d: &Direction| {
        if scene.lamps(&light.lamps).all(|l| l.hidden(d) == Hidden::Yes) {
            let by_airframe = scene.lamps(&light.lamps).any(|l| l.is_hidden_by_airframe(d));
            return if by_airframe { Cover::Airframe } else { Cover::Masked };
        }
        let asked = asked(goals, scene, d);
        let found: Vec<(Interval, Asked)> = asked.into_iter().map(|a| (shines.found(a.measured, d), a)).collect();
        bright(&found, || {
            let is_edge =
                |c: &Cause| matches!(c, Cause::Penumbra { .. } | Cause::AirframeEdge { .. } | Cause::MaskEdge { .. });
            sum.causes(d).iter().any(is_edge)
        })
    };
    let count = (180.0 / STEP_DEG) as usize;
    let middle = |n: usize, from: f64| from + (n as f64 + 0.5) * STEP_DEG;
    let mut areas: BTreeMap<Cover, f64> = BTreeMap::new();
    let fields = (0..count)
        .map(|row| {
            let elevation = middle(row, -90.0);
            let band = Interval { low: elevation - 0.5 * STEP_DEG, high: elevation + 0.5 * STEP_DEG };
            let field_sr = Patch { azimuth: AzimuthSpan::new(0.0, STEP_DEG), elevation_deg: band }.solid_angle_sr();
            let of_row = (0..2 * count).map(|column| {
                let found = cover(&Direction::from_degrees(middle(column, -180.0), elevation));
                *areas.entry(found).or_default() += field_sr;
                found
            });
            of_row.collect()
        })
        .collect();
    SphereMap { step_deg: STEP_DEG, fields, areas: areas.into_iter().collect(), worst }
}

fn bright(found: &[(Interval, Asked)], is_shaded: impl Fn() -> bool) -> Cover {
    let any = |of: &dyn Fn(&Interval, &Asked) -> bool| found.iter().any(|(cd, asked)| of(cd, asked));
    if any(&|cd, asked| asked.floor_cd.is_some_and(|floor| cd.high < floor)) {
        return Cover::Short;
    }
    if any(&|cd, asked| asked.ceiling_cd.is_some_and(|ceiling| cd.low > ceiling)) {
        return Cover::Spill;
    }
    let open = any(&|cd, asked| {
        asked.floor_cd.is_some_and(|floor| cd.low < floor) || asked.ceiling_cd.is_some_and(|ceiling| cd.high > ceiling)
    });
    match open {
        true if is_shaded() => Cover::Shaded,
        true => Cover::Unsure,
        false if found.is_empty() => Cover::NotAsked,
        false => Cover::Seen,
    }
}
