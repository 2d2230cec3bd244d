//! What an LED is made of, by its colour: it decides how light follows current, and what a tinted cover does.

use crate::colorimetry::{ColourSet, ILLUMINANT_E, dominant_wavelength};
use crate::units::Interval;

/// A family of emitters that behave alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Family {
    /// Red, orange-red and amber (AlInGaP).
    Red,
    /// Amber and orange (AlInGaP).
    Amber,
    /// True green (InGaN).
    Green,
    /// Yellowish green (GaP or AlInGaP).
    YellowGreen,
    /// Blue (InGaN).
    Blue,
    /// White, a blue chip with a phosphor.
    White,
    /// A glowing wire.
    Filament,
}

impl Family {
    /// The family of a typical emitter's colour word.
    #[must_use]
    pub fn of_word(colour: &str) -> Option<Self> {
        Some(match colour {
            "red" | "orange-red" => Self::Red,
            "amber" => Self::Amber,
            "green" => Self::Green,
            "yellow-green" => Self::YellowGreen,
            "blue" => Self::Blue,
            "filament" => Self::Filament,
            white if white.contains("white") => Self::White,
            _ => return None,
        })
    }

    /// The family of a declared colour, by the middle of its dominant wavelengths.
    #[must_use]
    pub fn of_colour(colour: &ColourSet) -> Option<Self> {
        let samples = colour.samples();
        let middle = samples.get(samples.len() / 2)?;
        let dominant = dominant_wavelength(*middle, ILLUMINANT_E)?;
        if dominant.purity < 0.35 {
            return Some(Self::White);
        }
        match (dominant.complementary, dominant.wavelength_nm) {
            (true, _) => None,
            (_, nm) if nm < 490.0 => Some(Self::Blue),
            (_, nm) if nm < 550.0 => Some(Self::Green),
            (_, nm) if nm < 578.0 => Some(Self::YellowGreen),
            (_, nm) if nm < 600.0 => Some(Self::Amber),
            _ => Some(Self::Red),
        }
    }

    /// Change of light per kelvin of junction temperature, as a share (trade figures, from memory).
    #[must_use]
    pub fn per_kelvin(self) -> Interval {
        match self {
            Self::Red => Interval::new(-0.010, -0.004),
            Self::Amber => Interval::new(-0.016, -0.007),
            Self::YellowGreen => Interval::new(-0.012, -0.004),
            Self::Green => Interval::new(-0.004, -0.0015),
            Self::Blue => Interval::new(-0.0025, 0.0),
            Self::White => Interval::new(-0.0035, -0.001),
            Self::Filament => Interval::ZERO,
        }
    }

    /// The exponents of intensity against current, below and above the reference current.
    ///
    /// Ranges of the trade, from data sheets and from memory: InGaN 0.80 to 1.05 below and 0.55 to 0.95 above,
    /// AlInGaP 0.90 to 1.15 and 0.70 to 1.00, GaP 1.0 to 1.4 and 0.8 to 1.0.
    #[must_use]
    pub fn current_exponents(self) -> (Interval, Interval) {
        match self {
            Self::Green | Self::Blue | Self::White => (Interval::new(0.80, 1.05), Interval::new(0.55, 0.95)),
            Self::Red | Self::Amber => (Interval::new(0.90, 1.15), Interval::new(0.70, 1.00)),
            Self::YellowGreen => (Interval::new(1.0, 1.4), Interval::new(0.8, 1.0)),
            // A filament's light follows its current about to the sixth power (flux V^3.5, current V^0.55), from memory.
            Self::Filament => (Interval::new(6.2, 6.6), Interval::new(6.2, 6.6)),
        }
    }
}
