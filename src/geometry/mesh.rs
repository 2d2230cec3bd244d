//! A triangle mesh whose triangles know their neighbours.

use super::seams::{OpenEdge, close};
use std::collections::HashMap;

/// No triangle.
const NONE: u32 = u32::MAX;

/// A point or a vector, in mm: forward, right, up.
pub type Point = [f64; 3];

/// An edge and the triangles at it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Edge {
    /// Its ends, the lower number first.
    pub ends: [u32; 2],
    /// Its first two triangles, and whether each runs along it from the first end to the second.
    sides: [(u32, bool); 2],
    /// Whether three or more meet at it.
    pub many: bool,
}

impl Edge {
    /// The triangles at it that are there, with their way along it.
    pub fn sides(&self) -> impl Iterator<Item = (u32, bool)> {
        self.sides.into_iter().filter(|(triangle, _)| *triangle != NONE)
    }
    /// The triangle across it from another.
    pub fn across(&self, triangle: u32) -> Option<u32> {
        self.sides().map(|(t, _)| t).find(|t| *t != triangle)
    }
}

/// What was left out of a mesh, or is open in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct MeshState {
    /// Triangles without area.
    pub degenerate: usize,
    /// Triangles that stand there twice.
    pub doubled: usize,
    /// Corners on an edge of another triangle, which was cut there.
    pub t_joints: usize,
    /// Edges with one triangle.
    pub open_edges: usize,
    /// Edges with three or more.
    pub crowded_edges: usize,
}

/// A mesh in mm, axes forward, right, up; corners at one place are one point.
#[derive(Debug, Clone, PartialEq)]
pub struct Mesh {
    pub(super) points: Vec<Point>,
    pub(super) triangles: Vec<[u32; 3]>,
    pub(super) edges: Vec<Edge>,
    /// The edges of each triangle: from its first corner to its second, and so on.
    pub(super) edges_of: Vec<[u32; 3]>,
    bounds: Option<(Point, Point)>,
    state: MeshState,
}

impl Mesh {
    /// From triangles by their corners; corners whose coordinates are equal are one. Triangles without area are left out,
    /// and so are second ones with the same corners. Where a corner lies on an open edge of another triangle, to six figures,
    /// that triangle is cut there.
    ///
    /// # Example
    /// ```
    /// use lampwright::geometry::Mesh;
    /// // Two triangles that share an edge: five edges, four of them open.
    /// let (a, b, c, d) = ([0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 1.0, 0.0], [0.0, 1.0, 0.0]);
    /// let mesh = Mesh::new([[a, b, c], [a, c, d], [c, a, b]]);
    /// assert_eq!((mesh.triangle_count(), mesh.state().open_edges, mesh.state().doubled), (2, 4, 1));
    /// ```
    #[must_use]
    pub fn new(corners: impl IntoIterator<Item = [Point; 3]>) -> Self {
        let mut welded = Welded::default();
        let mut state = MeshState::default();
        let mut triangles: Vec<[u32; 3]> = Vec::new();
        for corners in corners {
            let triangle = corners.map(|p| welded.number(p));
            if has_area(corners)
                && triangle[0] != triangle[1]
                && triangle[1] != triangle[2]
                && triangle[2] != triangle[0]
            {
                triangles.push(triangle);
            } else {
                state.degenerate += 1;
            }
        }
        state.doubled = without_doubles(&mut triangles);
        let mut mesh =
            Self { points: welded.points, triangles, edges: Vec::new(), edges_of: Vec::new(), bounds: None, state };
        mesh.join();
        mesh.close_seams();
        mesh.bounds = mesh.reach();
        mesh.state.open_edges = mesh.edges.iter().filter(|e| e.sides().count() == 1).count();
        mesh.state.crowded_edges = mesh.edges.iter().filter(|e| e.many).count();
        mesh
    }

    /// How many triangles it has.
    #[must_use]
    pub fn triangle_count(&self) -> usize {
        self.triangles.len()
    }

    /// What was left out of it and what is open in it.
    #[must_use]
    pub fn state(&self) -> MeshState {
        self.state
    }

    /// The lowest and the highest of each coordinate; `None` without triangles.
    #[must_use]
    pub fn bounds(&self) -> Option<(Point, Point)> {
        self.bounds
    }

    /// The volume its triangles enclose, in mm³: above 0 where they face inwards, since forward, right and up turn like the left
    /// hand and files turn their triangles by the right one.
    #[must_use]
    pub fn signed_volume(&self) -> f64 {
        self.triangles.iter().map(|t| self.corners(*t)).map(|[a, b, c]| dot(a, cross(b, c)) / 6.0).sum()
    }

    /// The corners of a triangle.
    pub(super) fn corners(&self, triangle: [u32; 3]) -> [Point; 3] {
        triangle.map(|n| self.points.get(n as usize).copied().unwrap_or_default())
    }

    /// The corners of a triangle by its number, seen from a place.
    pub(super) fn seen_from(&self, triangle: u32, place: Point) -> [Point; 3] {
        let corners = self.triangles.get(triangle as usize).map_or([[0.0; 3]; 3], |t| self.corners(*t));
        corners.map(|p| minus(p, place))
    }

    /// Where a ray from a place first meets it: how far along, in mm; `None` where it meets nothing.
    #[must_use]
    pub fn first_hit_mm(&self, place: Point, direction: Point, beyond_mm: f64) -> Option<f64> {
        let hits = self.triangles.iter().filter_map(|t| {
            let [a, b, c] = self.corners(*t).map(|p| minus(p, place));
            hit(a, b, c, direction).filter(|t| *t >= beyond_mm)
        });
        hits.reduce(f64::min)
    }

    fn reach(&self) -> Option<(Point, Point)> {
        // Corners of triangles that were left out are no part of it.
        let mut corners = self.triangles.iter().flat_map(|t| self.corners(*t));
        let first = corners.next()?;
        Some(corners.fold((first, first), |(low, high), p| {
            let pick = |a: Point, f: fn(f64, f64) -> f64| [f(a[0], p[0]), f(a[1], p[1]), f(a[2], p[2])];
            (pick(low, f64::min), pick(high, f64::max))
        }))
    }

    /// Cuts triangles at corners that lie on their open edges, so that the two sides of a seam have the same edges.
    fn close_seams(&mut self) {
        let mut open = Vec::new();
        for (number, edge) in (0_u32..).zip(&self.edges) {
            let mut sides = edge.sides();
            let (Some((triangle, _)), None) = (sides.next(), sides.next()) else { continue };
            let of_it = self.edges_of.get(triangle as usize).copied().unwrap_or_default();
            open.extend((0_u8..).zip(of_it).filter(|(_, e)| *e == number).map(|(nth, _)| OpenEdge { triangle, nth }));
        }
        self.state.t_joints = close(&self.points, &mut self.triangles, &open);
        if self.state.t_joints > 0 {
            self.join();
        }
    }

    fn join(&mut self) {
        let mut halves: Vec<(u64, u32, u8, bool)> = Vec::with_capacity(3 * self.triangles.len());
        for (n, triangle) in (0_u32..).zip(&self.triangles) {
            for k in 0..3_u8 {
                let (from, to) = (triangle[usize::from(k)], triangle[(usize::from(k) + 1) % 3]);
                halves.push((u64::from(from.min(to)) << 32 | u64::from(from.max(to)), n, k, from < to));
            }
        }
        halves.sort_unstable();
        self.edges = Vec::new();
        self.edges_of = vec![[0; 3]; self.triangles.len()];
        for group in halves.chunk_by(|a, b| a.0 == b.0) {
            let number = u32::try_from(self.edges.len()).unwrap_or(NONE);
            let side = |n: usize| group.get(n).map_or((NONE, false), |(_, triangle, _, along)| (*triangle, *along));
            let key = group.first().map_or(0, |(key, ..)| *key);
            let ends = [(key >> 32) as u32, key as u32];
            self.edges.push(Edge { ends, sides: [side(0), side(1)], many: group.len() > 2 });
            for (_, triangle, k, _) in group {
                if let Some(edges) = self.edges_of.get_mut(*triangle as usize) {
                    edges[usize::from(*k)] = number;
                }
            }
        }
    }
}

/// Numbers for points, one for each place.
#[derive(Default)]
struct Welded {
    points: Vec<Point>,
    numbers: HashMap<[u64; 3], u32, Mixed>,
}

impl Welded {
    fn number(&mut self, p: Point) -> u32 {
        // 0 and -0 are one place.
        let key = p.map(|x| (x + 0.0).to_bits());
        let next = u32::try_from(self.points.len()).unwrap_or(NONE);
        *self.numbers.entry(key).or_insert_with(|| {
            self.points.push(p);
            next
        })
    }
}

/// A hash of three words by multiplication, for millions of points; nobody gains by points that collide.
#[derive(Default, Clone, Copy)]
struct Mixed(u64);

impl std::hash::BuildHasher for Mixed {
    type Hasher = Self;
    fn build_hasher(&self) -> Self {
        Self(0)
    }
}

impl std::hash::Hasher for Mixed {
    fn finish(&self) -> u64 {
        self.0 ^ (self.0 >> 29)
    }
    fn write(&mut self, bytes: &[u8]) {
        for word in bytes.chunks(8) {
            let mut padded = [0; 8];
            padded.iter_mut().zip(word).for_each(|(to, from)| *to = *from);
            self.write_u64(u64::from_le_bytes(padded));
        }
    }
    fn write_u64(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(23) ^ word).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    }
}

fn without_doubles(triangles: &mut Vec<[u32; 3]>) -> usize {
    let sorted = |t: &[u32; 3]| {
        let mut t = *t;
        t.sort_unstable();
        t
    };
    let mut order: Vec<([u32; 3], usize)> = triangles.iter().map(sorted).zip(0..).collect();
    order.sort_unstable();
    let mut kept = vec![true; triangles.len()];
    for pair in order.windows(2) {
        if let [(a, _), (b, later)] = pair
            && a == b
        {
            kept[*later] = false;
        }
    }
    let before = triangles.len();
    let mut keep = kept.into_iter();
    triangles.retain(|_| keep.next().unwrap_or(true));
    before - triangles.len()
}

pub(super) fn has_area([a, b, c]: [Point; 3]) -> bool {
    let normal = cross(minus(b, a), minus(c, a));
    dot(normal, normal) > 0.0
}

pub(super) fn minus(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn cross(a: Point, b: Point) -> Point {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub(super) fn length(a: Point) -> f64 {
    dot(a, a).sqrt()
}

pub(super) fn scaled(a: Point, by: f64) -> Point {
    a.map(|x| x * by)
}

/// The distance of a stretch of line from the origin.
pub(super) fn distance_of_line(p: Point, q: Point) -> f64 {
    let along = minus(q, p);
    let t = (-dot(p, along) / dot(along, along)).clamp(0.0, 1.0);
    length([p[0] + t * along[0], p[1] + t * along[1], p[2] + t * along[2]])
}

/// How far along a direction from the origin a triangle lies (Möller and Trumbore 1997, without culling).
fn hit(a: Point, b: Point, c: Point, d: Point) -> Option<f64> {
    let (e1, e2) = (minus(b, a), minus(c, a));
    let p = cross(d, e2);
    let det = dot(e1, p);
    if det == 0.0 {
        return None;
    }
    let s = scaled(a, -1.0);
    let u = dot(s, p) / det;
    let q = cross(s, e1);
    let v = dot(d, q) / det;
    let t = dot(e2, q) / det;
    (u >= 0.0 && v >= 0.0 && u + v <= 1.0 && t > 0.0).then_some(t)
}
