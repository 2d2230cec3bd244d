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
    edges: Vec<Edge>,
}

/// A whole pulse of a recording.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Pulse {
    onset_s: Interval,
    end_s: Interval,
}

/// What a recording tells of a flashing light; each figure is a range that holds the true one.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// How many whole flashes were counted.
    pub flashes: usize,
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
    /// How far the time between two flashes strays from the mean, in milliseconds.
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
        Self { from_s, to_s, edges: kept }
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

    /// What it shows; `None` with fewer than two whole flashes, which tell no frequency.
    ///
    /// # Example
    /// ```
    /// use lampwright::timing::{Edge, FlashReading, Recorded};
    /// use lampwright::units::Interval;
    /// // Ten beginnings 1.515 s apart, each known to 1 ms: 60 / 1.515 = 39.6 a minute, surely under 40.
    /// let edge = |s: f64, lit| Edge { at_s: Interval::new(s, s + 0.001), lit };
    /// let edges = (0..10).flat_map(|n| [edge(1.515 * f64::from(n) + 0.5, true), edge(1.515 * f64::from(n) + 0.6, false)]);
    /// let shown = Recorded::new(0.0, 16.0, edges).shown(&FlashReading::default()).expect("flashes");
    /// assert!(shown.per_min.low < 60.0 / 1.515 && 60.0 / 1.515 < shown.per_min.high && shown.per_min.high < 40.0);
    /// ```
    #[must_use]
    pub fn shown(&self, reading: &FlashReading) -> Option<Shown> {
        let flashes = self.flashes(reading);
        let (first, last) = (flashes.first()?, flashes.last()?);
        let count = flashes.len();
        if count < 2 {
            return None;
        }
        let between = last.first()?.onset_s.minus(first.first()?.onset_s);
        let cycles = (count - 1) as f64;
        let per_min =
            Interval { low: 60.0 * cycles / between.high, high: 60.0 * cycles / between.low.max(f64::MIN_POSITIVE) };
        let widths: Vec<Interval> =
            flashes.iter().flatten().map(|p| at_least_zero(p.end_s.minus(p.onset_s)).scaled(1e3)).collect();
        // The light of whole cycles: every flash but the last.
        let lit = flashes.iter().take(count - 1).flatten().fold(Interval::ZERO, |sum, p| {
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
            per_min,
            pulses: (counts().min()?, counts().max()?),
            longest_ms: extreme(f64::max),
            shortest_ms: extreme(f64::min),
            duty: Interval { low: share(lit.low, between.high), high: share(lit.high, between.low) },
            jitter_ms: jitter(&flashes, between.scaled(1.0 / cycles)),
        })
    }

    /// Pulses joined into flashes as the reading says; what the ends of the recording may have cut is left out.
    fn flashes(&self, reading: &FlashReading) -> Vec<Vec<Pulse>> {
        let pulses = self.pulses();
        let gaps: Vec<f64> =
            pulses.windows(2).filter_map(|p| Some(p.get(1)?.onset_s.minus(p.first()?.end_s).middle())).collect();
        let longest = gaps.iter().copied().fold(0.0, f64::max);
        let joins = |gap: f64| gap < reading.merge_under.seconds() && gap < reading.merge_share * longest;
        let mut flashes: Vec<Vec<Pulse>> = Vec::new();
        for (n, pulse) in pulses.iter().enumerate() {
            let joined = n > 0 && gaps.get(n - 1).is_some_and(|gap| joins(*gap));
            match flashes.last_mut().filter(|_| joined) {
                Some(flash) => flash.push(*pulse),
                None => flashes.push(vec![*pulse]),
            }
        }
        let grouped = flashes.iter().any(|f| f.len() > 1);
        let near = |gap: f64| grouped && joins(gap.max(0.0));
        // A group that begins with the recording may have lost its first pulse, one that ends with it its last.
        if flashes.first().and_then(|f| f.first()).is_some_and(|p| near(p.onset_s.low - self.from_s)) {
            flashes.remove(0);
        }
        if flashes.last().and_then(|f| f.last()).is_some_and(|p| near(self.to_s - p.end_s.high)) {
            flashes.pop();
        }
        flashes
    }
}

fn at_least_zero(range: Interval) -> Interval {
    Interval { low: range.low.max(0.0), high: range.high.max(0.0) }
}

/// The greatest distance of a time between two flashes from their mean.
fn jitter(flashes: &[Vec<Pulse>], mean_s: Interval) -> Interval {
    let onsets: Vec<Interval> = flashes.iter().filter_map(|f| f.first()).map(|p| p.onset_s).collect();
    let strays = onsets.windows(2).filter_map(|pair| {
        let stray = pair.get(1)?.minus(*pair.first()?).minus(mean_s);
        let least = if stray.low > 0.0 {
            stray.low
        } else if stray.high < 0.0 {
            -stray.high
        } else {
            0.0
        };
        Some(Interval { low: least, high: stray.low.abs().max(stray.high.abs()) })
    });
    let most = strays.reduce(|a, b| Interval { low: a.low.max(b.low), high: a.high.max(b.high) });
    most.unwrap_or(Interval::ZERO).scaled(1e3)
}
