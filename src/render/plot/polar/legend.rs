//! What a polar diagram says in words: the key below it, and its description for readers who do not see it.

use super::super::key::{self, Entry, HIGH, SAMPLE};
use super::super::style::{CEILING, FLOOR, FOUND, INK, number};
use super::super::words::{all, polar as words};
use super::limits::{self, Arc, ceilings, floors};
use super::paper::{CENTRE, Paper, RIM};
use crate::report::evidence::{Plane, PolarPoint};
use crate::units::{Azimuth, short};
use maud::{Markup, html};

/// The key, and where it ends.
pub(super) fn draw(paper: &Paper, points: &[PolarPoint], worst: Option<f64>) -> (Markup, f64) {
    let top = CENTRE[1] + RIM + 34.0;
    let (key, end) = key::draw(top, 2, &entries(paper, points, worst));
    let (notes, end) = key::notes(end + 2.0, &notes(paper, points));
    (html! { (key) (notes) }, end)
}

fn entries(paper: &Paper, points: &[PolarPoint], worst: Option<f64>) -> Vec<Entry> {
    let mut entries: Vec<Entry> = Vec::new();
    if !points.is_empty() {
        entries.push((found(), words::FOUND.into()));
    }
    let line = format!("M0 7H{}", number(SAMPLE));
    if !floors(points).is_empty() {
        entries.push((limited(FLOOR, 7.0, &limits::floor_line(&line)), words::FLOOR.into()));
    }
    if !ceilings(points).is_empty() {
        entries.push((limited(CEILING, 0.0, &limits::ceiling_line(&line)), words::CEILING.into()));
    }
    if let Some(deg) = worst {
        let ring = html! {
            circle cx=(number(SAMPLE / 2.0)) cy="7" r="6" fill="none" stroke=(INK) stroke-width="2.5" {}
        };
        entries.push((ring, format!("{}: {}", all::WORST, paper.words(deg))));
    }
    entries
}

fn found() -> Markup {
    html! {
        rect y="1" width=(number(SAMPLE)) height=(number(HIGH - 2.0)) fill=(FOUND) fill-opacity="0.2" {}
        path d={ "M0 1H" (number(SAMPLE)) "M0 " (number(HIGH - 1.0)) "H" (number(SAMPLE)) }
            stroke=(FOUND) stroke-width="1.75" {}
    }
}

fn limited(stroke: &str, y: f64, line: &Markup) -> Markup {
    html! {
        (limits::sample(SAMPLE, y, stroke))
        (line)
    }
}

/// Whether an upright plane holds no floor at all.
fn not_asked(paper: &Paper, points: &[PolarPoint]) -> bool {
    matches!(paper.plane, Plane::Vertical { .. }) && !points.is_empty() && floors(points).is_empty()
}

fn unbounded(points: &[PolarPoint]) -> bool {
    points.iter().any(|p| p.found.high.is_infinite())
}

fn notes(paper: &Paper, points: &[PolarPoint]) -> Vec<String> {
    let centre = short(10_f64.powi(paper.scale.centre));
    let mut notes = vec![format!("{} {centre}\u{a0}{}", words::RINGS, words::AND_LESS)];
    if points.is_empty() {
        notes.push(words::NOTHING.into());
    }
    if not_asked(paper, points) {
        notes.push(words::NOT_ASKED.into());
    }
    if unbounded(points) {
        notes.push(words::UNBOUNDED.into());
    }
    notes
}

/// The diagram in words.
pub(super) fn told(paper: &Paper, points: &[PolarPoint], worst: Option<f64>) -> String {
    let plane = match paper.plane {
        Plane::Horizontal => words::HORIZONTAL.to_string(),
        Plane::Vertical { azimuth_deg } => format!("{} {}", words::VERTICAL, Azimuth::from_deg(azimuth_deg)),
    };
    let mut parts = vec![format!("{plane}, {}", words::UNIT)];
    if points.is_empty() {
        return format!("{}. {}", parts[0], words::NOTHING);
    }
    let lows = points.iter().map(|p| p.found.low).reduce(f64::min);
    let highs = points.iter().map(|p| p.found.high).filter(|cd| cd.is_finite()).reduce(f64::max);
    parts.extend(spanned(words::FOUND, lows, highs));
    parts.extend(asked(words::FLOOR, &floors(points)));
    parts.extend(asked(words::CEILING, &ceilings(points)));
    parts.extend(worst.map(|deg| format!("{}: {}", all::WORST, paper.words(deg))));
    let mut told = parts.join("; ") + ".";
    if not_asked(paper, points) {
        told = format!("{told} {}", words::NOT_ASKED);
    }
    if unbounded(points) { format!("{told} {}", words::UNBOUNDED) } else { told }
}

fn asked(what: &str, arcs: &[Arc]) -> Option<String> {
    let cd = || arcs.iter().map(|a| a.cd);
    spanned(what, cd().reduce(f64::min), cd().reduce(f64::max))
}

fn spanned(what: &str, least: Option<f64>, most: Option<f64>) -> Option<String> {
    match (least?, most) {
        (least, Some(most)) if least != most => {
            Some(format!("{what}: {} {} {} {}", all::FROM, short(least), all::TO, short(most)))
        }
        (least, _) => Some(format!("{what}: {}", short(least))),
    }
}
