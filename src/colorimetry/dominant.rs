//! Dominant and complementary wavelength, and the gaussian light that has a given one.

use super::chromaticity::{cross, dot};
use super::cie1931::{monochromatic, rows_between};
use super::{Chromaticity, gaussian};

/// The equal-energy white, which LED makers take as white for dominant wavelengths: x = y = 1/3.
pub const ILLUMINANT_E: Chromaticity = Chromaticity { x: 1.0 / 3.0, y: 1.0 / 3.0 };
/// CIE standard illuminant D65, as tabulated in CIE 15 for the 2 degree observer.
pub const ILLUMINANT_D65: Chromaticity = Chromaticity { x: 0.3127, y: 0.3290 };

/// The part of the spectrum locus used, in nm: beyond it the points crowd together or turn back.
const LOCUS_NM: (f64, f64) = (380.0, 700.0);

/// A dominant wavelength with the purity that goes with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dominant {
    /// The dominant wavelength in nm; the complementary one where `complementary` is set.
    pub wavelength_nm: f64,
    /// Excitation purity: 0 at white, 1 on the spectrum locus or the purple line.
    pub purity: f64,
    /// Whether the colour is a purple, which only its complementary wavelength can name.
    pub complementary: bool,
}

/// The dominant wavelength of a colour seen against a white (CIE 15, section 9.4; CIE 17-24-020).
///
/// The ray from the white through the colour is met with the spectrum locus from 380 nm to 700 nm,
/// straight between its 1 nm points, closed by the purple line. `None` where the two points
/// coincide, are not finite, or the white lies outside the locus and nothing is met.
///
/// ```
/// use lampwright::colorimetry::{Chromaticity, ILLUMINANT_D65, dominant_wavelength};
/// // The green primary of sRGB: 549.13 nm, purity 0.7345, by luxpy 1.12.5.
/// let green = dominant_wavelength(Chromaticity { x: 0.30, y: 0.60 }, ILLUMINANT_D65).expect("no white");
/// assert!((green.wavelength_nm - 549.13).abs() < 0.02 && (green.purity - 0.7345).abs() < 1e-4);
/// ```
#[must_use]
pub fn dominant_wavelength(colour: Chromaticity, white: Chromaticity) -> Option<Dominant> {
    let ray = colour.minus(white);
    let length = ray[0].hypot(ray[1]);
    if !(length > 0.0 && length.is_finite()) {
        return None;
    }
    let direct = locus_hit(white, ray);
    // Purity is |S - W| / |P - W|; with P = W + reach (S - W) that is 1 / reach.
    if let Some((wavelength_nm, reach)) = direct {
        return Some(Dominant { wavelength_nm, purity: 1.0 / reach, complementary: false });
    }
    let (wavelength_nm, _) = locus_hit(white, [-ray[0], -ray[1]])?;
    let (_, reach) = segment_hit(white, ray, monochromatic(LOCUS_NM.0)?, monochromatic(LOCUS_NM.1)?)?;
    Some(Dominant { wavelength_nm, purity: 1.0 / reach, complementary: true })
}

/// Where a ray meets the locus: the wavelength, and the distance in lengths of the ray.
fn locus_hit(from: Chromaticity, ray: [f64; 2]) -> Option<(f64, f64)> {
    rows_between(LOCUS_NM.0, LOCUS_NM.1).array_windows().find_map(|[a, b]| {
        let (share, reach) = segment_hit(from, ray, a.locus, b.locus)?;
        Some((a.nm + share * (b.nm - a.nm), reach))
    })
}

/// Where a ray meets a segment: the share of the segment, and the distance in lengths of the ray.
fn segment_hit(from: Chromaticity, ray: [f64; 2], a: Chromaticity, b: Chromaticity) -> Option<(f64, f64)> {
    let (p, edge) = (a.minus(from), b.minus(a));
    let determinant = cross(ray, edge);
    let (reach, share) = (cross(p, edge) / determinant, cross(p, ray) / determinant);
    // The tolerance closes the joints between segments against rounding.
    (reach > 0.0 && reach.is_finite() && (-1e-12..=1.0 + 1e-12).contains(&share))
        .then(|| (share.clamp(0.0, 1.0), reach))
}

/// The gaussian light of a width (FWHM, nm) whose dominant wavelength against illuminant E is given (nm).
///
/// The peak is found by inversion, to 1e-9 nm. `None` outside 380 nm to 700 nm, or where no gaussian of that
/// width has that dominant wavelength (as at the ends of the spectrum for a wide one).
///
/// ```
/// // A peak of 625 nm, 20 nm wide, has 621.50 nm dominant and x = 0.69446, by luxpy 1.12.5.
/// let red = lampwright::colorimetry::gaussian_of_dominant(621.50, 20.0).expect("exists");
/// assert!((red.x - 0.69446).abs() < 2e-5);
/// ```
#[must_use]
pub fn gaussian_of_dominant(dominant_nm: f64, fwhm_nm: f64) -> Option<Chromaticity> {
    if !(LOCUS_NM.0..=LOCUS_NM.1).contains(&dominant_nm) || !(0.0..=1000.0).contains(&fwhm_nm) {
        return None;
    }
    let target = monochromatic(dominant_nm)?.minus(ILLUMINANT_E);
    // Hue runs clockwise with wavelength, so this is positive where the light is too short in wavelength.
    // That avoids finding the dominant wavelength of every trial.
    let short = |peak_nm: f64| gaussian(peak_nm, fwhm_nm).map(|c| cross(target, c.minus(ILLUMINANT_E)));
    let bracket = bracket(&short, dominant_nm, (fwhm_nm / 4.0).clamp(0.5, 8.0))?;
    let colour = gaussian(root(&short, bracket)?, fwhm_nm)?;
    let direction = colour.minus(ILLUMINANT_E);
    let aligned = cross(target, direction).abs() < 1e-9 && dot(target, direction) > 0.0;
    aligned.then_some(colour)
}

/// A peak wavelength with the value of the function there.
type Trial = (f64, f64);

/// Two peaks between which the function changes from positive to not positive.
fn bracket(f: &impl Fn(f64) -> Option<f64>, start_nm: f64, step_nm: f64) -> Option<(Trial, Trial)> {
    let mut here = (start_nm, f(start_nm)?);
    let step_nm = if here.1 > 0.0 { step_nm } else { -step_nm };
    for i in 0..12 {
        let nm = here.0 + step_nm * f64::from(1 << i.min(4));
        let next = (nm, f(nm)?);
        if (next.1 > 0.0) != (here.1 > 0.0) {
            return Some(if step_nm > 0.0 { (here, next) } else { (next, here) });
        }
        here = next;
    }
    None
}

/// The zero between two trials, by the Illinois variant of false position.
fn root(f: &impl Fn(f64) -> Option<f64>, (mut a, mut b): (Trial, Trial)) -> Option<f64> {
    for _ in 0..60 {
        let nm = (a.0 * b.1 - b.0 * a.1) / (b.1 - a.1);
        let here = (nm, f(nm)?);
        if here.1.abs() < 1e-13 || (b.0 - a.0).abs() < 1e-10 {
            return Some(nm);
        }
        // `b` is the newest end; the older one loses half its weight when it is kept twice.
        if (here.1 > 0.0) != (b.1 > 0.0) {
            a = b;
        } else {
            a.1 *= 0.5;
        }
        b = here;
    }
    Some(b.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_inversion_returns_what_was_asked() {
        for fwhm_nm in [0.0, 10.0, 14.0, 30.0, 45.0] {
            for nm in [460.0, 480.0, 494.0, 515.0, 534.4, 555.0, 580.0, 609.7, 620.0, 640.0, 660.0] {
                let c = gaussian_of_dominant(nm, fwhm_nm).expect("exists");
                let found = dominant_wavelength(c, ILLUMINANT_E).expect("coloured");
                assert!((found.wavelength_nm - nm).abs() < 1e-6 && !found.complementary, "{nm} {fwhm_nm} {found:?}");
            }
        }
    }

    #[test]
    fn strange_input_is_none() {
        for (nm, fwhm) in [(f64::NAN, 20.0), (500.0, f64::NAN), (300.0, 20.0), (500.0, -1.0), (400.0, 300.0)] {
            assert!(gaussian_of_dominant(nm, fwhm).is_none(), "{nm} {fwhm}");
        }
        let nan = Chromaticity { x: f64::NAN, y: 0.3 };
        assert!(dominant_wavelength(nan, ILLUMINANT_E).is_none());
        assert!(dominant_wavelength(ILLUMINANT_E, ILLUMINANT_E).is_none());
        assert!(dominant_wavelength(ILLUMINANT_E, nan).is_none());
    }
}
