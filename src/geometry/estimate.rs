//! The solid angle where a yes-or-no test of directions holds: an adaptive estimate without proven bounds.

use super::area::{parts, pieces};
use super::sphere::sine_rise;
use super::{AzimuthSpan, BESIDE_DEG, Direction, Zone};
use crate::units::Interval;

/// The first lattice, in degrees; a feature that fits between its points and their middles can be missed.
const COARSE_DEG: f64 = 2.5;
/// Into how many by how many parts a coarse cell that holds a boundary is cut.
const FINE_PARTS: usize = 8;
/// Lines per fine cell along which the boundary is found.
const LINES: usize = 4;
/// Halvings of a piece of such a line.
const HALVINGS: usize = 16;

/// The solid angle in steradian of the part of a zone where `holds` is true, to about 1e-5 sr.
///
/// The test is made on a 2.5 degree lattice with the middles of its cells; where answers differ the boundary is
/// followed on lines 0.08 degrees apart. Boundaries along the breaks (degrees) cost and lose nothing.
///
/// ```
/// use lampwright::geometry::{Direction, Zone, area_below};
/// // A cap of half angle 30 degrees is 2 pi (1 - cos 30) = 0.841787 sr.
/// let axis = Direction::from_degrees(20.0, 35.0);
/// let area = area_below(&Zone::sphere(), &[], &[], |d| d.angle_to_deg(&axis) < 30.0);
/// assert!((area - 0.841787).abs() < 1e-5);
/// ```
#[must_use]
pub fn area_below(
    zone: &Zone,
    az_breaks_deg: &[f64],
    el_breaks_deg: &[f64],
    holds: impl Fn(&Direction) -> bool,
) -> f64 {
    pieces(zone, az_breaks_deg, el_breaks_deg)
        .into_iter()
        .map(|(azimuth, elevation_deg)| {
            let test = |offset: f64, el: f64| {
                let d = Direction::from_degrees(azimuth.at(offset), el);
                zone.admits(&d) && holds(&d)
            };
            Piece { azimuth, elevation_deg, test }.area_sr()
        })
        .sum()
}

/// A rectangle between breaks, with the test as a function of offset and elevation in degrees.
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
    ny: usize,
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
    fn area_sr(&self) -> f64 {
        let el = self.elevation_deg;
        let whole = Box2 { az: (0.0, self.azimuth.width_deg), el: (el.low, el.high) };
        let (nx, ny) = (parts(whole.az.1, COARSE_DEG), parts(el.width(), COARSE_DEG));
        let lattice = self.lattice(&whole, nx, ny);
        let mixed: Vec<bool> = (0..nx * ny)
            .map(|k| {
                let (i, j) = (k % nx, k / nx);
                lattice.is_mixed(i, j) || self.rim_differs(&whole.part(i, nx, j, ny), &lattice, i, j)
            })
            .collect();
        let near = |i: usize, j: usize| {
            (j.saturating_sub(1)..(j + 2).min(ny))
                .any(|y| (i.saturating_sub(1)..(i + 2).min(nx)).any(|x| mixed.get(y * nx + x) == Some(&true)))
        };
        let mut area = 0.0;
        for j in 0..ny {
            for i in 0..nx {
                let part = whole.part(i, nx, j, ny);
                // A boundary may clip the edge between two corners: the neighbours of mixed cells are looked into too.
                if near(i, j) {
                    area += self.fine_sr(&part);
                } else if lattice.middle(i, j) {
                    area += part.area_sr();
                }
            }
        }
        area
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
            nodes.extend((0..=nx).map(|i| (self.test)(at(b.az, i, nx), at(b.el, j, ny))));
        }
        for j in 0..ny {
            middles.extend((0..nx).map(|i| (self.test)(mid(b.az, i, nx), mid(b.el, j, ny))));
        }
        Lattice { nx, ny, nodes, middles }
    }

    /// Whether the answers along the piece's own rim differ from a rim cell's middle: beyond it no neighbour looks.
    fn rim_differs(&self, b: &Box2, lattice: &Lattice, i: usize, j: usize) -> bool {
        let middle = lattice.middle(i, j);
        let along = |(low, high): (f64, f64), k: usize| low + (high - low) * k as f64 / FINE_PARTS as f64;
        let inset = |x: f64, (low, high): (f64, f64)| {
            let by = BESIDE_DEG.min(0.25 * (high - low));
            x.clamp(low + by, high - by)
        };
        let sides = [(i == 0, b.az.0), (i + 1 == lattice.nx, b.az.1)];
        let ends = [(j == 0, b.el.0), (j + 1 == lattice.ny, b.el.1)];
        (1..FINE_PARTS).any(|k| {
            sides.iter().any(|(rim, x)| *rim && (self.test)(inset(*x, b.az), along(b.el, k)) != middle)
                || ends.iter().any(|(rim, y)| *rim && (self.test)(along(b.az, k), inset(*y, b.el)) != middle)
        })
    }

    fn fine_sr(&self, b: &Box2) -> f64 {
        let lattice = self.lattice(b, FINE_PARTS, FINE_PARTS);
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
                    let share = crossing_pieces(b.az, |x| (self.test)(x, y)).map(|(p, q)| q - p).sum::<f64>();
                    strip.area_sr() * share / (b.az.1 - b.az.0)
                } else {
                    let x = line(k, b.az);
                    let width = ((b.az.1 - b.az.0) / LINES as f64).to_radians();
                    width * crossing_pieces(b.el, |y| (self.test)(x, y)).map(|(p, q)| sine_rise(p, q)).sum::<f64>()
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
