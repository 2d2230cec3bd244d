//! A recorded light: what its edges tell, as intervals, since each edge is known only to the recording's step.

use super::FlashReading;
use crate::units::Interval;

/// A change of a recorded light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// When, in seconds: between these two.
    pub at_s: Interval,
    /// Whether it is lit from there on.
    pub lit: bool,
}

/// A recorded light: its edges in order, lit and dark in turn.
#[derive(Debug, Clone, PartialEq)]
pub struct Recorded {
    /// When the recording begins, in seconds.
    pub from_s: f64,
    /// When it ends, in seconds.
    pub to_s: f64,
    /// What is lit or dark for less than this, in seconds, may have gone unseen.
    pub unseen_under_s: f64,
    /// Spikes of one sample that were left out.
    pub spikes: usize,
    /// Stretches that are not known and left out with all before or after them.
    pub unknown: usize,
    /// Whether it is lit at the beginning, where that is known.
    pub lit_at_first: Option<bool>,
    pub(super) edges: Vec<Edge>,
}

/// A whole pulse of a recording.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Pulse {
    onset_s: Interval,
    end_s: Interval,
}

/// What a recording tells of a flashing light; each figure is a range that holds the recording's true one.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// How many whole flashes were counted.
    pub flashes: usize,
    /// Whether the darks between are known well enough to tell pulses of a flash from flashes.
    pub sure: bool,
    /// Flashes a minute.
    pub per_min: Interval,
    /// Pulses in a flash, the fewest and the most.
    pub pulses: (usize, usize),
    /// The longest pulse, in milliseconds.
    pub longest_ms: Interval,
    /// The shortest pulse, in milliseconds.
    pub shortest_ms: Interval,
    /// The share of the time it is lit, 0 to 1.
    pub duty: Interval,
    /// How far the time from a flash to the like one of the next pattern strays from the mean, in milliseconds.
    pub jitter_ms: Interval,
}

impl Recorded {
    /// From edges in the order of their times; an edge to what already is changes nothing.
    #[must_use]
    pub fn new(from_s: f64, to_s: f64, edges: impl IntoIterator<Item = Edge>) -> Self {
        let mut kept: Vec<Edge> = Vec::new();
        for edge in edges {
            if kept.last().is_none_or(|last| last.lit != edge.lit) {
                kept.push(edge);
            }
        }
        let unseen_under_s = kept.iter().map(|e| e.at_s.width()).fold(0.0, f64::max);
        let lit_at_first = kept.first().map(|e| !e.lit);
        Self { from_s, to_s, unseen_under_s, spikes: 0, unknown: 0, lit_at_first, edges: kept }
    }

    /// Its edges.
    #[must_use]
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// The pulses whose beginning and end were recorded.
    fn pulses(&self) -> Vec<Pulse> {
        let pairs = self.edges.windows(2).filter_map(|pair| match pair {
            [on, off] if on.lit && !off.lit => Some(Pulse { onset_s: on.at_s, end_s: off.at_s }),
            _ => None,
        });
        pairs.collect()
    }

    /// How many whole flashes it has.
    #[must_use]
    pub fn whole_flashes(&self, reading: &FlashReading) -> usize {
        self.flashes(reading).flashes.len()
    }

    /// How often a light comes on that comes on every few milliseconds: one dimmed by the width of pulses, in hertz.
    ///
    /// Faster than 50 Hz eyes see it as steady: common practice, no source.
    #[must_use]
    pub(super) fn dimmed_at_hz(&self) -> Option<f64> {
        const DIMMED_FROM_HZ: f64 = 50.0;
        let onsets: Vec<f64> = self.edges.iter().filter(|e| e.lit).map(|e| e.at_s.middle()).collect();
        let mut between: Vec<f64> = onsets.windows(2).filter_map(|p| Some(p.get(1)? - p.first()?)).collect();
        between.sort_by(f64::total_cmp);
        // Of ten in a row eight are near each other; the dark between flashes is the rest.
        let middle = *between.get(between.len() / 2)?;
        let near = between.iter().filter(|b| **b < 1.0 / DIMMED_FROM_HZ).count();
        (between.len() >= 9 && near * 10 >= between.len() * 8 && middle > 0.0).then(|| 1.0 / middle)
    }

    /// What it shows, where it holds more flashes than a pattern of `in_pattern` flashes; fewer tell no frequency.
    ///
    /// Rates and shares are taken over whole patterns: a part of one that has uneven flashes tells another figure.
    ///
    /// # Example
    /// ```
    /// use lampwright::timing::{Edge, FlashReading, Recorded};
    /// use lampwright::units::Interval;
    /// // Ten beginnings 1.515 s apart, each known to 1 ms: 60 / 1.515 = 39.6 a minute, surely under 40.
    /// let edge = |s: f64, lit| Edge { at_s: Interval::new(s, s + 0.001), lit };
    /// let edges = (0..10).flat_map(|n| [edge(1.515 * f64::from(n) + 0.5, true), edge(1.515 * f64::from(n) + 0.6, false)]);
    /// let shown = Recorded::new(0.0, 16.0, edges).shown(&FlashReading::default(), 1).expect("flashes");
    /// assert!(shown.per_min.low < 60.0 / 1.515 && 60.0 / 1.515 < shown.per_min.high && shown.per_min.high < 40.0);
    /// ```
    #[must_use]
    pub fn shown(&self, reading: &FlashReading, in_pattern: usize) -> Option<Shown> {
        let Grouped { flashes, sure } = self.flashes(reading);
        let in_pattern = in_pattern.max(1);
        let count = flashes.len();
        let cycles = count.checked_sub(1)? / in_pattern * in_pattern;
        let (first, last) = (flashes.first()?.first()?, flashes.get(cycles)?.first()?);
        if cycles == 0 {
            return None;
        }
        let between = last.onset_s.minus(first.onset_s);
        let mean = between.scaled(in_pattern as f64 / cycles as f64);
        let jitter_ms = jitter(&flashes, in_pattern, mean).scaled(1e3);
        let between = uneven(between, jitter_ms);
        let minutes = |s: f64| 60.0 * cycles as f64 / s.max(f64::MIN_POSITIVE);
        let widths: Vec<Interval> =
            flashes.iter().flatten().map(|p| at_least_zero(p.end_s.minus(p.onset_s)).scaled(1e3)).collect();
        let lit = flashes.iter().take(cycles).flatten().fold(Interval::ZERO, |sum, p| {
            let width = at_least_zero(p.end_s.minus(p.onset_s));
            Interval { low: sum.low + width.low, high: sum.high + width.high }
        });
        let share = |lit: f64, of: f64| (lit / of.max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        let counts = || flashes.iter().map(Vec::len);
        let extreme = |pick: fn(f64, f64) -> f64| {
            let ends =
                widths.iter().copied().reduce(|a, b| Interval { low: pick(a.low, b.low), high: pick(a.high, b.high) });
            ends.unwrap_or(Interval::ZERO)
        };
        Some(Shown {
            flashes: count,
            sure,
            per_min: Interval { low: minutes(between.high), high: minutes(between.low) },
            pulses: (counts().min()?, counts().max()?),
            longest_ms: extreme(f64::max),
            shortest_ms: extreme(f64::min),
            duty: Interval { low: share(lit.low, between.high), high: share(lit.high, between.low) },
            jitter_ms,
        })
    }

    /// Pulses joined into flashes as the reading says; what the ends of the recording may have cut is left out.
    fn flashes(&self, reading: &FlashReading) -> Grouped {
        let pulses = self.pulses();
        let gaps: Vec<Interval> =
            pulses.windows(2).filter_map(|p| Some(at_least_zero(p.get(1)?.onset_s.minus(p.first()?.end_s)))).collect();
        let longest = gaps.iter().copied().reduce(Interval::max).unwrap_or(Interval::ZERO);
        let under = |gap: f64, longest: f64| gap < reading.merge_under.seconds() && gap < reading.merge_share * longest;
        let joins = |gap: Interval| under(gap.middle(), longest.middle());
        let sure = gaps.iter().all(|gap| under(gap.high, longest.low) == under(gap.low, longest.high));
        let mut flashes: Vec<Vec<Pulse>> = Vec::new();
        for (n, pulse) in pulses.iter().enumerate() {
            let joined = n > 0 && gaps.get(n - 1).is_some_and(|gap| joins(*gap));
            match flashes.last_mut().filter(|_| joined) {
                Some(flash) => flash.push(*pulse),
                None => flashes.push(vec![*pulse]),
            }
        }
        let grouped = flashes.iter().any(|f| f.len() > 1);
        let near = |gap: f64| grouped && joins(Interval::exactly(gap.max(0.0)));
        // A group cut by an end of the recording has lost pulses: what is dark there began or ended out of sight, or with a
        // pulse that did.
        let dark_from = self.edges.first().filter(|e| !e.lit).map_or(self.from_s, |e| e.at_s.high);
        let dark_to = self.edges.last().filter(|e| e.lit).map_or(self.to_s, |e| e.at_s.low);
        if flashes.first().and_then(|f| f.first()).is_some_and(|p| near(p.onset_s.low - dark_from)) {
            flashes.remove(0);
        }
        if flashes.last().and_then(|f| f.last()).is_some_and(|p| near(dark_to - p.end_s.high)) {
            flashes.pop();
        }
        Grouped { flashes, sure }
    }
}

/// Pulses as flashes, and whether another grouping could not be.
struct Grouped {
    flashes: Vec<Vec<Pulse>>,
    sure: bool,
}

fn at_least_zero(range: Interval) -> Interval {
    Interval { low: range.low.max(0.0), high: range.high.max(0.0) }
}

/// The time of whole patterns: where flashes surely stray, some of it may be part of another pattern than was thought.
fn uneven(between: Interval, jitter_ms: Interval) -> Interval {
    let stray = if jitter_ms.low > 0.0 { jitter_ms.high * 1e-3 } else { 0.0 };
    Interval { low: between.low - stray, high: between.high + stray }
}

/// The greatest distance of a time from a flash to the like one of the next pattern from their mean.
fn jitter(flashes: &[Vec<Pulse>], in_pattern: usize, mean_s: Interval) -> Interval {
    let onsets: Vec<Interval> = flashes.iter().filter_map(|f| f.first()).map(|p| p.onset_s).collect();
    let strays = onsets.iter().zip(onsets.iter().skip(in_pattern)).map(|(one, next)| {
        let stray = next.minus(*one).minus(mean_s);
        let least = if stray.low > 0.0 {
            stray.low
        } else if stray.high < 0.0 {
            -stray.high
        } else {
            0.0
        };
        // Less than a nanosecond is rounding of the reckoning.
        let least = if least < 1e-9 { 0.0 } else { least };
        Interval { low: least, high: stray.low.abs().max(stray.high.abs()) }
    });
    let most = strays.reduce(|a, b| Interval { low: a.low.max(b.low), high: a.high.max(b.high) });
    most.unwrap_or(Interval::ZERO)
}
