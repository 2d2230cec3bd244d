//! Meridians and parallels each 30 degrees, and what directions are called.

use super::super::lettering::{on_top, width};
use super::super::style::{INK, SOFT, number};
use super::super::words::all;
use super::mollweide::{CENTRE, HALF, place};
use maud::{Markup, html};

/// Meridians, parallels and the rim.
pub(super) fn lines() -> Markup {
    html! {
        g fill="none" stroke=(INK) stroke-opacity="0.35" stroke-width="0.75" {
            @for n in -5..=5 { path d=(meridian(f64::from(n) * 30.0)) {} }
            @for n in -2..=2 { path d=(parallel(f64::from(n) * 30.0)) {} }
        }
        ellipse cx=(number(CENTRE[0])) cy=(number(CENTRE[1])) rx=(number(HALF)) ry=(number(HALF / 2.0))
            fill="none" stroke=(INK) stroke-width="1.25" {}
    }
}

/// Meridians are halves of ellipses as high as the map (Snyder 1987, p. 249).
fn meridian(azimuth_deg: f64) -> String {
    let [from, to] = [place(0.0, 90.0), place(0.0, -90.0)];
    let wide = HALF * azimuth_deg.abs() / 180.0;
    let sweep = u8::from(azimuth_deg > 0.0);
    let [x, y, high] = [from[0], from[1], HALF / 2.0].map(number);
    format!("M{x} {y}A{} {high} 0 0 {sweep} {} {}", number(wide), number(to[0]), number(to[1]))
}

fn parallel(elevation_deg: f64) -> String {
    let [from, to] = [-180.0, 180.0].map(|azimuth| place(azimuth, elevation_deg));
    format!("M{} {}H{}", number(from[0]), number(from[1]), number(to[0]))
}

/// Words of directions on the map, each at its azimuth.
const ON_MAP: [(f64, &str); 3] = [(-90.0, all::LEFT), (0.0, all::AHEAD), (90.0, all::RIGHT)];

/// Where a word on the map begins: under the horizon and beside its meridian, so that the point itself stays in sight.
fn begin(azimuth: f64) -> [f64; 2] {
    [place(azimuth, 0.0)[0] + 4.0, CENTRE[1] + 15.0]
}

/// The boxes of words on the map.
pub(super) fn taken() -> [[f64; 4]; 3] {
    ON_MAP.map(|(azimuth, word)| {
        let [x, y] = begin(azimuth);
        [x - 1.0, y - 12.0, x + width(word, 14.0) + 1.0, y + 4.0]
    })
}

/// What directions are called.
pub(super) fn labels() -> Markup {
    let [x, y] = CENTRE;
    html! {
        @for (azimuth, word) in ON_MAP { (on_top(begin(azimuth), 14.0, "start", INK, &[word.to_string()])) }
        (on_top([x - HALF - 13.0, y + 5.0], 14.0, "end", INK, &[all::AFT.into()]))
        (on_top([x + HALF + 13.0, y + 5.0], 14.0, "start", INK, &[all::AFT.into()]))
        (on_top([x, y - HALF / 2.0 - 15.0], 14.0, "middle", INK, &[all::UP.into()]))
        (on_top([x, y + HALF / 2.0 + 24.0], 14.0, "middle", INK, &[all::DOWN.into()]))
        @for deg in [-60.0_f64, -30.0, 30.0, 60.0] { (beside(deg)) }
    }
}

fn beside(elevation_deg: f64) -> Markup {
    let label = format!("{}°", number(elevation_deg.abs()));
    let side = |azimuth: f64, off: f64, anchor| {
        let [x, y] = place(azimuth, elevation_deg);
        on_top([x + off, y + 4.0 - 0.1 * elevation_deg], 12.0, anchor, SOFT, std::slice::from_ref(&label))
    };
    html! { (side(-180.0, -6.0, "end")) (side(180.0, 6.0, "start")) }
}
