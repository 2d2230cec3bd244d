//! Lamps as dots with their number and letter.

use super::super::fit::Fit;
use super::super::labels::{Room, about, leader};
use super::super::lettering::{cut, name, width};
use super::super::style::{INK, SOFT, number, path, rgb};
use super::face::{Face, Size};
use crate::report::evidence::PlacedLamp;
use maud::{Markup, html};

/// Dots of lamps nearer than this stand in each other.
const NEAR: f64 = 4.0;

/// The lamps of a view.
pub(super) fn draw(face: &Face, fit: Fit, mut room: Room) -> Markup {
    let share = face.size.share;
    let places: Vec<[f64; 2]> = face.lamps.iter().map(|(_, at)| fit.at(*at)).collect();
    places.iter().for_each(|p| room.take(about(*p, [14.0 * share; 2])));
    html! {
        @for (n, (lamp, _)) in face.lamps.iter().enumerate() {
            g class="lamp" data-lamp=(name(&lamp.name)) data-number=(lamp.number) {
                title { (lamp.number) " " (name(&lamp.name)) }
                (label(lamp, places[n], towards(places[n], fit), face.size, &mut room))
                (dot(lamp, places[n], share * radius(&places[..n], places[n])))
            }
        }
    }
}

/// Later dots at one place are smaller, so that each shows a ring of its own.
fn radius(before: &[[f64; 2]], at: [f64; 2]) -> f64 {
    let there = before.iter().filter(|p| (p[0] - at[0]).hypot(p[1] - at[1]) < NEAR).count();
    (6.5 - 2.0 * there as f64).max(1.5)
}

fn dot(lamp: &PlacedLamp, [x, y]: [f64; 2], radius: f64) -> Markup {
    html! {
        circle cx=(number(x)) cy=(number(y)) r=(number(radius)) fill=(rgb(lamp.hue.rgb)) stroke=(INK) stroke-width="1.25" {}
    }
}

fn label(lamp: &PlacedLamp, at: [f64; 2], towards: [f64; 2], all: Size, room: &mut Room) -> Markup {
    let text = cut(&format!("{} {}", lamp.number, lamp.hue.letter), all.wide / 4.0, all.letters);
    let size = [width(&text, all.letters) + 5.0 * all.share, all.letters + 1.0];
    let word = room.place(about(at, [14.0 * all.share; 2]), size, towards);
    html! {
        @if let Some(line) = leader(at, word, size, 13.0 * all.share) {
            path d=(path(&line, false)) stroke=(SOFT) stroke-width="0.75" fill="none" {}
        }
        text x=(number(word[0])) y=(number(word[1] + 0.36 * all.letters)) text-anchor="middle" stroke="#ffffff" stroke-width="3"
            stroke-linejoin="round" paint-order="stroke" { (text) }
    }
}

/// Away from the middle of the view.
fn towards([x, y]: [f64; 2], fit: Fit) -> [f64; 2] {
    [x - fit.to[0], y - fit.to[1]]
}
