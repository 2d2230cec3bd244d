//! The bar of a margin, from the least to the most it may be.

use super::super::hatch::Hatch;
use super::super::lettering::on_top;
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
pub(super) fn draw(y: f64, verdict: Verdict, margin: Interval, axis: &Axis) -> Markup {
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
        (filled(verdict, [from, to], y))
        (beyond(y, margin, axis))
    }
}

fn filled(verdict: Verdict, [from, to]: [f64; 2], y: f64) -> Markup {
    let (fill, stroke) = match verdict {
        Verdict::Met => (FLOOR, FLOOR),
        Verdict::Missed => ("#fbe3d6", CEILING),
        Verdict::CannotTell => ("#fff3d6", UNSURE),
        Verdict::NotApplicable => ("#fff", SOFT),
    };
    let (top, bottom) = (y - HIGH / 2.0, y + HIGH / 2.0);
    html! {
        rect x=(number(from)) y=(number(top)) width=(number(to - from)) height=(number(HIGH)) fill=(fill) {}
        @if verdict == Verdict::Missed {
            path d=(Hatch::Rising.over([from, top, to, bottom], 6.0)) stroke=(CEILING) stroke-width="1.6" {}
        }
        rect x=(number(from)) y=(number(top)) width=(number(to - from)) height=(number(HIGH))
            fill="none" stroke=(stroke) stroke-width="1.25" {}
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
