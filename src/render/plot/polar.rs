//! Luminous intensity around a plane: what was found between what is asked and what is allowed, over angle.

mod band;
mod grid;
mod legend;
mod limits;
mod paper;
mod scale;

use super::style::{INK, drawing, number, path};
use crate::report::evidence::{Polar, PolarPoint};
use maud::{Markup, html};
use paper::{Paper, RIM};

/// Draws a polar diagram.
pub(in crate::render) fn draw(id: &str, title: &str, polar: &Polar) -> Markup {
    let points = tidied(&polar.points);
    let paper = Paper { plane: polar.plane, scale: scale::Scale::of(&points) };
    let worst = polar.worst_deg.filter(|deg| deg.is_finite());
    let (below, height) = legend::draw(&paper, &points, worst);
    let body = html! {
        (grid::rings(&paper))
        (limits::bands(&paper, &points))
        (band::draw(&paper, &points))
        (limits::lines(&paper, &points))
        (grid::labels(&paper, &points))
        @if let Some(deg) = worst { (marker(&paper, &points, deg)) }
        (below)
    };
    drawing(id, height, title, &legend::told(&paper, &points, worst), &body)
}

/// Points that can be drawn: what is not a number bounds nothing.
fn tidied(points: &[PolarPoint]) -> Vec<PolarPoint> {
    let mut kept: Vec<PolarPoint> = points.iter().copied().filter(|p| p.angle_deg.is_finite()).collect();
    for point in &mut kept {
        let found = &mut point.found;
        found.low = if found.low.is_nan() { 0.0 } else { found.low.max(0.0) };
        found.high = if found.high.is_nan() { f64::INFINITY } else { found.high.max(found.low) };
        point.floor = point.floor.filter(|cd| cd.is_finite() && *cd > 0.0);
        point.ceiling = point.ceiling.filter(|cd| cd.is_finite() && *cd >= 0.0);
    }
    kept
}

/// The worst direction: a ring where the figure is, and a line from it to the rim, which tells the angle at the centre.
fn marker(paper: &Paper, points: &[PolarPoint], deg: f64) -> Markup {
    let [x, y] = paper.at(deg, nearest(points, deg).map_or(0.0, worse));
    html! {
        path d=(path(&[[x, y], paper.place(deg, RIM)], false)) stroke=(INK) stroke-width="1" stroke-dasharray="1 3" {}
        circle cx=(number(x)) cy=(number(y)) r="7" fill="none" stroke="#fff" stroke-width="5" {}
        circle cx=(number(x)) cy=(number(y)) r="7" fill="none" stroke=(INK) stroke-width="2.5" {}
    }
}

fn nearest(points: &[PolarPoint], deg: f64) -> Option<&PolarPoint> {
    let off = |p: &PolarPoint| {
        let turned = (p.angle_deg - deg).rem_euclid(360.0);
        turned.min(360.0 - turned)
    };
    points.iter().min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// The end of what was found that is worse: the low one, unless only the high one breaks a limit.
fn worse(point: &PolarPoint) -> f64 {
    let short = point.floor.is_some_and(|cd| point.found.low < cd);
    let over = point.ceiling.is_some_and(|cd| point.found.high > cd);
    if over && !short { point.found.high } else { point.found.low }
}

#[cfg(test)]
mod tests;
