//! What an observer sees at night, as a still that nothing moves by itself.

mod glow;

use super::fit::{self, Fit, drawable};
use super::labels::{Room, about};
use super::lettering::name;
use super::style::{self, WIDTH, number};
use super::words;
use crate::report::evidence::{NightLamp, NightView};
use maud::{Markup, html};

const SKY: &str = "#0b1020";
const SILHOUETTE: &str = "#171f36";
/// Words on the sky.
const PALE: &str = "#b9c2d8";
/// The widest and the highest the scene may be.
const MOST: [f64; 2] = [WIDTH - 120.0, 260.0];
/// The room about the scene: the widest halo and a letter.
const ABOUT: f64 = 42.0;
/// Lamps nearer to each other than this would hide each other.
const ONE_PLACE: f64 = 4.0;

/// Draws the scene.
pub(in crate::render) fn draw(id: &str, title: &str, night: &NightView) -> Markup {
    let lamps: Vec<&NightLamp> = night.lamps.iter().filter(|l| seen(l)).collect();
    let points = night.outline.iter().flatten().chain(lamps.iter().map(|l| &l.at));
    let [left, up, right, down] = fit::bounds(points).unwrap_or([0.0; 4]);
    // Up in the scene is down in the drawing's own count.
    let (outline, bounds) = (upright(&fit::few(&night.outline)), [left, -down, right, -up]);
    let scale = fit::scale(bounds, MOST[0], MOST[1]);
    let high = ((down - up) * scale).max(60.0) + 2.0 * ABOUT;
    let fit = Fit { scale, from: [(left + right) / 2.0, -(up + down) / 2.0], to: [WIDTH / 2.0, high / 2.0] };
    let body = html! {
        (glow::gradients(id, &lamps))
        rect width=(number(WIDTH)) height=(number(high)) fill=(SKY) {}
        path class="airframe" d=(fit.rings(&outline)) fill=(SILHOUETTE) fill-rule="evenodd" {}
        (scene(id, night, &lamps, fit, high))
    };
    style::drawing(id, high, title, &told(&lamps), &body)
}

/// Whether a lamp can be drawn: it may be seen from here, at a place.
fn seen(lamp: &NightLamp) -> bool {
    lamp.cd.high > 0.0 && drawable(&lamp.at) && greatest(lamp) > 0.0
}

/// The greatest level of a lamp; full where none is told.
fn greatest(lamp: &NightLamp) -> f64 {
    if lamp.levels.is_empty() { 1.0 } else { lamp.levels.iter().copied().fold(0.0, f64::max).min(1.0) }
}

fn upright(rings: &[Vec<[f64; 2]>]) -> Vec<Vec<[f64; 2]>> {
    rings.iter().map(|ring| ring.iter().map(|[x, y]| [*x, -y]).collect()).collect()
}

/// The lamps, with what a script needs that plays them.
fn scene(id: &str, night: &NightView, lamps: &[&NightLamp], fit: Fit, high: f64) -> Markup {
    let mut room = Room::new([4.0, 4.0, WIDTH - 4.0, high]);
    let own: Vec<[f64; 2]> = lamps.iter().map(|l| fit.at([l.at[0], -l.at[1]])).collect();
    let places = side_by_side(lamps, &own, &mut room);
    html! {
        g class="night-lamps" data-flashes-in-a-second=(night.flashes_in_a_second) {
            @for (n, (lamp, at)) in lamps.iter().zip(places).enumerate() {
                @if at != own[n] {
                    path d=(style::path(&[own[n], at], false)) stroke=(PALE) stroke-width="0.75" fill="none" {}
                }
                (glow::draw(id, lamp, at, &mut room))
            }
        }
    }
}

/// Where lamps are drawn: at their places, those at the place of another beside it.
fn side_by_side(lamps: &[&NightLamp], own: &[[f64; 2]], room: &mut Room) -> Vec<[f64; 2]> {
    let disc = |n: usize| about(own[n], [2.0 * glow::radius(lamps[n]); 2]);
    let first = |n: usize| own[..n].iter().all(|p| (p[0] - own[n][0]).hypot(p[1] - own[n][1]) >= ONE_PLACE);
    (0..own.len()).filter(|n| first(*n)).for_each(|n| room.take(disc(n)));
    let place = |n: usize| {
        if first(n) {
            return own[n];
        }
        let wide = 2.0 * glow::radius(lamps[n]) + 2.0;
        room.place(disc(n), [wide.max(12.0); 2], [1.0, 0.0])
    };
    (0..own.len()).map(place).collect()
}

/// What the drawing says, in words.
fn told(lamps: &[&NightLamp]) -> String {
    let names: Vec<String> =
        lamps.iter().map(|l| format!("{} {}: {}", l.number, l.hue.letter, name(&l.name))).collect();
    let names = if names.is_empty() { words::NIGHT_NONE.into() } else { names.join("; ") };
    format!("{} {names}", words::NIGHT_TOLD)
}

#[cfg(test)]
mod tests;
