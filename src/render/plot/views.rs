//! The model from above, from the left and from ahead, to one scale, with its lamps.

mod bar;
mod face;
mod lamps;
mod sectors;
mod small;

use super::fit::{self, Fit};
use super::labels::Room;
use super::lettering::{below, lines, name};
use super::style::{self, INK, SOFT, WIDTH, number};
use super::words;
use crate::report::evidence::ThreeViews;
use face::{Face, LARGE, SMALL, Size};
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
    let faces = faces(views, which, LARGE);
    if faces.is_empty() {
        return nothing(id, title, views, LARGE);
    }
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

/// The same for a first page, beside each other where that shows them larger.
pub(in crate::render) fn draw_small(id: &str, title: &str, views: &ThreeViews, which: &[View]) -> Markup {
    let faces = faces(views, which, SMALL);
    if faces.is_empty() { nothing(id, title, views, SMALL) } else { small::draw(id, title, views, &faces) }
}

/// The views that show anything.
fn faces<'a>(views: &'a ThreeViews, which: &[View], size: Size) -> Vec<Face<'a>> {
    which.iter().map(|v| Face::of(views, *v, size)).filter(|f| f.bounds().is_some()).collect()
}

/// A line that says why nothing is drawn.
fn nothing(id: &str, title: &str, views: &ThreeViews, size: Size) -> Markup {
    let why = no_place(views);
    let said = lines(why, size.wide - 16.0, size.letters, 3);
    let step = size.letters + 4.0;
    let height = 8.0 + step * said.len().max(1) as f64;
    let body = below([8.0, step], size.letters, step, &said);
    style::drawing_of_width(id, [size.wide, height], size.letters, [title, why], &body)
}

/// One view from a height on, and how much of it it takes.
fn one(id: &str, views: &ThreeViews, face: &Face, scale: f64, top: f64) -> (Markup, f64) {
    let heading = html! { text x="8" y=(number(top + 14.0)) font-weight="bold" { (face.name) } };
    let Some([left, up, right, down]) = face.bounds() else { return (html! {}, 0.0) };
    let middle = [(left + right) / 2.0, (up + down) / 2.0];
    let mut fit = Fit { scale, from: middle, to: [WIDTH / 2.0, 0.0] };
    let [above, below] = reach(face, fit, [fit.at([left, up])[1], fit.at([right, down])[1]]);
    let high = below - above + 2.0 * ABOUT;
    fit.to[1] = top + HEADING + ABOUT - above;
    let room = Room::new([4.0, top + HEADING - 4.0, WIDTH - 4.0, top + HEADING + high]);
    (pictured(id, views, face, fit, room, &heading), HEADING + high + 6.0)
}

/// A view's outline, sectors and lamps, with words where there is room for them.
fn pictured(id: &str, views: &ThreeViews, face: &Face, fit: Fit, mut room: Room, heading: &Markup) -> Markup {
    face.rings.iter().for_each(|ring| room.take_line(&fit.ring(ring), true));
    if face.plan {
        sectors::take(face, fit, &mut room);
    }
    html! {
        g class="view" data-view=(face.name) {
            (heading) (outline(views, face, fit))
            @if face.plan { (sectors::draw(id, face, fit)) }
            (lamps::draw(face, fit, room))
        }
    }
}

/// How far up and down the view reaches with its sectors.
fn reach(face: &Face, fit: Fit, ends: [f64; 2]) -> [f64; 2] {
    let sectors =
        face.lamps.iter().filter(|_| face.plan).flat_map(|(lamp, at)| sectors::reach(face, lamp, fit.at(*at)));
    sectors.fold(ends, |[above, below], [_, y]| [above.min(y), below.max(y)])
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
    let said = said(views, faces);
    let said: Vec<String> = said.into_iter().flat_map(|s| lines(s, WIDTH - 16.0, 13.0, 3)).collect();
    let body = html! {
        (bar::draw(scale, top + 8.0, LARGE))
        @for (n, line) in said.iter().enumerate() {
            text x="8" y=(number(top + 50.0 + 17.0 * n as f64)) font-size="13" fill=(SOFT) { (line) }
        }
    };
    (body, top + 42.0 + 17.0 * said.len() as f64)
}

/// Why no lamp stands in any view.
fn no_place(views: &ThreeViews) -> &'static str {
    let partly = views.lamps.iter().any(|l| l.place.iter().any(Option::is_some));
    if partly { words::VIEWS_PARTLY } else { words::VIEWS_NO_PLACE }
}

/// What must be known to read the views.
fn said(views: &ThreeViews, faces: &[Face]) -> Vec<&'static str> {
    let outlined = faces.iter().any(|f| f.rings.iter().any(|r| !r.is_empty()));
    let lamps = || faces.iter().flat_map(|f| &f.lamps);
    let sectors = faces.iter().filter(|f| f.plan).any(|f| f.lamps.iter().any(|(l, _)| l.asked_deg.is_some()));
    let all = [
        (outlined && !views.from_mesh, words::VIEWS_DECLARED),
        (lamps().next().is_none(), no_place(views)),
        (sectors, words::VIEWS_SECTORS),
    ];
    all.into_iter().filter(|(holds, _)| *holds).map(|(_, words)| words).collect()
}

/// What the drawing says, in words.
fn told(views: &ThreeViews) -> String {
    let lamp = |l: &crate::report::evidence::PlacedLamp| format!("{} {}: {}", l.number, l.hue.letter, name(&l.name));
    let lamps: Vec<String> = views.lamps.iter().map(lamp).collect();
    format!("{} {}.", words::VIEWS_TOLD, lamps.join("; "))
}

#[cfg(test)]
mod tests;
