//! What a channel does in time: waveforms, pulses, flashes, their frequency, and several channels together.
//!
//! A channel repeats one [`Waveform`] for ever. Piece boundaries are whole microseconds; a period may be an exact
//! fraction of one, so that 40 and 100 per minute are reached exactly. Channels on one [`Clock`] keep their phase
//! for ever, channels on different clocks drift.

mod build;
mod common;
mod flashes;
mod joint;
mod levels;
mod lit;
mod measures;
mod recorded;
mod slip;
mod steps;
mod tick;
mod together;
mod waveform;
mod worst;

pub use common::{CommonPieces, JointLimits, common_pieces};
pub use flashes::{Flash, FlashReading, Flashes, Pulse};
pub use joint::{Clock, JointRate, flash_frequency, joint_flashes};
pub use lit::Unreadable;
pub use measures::LitTime;
pub use recorded::{Edge, Recorded, Shown};
pub use slip::{coincide_every, slip_between, time_to_slip};
pub use steps::Step;
pub use together::{drifting_spread, onset_spread};
pub use waveform::{Piece, Waveform, milliseconds};
pub use worst::{WorstSecond, worst_second};

/// Why a pattern of light cannot be made: what is wrong, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{what}; {instead}")]
pub struct TimingError {
    /// What is wrong, in words a user reads.
    pub what: String,
    /// What to write instead.
    pub instead: String,
}

impl TimingError {
    fn new(what: impl Into<String>, instead: impl Into<String>) -> Self {
        Self { what: what.into(), instead: instead.into() }
    }
}
