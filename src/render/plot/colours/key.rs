//! The table below the diagram: which mark is which lamps, and their x and y.

use super::super::hue::chip;
use super::super::lettering::{listed, names};
use super::super::style::{INK, SOFT, number};
use super::super::words;
use super::lamps::{fill, is_one, place, shape};
use crate::report::evidence::ColourMark;
use crate::units::rounded;
use maud::{Markup, html};

const NAMES_AT: f64 = 84.0;
const VALUES_AT: f64 = 330.0;
const LINE: f64 = 18.0;
const BETWEEN: f64 = 10.0;

/// The table from a height on, and where it ends.
pub(super) fn draw(marks: &[ColourMark], top: f64) -> (Markup, f64) {
    let mut y = top;
    let mut rows = Vec::new();
    for (n, mark) in marks.iter().enumerate() {
        let (row, used) = row(n, mark, y);
        rows.push(row);
        y += used;
    }
    let hollow = marks.iter().any(|m| !is_one(m));
    let body = html! {
        g class="key" {
            @for row in rows { (row) }
            @if hollow { text x="8" y=(number(y)) fill=(SOFT) font-size="13" { (words::COLOURS_HOLLOW) } }
        }
    };
    (body, y + if hollow { 10.0 } else { -BETWEEN })
}

fn row(n: usize, mark: &ColourMark, y: f64) -> (Markup, f64) {
    let names = names(&mark.lamps, VALUES_AT - NAMES_AT - 12.0, 14.0, 4);
    let values = values(mark);
    let body = html! {
        path d=(shape(n, [16.0, y - 5.0], 6.5)) fill=(fill(mark)) stroke=(INK) stroke-width="1.25" {}
        text x="38" y=(number(y)) text-anchor="middle" font-weight="bold" { (n + 1) }
        (chip(mark.hue, [64.0, y - 5.0]))
        @for (k, line) in names.iter().enumerate() {
            text x=(number(NAMES_AT)) y=(number(y + LINE * k as f64)) { (line) }
        }
        @for (k, line) in values.iter().enumerate() {
            text x=(number(VALUES_AT)) y=(number(y + LINE * k as f64)) { (line) }
        }
    };
    (body, LINE * names.len().max(values.len()).max(1) as f64 + BETWEEN)
}

/// What is told of a lamp's colour, line by line.
fn values(mark: &ColourMark) -> Vec<String> {
    let mut lines = Vec::new();
    match (extent(mark, 0), extent(mark, 1)) {
        (Some(x), Some(y)) if is_one(mark) => lines.push(format!("x {x}, y {y}")),
        (Some(x), Some(y)) => lines.extend([format!("x {x}"), format!("y {y}")]),
        _ => lines.push(words::COLOURS_UNKNOWN.into()),
    }
    if place(mark).is_none() && !mark.points.is_empty() {
        lines.push(words::COLOURS_OUTSIDE.into());
    }
    lines.extend(mark.verdict.map(|v| format!("{} {v}", words::COLOURS_GOALS)));
    lines
}

/// The same in one line, for readers who do not see it.
pub(super) fn told(mark: &ColourMark) -> String {
    format!("{}, {}, {}", listed(&mark.lamps), mark.hue.letter, values(mark).join(", "))
}

fn extent(mark: &ColourMark, n: usize) -> Option<String> {
    let low = mark.points.iter().map(|p| p[n]).fold(f64::INFINITY, f64::min);
    let high = mark.points.iter().map(|p| p[n]).fold(f64::NEG_INFINITY, f64::max);
    (low <= high).then(|| words::range(&rounded(low, 4), &rounded(high, 4)))
}
