//! The common period of several waveforms on one clock, and their levels side by side over it.

use super::Waveform;
use crate::units::{Fraction, Micros};

/// How long a joint pattern may be before the channels are called drifting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JointLimits {
    /// The longest common period.
    pub longest: Micros,
    /// The most pulses, flashes or pieces in it.
    pub events: usize,
}

impl Default for JointLimits {
    /// Ten minutes, 200 000 events.
    fn default() -> Self {
        Self { longest: Micros(600_000_000), events: 200_000 }
    }
}

/// Greatest common divisor of two numbers above 0.
fn gcd(mut a: i128, mut b: i128) -> i128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

fn lcm(a: i128, b: i128) -> Option<i128> {
    (a > 0 && b > 0).then(|| a / gcd(a, b)).and_then(|a| a.checked_mul(b))
}

/// The least common multiple of two fractions above 0: lcm of numerators over gcd of denominators.
pub(super) fn lcm_of_fractions(a: Fraction, b: Fraction) -> Option<Fraction> {
    let (denom_a, denom_b) = (*a.denom(), *b.denom());
    if *a.numer() <= 0 || *b.numer() <= 0 || denom_a <= 0 || denom_b <= 0 {
        return None;
    }
    // Both fractions must be in lowest terms for this identity.
    let (a, b) = (a.reduced(), b.reduced());
    Some(Fraction::new(lcm(*a.numer(), *b.numer())?, gcd(*a.denom(), *b.denom())))
}

/// A common period cut into ticks so fine that every event falls on one.
#[derive(Debug, Clone, Copy)]
pub(super) struct CommonPeriod {
    per_us: i128,
    /// Its length in ticks.
    pub length: i128,
}

impl CommonPeriod {
    /// The common period of some periods, with ticks of at most 1 / `fineness` us; `None` where it is too long or
    /// its numbers are too large.
    pub fn of(periods: &[Fraction], fineness: i128, limits: &JointLimits) -> Option<Self> {
        let (first, rest) = periods.split_first()?;
        let common_us = rest.iter().try_fold(*first, |common, period| lcm_of_fractions(common, *period))?;
        let single = rest.iter().all(|period| period == first);
        if !single && common_us > Fraction::new(i128::from(limits.longest.0), 1) {
            return None;
        }
        let per_us = periods.iter().try_fold(fineness, |per_us, period| lcm(per_us, *period.denom()))?;
        let length = common_us.numer().checked_mul(per_us / common_us.denom())?;
        // Room for sums of a few periods and for one second.
        length.checked_mul(8)?.checked_add(per_us.checked_mul(1_000_000)?)?;
        Some(Self { per_us, length })
    }
    /// A time that is a whole number of ticks.
    pub fn ticks(&self, time_us: Fraction) -> Option<i128> {
        time_us.numer().checked_mul(self.per_us / time_us.denom())
    }
    /// The period of one waveform in ticks, and how often it fits.
    pub fn fits(&self, waveform: &Waveform) -> Option<(i128, i128)> {
        let period = self.ticks(waveform.period_us()).filter(|period| *period > 0)?;
        Some((period, self.length / period))
    }
    /// One second in ticks.
    pub fn second(&self) -> i128 {
        self.per_us.saturating_mul(1_000_000)
    }
    /// Ticks in seconds.
    pub fn seconds(&self, ticks: i128) -> f64 {
        ticks as f64 / (self.per_us as f64 * 1e6)
    }
    /// Its length in microseconds.
    pub fn length_us(&self) -> Fraction {
        Fraction::new(self.length, self.per_us)
    }
}

/// The levels of several waveforms side by side over their common period: the same cuts for all.
#[derive(Debug, Clone, PartialEq)]
pub struct CommonPieces {
    durations_s: Vec<f64>,
    levels: Vec<Vec<(f64, f64)>>,
}

impl CommonPieces {
    /// The length of each piece in seconds.
    #[must_use]
    pub fn durations_s(&self) -> &[f64] {
        &self.durations_s
    }
    /// For each waveform, its level at the beginning and at the end of each piece, 0 to 1.
    #[must_use]
    pub fn levels(&self) -> &[Vec<(f64, f64)>] {
        &self.levels
    }
}

/// Where a piece of a waveform lies on the common clock, in ticks; it may reach past either end.
struct Laid {
    from: i128,
    to: i128,
    levels: (f64, f64),
}

impl Laid {
    fn level_at(&self, tick: i128) -> f64 {
        let (from, to) = self.levels;
        if tick <= self.from || from == to {
            from
        } else if tick >= self.to {
            to
        } else {
            from + (to - from) * ((tick - self.from) as f64 / (self.to - self.from) as f64)
        }
    }
}

/// Cuts several waveforms of one clock at all their corners, over their common period.
///
/// `None` where the channels are drifting: the common period is longer than the limit, or has more pieces. One
/// period alone is never too long. Steady waveforms do not lengthen it.
#[must_use]
pub fn common_pieces(waveforms: &[&Waveform], limits: &JointLimits) -> Option<CommonPieces> {
    let mut periods: Vec<Fraction> = waveforms.iter().filter(|w| !w.is_steady()).map(|w| w.period_us()).collect();
    if periods.is_empty() {
        periods.push(Fraction::new(1_000_000, 1));
    }
    let common = CommonPeriod::of(&periods, 1, limits)?;
    let laid = lay_all(waveforms, &common, limits)?;
    let inside = |tick: &i128| *tick > 0 && *tick < common.length;
    let mut cuts: Vec<i128> = laid.iter().flatten().map(|l| l.from).filter(inside).collect();
    cuts.extend([0, common.length]);
    cuts.sort_unstable();
    cuts.dedup();
    let spans: Vec<(i128, i128)> = cuts.iter().copied().zip(cuts.iter().skip(1).copied()).collect();
    let durations_s = spans.iter().map(|(from, to)| common.seconds(to - from)).collect();
    let levels = laid.iter().map(|pieces| levels_over(pieces, &spans)).collect();
    Some(CommonPieces { durations_s, levels })
}

fn lay_all(waveforms: &[&Waveform], common: &CommonPeriod, limits: &JointLimits) -> Option<Vec<Vec<Laid>>> {
    let mut room = limits.events as i128;
    let mut all = Vec::with_capacity(waveforms.len());
    for waveform in waveforms {
        if waveform.is_steady() {
            let level = waveform.peak_level();
            all.push(vec![Laid { from: 0, to: common.length, levels: (level, level) }]);
            continue;
        }
        let (period, times) = common.fits(waveform)?;
        room -= times.checked_mul(waveform.pieces().len() as i128)?;
        if room < 0 {
            return None;
        }
        all.push(lay(waveform, common, period)?);
    }
    Some(all)
}

fn lay(waveform: &Waveform, common: &CommonPeriod, period: i128) -> Option<Vec<Laid>> {
    let mut laid = Vec::new();
    let mut base = common.ticks(waveform.phase_us())? - period;
    while base < common.length {
        for piece in waveform.pieces() {
            let (from, to) = (base + common.ticks(piece.from_us)?, base + common.ticks(piece.to_us)?);
            if to > 0 && from < common.length {
                laid.push(Laid { from, to, levels: (piece.from_level, piece.to_level) });
            }
        }
        base += period;
    }
    Some(laid)
}

fn levels_over(pieces: &[Laid], spans: &[(i128, i128)]) -> Vec<(f64, f64)> {
    let mut pieces = pieces.iter().peekable();
    let mut levels = Vec::with_capacity(spans.len());
    for (from, to) in spans {
        while pieces.peek().is_some_and(|piece| piece.to <= *from) {
            pieces.next();
        }
        levels.push(pieces.peek().map_or((0.0, 0.0), |piece| (piece.level_at(*from), piece.level_at(*to))));
    }
    levels
}
