//! A waveform over a stretch of time in cells of equal length: the greatest level in each, so that no pulse is lost.

use crate::timing::{Waveform, milliseconds};

/// The greatest level of a waveform in each of so many cells of a length in ms, from the start of its clock on.
pub(super) fn levels(waveform: &Waveform, cell_ms: f64, cells: usize) -> Vec<f64> {
    let period = milliseconds(waveform.period_us());
    let mut levels = vec![0.0_f64; cells];
    // What repeats within a cell is at its greatest in every one.
    if period <= cell_ms {
        levels.fill(waveform.pieces().iter().map(|p| p.from_level.max(p.to_level)).fold(0.0, f64::max));
        return levels;
    }
    let end = cell_ms * cells as f64;
    for from in cycles(waveform, end) {
        for piece in waveform.pieces() {
            let (begin, stop) = (from + milliseconds(piece.from_us), from + milliseconds(piece.to_us));
            if stop <= 0.0 || begin >= end || piece.from_level.max(piece.to_level) <= 0.0 {
                continue;
            }
            let level = |t: f64| piece.from_level + (piece.to_level - piece.from_level) * (t - begin) / (stop - begin);
            let first = (begin.max(0.0) / cell_ms) as usize;
            for (n, greatest) in levels.iter_mut().enumerate().skip(first) {
                let (low, high) = (begin.max(n as f64 * cell_ms), stop.min((n + 1) as f64 * cell_ms));
                if low >= high {
                    break;
                }
                *greatest = greatest.max(level(low)).max(level(high));
            }
        }
    }
    levels
}

/// When the cycles of a waveform begin before an end, from the one that runs at 0 on, in ms.
pub(super) fn cycles(waveform: &Waveform, end_ms: f64) -> impl Iterator<Item = f64> {
    let (phase, period) = (milliseconds(waveform.phase_us()), milliseconds(waveform.period_us()).max(1e-3));
    (0..).map(move |k| phase + (f64::from(k) - 1.0) * period).take_while(move |from| *from < end_ms)
}
