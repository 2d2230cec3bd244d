//! Samples of a light as edges: spikes left out, noise and dimming smoothed, dark and full found, thresholds crossed.
//!
//! No published text says how to read a light from samples: the shares and counts here are own readings.

use super::lit::Unreadable;
use super::{Edge, Recorded};
use crate::units::Interval;

/// Lit from this share of the way from dark to full: midway, with room for noise.
const LIT_FROM: f64 = 0.6;
/// Dark again from this share down.
const DARK_UNDER: f64 = 0.4;
/// A pulse is what stands above this share of full, as pulses of a file are read; noise may hide it by as much again.
const LEAVES_DARK: f64 = 0.10;
const SURELY_DARK: f64 = 0.05;
const SURELY_LIT: f64 = 0.15;
/// Three deviations of the noise may be this share of full, or the signal is smoothed.
const NOISE: f64 = 0.05;
/// Smoothing over more samples than this would leave nothing of a pulse.
const MOST_SMOOTHED: usize = 400;
/// What stands out by fewer deviations than this may be noise alone, whose extremes lie eight apart.
const STANDS_OUT: f64 = 25.0;
/// A signal that changes by less than this share of its greatest value does not flash.
const STEADY_UNDER: f64 = 0.05;

/// Levels at times, on their way to edges.
pub(super) struct Levels {
    times: Vec<f64>,
    levels: Vec<f64>,
    /// How far an edge may lie from where the levels show it, beside the time between two samples.
    off_s: f64,
    spikes: usize,
    /// Samples already smoothed into one.
    window: usize,
}

impl Levels {
    pub fn new(times: &[f64], levels: &[f64], off_s: f64) -> Self {
        Self { times: times.to_vec(), levels: levels.to_vec(), off_s, spikes: 0, window: 1 }
    }

    /// The middle one of the times between two samples.
    pub fn usual_step_s(&self) -> f64 {
        let mut steps: Vec<f64> = self.times.windows(2).filter_map(|p| Some(p.get(1)? - p.first()?)).collect();
        let middle = steps.len() / 2;
        if steps.is_empty() { 0.0 } else { *steps.select_nth_unstable_by(middle, f64::total_cmp).1 }
    }

    /// Leaves out what stands out for one sample, where all else stays for four or more.
    pub fn leave_out_spikes(&mut self) {
        let middle_three = |n: usize| {
            let mut three = [self.levels.get(n)?, self.levels.get(n + 1)?, self.levels.get(n + 2)?].map(|v| *v);
            three.sort_by(f64::total_cmp);
            Some(three[1])
        };
        let lasting = (0..self.levels.len()).filter_map(middle_three);
        let (low, high) = lasting.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        if low >= high {
            return;
        }
        let middle = f64::midpoint(low, high);
        let runs = runs(&self.levels, middle);
        let inner = runs.get(1..runs.len().saturating_sub(1)).unwrap_or_default();
        let long_lit = inner.iter().any(|run| run.lit && run.length >= 4);
        if !long_lit || inner.iter().any(|run| (2..4).contains(&run.length)) {
            return;
        }
        let alone: Vec<usize> = inner.iter().filter(|run| run.length == 1).map(|run| run.from).collect();
        for n in alone {
            let (Some(before), Some(after)) = (self.levels.get(n - 1), self.levels.get(n + 1)) else { continue };
            let mean = f64::midpoint(*before, *after);
            if let Some(level) = self.levels.get_mut(n) {
                *level = mean;
                self.spikes += 1;
            }
        }
    }

    /// Replaces each level by the mean of as many about it; samples whose window is not whole are left out.
    pub fn smooth(&mut self, window: usize) {
        let count = self.levels.len();
        if window <= 1 || window >= count {
            return;
        }
        self.off_s += self.usual_step_s() * window as f64 / 2.0;
        let mut sum: f64 = self.levels.iter().take(window).sum();
        let mut means = Vec::with_capacity(count - window + 1);
        means.push(sum / window as f64);
        for (out, into) in self.levels.iter().zip(self.levels.iter().skip(window)) {
            sum += into - out;
            means.push(sum / window as f64);
        }
        let half = window / 2;
        self.times = self.times.iter().skip(half).take(means.len()).copied().collect();
        self.levels = means;
        self.window *= window;
    }

    /// The edges of the light, or why there are none to be told.
    pub fn recorded(mut self) -> Result<Recorded, Unreadable> {
        let (dark, full) = loop {
            let (low, high) = self.levels.iter().fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(*v), h.max(*v)));
            let (dark, full) = (self.dark(low, high), high);
            let range = full - dark;
            if !range.is_finite() {
                return Err(Unreadable::Noise);
            }
            if range <= STEADY_UNDER * high.abs().max(low.abs()) {
                return Ok(self.steady());
            }
            let noise = self.noise();
            let wanted = (3.0 * noise / (NOISE * range)).powi(2);
            if wanted <= 1.5 {
                if noise * STANDS_OUT > range {
                    return Err(Unreadable::Noise);
                }
                break (dark, full);
            }
            let window = wanted.ceil();
            let whole = window * self.window as f64;
            if whole <= MOST_SMOOTHED as f64 && window < self.levels.len() as f64 {
                self.smooth(window as usize);
            } else {
                return Err(Unreadable::Noise);
            }
        };
        let edges = self.edges(dark, full);
        let lit_at_first = edges.first().map(|e| !e.lit);
        let unseen_under_s = self.longest_step_s() + 2.0 * self.off_s;
        Ok(Recorded { unseen_under_s, spikes: self.spikes, lit_at_first, ..self.over(edges) })
    }

    fn over(&self, edges: Vec<Edge>) -> Recorded {
        let ends = (self.times.first().copied().unwrap_or(0.0), self.times.last().copied().unwrap_or(0.0));
        Recorded::new(ends.0, ends.1, edges)
    }

    fn steady(&self) -> Recorded {
        let unseen_under_s = self.longest_step_s() + 2.0 * self.off_s;
        Recorded { unseen_under_s, spikes: self.spikes, lit_at_first: None, ..self.over(Vec::new()) }
    }

    fn longest_step_s(&self) -> f64 {
        self.times.windows(2).filter_map(|p| Some(p.get(1)? - p.first()?)).fold(0.0, f64::max)
    }

    /// The dark level: a quarter of what lies below the middle is darker, so one deep sample makes no darkness.
    fn dark(&self, low: f64, high: f64) -> f64 {
        let middle = f64::midpoint(low, high);
        let mut below: Vec<f64> = self.levels.iter().copied().filter(|v| *v <= middle).collect();
        let quarter = below.len() / 4;
        if below.is_empty() { low } else { *below.select_nth_unstable_by(quarter, f64::total_cmp).1 }
    }

    /// The deviation of the noise, from how far samples lie from the middle of their neighbours: a fade bends little, and
    /// the two fifths that lie nearest hold no edges. Of a normal distribution those are 0.256 deviations off in the mean.
    fn noise(&self) -> f64 {
        let bend = |p: &[f64]| match p {
            [a, b, c] => Some((a - 2.0 * b + c).abs()),
            _ => None,
        };
        let mut bends: Vec<f64> = self.levels.windows(3).filter_map(bend).collect();
        let kept = bends.len() * 2 / 5;
        if kept == 0 {
            return 0.0;
        }
        bends.select_nth_unstable_by(kept, f64::total_cmp);
        let mean = bends.iter().take(kept).sum::<f64>() / kept as f64 / 0.256;
        // The noise of three samples is in a bend, twice that of the middle one; in means of a sliding window only that of
        // the samples that enter and leave.
        if self.window == 1 { mean / 6.0_f64.sqrt() } else { mean / 2.0 * (self.window as f64).sqrt() }
    }

    fn edges(&self, dark: f64, full: f64) -> Vec<Edge> {
        let share = |n: usize| self.levels.get(n).map_or(0.0, |level| (level - dark) / (full - dark));
        let mut edges: Vec<Edge> = Vec::new();
        for turn in turns(self.levels.len(), &share) {
            edges.push(if turn.lit { self.onset(&turn, &share) } else { self.end(&turn, &share) });
        }
        edges
    }

    fn time(&self, n: usize) -> f64 {
        self.times.get(n).or(self.times.last()).copied().unwrap_or(0.0)
    }

    /// Between the last sample that is surely dark and the first that is surely not.
    fn onset(&self, turn: &Turn, share: &dyn Fn(usize) -> f64) -> Edge {
        let dark = (turn.from..turn.at).rev().find(|n| share(*n) < SURELY_DARK).unwrap_or(turn.darkest);
        let lit = (dark + 1..=turn.at).find(|n| share(*n) >= SURELY_LIT).unwrap_or(turn.at);
        Edge { at_s: Interval { low: self.time(dark) - self.off_s, high: self.time(lit) + self.off_s }, lit: true }
    }

    fn end(&self, turn: &Turn, share: &dyn Fn(usize) -> f64) -> Edge {
        let dark = (turn.at..turn.until).find(|n| share(*n) < SURELY_DARK).unwrap_or(turn.darkest);
        let lit = (turn.from..dark).rev().find(|n| share(*n) >= SURELY_LIT).unwrap_or(turn.from);
        Edge { at_s: Interval { low: self.time(lit) - self.off_s, high: self.time(dark) + self.off_s }, lit: false }
    }
}

/// A change between lit and dark: where it is sure, and between which samples it lies.
struct Turn {
    lit: bool,
    at: usize,
    /// The darkest sample of the dark it ends or begins.
    darkest: usize,
    from: usize,
    until: usize,
}

/// The changes between lit and dark; where a dip does not reach down to what counts as dark, the light stays lit.
fn turns(count: usize, share: &dyn Fn(usize) -> f64) -> Vec<Turn> {
    let mut crossings: Vec<(usize, bool)> = Vec::new();
    let mut state = None;
    for n in 0..count {
        let lit = match (state, share(n)) {
            (Some(false) | None, level) if level >= LIT_FROM => true,
            (Some(true) | None, level) if level < DARK_UNDER => false,
            _ => continue,
        };
        if state.is_some() {
            crossings.push((n, lit));
        }
        state = Some(lit);
    }
    let darkest = |from: usize, to: usize| (from..to).min_by(|a, b| share(*a).total_cmp(&share(*b))).unwrap_or(from);
    let mut kept: Vec<Turn> = Vec::new();
    for (n, (at, lit)) in crossings.iter().enumerate() {
        let (from, until) = (
            n.checked_sub(1).and_then(|p| crossings.get(p)).map_or(0, |c| c.0),
            crossings.get(n + 1).map_or(count, |c| c.0),
        );
        let low = if *lit { darkest(from, *at) } else { darkest(*at, until) };
        let dips_only = *lit && n > 0 && share(low) >= LEAVES_DARK;
        if dips_only {
            kept.pop();
        } else {
            kept.push(Turn { lit: *lit, at: *at, darkest: low, from, until });
        }
    }
    kept
}

/// Samples in a row on one side of a level.
struct Run {
    lit: bool,
    from: usize,
    length: usize,
}

fn runs(levels: &[f64], middle: f64) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for (n, level) in levels.iter().enumerate() {
        let lit = *level > middle;
        match runs.last_mut() {
            Some(run) if run.lit == lit => run.length += 1,
            _ => runs.push(Run { lit, from: n, length: 1 }),
        }
    }
    runs
}
