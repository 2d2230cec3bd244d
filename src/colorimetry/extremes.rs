//! The extreme values a margin takes over a patch of the chromaticity diagram.

use super::Chromaticity;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// Points over two parameters, row by row; between neighbours the colours are taken as bilinear.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mesh {
    /// The points, rows one after the other.
    pub points: Vec<Chromaticity>,
    /// The length of a row; zero for points that have nothing between them.
    pub columns: usize,
}

/// The four corners of a piece of a mesh.
type Quad = [Chromaticity; 4];

impl Mesh {
    fn quads(&self) -> Vec<Quad> {
        let Some(rows) = self.points.len().checked_div(self.columns) else { return Vec::new() };
        let at =
            |i: usize, j: usize| self.points.get(i.min(rows - 1) * self.columns + j.min(self.columns - 1)).copied();
        let quad = |i, j| Some([at(i, j)?, at(i + 1, j)?, at(i, j + 1)?, at(i + 1, j + 1)?]);
        let (down, across) = (rows.saturating_sub(1).max(1), (self.columns - 1).max(1));
        if rows == 0 {
            Vec::new()
        } else {
            (0..down).flat_map(|i| (0..across).filter_map(move |j| quad(i, j))).collect()
        }
    }
}

/// What the extremes are right to, in (x, y).
const TOLERANCE: f64 = 5e-5;
/// The most pieces cut up. Only a margin that hardly changes along a long ridge needs as many, and there
/// the values already found differ by less than the tolerance.
const MOST_CUTS: usize = 600;

/// A piece of a mesh and the most its value can be.
struct Piece {
    bound: f64,
    quad: Quad,
}

impl Ord for Piece {
    fn cmp(&self, other: &Self) -> Ordering {
        self.bound.total_cmp(&other.bound)
    }
}

impl PartialOrd for Piece {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Piece {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Piece {}

/// The greatest value over the meshes and where it is; `None` without points.
///
/// By branch and bound, the most promising piece first: a margin changes no faster than the colour
/// moves, so a piece holds nothing better than its middle by more than its radius.
pub(super) fn greatest(meshes: &[Mesh], value: impl Fn(Chromaticity) -> f64) -> Option<(f64, Chromaticity)> {
    let valued = meshes.iter().flat_map(|m| &m.points).map(|&c| (value(c), c));
    let mut best = valued.max_by(|a, b| a.0.total_cmp(&b.0))?;
    let mut pieces = BinaryHeap::new();
    let mut cut = meshes.iter().flat_map(Mesh::quads).collect::<Vec<_>>();
    for _ in 0..MOST_CUTS {
        for quad in cut {
            let middle = mean(&quad);
            let radius = quad.iter().map(|c| c.distance_to(middle)).fold(0.0, f64::max);
            let here = value(middle);
            if here > best.0 {
                best = (here, middle);
            }
            pieces.push(Piece { bound: here + radius, quad });
        }
        match pieces.pop() {
            Some(piece) if piece.bound > best.0 + TOLERANCE => cut = quarters(&piece.quad),
            _ => break,
        }
    }
    Some(best)
}

fn mean(points: &[Chromaticity]) -> Chromaticity {
    let n = points.len() as f64;
    Chromaticity { x: points.iter().map(|c| c.x).sum::<f64>() / n, y: points.iter().map(|c| c.y).sum::<f64>() / n }
}

/// The piece cut in four, or in two where it is only a line.
fn quarters(&[a, b, c, d]: &Quad) -> Vec<Quad> {
    let (ab, ac, bd, cd) = (mean(&[a, b]), mean(&[a, c]), mean(&[b, d]), mean(&[c, d]));
    if a == c && b == d {
        return vec![[a, ab, a, ab], [ab, b, ab, b]];
    }
    if a == b && c == d {
        return vec![[a, a, ac, ac], [ac, ac, c, c]];
    }
    let middle = mean(&[a, b, c, d]);
    vec![[a, ab, ac, middle], [ab, b, middle, bd], [ac, middle, c, cd], [middle, bd, cd, d]]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ridge_between_the_points_is_found() {
        let at = |x, y| Chromaticity { x, y };
        let square = Mesh { points: vec![at(0.0, 0.0), at(0.1, 0.0), at(0.0, 0.1), at(0.1, 0.1)], columns: 2 };
        // A cone with its tip at (0.032, 0.077).
        let tip = at(0.032, 0.077);
        let (value, place) = greatest(std::slice::from_ref(&square), |c| -c.distance_to(tip)).expect("points");
        assert!(value > -1e-4 && place.distance_to(tip) < 1e-4);
        let lone = Mesh { columns: 0, ..square };
        let corner = greatest(&[lone], |c| -c.distance_to(tip)).map(|b| b.1);
        assert_eq!(corner, Some(at(0.0, 0.1)));
        assert!(greatest(&[], |_| 0.0).is_none());
        assert!(greatest(&[Mesh { points: Vec::new(), columns: 3 }], |_| 0.0).is_none());
    }
}
