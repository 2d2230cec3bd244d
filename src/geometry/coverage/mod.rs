//! Which directions a mesh hides from a place: squares of a cube about it, decided where no outline crosses them.
//!
//! What is hidden is the union of the triangles as seen from the place, and a union needs no depth: one bit a square says
//! whether its middle is covered. Coverage changes only across an outline edge, one whose triangles do not lie on both sides
//! of it as seen. A square that no outline crosses is decided by its middle; of one that is crossed the triangles are kept,
//! and any part of it is decided by them exactly.

mod cube;
mod leaf;
mod penumbra;
mod pyramid;
mod raster;
mod view;

use super::mesh::{Mesh, Point, dot};
use super::{Cell, Direction, State};
use cube::{FACES, Square, Window};
use leaf::Cap;
pub use penumbra::Penumbra;
use pyramid::{CROSSED, HIDDEN, Pyramid, SEEN};
pub(super) use raster::middles_in;
use raster::{Raster, about, touched_by};
use std::borrow::Cow;
use std::sync::Arc;
use view::{Cut, Kind, View};

/// The most triangles kept for crossed squares, each as often as it is seen in one.
const MOST_KEPT: usize = 8_000_000;
/// The most of them in one square.
const MOST_IN_A_SQUARE: usize = 4_000;
/// The most squares looked at for triangles that the housing cuts.
const MOST_CUT: usize = 200_000_000;

/// What a mesh hides from a place.
#[derive(Debug, Clone)]
pub struct Coverage {
    mesh: Arc<Mesh>,
    place: Point,
    housing_mm: f64,
    signs: Vec<i8>,
    cuts: Vec<(u32, Cut)>,
    outline: Vec<bool>,
    squares: Pyramid,
    /// The crossed squares of the finest level, in order, and where the triangles of each begin.
    crossed: Vec<(u32, u32)>,
    triangles: Vec<u32>,
}

impl Coverage {
    /// What a mesh hides from a place in mm, all within a distance of the place left out; faces of `size` squares a side, a
    /// power of two from 64. `None` where outlines cross each other so often that memory or time would run out.
    #[must_use]
    pub fn new(mesh: Arc<Mesh>, place: Point, housing_mm: f64, size: usize) -> Option<Self> {
        let size = size.next_power_of_two().clamp(64, 4096);
        let view = View::new(&mesh, place, housing_mm, size);
        let mut covered = Raster::new(size);
        let mut crossed = Raster::new(size);
        let outline: Vec<bool> = mesh.edges.iter().map(|edge| view.is_outline(edge)).collect();
        for edge in mesh.edges.iter().zip(&outline).filter(|(_, outline)| **outline).map(|(edge, _)| edge) {
            view.edge_parts(edge, |face, part| {
                touched_by(part, size, |row, from, to| crossed.set(face, row, from, to))
            });
        }
        let mut looked_at = 0;
        for (triangle, cut) in &view.cuts {
            looked_at += fill_cut(&view, *triangle, *cut, &mut covered, &mut crossed);
            if looked_at > MOST_CUT {
                return None;
            }
        }
        let pairs = fill_and_list(&view, &mut covered, &crossed)?;
        let View { signs, cuts, .. } = view;
        let mut coverage = Self {
            mesh,
            place,
            housing_mm,
            signs,
            cuts,
            outline,
            squares: Pyramid::default(),
            crossed: Vec::new(),
            triangles: Vec::new(),
        };
        coverage.keep(pairs);
        coverage.decide(&mut covered, &mut crossed);
        coverage.squares = Pyramid::new(size, |face, row, column| {
            match (crossed.get(face, row, column), covered.get(face, row, column)) {
                (true, _) => CROSSED,
                (_, true) => HIDDEN,
                _ => SEEN,
            }
        });
        Some(coverage)
    }

    /// How many of 6 x size x size middles of squares a mesh hides from a place; size is a power of two from 64.
    #[must_use]
    pub fn middles_hidden(mesh: &Mesh, place: Point, size: usize) -> usize {
        let view = View::new(mesh, place, 0.0, size);
        let mut covered = Raster::new(size);
        for (triangle, _) in mesh.triangles.iter().zip(&view.signs).filter(|(_, sign)| **sign != 0) {
            view.parts(*triangle, |face, part| {
                middles_in(part, size, |row, from, to| covered.set(face, row, from, to));
            });
        }
        covered.count()
    }

    fn keep(&mut self, pairs: Vec<(u32, u32)>) {
        for (square, triangle) in pairs {
            if self.crossed.last().is_none_or(|(last, _)| *last != square) {
                self.crossed.push((square, u32::try_from(self.triangles.len()).unwrap_or(u32::MAX)));
            }
            self.triangles.push(triangle);
        }
    }

    /// The triangles seen in a crossed square.
    fn triangles_in(&self, square: Square) -> &[u32] {
        let index = u32::try_from(square.index()).unwrap_or(u32::MAX);
        let Ok(at) = self.crossed.binary_search_by_key(&index, |(n, _)| *n) else { return &[] };
        let from = self.crossed.get(at).map_or(0, |(_, from)| *from as usize);
        let to = self.crossed.get(at + 1).map_or(self.triangles.len(), |(_, from)| *from as usize);
        self.triangles.get(from..to).unwrap_or_default()
    }

    /// The triangles seen in any of some crossed squares, in order.
    fn triangles_of_all(&self, window: Window) -> Cow<'_, [u32]> {
        let mut squares = window.squares(self.squares.size());
        let first = squares.next().map_or(&[][..], |square| self.triangles_in(square));
        let mut more = squares.peekable();
        if more.peek().is_none() {
            return Cow::Borrowed(first);
        }
        let mut all: Vec<u32> = first.to_vec();
        all.extend(more.flat_map(|square| self.triangles_in(square)));
        all.sort_unstable();
        all.dedup();
        Cow::Owned(all)
    }

    /// Decides crossed squares whose crossing outlines hide behind other triangles, or only pass near.
    fn decide(&self, covered: &mut Raster, crossed: &mut Raster) {
        let size = crossed.size;
        for face in 0..FACES {
            for row in 0..size {
                let columns: Vec<usize> = crossed.set_in(face, row, 0, size - 1).collect();
                for column in columns {
                    let square = Square { face, size, row, column };
                    let cap = Cap::new(square.center(), square.radius_rad());
                    let state = self.part_of(self.triangles_in(square), &cap, cap.center);
                    if state != State::Mixed {
                        crossed.put(face, row, column, false);
                        covered.put(face, row, column, state == State::Inside);
                    }
                }
            }
        }
    }

    /// Whether a direction is hidden.
    #[must_use]
    pub fn hides(&self, d: &Direction) -> bool {
        let d = vector(d);
        let square = Square::of(d, self.squares.size());
        match self.squares.finest(square) {
            CROSSED => self.covers(self.triangles_in(square), d),
            state => state == HIDDEN,
        }
    }

    /// Whether all of a cell is hidden (`Inside`), none of it (`Outside`), what lies on a side of a circle, or some, not
    /// decided at this size.
    #[must_use]
    pub fn state_of(&self, cell: &Cell) -> State {
        let cap = Cap::new(vector(&cell.center), cell.radius_rad);
        let size = self.squares.size();
        if cap.radius_rad * (size as f64) < 4.0
            && let Some(window) = Window::about(cap.center, cap.sin, size)
        {
            return self.state_of_squares(window, &cap);
        }
        self.squares.state_of(&cap, |square| {
            if cap.radius_rad >= square.radius_rad() {
                return State::Mixed;
            }
            self.part_of(self.triangles_in(square), &cap, square.nearest_to(cap.center))
        })
    }

    /// The state of a small cap that lies in squares of the finest level.
    fn state_of_squares(&self, window: Window, cap: &Cap) -> State {
        let size = self.squares.size();
        let holds = |square: Square| self.squares.finest(square);
        if window.squares(size).all(|square| holds(square) == CROSSED && cap.radius_rad < square.radius_rad()) {
            return self.all_of(&self.triangles_of_all(window), cap);
        }
        let mut seen_or_hidden = 0;
        for square in window.squares(size) {
            seen_or_hidden |= match holds(square) {
                CROSSED if cap.radius_rad >= square.radius_rad() => return State::Mixed,
                CROSSED => match self.part_of(self.triangles_in(square), cap, square.nearest_to(cap.center)) {
                    State::Inside => HIDDEN,
                    State::Outside => SEEN,
                    _ => return State::Mixed,
                },
                state => state,
            };
            if seen_or_hidden == SEEN | HIDDEN {
                return State::Mixed;
            }
        }
        if seen_or_hidden == HIDDEN { State::Inside } else { State::Outside }
    }

    /// Where the nearest of what hides a direction is, in mm from the datum, and how far from the place.
    #[must_use]
    pub fn hidden_by(&self, d: &Direction) -> Option<(Point, f64)> {
        let toward = vector(d);
        let far = self.mesh.first_hit_mm(self.place, toward, self.housing_mm)?;
        Some(([0, 1, 2].map(|n| self.place[n] + far * toward[n]), far))
    }
}

fn vector(d: &Direction) -> Point {
    [d.forward(), d.right(), d.up()]
}

/// The middles a triangle covers that the housing cuts, and the squares the edge of the cut may cross; how many it took.
fn fill_cut(view: &View<'_>, triangle: u32, cut: Cut, covered: &mut Raster, crossed: &mut Raster) -> usize {
    let size = covered.size;
    let Some(corners) = view.mesh.triangles.get(triangle as usize) else { return 0 };
    let mut looked_at = 0;
    view.parts(*corners, |face, part| {
        touched_by(part, size, |row, from, to| {
            looked_at += to + 1 - from;
            for column in from..=to {
                let square = Square { face, size, row, column };
                // A cosine changes by no more than its angle.
                if (dot(square.center(), cut.normal) - cut.cos).abs() <= square.radius_rad() {
                    crossed.set(face, row, column, column);
                }
            }
        });
        middles_in(part, size, |row, from, to| {
            for column in from..=to {
                if dot(Square { face, size, row, column }.center(), cut.normal) <= cut.cos {
                    covered.set(face, row, column, column);
                }
            }
        });
    });
    looked_at
}

/// The middles that triangles clear of the housing cover, and each crossed square with each triangle seen in it, in one pass;
/// `None` where those are too many.
fn fill_and_list(view: &View<'_>, covered: &mut Raster, crossed: &Raster) -> Option<Vec<(u32, u32)>> {
    let size = crossed.size;
    let mut pairs = Vec::new();
    let whole = view.is_whole();
    for ((n, triangle), sign) in (0_u32..).zip(&view.mesh.triangles).zip(&view.signs) {
        let kind = if whole { Kind::Clear } else { view.kind(n) };
        if *sign == 0 || kind == Kind::Within {
            continue;
        }
        view.parts(*triangle, |face, part| {
            if kind == Kind::Clear {
                middles_in(part, size, |row, from, to| covered.set(face, row, from, to));
            }
            if !about(part, size).is_some_and(|squares| crossed.may_hold(face, squares)) {
                return;
            }
            touched_by(part, size, |row, from, to| {
                let index = |column| Square { face, size, row, column }.index();
                let squares = crossed.set_in(face, row, from, to).map(index);
                pairs.extend(squares.filter_map(|s| Some((u32::try_from(s).ok()?, n))));
            });
        });
        if pairs.len() > MOST_KEPT {
            return None;
        }
    }
    pairs.sort_unstable();
    pairs.dedup();
    let crowded = pairs.chunk_by(|a, b| a.0 == b.0).any(|square| square.len() > MOST_IN_A_SQUARE);
    (!crowded).then_some(pairs)
}
