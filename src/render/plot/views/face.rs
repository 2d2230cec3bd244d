//! What a view shows, in mm to the right and down as it is drawn.

use super::super::fit::{bounds, drawable, few};
use super::super::style::{SMALL_LETTERS, SMALL_WIDTH, WIDTH};
use super::super::words;
use super::View;
use crate::report::evidence::{PlacedLamp, ThreeViews};

/// How large a drawing is, and what stands in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Size {
    /// How wide it is.
    pub(super) wide: f64,
    /// How high its letters are.
    pub(super) letters: f64,
    /// How large signs and sectors are, as a share of those of a large drawing.
    pub(super) share: f64,
}

/// A drawing of the usual width.
pub(super) const LARGE: Size = Size { wide: WIDTH, letters: 14.0, share: 1.0 };
/// A drawing for a first page.
pub(super) const SMALL: Size = Size { wide: SMALL_WIDTH, letters: SMALL_LETTERS, share: 0.55 };

/// A view.
pub(super) struct Face<'a> {
    /// How large the drawing is.
    pub(super) size: Size,
    /// Its name.
    pub(super) name: &'static str,
    /// Whether azimuths can be drawn in it.
    pub(super) plan: bool,
    /// The outline.
    pub(super) rings: Vec<Vec<[f64; 2]>>,
    /// The lamps that have a place in it.
    pub(super) lamps: Vec<(&'a PlacedLamp, [f64; 2])>,
}

impl<'a> Face<'a> {
    /// What is seen from a side.
    pub(super) fn of(views: &'a ThreeViews, view: View, size: Size) -> Self {
        let (name, rings, turn): (_, _, [f64; 2]) = match view {
            View::Plan => (words::VIEWS_PLAN, &views.plan, [1.0, -1.0]),
            View::Side => (words::VIEWS_SIDE, &views.side, [-1.0, -1.0]),
            View::Front => (words::VIEWS_FRONT, &views.front, [1.0, -1.0]),
        };
        let ring = |r: &Vec<[f64; 2]>| r.iter().map(|p| [p[0] * turn[0], p[1] * turn[1]]).collect();
        let place = |lamp: &'a PlacedLamp| Some((lamp, place(lamp, view)?)).filter(|(_, p)| drawable(p));
        let lamps = views.lamps.iter().filter_map(place).collect();
        let rings = few(rings);
        Self { size, name, plan: view == View::Plan, rings: rings.iter().map(ring).collect(), lamps }
    }
    /// Left, top, right and bottom of all that is drawn.
    pub(super) fn bounds(&self) -> Option<[f64; 4]> {
        bounds(self.rings.iter().flatten().chain(self.lamps.iter().map(|(_, at)| at)))
    }
}

fn place(lamp: &PlacedLamp, view: View) -> Option<[f64; 2]> {
    let [forward, right, up] = lamp.place;
    Some(match view {
        View::Plan => [right?, -forward?],
        View::Side => [-forward?, -up?],
        // Its left is on the right of who looks at its nose.
        View::Front => [-right?, -up?],
    })
}
