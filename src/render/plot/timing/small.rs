//! Channels for a first page: one line each, the first of many.

use super::super::hue::chip_of;
use super::super::lettering::{below, cut, lines, name, width};
use super::super::style::{self, FAINT, SMALL_LETTERS, SMALL_WIDTH, SOFT, number, path};
use super::super::words;
use super::axis::{Axis, SMALL_LEFT};
use super::{notes, seen, told, track};
use crate::report::evidence::{SeenRate, TimeStrip, Track};
use maud::{Markup, html};

/// The most channels; the rest stand on the pages behind.
const MOST: usize = 8;
/// A channel's line, and one that names its clock too.
const ROWS: [f64; 2] = [20.0, 24.0];
/// How high full level stands.
const HIGH: f64 = 13.0;
const LINE: f64 = SMALL_LETTERS + 1.5;
/// Places in a row.
const IN_A_ROW: usize = 4;
const CELL: f64 = (SMALL_WIDTH - 8.0) / IN_A_ROW as f64;

/// Draws the strip.
pub(super) fn draw(id: &str, title: &str, strip: &TimeStrip) -> Markup {
    let axis = Axis::small(strip.length_ms);
    let shown: Vec<&Track> = strip.tracks.iter().take(MOST).collect();
    let row = ROWS[usize::from(shown.iter().any(|t| t.clock.is_some()))];
    let end = 2.0 + row * shown.len() as f64 + 2.0;
    let more = strip.tracks.len() - shown.len();
    let said = (more > 0).then(|| words::timing_more(more)).into_iter().chain(notes(strip));
    let said: Vec<String> = said.flat_map(|s| lines(&s, SMALL_WIDTH - 16.0, SMALL_LETTERS, 3)).collect();
    let under = end + axis.high();
    let (seen, height) = around(&strip.seen_from, under + LINE * said.len() as f64 + 4.0);
    let body = html! {
        (axis.draw(2.0, end))
        @for (n, track) in shown.iter().enumerate() { (one(track, axis, 2.0 + row * n as f64, row)) }
        (below([8.0, under + SMALL_LETTERS], SMALL_LETTERS, LINE, &said))
        (seen)
    };
    style::drawing_of_width(id, [SMALL_WIDTH, height], SMALL_LETTERS, [title, &told(strip)], &body)
}

/// A channel's line.
fn one(track: &Track, axis: Axis, top: f64, row: f64) -> Markup {
    let base = top + row - 3.0;
    html! {
        g class="track" data-channel=(track.name) data-per-min=(track.per_min) data-period-ms=(track.period_ms) {
            title { (track::told(track)) }
            (beside(track, top))
            (track::line(track, axis, base, HIGH))
        }
    }
}

/// The column on the left.
fn beside(track: &Track, top: f64) -> Markup {
    let (rate, y) = (track::short_rate(track), top + 11.0);
    let right = SMALL_LEFT - 6.0;
    let room = right - 18.0 - width(&rate, SMALL_LETTERS) - 4.0;
    html! {
        (chip_of(track.hue, [9.0, top + 8.5], 9.0))
        text x="18" y=(number(y)) font-weight="bold" { (cut(&name(&track.name), room, SMALL_LETTERS)) }
        text class="rate" x=(number(right)) y=(number(y)) text-anchor="end" fill=(SOFT) { (rate) }
        @if let Some(clock) = track::clock(track) {
            text class="clock" x="18" y=(number(y + LINE)) fill=(SOFT) { (cut(&clock, right - 18.0, SMALL_LETTERS)) }
        }
    }
}

/// Flash frequency as seen from around, and where it ends.
fn around(seen_from: &[(String, SeenRate)], top: f64) -> (Markup, f64) {
    if seen_from.is_empty() {
        return (html! {}, top + 2.0);
    }
    let cells: Vec<[Vec<String>; 2]> = seen_from.iter().map(cell).collect();
    let deep = cells.iter().map(|[place, rate]| place.len() + rate.len()).max().unwrap_or(0);
    let row = LINE * deep as f64 + 3.0;
    let first = top + LINE + SMALL_LETTERS + 3.0;
    let body = html! {
        g class="seen-from" {
            path d=(path(&[[8.0, top], [SMALL_WIDTH - 8.0, top]], false)) stroke=(FAINT) fill="none" {}
            text x="8" y=(number(top + LINE)) fill=(SOFT) { (words::TIMING_SEEN) }
            @for (n, [place, rate]) in cells.iter().enumerate() {
                @let x = 8.0 + CELL * (n % IN_A_ROW) as f64;
                @let y = first + row * (n / IN_A_ROW) as f64;
                g fill=(SOFT) { (below([x, y], SMALL_LETTERS, LINE, place)) }
                g font-weight="bold" { (below([x, y + LINE * place.len() as f64], SMALL_LETTERS, LINE, rate)) }
            }
        }
    };
    (body, first + row * cells.len().div_ceil(IN_A_ROW) as f64 - SMALL_LETTERS + 1.0)
}

fn cell((place, rate): &(String, SeenRate)) -> [Vec<String>; 2] {
    let room = CELL - 4.0;
    [lines(&name(place), room, SMALL_LETTERS, 1), lines(&seen::rate(*rate), room, SMALL_LETTERS, 2)]
}
