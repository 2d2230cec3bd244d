//! One channel: its level over time, its flashes above, and its names beside.

use super::super::hue::chip;
use super::super::lettering::{cut, listed, name, names, width};
use super::super::style::{INK, SOFT, number, path, rgb};
use super::super::words;
use super::axis::{Axis, LEFT};
use crate::report::evidence::Track;
use crate::units::{Interval, rounded};
use maud::{Markup, html};

/// How high full level stands.
const HIGH: f64 = 30.0;
/// How far lines of words are apart.
const LINE: f64 = 18.0;
/// Where the line of level 0 is, below a track's top.
const BASE: f64 = 58.0;

/// Whether a channel never changes.
pub(super) fn steady(track: &Track) -> bool {
    track.flashes.is_empty() && track.corners.windows(2).all(|c| c[0][1] == c[1][1])
}

/// The track from a height on, and how much of it it takes.
pub(super) fn draw(track: &Track, axis: Axis, top: f64) -> (Markup, f64) {
    let base = top + BASE;
    let body = html! {
        g class="track" data-channel=(track.name) data-per-min=(track.per_min) data-period-ms=(track.period_ms) {
            title { (told(track)) }
            (beside(track, top))
            @if !steady(track) {
                @for x in axis.repeats(track.period_ms) {
                    path class="period" d=(path(&[[x, top + 27.0], [x, base + 4.0]], false)) stroke=(SOFT)
                        stroke-dasharray="1.5 2.5" fill="none" {}
                }
            }
            (level(track, axis, base))
            (flashes(track, axis, top + 20.0))
        }
    };
    (body, (20.0 + LINE * said(track).len() as f64 + 12.0).max(BASE + 14.0))
}

/// The column on the left.
fn beside(track: &Track, top: f64) -> Markup {
    let room = LEFT - 14.0;
    html! {
        (chip(track.hue, [16.0, top + 12.0]))
        text x="30" y=(number(top + 17.0)) font-weight="bold" { (cut(&track.name, room - 34.0, 14.0)) }
        @for (n, (text, kind)) in said(track).into_iter().enumerate() {
            text class=[kind] x="8" y=(number(top + 37.0 + LINE * n as f64)) fill=[kind.map(|_| SOFT)]
                { (text) }
        }
    }
}

/// What stands below the name: its clock, the lamps, how often it flashes and its period; with a class where it has one.
fn said(track: &Track) -> Vec<(String, Option<&'static str>)> {
    let lamps = names(&track.lamps, LEFT - 14.0, 14.0, 2).into_iter().map(|l| (l, None));
    let rate = rates(track).into_iter().map(|r| (cut(&r, LEFT - 14.0, 14.0), Some("rate")));
    let clock = clock(track).map(|c| (cut(&c, LEFT - 14.0, 14.0), Some("clock")));
    clock.into_iter().chain(lamps).chain(rate.filter(|_| !steady(track))).collect()
}

/// The clock it runs on, where there are several.
pub(super) fn clock(track: &Track) -> Option<String> {
    let own = name(track.clock.as_deref()?);
    Some(if own.starts_with(words::TIMING_CLOCK) { own } else { format!("{} {own}", words::TIMING_CLOCK) })
}

/// How often it flashes, or that it does not.
pub(super) fn short_rate(track: &Track) -> String {
    if steady(track) { rates(track).join(", ") } else { format!("{}{}", rounded(track.per_min, 3), words::A_MINUTE) }
}

/// How often it flashes, and its period.
fn rates(track: &Track) -> Vec<String> {
    if steady(track) {
        return vec![if lit(track) { words::TIMING_STEADY } else { words::TIMING_DARK }.into()];
    }
    let often = format!("{} {}", rounded(track.per_min, 3), words::PER_MIN);
    let period = format!("{} {} s", words::TIMING_PERIOD, rounded(track.period_ms / 1000.0, 3));
    if track.period_ms.is_finite() { vec![often, period] } else { vec![often] }
}

fn lit(track: &Track) -> bool {
    track.corners.iter().any(|c| c[1] > 0.0)
}

/// The level's line, filled down to 0, so high at full level.
pub(super) fn line(track: &Track, axis: Axis, base: f64, high: f64) -> Markup {
    let corner = |&[ms, level]: &[f64; 2]| {
        (!level.is_nan()).then_some(())?;
        Some([axis.x(ms)?, base - high * level.clamp(0.0, 1.0)])
    };
    let line: Vec<[f64; 2]> = track.corners.iter().filter_map(corner).collect();
    let (Some(first), Some(last)) = (line.first(), line.last()) else { return html! {} };
    let closed = [&[[first[0], base]], line.as_slice(), &[[last[0], base]]].concat();
    html! {
        path class="level" d=(path(&closed, true)) fill=(rgb(track.hue.rgb)) stroke=(INK) stroke-width="1.1"
            stroke-linejoin="round" {}
    }
}

/// The same with a word where it never changes.
fn level(track: &Track, axis: Axis, base: f64) -> Markup {
    html! {
        (line(track, axis, base, HIGH))
        @if steady(track) && !track.corners.is_empty() {
            text x=(number(LEFT + 4.0)) y=(number(base - HIGH - 8.0)) { (rates(track).join(", ")) }
        }
    }
}

/// A bracket over each flash, with its count of pulses where there is room, and over the first in any case.
fn flashes(track: &Track, axis: Axis, y: f64) -> Markup {
    let ends = |f: &[f64; 2]| Some([axis.x(f[0])?, axis.x(f[1])?]);
    let ends: Vec<[f64; 2]> = track.flashes.iter().filter_map(ends).collect();
    let count = track.pulses_per_flash.to_string();
    let wide = width(&count, 13.0) + 4.0;
    let apart = ends.windows(2).map(|e| (e[1][0] + e[1][1] - e[0][0] - e[0][1]) / 2.0).fold(f64::INFINITY, f64::min);
    html! {
        @for (n, [from, to]) in ends.into_iter().enumerate() {
            // A flash too short to see still has a bracket with two ends.
            @let half = ((to - from).abs() / 2.0).max(2.0);
            @let middle = ((from + to) / 2.0).max(LEFT);
            @let (a, b) = (middle - half, middle + half);
            path class="flash" d=(path(&[[a, y + 5.0], [a, y], [b, y], [b, y + 5.0]], false)) stroke=(INK) fill="none" {}
            @if n == 0 || apart >= wide {
                text x=(number(middle)) y=(number(y - 4.0)) font-size="13" text-anchor="middle" stroke="#ffffff"
                    stroke-width="3" stroke-linejoin="round" paint-order="stroke" { (count) }
            }
        }
    }
}

/// What a track says, in words.
pub(super) fn told(track: &Track) -> String {
    let candela = |i: Interval| format!("{} cd", words::range(&rounded(i.low, 3), &rounded(i.high, 3)));
    let bright = track.brightest_cd.map(|(peak, effective)| {
        format!("; {} {}, {} {}", words::TIMING_PEAK, candela(peak), words::TIMING_EFFECTIVE, candela(effective))
    });
    let clock = clock(track).map_or_else(String::new, |c| format!("; {c}"));
    let lamps = listed(&track.lamps);
    format!(
        "{} ({lamps}), {}: {}{clock}{}.",
        name(&track.name),
        track.hue.letter,
        rates(track).join(", "),
        bright.unwrap_or_default()
    )
}
