//! Beams, what hides them, and how far a light shows.
//!
//! Intensities are intervals: beyond what is known of a beam they reach from dark to the highest it may be.

mod beam;
mod body;
pub mod effective;
mod frame;
mod grid;
mod mask;
mod shadow;
mod shape;
mod visibility;

pub use beam::Beam;
pub use body::{Body, BodyState};
pub use grid::Grid;
pub use mask::{Mask, Pass, Sector, UNKNOWN_INTO_LIGHT_DEG, UNKNOWN_INTO_SHADOW_DEG, penumbra_half_width_deg};
pub use shape::Shape;
pub use visibility::{
    COLREG_TRANSMISSIVITY_PER_NMI, NIGHT_THRESHOLD_LX, NOMINAL_VISIBILITY_M, Transmission, VISIBILITY_CONTRAST,
    full_size_equivalent, intensity_for_range, range_of_intensity,
};

/// Why a beam or a shroud cannot be what was given: what is wrong, and what to give instead.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{what}; {instead}")]
pub struct PhotometryError {
    /// What is wrong, in words a user reads.
    pub what: String,
    /// What to give instead.
    pub instead: String,
}

impl PhotometryError {
    fn new(what: impl Into<String>, instead: impl Into<String>) -> Self {
        Self { what: what.into(), instead: instead.into() }
    }
}
