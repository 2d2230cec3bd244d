//! Colour of light: chromaticity, whites, dominant wavelengths, and published colour regions.
//!
//! All chromaticities are those of the CIE 1931 2 degree observer (CIE 15, ISO 11664-1). What is
//! known of a light's colour is a [`ColourSet`]; a published colour is a [`Region`] of inequalities;
//! [`ColourSet::against`] tells how far inside or outside the one lies in the other.
//!
//! ```
//! use lampwright::colorimetry::{ColourSet, Region};
//! use lampwright::units::Interval;
//!
//! // Aviation red, 14 CFR 25.1397(a): y not over 0.335, z not over 0.002.
//! let red = Region::new("red", vec!["y <= 0.335".parse()?, "z <= 0.002".parse()?]);
//! let lamp = ColourSet::Dominant { wavelength_nm: Interval::new(620.0, 630.0), fwhm_nm: Interval::new(14.0, 22.0) };
//! assert!(lamp.against(&red).is_some_and(|margin| margin.low > 0.0));
//! # Ok::<(), lampwright::colorimetry::ConditionError>(())
//! ```

mod chromaticity;
mod cie1931;
mod condition;
mod daylight;
mod dominant;
mod extremes;
mod lexer;
mod outline;
mod parse;
mod planck;
mod region;
mod set;
mod spectrum;

pub use chromaticity::Chromaticity;
pub use cie1931::{FIRST_NM, LAST_NM, colour_matching, monochromatic};
pub use condition::Condition;
pub use daylight::{daylight, white};
pub use dominant::{Dominant, ILLUMINANT_D65, ILLUMINANT_E, dominant_wavelength, gaussian_of_dominant};
pub use parse::ConditionError;
pub use planck::{planckian, planckian_y0};
pub use region::{Margin, Region};
pub use set::{ColourSet, SetMargin};
pub use spectrum::{Spectrum, gaussian};
