//! Channels under each other on one axis of time.

mod axis;
mod seen;
mod track;

use super::lettering::lines;
use super::style::{self, SOFT, number};
use super::words;
use crate::report::evidence::TimeStrip;
use crate::units::rounded;
use axis::Axis;
use maud::{Markup, html};

/// Draws the strip.
pub(in crate::render) fn draw(id: &str, title: &str, strip: &TimeStrip) -> Markup {
    let axis = Axis::of(strip.length_ms);
    let mut y = 6.0;
    let mut tracks = Vec::new();
    for one in &strip.tracks {
        let (drawn, used) = track::draw(one, axis, y);
        tracks.push(drawn);
        y += used;
    }
    let (end, key) = (y, lines(words::TIMING_KEY, style::WIDTH - 16.0, 13.0, 3));
    let below = end + 66.0 + 17.0 * key.len() as f64;
    let (seen, height) = seen::draw(&strip.seen_from, below);
    let body = html! {
        (axis.draw(6.0, end))
        @for track in tracks { (track) }
        @for (n, line) in key.iter().enumerate() {
            text x="8" y=(number(end + 60.0 + 17.0 * n as f64)) font-size="13" fill=(SOFT) { (line) }
        }
        (seen)
    };
    style::drawing(id, height, title, &told(strip), &body)
}

/// What the drawing says, in words.
fn told(strip: &TimeStrip) -> String {
    let track = |t: &_| format!(" {}", track::told(t));
    let seen = strip.seen_from.iter().map(|(place, rate)| format!("{place}: {}", seen::rate(*rate)));
    let tracks: String = strip.tracks.iter().map(track).collect();
    let seen: Vec<String> = seen.collect();
    let length = rounded(strip.length_ms, 4);
    format!("{} {length} ms.{tracks} {} {}.", words::TIMING_TOLD, words::TIMING_SEEN, seen.join("; "))
}

#[cfg(test)]
mod tests;
