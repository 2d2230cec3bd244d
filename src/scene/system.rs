//! Flashing lamps as a system: sources by channel, clocks, and what their flashes are worth to the eye.

use super::cause::Missing;
use super::lamp::{Hidden, SceneLamp};
use super::{Scene, Sum};
use crate::geometry::{Cell, Direction, Ends};
use crate::photometry::effective::{EffectiveReading, Recurrence, effective_intensity, sum_common, sum_waveforms};
use crate::timing::{CommonPieces, JointLimits, Waveform, common_pieces};
use crate::units::Interval;
use std::collections::BTreeMap;

/// A source: a channel and the lamps it lights.
#[derive(Debug)]
pub struct Source<'a> {
    /// The channel's name.
    pub name: &'a str,
    /// Its clock.
    pub clock: &'a str,
    /// Its pattern.
    pub waveform: &'a Waveform,
    /// Effective intensity of its pattern for a peak of 1 cd.
    pub worth: f64,
    lamps: Vec<&'a SceneLamp>,
}

impl Source<'_> {
    /// Its lamps together at full level, in cd.
    #[must_use]
    pub fn full_cd(&self, d: &Direction) -> Interval {
        self.lamps.iter().fold(Interval::ZERO, |sum, lamp| sum + lamp.full_cd(d))
    }

    /// What the ends of its lamps' intensity together at full level are over a cell.
    fn full_over(&self, cell: &Cell) -> Ends {
        self.lamps.iter().fold(Ends::of(Interval::ZERO), |sum, lamp| sum + lamp.full_over(cell))
    }

    /// Whether mask and body hide all of its lamps in a direction.
    #[must_use]
    pub fn hidden(&self, d: &Direction) -> Hidden {
        self.lamps.iter().map(|l| l.hidden(d)).min().unwrap_or(Hidden::Yes)
    }

    /// The brightest of its lamps by itself, in cd.
    fn brightest_cd(&self, d: &Direction) -> f64 {
        self.lamps.iter().map(|l| l.full_cd(d).high).fold(0.0, f64::max)
    }
}

/// Sources that keep their phase to each other.
#[derive(Debug)]
struct Together {
    sources: Vec<usize>,
    /// Their levels side by side; `None` for one source, or for sources whose joint pattern is too long.
    common: Option<CommonPieces>,
}

/// The lamps of a system of flashing lights, by channel and clock.
#[derive(Debug)]
pub struct System<'a> {
    /// The sources, in the order of their first lamps.
    pub sources: Vec<Source<'a>>,
    clocks: Vec<Together>,
    reading: EffectiveReading,
    /// Whether a clock's joint pattern is so long that its channels are taken as drifting.
    pub drifting: bool,
}

impl<'a> System<'a> {
    /// The system of the lamps of these numbers.
    ///
    /// # Errors
    /// A lamp with no pattern, or one whose beam is not known.
    pub fn new(scene: &'a Scene<'_>, lamps: &[usize]) -> Result<Self, Missing> {
        Sum::new(scene.lamps(lamps)).known()?;
        let limits = JointLimits::default();
        let reading = EffectiveReading { constant_s: scene.readings.visual_s, ..EffectiveReading::default() };
        let mut channels: Vec<(usize, Source<'a>)> = Vec::new();
        for n in lamps {
            let (Some(lamp), Some(declared)) = (scene.lamps.get(*n), scene.aircraft.lamps.get(*n)) else { continue };
            let channel = declared.channel.and_then(|c| scene.aircraft.channels.get(c).map(|found| (c, found)));
            let Some((number, channel)) = channel else {
                return Err(Missing {
                    key: format!("lamps.{}.flash", lamp.name),
                    what: "how it flashes: a `channel`, or `flash:`, `swell:` or `steps:`".to_string(),
                    at: declared.places.name.clone(),
                });
            };
            match channels.iter_mut().find(|(c, _)| *c == number) {
                Some((_, source)) => source.lamps.push(lamp),
                None => channels.push((
                    number,
                    Source {
                        name: &channel.name,
                        clock: &channel.clock,
                        waveform: &channel.waveform,
                        worth: worth(&channel.waveform, &limits, &reading),
                        lamps: vec![lamp],
                    },
                )),
            }
        }
        let sources: Vec<Source<'a>> = channels.into_iter().map(|(_, source)| source).collect();
        let (clocks, drifting) = clocks(&sources, &limits);
        Ok(Self { sources, clocks, reading, drifting })
    }

    /// The effective intensity of each source by itself in a direction, in cd.
    #[must_use]
    pub fn worth(&self, d: &Direction) -> Vec<Interval> {
        let worth = |s: &Source<'_>| match s.hidden(d) {
            Hidden::Yes => Interval::ZERO,
            Hidden::Unknown => Interval { low: 0.0, high: s.full_cd(d).high * s.worth },
            Hidden::No => s.full_cd(d).scaled(s.worth),
        };
        self.sources.iter().map(worth).collect()
    }

    /// The effective intensity of the whole system in a direction, in cd: of each clock's summed light, the largest.
    #[must_use]
    pub fn effective_cd(&self, d: &Direction) -> Interval {
        Interval { low: self.effective_end_cd(d, false), high: self.effective_end_cd(d, true) }
    }

    /// The low end, or the high end, of [`System::effective_cd`]: half the work where only one is wanted.
    #[must_use]
    pub fn effective_end_cd(&self, d: &Direction, high: bool) -> f64 {
        let end = |cd: Interval| if high { cd.high } else { cd.low };
        self.of_amplitudes(&self.sources.iter().map(|s| end(s.full_cd(d))).collect::<Vec<_>>())
    }

    /// What the low end, or the high end, of the effective intensity is nowhere under in a cell, in cd: it never falls
    /// where a lamp's intensity rises.
    #[must_use]
    pub fn least_effective_cd(&self, cell: &Cell, of_high_end: bool) -> f64 {
        let least = |ends: Ends| if of_high_end { ends.high.low } else { ends.low.low };
        self.of_amplitudes(&self.sources.iter().map(|s| least(s.full_over(cell))).collect::<Vec<_>>())
    }

    /// What [`System::one_lamp_cd`] is nowhere under in a cell, in cd.
    #[must_use]
    pub fn least_one_lamp_cd(&self, cell: &Cell) -> f64 {
        let each = self.sources.iter().flat_map(|s| s.lamps.iter().map(|l| l.full_over(cell).high.low * s.worth));
        each.fold(0.0, f64::max)
    }

    fn of_amplitudes(&self, amplitudes: &[f64]) -> f64 {
        self.clocks.iter().map(|clock| self.of_clock(clock, amplitudes)).fold(0.0, f64::max)
    }

    /// The effective intensity of the brightest single lamp in a direction, in cd.
    #[must_use]
    pub fn one_lamp_cd(&self, d: &Direction) -> f64 {
        self.sources.iter().map(|s| s.brightest_cd(d) * s.worth).fold(0.0, f64::max)
    }

    fn of_clock(&self, clock: &Together, amplitudes: &[f64]) -> f64 {
        let alone = |n: &usize| {
            let worth = self.sources.get(*n).map_or(0.0, |s| s.worth);
            amplitudes.get(*n).copied().unwrap_or(0.0) * worth
        };
        match &clock.common {
            // One pattern: effective intensity is proportional to its peak.
            None => clock.sources.iter().map(alone).fold(0.0, f64::max),
            Some(common) => {
                let full: Vec<f64> = clock.sources.iter().map(|n| amplitudes.get(*n).copied().unwrap_or(0.0)).collect();
                let bright = full.iter().filter(|cd| **cd > 0.0).count();
                if bright < 2 || full.iter().any(|cd| !cd.is_finite()) {
                    return clock.sources.iter().map(alone).fold(0.0, f64::max);
                }
                effective_intensity(&sum_common(common, &full), Recurrence::Cyclic, &self.reading)
            }
        }
    }
}

fn worth(waveform: &Waveform, limits: &JointLimits, reading: &EffectiveReading) -> f64 {
    sum_waveforms(&[(1.0, waveform)], limits)
        .map_or(waveform.mean_level(), |pieces| effective_intensity(&pieces, Recurrence::Cyclic, reading))
}

fn clocks(sources: &[Source<'_>], limits: &JointLimits) -> (Vec<Together>, bool) {
    let mut by_clock: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (n, source) in sources.iter().enumerate() {
        by_clock.entry(source.clock).or_default().push(n);
    }
    let mut drifting = false;
    let mut clocks = Vec::new();
    for numbers in by_clock.into_values() {
        let waveforms: Vec<&Waveform> = numbers.iter().filter_map(|n| sources.get(*n)).map(|s| s.waveform).collect();
        if waveforms.len() < 2 {
            clocks.push(Together { sources: numbers, common: None });
            continue;
        }
        let common = common_pieces(&waveforms, limits);
        drifting |= common.is_none();
        clocks.push(Together { sources: numbers, common });
    }
    (clocks, drifting)
}
