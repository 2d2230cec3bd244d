//! Solid angles with proven bounds, by cutting cells until each lies inside or outside.

use super::sphere::tidied;
use super::{AzimuthSpan, Cell, Side, Zone};
use crate::units::Interval;

/// Cells looked at before the rest is left undecided.
const MOST_CELLS: usize = 400_000;
/// The widest first cell, in degrees: wide enough for few, small enough for a useful radius.
const FIRST_CELL_DEG: f64 = 15.0;

/// What is known of a whole cell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum State {
    /// All of it is in.
    Inside,
    /// None of it is in.
    Outside,
    /// What of it lies on a side is in, the rest is not.
    Beyond(Side),
    /// Cutting it further may tell.
    Mixed,
    /// Nothing is known of it, and cutting will not tell: it counts as undecided at once.
    Unknown,
}

/// A solid angle in steradian that lies in [inside, inside + undecided].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// What is surely in, in steradian.
    pub inside_sr: f64,
    /// What may be in, in steradian.
    pub undecided_sr: f64,
}

impl Bounds {
    /// The lowest and the highest the solid angle can be, in steradian.
    #[must_use]
    pub fn interval(self) -> Interval {
        Interval { low: self.inside_sr, high: self.inside_sr + self.undecided_sr }
    }
}

/// The solid angle of a part of a zone, from what `cell` says of whole cells (azimuths by elevations).
///
/// Cells are cut exactly at the breaks (degrees), and `Mixed` ones in halves until less than `tolerance_sr` is mixed or
/// 400 000 cells were looked at; the truth lies within the bounds if `cell` is right about every point of a cell. The
/// curved edges of an area between planes need no cutting: the part of a cell inside is integrated, to about 1e-9 sr.
///
/// ```
/// use lampwright::geometry::{State, Zone, area_where, AzimuthSpan};
/// // The cap of 0.15 sr about dead astern has the half angle 12.544725 degrees (14 CFR 25.1401(b)).
/// let astern = lampwright::geometry::Direction::from_degrees(180.0, 0.0);
/// let rear = Zone::rectangle(AzimuthSpan::between(110.0, -110.0), &[(-90.0, 90.0)]);
/// let found = area_where(&rear, &[], &[], 1e-3, |cell| {
///     let angle = astern.angle_to_rad(&cell.center) - 12.544725_f64.to_radians();
///     if angle < -cell.radius_rad { State::Inside } else if angle > cell.radius_rad { State::Outside } else { State::Mixed }
/// });
/// assert!(found.interval().contains(0.15) && found.undecided_sr < 1e-3);
/// ```
#[must_use]
pub fn area_where(
    zone: &Zone,
    az_breaks_deg: &[f64],
    el_breaks_deg: &[f64],
    tolerance_sr: f64,
    cell: impl Fn(&Cell) -> State,
) -> Bounds {
    let mut level = first_cells(zone, az_breaks_deg, el_breaks_deg);
    let mut mixed: f64 = level.iter().map(Cell::solid_angle_sr).sum();
    let (mut inside, mut unknown, mut looked_at) = (0.0, 0.0, 0_usize);
    let mut next = Vec::new();
    // Every first cell is judged, so that what the breaks cut exactly comes out exact whatever the tolerance.
    let first = level.len();
    while !level.is_empty() {
        for c in &level {
            if looked_at >= MOST_CELLS.max(first) || (looked_at >= first && mixed <= tolerance_sr) {
                return Bounds { inside_sr: inside, undecided_sr: unknown + mixed.max(0.0) };
            }
            looked_at += 1;
            match cell(c) {
                State::Inside => inside += zone.part_sr(c),
                State::Unknown => unknown += zone.part_sr(c),
                State::Beyond(side) if zone.state_of(c) == State::Inside => inside += c.part_on_side_sr(&side),
                State::Mixed | State::Beyond(_) if zone.state_of(c) != State::Outside => {
                    next.extend(c.halves());
                    continue;
                }
                State::Outside | State::Mixed | State::Beyond(_) => {}
            }
            mixed -= c.solid_angle_sr();
        }
        std::mem::swap(&mut level, &mut next);
        next.clear();
    }
    // Nothing is mixed any more; what the running sum still holds is rounding.
    Bounds { inside_sr: inside, undecided_sr: unknown }
}

/// The zone's outer rectangle cut at every break, then into cells of at most 15 degrees.
pub(super) fn first_cells(zone: &Zone, az_breaks_deg: &[f64], el_breaks_deg: &[f64]) -> Vec<Cell> {
    let mut cells = Vec::new();
    for (azimuth, elevation_deg) in pieces(zone, az_breaks_deg, el_breaks_deg) {
        let (across, up) = (parts(azimuth.width_deg, FIRST_CELL_DEG), parts(elevation_deg.width(), FIRST_CELL_DEG));
        let (az_step, el_step) = (azimuth.width_deg / across as f64, elevation_deg.width() / up as f64);
        for i in 0..across {
            let part = AzimuthSpan::new(azimuth.at(i as f64 * az_step), az_step);
            for j in 0..up {
                let low = elevation_deg.low + j as f64 * el_step;
                let high = if j + 1 == up { elevation_deg.high } else { low + el_step };
                cells.push(Cell::new(part, Interval { low, high }));
            }
        }
    }
    cells
}

/// Into how many equal parts a width must be cut for none to be wider than the most.
fn parts(width: f64, most: f64) -> usize {
    ((width / most - 1e-9).ceil() as usize).max(1)
}

/// The rectangles between the breaks that make up the zone's outer bands.
fn pieces(zone: &Zone, az_breaks_deg: &[f64], el_breaks_deg: &[f64]) -> Vec<(AzimuthSpan, Interval)> {
    let span = zone.span();
    let cuts = span.cuts(az_breaks_deg);
    let mut pieces = Vec::new();
    // A span without width is a meridian.
    let widths: Vec<(f64, f64)> = match cuts.as_slice() {
        [only] => vec![(*only, 0.0)],
        _ => cuts.windows(2).map(|az| (az[0], az[1] - az[0])).collect(),
    };
    for (offset, width) in widths {
        let azimuth = AzimuthSpan::new(span.at(offset), width);
        for (low, high) in zone.outer_bands() {
            let mut els: Vec<f64> = el_breaks_deg.iter().copied().filter(|e| e.is_finite()).collect();
            els.extend([low, high]);
            let els = tidied(els, low, high);
            match els.as_slice() {
                // A band without height is a line: a search looks along it.
                [only] => pieces.push((azimuth, Interval::exactly(*only))),
                _ => pieces.extend(els.windows(2).map(|e| (azimuth, Interval { low: e[0], high: e[1] }))),
            }
        }
    }
    pieces
}
