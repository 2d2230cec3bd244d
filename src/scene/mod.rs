//! The model's lamps as physics, at full-size equivalent: beams, shrouds, colours and waveforms.
//!
//! Intensities here are already multiplied by the square of the scale, so every limit of a rule is compared as published.

mod cause;
mod lamp;
mod light;
mod readings;
mod sweep;
mod system;

pub use cause::{Cause, Missing};
pub use lamp::{Hidden, SceneLamp};
pub use light::Sum;
pub use readings::Readings;
pub use sweep::Sweep;
pub use system::{Source, System};

use crate::aircraft::{Aircraft, Channel, Scale};
use crate::geometry::Bounds;
use crate::rules::{LightGroup, RuleSet};
use crate::units::Interval;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

/// A model ready to be measured.
#[derive(Debug)]
pub struct Scene<'a> {
    /// The model as declared.
    pub aircraft: &'a Aircraft,
    /// Its lamps, in the same order.
    pub lamps: Vec<SceneLamp>,
    /// How open points of the rules are read.
    pub readings: Readings,
    peaks: Mutex<BTreeMap<Vec<usize>, Option<Interval>>>,
    sweeps: Mutex<BTreeMap<Band, Arc<Sweep>>>,
    areas: Mutex<BTreeMap<String, Bounds>>,
}

/// The lamps of a system and the bits of the ends of a band.
type Band = (Vec<usize>, [u64; 2]);

impl<'a> Scene<'a> {
    /// The lamps of a model, read as a rule set reads them.
    #[must_use]
    pub fn new(aircraft: &'a Aircraft, set: &RuleSet) -> Self {
        let readings = Readings::of(set);
        let lamps = aircraft.lamps.iter().map(|lamp| SceneLamp::new(lamp, aircraft, &readings)).collect();
        Self { aircraft, lamps, readings, peaks: Mutex::default(), sweeps: Mutex::default(), areas: Mutex::default() }
    }

    /// The highest mean intensity of lamps together over the whole sphere, at full size, in cd; sought once for each set
    /// of lamps.
    #[must_use]
    pub fn peak_cd(&self, lamps: &[usize]) -> Option<Interval> {
        // A poisoned lock only means that another thread stopped: the peaks it holds are whole.
        let mut peaks = self.peaks.lock().unwrap_or_else(PoisonError::into_inner);
        *peaks.entry(lamps.to_vec()).or_insert_with(|| Sum::new(self.lamps(lamps)).peak_cd())
    }

    /// The sweep of a system over elevations in degrees, made once; whoever asks meanwhile waits for it.
    #[must_use]
    pub fn sweep(&self, lamps: &[usize], system: &System<'_>, band_deg: Interval) -> Arc<Sweep> {
        let mut sweeps = self.sweeps.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (lamps.to_vec(), [band_deg.low.to_bits(), band_deg.high.to_bits()]);
        sweeps.entry(key).or_insert_with(|| Arc::new(Sweep::new(self, lamps, system, band_deg))).clone()
    }

    /// A solid angle by what it is of, reckoned once; whoever asks meanwhile waits for it.
    pub fn area(&self, of: String, reckon: impl FnOnce() -> Bounds) -> Bounds {
        let mut areas = self.areas.lock().unwrap_or_else(PoisonError::into_inner);
        *areas.entry(of).or_insert_with(reckon)
    }

    /// The scale.
    #[must_use]
    pub fn scale(&self) -> Scale {
        self.aircraft.scale
    }

    /// The numbers of the lamps of a light; lamps required by a local rule alone are no part of it.
    #[must_use]
    pub fn of_light(&self, group: LightGroup) -> Vec<usize> {
        let lamps = self.aircraft.lamps.iter().enumerate();
        lamps.filter(|(_, l)| group.holds(l.light) && l.required_by.is_none()).map(|(n, _)| n).collect()
    }

    /// The lamps of these numbers.
    pub fn lamps(&self, numbers: &[usize]) -> impl Iterator<Item = &SceneLamp> {
        numbers.iter().filter_map(|n| self.lamps.get(*n))
    }

    /// The channel of a lamp.
    #[must_use]
    pub fn channel(&self, lamp: usize) -> Option<&Channel> {
        self.aircraft.channels.get(self.aircraft.lamps.get(lamp)?.channel?)
    }
}
