//! The lamp table, and the colour each lamp is drawn in.

use crate::aircraft::{Lamp, Place};
use crate::colorimetry::{Chromaticity, ColourSet};
use crate::judge::Verdict;
use crate::report::documentation::LampRow;
use crate::report::evidence::Hue;
use crate::report::{GoalReport, Report};
use crate::rules::LightGroup;
use crate::scene::{Scene, SceneLamp};
use crate::timing::FlashReading;

/// The rows of the lamp table.
pub(super) fn rows(scene: &Scene<'_>, report: &Report) -> Vec<LampRow> {
    let aircraft = scene.aircraft;
    let row = |(n, (lamp, physics)): (usize, (&Lamp, &SceneLamp))| {
        let own: Vec<&GoalReport> = report.goals.iter().filter(|g| g.binding && g.lamps.contains(&lamp.name)).collect();
        let mut cites: Vec<String> = Vec::new();
        for cite in own.iter().map(|g| &g.citation) {
            if !cites.contains(cite) {
                cites.push(cite.clone());
            }
        }
        LampRow {
            number: n + 1,
            name: lamp.name.clone(),
            light: lamp.light.as_str().to_string(),
            hue: hue(physics),
            emitter: emitter(lamp),
            place: lamp.place.map(|p| (words(p, 1.0, "mm"), words(p, 1e-3 * aircraft.scale.n(), "m"))),
            aim: lamp.aim.to_string(),
            pattern: pattern(lamp, scene),
            evidence: lamp.evidence.clone(),
            local: lamp.required_by.is_some(),
            verdict: worst(own.iter().map(|g| g.verdict)),
            cites,
        }
    };
    aircraft.lamps.iter().zip(&scene.lamps).enumerate().map(row).collect()
}

/// The worst of some verdicts; what does not apply decides nothing.
pub(super) fn worst(verdicts: impl Iterator<Item = Verdict>) -> Option<Verdict> {
    let rank = |v: &Verdict| match v {
        Verdict::Missed => 3,
        Verdict::CannotTell => 2,
        Verdict::Met => 1,
        Verdict::NotApplicable => 0,
    };
    verdicts.filter(|v| *v != Verdict::NotApplicable).max_by_key(rank)
}

/// A place in few words, its millimetres times a factor: `left 1140, forward 40, up 60 mm`.
fn words(place: Place, factor: f64, unit: &str) -> String {
    let axes = [(place.right_mm, "right", "left"), (place.forward_mm, "forward", "aft"), (place.up_mm, "up", "down")];
    let said = axes.iter().filter_map(|(mm, positive, negative)| {
        let value = (*mm)? * factor;
        let word = if value < 0.0 { negative } else { positive };
        Some(if value == 0.0 && *positive == "right" {
            "centre".to_string()
        } else {
            format!("{word} {}", crate::units::rounded(value.abs(), 4))
        })
    });
    let said: Vec<String> = said.collect();
    let has_number = said.iter().any(|part| part != "centre");
    if has_number { format!("{} {unit}", said.join(", ")) } else { said.join(", ") }
}

fn emitter(lamp: &Lamp) -> String {
    let name = lamp.emitter.name.clone();
    if lamp.count > 1 { format!("{} x {name}", lamp.count) } else { name }
}

fn pattern(lamp: &Lamp, scene: &Scene<'_>) -> String {
    let Some(channel) = lamp.channel.and_then(|c| scene.aircraft.channels.get(c)) else {
        // A position light without a pattern is steady; what flashes on every craft is not said.
        let flashes = LightGroup::AntiCollision.holds(lamp.light) && lamp.steady_level.is_none();
        return if flashes { "not stated" } else { "steady" }.to_string();
    };
    if channel.waveform.is_steady() {
        return "steady".to_string();
    }
    let flashes = channel.waveform.flashes(&FlashReading::default());
    format!("{} per min", crate::units::rounded(flashes.flash_rate().per_min(), 4))
}

/// The colour a lamp is drawn in.
pub(super) fn hue(lamp: &SceneLamp) -> Hue {
    let samples = lamp.colour.as_ref().map(ColourSet::samples).unwrap_or_default();
    let count = samples.len() as f64;
    let (x, y) = samples.iter().fold((0.0, 0.0), |(x, y), c| (x + c.x / count, y + c.y / count));
    if samples.is_empty() { Hue { letter: '?', rgb: [128; 3] } } else { hue_of(Chromaticity { x, y }) }
}

/// The letter of a colour: by the side of plain bounds about the published regions, wide enough that a lamp just outside its
/// region still has the letter of what it is meant to be.
fn hue_of(colour: Chromaticity) -> Hue {
    let Chromaticity { x, y } = colour;
    let letter = match (x, y) {
        _ if x > 0.55 && y < 0.36 => 'R',
        _ if x > 0.42 && y > 0.36 && x + y > 0.93 => 'Y',
        _ if y > 0.40 && x < 0.40 && y > x => 'G',
        _ if x < 0.25 && y < 0.35 => 'B',
        _ => 'W',
    };
    Hue { letter, rgb: srgb(colour) }
}

/// A chromaticity at the brightest a screen can show it, desaturated where it cannot (IEC 61966-2-1, from memory).
fn srgb(Chromaticity { x, y }: Chromaticity) -> [u8; 3] {
    let y = y.max(1e-3);
    let (big_x, big_z) = (x / y, (1.0 - x - y) / y);
    let linear = [
        3.2406 * big_x - 1.5372 - 0.4986 * big_z,
        -0.9689 * big_x + 1.8758 + 0.0415 * big_z,
        0.0557 * big_x - 0.2040 + 1.0570 * big_z,
    ];
    let lowest = linear.iter().copied().fold(0.0_f64, f64::min);
    let shown = linear.map(|v| v - lowest);
    let highest = shown.iter().copied().fold(1e-9_f64, f64::max);
    shown.map(|v| {
        let v = v / highest;
        let gamma = if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * v.powf(1.0 / 2.4) - 0.055 };
        (255.0 * gamma).round() as u8
    })
}
