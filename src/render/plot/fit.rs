//! Shapes in mm fitted into a drawing, and round numbers for ticks and bars.

/// What is farther from the datum than this, in mm, is no place on a model and is not drawn.
const FARTHEST_MM: f64 = 1e7;

/// Whether a point can be drawn.
pub(super) fn drawable(point: &[f64; 2]) -> bool {
    point.iter().all(|v| v.abs() < FARTHEST_MM)
}

/// Left, top, right and bottom of the points that can be drawn.
pub(super) fn bounds<'a>(points: impl IntoIterator<Item = &'a [f64; 2]>) -> Option<[f64; 4]> {
    points.into_iter().filter(|p| drawable(p)).fold(None, |found: Option<[f64; 4]>, &[x, y]| {
        let [l, t, r, b] = found.unwrap_or([x, y, x, y]);
        Some([l.min(x), t.min(y), r.max(x), b.max(y)])
    })
}

/// The scale at which a box fits; 1 for a box without extent.
pub(super) fn scale([l, t, r, b]: [f64; 4], wide: f64, high: f64) -> f64 {
    let scale = (wide / (r - l)).min(high / (b - t));
    if scale.is_finite() && scale > 0.0 { scale } else { 1.0 }
}

/// A scale, with the point that goes to a place of the drawing.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fit {
    /// Units of the drawing per mm.
    pub(super) scale: f64,
    /// The point.
    pub(super) from: [f64; 2],
    /// Where it goes.
    pub(super) to: [f64; 2],
}

impl Fit {
    /// Where a point is drawn.
    pub(super) fn at(self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.to[0] + (x - self.from[0]) * self.scale, self.to[1] + (y - self.from[1]) * self.scale]
    }
    /// Where what can be drawn of a ring is drawn.
    pub(super) fn ring(self, ring: &[[f64; 2]]) -> Vec<[f64; 2]> {
        ring.iter().filter(|p| drawable(p)).map(|p| self.at(*p)).collect()
    }
    /// Rings as one path.
    pub(super) fn rings(self, rings: &[Vec<[f64; 2]>]) -> String {
        // A line closed on itself would fill the gaps of its own dashes.
        rings.iter().map(|ring| super::style::path(&self.ring(ring), ring.len() > 2)).collect()
    }
}

/// The greatest of 1, 2, 5 times a power of ten that is not over a length; 1 where there is none.
pub(super) fn round_below(most: f64) -> f64 {
    let power = 10_f64.powf(most.log10().floor());
    let step = [5.0, 2.0, 1.0].map(|m| m * power).into_iter().find(|s| *s <= most * (1.0 + 1e-9));
    step.filter(|s| s.is_finite() && *s > 0.0).unwrap_or(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_numbers() {
        for (most, step) in [(1.0, 1.0), (4.9, 2.0), (5.0, 5.0), (99.0, 50.0), (0.03, 0.02), (1000.0, 1000.0)] {
            assert!((round_below(most) - step).abs() < 1e-9 * step, "{most}");
        }
        for odd in [0.0, -3.0, f64::NAN, f64::INFINITY] {
            assert_eq!(round_below(odd), 1.0);
        }
    }

    #[test]
    fn only_what_can_be_drawn_has_bounds() {
        let points = [[1.0, 2.0], [f64::NAN, 9.0], [3.0, f64::INFINITY], [-1.0, 5.0]];
        assert_eq!(bounds(&points), Some([-1.0, 2.0, 1.0, 5.0]));
        assert_eq!(bounds(&[]), None);
        assert_eq!(scale([2.0, 2.0, 2.0, 2.0], 100.0, 100.0), 1.0);
    }
}
