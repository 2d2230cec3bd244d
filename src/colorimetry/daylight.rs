//! Whites: the CIE daylight locus, and points beside the Planckian locus.

use super::Chromaticity;
use super::chromaticity::dot;
use super::planck::locus;

/// The lowest temperature of the daylight locus, in kelvin.
pub(super) const DAYLIGHT_FROM_K: f64 = 4000.0;
/// The highest temperature of the daylight locus, in kelvin.
const DAYLIGHT_TO_K: f64 = 25_000.0;

/// The chromaticity of a phase of CIE daylight of a correlated colour temperature in kelvin.
///
/// CIE 15, section 3.1 (D illuminants): a cubic in 1/T for x and a parabola for y. `None` outside 4000 K to
/// 25 000 K. The nominal "D65" has 6504 K, because c2 was 1.4380e-2 m K when it was defined.
///
/// ```
/// // CIE 15 tabulates D65 as (0.3127, 0.3290).
/// use lampwright::colorimetry::{ILLUMINANT_D65, daylight};
/// assert!(daylight(6504.0).expect("in range").distance_to(ILLUMINANT_D65) < 2e-4);
/// ```
#[must_use]
pub fn daylight(kelvin: f64) -> Option<Chromaticity> {
    if !(DAYLIGHT_FROM_K..=DAYLIGHT_TO_K).contains(&kelvin) {
        return None;
    }
    let t = 1e3 / kelvin;
    let x = if kelvin <= 7000.0 {
        ((-4.6070 * t + 2.9678) * t + 0.09911) * t + 0.244063
    } else {
        ((-2.0064 * t + 1.9018) * t + 0.24748) * t + 0.237040
    };
    Some(Chromaticity { x, y: (-3.0 * x + 2.870) * x - 0.275 })
}

/// The chromaticity at a colour temperature in kelvin and a distance Duv from the Planckian locus.
///
/// Duv is measured in CIE 1960 (u, v), perpendicular to the locus, positive above it (towards
/// green; ANSI C78.377, Ohno 2014). `None` outside 500 K to 1 000 000 K or 0.1 either side.
///
/// ```
/// // 4000 K, Duv +0.01: (0.3877, 0.4036) by CCT_to_uv_Ohno2013 of colour-science 0.4.7.
/// let greenish = lampwright::colorimetry::white(4000.0, 0.01).expect("in range");
/// assert_eq!(greenish.to_string(), "(0.3877, 0.4036)");
/// ```
#[must_use]
pub fn white(kelvin: f64, duv: f64) -> Option<Chromaticity> {
    Perpendicular::at(kelvin)?.point(duv)
}

/// The line through a point of the Planckian locus at right angles to it, in CIE 1960 (u, v).
#[derive(Debug, Clone, Copy)]
pub(super) struct Perpendicular {
    foot: [f64; 2],
    normal: [f64; 2],
}

impl Perpendicular {
    /// The line at a temperature in kelvin.
    pub fn at(kelvin: f64) -> Option<Self> {
        let l = locus(kelvin)?;
        let [u, v] = l.point.uv_1960();
        let [dx, dy] = l.tangent;
        // The derivative of u = 4x / d and v = 6y / d with d = -2x + 12y + 3.
        let d = -2.0 * l.point.x + 12.0 * l.point.y + 3.0;
        let dd = -2.0 * dx + 12.0 * dy;
        let (du, dv) = ((4.0 * dx - u * dd) / d, (6.0 * dy - v * dd) / d);
        let length = du.hypot(dv);
        // u rises with the mired value, so this normal points to larger v.
        (length > 0.0).then(|| Self { foot: [u, v], normal: [-dv / length, du / length] })
    }
    /// The point at a Duv.
    pub fn point(self, duv: f64) -> Option<Chromaticity> {
        if !(-0.1..=0.1).contains(&duv) {
            return None;
        }
        Chromaticity::of_uv_1960([self.foot[0] + duv * self.normal[0], self.foot[1] + duv * self.normal[1]])
    }
    /// How far above the locus a point lies, measured along this line.
    fn height(self, point: Chromaticity) -> f64 {
        let [u, v] = point.uv_1960();
        dot([u - self.foot[0], v - self.foot[1]], self.normal)
    }
}

/// Duv of the daylight locus at a temperature: zero below 4000 K, that of 25 000 K above.
pub(super) fn daylight_duv(kelvin: f64) -> f64 {
    let kelvin = if kelvin > DAYLIGHT_TO_K { DAYLIGHT_TO_K } else { kelvin };
    let duv = daylight(kelvin).and_then(|day| Some(Perpendicular::at(kelvin)?.height(day)));
    duv.unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outside_there_is_nothing() {
        for (kelvin, duv) in [(f64::NAN, 0.0), (3000.0, f64::NAN), (0.0, 0.0), (3000.0, 0.2), (f64::INFINITY, 0.0)] {
            assert!(white(kelvin, duv).is_none(), "{kelvin} {duv}");
        }
        assert!(daylight(3999.0).is_none() && daylight(f64::NAN).is_none());
        assert_eq!(daylight_duv(3000.0), 0.0);
        assert_eq!(daylight_duv(f64::NAN), 0.0);
    }

    #[test]
    fn daylight_is_above_planck() {
        // uv_to_CCT_Ohno2013 of colour-science 0.4.7, at the points of its daylight locus.
        for (kelvin, duv) in [(4000.0, 0.002702), (5000.0, 0.003258), (6504.0, 0.003261), (15_000.0, 0.003118)] {
            assert!((daylight_duv(kelvin) - duv).abs() < 2e-5, "{kelvin} {}", daylight_duv(kelvin));
        }
    }
}
