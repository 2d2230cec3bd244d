//! A colour region printed as corners, turned into inequalities.

use super::declared::{ColourDecl, CornerDecl};
use crate::colorimetry::Condition;
use crate::source::{Code, Sink};

/// The inequalities of a region given by its corners, one for each side; `None`, and said, where the sides cross, the
/// region is empty, or it is not convex, and where a corner is no colour or stands there twice.
pub(super) fn conditions(declared: &ColourDecl, sink: &mut Sink) -> Option<Vec<Condition>> {
    let corners: Vec<(f64, f64)> = declared.corners.iter().map(|c| (c.x.value.0, c.y.value.0)).collect();
    let at = declared.corners.first().map_or(&declared.cite.at, |c| &c.x.at);
    if corners.len() < 3 {
        sink.say(Code::WrongShape, at, "a region wants three corners at least", "add corners, in order round it");
        return None;
    }
    // Printed corners on the edge of the diagram are rounded.
    let outside = |c: &&CornerDecl| c.x.value.0 < 0.0 || c.y.value.0 < 0.0 || c.x.value.0 + c.y.value.0 > 1.01;
    if let Some(corner) = declared.corners.iter().find(outside) {
        let message = format!("no colour is at x = {}, y = {}", corner.x.value, corner.y.value);
        sink.say(
            Code::OutOfRange,
            &corner.x.at,
            message,
            "write x and y of CIE 1931, neither below 0, together up to 1",
        );
        return None;
    }
    let n = corners.len();
    let side = |k: usize| (corners[k % n], corners[(k + 1) % n]);
    if (0..n).any(|i| (i + 2..n).any(|j| (i, j) != (0, n - 1) && cross(side(i), side(j)))) {
        let message = "the sides of this region cross each other";
        sink.say(Code::Contradiction, at, message, "put the corners in order round the region");
        return None;
    }
    let area: f64 = (0..n).map(|k| turn((0.0, 0.0), side(k).0, side(k).1)).sum();
    if area.abs() < 1e-12 {
        sink.say(Code::Contradiction, at, "this region is empty: its corners lie on a line", "check the corners");
        return None;
    }
    let turns = |k: usize| turn(side(k).0, side(k).1, side(k + 1).1) * area.signum();
    if (0..n).any(|k| turns(k) < -1e-9) {
        let message = "this region is not convex";
        sink.say(
            Code::WrongShape,
            at,
            message,
            "write it as `conditions:`, with min() or max() at the corner that turns in",
        );
        return None;
    }
    let sides: Option<Vec<Condition>> = (0..n).map(|k| inside_of(side(k), area.signum())).collect();
    if sides.is_none() {
        sink.say(Code::Contradiction, at, "two corners of this region stand in one place", "keep one of the two");
    }
    sides
}

/// Twice the area of a triangle, positive where it turns left.
fn turn(a: (f64, f64), b: (f64, f64), c: (f64, f64)) -> f64 {
    (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
}

fn cross((a, b): ((f64, f64), (f64, f64)), (c, d): ((f64, f64), (f64, f64))) -> bool {
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

/// The side's inequality as a document would print it, from the equation of a line through two points.
fn inside_of((a, b): ((f64, f64), (f64, f64)), sign: f64) -> Option<Condition> {
    // Left of the side: (b - a) x (c - a) >= 0.
    let (x, y) = (-(b.1 - a.1) * sign, (b.0 - a.0) * sign);
    let constant = -(x * a.0 + y * a.1);
    // A minus zero, of an upright or a level side, is written with its minus once.
    let signed = |v: f64| if v.is_sign_negative() { format!("- {:.9}", -v) } else { format!("+ {v:.9}") };
    format!("{x:.9} x {} y {} >= 0", signed(y), signed(constant)).parse().ok()
}
