//! Seams of a mesh whose two sides are cut differently: a corner of one side lies on an edge of the other, a T-joint.
//!
//! Across such a seam no triangle knows its neighbour, and rounding leaves hairs of light between them. The triangles of an
//! edge are cut at the corners that lie on it, so that both sides have the same edges.

use super::mesh::{Point, cross, distance_of_line, dot, has_area, length, minus};
use std::ops::ControlFlow;

/// A corner this near to an edge is on it, as a share of the greatest coordinate: six figures, which is what text files write;
/// binary ones hold seven.
const ON_IT: f64 = 1e-6;
/// A triangle lower than so many times that distance is not cut: its pieces would be rounding.
const THIN: f64 = 4.0;
/// The most corners on edges: past it seams stay as they are.
const MOST_JOINTS: usize = 2_000_000;
/// The most corners near edges, their ends among them: needles that meet in a point have as many as their number squared.
const MOST_NEAR: usize = 32_000_000;

/// An open edge, seen along its triangle.
#[derive(Debug, Clone, Copy)]
pub(super) struct OpenEdge {
    /// Its triangle, and which of its three edges it is: from the first corner to the second, and so on.
    pub triangle: u32,
    pub nth: u8,
}

/// A corner on an edge of a triangle, and how far along.
struct Joint {
    edge: OpenEdge,
    share: f64,
    corner: u32,
}

/// Cuts triangles at the corners that lie on their open edges; how many such corners there are.
pub(super) fn close(points: &[Point], triangles: &mut Vec<[u32; 3]>, open: &[OpenEdge]) -> usize {
    let reach = points.iter().flatten().fold(0.0_f64, |most, x| most.max(x.abs()));
    let near = ON_IT * reach;
    let Some(joints) = joints(points, triangles, open, near) else { return 0 };
    let mut at_triangle = joints.chunk_by(|a, b| a.edge.triangle == b.edge.triangle).peekable();
    let mut cut = Vec::with_capacity(triangles.len() + joints.len());
    for (n, triangle) in (0_u32..).zip(triangles.iter()) {
        match at_triangle.next_if(|joints| joints.first().is_some_and(|j| j.edge.triangle == n)) {
            None => cut.push(*triangle),
            Some(joints) => {
                let on = [0_u8, 1, 2]
                    .map(|nth| joints.iter().filter(|j| j.edge.nth == nth).map(|j| j.corner).collect::<Vec<_>>());
                pieces(points, *triangle, [&on[0], &on[1], &on[2]], &mut cut);
            }
        }
    }
    *triangles = cut;
    joints.len()
}

/// The pieces of a triangle cut at corners on its edges, each list from its edge's first end to the second.
fn pieces(points: &[Point], triangle: [u32; 3], on: [&[u32]; 3], into: &mut Vec<[u32; 3]>) {
    let longest = (0..3).max_by_key(|k| on[*k].len()).unwrap_or(0);
    let [ab, bc, ca] = [0, 1, 2].map(|k| on[(longest + k) % 3]);
    let [a, b, c] = [0, 1, 2].map(|k| triangle[(longest + k) % 3]);
    let middle = ab.len() / 2;
    match ab.get(middle) {
        Some(joint) => {
            pieces(points, [a, *joint, c], [ab.get(..middle).unwrap_or_default(), &[], ca], into);
            pieces(points, [*joint, b, c], [ab.get(middle + 1..).unwrap_or_default(), bc, &[]], into);
        }
        None if has_area(triangle.map(|n| at(points, n))) => into.push(triangle),
        None => {}
    }
}

/// All corners on open edges, by triangle, edge and share; `None` where they are none or too many.
fn joints(points: &[Point], triangles: &[[u32; 3]], open: &[OpenEdge], near: f64) -> Option<Vec<Joint>> {
    let tree = Tree::new(points, corners(triangles, open));
    let mut found: Vec<Joint> = Vec::new();
    let mut looked_at = 0;
    for edge in open {
        let numbers = edge.ends_and_apex(triangles);
        let [p, q, apex] = numbers.map(|n| at(points, n));
        if height(p, q, apex) < THIN * near {
            continue;
        }
        let all = tree.near((p, q), near, |corner| {
            let share = share_between(p, q, at(points, corner), near).filter(|_| !numbers.contains(&corner));
            found.extend(share.map(|share| Joint { edge: *edge, share, corner }));
            looked_at += 1;
            let too_many = found.len() > MOST_JOINTS || looked_at > MOST_NEAR;
            if too_many { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        if all.is_break() {
            return None;
        }
    }
    let key = |j: &Joint| (j.edge.triangle, j.edge.nth);
    found.sort_by(|a, b| key(a).cmp(&key(b)).then(a.share.total_cmp(&b.share)));
    (!found.is_empty()).then_some(found)
}

impl OpenEdge {
    fn ends_and_apex(self, triangles: &[[u32; 3]]) -> [u32; 3] {
        let triangle = triangles.get(self.triangle as usize).copied().unwrap_or_default();
        [0, 1, 2].map(|k| triangle[(usize::from(self.nth) + k) % 3])
    }
}

/// The corners of open edges, each once.
fn corners(triangles: &[[u32; 3]], open: &[OpenEdge]) -> Vec<u32> {
    let mut corners: Vec<u32> = Vec::with_capacity(2 * open.len());
    for edge in open {
        let [from, to, _] = edge.ends_and_apex(triangles);
        corners.extend([from, to]);
    }
    corners.sort_unstable();
    corners.dedup();
    corners
}

/// How far along a stretch of line a corner beside it lies, clear of both ends.
fn share_between(p: Point, q: Point, corner: Point, near: f64) -> Option<f64> {
    let along = minus(q, p);
    let share = dot(minus(corner, p), along) / dot(along, along);
    let clear = near / length(along);
    (share > clear && share < 1.0 - clear).then_some(share)
}

fn at(points: &[Point], n: u32) -> Point {
    points.get(n as usize).copied().unwrap_or_default()
}

/// How low the lowest corner of a triangle stands over the opposite edge.
fn height(a: Point, b: Point, c: Point) -> f64 {
    let sides = [minus(b, a), minus(c, b), minus(a, c)];
    let twice_the_area = length(cross(sides[0], sides[1]));
    twice_the_area / sides.into_iter().map(length).fold(0.0, f64::max)
}

/// Corners halved across the widest axis of each part (Bentley 1975), the middle one between its halves.
struct Tree<'p> {
    points: &'p [Point],
    order: Vec<u32>,
    /// Across which axis the part was halved whose middle stands here.
    axes: Vec<u8>,
}

impl<'p> Tree<'p> {
    fn new(points: &'p [Point], mut order: Vec<u32>) -> Self {
        let mut axes = vec![0; order.len()];
        halve(points, &mut order, &mut axes);
        Self { points, order, axes }
    }

    /// Calls with each corner within a distance of a stretch of line, until it is told to stop.
    fn near(
        &self,
        stretch: (Point, Point),
        near: f64,
        mut each: impl FnMut(u32) -> ControlFlow<()>,
    ) -> ControlFlow<()> {
        let mut left = vec![(0, self.order.len(), stretch)];
        while let Some((from, to, part)) = left.pop() {
            let middle = usize::midpoint(from, to);
            let (Some(number), Some(axis), true) = (self.order.get(middle), self.axes.get(middle), from < to) else {
                continue;
            };
            let (corner, axis) = (at(self.points, *number), usize::from(*axis));
            // All of the stretch, not what is left of it here: that may end just short of the corner.
            if distance_of_line(minus(stretch.0, corner), minus(stretch.1, corner)) <= near {
                each(*number)?;
            }
            left.extend(clipped(part, axis, corner[axis] + near, -1.0).map(|part| (from, middle, part)));
            left.extend(clipped(part, axis, corner[axis] - near, 1.0).map(|part| (middle + 1, to, part)));
        }
        ControlFlow::Continue(())
    }
}

fn halve(points: &[Point], order: &mut [u32], axes: &mut [u8]) {
    let middle = order.len() / 2;
    let axis = widest(points, order);
    let along = |n: &u32| at(points, *n)[usize::from(axis)];
    if order.len() > 1 {
        order.select_nth_unstable_by(middle, |a, b| along(a).total_cmp(&along(b)));
    }
    let ((below, above), (axes_below, axes_above)) = (order.split_at_mut(middle), axes.split_at_mut(middle));
    let (Some((_, above)), Some((here, axes_above))) = (above.split_first_mut(), axes_above.split_first_mut()) else {
        return;
    };
    *here = axis;
    halve(points, below, axes_below);
    halve(points, above, axes_above);
}

/// The axis along which some corners lie farthest apart.
fn widest(points: &[Point], order: &[u32]) -> u8 {
    let none = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
    let (low, high) = order
        .iter()
        .map(|n| at(points, *n))
        .fold(none, |(low, high), p| ([0, 1, 2].map(|k| p[k].min(low[k])), [0, 1, 2].map(|k| p[k].max(high[k]))));
    let wide = |axis: &u8| high[usize::from(*axis)] - low[usize::from(*axis)];
    (0..3).max_by(|a, b| wide(a).total_cmp(&wide(b))).unwrap_or(0)
}

/// The part of a stretch on one side of a plane across an axis; `None` where there is none.
fn clipped((p, q): (Point, Point), axis: usize, level: f64, way: f64) -> Option<(Point, Point)> {
    let (over_p, over_q) = (way * (p[axis] - level), way * (q[axis] - level));
    let cut = || {
        let share = over_p / (over_p - over_q);
        [0, 1, 2].map(|k| p[k] + share * (q[k] - p[k]))
    };
    match (over_p >= 0.0, over_q >= 0.0) {
        (true, true) => Some((p, q)),
        (true, false) => Some((p, cut())),
        (false, true) => Some((cut(), q)),
        (false, false) => None,
    }
}
