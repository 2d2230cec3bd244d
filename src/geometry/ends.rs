//! What the two ends of an interval can be over a cell of directions.

use crate::units::Interval;

/// The range of the low ends, and the range of the high ends, of an interval that depends on the direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ends {
    /// The lowest and the highest low end.
    pub low: Interval,
    /// The lowest and the highest high end.
    pub high: Interval,
}

impl Ends {
    /// The ends of an interval that is the same everywhere.
    #[must_use]
    pub fn of(interval: Interval) -> Self {
        Self { low: Interval::exactly(interval.low), high: Interval::exactly(interval.high) }
    }

    /// What holds both.
    #[must_use]
    pub fn hull(self, other: Self) -> Self {
        Self { low: self.low.hull(other.low), high: self.high.hull(other.high) }
    }

    /// The product with a plain number, 0 or more.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self { low: self.low.scaled(factor), high: self.high.scaled(factor) }
    }
}

impl std::ops::Add for Ends {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { low: self.low + other.low, high: self.high + other.high }
    }
}
