//! The notice every report carries, and the usual cautions.

use super::Caution;
use crate::aircraft::Aircraft;
use crate::scene::Scene;
use crate::timing::{Clock, FlashReading, JointLimits, WorstSecond, worst_second};
use std::collections::BTreeMap;

/// Said once in every report.
pub const LOCAL_RULES: &str = "Model aircraft are governed by the rules where they are flown. What full-size rules ask is \
a yardstick of realism here and nothing else: this report does not say that the model may, or should, be flown, by day or by night.";

/// Flashes in a second beyond which a display may trouble photosensitive people.
const MOST_FLASHES: u64 = 3;
/// Full-size equivalent does not matter to the eye: a lamp of this many candela on the bench dazzles.
const DAZZLING_CD: f64 = 10.0;

/// The cautions that apply to a model.
#[must_use]
pub fn cautions(aircraft: &Aircraft, scene: Option<&Scene<'_>>) -> Vec<Caution> {
    let mut cautions = Vec::new();
    let worst = flashes_in_worst_second(aircraft);
    let flashes = worst.all;
    if flashes > 0 {
        let some = if worst.some > flashes {
            format!(" Where only some of them are seen it is {}: one lamp fills the dark of another.", worst.some)
        } else {
            String::new()
        };
        let more = if flashes.max(worst.some) > MOST_FLASHES {
            "That is more than three: flashing light can set off seizures in photosensitive people. Warn those who watch, and keep a steady mode at hand."
        } else {
            "More than three would be a matter for photosensitive people."
        };
        cautions.push(Caution {
            text: format!(
                "All lamps together start {flashes} {} in the worst second.{some} {more}",
                if flashes == 1 { "pulse" } else { "pulses" }
            ),
            source: "WCAG 2.2, success criterion 2.3.1, a rule for screens, by analogy".to_string(),
        });
    }
    let scale = aircraft.scale.intensity();
    let bright = scene
        .is_some_and(|s| s.lamps.iter().any(|l| l.beam.as_ref().is_ok_and(|b| b.peak_cd().high / scale > DAZZLING_CD)));
    if bright {
        cautions.push(Caution {
            text: "Do not look into power LEDs on the bench or point them at people; cover them while setting up."
                .to_string(),
            source: "usual practice after IEC 62471; the risk group of a lamp cannot be told from this file"
                .to_string(),
        });
    }
    if aircraft.lamps.iter().any(|l| l.emitter.runs_hot) {
        cautions.push(Caution {
            text: "Emitters of a watt or more that are always lit need a heat sink: they burn fingers and soften foam. Flashing ones hardly warm up."
                .to_string(),
            source: "common practice, no source".to_string(),
        });
    }
    cautions.push(Caution {
        text: "Charge lithium packs attended and on a surface that does not burn; do not use swollen or crashed ones."
            .to_string(),
        source: "common practice, no source".to_string(),
    });
    cautions
}

/// The most pulses that begin within any second, all lamps together.
#[must_use]
pub fn flashes_in_worst_second(aircraft: &Aircraft) -> WorstSecond {
    let mut clocks: BTreeMap<&str, Vec<&crate::timing::Waveform>> = BTreeMap::new();
    let used =
        aircraft.channels.iter().enumerate().filter(|(n, _)| aircraft.lamps.iter().any(|l| l.channel == Some(*n)));
    for (_, channel) in used {
        clocks.entry(&channel.clock).or_default().push(&channel.waveform);
    }
    let clocks: Vec<Clock<'_>> = clocks.into_values().map(Clock::new).collect();
    worst_second(&clocks, &FlashReading::default(), &JointLimits::default())
}
