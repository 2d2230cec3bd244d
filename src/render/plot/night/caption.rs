//! Where the observer stands, below the scene.

use super::super::lettering::lines;
use super::super::style::{WIDTH, number};
use super::super::words;
use super::{PALE, glow};
use crate::report::evidence::{NightLamp, NightView};
use crate::units::rounded;
use maud::{Markup, html};

/// The caption from a height on, and where it ends.
pub(super) fn draw(night: &NightView, lamps: &[&NightLamp], top: f64) -> (Markup, f64) {
    let mut said = place(night);
    if lamps.iter().any(|l| glow::unsure(l)) {
        said.push(words::NIGHT_DASHED.into());
    }
    if lamps.is_empty() {
        said.push(words::NIGHT_NONE.into());
    }
    let said: Vec<String> = said.iter().flat_map(|s| lines(s, WIDTH - 24.0, 13.0, 3)).collect();
    let body = html! {
        @for (n, line) in said.iter().enumerate() {
            text x="12" y=(number(top + 14.0 + 17.0 * n as f64)) font-size="13" fill=(PALE) { (line) }
        }
    };
    (body, top + 10.0 + 17.0 * said.len() as f64)
}

/// Bearing, elevation and distances in words.
pub(super) fn place(night: &NightView) -> Vec<String> {
    let (model, full_size) = night.distance_m;
    vec![
        format!("{} {}, {}.", words::NIGHT_FROM, bearing(night.azimuth_deg), height(night.elevation_deg)),
        format!("{} {} {} {}.", metres(model), words::NIGHT_MODEL, metres(full_size), words::NIGHT_FULL_SIZE),
    ]
}

fn bearing(azimuth: f64) -> String {
    match azimuth {
        0.0 => words::AHEAD.into(),
        a if a.abs() == 180.0 => words::ASTERN.into(),
        a if a < 0.0 => format!("{}\u{b0} {}", rounded(-a, 4), words::NIGHT_LEFT),
        a => format!("{}\u{b0} {}", rounded(a, 4), words::NIGHT_RIGHT),
    }
}

fn height(elevation: f64) -> String {
    match elevation {
        0.0 => words::NIGHT_LEVEL.into(),
        e if e < 0.0 => format!("{}\u{b0} {}", rounded(-e, 4), words::NIGHT_BELOW),
        e => format!("{}\u{b0} {}", rounded(e, 4), words::NIGHT_ABOVE),
    }
}

fn metres(m: f64) -> String {
    format!("{} m", rounded(m, 4))
}
