//! How open points of the published texts are read.

use crate::rules::{RuleSet, default_readings};
use crate::timing::FlashReading;
use crate::units::Micros;

/// The readings of a rule set, by name; what it does not say is read as the bundled readings say.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings {
    /// A beam is known down to this share of its peak.
    pub beam_known_to: f64,
    /// The most light behind a beam, as a share of its peak.
    pub behind: f64,
    /// How pulses are told and joined.
    pub flash: FlashReading,
    /// The visual time constant of effective intensity, in seconds.
    pub visual_s: f64,
    /// A source counts as seen from this share of the strongest one there, and of the minimum there.
    pub seen_from: f64,
    /// A shortfall under this solid angle does not decide, in sr.
    pub shortfall_sr: f64,
    /// An obstruction under this solid angle counts as none, in sr.
    pub obstruction_sr: f64,
}

impl Readings {
    /// The readings of a rule set.
    #[must_use]
    pub fn of(set: &RuleSet) -> Self {
        let value = |name: &str, otherwise: f64| {
            let own = set.readings.get(name).map(|r| r.figure.scalar.value);
            own.or_else(|| default_readings().get(name).map(|f| f.scalar.value)).unwrap_or(otherwise)
        };
        let default = FlashReading::default();
        Self {
            beam_known_to: value("beam known to", 0.1),
            behind: value("light behind a beam", 0.02),
            flash: FlashReading {
                pulse_above: value("pulse above", default.pulse_above),
                merge_under: Micros((value("flash gap under", default.merge_under.ms()) * 1e3).round().max(0.0) as u64),
                merge_share: value("flash gap share", default.merge_share),
            },
            visual_s: value("visual time constant", 200.0) * 1e-3,
            seen_from: value("source seen from", 0.05),
            shortfall_sr: value("shortfall let off", 9.57e-4),
            obstruction_sr: value("obstruction let off", 1e-3),
        }
    }
}
