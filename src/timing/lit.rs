//! A recorded signal as a light that is lit or dark: from the changes of a logic recorder, or from samples.

use super::levels::Levels;
use super::{Edge, Recorded};
use crate::source::formats::{Changes, Samples, Signal, Values};
use crate::units::Interval;

/// Why a recording tells nothing of flashes.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Unreadable {
    /// It rises and falls by no more than its noise.
    #[error("no light stands out of the noise; bring the meter nearer, or shade it")]
    Noise,
    /// Samples that hardly change.
    #[error("the level changes by less than 5 %: no flash, or other light hides it; shade the meter")]
    Level,
    /// Light dimmed by the width of pulses, which nobody said or said otherwise.
    #[error("the light comes on {hz:.0} times a second, as if dimmed: write `pwm: {hz:.0} Hz` in the sequence file")]
    Dimmed {
        /// How often it comes on.
        hz: f64,
    },
    /// Too slow to smooth the dimming over.
    #[error(
        "recorded each {step_ms:.3} ms, too seldom to tell flashes from dimming of {hz:.0} Hz: record four times as often as it dims, or say `--averages` of a recorder that averages over its step"
    )]
    TooSlow {
        /// The time between samples.
        step_ms: f64,
        /// How often the light comes on.
        hz: f64,
    },
    /// Nothing of it is known.
    #[error("the recorder never knew whether it was lit")]
    Unknown,
}

impl Recorded {
    /// The light a signal stands for: its dark level taken off, dimming by pulse width smoothed over a period of `pwm_hz`;
    /// `None` where there is none, or the recorder averaged it out.
    ///
    /// # Errors
    /// Why it tells nothing of flashes.
    pub fn of(signal: &Signal, pwm_hz: Option<f64>) -> Result<Self, Unreadable> {
        let pwm_hz = pwm_hz.filter(|hz| hz.is_finite() && *hz > 0.0);
        let recorded = match signal.values.as_ref() {
            Values::Changes(changes) => of_changes(changes, pwm_hz)?,
            Values::Samples(samples) => of_samples(samples, pwm_hz)?,
        };
        recorded.dimmed_at_hz().map_or(Ok(recorded), |hz| Err(Unreadable::Dimmed { hz }))
    }
}

fn of_samples(samples: &Samples, pwm_hz: Option<f64>) -> Result<Recorded, Unreadable> {
    let mut levels = Levels::new(&samples.times_s, &samples.levels, samples.off_s);
    let step_s = levels.usual_step_s();
    match pwm_hz {
        // Read seldom, dimming may look like slow flashes.
        Some(hz) if step_s * hz > 0.25 => return Err(Unreadable::TooSlow { step_ms: step_s * 1e3, hz }),
        Some(hz) if step_s > 0.0 => levels.smooth((1.0 / (hz * step_s)).round() as usize),
        _ => levels.leave_out_spikes(),
    }
    levels.recorded()
}

fn of_changes(changes: &Changes, pwm_hz: Option<f64>) -> Result<Recorded, Unreadable> {
    let recorded = known(changes)?;
    let Some(hz) = pwm_hz else { return Ok(recorded) };
    let near = |pair: &[Edge]| matches!(pair, [a, b] if b.at_s.low - a.at_s.high < 1.0 / hz);
    if !recorded.edges().windows(2).any(near) {
        return Ok(recorded);
    }
    let length_s = recorded.to_s - recorded.from_s;
    let samples =
        resampled(&recorded, hz).ok_or(Unreadable::TooSlow { step_ms: length_s * 1e3 / MOST_SAMPLES as f64, hz })?;
    let off_s = samples.off_s + 0.5 / hz;
    let light = Levels::new(&samples.times_s, &samples.levels, off_s).recorded()?;
    Ok(Recorded { unknown: recorded.unknown, ..light })
}

/// The longest stretch in which nothing could have hidden: a change while the signal was not known may have come at any
/// time of that; where it was the same after as before, a flash may have passed.
fn known(changes: &Changes) -> Result<Recorded, Unreadable> {
    let Changes { to_s, first, early_s, late_s, .. } = changes;
    let mut stretches: Vec<(f64, f64, Option<bool>, Vec<Edge>)> = Vec::new();
    let mut stretch = first.map(|lit| (0.0, *to_s, Some(lit), Vec::new()));
    let (mut last, mut unknown_from, mut unknown) = (*first, None, 0);
    for (at, lit) in &changes.changes {
        let Some(lit) = lit else {
            unknown_from.get_or_insert(*at);
            continue;
        };
        let from = unknown_from.take();
        match stretch.as_mut() {
            Some((.., edges)) if last != Some(*lit) => {
                let at_s = Interval { low: from.unwrap_or(*at) - early_s, high: at + late_s };
                edges.push(Edge { at_s, lit: *lit });
            }
            _ => {
                if let Some((begin, _, at_first, edges)) = stretch.take() {
                    unknown += 1;
                    stretches.push((begin, from.unwrap_or(*at), at_first, edges));
                }
                stretch = Some((*at, *to_s, Some(*lit), Vec::new()));
            }
        }
        last = Some(*lit);
    }
    if let Some((begin, _, at_first, edges)) = stretch {
        stretches.push((begin, unknown_from.unwrap_or(*to_s), at_first, edges));
    }
    let longest = stretches.into_iter().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
    let (from_s, to_s, lit_at_first, edges) = longest.ok_or(Unreadable::Unknown)?;
    let unseen_under_s = early_s + late_s;
    Ok(Recorded { unseen_under_s, unknown, lit_at_first, ..Recorded::new(from_s, to_s, edges) })
}

/// More samples than this are not made of changes.
const MOST_SAMPLES: usize = 5_000_000;

/// The share of a dimming period that is lit about each of even times; `None` where that would be too many.
fn resampled(recorded: &Recorded, hz: f64) -> Option<Samples> {
    const IN_A_PERIOD: f64 = 8.0;
    let (period, step) = (1.0 / hz, 1.0 / (hz * IN_A_PERIOD));
    let count = ((recorded.to_s - recorded.from_s - period) / step).floor();
    if !(0.0..MOST_SAMPLES as f64).contains(&count) {
        return None;
    }
    let lit = LitSoFar::of(recorded);
    let at = |n: usize| recorded.from_s + period / 2.0 + step * n as f64;
    let times_s: Vec<f64> = (0..=count as usize).map(at).collect();
    let share = |t: &f64| (lit.until(t + period / 2.0) - lit.until(t - period / 2.0)) / period;
    let levels = times_s.iter().map(share).collect();
    Some(Samples { times_s: times_s.into(), levels, off_s: recorded.unseen_under_s })
}

/// The time a light was lit up to each of its edges.
struct LitSoFar {
    edges: Vec<(f64, f64, bool)>,
}

impl LitSoFar {
    fn of(recorded: &Recorded) -> Self {
        let mut edges = vec![(recorded.from_s, 0.0, recorded.lit_at_first.unwrap_or(false))];
        for edge in recorded.edges() {
            let at = edge.at_s.middle();
            if let Some((from, so_far, lit)) = edges.last().copied() {
                edges.push((at, so_far + if lit { at - from } else { 0.0 }, edge.lit));
            }
        }
        Self { edges }
    }

    fn until(&self, time: f64) -> f64 {
        let n = self.edges.partition_point(|(at, ..)| *at <= time);
        self.edges
            .get(n.saturating_sub(1))
            .map_or(0.0, |(at, so_far, lit)| so_far + if *lit { (time - at).max(0.0) } else { 0.0 })
    }
}
