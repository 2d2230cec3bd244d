//! Shapes in mm fitted into a drawing, and round numbers for ticks and bars.

/// What is farther from the datum than this, in mm, is no place on a model and is not drawn.
const FARTHEST_MM: f64 = 1e7;

/// No outline is drawn with more points.
const MOST_POINTS: usize = 4000;

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

/// Rings of no more points than can be drawn lightly: the smallest are left out, and one that is too long alone is thinned.
pub(super) fn few(rings: &[Vec<[f64; 2]>]) -> Vec<Vec<[f64; 2]>> {
    let mut largest: Vec<usize> = (0..rings.len()).collect();
    largest.sort_by(|a, b| extent(&rings[*b]).total_cmp(&extent(&rings[*a])));
    let mut left = MOST_POINTS;
    let fits = |n: &usize| {
        left = left.checked_sub(rings[*n].len())?;
        Some(*n)
    };
    let mut kept: Vec<usize> = largest.iter().map_while(fits).collect();
    if let (true, Some(first)) = (kept.is_empty(), largest.first()) {
        let every = rings[*first].len().div_ceil(MOST_POINTS);
        return vec![rings[*first].iter().step_by(every).copied().collect()];
    }
    kept.sort_unstable();
    kept.into_iter().map(|n| rings[n].clone()).collect()
}

/// How far a ring reaches from corner to corner.
fn extent(ring: &[[f64; 2]]) -> f64 {
    bounds(ring).map_or(0.0, |[l, t, r, b]| (r - l).hypot(b - t))
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
    fn the_smallest_rings_go_first_and_a_long_one_is_thinned() {
        let ring = |size: f64, points: usize| vec![[size, size]; points - 1].into_iter().chain([[0.0, 0.0]]).collect();
        let given: Vec<Vec<[f64; 2]>> = vec![ring(1.0, 1000), ring(9.0, 3000), ring(5.0, 1000)];
        assert_eq!(few(&given), [given[1].clone(), given[2].clone()]);
        assert_eq!(few(&given[..1]), given[..1]);
        let long = few(&[ring(1.0, 9000)]);
        assert!(long.len() == 1 && long[0].len() <= 4000 && long[0].len() > 2000);
        assert!(few(&[]).is_empty());
    }

    #[test]
    fn only_what_can_be_drawn_has_bounds() {
        let points = [[1.0, 2.0], [f64::NAN, 9.0], [3.0, f64::INFINITY], [-1.0, 5.0]];
        assert_eq!(bounds(&points), Some([-1.0, 2.0, 1.0, 5.0]));
        assert_eq!(bounds(&[]), None);
        assert_eq!(scale([2.0, 2.0, 2.0, 2.0], 100.0, 100.0), 1.0);
    }
}
