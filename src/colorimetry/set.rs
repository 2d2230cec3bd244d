//! What is known of a light's colour: a set of chromaticities, and its margin in a region.

use super::cie1931::monochromatic;
use super::daylight::{DAYLIGHT_FROM_K, Perpendicular, daylight_duv};
use super::extremes::{Mesh, greatest};
use super::{Chromaticity, Region, gaussian, gaussian_of_dominant};
use crate::units::Interval;

/// The Duv that declared whites are allowed either side (ANSI C78.377, from memory).
const DECLARED_DUV: f64 = 0.006;

/// The colours a light may have, from what is known of it.
#[derive(Debug, Clone, PartialEq)]
pub enum ColourSet {
    /// One measured chromaticity.
    Point(Chromaticity),
    /// A gaussian light of a dominant wavelength against illuminant E, in nm.
    ///
    /// Where no gaussian of the width has that dominant wavelength, monochromatic light stands for it.
    Dominant {
        /// The dominant wavelength, 380 to 700 nm.
        wavelength_nm: Interval,
        /// The full width at half maximum, in nm.
        fwhm_nm: Interval,
    },
    /// A gaussian light of a peak wavelength, in nm.
    Peak {
        /// The peak wavelength, in nm.
        wavelength_nm: Interval,
        /// The full width at half maximum, in nm.
        fwhm_nm: Interval,
    },
    /// A white of a colour temperature and a distance from the Planckian locus.
    White {
        /// The correlated colour temperature in kelvin, 500 to 1 000 000.
        kelvin: Interval,
        /// Duv in CIE 1960 (u, v), positive above the locus, -0.1 to 0.1.
        duv: Interval,
    },
    /// A white of which only the colour temperature is declared: see [`ColourSet::declared_temperature`].
    DeclaredTemperature {
        /// The colour temperature in kelvin.
        kelvin: Interval,
    },
    /// Any of some separate chromaticities.
    Samples(Vec<Chromaticity>),
    /// Any colour of any of these sets.
    Hull(Vec<ColourSet>),
}

/// How far inside a region the colours of a set lie, as signed distances in (x, y).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetMargin {
    /// The smallest margin of any colour of the set.
    pub low: f64,
    /// The greatest margin of any colour of the set.
    pub high: f64,
    /// The colour with the smallest margin.
    pub worst: Chromaticity,
    /// The colour with the greatest margin.
    pub best: Chromaticity,
    /// The index of the condition that limits the worst colour.
    pub nearest: usize,
}

impl SetMargin {
    /// Whether every colour of the set lies in the region, limits included.
    #[must_use]
    pub fn is_inside(&self) -> bool {
        self.low >= 0.0
    }
    /// Whether no colour of the set lies in the region.
    #[must_use]
    pub fn is_outside(&self) -> bool {
        self.high < 0.0
    }
}

impl ColourSet {
    /// The whites a colour temperature in kelvin can mean when no Duv is declared.
    ///
    /// From 0.006 below the Planckian locus to 0.006 above the CIE daylight locus, in Duv; below 4000 K,
    /// where there is no daylight locus, to 0.006 above the Planckian one, and above 25 000 K
    /// with the Duv daylight has there.
    #[must_use]
    pub fn declared_temperature(kelvin: Interval) -> Self {
        Self::DeclaredTemperature { kelvin }
    }

    /// Chromaticities that stand for the set: a grid with its ends and corners, or the points it has.
    ///
    /// Wavelengths at most 0.5 nm and temperatures 6 mired apart (ranges over 100 nm or 600 mired are
    /// cut into 200 or 100 steps), so that what lies between is straight to about 5e-5. Empty where any part of
    /// the set is out of range or not finite, since then nothing can be said of it.
    #[must_use]
    pub fn samples(&self) -> Vec<Chromaticity> {
        self.meshes().into_iter().flatten().flat_map(|mesh| mesh.points).collect()
    }

    /// The smallest and the greatest margin of the set in a region, right to about 1e-4 between samples.
    ///
    /// Margins at the samples, and so at all ends and corners, are exact. `None` where
    /// [`ColourSet::samples`] is empty.
    ///
    /// ```
    /// use lampwright::colorimetry::{ColourSet, Region};
    /// use lampwright::units::Interval;
    /// // Aviation green, 14 CFR 25.1397(b): a "520 to 530 nm" green is inside, 515 to 537 nm straddles the limit.
    /// let text = ["x <= 0.440 - 0.320 y", "x <= y - 0.170", "y >= 0.390 - 0.170 x"];
    /// let green = Region::new("green", text.iter().map(|t| t.parse()).collect::<Result<_, _>>()?);
    /// let lamp = |low, high| ColourSet::Dominant {
    ///     wavelength_nm: Interval::new(low, high),
    ///     fwhm_nm: Interval::new(28.0, 42.0),
    /// };
    /// assert!(lamp(520.0, 530.0).against(&green).is_some_and(|m| m.is_inside()));
    /// assert!(lamp(515.0, 537.0).against(&green).is_some_and(|m| !m.is_inside() && !m.is_outside()));
    /// # Ok::<(), lampwright::colorimetry::ConditionError>(())
    /// ```
    #[must_use]
    pub fn against(&self, region: &Region) -> Option<SetMargin> {
        let meshes = self.meshes()?;
        let (high, best) = greatest(&meshes, |c| region.margin(c).distance)?;
        let (low, worst) = greatest(&meshes, |c| -region.margin(c).distance).map(|(v, c)| (-v, c))?;
        Some(SetMargin { low, high, worst, best, nearest: region.margin(worst).nearest })
    }

    /// The patches the set consists of; `None` where one cannot be computed.
    fn meshes(&self) -> Option<Vec<Mesh>> {
        match self {
            Self::Point(c) => points(std::slice::from_ref(c)),
            Self::Samples(all) => points(all),
            Self::Dominant { wavelength_nm, fwhm_nm } => gaussians(*wavelength_nm, *fwhm_nm, of_dominant),
            Self::Peak { wavelength_nm, fwhm_nm } => gaussians(*wavelength_nm, *fwhm_nm, gaussian),
            Self::White { kelvin, duv } => Some(vec![whites(*kelvin, |_| *duv)?]),
            Self::DeclaredTemperature { kelvin } => declared(*kelvin),
            Self::Hull(parts) => {
                let meshes = parts.iter().map(Self::meshes).collect::<Option<Vec<_>>>()?;
                Some(meshes.into_iter().flatten().collect())
            }
        }
    }
}

fn points(all: &[Chromaticity]) -> Option<Vec<Mesh>> {
    all.iter().all(|c| c.is_finite()).then(|| vec![Mesh { points: all.to_vec(), columns: 0 }])
}

fn of_dominant(wavelength_nm: f64, fwhm_nm: f64) -> Option<Chromaticity> {
    let in_range = (380.0..=700.0).contains(&wavelength_nm) && fwhm_nm >= 0.0;
    gaussian_of_dominant(wavelength_nm, fwhm_nm).or_else(|| monochromatic(wavelength_nm).filter(|_| in_range))
}

/// Values from end to end of an interval, ends included, at most `step` apart unless that takes over `most` steps.
fn axis(interval: Interval, step: f64, most: usize) -> Option<Vec<f64>> {
    let Interval { low, high } = interval;
    if !low.is_finite() || !high.is_finite() || low > high {
        return None;
    }
    let width = high - low;
    let count = if width > 0.0 { ((width / step).ceil() as usize).clamp(1, most) } else { 0 };
    let value = |i: usize| if i == count { high } else { low + width * (i as f64 / count as f64) };
    Some((0..=count).map(value).collect())
}

fn gaussians(
    wavelength_nm: Interval,
    fwhm_nm: Interval,
    colour: impl Fn(f64, f64) -> Option<Chromaticity>,
) -> Option<Vec<Mesh>> {
    // A gaussian's colour moves off the locus with the square of its width, so widths are spaced by their squares.
    let squares = axis(fwhm_nm.rising(|w| w * w.abs()), 250.0, 6)?;
    let mut widths_nm: Vec<f64> = squares.into_iter().map(|s| s.abs().sqrt().copysign(s)).collect();
    // The square root of a square may miss by a rounding; the ends are to be exact.
    if let Some(first) = widths_nm.first_mut() {
        *first = fwhm_nm.low;
    }
    if let Some(last) = widths_nm.last_mut() {
        *last = fwhm_nm.high;
    }
    let wavelengths_nm = axis(wavelength_nm, 0.5, 200)?;
    let pairs = wavelengths_nm.iter().flat_map(|&nm| widths_nm.iter().map(move |&width| (nm, width)));
    let points = pairs.map(|(nm, width)| colour(nm, width)).collect::<Option<Vec<_>>>()?;
    Some(vec![Mesh { points, columns: widths_nm.len() }])
}

/// Whites over a range of temperature, evenly in reciprocal temperature, each over a range of Duv.
fn whites(kelvin: Interval, duv: impl Fn(f64) -> Interval) -> Option<Mesh> {
    // Lines of equal temperature are straight in (x, y) too, so few Duv values are enough.
    let several = kelvin.high.is_finite() && duv(kelvin.high).width() > 0.0;
    let shares = if several { axis(Interval { low: 0.0, high: 1.0 }, 0.25, 4)? } else { vec![0.0] };
    let mired = axis(kelvin.falling(|t| 1e6 / t), 6.0, 100)?;
    let (first, last) = (mired.first().copied()?, mired.last().copied()?);
    let mut points = Vec::with_capacity(mired.len() * shares.len());
    for m in mired {
        let t = if m == first {
            kelvin.high
        } else if m == last {
            kelvin.low
        } else {
            1e6 / m
        };
        let (line, duv) = (Perpendicular::at(t)?, duv(t));
        let ordered = duv.low <= duv.high;
        for &share in &shares {
            let here = if share == 1.0 { duv.high } else { duv.low + share * duv.width() };
            points.push(line.point(here).filter(|_| ordered)?);
        }
    }
    Some(Mesh { points, columns: shares.len() })
}

fn declared(kelvin: Interval) -> Option<Vec<Mesh>> {
    let mut meshes = Vec::new();
    // The daylight locus begins above the Planckian one, so the band has a step at 4000 K.
    if kelvin.low < DAYLIGHT_FROM_K {
        let low = Interval { high: kelvin.high.min(DAYLIGHT_FROM_K), ..kelvin };
        meshes.push(whites(low, |_| Interval { low: -DECLARED_DUV, high: DECLARED_DUV })?);
    }
    if kelvin.high >= DAYLIGHT_FROM_K {
        let high = Interval { low: kelvin.low.max(DAYLIGHT_FROM_K), ..kelvin };
        meshes.push(whites(high, |t| Interval { low: -DECLARED_DUV, high: DECLARED_DUV + daylight_duv(t) })?);
    }
    (!meshes.is_empty()).then_some(meshes)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn white(kelvin: (f64, f64), duv: (f64, f64)) -> ColourSet {
        let interval = |(low, high)| Interval { low, high };
        ColourSet::White { kelvin: interval(kelvin), duv: interval(duv) }
    }

    #[test]
    fn what_cannot_be_computed_has_no_samples() {
        let nan = Chromaticity { x: f64::NAN, y: 0.3 };
        let good = white((3000.0, 4000.0), (0.0, 0.0));
        assert!(!good.samples().is_empty());
        for set in [
            ColourSet::Point(nan),
            ColourSet::Samples(Vec::new()),
            ColourSet::Hull(Vec::new()),
            ColourSet::Hull(vec![good, ColourSet::Point(nan)]),
            white((100.0, 3000.0), (0.0, 0.0)),
            white((4000.0, 3000.0), (0.0, 0.0)),
            white((3000.0, 4000.0), (f64::NAN, 0.0)),
            white((3000.0, f64::INFINITY), (0.0, 0.0)),
            ColourSet::declared_temperature(Interval { low: f64::NAN, high: f64::NAN }),
            ColourSet::Dominant { wavelength_nm: Interval::exactly(900.0), fwhm_nm: Interval::exactly(20.0) },
            ColourSet::Peak { wavelength_nm: Interval::exactly(525.0), fwhm_nm: Interval::new(-1.0, 20.0) },
        ] {
            let region = Region::new("any", Vec::new());
            assert!(set.samples().is_empty() && set.against(&region).is_none(), "{set:?}");
        }
    }

    #[test]
    fn ends_are_sampled_exactly() {
        let set = ColourSet::Peak { wavelength_nm: Interval::new(515.0, 537.0), fwhm_nm: Interval::new(28.0, 42.0) };
        let samples = set.samples();
        for (nm, width) in [(515.0, 28.0), (515.0, 42.0), (537.0, 28.0), (537.0, 42.0)] {
            assert!(samples.contains(&gaussian(nm, width).expect("visible")), "{nm} {width}");
        }
        let samples = white((3000.0, 7000.0), (-0.006, 0.004)).samples();
        for (kelvin, duv) in [(3000.0, -0.006), (3000.0, 0.004), (7000.0, -0.006), (7000.0, 0.004)] {
            assert!(samples.contains(&crate::colorimetry::white(kelvin, duv).expect("in range")), "{kelvin} {duv}");
        }
    }
}
