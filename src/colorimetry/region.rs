//! A published colour: a list of inequalities that must all hold.

use super::{Chromaticity, Condition};

/// A region of the chromaticity diagram: the colours that meet every condition.
///
/// A region without conditions holds no colour, because nothing is known of it.
///
/// ```
/// use lampwright::colorimetry::{Region, monochromatic};
/// // Aviation red, 14 CFR 25.1397(a), begins at 609.69 nm.
/// let red = Region::new("red", vec!["y <= 0.335".parse()?, "z <= 0.002".parse()?]);
/// assert!(monochromatic(609.70).is_some_and(|c| red.contains(c)));
/// assert!(monochromatic(609.68).is_some_and(|c| !red.contains(c)));
/// # Ok::<(), lampwright::colorimetry::ConditionError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    name: String,
    conditions: Vec<Condition>,
}

/// How far inside a region a colour lies, and which condition says so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// The smallest signed distance over the conditions, in (x, y); negative outside.
    pub distance: f64,
    /// The index of that condition; of equals the first without y0.
    pub nearest: usize,
}

impl Region {
    /// A region of that name and those conditions.
    #[must_use]
    pub fn new(name: impl Into<String>, conditions: Vec<Condition>) -> Self {
        Self { name: name.into(), conditions }
    }
    /// The name it was given.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }
    /// The conditions, in the order given.
    #[must_use]
    pub fn conditions(&self) -> &[Condition] {
        &self.conditions
    }
    /// Whether a colour meets every condition, limits included.
    #[must_use]
    pub fn contains(&self, colour: Chromaticity) -> bool {
        !self.conditions.is_empty() && self.conditions.iter().all(|c| c.slack(colour) >= 0.0)
    }
    /// How far inside a colour lies: the smallest of [`Condition::distance`].
    ///
    /// Inside it never overstates the distance to the edge; outside it is the distance to the line
    /// failed most, and so never more than that to the region. Without conditions it is minus infinity.
    #[must_use]
    pub fn margin(&self, colour: Chromaticity) -> Margin {
        let mut margin = Margin { distance: f64::INFINITY, nearest: 0 };
        // Lines first: they often show that the search of a curve cannot matter.
        for curves in [false, true] {
            for (nearest, condition) in self.conditions.iter().enumerate().filter(|(_, c)| c.has_curve() == curves) {
                if let Some(distance) = condition.distance_below(colour, margin.distance) {
                    margin = Margin { distance, nearest };
                }
            }
        }
        if self.conditions.is_empty() { Margin { distance: f64::NEG_INFINITY, nearest: 0 } } else { margin }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_conditions_hold_nothing() {
        let none = Region::new("none", Vec::new());
        let c = Chromaticity { x: 0.3, y: 0.3 };
        assert!(!none.contains(c));
        assert_eq!(none.margin(c), Margin { distance: f64::NEG_INFINITY, nearest: 0 });
    }
}
