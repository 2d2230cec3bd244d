//! What is asked and what is allowed: lines that step where the figure steps, hatched on the side that is forbidden.

use super::super::style::{CEILING, FLOOR, path};
use super::paper::{Paper, RIM};
use crate::report::evidence::PolarPoint;
use maud::{Markup, html};

/// How deep the hatching is.
const DEPTH: f64 = 11.0;
/// How far apart its strokes are, and how far each leans along the limit.
const APART: f64 = 5.5;
/// No arc is narrower than this, and arcs that are widened to it still touch.
const NARROW_DEG: f64 = 1.0;

/// Angles over which one figure is the limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Arc {
    pub(super) from_deg: f64,
    pub(super) to_deg: f64,
    pub(super) cd: f64,
}

/// Neighbours all round that share a key, as places in order.
pub(super) fn runs<K: PartialEq>(keys: &[K]) -> Vec<Vec<usize>> {
    let count = keys.len();
    let start = (0..count).find(|n| keys[*n] != keys[(n + count - 1) % count]).unwrap_or(0);
    let mut runs: Vec<Vec<usize>> = Vec::new();
    for n in (start..start + count).map(|n| n % count) {
        match runs.last_mut() {
            Some(run) if run.last().is_some_and(|last| keys[*last] == keys[n]) => run.push(n),
            _ => runs.push(vec![n]),
        }
    }
    runs
}

/// The arcs of a limit. Where it steps, the stricter figure holds up to its last angle: rows share their ends.
pub(super) fn arcs(
    points: &[PolarPoint],
    limit: fn(&PolarPoint) -> Option<f64>,
    strict: fn(f64, f64) -> bool,
) -> Vec<Arc> {
    let keys: Vec<Option<f64>> = points.iter().map(limit).collect();
    let runs = runs(&keys);
    let angle = |n: usize| points[n].angle_deg;
    let ends: Vec<_> = runs.iter().filter_map(|r| Some((*r.first()?, *r.last()?))).collect();
    let mut arcs = Vec::new();
    for (n, (first, last)) in ends.iter().enumerate() {
        let Some(cd) = keys[*first] else { continue };
        let (before, after) = (ends[(n + ends.len() - 1) % ends.len()].1, ends[(n + 1) % ends.len()].0);
        let stricter = |other: usize| keys[other].is_some_and(|o| strict(o, cd));
        let from_deg = if stricter(before) { angle(before) } else { angle(*first) };
        let to_deg = if stricter(after) { angle(after) } else { angle(*last) };
        arcs.push(opened(Arc { from_deg, to_deg, cd }, ends.len() == 1));
    }
    arcs
}

/// An arc whose end comes after its start, all round where it is alone, and no narrower than can be seen.
fn opened(arc: Arc, all_round: bool) -> Arc {
    let swept = if all_round { 360.0 } else { (arc.to_deg - arc.from_deg).rem_euclid(360.0) };
    let spare = (NARROW_DEG - swept).max(0.0) / 2.0;
    Arc { from_deg: arc.from_deg - spare, to_deg: arc.from_deg + swept + spare, cd: arc.cd }
}

pub(super) fn floors(points: &[PolarPoint]) -> Vec<Arc> {
    arcs(points, |p| p.floor, |other, own| other > own)
}

pub(super) fn ceilings(points: &[PolarPoint]) -> Vec<Arc> {
    arcs(points, |p| p.ceiling, |other, own| other < own)
}

/// Hatching along the limits: inside what is asked, outside what is allowed.
///
/// Strokes and no patterns: printed, a turned pattern becomes an image, coarse and large.
pub(super) fn bands(paper: &Paper, points: &[PolarPoint]) -> Markup {
    let strokes = |arcs: &[Arc], depth: f64| arcs.iter().map(|arc| hatching(paper, arc, depth)).collect::<String>();
    html! {
        path d=(strokes(&floors(points), -DEPTH)) fill="none" stroke=(FLOOR) stroke-width="1.1" {}
        path d=(strokes(&ceilings(points), DEPTH)) fill="none" stroke=(CEILING) stroke-width="1.1" {}
    }
}

fn hatching(paper: &Paper, arc: &Arc, depth: f64) -> String {
    let radius = paper.radius(arc.cd).max(1.0);
    let step = (APART / radius).to_degrees();
    let count = ((arc.to_deg - arc.from_deg) / step).floor().clamp(0.0, 400.0) as usize;
    let far = (radius + depth).clamp(0.0, RIM);
    let stroke = |n: usize| {
        let deg = arc.from_deg + n as f64 * step;
        path(&[paper.place(deg, radius), paper.place((deg + step).min(arc.to_deg), far)], false)
    };
    (0..=count).map(stroke).collect()
}

/// The lines of the limits.
pub(super) fn lines(paper: &Paper, points: &[PolarPoint]) -> Markup {
    html! {
        @for edge in stepped(paper, &floors(points)) { (floor_line(&edge)) }
        @for edge in stepped(paper, &ceilings(points)) { (ceiling_line(&edge)) }
    }
}

pub(super) fn floor_line(d: &str) -> Markup {
    html! { path d=(d) fill="none" stroke=(FLOOR) stroke-width="3.2" stroke-dasharray="9 4" {} }
}

pub(super) fn ceiling_line(d: &str) -> Markup {
    html! { path d=(d) fill="none" stroke=(CEILING) stroke-width="2.6" stroke-dasharray="13 4 2.5 4" {} }
}

/// One line through arcs that touch, so that dashes run on over steps.
fn stepped(paper: &Paper, arcs: &[Arc]) -> Vec<String> {
    let touch =
        |a: &Arc, b: &Arc| ((b.from_deg - a.to_deg + 180.0).rem_euclid(360.0) - 180.0).abs() < 0.51 * NARROW_DEG;
    let mut chains: Vec<Vec<Arc>> = Vec::new();
    for arc in arcs {
        match chains.last_mut() {
            Some(chain) if chain.last().is_some_and(|last| touch(last, arc)) => chain.push(*arc),
            _ => chains.push(vec![*arc]),
        }
    }
    // What runs on from the last point to the first is one line too.
    let round = |a: &[Arc], b: &[Arc]| a.last().zip(b.first()).is_some_and(|(a, b)| touch(a, b));
    if chains.len() > 1 && chains.last().is_some_and(|last| round(last, &chains[0])) {
        let first = chains.remove(0);
        if let Some(last) = chains.last_mut() {
            last.extend(first);
        }
    }
    let alone = chains.len() == 1;
    let line = |chain: &Vec<Arc>| {
        let corners: Vec<_> = chain.iter().flat_map(|a| paper.arc(a.from_deg, a.to_deg, paper.radius(a.cd))).collect();
        let closed = alone && round(chain, chain);
        path(&corners, closed)
    };
    chains.iter().map(line).collect()
}

/// A sample of the hatching, so wide, from a height on.
pub(super) fn sample(wide: f64, top: f64, stroke: &str) -> Markup {
    let count = (wide / APART) as usize;
    let stroke_at = |n: usize| path(&[[n as f64 * APART, top + 7.0], [(n + 1) as f64 * APART, top]], false);
    html! { path d=((0..count).map(stroke_at).collect::<String>()) fill="none" stroke=(stroke) stroke-width="1.1" {} }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Interval;

    fn points(floors: &[(f64, Option<f64>)]) -> Vec<PolarPoint> {
        let point = |(angle_deg, floor): &(f64, Option<f64>)| PolarPoint {
            angle_deg: *angle_deg,
            found: Interval::ZERO,
            floor: *floor,
            ceiling: *floor,
        };
        floors.iter().map(point).collect()
    }

    #[test]
    fn the_stricter_figure_holds_up_to_its_last_angle() {
        let given = [(-180.0, None), (0.0, Some(40.0)), (10.0, Some(40.0)), (11.0, Some(30.0)), (20.0, Some(30.0))];
        let arc = |from_deg, to_deg, cd| Arc { from_deg, to_deg, cd };
        assert_eq!(floors(&points(&given)), [arc(0.0, 10.0, 40.0), arc(10.0, 20.0, 30.0)]);
        assert_eq!(ceilings(&points(&given)), [arc(0.0, 11.0, 40.0), arc(11.0, 20.0, 30.0)]);
    }

    #[test]
    fn arcs_run_on_through_aft() {
        let given = [(-180.0, Some(3.0)), (-90.0, Some(3.0)), (0.0, None), (90.0, Some(3.0))];
        assert_eq!(floors(&points(&given)), [Arc { from_deg: 90.0, to_deg: 270.0, cd: 3.0 }]);
        let all = [(-180.0, Some(3.0)), (0.0, Some(3.0))];
        assert_eq!(floors(&points(&all)), [Arc { from_deg: -180.0, to_deg: 180.0, cd: 3.0 }]);
        assert_eq!(floors(&[]), []);
    }

    #[test]
    fn a_line_that_begins_at_a_step_closes_over_it() {
        let given = [(-180.0, Some(3.0)), (-90.0, Some(5.0)), (0.0, None), (90.0, Some(3.0))];
        let points = points(&given);
        let scale = super::super::scale::Scale::of(&points);
        let paper = Paper { plane: crate::report::evidence::Plane::Horizontal, scale };
        assert_eq!(stepped(&paper, &floors(&points)).len(), 1);
    }
}
