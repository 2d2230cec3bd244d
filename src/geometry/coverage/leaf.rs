//! What triangles cover of a small part of the sphere, exactly: by sheets of triangles that go on across their shared edges.

use super::view::cut_of;
use super::{Coverage, State};
use crate::geometry::Side;
use crate::geometry::mesh::{Point, cross, dot, length, minus, scaled};

/// Directions within an angle of one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cap {
    pub center: Point,
    pub radius_rad: f64,
    pub sin: f64,
}

impl Cap {
    pub fn new(center: Point, radius_rad: f64) -> Self {
        let sin = if radius_rad >= std::f64::consts::FRAC_PI_2 { 1.0 } else { radius_rad.sin() };
        Self { center, radius_rad, sin }
    }
}

/// A triangle that may cover some of a cap.
struct Touch {
    triangle: u32,
    covers_seed: bool,
    /// Whether an edge at which coverage may end passes through the cap.
    open: bool,
    /// The triangles it goes on in, across edges that may pass through the cap.
    goes_on_in: [Option<u32>; 3],
}

enum Reach {
    Misses,
    Whole,
    Part(Touch),
}

/// A direction on an edge counts as covered on both its sides: rounding.
const ON_EDGE: f64 = 1e-12;

impl Coverage {
    /// Whether triangles, in order of their numbers, cover all of the part of a cap in the squares they are all of, or none of
    /// it; the seed is a point of that part.
    ///
    /// A sheet, triangles joined across edges at which coverage goes on, covers all of the part if it covers one point of it
    /// and no edge of the sheet at which coverage ends passes through.
    pub(super) fn part_of(&self, triangles: &[u32], cap: &Cap, seed: Point) -> State {
        let mut touching: Vec<Touch> = Vec::new();
        for triangle in triangles {
            match self.reach(*triangle, cap, seed) {
                Reach::Misses => {}
                Reach::Whole => return State::Inside,
                Reach::Part(touch) => touching.push(touch),
            }
        }
        if touching.is_empty() {
            return State::Outside;
        }
        if sheet_covers(&touching) { State::Inside } else { State::Mixed }
    }

    /// How near, along the middle of a cap, the nearest sheet is that covers all of it, in mm; infinite with none.
    pub(super) fn cover_mm(&self, triangles: &[u32], cap: &Cap) -> f64 {
        let mut touching: Vec<Touch> = Vec::new();
        let mut nearest = f64::INFINITY;
        for triangle in triangles {
            match self.reach(*triangle, cap, cap.center) {
                Reach::Misses => {}
                Reach::Whole => nearest = nearest.min(self.met_at_mm(*triangle, cap.center)),
                Reach::Part(touch) => touching.push(touch),
            }
        }
        closed_sheets(&touching).map(|triangle| self.met_at_mm(triangle, cap.center)).fold(nearest, f64::min)
    }

    /// How far along a direction the plane of a triangle is met, in mm.
    fn met_at_mm(&self, triangle: u32, d: Point) -> f64 {
        let [a, b, c] = self.mesh.seen_from(triangle, self.place);
        let normal = cross(minus(b, a), minus(c, a));
        (dot(normal, a) / dot(normal, d)).abs()
    }

    /// The same of a cap all of which lies in the squares: where coverage may end along just one circle there, it is one thing
    /// on one side of it and one thing on the other, and a direction on each side tells which.
    pub(super) fn all_of(&self, triangles: &[u32], cap: &Cap) -> State {
        let state = self.part_of(triangles, cap, cap.center);
        let Some(side) = self.only_end(triangles, cap).filter(|_| state == State::Mixed) else { return state };
        let along = dot(side.axis, cap.center);
        let off = angle(side.at_least) - angle(along);
        let aside = minus(side.axis, scaled(cap.center, along));
        // A circle that may lie within the cap has no two sides there.
        if angle(side.at_least) < 4.0 * cap.radius_rad || length(aside) < 1e-9 {
            return State::Mixed;
        }
        let aside = scaled(aside, 1.0 / length(aside));
        // Halfway between the circle and the rim of the cap.
        let covered_at = |angle: f64| {
            let (sin, cos) = angle.sin_cos();
            let (c, t) = (scaled(cap.center, cos), scaled(aside, sin));
            self.covers(triangles, [c[0] + t[0], c[1] + t[1], c[2] + t[2]])
        };
        match (covered_at(0.5 * (cap.radius_rad - off)), covered_at(-0.5 * (cap.radius_rad + off))) {
            (true, true) => State::Inside,
            (false, false) => State::Outside,
            (true, false) => State::Beyond(side),
            (false, true) => State::Beyond(side.opposite()),
        }
    }

    /// The only circle along which coverage may end in a cap: that of an outline edge, or of a housing's cut; `None` with
    /// none or several.
    fn only_end(&self, triangles: &[u32], cap: &Cap) -> Option<Side> {
        let mut only: Option<Side> = None;
        let mut is_only = |side: Side| match only {
            Some(other) => is_one(&side, &other) || is_one(&side.opposite(), &other),
            None => {
                only = Some(side);
                true
            }
        };
        for triangle in triangles {
            let Reach::Part(touch) = self.reach(*triangle, cap, cap.center) else { continue };
            if !touch.open {
                continue;
            }
            let cut = cut_of(&self.cuts, *triangle)
                .filter(|cut| angle(dot(cut.normal, cap.center)) - cap.radius_rad < angle(cut.cos));
            if !cut.is_none_or(|cut| is_only(Side { axis: cut.normal, at_least: cut.cos })) {
                return None;
            }
            let edges = self.mesh.edges_of.get(*triangle as usize)?;
            for (edge, axis) in edges.iter().zip(self.planes(*triangle)) {
                let ends = self.outline.get(*edge as usize).copied().unwrap_or(true);
                if ends && dot(axis, cap.center) <= cap.sin && !is_only(Side { axis, at_least: 0.0 }) {
                    return None;
                }
            }
        }
        only
    }

    /// Whether one of some triangles covers a direction.
    pub(super) fn covers(&self, triangles: &[u32], d: Point) -> bool {
        triangles.iter().any(|triangle| {
            let inside = self.planes(*triangle).iter().all(|plane| dot(*plane, d) >= -ON_EDGE);
            inside && cut_of(&self.cuts, *triangle).is_none_or(|cut| dot(cut.normal, d) <= cut.cos)
        })
    }

    /// The unit normals of the planes through the place and each edge of a triangle, inwards.
    fn planes(&self, triangle: u32) -> [Point; 3] {
        let [a, b, c] = self.mesh.seen_from(triangle, self.place);
        let sign = f64::from(self.signs.get(triangle as usize).copied().unwrap_or(1));
        [(a, b), (b, c), (c, a)].map(|(p, q)| {
            let normal = cross(p, q);
            scaled(normal, sign / length(normal))
        })
    }

    fn reach(&self, triangle: u32, cap: &Cap, seed: Point) -> Reach {
        let planes = self.planes(triangle);
        let inward = planes.map(|plane| dot(plane, cap.center));
        if inward.iter().any(|d| *d < -cap.sin) {
            return Reach::Misses;
        }
        let mut covers_seed = planes.iter().all(|plane| dot(*plane, seed) >= -ON_EDGE);
        let mut open = false;
        if let Some(cut) = cut_of(&self.cuts, triangle) {
            let (off, from) = (angle(dot(cut.normal, cap.center)), angle(cut.cos));
            if off + cap.radius_rad < from {
                return Reach::Misses;
            }
            open = off - cap.radius_rad < from;
            covers_seed &= dot(cut.normal, seed) <= cut.cos;
        }
        if !open && inward.iter().all(|d| *d > cap.sin) {
            return Reach::Whole;
        }
        let mut goes_on_in = [None; 3];
        let edges = self.mesh.edges_of.get(triangle as usize).copied().unwrap_or_default();
        for ((edge, inward), next) in edges.iter().zip(inward).zip(&mut goes_on_in) {
            if inward <= cap.sin {
                if self.outline.get(*edge as usize).copied().unwrap_or(true) {
                    open = true;
                } else {
                    *next = self.mesh.edges.get(*edge as usize).and_then(|edge| edge.across(triangle));
                }
            }
        }
        Reach::Part(Touch { triangle, covers_seed, open, goes_on_in })
    }
}

/// Whether some sheet of triangles covers the seed and ends nowhere. The triangles stand in order of their numbers.
fn sheet_covers(touching: &[Touch]) -> bool {
    closed_sheets(touching).next().is_some()
}

/// The triangles of such sheets that cover the seed.
fn closed_sheets(touching: &[Touch]) -> impl Iterator<Item = u32> {
    // A sheet is as open as any of its triangles: mostly there is none to look for.
    let may_be = touching.iter().any(|touch| touch.covers_seed && !touch.open);
    let touching = if may_be { touching } else { &[] };
    let mut sheet: Vec<usize> = (0..touching.len()).collect();
    for (n, touch) in touching.iter().enumerate() {
        for next in touch.goes_on_in.iter().flatten() {
            if let Ok(other) = touching.binary_search_by_key(next, |t| t.triangle) {
                let (a, b) = (root(&mut sheet, n), root(&mut sheet, other));
                sheet[a] = b;
            }
        }
    }
    let mut open = vec![false; touching.len()];
    for (n, touch) in touching.iter().enumerate() {
        open[root(&mut sheet, n)] |= touch.open;
    }
    let covers = touching.iter().enumerate().filter(move |(n, touch)| touch.covers_seed && !open[root(&mut sheet, *n)]);
    covers.map(|(_, touch)| touch.triangle)
}

fn root(sheet: &mut [usize], mut n: usize) -> usize {
    while let Some(up) = sheet.get(n).copied().filter(|up| *up != n) {
        let over = sheet.get(up).copied().unwrap_or(up);
        sheet[n] = over;
        n = over;
    }
    n
}

fn angle(cos: f64) -> f64 {
    cos.clamp(-1.0, 1.0).acos()
}

/// Whether two sides are one but for rounding: the sliver between them is under any tolerance.
fn is_one(a: &Side, b: &Side) -> bool {
    const ROUNDING: f64 = 1e-10;
    (a.at_least - b.at_least).abs() < ROUNDING && length(minus(a.axis, b.axis)) < ROUNDING
}
