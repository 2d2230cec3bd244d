//! The row of a goal: sign, title and bar, with its figures in full for programs that read the drawing.

use super::super::lettering::{below, lines};
use super::super::style::{FAINT, WIDTH, number};
use super::axis::{Axis, HALF, ZERO};
use super::{bar, symbol};
use crate::report::evidence::MarginRow;
use maud::{Markup, html};

const SIZE: f64 = 12.5;
const LINE: f64 = 13.0;
/// A row of one line.
const HIGH: f64 = 21.0;
/// Where titles begin.
const LEFT: f64 = 26.0;
/// Where titles end: numbers of bars that go beyond the axis stand right of it.
const RIGHT: f64 = ZERO - HALF - 74.0;

/// The row from `top` on, and how high it is.
pub(super) fn draw(top: f64, row: &MarginRow, axis: Option<&Axis>) -> (Markup, f64) {
    let wide = if axis.is_some() { RIGHT - LEFT } else { WIDTH - LEFT - 4.0 };
    let lines = lines(&row.title, wide, SIZE, 3);
    let high = HIGH + (LINE - 1.0) * lines.len().saturating_sub(1) as f64;
    let middle = top + high / 2.0;
    let first = middle + 4.5 - LINE / 2.0 * lines.len().saturating_sub(1) as f64;
    let markup = html! {
        g data-rule-set=(row.goal.0) data-goal=(row.goal.1) data-verdict=(row.verdict.as_str())
            data-low=[row.margin.map(|m| format!("{}", m.low))] data-high=[row.margin.map(|m| format!("{}", m.high))] {
            title { (row.title) " (" (row.cite) ")" }
            path d={ "M4 " (number(top)) "H" (number(WIDTH - 4.0)) } stroke=(FAINT) stroke-width="0.5" {}
            (symbol::draw([13.0, middle], row.verdict))
            (below([LEFT, first], SIZE, LINE, &lines))
            @if let (Some(margin), Some(axis)) = (row.margin, axis) {
                (bar::draw(middle, row.verdict, margin, axis))
            }
        }
    };
    (markup, high)
}
