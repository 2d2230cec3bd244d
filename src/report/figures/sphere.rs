//! What becomes of a light over the whole sphere.

use super::lights::Shown;
use super::polar::{Light, asked};
use crate::geometry::{AzimuthSpan, Direction, Patch};
use crate::judge::Verdict;
use crate::measure::Where;
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
        let near = |a: &(f64, f64, String)| (a.0 - azimuth).abs() < 1.0 && (a.1 - elevation).abs() < 1.0;
        if marks.len() < MOST_WORST && !marks.iter().any(near) {
            marks.push((azimuth, elevation, title));
        }
    }
    marks
}

/// The map of a light.
pub(super) fn map(light: &Shown, scene: &Scene<'_>, goals: &[&Goal<'_>], worst: Vec<(f64, f64, String)>) -> SphereMap {
    let (shines, sum) = (Light::new(light, scene), Sum::new(scene.lamps(&light.lamps)));
    let cover = |d: &Direction| {
        if scene.lamps(&light.lamps).all(|l| l.hidden(d) == Hidden::Yes) {
            let by_airframe = scene.lamps(&light.lamps).any(|l| l.is_hidden_by_airframe(d));
            return if by_airframe { Cover::Airframe } else { Cover::Masked };
        }
        let (floor, ceiling) = asked(goals, scene, d);
        bright(shines.found(d), floor, ceiling, || {
            sum.causes(d)
                .iter()
                .any(|c| matches!(c, Cause::Penumbra { .. } | Cause::AirframeEdge { .. } | Cause::MaskEdge { .. }))
        })
    };
    let count = (180.0 / STEP_DEG) as usize;
    let middle = |n: usize, from: f64| from + (n as f64 + 0.5) * STEP_DEG;
    let mut areas: BTreeMap<Cover, f64> = BTreeMap::new();
    let fields = (0..count)
        .map(|row| {
            let elevation = middle(row, -90.0);
            let low = Interval { low: elevation - 0.5 * STEP_DEG, high: elevation + 0.5 * STEP_DEG };
            let field_sr = Patch { azimuth: AzimuthSpan::new(0.0, STEP_DEG), elevation_deg: low }.solid_angle_sr();
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

fn bright(found: Interval, floor: Option<f64>, ceiling: Option<f64>, is_shaded: impl Fn() -> bool) -> Cover {
    if floor.is_some_and(|floor| found.high < floor) {
        return Cover::Short;
    }
    if ceiling.is_some_and(|ceiling| found.low > ceiling) {
        return Cover::Spill;
    }
    let open = floor.is_some_and(|floor| found.low < floor) || ceiling.is_some_and(|ceiling| found.high > ceiling);
    match (open, is_shaded()) {
        (_, true) => Cover::Shaded,
        (true, false) => Cover::Unsure,
        (false, false) => Cover::Seen,
    }
}
