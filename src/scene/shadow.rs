//! What the airframe hides of one lamp: sharp as seen from its middle, soft at the edges for its size.

use super::cause::Missing;
use crate::aircraft::{Aircraft, Lamp};
use crate::geometry::{Cell, Coverage, Direction, Ends, Penumbra, State};
use crate::photometry::Pass;
use crate::units::Interval;
use std::sync::Arc;

/// The size of a source whose size is not given, in mm: the common package, from memory.
const USUAL_MM: f64 = 5.0;

/// What the airframe hides of a lamp.
#[derive(Debug, Clone)]
pub(super) struct Shadow {
    pub coverage: Arc<Coverage>,
    penumbra: Option<Arc<Penumbra>>,
}

impl Shadow {
    /// Of a lamp on a model with an airframe, for a source of a size in mm; `None` on one without.
    ///
    /// # Errors
    /// The lamp's place is not known on all axes, or the airframe cannot be looked at from there.
    pub fn of(lamp: &Lamp, aircraft: &Aircraft, size_mm: Option<Interval>) -> Result<Option<Self>, Missing> {
        let Some(airframe) = aircraft.airframe.as_ref() else { return Ok(None) };
        let missing = |what: &str| Missing {
            key: format!("lamps.{}.place", lamp.name),
            what: what.to_string(),
            at: lamp.places.place.clone(),
        };
        let place = lamp.place.unwrap_or_default();
        let (Some(forward), Some(right), Some(up)) = (place.forward_mm, place.right_mm, place.up_mm) else {
            return Err(missing("what the airframe hides of it: forward or aft, left or right, up or down"));
        };
        let coverage = airframe.seen_from([forward, right, up]);
        let coverage =
            coverage.ok_or_else(|| missing("what the airframe hides of it, whose edges cross too often there"))?;
        let size_mm = size_mm.map_or(USUAL_MM, |size| size.high);
        let place = [forward, right, up];
        let penumbra = (size_mm > 0.0).then(|| airframe.penumbra_from(place, size_mm)).flatten();
        Ok(Some(Self { coverage, penumbra }))
    }

    /// Where the airframe first hides a direction, in mm from the datum, and how far from the lamp; `None` where it does not.
    pub fn hidden_by(&self, d: &Direction) -> Option<([f64; 3], f64)> {
        self.coverage.hides(d).then(|| self.coverage.hidden_by(d)).flatten()
    }

    /// How light passes in a direction.
    pub fn pass(&self, d: &Direction) -> Pass {
        if self.penumbra.as_ref().is_some_and(|p| p.holds(d)) {
            Pass::Penumbra
        } else if self.coverage.hides(d) {
            Pass::Hidden
        } else {
            Pass::Open
        }
    }

    /// What the ends of the share that passes are over a cell.
    pub fn share_over(&self, cell: &Cell) -> Ends {
        let some = Interval { low: 0.0, high: 1.0 };
        let soft = self.penumbra.as_ref().map_or(State::Outside, |p| p.state_of(cell));
        match (soft, self.coverage.state_of(cell)) {
            (State::Outside, State::Inside) => Ends::of(Interval::ZERO),
            (State::Outside, State::Outside) => Ends::of(Interval::exactly(1.0)),
            (State::Inside, _) => Ends::of(some),
            (_, State::Inside) => Ends { low: Interval::ZERO, high: some },
            (_, State::Outside) => Ends { low: some, high: Interval::exactly(1.0) },
            _ => Ends { low: some, high: some },
        }
    }
}
