//! The half-shadow of a source that is no point: as wide beside an edge as the source is large and the edge is near.

use super::cube::{FACES, Square, about};
use super::leaf::Cap;
use super::pyramid::{CROSSED, HIDDEN, Pyramid, SEEN};
use super::raster::Raster;
use super::view::cut_of;
use super::{Coverage, State, vector};
use crate::geometry::mesh::{Point, distance_of_line, minus};
use crate::geometry::{Cell, Direction};
use std::collections::HashMap;

/// Squares a side of a face on which half-shadows are marked, at the finest ...
const SQUARES: usize = 256;
/// ... and so many squares across the angle of a wide one, which needs no finer ones.
const ACROSS: f64 = 8.0;

/// Directions in which part of a source may be hidden and part of it seen.
#[derive(Debug, Clone)]
pub struct Penumbra(Pyramid);

impl Penumbra {
    /// Whether a direction lies in it, or within about a degree of it.
    #[must_use]
    pub fn holds(&self, d: &Direction) -> bool {
        self.0.finest(Square::of(vector(d), SQUARES)) == HIDDEN
    }

    /// Whether all of a cell lies in it, none, or some.
    #[must_use]
    pub fn state_of(&self, cell: &Cell) -> State {
        self.0.state_of(&Cap::new(vector(&cell.center), cell.radius_rad), |_| State::Mixed)
    }
}

impl Coverage {
    /// Where the shadows of a source of a size in mm are soft: within asin(size / 2 distance) of each edge of what is hidden,
    /// the distance being that of the nearest outline seen there, or of the housing's rim.
    #[must_use]
    pub fn penumbra(&self, size_mm: f64) -> Penumbra {
        let mut soft: Vec<Raster> = (0..=SQUARES.ilog2()).map(|level| Raster::new(SQUARES >> level)).collect();
        for ((level, square), half_width) in self.soft_squares(size_mm) {
            if let Some(soft) = soft.get_mut(level) {
                mark(soft, square.center(), half_width + square.radius_rad());
            }
        }
        let is_soft = |face: usize, row: usize, column: usize| {
            soft.iter().enumerate().any(|(level, soft)| soft.get(face, row >> level, column >> level))
        };
        Penumbra(Pyramid::new(SQUARES, |face, row, column| if is_soft(face, row, column) { HIDDEN } else { SEEN }))
    }

    /// Squares that edges of shadows pass, as large as the half-shadow allows, each with its greatest half width; and so many
    /// times halved from the finest.
    fn soft_squares(&self, size_mm: f64) -> HashMap<(usize, Square), f64> {
        let size = self.squares.size();
        let mut found = HashMap::new();
        for (index, _) in &self.crossed {
            let n = *index as usize;
            let square = Square { face: n / (size * size), size, row: n / size % size, column: n % size };
            let edge_mm = self.nearest_edge_mm(square);
            if self.squares.finest(square) != CROSSED && !self.stands_before_its_cover(square, edge_mm) {
                continue;
            }
            let half_width = half_width_rad(size_mm, edge_mm);
            let level = (half_width * SQUARES as f64 / (2.0 * ACROSS)).max(1.0).log2().floor() as usize;
            let coarse = SQUARES >> level.min(SQUARES.ilog2() as usize);
            let (row, column) = (square.row * coarse / size, square.column * coarse / size);
            let widest: &mut f64 = found.entry((level, Square { size: coarse, row, column, ..square })).or_default();
            *widest = widest.max(half_width);
        }
        found
    }

    /// Whether an edge stands before what covers it, seen from the middle of a source: a point of its rim may look between. An
    /// edge behind a nearer cover shows nowhere but where that ends, which is an edge of its own.
    fn stands_before_its_cover(&self, square: Square, edge_mm: f64) -> bool {
        let cap = Cap::new(square.center(), square.radius_rad());
        self.squares.finest(square) == HIDDEN && edge_mm < self.cover_mm(self.triangles_in(square), &cap)
    }

    /// The distance of the nearest edge that ends coverage in a square, or of the housing where that cuts it.
    fn nearest_edge_mm(&self, square: Square) -> f64 {
        let cut = self.triangles_in(square).iter().any(|t| cut_of(&self.cuts, *t).is_some());
        self.nearest_outline_mm(square).min(if cut { self.housing_mm } else { f64::INFINITY })
    }

    fn nearest_outline_mm(&self, square: Square) -> f64 {
        let point = |n: u32| self.mesh.points.get(n as usize).map_or([0.0; 3], |p| minus(*p, self.place));
        let of_triangle = |triangle: &u32| {
            let edges = self.mesh.edges_of.get(*triangle as usize).copied().unwrap_or_default();
            let ends = edges.into_iter().filter(|e| self.outline.get(*e as usize).copied().unwrap_or(true));
            let far =
                |e: u32| self.mesh.edges.get(e as usize).map(|e| distance_of_line(point(e.ends[0]), point(e.ends[1])));
            ends.filter_map(far).fold(f64::INFINITY, f64::min)
        };
        self.triangles_in(square).iter().map(of_triangle).fold(f64::INFINITY, f64::min)
    }
}

/// How far a source of a size shifts an edge at a distance at most, on either side; all of the sky where it reaches the edge.
fn half_width_rad(size_mm: f64, distance_mm: f64) -> f64 {
    let share = 0.5 * size_mm / distance_mm;
    if share >= 1.0 { std::f64::consts::PI } else { share.asin() }
}

/// Marks the squares within an angle of a direction.
fn mark(soft: &mut Raster, d: Point, angle: f64) {
    let sin = if angle < std::f64::consts::FRAC_PI_2 { angle.sin() } else { 1.0 };
    let size = soft.size;
    for face in 0..FACES {
        let [w, u, v] = about(face, d);
        if (Square { face, size: 1, row: 0, column: 0 }).is_beyond(d, angle, sin) {
            continue;
        }
        let (rows, columns) = (reach(w, v, sin, size), reach(w, u, sin, size));
        for row in rows.0..=rows.1 {
            // A cap is round: in a row it is one run of squares.
            let within = |column: &usize| !(Square { face, size, row, column: *column }).is_beyond(d, angle, sin);
            let first = (columns.0..=columns.1).find(within);
            let last = (columns.0..=columns.1).rev().find(within);
            if let (Some(first), Some(last)) = (first, last) {
                soft.set(face, row, first, last);
            }
        }
    }
}

/// The rows or columns that directions within an angle may lie in; all where they may lie beyond the face's horizon.
fn reach(w: f64, x: f64, sin: f64, size: usize) -> (usize, usize) {
    let below = w * w - sin * sin;
    if w <= 0.0 || below <= 0.0 {
        return (0, size - 1);
    }
    let root = sin * (x * x + below).max(0.0).sqrt();
    let square = |t: f64| ((t + 1.0) * 0.5 * size as f64).floor().clamp(0.0, size as f64 - 1.0) as usize;
    (square((x * w - root) / below), square((x * w + root) / below))
}
