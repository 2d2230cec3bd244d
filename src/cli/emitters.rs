//! `lampwright emitters`: the typical emitters a file can name.

use super::{Ended, output};
use crate::aircraft::{TypicalEmitter, typical_emitters};
use crate::colorimetry::ColourSet;
use crate::units::Interval;
use std::fmt::Write;

#[derive(clap::Args)]
pub(super) struct Args {
    /// Only those whose name holds all of these words.
    words: Vec<String>,
}

pub(super) fn run(args: &Args) -> Ended {
    let wanted = |t: &&TypicalEmitter| {
        let phrase = t.phrase().to_lowercase();
        let words: Vec<&str> = phrase.split(' ').collect();
        args.words.iter().flat_map(|w| w.split(' ')).all(|w| words.contains(&w.to_lowercase().as_str()))
    };
    let found: Vec<&TypicalEmitter> = typical_emitters().iter().filter(wanted).collect();
    if found.is_empty() {
        let words = args.words.join(" ");
        return Ended::Failed(format!(
            "no typical emitter is called `{words}`; `lampwright emitters` alone lists them all"
        ));
    }
    output::print(table(&found).as_bytes(), Ended::Well)
}

fn table(found: &[&TypicalEmitter]) -> String {
    let mut out = String::from(
        "Ranges that hold about nine tenths of the parts sold under the name, at the\n\
         current given, cold, new and without a cover. What a data sheet says is better.\n",
    );
    let mut class = "";
    for emitter in found {
        if emitter.class != class {
            class = &emitter.class;
            let _ = writeln!(out, "\n{class}, {} mA", crate::units::short(emitter.current_ma));
        }
        let light = if emitter.by_peak {
            format!("{} cd", range(emitter.peak_cd))
        } else {
            format!("{} lm", range(emitter.flux_lm))
        };
        let angle = if emitter.all_round {
            "all round".to_string()
        } else {
            format!("{} deg", range(emitter.viewing_angle_deg))
        };
        let _ = writeln!(
            out,
            "  {:<13}{:<17}{:<13}{:<15}{}",
            emitter.colour,
            light,
            angle,
            colour(emitter),
            emitter.standing.replace(" data sheets", " sheets").replace("1 sheets", "1 sheet")
        );
    }
    out
}

/// A range in as few characters as may be.
pub(super) fn range(i: Interval) -> String {
    let (low, high) = (crate::units::short(i.low), crate::units::short(i.high));
    if low == high { high } else { format!("{low}-{high}") }
}

pub(super) fn colour(emitter: &TypicalEmitter) -> String {
    match emitter.chromaticity() {
        ColourSet::Dominant { wavelength_nm, .. } => format!("{} nm", range(wavelength_nm)),
        ColourSet::White { kelvin, .. } => format!("{} K", range(kelvin)),
        _ => "three chips".to_string(),
    }
}
