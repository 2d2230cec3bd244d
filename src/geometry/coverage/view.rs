//! A mesh as seen from a place: which face of the cube each corner lies on, which way each triangle turns.

use super::cube::{FACES, about, face_of};
use super::raster::Spot;
use crate::geometry::mesh::{Edge, Mesh, Point, cross, distance_of_line, dot, length, minus, scaled};

/// A triangle turned edge-on to this share of its size has no side.
const EDGE_ON: f64 = 1e-13;
/// How far past a face's border polygons are kept, so that what lies on it is on both faces.
const BESIDE: f64 = 1e-9;

/// How a triangle stands to the lamp's housing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Clear of it.
    Clear,
    /// Part of it within.
    Cut,
    /// All of it within: not there.
    Within,
}

/// A mesh from a place.
pub(super) struct View<'m> {
    pub mesh: &'m Mesh,
    size: f64,
    points: Vec<Point>,
    faces: Vec<u8>,
    spots: Vec<Spot>,
    /// 1 and -1 for the two ways a triangle may turn, 0 edge-on.
    pub signs: Vec<i8>,
    /// The triangles cut by the housing, by number.
    pub cuts: Vec<(u32, Cut)>,
    within: Vec<u32>,
}

/// What a housing takes of a triangle: all that is seen nearer to the plane's normal than an angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cut {
    /// The unit normal of its plane, towards it.
    pub normal: Point,
    /// The cosine of the angle within which it is taken away.
    pub cos: f64,
}

impl<'m> View<'m> {
    /// The mesh from a place, what lies within a distance of it left out, on faces of size x size squares.
    pub fn new(mesh: &'m Mesh, place: Point, housing_mm: f64, size: usize) -> Self {
        let points: Vec<Point> = mesh.points.iter().map(|p| minus(*p, place)).collect();
        let faces: Vec<u8> = points.iter().map(|p| face_of(*p) as u8).collect();
        let size = size as f64;
        let spots = points.iter().zip(&faces).map(|(p, face)| spot(about(usize::from(*face), *p), size)).collect();
        let (signs, cuts, within) = Default::default();
        let mut view = Self { mesh, size, points, faces, spots, signs, cuts, within };
        let farthest = view.points.iter().flatten().fold(0.0_f64, |m, x| m.max(x.abs()));
        let doubtful = EDGE_ON * farthest.powi(3);
        view.signs = mesh.triangles.iter().map(|t| sign(view.corners(*t), doubtful)).collect();
        if housing_mm > 0.0 {
            view.cut(housing_mm);
        }
        view
    }

    fn cut(&mut self, housing_mm: f64) {
        for ((n, triangle), sign) in (0_u32..).zip(&self.mesh.triangles).zip(&self.signs) {
            // A skin the lamp stands right on hides nothing; what is seen of it is rounding, and no part to cut.
            if *sign == 0 {
                continue;
            }
            let corners = self.corners(*triangle);
            let near = |p: &Point| dot(*p, *p) < housing_mm * housing_mm;
            if corners.iter().all(near) {
                self.within.push(n);
                continue;
            }
            let normal = cross(minus(corners[1], corners[0]), minus(corners[2], corners[0]));
            let normal = scaled(normal, 1.0 / length(normal));
            let height = dot(normal, corners[0]);
            if height.abs() < housing_mm && distance(corners) < housing_mm {
                let normal = scaled(normal, height.signum());
                self.cuts.push((n, Cut { normal, cos: height.abs() / housing_mm }));
            }
        }
    }

    /// The corners of a triangle from the place.
    pub fn corners(&self, triangle: [u32; 3]) -> [Point; 3] {
        triangle.map(|n| self.points.get(n as usize).copied().unwrap_or_default())
    }

    /// Whether the housing touches no triangle.
    pub fn is_whole(&self) -> bool {
        self.cuts.is_empty() && self.within.is_empty()
    }

    /// How a triangle stands to the housing.
    pub fn kind(&self, triangle: u32) -> Kind {
        if self.within.binary_search(&triangle).is_ok() {
            Kind::Within
        } else if self.cut_of(triangle).is_some() {
            Kind::Cut
        } else {
            Kind::Clear
        }
    }

    /// What the housing takes of a triangle.
    pub fn cut_of(&self, triangle: u32) -> Option<Cut> {
        cut_of(&self.cuts, triangle)
    }

    /// Whether coverage may change across an edge: one triangle, several, or two on the same side of it as seen from here.
    pub fn is_outline(&self, edge: &Edge) -> bool {
        let side = |(triangle, along): (u32, bool)| {
            let sign = self.signs.get(triangle as usize).copied().unwrap_or(0);
            if along { sign } else { -sign }
        };
        let mut sides = edge.sides();
        match (sides.next().map(side), sides.next().map(side)) {
            (Some(one), Some(other)) => edge.many || one == 0 || other == 0 || one == other,
            _ => true,
        }
    }

    /// Calls with each face a triangle is seen on and its part there.
    pub fn parts(&self, triangle: [u32; 3], mut each: impl FnMut(usize, &[Spot])) {
        let face = |n: u32| self.faces.get(n as usize).copied().unwrap_or(0);
        let spot = |n: u32| self.spots.get(n as usize).copied().unwrap_or_default();
        let [a, b, c] = triangle;
        if face(a) == face(b) && face(b) == face(c) {
            each(usize::from(face(a)), &[spot(a), spot(b), spot(c)]);
        } else {
            self.clipped(&self.corners(triangle), each);
        }
    }

    /// Calls with each face an edge is seen on and its part there.
    pub fn edge_parts(&self, edge: &Edge, each: impl FnMut(usize, &[Spot])) {
        let ends = edge.ends.map(|n| self.points.get(n as usize).copied().unwrap_or_default());
        self.clipped(&ends, each);
    }

    fn clipped(&self, corners: &[Point], mut each: impl FnMut(usize, &[Spot])) {
        for face in 0..FACES {
            let mut polygon: Vec<Point> = corners.iter().map(|p| about(face, *p)).collect();
            if polygon.iter().all(|p| p[0] <= 0.0) {
                continue;
            }
            for (axis, way) in [(1, 1.0), (1, -1.0), (2, 1.0), (2, -1.0)] {
                polygon = kept(&polygon, |p| p[0] * (1.0 + BESIDE) - way * p[axis]);
            }
            polygon.retain(|p| p[0] > 0.0);
            if polygon.len() >= corners.len().min(2) {
                let spots: Vec<Spot> = polygon.iter().map(|p| spot(*p, self.size)).collect();
                each(face, &spots);
            }
        }
    }
}

/// What the housing takes of a triangle, from a list by number.
pub(super) fn cut_of(cuts: &[(u32, Cut)], triangle: u32) -> Option<Cut> {
    let at = cuts.binary_search_by_key(&triangle, |(n, _)| *n).ok()?;
    cuts.get(at).map(|(_, cut)| *cut)
}

/// A place of a face in squares from its corner.
fn spot([w, u, v]: Point, size: f64) -> Spot {
    [(u / w + 1.0) * 0.5 * size, (v / w + 1.0) * 0.5 * size]
}

/// Which way a triangle turns; what its own corners are rounded to is asked only of a determinant that is doubtful for any.
fn sign([a, b, c]: [Point; 3], doubtful: f64) -> i8 {
    let det = dot(a, cross(b, c));
    let largest = || [a, b, c].iter().flatten().fold(0.0_f64, |m, x| m.max(x.abs()));
    if det.abs() <= doubtful && det.abs() <= EDGE_ON * largest().powi(3) {
        0
    } else if det > 0.0 {
        1
    } else {
        -1
    }
}

/// The part of a polygon or a line where a linear function is not below 0 (Sutherland and Hodgman 1974).
fn kept(polygon: &[Point], inside: impl Fn(&Point) -> f64) -> Vec<Point> {
    let mut out = Vec::with_capacity(polygon.len() + 1);
    let Some(last) = polygon.last() else { return out };
    let is_line = polygon.len() == 2;
    let (mut p, mut at_p) = (*last, inside(last));
    for (n, q) in polygon.iter().enumerate() {
        let at_q = inside(q);
        // A line has one side, not one there and one back.
        if (at_p < 0.0) != (at_q < 0.0) && !(is_line && n == 0) {
            let t = at_p / (at_p - at_q);
            let cut: Vec<f64> = p.iter().zip(q).map(|(a, b)| a + t * (b - a)).collect();
            if let [x, y, z] = cut.as_slice() {
                out.push([*x, *y, *z]);
            }
        }
        if at_q >= 0.0 {
            out.push(*q);
        }
        (p, at_p) = (*q, at_q);
    }
    out
}

/// The distance of a triangle from the origin (the nearest of its plane's foot, its edges and its corners).
fn distance([a, b, c]: [Point; 3]) -> f64 {
    let normal = cross(minus(b, a), minus(c, a));
    let inside = |p: Point, q: Point| dot(cross(minus(q, p), scaled(p, -1.0)), normal) >= 0.0;
    if inside(a, b) && inside(b, c) && inside(c, a) {
        return dot(normal, a).abs() / length(normal);
    }
    [(a, b), (b, c), (c, a)].iter().map(|(p, q)| distance_of_line(*p, *q)).fold(f64::INFINITY, f64::min)
}
