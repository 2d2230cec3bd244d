//! The cube about a place whose faces the sphere is seen on, cell by cell.
//!
//! A direction (x, y, z) lies on the face of its greatest coordinate w, at u and v, the other two over w, from -1 to 1.

use crate::geometry::mesh::{Point, length, minus, scaled};

/// How many faces it has.
pub(super) const FACES: usize = 6;

/// A vector as a face sees it: w towards the face, then u and v.
pub(super) fn about(face: usize, [x, y, z]: Point) -> Point {
    match face {
        0 => [x, y, z],
        1 => [-x, y, z],
        2 => [y, x, z],
        3 => [-y, x, z],
        4 => [z, x, y],
        _ => [-z, x, y],
    }
}

/// The vector a face sees as w, u, v.
pub(super) fn back(face: usize, [w, u, v]: Point) -> Point {
    match face {
        0 => [w, u, v],
        1 => [-w, u, v],
        2 => [u, w, v],
        3 => [u, -w, v],
        4 => [u, v, w],
        _ => [u, v, -w],
    }
}

/// The face a direction lies on.
pub(super) fn face_of([x, y, z]: Point) -> usize {
    let (ax, ay, az) = (x.abs(), y.abs(), z.abs());
    let (axis, sign) = if ax >= ay && ax >= az {
        (0, x)
    } else if ay >= az {
        (2, y)
    } else {
        (4, z)
    };
    axis + usize::from(sign < 0.0)
}

/// The unit vector to a place of a face.
pub(super) fn direction(face: usize, u: f64, v: f64) -> Point {
    let d = back(face, [1.0, u, v]);
    scaled(d, 1.0 / length(d))
}

/// A square of a face: one of size x size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Square {
    pub face: usize,
    pub size: usize,
    pub row: usize,
    pub column: usize,
}

impl Square {
    /// Its middle in u and v, and half its side.
    pub fn middle(self) -> (f64, f64, f64) {
        let half = 1.0 / self.size as f64;
        let at = |n: usize| (2 * n + 1) as f64 * half - 1.0;
        (at(self.column), at(self.row), half)
    }
    /// The direction of its middle.
    pub fn center(self) -> Point {
        let (u, v, _) = self.middle();
        direction(self.face, u, v)
    }
    /// No point of it lies farther from its middle than this angle: a step on the face is never seen larger than it is.
    pub fn radius_rad(self) -> f64 {
        std::f64::consts::SQRT_2 / self.size as f64
    }
    /// Whether all of it lies farther from a direction than an angle, given with its sine: past one of its sides, or away.
    pub fn is_beyond(self, d: Point, radius_rad: f64, sin: f64) -> bool {
        let [w, u, v] = about(self.face, d);
        let (mid_u, mid_v, half) = self.middle();
        let past = |x: f64, side: f64, way: f64| way * (x - side * w) < -sin * (1.0 + side * side).sqrt();
        past(u, mid_u - half, 1.0)
            || past(u, mid_u + half, -1.0)
            || past(v, mid_v - half, 1.0)
            || past(v, mid_v + half, -1.0)
            // A chord is shorter than its arc.
            || length(minus(self.center(), d)) > radius_rad + self.radius_rad()
    }
    /// The point of it nearest to a direction, on the face.
    pub fn nearest_to(self, d: Point) -> Point {
        let [w, u, v] = about(self.face, d);
        let (mid_u, mid_v, half) = self.middle();
        let within = |x: f64, middle: f64| if w > 0.0 { (x / w).clamp(middle - half, middle + half) } else { middle };
        direction(self.face, within(u, mid_u), within(v, mid_v))
    }
    /// Its place in a list of all squares of its size.
    pub fn index(self) -> usize {
        (self.face * self.size + self.row) * self.size + self.column
    }
    /// The square of so many on a face that holds a direction.
    pub fn of(d: Point, size: usize) -> Self {
        let face = face_of(d);
        let [w, u, v] = about(face, d);
        let cell = |x: f64| (((x / w + 1.0) * 0.5 * size as f64) as usize).min(size - 1);
        Self { face, size, row: cell(v), column: cell(u) }
    }
    /// The four it is cut into.
    pub fn quarters(self) -> [Self; 4] {
        let (size, row, column) = (2 * self.size, 2 * self.row, 2 * self.column);
        let at = |row, column| Self { face: self.face, size, row, column };
        [at(row, column), at(row, column + 1), at(row + 1, column), at(row + 1, column + 1)]
    }
}

/// The squares of one face that directions near one may lie in: rows and columns, first and last.
#[derive(Debug, Clone, Copy)]
pub(super) struct Window {
    pub face: usize,
    pub rows: (usize, usize),
    pub columns: (usize, usize),
}

impl Window {
    /// Of all directions within an angle, given by its sine, of one; `None` where they may leave its face.
    pub fn about(d: Point, sin: f64, size: usize) -> Option<Self> {
        let face = face_of(d);
        let [w, u, v] = about(face, d);
        let span = |x: f64| {
            // The planes through the cube's middle that touch the cone: (x - t w)^2 = sin^2 (1 + t^2).
            let below = w * w - sin * sin;
            let root = sin * (x * x + w * w - sin * sin).max(0.0).sqrt();
            let (low, high) = ((x * w - root) / below, (x * w + root) / below);
            let square = |t: f64| (t + 1.0) * 0.5 * size as f64;
            let (first, last) = ((square(low) - 1e-6).floor(), (square(high) + 1e-6).floor());
            (below > 0.0 && first >= 0.0 && last < size as f64).then_some((first as usize, last as usize))
        };
        Some(Self { face, rows: span(v)?, columns: span(u)? })
    }
    /// Its squares.
    pub fn squares(self, size: usize) -> impl Iterator<Item = Square> {
        let Self { face, rows, columns } = self;
        (rows.0..=rows.1)
            .flat_map(move |row| (columns.0..=columns.1).map(move |column| Square { face, size, row, column }))
    }
}
