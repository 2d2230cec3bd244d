//! Rings at decades and spokes each 30 degrees.

use super::super::lettering::on_top;
use super::super::style::{FAINT, INK, SOFT, number, path};
use super::super::words::all;
use super::paper::{CENTRE, Paper, RIM};
use crate::report::evidence::{Plane, PolarPoint};
use crate::units::{Azimuth, short};
use maud::{Markup, html};

/// Rings are labelled between two spokes, where words about the rim leave room.
const DIAGONALS: [f64; 4] = [45.0, 135.0, -135.0, -45.0];
/// How far to either side a label may reach.
const NEAR_DEG: f64 = 12.0;

/// Rings and spokes.
pub(super) fn rings(paper: &Paper) -> Markup {
    let [x, y] = CENTRE;
    html! {
        g fill="none" stroke=(FAINT) stroke-width="1" {
            @for cd in paper.scale.rings() {
                circle cx=(number(x)) cy=(number(y)) r=(number(paper.radius(cd))) {}
            }
            @for n in 0..12 { path d=(path(&[CENTRE, paper.place(f64::from(n) * 30.0, RIM)], false)) {} }
        }
        circle cx=(number(x)) cy=(number(y)) r=(number(RIM)) fill="none" stroke=(SOFT) stroke-width="1" {}
    }
}

/// What rings and spokes are called.
pub(super) fn labels(paper: &Paper, points: &[PolarPoint]) -> Markup {
    let rings: Vec<f64> = paper.scale.rings().collect();
    let angle = emptiest(paper, points);
    html! {
        @for (n, cd) in rings.iter().enumerate() {
            @let [x, y] = paper.at(angle, *cd);
            @if n + 1 == rings.len() {
                (at_rim([x, y], 13.0, SOFT, &[format!("{} cd", short(*cd))]))
            } @else {
                (on_top([x, y + 4.0], 13.0, "middle", SOFT, &[short(*cd)]))
            }
        }
        @for n in 0..12 { (spoke(paper, n)) }
    }
}

/// The diagonal nearest to which the least is drawn.
fn emptiest(paper: &Paper, points: &[PolarPoint]) -> f64 {
    let reach = |p: &PolarPoint| {
        let ends = [Some(p.found.high), p.floor, p.ceiling];
        ends.into_iter().flatten().map(|cd| paper.radius(cd)).fold(0.0, f64::max)
    };
    let near = |deg: f64| {
        let off = |p: &PolarPoint| Azimuth::from_deg(p.angle_deg - deg).deg().abs();
        points.iter().filter(|p| off(p) < NEAR_DEG).map(reach).fold(0.0, f64::max)
    };
    DIAGONALS.into_iter().min_by(|a, b| near(*a).total_cmp(&near(*b))).unwrap_or(DIAGONALS[0])
}

/// Words outside the rim, which hang from it below and stand on it above.
fn at_rim([x, y]: [f64; 2], size: f64, fill: &str, lines: &[String]) -> Markup {
    let [across, down] = [(x - CENTRE[0]) / RIM, (y - CENTRE[1]) / RIM];
    let anchor = if across > 0.1 {
        "start"
    } else if across < -0.1 {
        "end"
    } else {
        "middle"
    };
    let lift = 8.0 * (lines.len() - 1) as f64;
    on_top([x + 8.0 * across, y + 5.0 + 13.0 * down - lift], size, anchor, fill, lines)
}

fn spoke(paper: &Paper, n: u8) -> Markup {
    let deg = f64::from(n) * 30.0;
    let at = paper.place(deg, RIM);
    if n.is_multiple_of(3) {
        let words = quarter(paper.plane, n / 3);
        return match words.split_once(' ') {
            Some((side, angle)) => at_rim(at, 12.0, INK, &[side.into(), angle.into()]),
            None => at_rim(at, 14.0, INK, &[words]),
        };
    }
    at_rim(at, 12.0, SOFT, &[format!("{}°", number(from_nearest(paper.plane, deg)))])
}

/// Azimuths count from ahead to either side, elevations from the horizon up and down.
fn from_nearest(plane: Plane, deg: f64) -> f64 {
    let turned = Azimuth::from_deg(deg).deg().abs();
    match plane {
        Plane::Vertical { .. } if turned > 90.0 => 180.0 - turned,
        _ => turned,
    }
}

fn quarter(plane: Plane, n: u8) -> String {
    let azimuth = |deg: f64| match Azimuth::from_deg(deg).deg() {
        90.0 => all::RIGHT.to_string(),
        -90.0 => all::LEFT.to_string(),
        // There is room for a tenth of a degree.
        other => Azimuth::from_deg((other * 10.0).round() / 10.0).to_string(),
    };
    match (plane, n) {
        (Plane::Horizontal, 0) => all::AHEAD.into(),
        (Plane::Horizontal, 1) => all::RIGHT.into(),
        (Plane::Horizontal, 2) => all::AFT.into(),
        (Plane::Horizontal, _) => all::LEFT.into(),
        (Plane::Vertical { azimuth_deg }, 0) => azimuth(azimuth_deg),
        (Plane::Vertical { .. }, 1) => all::UP.into(),
        (Plane::Vertical { azimuth_deg }, 2) => azimuth(azimuth_deg + 180.0),
        (Plane::Vertical { .. }, _) => all::DOWN.into(),
    }
}
