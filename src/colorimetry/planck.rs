//! The Planckian locus: chromaticity of black bodies, and y as a function of x.

use super::Chromaticity;
use super::cie1931::rows;
use std::sync::LazyLock;

/// Second radiation constant h c / k in nm K (CODATA 2018, exact since the 2019 SI; 1.438776877e-2 m K).
const C2_NM_K: f64 = 1.438_776_877e7;
/// The range of temperatures computed with, in kelvin.
const KELVIN: std::ops::RangeInclusive<f64> = 500.0..=1e6;

/// The chromaticity of a Planckian radiator of a temperature in kelvin.
///
/// Planck's law with c2 = 1.438776877e-2 m K, summed over the 1 nm table (CIE 15, section 3.1).
/// `None` outside 500 K to 1 000 000 K.
///
/// ```
/// // 3000 K: (0.43693, 0.40407) by colour-science 0.4.7 and luxpy 1.12.5.
/// let warm = lampwright::colorimetry::planckian(3000.0).expect("in range");
/// assert!((warm.x - 0.43693).abs() < 1e-5 && (warm.y - 0.40407).abs() < 1e-5);
/// ```
#[must_use]
pub fn planckian(kelvin: f64) -> Option<Chromaticity> {
    locus(kelvin).map(|l| l.point)
}

/// A point of the Planckian locus and the direction the locus takes there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Locus {
    /// The chromaticity.
    pub point: Chromaticity,
    /// d(x, y) / d(mired), towards lower temperature.
    pub tangent: [f64; 2],
}

/// The point of the locus at a temperature, with its exact derivative.
pub(super) fn locus(kelvin: f64) -> Option<Locus> {
    if !KELVIN.contains(&kelvin) {
        return None;
    }
    let mut sum = [0.0; 3];
    let mut slope = [0.0; 3];
    for row in rows() {
        let exponent = C2_NM_K / (row.nm * kelvin);
        let growth = exponent.exp_m1();
        // Wavelengths in units of 560 nm keep the fifth power near one.
        let power = (560.0 / row.nm).powi(5) / growth;
        // d/d(mired) of 1 / (e^a - 1), with a proportional to the mired value.
        let change = -power * exponent * ((growth + 1.0) / growth);
        for ((total, rate), value) in sum.iter_mut().zip(&mut slope).zip(row.xyz) {
            *total += power * value;
            *rate += change * value;
        }
    }
    let point = Chromaticity::of_tristimulus(sum)?;
    let total: f64 = sum.iter().sum();
    let rate: f64 = slope.iter().sum();
    let per_mired = kelvin / 1e6 / total;
    let tangent = [(slope[0] - point.x * rate) * per_mired, (slope[1] - point.y * rate) * per_mired];
    Some(Locus { point, tangent })
}

/// A node of the table of y over x.
#[derive(Debug, Clone, Copy)]
struct Node {
    x: f64,
    y: f64,
    dy_dx: f64,
}

/// Nodes from 40 000 K to 1000 K, 9.75 mired apart; they ascend in x.
static NODES: LazyLock<Vec<Node>> = LazyLock::new(|| {
    let node = |l: Locus| Node { x: l.point.x, y: l.point.y, dy_dx: l.tangent[1] / l.tangent[0] };
    (0..=100).filter_map(|i| locus(1e6 / (25.0 + 9.75 * f64::from(i)))).map(node).collect()
});

/// The range of x in which [`planckian_y0`] is defined: 40 000 K to 1000 K.
pub(super) fn y0_range() -> Option<(f64, f64)> {
    Some((NODES.first()?.x, NODES.last()?.x))
}

/// y of the Planckian radiator that has this x: the y0 (or yc) of published white limits.
///
/// By cubic Hermite interpolation with exact slopes, within 2e-6. It is the same curve whatever
/// value c2 has. `None` for x outside that of 40 000 K (0.2489) to 1000 K (0.6527).
///
/// ```
/// // x = 0.440 at 2957 K: y0 = 0.405104, computed with scipy's brentq on Planck's law.
/// let y0 = lampwright::colorimetry::planckian_y0(0.440).expect("on the locus");
/// assert!((y0 - 0.405104).abs() < 2e-6);
/// ```
#[must_use]
pub fn planckian_y0(x: f64) -> Option<f64> {
    let after = NODES.partition_point(|n| n.x < x);
    let right = NODES.get(after)?;
    if right.x == x {
        return Some(right.y);
    }
    let left = NODES.get(after.checked_sub(1)?)?;
    let width = right.x - left.x;
    let t = (x - left.x) / width;
    let s = 1.0 - t;
    let y = s * s * ((1.0 + 2.0 * t) * left.y + t * width * left.dy_dx)
        + t * t * ((1.0 + 2.0 * s) * right.y - s * width * right.dy_dx);
    y.is_finite().then_some(y)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_agrees_with_the_sum() {
        let mut mired = 25.0;
        while mired < 1000.0 {
            let exact = planckian(1e6 / mired).expect("in range");
            let y0 = planckian_y0(exact.x).expect("in the table");
            assert!((y0 - exact.y).abs() < 5e-7, "{mired} {y0} {}", exact.y);
            mired += 0.77;
        }
    }

    #[test]
    fn the_tangent_is_the_derivative() {
        let l = locus(3000.0).expect("in range");
        let mired = 1e6 / 3000.0;
        let (a, b) = (planckian(1e6 / (mired - 0.01)).expect("ok"), planckian(1e6 / (mired + 0.01)).expect("ok"));
        assert!(((b.x - a.x) / 0.02 - l.tangent[0]).abs() < 1e-9);
        assert!(((b.y - a.y) / 0.02 - l.tangent[1]).abs() < 1e-9);
    }

    #[test]
    fn outside_there_is_nothing() {
        for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 0.2, 0.7] {
            assert!(planckian_y0(bad).is_none() && planckian(bad).is_none(), "{bad}");
        }
    }
}
