//! Every flashing lamp on one axis of time.

use super::envelope::{cycles, levels};
use super::lamps::hue;
use crate::aircraft::Channel;
use crate::geometry::Direction;
use crate::measure::{SeenRate, frequency_seen};
use crate::report::evidence::{Hue, TimeStrip, Track};
use crate::rules::LightGroup;
use crate::scene::{Scene, System};
use crate::timing::{FlashReading, Waveform, milliseconds};
use crate::units::Interval;

/// No axis is longer: what repeats more slowly is cut.
const LONGEST_MS: f64 = 10_000.0;
/// A line of more pieces is drawn in cells, ...
const MOST_PIECES: f64 = 400.0;
/// ... so many of them across the axis: finer than a printer's dots.
const CELLS: usize = 500;
/// More flashes than this cannot be told apart on the axis.
const MOST_FLASHES: f64 = 100.0;
/// From where the frequency is told.
const AROUND: [(&str, f64); 4] = [("ahead", 0.0), ("left", -90.0), ("right", 90.0), ("aft", 180.0)];

/// One period of the slowest, all others as often as they fit.
pub(super) fn strip(scene: &Scene<'_>) -> TimeStrip {
    let flashing: Vec<(usize, &Channel)> = scene
        .aircraft
        .channels
        .iter()
        .enumerate()
        .filter(|(n, c)| lights_any(scene, *n) && !c.waveform.is_steady())
        .collect();
    let slowest = flashing.iter().map(|(_, c)| milliseconds(c.waveform.period_us())).fold(0.0, f64::max);
    let length_ms = slowest.min(LONGEST_MS);
    let several = flashing.iter().any(|(_, c)| flashing.first().is_some_and(|(_, first)| first.clock != c.clock));
    let tracks = flashing.iter().map(|(n, c)| track(scene, *n, c, length_ms, several)).collect();
    TimeStrip { length_ms, cut: slowest > LONGEST_MS, tracks, seen_from: around(scene) }
}

fn lights_any(scene: &Scene<'_>, channel: usize) -> bool {
    scene.aircraft.lamps.iter().any(|l| l.channel == Some(channel))
}

fn track(scene: &Scene<'_>, number: usize, channel: &Channel, length_ms: f64, several_clocks: bool) -> Track {
    let lamps: Vec<usize> = (0..scene.lamps.len())
        .filter(|n| scene.aircraft.lamps.get(*n).is_some_and(|l| l.channel == Some(number)))
        .collect();
    let flashes = channel.waveform.flashes(&FlashReading::default());
    let first = lamps.first().and_then(|n| scene.lamps.get(*n));
    Track {
        name: channel.name.clone(),
        lamps: scene.lamps(&lamps).map(|l| l.name.clone()).collect(),
        clock: several_clocks.then(|| clock(scene, channel)),
        period_ms: milliseconds(channel.waveform.period_us()),
        per_min: flashes.flash_rate().per_min(),
        corners: corners(&channel.waveform, length_ms),
        flashes: spans(&channel.waveform, length_ms),
        pulses_per_flash: flashes.flashes.iter().map(|f| f.pulses).max().unwrap_or(0),
        brightest_cd: brightest(scene, &lamps),
        hue: first.map_or(Hue { letter: '?', rgb: [128; 3] }, hue),
    }
}

/// The clock of a channel by name, where others run on it too.
fn clock(scene: &Scene<'_>, channel: &Channel) -> String {
    let shared = scene.aircraft.channels.iter().filter(|c| c.clock == channel.clock).count() > 1;
    if shared { channel.clock.clone() } else { "of its own".to_string() }
}

/// The level over time, from 0 to the end of the axis; what is too fine to draw as the greatest level within each cell.
fn corners(waveform: &Waveform, length_ms: f64) -> Vec<[f64; 2]> {
    let pieces = waveform.pieces().len() as f64 * (length_ms / milliseconds(waveform.period_us()).max(1e-3) + 2.0);
    if pieces > MOST_PIECES {
        let cell_ms = length_ms / CELLS as f64;
        let cell = |(n, level): (usize, f64)| [[n as f64 * cell_ms, level], [(n + 1) as f64 * cell_ms, level]];
        return levels(waveform, cell_ms, CELLS).into_iter().enumerate().flat_map(cell).collect();
    }
    let mut corners: Vec<[f64; 2]> = Vec::new();
    for from in cycles(waveform, length_ms) {
        for piece in waveform.pieces() {
            let (begin, end) = (from + milliseconds(piece.from_us), from + milliseconds(piece.to_us));
            if end <= 0.0 || begin >= length_ms {
                continue;
            }
            let level = |t: f64| piece.from_level + (piece.to_level - piece.from_level) * (t - begin) / (end - begin);
            let (first, last) = (begin.max(0.0), end.min(length_ms));
            corners.extend([[first, level(first)], [last, level(last)]]);
        }
    }
    corners
}

/// The flashes within the axis, cut at its ends; none where they are too many to tell apart.
fn spans(waveform: &Waveform, length_ms: f64) -> Vec<[f64; 2]> {
    let flashes = waveform.flashes(&FlashReading::default()).flashes;
    if flashes.len() as f64 * length_ms / milliseconds(waveform.period_us()).max(1e-3) > MOST_FLASHES {
        return Vec::new();
    }
    let each = |from: f64| {
        let span = move |onset, end| [(from + milliseconds(onset)).max(0.0), (from + milliseconds(end)).min(length_ms)];
        flashes.iter().map(move |f| span(f.onset_us, f.end_us))
    };
    cycles(waveform, length_ms).flat_map(each).filter(|[from, to]| to > from).collect()
}

/// Peak and effective intensity of some lamps along the aim of the brightest.
fn brightest(scene: &Scene<'_>, lamps: &[usize]) -> Option<(Interval, Interval)> {
    let system = System::new(scene, lamps).ok()?;
    let aims = lamps.iter().filter_map(|n| scene.aircraft.lamps.get(*n)).map(|l| l.aim.direction());
    let peak = |d: &Direction| scene.lamps(lamps).fold(Interval::ZERO, |sum, l| sum + l.full_cd(d));
    let brightest = aims.max_by(|a, b| peak(a).high.total_cmp(&peak(b).high))?;
    Some((peak(&brightest), system.effective_cd(&brightest)))
}

fn around(scene: &Scene<'_>) -> Vec<(String, SeenRate)> {
    let lamps = scene.of_light(LightGroup::AntiCollision);
    if lamps.is_empty() {
        return Vec::new();
    }
    let seen = |azimuth_deg: f64| frequency_seen(scene, &lamps, &Direction::from_degrees(azimuth_deg, 0.0));
    AROUND.iter().map(|(word, azimuth_deg)| ((*word).to_string(), seen(*azimuth_deg))).collect()
}
