//! The outline of a region within the colours there are.

use super::{Chromaticity, Region, monochromatic};

/// Steps of the purple line, and of an edge that is no straight line.
const STEPS: usize = 32;
/// Halvings of a stretch where an edge crosses it: down to rounding.
const HALVINGS: usize = 50;

impl Region {
    /// Its outline in order, within the spectrum's colours and the purples between their ends; empty where it holds none.
    ///
    /// Corners between straight edges are exact; a curve is cut into 32 chords.
    ///
    /// # Example
    /// ```
    /// use lampwright::colorimetry::Region;
    /// // Aviation green, 14 CFR 25.1397(b): two of its lines meet at x = 0.2921, y = 0.4621.
    /// let text = ["x <= 0.440 - 0.320 y", "x <= y - 0.170", "y >= 0.390 - 0.170 x"];
    /// let green = Region::new("green", text.iter().map(|t| t.parse()).collect::<Result<_, _>>()?);
    /// assert!(green.outline().iter().any(|c| (c.x - 0.2921).abs() < 1e-4 && (c.y - 0.4621).abs() < 1e-4));
    /// # Ok::<(), lampwright::colorimetry::ConditionError>(())
    /// ```
    #[must_use]
    pub fn outline(&self) -> Vec<Chromaticity> {
        if self.conditions().is_empty() {
            return Vec::new();
        }
        self.conditions().iter().fold(all_colours(), |ring, condition| kept(&ring, &|c| condition.slack(c)))
    }
}

/// The spectrum from 380 to 700 nm and back along the purples.
fn all_colours() -> Vec<Chromaticity> {
    let mut ring: Vec<Chromaticity> = (380..=700).filter_map(|nm| monochromatic(f64::from(nm))).collect();
    if let (Some(violet), Some(red)) = (ring.first().copied(), ring.last().copied()) {
        ring.extend((1..STEPS).map(|k| between(red, violet, k as f64 / STEPS as f64)));
    }
    ring
}

fn between(a: Chromaticity, b: Chromaticity, t: f64) -> Chromaticity {
    Chromaticity { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t }
}

/// The part of a ring where a function is not below 0 (Sutherland and Hodgman 1974), the new edge following its zero.
fn kept(ring: &[Chromaticity], slack: &dyn Fn(Chromaticity) -> f64) -> Vec<Chromaticity> {
    let inside = |c: &Chromaticity| slack(*c) >= 0.0;
    let Some(first) = ring.iter().position(inside) else { return Vec::new() };
    let count = ring.len();
    let at = |n: usize| ring.get((first + n) % count.max(1)).copied();
    let mut out: Vec<Chromaticity> = Vec::new();
    let mut left_at: Option<Chromaticity> = None;
    for n in 0..count {
        let (Some(p), Some(q)) = (at(n), at(n + 1)) else { continue };
        if inside(&p) {
            out.push(p);
        }
        match (inside(&p), inside(&q)) {
            (true, false) => {
                let edge = crossing(p, q, slack);
                out.push(edge);
                left_at = Some(edge);
            }
            (false, true) => {
                let edge = crossing(q, p, slack);
                if let Some(left) = left_at.take() {
                    out.extend(along(left, edge, slack));
                }
                out.push(edge);
            }
            _ => {}
        }
    }
    out
}

/// Where a stretch from inside to outside leaves the region.
fn crossing(inside: Chromaticity, outside: Chromaticity, slack: &dyn Fn(Chromaticity) -> f64) -> Chromaticity {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if slack(between(inside, outside, middle)) >= 0.0 { low = middle } else { high = middle }
    }
    between(inside, outside, low)
}

/// Points of the zero of a function between two of them, where it is no straight line.
fn along(from: Chromaticity, to: Chromaticity, slack: &dyn Fn(Chromaticity) -> f64) -> Vec<Chromaticity> {
    const STRAIGHT: f64 = 1e-9;
    let normal = (-(to.y - from.y), to.x - from.x);
    let moved = |c: Chromaticity, by: f64| Chromaticity { x: c.x + by * normal.0, y: c.y + by * normal.1 };
    let chord = |k: usize| between(from, to, k as f64 / STEPS as f64);
    if (1..STEPS).all(|k| slack(chord(k)).abs() < STRAIGHT) {
        return Vec::new();
    }
    let zero = |k: usize| {
        let base = chord(k);
        let is_in = slack(base) >= 0.0;
        // The nearest change of sign to either side of the chord.
        let steps = (1..=40).flat_map(|n| [0.0125 * f64::from(n), -0.0125 * f64::from(n)]);
        let turned = steps.into_iter().find(|by| (slack(moved(base, *by)) >= 0.0) != is_in)?;
        let (inside, outside) = if is_in { (base, moved(base, turned)) } else { (moved(base, turned), base) };
        Some(crossing(inside, outside, slack))
    };
    (1..STEPS).filter_map(zero).collect()
}
