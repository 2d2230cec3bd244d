//! Channels under each other on one axis of time.

mod axis;
mod seen;
mod small;
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
    let said = [words::TIMING_KEY.to_string()].into_iter().chain(notes(strip));
    let key: Vec<String> = said.flat_map(|s| lines(&s, style::WIDTH - 16.0, 13.0, 3)).collect();
    let end = y;
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

/// The same for a first page: one line a channel.
pub(in crate::render) fn draw_small(id: &str, title: &str, strip: &TimeStrip) -> Markup {
    small::draw(id, title, strip)
}

/// What must be known to read the tracks against each other.
fn notes(strip: &TimeStrip) -> impl Iterator<Item = String> {
    let drift = strip.tracks.iter().any(|t| t.clock.is_some()).then(|| words::TIMING_DRIFT.to_string());
    let cut = strip.cut.then(|| words::timing_cut(&rounded(strip.length_ms / 1000.0, 4)));
    cut.into_iter().chain(drift)
}

/// What the drawing says, in words.
fn told(strip: &TimeStrip) -> String {
    let track = |t: &_| format!(" {}", track::told(t));
    let seen = strip.seen_from.iter().map(|(place, rate)| format!("{place}: {}", seen::rate(*rate)));
    let tracks: String = strip.tracks.iter().map(track).collect();
    let seen: Vec<String> = seen.collect();
    let length = rounded(strip.length_ms, 4);
    let notes: String = notes(strip).map(|note| format!(" {note}")).collect();
    format!("{} {length} ms.{tracks}{notes} {} {}.", words::TIMING_TOLD, words::TIMING_SEEN, seen.join("; "))
}

#[cfg(test)]
mod tests;
