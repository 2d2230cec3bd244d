//! One published inequality between x, y, z and y0, and the distance to its boundary.

use super::planck::{planckian_y0, y0_range};
use super::{Chromaticity, ConditionError, parse};
use std::fmt;
use std::str::FromStr;

/// An inequality that limits a colour, as published: `x <= 0.440 - 0.320 y`.
///
/// Variables are x, y, z (= 1 - x - y) and y0 (y of the Planckian radiator having that x). Both
/// sides are linear; one side may be a `min(..., ...)` or a `max(..., ...)` of linear terms.
///
/// ```
/// use lampwright::colorimetry::{Chromaticity, Condition};
/// // z <= 0.002 is the line x + y = 0.998, so its residual is the square root of 2 times the distance.
/// let condition: Condition = "z <= 0.002".parse()?;
/// let c = Chromaticity { x: 0.7, y: 0.3 };
/// assert!((condition.slack(c) - 0.002).abs() < 1e-12);
/// assert!((condition.distance(c) - 0.002 / 2.0_f64.sqrt()).abs() < 1e-12);
/// # Ok::<(), lampwright::colorimetry::ConditionError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Condition {
    pub(super) text: String,
    pub(super) join: Join,
    pub(super) terms: Vec<Linear>,
}

/// How the alternatives of a `min` or `max` combine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Join {
    /// All must hold, as in `y <= min(a, b)`.
    All,
    /// One is enough, as in `y >= min(a, b)`.
    Any,
}

impl Join {
    /// What two alternatives come to.
    fn of(self, a: f64, b: f64) -> f64 {
        match self {
            Self::All => a.min(b),
            Self::Any => a.max(b),
        }
    }
}

/// x, y, y0 and a constant, added up: not negative where the term is satisfied. z has been replaced by 1 - x - y.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Linear {
    pub x: f64,
    pub y: f64,
    pub y0: f64,
    pub constant: f64,
}

impl Condition {
    /// The residual of the inequality as published, positive where it holds with room to spare.
    ///
    /// It is the larger side less the smaller one; the best of the alternatives of an "or"
    /// (`>= min`, `<= max`), the worst of those of an "and". Where y0 does not exist, or the colour
    /// is not finite, an alternative counts as minus infinity.
    #[must_use]
    pub fn slack(&self, colour: Chromaticity) -> f64 {
        self.terms.iter().map(|term| term.slack(colour)).reduce(|a, b| self.join.of(a, b)).unwrap_or(f64::NEG_INFINITY)
    }
    /// The signed distance in (x, y) to the boundary, positive inside.
    ///
    /// Perpendicular to a line, to the nearest point of a curve where y0 is used. Alternatives
    /// combine as in [`Condition::slack`], whose sign it has: where y0 does not exist the
    /// alternative counts as failed by the distance to the end of the curve. A colour that is not
    /// finite is at minus infinity.
    #[must_use]
    pub fn distance(&self, colour: Chromaticity) -> f64 {
        self.distance_below(colour, f64::INFINITY).unwrap_or(f64::NEG_INFINITY)
    }
    /// The distance where it is less than a limit; `None` where it is known not to be.
    ///
    /// A curve is only searched where its distance can decide, because that takes most of the time.
    pub(super) fn distance_below(&self, colour: Chromaticity, limit: f64) -> Option<f64> {
        let lines = self.terms.iter().filter(|t| !t.has_curve());
        let curves = self.terms.iter().filter(|t| t.has_curve());
        let mut joined = None;
        for term in lines.chain(curves) {
            if !(term.has_curve() && self.is_decided(joined, term.bounds(colour), limit)) {
                let distance = term.distance(colour);
                joined = Some(joined.map_or(distance, |d| self.join.of(d, distance)));
            }
        }
        joined.filter(|d| *d < limit)
    }
    /// Whether a term with these bounds cannot change the distance, or cannot bring it below the limit.
    fn is_decided(&self, joined: Option<f64>, (low, high): (f64, f64), limit: f64) -> bool {
        match (self.join, joined) {
            (Join::Any, Some(d)) => d >= high || d >= limit,
            (Join::All, Some(d)) => d <= low || low >= limit,
            (Join::All, None) => low >= limit,
            (Join::Any, None) => false,
        }
    }
    /// Whether y0 is used in it.
    pub(super) fn has_curve(&self) -> bool {
        self.terms.iter().any(Linear::has_curve)
    }
}

impl FromStr for Condition {
    type Err = ConditionError;
    fn from_str(text: &str) -> Result<Self, ConditionError> {
        parse::condition(text)
    }
}

impl fmt::Display for Condition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// The step in x between the points of a curve looked at before the best of them is refined: the locus bends by
/// less than that over a step.
const SCAN_STEP: f64 = 0.02;
/// The most steps, enough for the whole locus.
const SCAN_MOST: f64 = 24.0;
/// Golden-section steps: each leaves 0.618 of the bracket.
const GOLDEN_STEPS: u32 = 14;

impl Linear {
    /// The length of the gradient in (x, y), y0 held.
    pub fn gradient(self) -> f64 {
        self.x.hypot(self.y)
    }
    fn has_curve(&self) -> bool {
        self.y0 != 0.0
    }
    fn slack(&self, c: Chromaticity) -> f64 {
        let planck = if self.has_curve() { planckian_y0(c.x) } else { Some(0.0) };
        let value = planck.map(|y0| self.x * c.x + self.y * c.y + self.y0 * y0 + self.constant);
        value.filter(|v| v.is_finite()).unwrap_or(f64::NEG_INFINITY)
    }
    fn distance(&self, c: Chromaticity) -> f64 {
        let slack = self.slack(c);
        if !c.is_finite() || slack == 0.0 {
            return if slack == 0.0 { 0.0 } else { f64::NEG_INFINITY };
        }
        if !self.has_curve() {
            return slack / self.gradient();
        }
        // An infinite slack means that y0 does not exist at this x.
        let gap = (slack / self.y).abs();
        self.to_curve(c, gap).map_or(f64::NEG_INFINITY, |d| d.copysign(slack))
    }
    /// Limits of the distance to a curve: the point vertically below or above is on it, so it is no further off.
    fn bounds(&self, c: Chromaticity) -> (f64, f64) {
        let gap = self.slack(c) / self.y.abs();
        (gap.min(0.0), gap.max(0.0))
    }
    /// The boundary y of a term with y0, at an x.
    fn boundary_y(&self, x: f64) -> Option<f64> {
        Some(-(self.x * x + self.y0 * planckian_y0(x)? + self.constant) / self.y)
    }
    /// The distance to the curve, looked for within `reach` in x and never more than `reach`.
    fn to_curve(self, c: Chromaticity, reach: f64) -> Option<f64> {
        let (first, last) = y0_range()?;
        let (low, high) = ((c.x - reach).max(first), (c.x + reach).min(last));
        let square = |x: f64| self.boundary_y(x).map_or(f64::INFINITY, |y| (x - c.x).powi(2) + (y - c.y).powi(2));
        let count = ((high - low) / SCAN_STEP).ceil().clamp(4.0, SCAN_MOST);
        let step = (high - low) / count;
        let scanned = (0..=count as u32).map(|i| (low + step * f64::from(i)).min(high));
        let (near, first) = scanned.map(|x| (x, square(x))).min_by(|a, b| a.1.total_cmp(&b.1))?;
        let refined = golden(square, (near - step).max(low), (near + step).min(high));
        let nearest = refined.min(first).sqrt().min(reach);
        // Zero would lose the sign of a slack that is not.
        nearest.is_finite().then_some(nearest.max(f64::MIN_POSITIVE))
    }
}

/// The least value of a function with one minimum between `low` and `high`.
fn golden(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let share = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut a, mut b) = (high - share * (high - low), low + share * (high - low));
    let (mut fa, mut fb) = (f(a), f(b));
    for _ in 0..GOLDEN_STEPS {
        if fa < fb {
            (high, b, fb) = (b, a, fa);
            a = high - share * (high - low);
            fa = f(a);
        } else {
            (low, a, fa) = (a, b, fb);
            b = low + share * (high - low);
            fb = f(b);
        }
    }
    fa.min(fb)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn condition(text: &str) -> Condition {
        text.parse().expect(text)
    }

    #[test]
    fn an_or_takes_the_better_and_an_and_the_worse() {
        let c = Chromaticity { x: 0.3, y: 0.5 };
        assert!((condition("y >= min(0.4, 0.7)").distance(c) - 0.1).abs() < 1e-12);
        assert!((condition("y >= max(0.4, 0.7)").distance(c) + 0.2).abs() < 1e-12);
        assert!((condition("y <= min(0.4, 0.7)").distance(c) + 0.1).abs() < 1e-12);
        assert!((condition("max(0.4, 0.7) >= y").distance(c) - 0.2).abs() < 1e-12);
    }

    #[test]
    fn without_y0_only_another_alternative_can_satisfy() {
        let c = Chromaticity { x: 0.70, y: 0.29 };
        assert!(condition("y >= y0 - 0.010").distance(c) < 0.0);
        assert_eq!(condition("y <= y0 - 0.010").slack(c), f64::NEG_INFINITY);
        assert!(condition("y >= min(x - 0.5, y0)").distance(c) > 0.0);
        assert!(condition("y <= min(x, y0)").distance(c) < 0.0);
    }

    #[test]
    fn a_colour_that_is_no_number_is_nowhere() {
        for c in [Chromaticity { x: f64::NAN, y: 0.3 }, Chromaticity { x: 0.3, y: f64::INFINITY }] {
            for text in ["x <= 0.5", "y <= y0", "y >= 0.1"] {
                assert_eq!(condition(text).distance(c), f64::NEG_INFINITY, "{text}");
            }
        }
    }
}
