//! The common axis of time.

use super::super::fit::round_below;
use super::super::style::{FAINT, SMALL_LETTERS, SMALL_WIDTH, SOFT, number, path};
use super::super::words;
use crate::units::rounded;
use maud::{Markup, html};

/// Where the axis begins and ends.
pub(super) const LEFT: f64 = 172.0;
const RIGHT: f64 = 540.0;
/// The same in a small drawing.
pub(super) const SMALL_LEFT: f64 = 136.0;
const SMALL_RIGHT: f64 = SMALL_WIDTH - 18.0;
/// Above this many ms the axis is in seconds.
const SECONDS_FROM: f64 = 2000.0;

/// An axis of so many ms.
#[derive(Debug, Clone, Copy)]
pub(super) struct Axis {
    length_ms: f64,
    ends: [f64; 2],
    letters: f64,
}

impl Axis {
    /// The axis of a length; of a second where it is none for lights.
    pub(super) fn of(length_ms: f64) -> Self {
        let sound = (1e-3..1e10).contains(&length_ms);
        Self { length_ms: if sound { length_ms } else { 1000.0 }, ends: [LEFT, RIGHT], letters: 13.0 }
    }
    /// The same in a small drawing.
    pub(super) fn small(length_ms: f64) -> Self {
        Self { ends: [SMALL_LEFT, SMALL_RIGHT], letters: SMALL_LETTERS, ..Self::of(length_ms) }
    }
    /// How high its numbers and its name are.
    pub(super) fn high(self) -> f64 {
        3.0 * self.letters
    }
    fn wide(self) -> f64 {
        self.ends[1] - self.ends[0]
    }
    /// Where a time stands, within the axis; nowhere where it is no number.
    pub(super) fn x(self, ms: f64) -> Option<f64> {
        (!ms.is_nan()).then(|| self.ends[0] + (ms / self.length_ms).clamp(0.0, 1.0) * self.wide())
    }
    /// Where a period begins anew; the first time alone where they would stand too close to tell.
    pub(super) fn repeats(self, period_ms: f64) -> Vec<f64> {
        if !(period_ms.is_finite() && period_ms > 0.0) {
            return Vec::new();
        }
        let apart = period_ms / self.length_ms * self.wide();
        let most = if apart < 6.0 { 1 } else { 100 };
        let times = (1..=most).map(|n| f64::from(n) * period_ms).take_while(|t| *t < self.length_ms * (1.0 - 1e-9));
        times.filter_map(|t| self.x(t)).collect()
    }
    /// The axis below the tracks, with light lines through them.
    pub(super) fn draw(self, top: f64, bottom: f64) -> Markup {
        let step = round_below(self.length_ms / 4.0);
        let ticks = (0..=20).map(|n| f64::from(n) * step).take_while(|t| *t <= self.length_ms * (1.0 + 1e-9));
        let ticks: Vec<(f64, String)> = ticks.filter_map(|t| Some((self.x(t)?, self.told(t)))).collect();
        let [left, right] = self.ends;
        let letters = number(self.letters);
        let name = if self.in_seconds() { words::TIMING_IN_S } else { words::TIMING_IN_MS };
        html! {
            g class="axis" fill=(SOFT) {
                @for (x, text) in ticks {
                    path d=(path(&[[x, top], [x, bottom + 5.0]], false)) stroke=(FAINT) fill="none" {}
                    text x=(number(x)) y=(number(bottom + 1.46 * self.letters)) text-anchor="middle" font-size=(letters) { (text) }
                }
                path d=(path(&[[left, bottom], [right, bottom]], false)) stroke=(SOFT) fill="none" {}
                text x=(number((left + right) / 2.0)) y=(number(bottom + 2.8 * self.letters)) text-anchor="middle" font-size=(letters) { (name) }
            }
        }
    }

    fn in_seconds(self) -> bool {
        self.length_ms > SECONDS_FROM
    }
    fn told(self, ms: f64) -> String {
        rounded(if self.in_seconds() { ms / 1000.0 } else { ms }, 4)
    }
}
