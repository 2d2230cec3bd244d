//! A light tint of a chromaticity, to fill a region with.

/// How much of the tint is colour; the rest is paper.
const STRENGTH: f64 = 0.28;

/// The tint about a chromaticity: its sRGB colour at full brightness (IEC 61966-2-1), let down with white.
pub(super) fn of([x, y]: [f64; 2]) -> [u8; 3] {
    let z = 1.0 - x - y;
    // Rows of the matrix from CIE XYZ to linear sRGB, IEC 61966-2-1.
    let linear = [
        3.2406 * x - 1.5372 * y - 0.4986 * z,
        -0.9689 * x + 1.8758 * y + 0.0415 * z,
        0.0557 * x - 0.2040 * y + 1.0570 * z,
    ];
    let most = linear.into_iter().fold(0.0, f64::max);
    if !(most > 0.0 && most.is_finite()) {
        return [255; 3];
    }
    linear.map(|v| (255.0 * (1.0 - STRENGTH + STRENGTH * encoded((v / most).max(0.0)))).round() as u8)
}

fn encoded(v: f64) -> f64 {
    if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * v.powf(1.0 / 2.4) - 0.055 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The white and the primaries of sRGB (IEC 61966-2-1): D65 0.3127, 0.3290; red 0.64, 0.33; green 0.30, 0.60; blue 0.15, 0.06.
    #[test]
    fn primaries_tint_their_own_way() {
        assert!(of([0.3127, 0.3290]).iter().all(|v| *v >= 253));
        for (n, xy) in [[0.64, 0.33], [0.30, 0.60], [0.15, 0.06]].into_iter().enumerate() {
            let tint = of(xy);
            assert!(tint.iter().enumerate().all(|(m, v)| if m == n { *v == 255 } else { *v < 200 }), "{tint:?}");
        }
        assert_eq!(of([f64::NAN, 0.3]), [255; 3]);
    }
}
