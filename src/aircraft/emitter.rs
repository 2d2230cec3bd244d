//! An emitter: what is known of its colour, its light and its beam, each figure with its origin.

use super::colour_family::Family;
use super::words::Origin;
use crate::colorimetry::ColourSet;
use crate::photometry::Shape;
use crate::source::At;
use crate::units::Interval;

/// A figure, where it comes from and where it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Known<T> {
    /// The figure.
    pub value: T,
    /// Where it comes from.
    pub origin: Origin,
    /// Where it was written.
    pub at: At,
}

impl<T> Known<T> {
    /// A figure given in code.
    pub fn in_code(value: T, origin: Origin) -> Self {
        Self { value, origin, at: At::nowhere() }
    }
}

/// How much light one emitter gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Output {
    /// Luminous intensity at its brightest, in cd.
    PeakCd(Interval),
    /// Luminous flux, in lm.
    FluxLm(Interval),
}

/// An emitter; what is not known is absent.
#[derive(Debug, Clone, PartialEq)]
pub struct Emitter {
    /// Its name in the file.
    pub name: String,
    /// The typical class it starts from.
    pub class: Option<String>,
    /// Its colour.
    pub colour: Option<Known<ColourSet>>,
    /// What it is made of.
    pub family: Option<Family>,
    /// Its light.
    pub output: Option<Known<Output>>,
    /// The shape of its beam.
    pub shape: Option<Known<Shape>>,
    /// The size of what shines, in mm.
    pub size_mm: Option<Known<Interval>>,
    /// Share of the flux that leaves behind its plane.
    pub behind_share: Interval,
    /// The current its light is stated for, in mA.
    pub reference_ma: Option<f64>,
    /// Change of light per kelvin, as a share (negative).
    pub per_kelvin: Interval,
    /// Whether it heats itself when lit steadily.
    pub runs_hot: bool,
    /// Where it was written.
    pub at: At,
}

impl Emitter {
    /// An emitter of which nothing is known yet.
    #[must_use]
    pub fn unknown(name: &str, at: &At) -> Self {
        Self {
            name: name.to_string(),
            class: None,
            colour: None,
            family: None,
            output: None,
            shape: None,
            size_mm: None,
            behind_share: Interval::ZERO,
            reference_ma: None,
            per_kelvin: Interval::ZERO,
            runs_hot: false,
            at: at.clone(),
        }
    }

    /// The factor on its light when it is run at another current than its reference.
    ///
    /// Below a tenth of the reference nothing is known but that it is not brighter than at a tenth.
    #[must_use]
    pub fn drive_factor(&self, current_ma: Interval) -> Option<Interval> {
        let (below, above) = self.family?.current_exponents();
        let reference = self.reference_ma?;
        let at = |ma: f64| {
            let ratio = ma / reference;
            match ratio {
                r if r < 0.1 => Interval { low: 0.0, high: 0.1_f64.powf(below.low) },
                r if r <= 1.0 => Interval::new(r.powf(below.high), r.powf(below.low)),
                r => Interval::new(r.powf(above.low), r.powf(above.high)),
            }
        };
        Some(at(current_ma.low).hull(at(current_ma.high)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_of_the_current() {
        // Trade figure: 20 mA part run at 5 mA gives 0.23 to 0.33 (InGaN), 0.20 to 0.29 (AlInGaP).
        let mut emitter = Emitter { reference_ma: Some(20.0), ..Emitter::unknown("x", &At::nowhere()) };
        emitter.family = Some(Family::Green);
        let factor = emitter.drive_factor(Interval::exactly(5.0)).expect("known");
        assert!((factor.low - 0.233).abs() < 0.001 && (factor.high - 0.330).abs() < 0.001);
        emitter.family = Some(Family::Red);
        let factor = emitter.drive_factor(Interval::exactly(5.0)).expect("known");
        assert!((factor.low - 0.203).abs() < 0.001 && (factor.high - 0.287).abs() < 0.001);
    }
}
