//! Chromaticity of spectra: measured ones, and the gaussian model of an LED.

use super::Chromaticity;
use super::cie1931::{FIRST_NM, LAST_NM, Row, monochromatic, rows, rows_between};

/// A spectral power distribution: wavelengths in nanometres, power in any one unit per nanometre.
///
/// ```
/// use lampwright::colorimetry::Spectrum;
/// // Illuminant E has the same power everywhere, and x = y = 1/3 (CIE 15; the 1 nm table gives 0.33331, 0.33329).
/// let e = Spectrum::new(vec![(360.0, 1.0), (830.0, 1.0)])?;
/// assert!((e.chromaticity().x - 1.0 / 3.0).abs() < 5e-5);
/// # Ok::<(), String>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Spectrum {
    points: Vec<(f64, f64)>,
    chromaticity: Chromaticity,
}

impl Spectrum {
    /// A spectrum from (wavelength in nm, relative power) points, linear between them and zero outside.
    ///
    /// # Errors
    /// Fewer than two points, a value that is not finite or negative, wavelengths that do not
    /// ascend, or no power at any whole nanometre from 360 to 830 nm.
    pub fn new(points: Vec<(f64, f64)>) -> Result<Self, String> {
        if points.len() < 2 {
            return Err("a spectrum needs two points or more".into());
        }
        for &(nm, power) in &points {
            if !nm.is_finite() || !power.is_finite() || power < 0.0 {
                return Err(format!(
                    "the point ({nm} nm, {power}) is not a finite wavelength with a power of 0 or more"
                ));
            }
        }
        if let Some([before, after]) = points.array_windows().find(|[a, b]| a.0 >= b.0) {
            return Err(format!("wavelengths must ascend, but {} nm comes before {} nm", before.0, after.0));
        }
        let Some(chromaticity) = Chromaticity::of_tristimulus(tristimulus(&points)) else {
            return Err("the spectrum has no power at any whole nanometre from 360 nm to 830 nm".into());
        };
        Ok(Self { points, chromaticity })
    }
    /// The points it was made from: (wavelength in nm, power).
    #[must_use]
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }
    /// The chromaticity, by a sum over whole nanometres (CIE 15, section 7.1).
    #[must_use]
    pub fn chromaticity(&self) -> Chromaticity {
        self.chromaticity
    }
}

/// The tristimulus values of a linear interpolation, relative to the greatest power so that nothing overflows.
fn tristimulus(points: &[(f64, f64)]) -> [f64; 3] {
    let greatest = points.iter().map(|p| p.1).fold(0.0, f64::max);
    let mut sum = [0.0; 3];
    for row in rows() {
        let power = at(points, row.nm) / greatest;
        add(&mut sum, row.xyz, power);
    }
    sum
}

fn add(sum: &mut [f64; 3], xyz: [f64; 3], power: f64) {
    for (total, value) in sum.iter_mut().zip(xyz) {
        *total += value * power;
    }
}

fn at(points: &[(f64, f64)], nm: f64) -> f64 {
    let after = points.partition_point(|p| p.0 < nm);
    match (after.checked_sub(1).and_then(|i| points.get(i)), points.get(after)) {
        (_, Some(&(exact, power))) if exact == nm => power,
        (Some(&(a, low)), Some(&(b, high))) => low + (high - low) * ((nm - a) / (b - a)),
        _ => 0.0,
    }
}

/// Below this width a 1 nm sum is too coarse, and the light is as good as monochromatic.
const NARROWEST_SUM_NM: f64 = 2.0;
/// Half the window summed, in widths: the power there is 2e-15 of the peak's.
const WINDOW_FWHM: f64 = 3.5;

/// The chromaticity of a gaussian spectrum of a peak wavelength and a full width at half maximum, in nm.
///
/// S = exp(-4 ln 2 ((nm - peak) / fwhm)²), summed over whole nanometres within 3.5 widths of the
/// peak; a width under 2 nm is taken as monochromatic. `None` for a width that is negative, not
/// finite or above 1000 nm, or where no light falls into 360 to 830 nm.
///
/// ```
/// // Peak 525 nm, width 30 nm: (0.142361, 0.775626), computed with colour-science 0.4.7.
/// let green = lampwright::colorimetry::gaussian(525.0, 30.0).expect("visible");
/// assert!((green.x - 0.142361).abs() < 2e-5 && (green.y - 0.775626).abs() < 2e-5);
/// ```
#[must_use]
pub fn gaussian(peak_nm: f64, fwhm_nm: f64) -> Option<Chromaticity> {
    if !(0.0..=1000.0).contains(&fwhm_nm) || !peak_nm.is_finite() {
        return None;
    }
    if fwhm_nm < NARROWEST_SUM_NM {
        return monochromatic(peak_nm);
    }
    let reach_nm = WINDOW_FWHM * fwhm_nm;
    let middle_nm = peak_nm.round().clamp(FIRST_NM, LAST_NM);
    if (middle_nm - peak_nm).abs() > reach_nm {
        return None;
    }
    let k = 4.0 * std::f64::consts::LN_2 / (fwhm_nm * fwhm_nm);
    let offset_nm = middle_nm - peak_nm;
    let middle = (-k * offset_nm * offset_nm).exp();
    let (up, down) = ((-k * (1.0 + 2.0 * offset_nm)).exp(), (-k * (1.0 - 2.0 * offset_nm)).exp());
    let shrink = (-2.0 * k).exp();
    let mut sum = [0.0; 3];
    add_gaussian(&mut sum, rows_between(middle_nm, peak_nm + reach_nm).iter(), [middle, up, shrink]);
    let below = rows_between(peak_nm - reach_nm, middle_nm - 1.0).iter().rev();
    add_gaussian(&mut sum, below, [middle * down, down * shrink, shrink]);
    Chromaticity::of_tristimulus(sum)
}

/// Adds one flank of a gaussian, from its power at the first line on.
///
/// exp(-k (d+1)²) = exp(-k d²) exp(-k (2d+1)), and the second factor shrinks by exp(-2k) a step: two
/// products instead of one exponential.
fn add_gaussian<'a>(sum: &mut [f64; 3], rows: impl Iterator<Item = &'a Row>, [mut power, mut ratio, shrink]: [f64; 3]) {
    for row in rows {
        add(sum, row.xyz, power);
        power *= ratio;
        ratio *= shrink;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_spectra_are_told() {
        let told = |points: &[(f64, f64)]| Spectrum::new(points.to_vec()).expect_err("bad");
        assert!(told(&[(500.0, 1.0)]).contains("two points"));
        assert!(told(&[(500.0, 1.0), (f64::NAN, 1.0)]).contains("finite"));
        assert!(told(&[(500.0, 1.0), (510.0, -1.0)]).contains("0 or more"));
        assert!(told(&[(510.0, 1.0), (500.0, 1.0)]).contains("ascend"));
        assert!(told(&[(500.0, 0.0), (510.0, 0.0)]).contains("no power"));
        assert!(told(&[(900.0, 1.0), (910.0, 1.0)]).contains("no power"));
        assert!(Spectrum::new(vec![(500.0, 1e308), (600.0, 1e308)]).is_ok());
    }

    #[test]
    fn a_strange_gaussian_is_none() {
        for (peak, width) in
            [(f64::NAN, 20.0), (525.0, f64::NAN), (525.0, -1.0), (1e9, 20.0), (525.0, 1e9), (200.0, 10.0)]
        {
            assert!(gaussian(peak, width).is_none(), "{peak} {width}");
        }
        assert_eq!(gaussian(525.0, 0.0), monochromatic(525.0));
    }
}
