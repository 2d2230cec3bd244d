//! The model from above, from the left and from ahead, to one scale, with its lamps.

mod bar;
mod face;
mod lamps;
mod sectors;

use super::fit::{self, Fit};
use super::labels::Room;
use super::lettering::lines;
use super::style::{self, INK, SOFT, WIDTH, number};
use super::words;
use crate::report::evidence::ThreeViews;
use face::Face;
use maud::{Markup, html};

/// A side to look from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::render) enum View {
    /// From above, nose up.
    Plan,
    /// From the left, nose to the left.
    Side,
    /// From ahead.
    Front,
}

/// The widest and the highest a view may be, without sectors and words.
const MOST: [f64; 2] = [WIDTH - 2.0 * 76.0, 430.0];
/// The room about a view for its words.
const ABOUT: f64 = 22.0;
/// The line with a view's name.
const HEADING: f64 = 24.0;

/// Draws the views asked for, under each other.
pub(in crate::render) fn draw(id: &str, title: &str, views: &ThreeViews, which: &[View]) -> Markup {
    let faces: Vec<Face> = which.iter().map(|v| Face::of(views, *v)).collect();
    let boxes = faces.iter().filter_map(Face::bounds);
    let scale = boxes.map(|b| fit::scale(b, MOST[0], MOST[1])).fold(f64::INFINITY, f64::min);
    let scale = if scale.is_finite() { scale } else { 1.0 };
    let mut y = 4.0;
    let mut drawn = Vec::new();
    for face in &faces {
        let (body, used) = one(id, views, face, scale, y);
        drawn.push(body);
        y += used;
    }
    let (notes, height) = notes(views, &faces, scale, y);
    let body = html! { @for view in drawn { (view) } (notes) };
    style::drawing(id, height, title, &told(views), &body)
}

/// One view from a height on, and how much of it it takes.
fn one(id: &str, views: &ThreeViews, face: &Face, scale: f64, top: f64) -> (Markup, f64) {
    let heading = html! { text x="8" y=(number(top + 14.0)) font-weight="bold" { (face.name) } };
    let Some([left, up, right, down]) = face.bounds() else {
        let empty = html! { (heading) text x="8" y=(number(top + 36.0)) fill=(SOFT) { (words::VIEWS_EMPTY) } };
        return (empty, HEADING + 34.0);
    };
    let middle = [(left + right) / 2.0, (up + down) / 2.0];
    let mut fit = Fit { scale, from: middle, to: [WIDTH / 2.0, 0.0] };
    let [above, below] = reach(face, fit, [fit.at([left, up])[1], fit.at([right, down])[1]]);
    let high = below - above + 2.0 * ABOUT;
    fit.to[1] = top + HEADING + ABOUT - above;
    let mut room = Room::new([4.0, top + HEADING - 4.0, WIDTH - 4.0, top + HEADING + high]);
    face.rings.iter().for_each(|ring| room.take_line(&fit.ring(ring), true));
    if face.plan {
        sectors::take(face, fit, &mut room);
    }
    let body = html! {
        g class="view" data-view=(face.name) {
            (heading) (outline(views, face, fit))
            @if face.plan { (sectors::draw(id, face, fit)) }
            (lamps::draw(face, fit, room))
        }
    };
    (body, HEADING + high + 6.0)
}

/// How far up and down the view reaches with its sectors.
fn reach(face: &Face, fit: Fit, ends: [f64; 2]) -> [f64; 2] {
    let sectors = face.lamps.iter().filter(|_| face.plan).flat_map(|(lamp, at)| sectors::reach(lamp, fit.at(*at)));
    sectors.fold(ends, |[above, below], y| [above.min(y), below.max(y)])
}

fn outline(views: &ThreeViews, face: &Face, fit: Fit) -> Markup {
    let (fill, dash) = if views.from_mesh { ("#f1f1f1", "none") } else { ("none", "6 4") };
    html! {
        path class="airframe" d=(fit.rings(&face.rings)) fill=(fill) fill-rule="evenodd" stroke=(INK) stroke-width="1.1"
            stroke-dasharray=(dash) stroke-linejoin="round" {}
    }
}

/// The bar of scale and what else is to be said, and where it ends.
fn notes(views: &ThreeViews, faces: &[Face], scale: f64, top: f64) -> (Markup, f64) {
    let declared = (!views.from_mesh).then_some(words::VIEWS_DECLARED);
    let sectors = faces.iter().any(|f| f.plan && f.lamps.iter().any(|(l, _)| l.asked_deg.is_some()));
    let said = declared.into_iter().chain(sectors.then_some(words::VIEWS_SECTORS));
    let said: Vec<String> = said.flat_map(|s| lines(s, WIDTH - 16.0, 13.0, 3)).collect();
    let body = html! {
        (bar::draw(scale, top + 8.0))
        @for (n, line) in said.iter().enumerate() {
            text x="8" y=(number(top + 50.0 + 17.0 * n as f64)) font-size="13" fill=(SOFT) { (line) }
        }
    };
    (body, top + 42.0 + 17.0 * said.len() as f64)
}

/// What the drawing says, in words.
fn told(views: &ThreeViews) -> String {
    let lamp = |l: &crate::report::evidence::PlacedLamp| format!("{} {}: {}", l.number, l.hue.letter, l.name);
    let lamps: Vec<String> = views.lamps.iter().map(lamp).collect();
    format!("{} {}.", words::VIEWS_TOLD, lamps.join("; "))
}

#[cfg(test)]
mod tests;
