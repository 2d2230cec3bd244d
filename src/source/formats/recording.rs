//! What every recording gives: signals over time.

use std::sync::Arc;

/// A recorded signal. Times count from the beginning of the recording, in seconds.
#[derive(Debug, Clone, PartialEq)]
pub struct Signal {
    /// Its name.
    pub name: String,
    /// Its values; signals of one source share them.
    pub values: Arc<Values>,
}

/// The values of a signal.
#[derive(Debug, Clone, PartialEq)]
pub enum Values {
    /// What a logic recorder saw: its changes.
    Changes(Changes),
    /// What a meter or a camera saw: samples.
    Samples(Samples),
}

/// A signal that is on, off or not known, and when it changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Changes {
    /// When the recording ends.
    pub to_s: f64,
    /// What it was at the beginning.
    pub first: Option<bool>,
    /// When it changed and to what, in order.
    pub changes: Vec<(f64, Option<bool>)>,
    /// How long before its time a change may have come, at most.
    pub early_s: f64,
    /// How long after its time a change may have come, at most.
    pub late_s: f64,
}

/// A signal read again and again.
#[derive(Debug, Clone, PartialEq)]
pub struct Samples {
    /// When each was read, in order.
    pub times_s: Arc<[f64]>,
    /// What was read.
    pub levels: Vec<f64>,
    /// How far from its time a sample may have been taken, at most.
    pub off_s: f64,
}
