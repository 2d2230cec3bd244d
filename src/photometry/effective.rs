//! Effective intensity of flashing lights: the Blondel-Rey-Douglas form.

use crate::timing::{CommonPieces, JointLimits, Waveform, common_pieces};

/// A stretch of time in which a luminous intensity is constant or changes along a straight line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IntensityPiece {
    /// How long, seconds.
    pub duration_s: f64,
    /// The intensity at its beginning, candela.
    pub from_cd: f64,
    /// The intensity at its end, candela.
    pub to_cd: f64,
}

/// Whether a course of intensity happens once or repeats for ever.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Recurrence {
    /// It happens once; dark before and after.
    Once,
    /// The last piece is followed by the first.
    Cyclic,
}

/// The constants of effective intensity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EffectiveReading {
    /// The constant of Blondel and Rey, seconds: 0.2 in 14 CFR 25.1401(e); their own of 1911 was 0.21.
    pub constant_s: f64,
    /// Light with less dark between than this (seconds) is one group; a window never leaves a group. At or above
    /// `constant_s` it changes nothing: bridging so much dark never gains.
    pub group_gap_s: f64,
}

impl Default for EffectiveReading {
    fn default() -> Self {
        Self { constant_s: 0.2, group_gap_s: 0.2 }
    }
}

/// The effective intensity in candela: the largest, over all windows `t1 < t2` inside one group of light, of the
/// integral of the intensity divided by (`constant_s` + t2 - t1).
///
/// Source: 14 CFR 25.1401(e) with the limits chosen to maximise (Douglas, Illum. Eng. 52, 1957). The equality
/// I(t1) = I(t2) = Ie is not used: it fails at jumps and has false roots under pulse-width modulation. A light that
/// is never dark for `group_gap_s` is one endless group, so that a steady light has its own level and a modulated one
/// its mean. Exact on straight pieces to rounding (1e-12 of the peak).
///
/// A piece whose length is not a finite number above 0 is left out; an intensity that is not a finite number above 0
/// counts as dark. A `constant_s` of 0 or less, or not a number, gives the peak.
///
/// # Example
/// ```
/// use lampwright::photometry::effective::{EffectiveReading, IntensityPiece, Recurrence, effective_intensity};
/// // A rectangular pulse of 100 cd and 0.2 s: T / (0.2 + T) = 1/2 of its peak.
/// let pulse = [IntensityPiece { duration_s: 0.2, from_cd: 100.0, to_cd: 100.0 }];
/// let found = effective_intensity(&pulse, Recurrence::Once, &EffectiveReading::default());
/// assert!((found - 50.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn effective_intensity(pieces: &[IntensityPiece], recurrence: Recurrence, reading: &EffectiveReading) -> f64 {
    let mut pieces: Vec<IntensityPiece> = pieces.iter().filter_map(usable).collect();
    let peak_cd = pieces.iter().map(|p| p.from_cd.max(p.to_cd)).fold(0.0, f64::max);
    if peak_cd == 0.0 {
        return 0.0;
    }
    if reading.constant_s.is_nan() || reading.constant_s <= 0.0 {
        return peak_cd;
    }
    // As shares of the peak no intensity is too large to be summed.
    for piece in &mut pieces {
        piece.from_cd /= peak_cd;
        piece.to_cd /= peak_cd;
    }
    let gap = if recurrence == Recurrence::Cyclic { gap_end(&pieces, reading.group_gap_s) } else { Some(0) };
    let share = match gap {
        Some(start) => {
            pieces.rotate_left(start);
            of_groups(&pieces, reading)
        }
        None => of_endless(&pieces, reading.constant_s),
    };
    peak_cd * share.clamp(0.0, 1.0)
}

/// The summed intensity of lamps on one clock over their common period, from the intensity of each at full level
/// (candela) and its waveform; `None` where the channels drift past the limits.
#[must_use]
pub fn sum_waveforms(lamps: &[(f64, &Waveform)], limits: &JointLimits) -> Option<Vec<IntensityPiece>> {
    let waveforms: Vec<&Waveform> = lamps.iter().map(|(_, waveform)| *waveform).collect();
    let full_cd: Vec<f64> = lamps.iter().map(|(full_cd, _)| *full_cd).collect();
    common_pieces(&waveforms, limits).map(|common| sum_common(&common, &full_cd))
}

/// The summed intensity of lamps whose waveforms are already cut together; `full_cd` has one intensity at full level
/// (candela) for each waveform, missing ones are dark.
///
/// For many directions: the cuts are made once, only the intensities change.
#[must_use]
pub fn sum_common(common: &CommonPieces, full_cd: &[f64]) -> Vec<IntensityPiece> {
    let mut pieces: Vec<IntensityPiece> = common
        .durations_s()
        .iter()
        .map(|duration_s| IntensityPiece { duration_s: *duration_s, from_cd: 0.0, to_cd: 0.0 })
        .collect();
    for (levels, full_cd) in common.levels().iter().zip(full_cd).filter(|(_, full_cd)| **full_cd > 0.0) {
        for (piece, (from, to)) in pieces.iter_mut().zip(levels) {
            piece.from_cd += full_cd * from;
            piece.to_cd += full_cd * to;
        }
    }
    pieces
}

fn usable(piece: &IntensityPiece) -> Option<IntensityPiece> {
    let light = |cd: f64| if cd.is_finite() && cd > 0.0 { cd } else { 0.0 };
    let duration_s = piece.duration_s;
    (duration_s.is_finite() && duration_s > 0.0).then(|| IntensityPiece {
        duration_s,
        from_cd: light(piece.from_cd),
        to_cd: light(piece.to_cd),
    })
}

fn is_dark(piece: &IntensityPiece) -> bool {
    piece.from_cd == 0.0 && piece.to_cd == 0.0
}

/// The index of the first piece after a dark that parts groups, cyclically; `None` for one endless group.
fn gap_end(pieces: &[IntensityPiece], gap_s: f64) -> Option<usize> {
    let mut dark_s = 0.0;
    for (step, piece) in pieces.iter().chain(pieces).enumerate() {
        if is_dark(piece) {
            dark_s += piece.duration_s;
        } else if dark_s > 0.0 && dark_s >= gap_s {
            return Some(step % pieces.len());
        } else {
            dark_s = 0.0;
        }
    }
    None
}

fn of_groups(pieces: &[IntensityPiece], reading: &EffectiveReading) -> f64 {
    let mut groups: Vec<Vec<IntensityPiece>> = vec![Vec::new()];
    let mut darks: Vec<IntensityPiece> = Vec::new();
    for piece in pieces {
        if is_dark(piece) {
            darks.push(*piece);
            continue;
        }
        let dark_s: f64 = darks.iter().map(|d| d.duration_s).sum();
        if dark_s > 0.0 && dark_s >= reading.group_gap_s {
            darks.clear();
            groups.push(Vec::new());
        }
        if let Some(group) = groups.last_mut() {
            group.append(&mut darks);
            group.push(*piece);
        }
    }
    groups.iter().map(|group| largest_ratio(|| group.iter(), 0.0, reading.constant_s)).fold(0.0, f64::max)
}

/// Without an end, the window may grow for ever, and the ratio tends to the mean; above the mean no best window is
/// longer than the period, so two periods hold it.
fn of_endless(pieces: &[IntensityPiece], constant_s: f64) -> f64 {
    let time_s: f64 = pieces.iter().map(|p| p.duration_s).sum();
    let light: f64 = pieces.iter().map(|p| 0.5 * (p.from_cd + p.to_cd) * p.duration_s).sum();
    let mean_cd = light / time_s;
    if !mean_cd.is_finite() {
        return 0.0;
    }
    largest_ratio(|| pieces.iter().chain(pieces), mean_cd, constant_s)
}

/// A window of time: its length and the light in it.
#[derive(Clone, Copy, Default)]
struct Window {
    time_s: f64,
    light_cd_s: f64,
}

impl Window {
    fn add(&mut self, time_s: f64, mean_cd: f64) {
        self.time_s += time_s;
        self.light_cd_s += time_s * mean_cd;
    }
}

/// Largest ratio of light to (constant + time), from a value it is known to reach.
///
/// lambda is the answer where the largest integral of (I - lambda) over any window is lambda times the constant. That
/// largest integral is convex and falling in lambda, so Newton's steps (Dinkelbach 1967) rise to the root without
/// passing it; each is the ratio of the best window for the last.
fn largest_ratio<'a, I>(pieces: impl Fn() -> I, reached_cd: f64, constant_s: f64) -> f64
where
    I: Iterator<Item = &'a IntensityPiece>,
{
    let mut lambda_cd = reached_cd;
    for _ in 0..100 {
        let best = best_window(pieces(), lambda_cd);
        let ratio_cd = best.light_cd_s / (constant_s + best.time_s);
        if !(ratio_cd.is_finite() && ratio_cd > lambda_cd) {
            break;
        }
        let gain = ratio_cd - lambda_cd;
        lambda_cd = ratio_cd;
        if gain <= 1e-15 * lambda_cd {
            break;
        }
    }
    lambda_cd
}

/// The window with the largest integral of (I - lambda): the maximum-subarray sum, each piece cut where it crosses
/// lambda.
fn best_window<'a>(pieces: impl Iterator<Item = &'a IntensityPiece>, lambda_cd: f64) -> Window {
    let (mut best, mut running) = (Window::default(), Window::default());
    let (mut best_excess, mut excess) = (0.0, 0.0);
    let mut step = |time_s: f64, from_cd: f64, to_cd: f64| {
        let mean_cd = 0.5 * (from_cd + to_cd);
        excess += time_s * (mean_cd - lambda_cd);
        running.add(time_s, mean_cd);
        if excess <= 0.0 {
            excess = 0.0;
            running = Window::default();
        } else if excess > best_excess {
            best_excess = excess;
            best = running;
        }
    };
    for piece in pieces {
        let (from, to) = (piece.from_cd, piece.to_cd);
        if (from - lambda_cd) * (to - lambda_cd) < 0.0 {
            let before_s = piece.duration_s * ((lambda_cd - from) / (to - from)).clamp(0.0, 1.0);
            step(before_s, from, lambda_cd);
            step(piece.duration_s - before_s, lambda_cd, to);
        } else {
            step(piece.duration_s, from, to);
        }
    }
    best
}
