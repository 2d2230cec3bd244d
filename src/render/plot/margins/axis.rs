//! The axis of a group: zero in the middle, so that it is one line down the whole chart.

use super::super::lettering::below;
use super::super::style::{FAINT, INK, SOFT, number};
use crate::report::evidence::MarginRow;
use crate::units::rounded;
use maud::{Markup, html};

/// Where zero is.
pub(super) const ZERO: f64 = 386.0;
/// From zero to either end.
pub(super) const HALF: f64 = 84.0;
/// How high a group's heading is.
const HEADING: f64 = 26.0;
/// How high the numbers of an axis are.
const NUMBERS: f64 = 18.0;

/// What an axis shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Axis {
    /// The margin at its ends.
    pub(super) end: f64,
    /// Whether it is a share, written in percent.
    pub(super) share: bool,
}

impl Axis {
    /// Once the limit either way for shares, and as far as rows need for what has a unit.
    pub(super) fn of(unit: Option<&str>, rows: &[&MarginRow]) -> Self {
        if unit.is_none() {
            return Self { end: 1.0, share: true };
        }
        let ends = rows.iter().filter_map(|r| r.margin).flat_map(|m| [m.low, m.high]);
        Self { end: round_up(ends.map(f64::abs).filter(|v| v.is_finite()).fold(0.0, f64::max)), share: false }
    }

    /// Where a margin is drawn; past the ends it is drawn at them.
    pub(super) fn at(&self, margin: f64) -> f64 {
        ZERO + HALF * (margin / self.end).clamp(-1.0, 1.0)
    }

    /// A margin in words, its sign written.
    pub(super) fn words(&self, margin: f64) -> String {
        let sign = if margin > 0.0 {
            "+"
        } else if margin < 0.0 {
            "−"
        } else {
            ""
        };
        let size = margin.abs() * if self.share { 100.0 } else { 1.0 };
        if size.is_infinite() {
            return format!("{sign}∞");
        }
        // Longer numbers would not fit beside the axis.
        let size = if size < 1e5 { rounded(size, 3) } else { format!("{size:.1e}") };
        format!("{sign}{size}{}", if self.share { " %" } else { "" })
    }
}

/// The next of 1, 2 and 5 times a power of ten.
fn round_up(value: f64) -> f64 {
    if value.is_nan() || value < 1e-300 {
        return 1.0;
    }
    let power = 10_f64.powi(value.log10().floor() as i32);
    let steps = [1.0, 2.0, 5.0, 10.0].map(|n| n * power);
    // A step may fall under the value by rounding, or past what a number can be.
    steps.into_iter().find(|s| *s >= value && s.is_finite()).unwrap_or(value)
}

/// How high a group's heading is with its axis's numbers.
pub(super) fn head(axis: Option<&Axis>) -> f64 {
    HEADING + if axis.is_some() { NUMBERS } else { 0.0 }
}

/// The heading of a group, and its axis down to `bottom`.
pub(super) fn draw(top: f64, bottom: f64, heading: &str, axis: Option<&Axis>) -> Markup {
    let from = top + head(axis) - 4.0;
    html! {
        g font-weight="bold" { (below([4.0, top + 16.0], 14.0, 18.0, &[heading.to_string()])) }
        @if let Some(axis) = axis {
            @for part in [-1.0, -0.5, 0.0, 0.5, 1.0] {
                @let x = number(ZERO + HALF * part);
                @let (ink, wide) = if part == 0.0 { (INK, "1.5") } else { (FAINT, "1") };
                path d={ "M" (x) " " (number(from)) "V" (number(bottom)) } stroke=(ink) stroke-width=(wide) {}
                @if part != 0.5 && part != -0.5 {
                    text x=(x) y=(number(from - 5.0)) font-size="12" text-anchor="middle" fill=(SOFT) {
                        (axis.words(part * axis.end))
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_are_round_and_hold_every_margin() {
        for (value, end) in [(0.0, 1.0), (3.0, 5.0), (0.011, 0.02), (70.0, 100.0), (100.0, 100.0)] {
            assert!((round_up(value) - end).abs() < 1e-12 * end, "{value}");
        }
        for value in [f64::MAX, f64::MIN_POSITIVE, 1e-320, f64::NAN, 999_999.999] {
            let end = round_up(value);
            assert!(end.is_finite() && end > 0.0 && (value.is_nan() || end >= value), "{value}");
        }
    }

    #[test]
    fn margins_are_written_with_their_sign() {
        let share = Axis { end: 1.0, share: true };
        assert_eq!([0.0, 3.5, -1.0, f64::INFINITY].map(|m| share.words(m)), ["0 %", "+350 %", "−100 %", "+∞"]);
        assert_eq!(Axis { end: 1.0, share: false }.words(-0.25), "−0.25");
    }
}
