//! Closed intervals: every found figure is one, because few figures of a model are known exactly.

use serde::{Deserialize, Serialize};

/// A closed interval `[low, high]`; a value known exactly has `low == high`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Interval {
    /// The lowest value it may be.
    pub low: f64,
    /// The highest value it may be.
    pub high: f64,
}

impl Interval {
    /// Nothing at all, exactly.
    pub const ZERO: Self = Self { low: 0.0, high: 0.0 };

    /// The interval between two values, in either order.
    #[must_use]
    pub fn new(a: f64, b: f64) -> Self {
        Self { low: a.min(b), high: a.max(b) }
    }
    /// A value known exactly.
    #[must_use]
    pub fn exactly(value: f64) -> Self {
        Self { low: value, high: value }
    }
    /// Whether it is one value, not a range.
    #[must_use]
    pub fn is_exact(self) -> bool {
        self.low == self.high
    }
    /// How wide it is.
    #[must_use]
    pub fn width(self) -> f64 {
        self.high - self.low
    }
    /// The middle.
    #[must_use]
    pub fn middle(self) -> f64 {
        0.5 * (self.low + self.high)
    }
    /// The smallest interval holding both.
    #[must_use]
    pub fn hull(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }
    /// Whether the value lies in it, ends included.
    #[must_use]
    pub fn contains(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }
    /// The difference, whatever each may be.
    #[must_use]
    pub fn minus(self, other: Self) -> Self {
        Self { low: self.low - other.high, high: self.high - other.low }
    }
    /// The product with a plain number.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self::new(self.low * factor, self.high * factor)
    }
    /// Applies a function that only rises.
    #[must_use]
    pub fn rising(self, f: impl Fn(f64) -> f64) -> Self {
        Self { low: f(self.low), high: f(self.high) }
    }
    /// Applies a function that only falls.
    #[must_use]
    pub fn falling(self, f: impl Fn(f64) -> f64) -> Self {
        Self { low: f(self.high), high: f(self.low) }
    }
    /// The lower of the two, end by end.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.min(other.high) }
    }
    /// The higher of the two, end by end.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self { low: self.low.max(other.low), high: self.high.max(other.high) }
    }
}

impl std::ops::Add for Interval {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { low: self.low + other.low, high: self.high + other.high }
    }
}

impl std::ops::Mul for Interval {
    type Output = Self;
    /// The product; exact for ranges that do not straddle zero, wide enough for those that do.
    fn mul(self, other: Self) -> Self {
        let ends = [self.low * other.low, self.low * other.high, self.high * other.low, self.high * other.high];
        Self {
            low: ends.iter().copied().fold(f64::INFINITY, f64::min),
            high: ends.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn products_hold_every_product(a in -9.0..9.0_f64, b in -9.0..9.0_f64, c in -9.0..9.0_f64, d in -9.0..9.0_f64, s in 0.0..1.0_f64, t in 0.0..1.0_f64) {
            let (p, q) = (Interval::new(a, b), Interval::new(c, d));
            let x = p.low + s * p.width();
            let y = q.low + t * q.width();
            let product = p * q;
            prop_assert!(product.low <= x * y + 1e-9 && x * y <= product.high + 1e-9);
        }
    }
}
