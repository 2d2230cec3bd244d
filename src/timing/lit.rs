//! A recorded signal as a light that is lit or dark: ambient light off, a threshold with hysteresis, dimming smoothed.

use super::{Edge, Recorded};
use crate::source::formats::{Signal, Values};
use crate::units::Interval;

/// Lit from this share of the way from dark to full: midway, with room for noise.
const LIT_FROM: f64 = 0.6;
/// Dark again from this share down.
const DARK_UNDER: f64 = 0.4;
/// A pulse begins where the light leaves this share of full, as flashes of a file are read.
const LEAVES_DARK: f64 = 0.1;
/// A signal that changes by less than this share of its greatest value does not flash.
const STEADY_UNDER: f64 = 0.05;

impl Recorded {
    /// The light a signal stands for: its dark level taken off, dimming by pulse width smoothed over a period of `pwm_hz`.
    #[must_use]
    pub fn of(signal: &Signal, pwm_hz: Option<f64>) -> Self {
        match &signal.values {
            Values::Changes { span_s: (from, to), changes, step_s } => {
                let edge = |(at, lit): &(f64, bool)| Edge { at_s: Interval { low: at - step_s, high: *at }, lit: *lit };
                Recorded::new(*from, *to, changes.iter().map(edge))
            }
            Values::Samples { from_s, step_s, levels } => {
                let window =
                    pwm_hz.filter(|hz| *hz > 0.0).map_or(1, |hz| (1.0 / (hz * step_s)).round().max(1.0) as usize);
                let smooth = smoothed(levels, window);
                let spread_s = if window > 1 { window as f64 * step_s / 2.0 } else { 0.0 };
                let to_s = from_s + step_s * levels.len().saturating_sub(1) as f64;
                Recorded::new(*from_s, to_s, edges(&smooth, *from_s, *step_s, spread_s))
            }
        }
    }
}

/// The mean over a window about each sample.
fn smoothed(levels: &[f64], window: usize) -> Vec<f64> {
    if window <= 1 {
        return levels.to_vec();
    }
    let mut sums = Vec::with_capacity(levels.len() + 1);
    sums.push(0.0);
    for level in levels {
        sums.push(sums.last().copied().unwrap_or(0.0) + level);
    }
    let half = window / 2;
    (0..levels.len())
        .map(|n| {
            let (from, to) = (n.saturating_sub(half), (n + window - half).min(levels.len()));
            let sum = sums.get(to).copied().unwrap_or(0.0) - sums.get(from).copied().unwrap_or(0.0);
            sum / (to - from).max(1) as f64
        })
        .collect()
}

fn edges(levels: &[f64], from_s: f64, step_s: f64, spread_s: f64) -> Vec<Edge> {
    let dark = levels.iter().copied().fold(f64::INFINITY, f64::min);
    let full = levels.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let flashes = full - dark > STEADY_UNDER * full.abs().max(dark.abs());
    if !flashes {
        return Vec::new();
    }
    let at = |n: usize| from_s + step_s * n as f64;
    let mut found = Vec::new();
    let mut lit = None;
    // The last sample in the dark, and the last that was surely lit.
    let (mut last_dark, mut last_lit) = (0, 0);
    for (n, level) in levels.iter().enumerate() {
        let share = (level - dark) / (full - dark);
        match lit {
            Some(false) if share >= LIT_FROM => {
                let at_s = Interval { low: at(last_dark) - spread_s, high: at(n) + spread_s };
                found.push(Edge { at_s, lit: true });
                lit = Some(true);
            }
            // The end is where it is dark again; it was lit till the last sample above.
            Some(true) if share < LEAVES_DARK || share < DARK_UNDER && falls_no_more(levels, n) => {
                let at_s = Interval { low: at(last_lit) - spread_s, high: at(n) + spread_s };
                found.push(Edge { at_s, lit: false });
                lit = Some(false);
            }
            None if share >= LIT_FROM => lit = Some(true),
            None if share < DARK_UNDER => lit = Some(false),
            _ => {}
        }
        if share < LEAVES_DARK {
            last_dark = n;
        }
        if share >= LEAVES_DARK {
            last_lit = n;
        }
    }
    found
}

/// Whether the next sample is no darker: noise keeps some lights from ever being quite dark.
fn falls_no_more(levels: &[f64], n: usize) -> bool {
    match (levels.get(n), levels.get(n + 1)) {
        (Some(now), Some(next)) => next >= now,
        _ => true,
    }
}
