//! What an observer sees of the model at night.

use super::envelope::levels;
use crate::geometry::{Direction, Point};
use crate::report::documentation::LampRow;
use crate::report::evidence::{NightLamp, NightView};
use crate::report::notices::flashes_in_worst_second;
use crate::scene::Scene;
use crate::timing::milliseconds;

/// How long a frame is: half of the shortest usual pulse; longer where a pattern is so slow that they would be too many.
const FRAME_MS: f64 = 25.0;
const MOST_FRAMES: usize = 800;
/// The most levels of all lamps together.
const MOST_LEVELS: usize = 40_000;
/// No less is shown.
const LEAST_MS: f64 = 4_000.0;
/// More flashes in a second than this may trouble photosensitive people (WCAG 2.2, success criterion 2.3.1).
const MOST_FLASHES: usize = 3;
/// A lamp is lit above this share of its greatest level, as pulses are told.
const LIT: f64 = 0.1;

/// Where an observer stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observer {
    /// The azimuth from the model in degrees, 0 ahead of it, positive on its right.
    pub azimuth_deg: f64,
    /// The elevation from the model in degrees.
    pub elevation_deg: f64,
    /// How far from the model, in m.
    pub distance_m: f64,
}

impl Default for Observer {
    /// Ahead on the left, a little below, at the distance at which a judge of flying stands.
    fn default() -> Self {
        Self { azimuth_deg: -35.0, elevation_deg: -8.0, distance_m: 15.0 }
    }
}

/// What an observer sees.
pub(super) fn seen(scene: &Scene<'_>, rows: &[LampRow], observer: Observer) -> NightView {
    let toward = Direction::from_degrees(observer.azimuth_deg, observer.elevation_deg);
    let (across, up) = axes(observer);
    let n = scene.scale().n();
    let outline = scene.aircraft.airframe.as_ref().map_or_else(Vec::new, |a| a.mesh().silhouette(across, up));
    let (frame_ms, frames) = frames(scene);
    let by_channel: Vec<Vec<f64>> =
        scene.aircraft.channels.iter().map(|c| levels(&c.waveform, frame_ms, frames)).collect();
    let mut lamps: Vec<(f64, NightLamp)> = Vec::new();
    let mut unplaced = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        let (Some(lamp), Some(physics)) = (scene.aircraft.lamps.get(index), scene.lamps.get(index)) else { continue };
        let place = lamp.place.unwrap_or_default();
        let (Some(forward), Some(right), Some(up_mm)) = (place.forward_mm, place.right_mm, place.up_mm) else {
            unplaced.push(row.name.clone());
            continue;
        };
        let place = [forward, right, up_mm];
        let cd = physics.full_cd(&toward);
        let steady = || vec![lamp.steady_level.as_ref().map_or(1.0, |l| l.value); frames];
        let seen = NightLamp {
            number: row.number,
            name: row.name.clone(),
            at: [along(place, across), along(place, up)],
            cd,
            // The scale's square in intensity and in distance cancel: the eye gets what it gets from the full-size craft.
            lux: cd.scaled(1.0 / (n * observer.distance_m).powi(2)),
            levels: lamp.channel.and_then(|c| by_channel.get(c)).cloned().unwrap_or_else(steady),
            hue: row.hue,
        };
        lamps.push((along(place, [toward.forward(), toward.right(), toward.up()]), seen));
    }
    lamps.sort_by(|a, b| a.0.total_cmp(&b.0));
    let lamps: Vec<NightLamp> = lamps.into_iter().map(|(_, lamp)| lamp).collect();
    let worst = flashes_in_worst_second(scene.aircraft);
    NightView {
        azimuth_deg: observer.azimuth_deg,
        elevation_deg: observer.elevation_deg,
        distance_m: (observer.distance_m, n * observer.distance_m),
        outline,
        slowed: slowed(&lamps, frame_ms),
        lamps,
        frame_ms,
        flashes_in_a_second: worst.all.max(worst.some) as usize,
        unplaced,
    }
}

/// To the observer's right, and up in the picture.
fn axes(observer: Observer) -> (Point, Point) {
    let (sin_az, cos_az) = observer.azimuth_deg.to_radians().sin_cos();
    let (sin_el, cos_el) = observer.elevation_deg.to_radians().sin_cos();
    ([sin_az, -cos_az, 0.0], [-sin_el * cos_az, -sin_el * sin_az, cos_el])
}

fn along(place: Point, axis: Point) -> f64 {
    place.iter().zip(axis).map(|(a, b)| a * b).sum()
}

/// How long a frame is, and how many show the whole of the slowest pattern.
fn frames(scene: &Scene<'_>) -> (f64, usize) {
    let periods = scene.aircraft.channels.iter().map(|c| milliseconds(c.waveform.period_us()));
    let shown = periods.fold(LEAST_MS, f64::max);
    let most = (MOST_LEVELS / scene.lamps.len().max(1)).clamp(40, MOST_FRAMES) as f64;
    let frame_ms = FRAME_MS.max(shown / most);
    (frame_ms, (shown / frame_ms).ceil() as usize)
}

/// How many times slower than life, at least, frames must follow each other so that no more than three flashes begin in any
/// second of play, the turn from the last frame to the first counted in; lamps that light up together flash once.
fn slowed(lamps: &[NightLamp], frame_ms: f64) -> f64 {
    let frames = lamps.iter().map(|l| l.levels.len()).max().unwrap_or(0);
    let lit = |lamp: &NightLamp| -> Vec<bool> {
        let from = LIT * lamp.levels.iter().copied().fold(0.0, f64::max);
        lamp.levels.iter().map(|level| *level > from).collect()
    };
    let lit: Vec<Vec<bool>> = lamps.iter().map(lit).collect();
    let is_lit = |lamp: &[bool], n: usize| lamp.get(n % frames).copied().unwrap_or(false);
    let turns_on = |n: &usize| lit.iter().any(|lamp| !is_lit(lamp, n + frames - 1) && is_lit(lamp, *n));
    let begins: Vec<usize> = (0..frames).filter(turns_on).collect();
    // All frames together last longer than a second: none is met twice in one.
    let begins_within = |window: usize| {
        let most = |from: &usize| begins.iter().filter(|n| (**n + frames - *from) % frames < window).count();
        begins.iter().map(most).max().unwrap_or(0)
    };
    let sound =
        |factor: &u32| begins_within((1000.0 / (frame_ms * f64::from(*factor))).ceil() as usize) <= MOST_FLASHES;
    // A second of one frame holds one beginning.
    (1..=(1000.0 / frame_ms).ceil().max(1.0) as u32).find(sound).map_or(1000.0 / frame_ms, f64::from)
}
