//! The airframe of a model as a mesh, and what it hides from places on it.

use crate::geometry::{Coverage, Mesh, Penumbra, Point};
use crate::source::At;
use crate::spread::spread;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Squares a side of a face on which shadows are reckoned: a fifth of a degree each, and exact parts where edges cross.
const SQUARES: usize = 512;
/// What lies this near to a lamp is the lamp's own housing where nothing is said, in mm: own reading, half of a 5 mm package
/// and the same again for its socket.
pub const HOUSING_MM: f64 = 5.0;

/// An airframe: its mesh in the model's own millimetres, axes forward, right, up from the model's datum.
#[derive(Debug, Clone)]
pub struct Airframe {
    mesh: Arc<Mesh>,
    /// How far from a lamp the mesh is that lamp's own housing and hides nothing, in mm.
    pub housing_mm: f64,
    /// Where it was written.
    pub at: At,
    made: Arc<Mutex<Made>>,
}

/// What was made, by the bits of the place, and of the size of the source too.
#[derive(Debug, Default)]
struct Made {
    shadows: HashMap<[u64; 3], Slot<Coverage>>,
    soft: HashMap<[u64; 4], Slot<Penumbra>>,
}

type Slot<T> = Arc<OnceLock<Option<Arc<T>>>>;

impl Airframe {
    /// An airframe of a mesh.
    #[must_use]
    pub fn new(mesh: Mesh, housing_mm: f64, at: At) -> Self {
        Self { mesh: Arc::new(mesh), housing_mm, at, made: Arc::default() }
    }

    /// Its mesh.
    #[must_use]
    pub fn mesh(&self) -> &Mesh {
        &self.mesh
    }

    /// Makes what it hides from each of some places, on as many threads as there are; alone it would be made when asked for.
    pub fn look_from(&self, places: &[Point]) {
        spread(places, |place| drop(self.seen_from(*place)));
    }

    /// What it hides from a place in mm, made once for each place; `None` where its edges cross each other too often there.
    #[must_use]
    pub fn seen_from(&self, place: Point) -> Option<Arc<Coverage>> {
        let slot = self.slot(|made| made.shadows.entry(place.map(f64::to_bits)).or_default().clone());
        slot.get_or_init(|| Coverage::new(self.mesh.clone(), place, self.housing_mm, SQUARES).map(Arc::new)).clone()
    }

    /// Where its shadows are soft for a source of a size, both in mm, made once; `None` as with [`Airframe::seen_from`].
    #[must_use]
    pub fn penumbra_from(&self, place: Point, size_mm: f64) -> Option<Arc<Penumbra>> {
        let [forward, right, up] = place.map(f64::to_bits);
        let slot = self.slot(|made| made.soft.entry([forward, right, up, size_mm.to_bits()]).or_default().clone());
        slot.get_or_init(|| Some(Arc::new(self.seen_from(place)?.penumbra(size_mm)))).clone()
    }

    fn slot<T>(&self, of: impl FnOnce(&mut Made) -> Slot<T>) -> Slot<T> {
        of(&mut self.made.lock().unwrap_or_else(PoisonError::into_inner))
    }
}
