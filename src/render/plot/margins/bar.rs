//! The bar of a margin, from the least to the most it may be.

use super::super::lines::on_top;
use super::super::style::{CEILING, FLOOR, INK, SOFT, UNSURE, number};
use super::axis::{Axis, HALF, ZERO};
use crate::judge::Verdict;
use crate::units::Interval;
use maud::{Markup, html};

/// No bar is narrower than this.
const NARROW: f64 = 3.5;
const HIGH: f64 = 10.0;
const SIZE: f64 = 12.0;

/// The bar in the middle of a row at `y`; nothing where the margin is no number.
pub(super) fn draw(id: &str, y: f64, verdict: Verdict, margin: Interval, axis: &Axis) -> Markup {
    if margin.low.is_nan() || margin.high.is_nan() {
        return html! {};
    }
    let (mut from, mut to) = (axis.at(margin.low), axis.at(margin.high));
    let spare = (NARROW - (to - from)).max(0.0) / 2.0;
    (from, to) = (from - spare, to + spare);
    // What is wholly past an end has its nearer figure written where a stem would be.
    let inside = margin.low <= axis.end && margin.high >= -axis.end;
    let near = if from > ZERO { from } else { to.min(ZERO) };
    html! {
        @if inside && near != ZERO {
            path d={ "M" (number(ZERO)) " " (number(y)) "H" (number(near)) } stroke=(SOFT) stroke-width="1" {}
        }
        (filled(id, verdict, [from, to], y))
        (beyond(y, margin, axis))
    }
}

fn filled(id: &str, verdict: Verdict, [from, to]: [f64; 2], y: f64) -> Markup {
    let hatch = format!("url(#{id}-missed)");
    let (fill, stroke) = match verdict {
        Verdict::Met => (FLOOR, FLOOR),
        Verdict::Missed => (hatch.as_str(), CEILING),
        Verdict::CannotTell => ("#fff3d6", UNSURE),
        Verdict::NotApplicable => ("#fff", SOFT),
    };
    html! {
        rect x=(number(from)) y=(number(y - HIGH / 2.0)) width=(number(to - from)) height=(number(HIGH))
            fill=(fill) stroke=(stroke) stroke-width="1.25" {}
    }
}

/// Arrows at the ends a bar goes beyond with how far it goes; inside them where a bar begins that is wholly beyond.
fn beyond(y: f64, margin: Interval, axis: &Axis) -> Markup {
    let (under, over) = (margin.low < -axis.end, margin.high > axis.end);
    html! {
        @if under {
            (arrow(y, -1.0))
            (label([ZERO - HALF - 12.0, y], "end", &axis.words(margin.low)))
            @if margin.high < -axis.end && !margin.is_exact() {
                (label([ZERO - HALF + 8.0, y], "start", &axis.words(margin.high)))
            }
        }
        @if over {
            (arrow(y, 1.0))
            (label([ZERO + HALF + 12.0, y], "start", &axis.words(margin.high)))
            @if margin.low > axis.end && !margin.is_exact() {
                (label([ZERO + HALF - 8.0, y], "end", &axis.words(margin.low)))
            }
        }
    }
}

fn label([x, y]: [f64; 2], anchor: &str, words: &str) -> Markup {
    on_top([x, y + 4.3], SIZE, anchor, INK, &[words.to_string()])
}

fn arrow(y: f64, side: f64) -> Markup {
    let x = ZERO + side * (HALF + 2.5);
    html! {
        path d={ "M" (number(x)) " " (number(y - 5.0)) "L" (number(x + 7.0 * side)) " " (number(y))
            "L" (number(x)) " " (number(y + 5.0)) "Z" } fill=(INK) {}
    }
}
