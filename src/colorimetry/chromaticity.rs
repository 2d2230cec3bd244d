//! A point of the CIE 1931 chromaticity diagram.

use serde::{Deserialize, Serialize};
use std::fmt;

/// Chromaticity coordinates of the CIE 1931 2 degree observer (CIE 15, section 7.3), without unit.
///
/// ```
/// use lampwright::colorimetry::Chromaticity;
/// // CIE standard illuminant D65 as tabulated in CIE 15.
/// let d65 = Chromaticity { x: 0.3127, y: 0.3290 };
/// assert_eq!(d65.to_string(), "(0.3127, 0.3290)");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Chromaticity {
    /// x = X / (X + Y + Z).
    pub x: f64,
    /// y = Y / (X + Y + Z).
    pub y: f64,
}

impl Chromaticity {
    /// z = 1 - x - y.
    #[must_use]
    pub fn z(self) -> f64 {
        1.0 - self.x - self.y
    }
    /// Whether both coordinates are finite numbers.
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
    /// The straight-line distance to another point of the diagram.
    #[must_use]
    pub fn distance_to(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
    /// The chromaticity of tristimulus values; `None` unless their sum is positive and finite.
    #[must_use]
    pub fn of_tristimulus([x, y, z]: [f64; 3]) -> Option<Self> {
        let sum = x + y + z;
        (sum > 0.0 && sum.is_finite()).then(|| Self { x: x / sum, y: y / sum })
    }
    /// The CIE 1960 (u, v) coordinates: u = 4x / d, v = 6y / d, d = -2x + 12y + 3.
    #[must_use]
    pub fn uv_1960(self) -> [f64; 2] {
        let d = -2.0 * self.x + 12.0 * self.y + 3.0;
        [4.0 * self.x / d, 6.0 * self.y / d]
    }
    /// The chromaticity of CIE 1960 (u, v) coordinates; `None` where the formula has no finite value.
    #[must_use]
    pub fn of_uv_1960([u, v]: [f64; 2]) -> Option<Self> {
        let d = 2.0 * u - 8.0 * v + 4.0;
        let point = Self { x: 3.0 * u / d, y: 2.0 * v / d };
        point.is_finite().then_some(point)
    }
    /// The vector from another point to this one.
    pub(super) fn minus(self, other: Self) -> [f64; 2] {
        [self.x - other.x, self.y - other.y]
    }
}

impl fmt::Display for Chromaticity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "({:.4}, {:.4})", self.x, self.y)
    }
}

/// The cross product of two plane vectors: positive where `b` lies counterclockwise of `a`.
pub(super) fn cross(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

/// The dot product of two plane vectors.
pub(super) fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}
