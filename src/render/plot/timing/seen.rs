//! Flash frequency as seen from around.

use super::super::lettering::cut;
use super::super::style::{FAINT, SOFT, WIDTH, number};
use super::super::words;
use crate::report::evidence::SeenRate;
use crate::units::{Interval, rounded};
use maud::{Markup, html};

/// Places in a row.
const IN_A_ROW: usize = 4;
const ROW: f64 = 44.0;
const CELL: f64 = (WIDTH - 8.0) / IN_A_ROW as f64;

/// The rows from a height on, and where they end.
pub(super) fn draw(seen: &[(String, SeenRate)], top: f64) -> (Markup, f64) {
    if seen.is_empty() {
        return (html! {}, top);
    }
    let rows = seen.len().div_ceil(IN_A_ROW);
    let body = html! {
        g class="seen-from" {
            path d={ "M8 " (number(top)) "L" (number(WIDTH - 8.0)) " " (number(top)) } stroke=(FAINT) fill="none" {}
            text x="8" y=(number(top + 20.0)) fill=(SOFT) { (words::TIMING_SEEN) }
            @for (n, (place, seen)) in seen.iter().enumerate() {
                @let x = 8.0 + CELL * (n % IN_A_ROW) as f64;
                @let y = top + 42.0 + ROW * (n / IN_A_ROW) as f64;
                text x=(number(x)) y=(number(y)) fill=(SOFT) { (cut(place, CELL - 8.0, 14.0)) }
                text x=(number(x)) y=(number(y + 18.0)) font-weight=[counted(*seen).map(|_| "bold")] {
                    (cut(&rate(*seen), CELL - 8.0, 14.0))
                }
            }
        }
    };
    (body, top + 42.0 + ROW * rows as f64 - 16.0)
}

/// A frequency in words.
pub(super) fn rate(seen: SeenRate) -> String {
    let often = |i: Interval| words::range(&rounded(i.low, 3), &rounded(i.high, 3));
    match seen {
        SeenRate::Rate(i) => often(i),
        SeenRate::RateOrDark(i) => format!("{}, {}", often(i), words::TIMING_OR_DARK),
        SeenRate::Dark => words::TIMING_NONE_SEEN.into(),
        SeenRate::Unknown => words::TIMING_UNKNOWN.into(),
    }
}

/// The frequency, where one is told.
fn counted(seen: SeenRate) -> Option<Interval> {
    match seen {
        SeenRate::Rate(i) | SeenRate::RateOrDark(i) => Some(i),
        SeenRate::Dark | SeenRate::Unknown => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn not_seen_and_not_known_are_two_things() {
        let often = Interval::exactly(46.0);
        let told = [SeenRate::Rate(often), SeenRate::RateOrDark(often), SeenRate::Dark, SeenRate::Unknown].map(rate);
        assert_eq!(told, ["46", "46, or dark", "none seen", "cannot be told"]);
    }
}
