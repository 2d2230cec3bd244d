//! The solid angle where a yes-or-no test of directions holds: from cells that are decided whole, and lines
//! across the boundary in those that are not.

use super::area::first_cells;
use super::sphere::sine_rise;
use super::{AzimuthSpan, BESIDE_DEG, Cell, Direction, State, Zone};
use crate::units::Interval;

/// Cells of a smaller radius whose boundary is seen are not cut in halves any more, in degrees.
const COARSE_DEG: f64 = 0.9;
/// Cells of a smaller radius are not cut in halves any more whatever is seen of them, in degrees.
const FINEST_DEG: f64 = 0.015;
/// How far a part thinner than the lines are apart may be taken too small, as a share of what was found of it.
const OF_CROSSED: f64 = 0.05;
/// Cells looked at, besides the first, before the rest stays undecided.
const MOST_CELLS: usize = 100_000;
/// Into how many by how many parts a cell that holds a boundary is cut.
const FINE_PARTS: usize = 6;
/// Lines per fine cell along which the boundary is found.
const LINES: usize = 3;
/// Halvings of a piece of such a line.
const HALVINGS: usize = 11;

/// The solid angle in steradian of the part of a zone where `holds` is true: an estimate to about 1e-5 sr as the low
/// end, and as the high end what it may be: cells that stayed undecided, and 5 % of what was followed on lines, which a part
/// thinner than the lines are apart may be more.
///
/// `over` says of a cell whether all of it, none of it or a part of it holds; cells are cut at the breaks (degrees) and
/// in halves until they are decided, or about 1.2 degrees wide and crossed by a boundary that is then followed on lines.
/// A cell in which no point tells of the part that `over` speaks of is cut on, down to 0.02 degrees.
///
/// ```
/// use lampwright::geometry::{Direction, State, Zone, area_below};
/// // A cap of half angle 30 degrees is 2 pi (1 - cos 30) = 0.841787 sr.
/// let axis = Direction::from_degrees(20.0, 35.0);
/// let over = |cell: &lampwright::geometry::Cell| match cell.angles_to_rad(&axis) {
///     angles if angles.high < 30_f64.to_radians() => State::Inside,
///     angles if angles.low > 30_f64.to_radians() => State::Outside,
///     _ => State::Mixed,
/// };
/// let area = area_below(&Zone::sphere(), (&[], &[]), over, |d| d.angle_to_deg(&axis) < 30.0);
/// assert!((area.low - 0.841787).abs() < 1e-5 && area.width() < 1e-2);
/// ```
#[must_use]
pub fn area_below(
    zone: &Zone,
    (az_breaks_deg, el_breaks_deg): (&[f64], &[f64]),
    over: impl Fn(&Cell) -> State,
    holds: impl Fn(&Direction) -> bool,
) -> Interval {
    let test = |azimuth_deg: f64, el_deg: f64| {
        let d = Direction::from_degrees(azimuth_deg, el_deg);
        zone.admits(&d) && holds(&d)
    };
    let mut open = first_cells(zone, az_breaks_deg, el_breaks_deg);
    let most = open.len() + MOST_CELLS;
    let (mut area, mut crossed, mut undecided, mut looked_at) = (0.0, 0.0, 0.0, 0);
    while let Some(cell) = open.pop() {
        looked_at += 1;
        let radius = cell.radius_rad.to_degrees();
        match (zone.state_of(&cell), over(&cell)) {
            (State::Outside, _) | (_, State::Outside) => continue,
            (_, State::Inside) => area += zone.part_sr(&cell),
            _ if radius > COARSE_DEG && looked_at < most => open.extend(cell.halves()),
            _ => match (Piece { azimuth: cell.azimuth, elevation_deg: cell.elevation_deg, test }.crossed_sr()) {
                Some(part) => {
                    area += part;
                    crossed += part;
                }
                None if radius > FINEST_DEG && looked_at < most => open.extend(cell.halves()),
                None => undecided += cell.solid_angle_sr(),
            },
        }
    }
    Interval { low: area, high: area + OF_CROSSED * crossed + undecided }
}

/// A small rectangle with the test as a function of azimuth and elevation in degrees.
struct Piece<F> {
    azimuth: AzimuthSpan,
    elevation_deg: Interval,
    test: F,
}

/// A rectangle of offsets and elevations in degrees.
#[derive(Clone, Copy)]
struct Box2 {
    az: (f64, f64),
    el: (f64, f64),
}

impl Box2 {
    fn area_sr(&self) -> f64 {
        (self.az.1 - self.az.0).to_radians() * sine_rise(self.el.0, self.el.1)
    }
    fn part(&self, i: usize, nx: usize, j: usize, ny: usize) -> Self {
        let at = |(a, b): (f64, f64), k: usize, n: usize| if k == n { b } else { a + (b - a) * k as f64 / n as f64 };
        Self { az: (at(self.az, i, nx), at(self.az, i + 1, nx)), el: (at(self.el, j, ny), at(self.el, j + 1, ny)) }
    }
}

/// The answers on a lattice: nodes row by row, and the middles of cells.
struct Lattice {
    nx: usize,
    nodes: Vec<bool>,
    middles: Vec<bool>,
}

impl Lattice {
    fn middle(&self, i: usize, j: usize) -> bool {
        self.middles.get(j * self.nx + i).copied().unwrap_or(false)
    }
    fn node(&self, i: usize, j: usize) -> bool {
        self.nodes.get(j * (self.nx + 1) + i).copied().unwrap_or(false)
    }
    /// The answers at a cell's corners: low left, low right, high left, high right.
    fn corners(&self, i: usize, j: usize) -> [bool; 4] {
        [self.node(i, j), self.node(i + 1, j), self.node(i, j + 1), self.node(i + 1, j + 1)]
    }
    fn is_mixed(&self, i: usize, j: usize) -> bool {
        let middle = self.middle(i, j);
        self.corners(i, j).iter().any(|c| *c != middle)
    }
}

impl<F: Fn(f64, f64) -> bool> Piece<F> {
    /// The part of it where the test holds; `None` where the test answers the same at every point looked at.
    fn crossed_sr(&self) -> Option<f64> {
        let el = self.elevation_deg;
        let whole = Box2 { az: (0.0, self.azimuth.width_deg), el: (el.low, el.high) };
        let lattice = self.lattice(&whole, FINE_PARTS, FINE_PARTS);
        let first = lattice.middle(0, 0);
        let same = lattice.nodes.iter().chain(&lattice.middles).all(|answer| *answer == first);
        (!same).then(|| self.fine_sr(&whole, &lattice))
    }

    fn holds(&self, offset_deg: f64, el_deg: f64) -> bool {
        (self.test)(self.azimuth.at(offset_deg), el_deg)
    }

    /// The answers on a lattice of a box, its outer nodes drawn in so that they do not lie on breaks.
    fn lattice(&self, b: &Box2, nx: usize, ny: usize) -> Lattice {
        let at = |(low, high): (f64, f64), k: usize, n: usize| {
            let inset = BESIDE_DEG.min(0.25 * (high - low));
            (low + (high - low) * k as f64 / n as f64).clamp(low + inset, high - inset)
        };
        let mid = |(low, high): (f64, f64), k: usize, n: usize| low + (high - low) * (k as f64 + 0.5) / n as f64;
        let (mut nodes, mut middles) = (Vec::with_capacity((nx + 1) * (ny + 1)), Vec::with_capacity(nx * ny));
        for j in 0..=ny {
            nodes.extend((0..=nx).map(|i| self.holds(at(b.az, i, nx), at(b.el, j, ny))));
        }
        for j in 0..ny {
            middles.extend((0..nx).map(|i| self.holds(mid(b.az, i, nx), mid(b.el, j, ny))));
        }
        Lattice { nx, nodes, middles }
    }

    fn fine_sr(&self, b: &Box2, lattice: &Lattice) -> f64 {
        let mut area = 0.0;
        for j in 0..FINE_PARTS {
            for i in 0..FINE_PARTS {
                let part = b.part(i, FINE_PARTS, j, FINE_PARTS);
                if lattice.is_mixed(i, j) {
                    area += self.lines_sr(&part, lattice.corners(i, j));
                } else if lattice.middle(i, j) {
                    area += part.area_sr();
                }
            }
        }
        area
    }

    /// The area in a small box from lines across the boundary: rows where it runs along meridians, columns otherwise.
    fn lines_sr(&self, b: &Box2, [ll, lr, hl, hr]: [bool; 4]) -> f64 {
        let (across, upward) =
            (usize::from(ll != lr) + usize::from(hl != hr), usize::from(ll != hl) + usize::from(lr != hr));
        let line = |k: usize, (low, high): (f64, f64)| low + (high - low) * (k as f64 + 0.5) / LINES as f64;
        (0..LINES)
            .map(|k| {
                if across > upward {
                    let strip = b.part(0, 1, k, LINES);
                    let y = line(k, b.el);
                    let share = crossing_pieces(b.az, |x| self.holds(x, y)).map(|(p, q)| q - p).sum::<f64>();
                    strip.area_sr() * share / (b.az.1 - b.az.0)
                } else {
                    let x = line(k, b.az);
                    let width = ((b.az.1 - b.az.0) / LINES as f64).to_radians();
                    width * crossing_pieces(b.el, |y| self.holds(x, y)).map(|(p, q)| sine_rise(p, q)).sum::<f64>()
                }
            })
            .sum()
    }
}

/// The stretches of a line where the test holds: answers at both ends and the middle, changes bisected.
fn crossing_pieces((low, high): (f64, f64), test: impl Fn(f64) -> bool) -> impl Iterator<Item = (f64, f64)> {
    let inset = BESIDE_DEG.min(0.25 * (high - low));
    let middle = 0.5 * (low + high);
    let answers = [test(low + inset), test(middle), test(high - inset)];
    let stretch = |p: f64, q: f64, at_p: bool, at_q: bool| match (at_p, at_q) {
        (true, true) => Some((p, q)),
        (false, false) => None,
        _ => {
            let (mut a, mut b) = (p, q);
            for _ in 0..HALVINGS {
                let m = 0.5 * (a + b);
                if test(m) == at_p { a = m } else { b = m }
            }
            let change = 0.5 * (a + b);
            Some(if at_p { (p, change) } else { (change, q) })
        }
    };
    [stretch(low, middle, answers[0], answers[1]), stretch(middle, high, answers[1], answers[2])].into_iter().flatten()
}
