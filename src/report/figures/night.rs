//! What an observer sees of the model at night.

use crate::geometry::{Direction, Point};
use crate::report::documentation::LampRow;
use crate::report::evidence::{NightLamp, NightView};
use crate::report::notices::flashes_in_worst_second;
use crate::scene::Scene;
use crate::timing::{Waveform, milliseconds};

/// How long a frame is: half of the shortest usual pulse.
const FRAME_MS: f64 = 25.0;
/// How much of the patterns is shown.
const SHOWN_MS: f64 = 4_000.0;
/// More flashes in a second than this may trouble photosensitive people (WCAG 2.2, success criterion 2.3.1).
const MOST_FLASHES: f64 = 3.0;

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
    let mut lamps: Vec<(f64, NightLamp)> = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        let (Some(lamp), Some(physics)) = (scene.aircraft.lamps.get(index), scene.lamps.get(index)) else { continue };
        let Some(place) = lamp.place else { continue };
        let place = [place.forward_mm, place.right_mm, place.up_mm].map(|mm| mm.unwrap_or(0.0));
        let cd = physics.full_cd(&toward);
        let waveform = scene.channel(index).map(|c| &c.waveform);
        let seen = NightLamp {
            name: row.name.clone(),
            at: [along(place, across), along(place, up)],
            cd,
            // The scale's square in intensity and in distance cancel: the eye gets what it gets from the full-size craft.
            lux: cd.scaled(1.0 / (n * observer.distance_m).powi(2)),
            levels: levels(waveform, lamp.steady_level.as_ref().map_or(1.0, |l| l.value)),
            hue: row.hue,
        };
        lamps.push((along(place, [toward.forward(), toward.right(), toward.up()]), seen));
    }
    lamps.sort_by(|a, b| a.0.total_cmp(&b.0));
    let worst = flashes_in_worst_second(scene.aircraft);
    let flashes = worst.all.max(worst.some) as f64;
    NightView {
        azimuth_deg: observer.azimuth_deg,
        elevation_deg: observer.elevation_deg,
        distance_m: (observer.distance_m, n * observer.distance_m),
        outline,
        lamps: lamps.into_iter().map(|(_, lamp)| lamp).collect(),
        frame_ms: FRAME_MS,
        slowed: (flashes / MOST_FLASHES).ceil().max(1.0),
        flashes_in_a_second: flashes as usize,
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

/// The greatest level within each frame: a pulse shorter than a frame is not lost.
fn levels(waveform: Option<&Waveform>, steady: f64) -> Vec<f64> {
    let frames = (SHOWN_MS / FRAME_MS) as usize;
    let Some(waveform) = waveform else { return vec![steady; frames] };
    let (phase, period) = (milliseconds(waveform.phase_us()), milliseconds(waveform.period_us()).max(1e-3));
    let at = |frame: usize| {
        let begin = (frame as f64 * FRAME_MS - phase).rem_euclid(period);
        let end = begin + FRAME_MS;
        let mut greatest = 0.0_f64;
        for piece in waveform.pieces() {
            let (from, to) = (milliseconds(piece.from_us), milliseconds(piece.to_us));
            for from_cycle in [0.0, period] {
                let (first, last) = (begin.max(from + from_cycle), end.min(to + from_cycle));
                if first < last {
                    let level = |t: f64| {
                        piece.from_level + (piece.to_level - piece.from_level) * (t - from_cycle - from) / (to - from)
                    };
                    greatest = greatest.max(level(first)).max(level(last));
                }
            }
        }
        greatest
    };
    (0..frames).map(at).collect()
}
