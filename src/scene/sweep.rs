//! One sweep of directions over a system of flashing lights: what each source is worth in each.

use super::{Scene, Sum, System};
use crate::geometry::Direction;
use crate::units::Interval;

/// How finely directions are swept, in degrees; edges of masks and bodies and the axes of beams are always hit.
const STEP_DEG: f64 = 2.5;
/// How far beside an edge both its sides are looked at, in degrees.
const BESIDE_DEG: f64 = 1e-6;

/// The directions of a band of elevations, and the effective intensity of each source by itself there.
#[derive(Debug)]
pub struct Sweep {
    directions: Vec<Direction>,
    worth: Vec<Interval>,
    sources: usize,
}

impl Sweep {
    /// The sweep of a system over elevations in degrees.
    #[must_use]
    pub(super) fn new(scene: &Scene<'_>, lamps: &[usize], system: &System<'_>, band_deg: Interval) -> Self {
        let light = Sum::new(scene.lamps(lamps));
        let (az_breaks, el_breaks) = light.shadow_breaks();
        let azimuths = stations(-180.0, 180.0, az_breaks.iter().chain(&light.az_breaks));
        let elevations = stations(band_deg.low, band_deg.high, el_breaks.iter().chain(&light.el_breaks));
        let mut directions = Vec::with_capacity(azimuths.len() * elevations.len());
        let mut worth = Vec::with_capacity(directions.capacity() * system.sources.len());
        for el in &elevations {
            for az in &azimuths {
                let d = Direction::from_degrees(*az, *el);
                worth.extend(system.worth(&d));
                directions.push(d);
            }
        }
        Self { directions, worth, sources: system.sources.len() }
    }

    /// Each direction with the effective intensity of every source there, in cd, in the order of the system's sources.
    pub fn directions(&self) -> impl Iterator<Item = (&Direction, &[Interval])> {
        self.directions.iter().zip(self.worth.chunks(self.sources.max(1)))
    }
}

/// Angles from low to high, with both sides of every break.
fn stations<'b>(low: f64, high: f64, breaks: impl Iterator<Item = &'b f64>) -> Vec<f64> {
    let count = ((high - low) / STEP_DEG).ceil().max(1.0) as usize;
    // Half a step off, so that the grid does not lie on the craft's own planes.
    let mut all: Vec<f64> = (0..count).map(|n| low + (high - low) * (n as f64 + 0.5) / count as f64).collect();
    all.extend([low, high]);
    all.extend(breaks.flat_map(|b| [b - BESIDE_DEG, *b, b + BESIDE_DEG]).filter(|b| (low..=high).contains(b)));
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}
