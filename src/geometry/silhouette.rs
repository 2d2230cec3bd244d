//! The outline of a mesh seen from far away.
//!
//! A square of a fine grid is inside where a triangle covers its middle. That loses what is thinner than a square, so
//! wherever an edge that bounds the view has no two squares beside it inside, the two nearest are put inside.

use super::coverage::middles_in;
use super::mesh::{Edge, Mesh, Point, dot};
use super::outline::{area, outline_of_set};

/// Squares along the larger side of the view.
const SQUARES: f64 = 1600.0;
/// Free squares all round.
const MARGIN: f64 = 2.0;
/// What encloses fewer squares is no part of an outline.
const SPECK: f64 = 4.0;

/// A place in squares, or in mm before it is laid on the grid.
type Spot = [f64; 2];

impl Mesh {
    /// Its outline in parallel projection on two unit vectors at a right angle, in mm along each: closed rings about outer
    /// borders and holes, for even-odd fill, good to 1/600 of the larger side.
    ///
    /// # Example
    /// ```
    /// use lampwright::geometry::Mesh;
    /// let mesh = Mesh::new([[[0.0, 0.0, 0.0], [300.0, 0.0, 0.0], [0.0, 400.0, 0.0]]]);
    /// let (forward, right) = ([1.0, 0.0, 0.0], [0.0, 1.0, 0.0]);
    /// assert_eq!(mesh.silhouette(right, forward).len(), 1);
    /// ```
    #[must_use]
    pub fn silhouette(&self, across: Point, up: Point) -> Vec<Vec<[f64; 2]>> {
        let spots: Vec<Spot> = self.points.iter().map(|p| [dot(*p, across), dot(*p, up)]).collect();
        let Some(mut view) = View::new(self, spots) else { return Vec::new() };
        let turns = view.fill(self);
        for edge in self.edges.iter().filter(|edge| bounds_view(edge, &turns)) {
            view.thicken(edge);
        }
        let mut rings = outline_of_set(view.columns, &view.set);
        rings.retain(|ring| area(ring).abs() >= SPECK);
        rings.iter_mut().flatten().for_each(|p| *p = view.in_mm(*p));
        rings
    }
}

/// Whether a mesh may end at an edge as seen: its triangles do not lie on both sides of it.
fn bounds_view(edge: &Edge, turns: &[i8]) -> bool {
    let mut sides = edge.sides().map(|(triangle, along)| {
        let turn = turns.get(triangle as usize).copied().unwrap_or(0);
        if along { turn } else { -turn }
    });
    let (one, other) = (sides.next().unwrap_or(0), sides.next().unwrap_or(0));
    edge.many || one * other != -1
}

/// A mesh on a grid.
struct View {
    /// The places of the mesh's points, in squares.
    spots: Vec<Spot>,
    columns: usize,
    set: Vec<bool>,
    corner: Spot,
    square_mm: f64,
}

impl View {
    /// All squares outside; `None` where there is nothing to see.
    fn new(mesh: &Mesh, mut spots: Vec<Spot>) -> Option<Self> {
        let seen = mesh.triangles.iter().flatten().filter_map(|n| spots.get(*n as usize));
        let nothing = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        let (low, high) = seen.fold(nothing, |(low, high), [x, y]| {
            ([low[0].min(*x), low[1].min(*y)], [high[0].max(*x), high[1].max(*y)])
        });
        let sides = [high[0] - low[0], high[1] - low[1]];
        let square_mm = sides[0].max(sides[1]) / SQUARES;
        if !(square_mm.is_normal() && square_mm > 0.0) {
            return None;
        }
        let corner = low.map(|x| x - MARGIN * square_mm);
        let [columns, rows] = sides.map(|side| (side / square_mm + 2.0 * MARGIN).ceil() as usize);
        for spot in &mut spots {
            *spot = [(spot[0] - corner[0]) / square_mm, (spot[1] - corner[1]) / square_mm];
        }
        Some(Self { spots, columns, set: vec![false; columns * rows], corner, square_mm })
    }

    /// Puts the squares inside whose middles are covered; which way each triangle turns as seen.
    fn fill(&mut self, mesh: &Mesh) -> Vec<i8> {
        let Self { spots, columns, set, .. } = self;
        let longest = (SQUARES + 2.0 * MARGIN) as usize;
        let spot = |n: u32| spots.get(n as usize).copied().unwrap_or_default();
        let turn_of = |triangle: &[u32; 3]| {
            let corners = triangle.map(spot);
            middles_in(&corners, longest, |row, from, to| {
                if let Some(squares) = set.get_mut(row * *columns + from..=row * *columns + to) {
                    squares.fill(true);
                }
            });
            turn(corners)
        };
        mesh.triangles.iter().map(turn_of).collect()
    }

    /// Looks along the columns and the rows whose middle lines an edge crosses.
    fn thicken(&mut self, edge: &Edge) {
        let [Some(a), Some(b)] = edge.ends.map(|n| self.spots.get(n as usize).copied()) else { return };
        for axis in [0, 1] {
            let (from, to) = if a[axis] <= b[axis] { (a, b) } else { (b, a) };
            let run = to[axis] - from[axis];
            let mut line = (from[axis] - 0.5).ceil();
            while line + 0.5 <= to[axis] && run > 0.0 {
                let part = (line + 0.5 - from[axis]) / run;
                self.thicken_at(axis, line as usize, from[1 - axis] + part * (to[1 - axis] - from[1 - axis]));
                line += 1.0;
            }
        }
    }

    /// Two squares of a line inside, at least, about a place on it.
    fn thicken_at(&mut self, axis: usize, line: usize, place: f64) {
        // The margin leaves room on both sides; the least is for places that are no numbers.
        let second = (place.round() as usize).max(2);
        let columns = self.columns;
        let at = |n: usize| if axis == 0 { n * columns + line } else { line * columns + n };
        let inside = |n: usize| self.set.get(at(n)) == Some(&true);
        let pairs = [(second - 2, second - 1), (second - 1, second), (second, second + 1)];
        if !pairs.into_iter().any(|(one, other)| inside(one) && inside(other)) {
            for n in [second - 1, second] {
                if let Some(square) = self.set.get_mut(at(n)) {
                    *square = true;
                }
            }
        }
    }

    fn in_mm(&self, spot: Spot) -> Spot {
        [self.corner[0] + spot[0] * self.square_mm, self.corner[1] + spot[1] * self.square_mm]
    }
}

/// Which way three places turn: 1, -1, or 0 where they lie on a line.
fn turn([a, b, c]: [Spot; 3]) -> i8 {
    let cross = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    i8::from(cross > 0.0) - i8::from(cross < 0.0)
}
