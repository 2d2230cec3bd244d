//! Views for a first page: beside each other or stacked, whichever shows them larger.

use super::super::fit::{self, Fit};
use super::super::labels::{Area, Room};
use super::super::lettering::{below, lines};
use super::super::style::{self, SMALL_LETTERS, SMALL_WIDTH, number};
use super::face::{Face, SMALL};
use super::{bar, pictured, said, sectors, told};
use crate::report::evidence::ThreeViews;
use maud::{Markup, html};

/// The room about a view for its words.
const ABOUT: [f64; 2] = [24.0, 13.0];
/// How much more room there is above and below for each lamp, up to ten of them.
const EACH: f64 = 2.5;
/// The line with a view's name, and how wide it is.
const HEADING: [f64; 2] = [70.0, 12.0];
/// The highest the drawing may be: 56 mm where it is 88 mm wide.
const HIGHEST: f64 = 210.0;
/// The line of the bar of scale.
const BAR: f64 = 18.0;
const LINE: f64 = SMALL_LETTERS + 1.5;

/// Draws views that show something.
pub(super) fn draw(id: &str, title: &str, views: &ThreeViews, faces: &[Face]) -> Markup {
    let said: Vec<String> = said(views, faces).into_iter().flat_map(wrapped).collect();
    let notes = BAR + LINE * said.len() as f64 + 4.0;
    let high = HIGHEST - notes;
    let (stacked, beside) = (greatest(faces, false, high), greatest(faces, true, high));
    let (scale, beside) = if beside > stacked { (beside, true) } else { (stacked, false) };
    let cells = laid(faces, scale, beside);
    let end = cells.iter().map(|c| c[3]).fold(0.0, f64::max);
    let body = html! {
        @for (face, cell) in faces.iter().zip(widened(cells, beside)) { (one(id, views, face, scale, cell)) }
        (bar::draw(scale, end + 4.0, SMALL))
        (below([8.0, end + BAR + SMALL_LETTERS], SMALL_LETTERS, LINE, &said))
    };
    style::drawing_of_width(id, [SMALL_WIDTH, end + notes], SMALL_LETTERS, [title, &told(views)], &body)
}

fn wrapped(sentence: &str) -> Vec<String> {
    lines(sentence, SMALL_WIDTH - 16.0, SMALL_LETTERS, 3)
}

/// What a view takes about its middle at a scale: left, top, right and bottom.
fn extent(face: &Face, scale: f64) -> Area {
    let [left, up, right, down] = face.bounds().unwrap_or_default();
    let fit = Fit { scale, from: [(left + right) / 2.0, (up + down) / 2.0], to: [0.0; 2] };
    let lamps = face.lamps.iter().filter(|_| face.plan);
    let reach = lamps.flat_map(|(lamp, at)| sectors::reach(face, lamp, fit.at(*at)));
    let corners = reach.chain([fit.at([left, up]), fit.at([right, down])]);
    let all = corners.fold([0.0_f64; 4], |[l, t, r, b], [x, y]| [l.min(x), t.min(y), r.max(x), b.max(y)]);
    let high = ABOUT[1] + EACH * face.lamps.len().min(10) as f64;
    [all[0] - ABOUT[0], all[1] - high, all[2] + ABOUT[0], all[3] + high]
}

/// Where views stand at a scale, each as large as it must be.
fn laid(faces: &[Face], scale: f64, beside: bool) -> Vec<Area> {
    let mut at = [0.0, 0.0];
    let cell = |face: &Face| {
        let [left, top, right, bottom] = extent(face, scale);
        let (wide, high) = ((right - left).max(HEADING[0]), bottom - top + HEADING[1]);
        let cell = [at[0], at[1], at[0] + wide, at[1] + high];
        at = if beside { [cell[2], 0.0] } else { [0.0, cell[3]] };
        cell
    };
    faces.iter().map(cell).collect()
}

/// The same with the room that is left shared out between them.
fn widened(cells: Vec<Area>, beside: bool) -> Vec<Area> {
    if !beside {
        return cells.into_iter().map(|[_, top, _, bottom]| [0.0, top, SMALL_WIDTH, bottom]).collect();
    }
    let spare = SMALL_WIDTH - cells.last().map_or(0.0, |c| c[2]);
    let each = spare / cells.len().max(1) as f64;
    let end = cells.iter().map(|c| c[3]).fold(0.0, f64::max);
    let wider =
        |(n, [left, top, right, _]): (usize, Area)| [left + n as f64 * each, top, right + (n + 1) as f64 * each, end];
    cells.into_iter().enumerate().map(wider).collect()
}

/// The greatest scale at which all views fit, by halving.
fn greatest(faces: &[Face], beside: bool, high: f64) -> f64 {
    let boxes = faces.iter().filter_map(Face::bounds);
    let most = boxes.map(|b| fit::scale(b, SMALL_WIDTH, high)).fold(f64::INFINITY, f64::min);
    let fits = |scale: f64| laid(faces, scale, beside).iter().all(|c| c[2] <= SMALL_WIDTH && c[3] <= high);
    let (mut low, mut over) = (0.05 * most, most);
    for _ in 0..24 {
        let middle = 0.5 * (low + over);
        if fits(middle) {
            low = middle;
        } else {
            over = middle;
        }
    }
    low
}

fn one(id: &str, views: &ThreeViews, face: &Face, scale: f64, [left, top, right, bottom]: Area) -> Markup {
    let [west, north, east, south] = extent(face, scale);
    let [l, u, r, d] = face.bounds().unwrap_or_default();
    let to = [(left + right - west - east) / 2.0, (top + HEADING[1] + bottom - north - south) / 2.0];
    let fit = Fit { scale, from: [(l + r) / 2.0, (u + d) / 2.0], to };
    let heading = html! { text x=(number(left + 4.0)) y=(number(top + 10.0)) font-weight="bold" { (face.name) } };
    let room = Room::new([left + 2.0, top + HEADING[1], right - 2.0, bottom]);
    pictured(id, views, face, fit, room, &heading)
}
