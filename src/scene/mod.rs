//! The model's lamps as physics, at full-size equivalent: beams, shrouds, colours and waveforms.
//!
//! Intensities here are already multiplied by the square of the scale, so every limit of a rule is compared as published.

mod cause;
mod lamp;
mod light;
mod memo;
mod readings;
mod shadow;
mod sweep;
mod system;

pub use cause::{Cause, Missing};
pub use lamp::{Hidden, SceneLamp};
pub use light::Sum;
pub use readings::Readings;
pub use sweep::Sweep;
pub use system::{Source, System};

use crate::aircraft::{Aircraft, Channel, Lamp, Scale};
use crate::colorimetry::{ColourSet, Region, SetMargin};
use crate::geometry::Bounds;
use crate::rules::LightGroup;
use crate::spread::spread;
use crate::units::Interval;
use memo::Memo;
use std::sync::Arc;

/// A model ready to be measured.
#[derive(Debug)]
pub struct Scene<'a> {
    /// The model as declared.
    pub aircraft: &'a Aircraft,
    /// Its lamps, in the same order.
    pub lamps: Vec<SceneLamp>,
    /// How open points of the rules are read.
    pub readings: Readings,
    /// Whether lamps that a local rule requires count as any other.
    with_local: bool,
    peaks: Memo<Vec<usize>, Option<Interval>>,
    sweeps: Memo<Band, Arc<Sweep>>,
    areas: Memo<String, Bounds>,
    margins: Memo<(usize, Region), Option<SetMargin>>,
}

/// The lamps of a system and the bits of the ends of a band.
type Band = (Vec<usize>, [u64; 2]);

impl<'a> Scene<'a> {
    /// The lamps of a model, open points read in one way.
    #[must_use]
    pub fn new(aircraft: &'a Aircraft, readings: Readings) -> Self {
        let lamp = |lamp: &Lamp| SceneLamp::new(lamp, aircraft, &readings);
        // Half-shadows are worth threads, the rest is not.
        let lamps = if aircraft.airframe.is_some() {
            spread(&aircraft.lamps, lamp)
        } else {
            aircraft.lamps.iter().map(lamp).collect()
        };
        let (peaks, sweeps, areas, margins) = Default::default();
        Self { aircraft, lamps, readings, with_local: false, peaks, sweeps, areas, margins }
    }

    /// The same, lamps that a local rule requires counted too: what stands at the flying site, and not what it stands for.
    #[must_use]
    pub fn with_local_lamps(self) -> Self {
        Self { with_local: true, ..self }
    }

    /// The highest mean intensity of lamps together over the whole sphere, at full size, in cd; sought once for each set
    /// of lamps.
    #[must_use]
    pub fn peak_cd(&self, lamps: &[usize]) -> Option<Interval> {
        self.peaks.get(lamps.to_vec(), || Sum::new(self.lamps(lamps)).peak_cd())
    }

    /// The sweep of a system over elevations in degrees, made once.
    #[must_use]
    pub fn sweep(&self, lamps: &[usize], system: &System<'_>, band_deg: Interval) -> Arc<Sweep> {
        let key = (lamps.to_vec(), [band_deg.low.to_bits(), band_deg.high.to_bits()]);
        self.sweeps.get(key, || Arc::new(Sweep::new(self, lamps, system, band_deg)))
    }

    /// A solid angle by what it is of, reckoned once.
    pub fn area(&self, of: String, reckon: impl FnOnce() -> Bounds) -> Bounds {
        self.areas.get(of, reckon)
    }

    /// The margin of a lamp's colours in a region, reckoned once for each colour and region; `None` where nothing can be
    /// said of the colours.
    #[must_use]
    pub fn colour_margin(&self, colour: &ColourSet, region: &Region) -> Option<SetMargin> {
        let first = self.lamps.iter().position(|l| l.colour.as_ref() == Ok(colour));
        let Some(first) = first else { return colour.against(region) };
        self.margins.get((first, region.clone()), || colour.against(region))
    }

    /// The scale.
    #[must_use]
    pub fn scale(&self) -> Scale {
        self.aircraft.scale
    }

    /// The numbers of the lamps of a light; lamps required by a local rule alone are no part of it, unless they count here.
    #[must_use]
    pub fn of_light(&self, group: LightGroup) -> Vec<usize> {
        let lamps = self.aircraft.lamps.iter().enumerate();
        lamps
            .filter(|(_, l)| group.holds(l.light) && (self.with_local || l.required_by.is_none()))
            .map(|(n, _)| n)
            .collect()
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
