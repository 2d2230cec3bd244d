//! What every recording gives: signals over time.

/// A recorded signal.
#[derive(Debug, Clone, PartialEq)]
pub struct Signal {
    /// Its name.
    pub name: String,
    /// Its values.
    pub values: Values,
}

/// The values of a signal.
#[derive(Debug, Clone, PartialEq)]
pub enum Values {
    /// Its changes: each at a time in seconds, on or off, known to a step.
    Changes {
        /// When the recording begins and ends, in seconds.
        span_s: (f64, f64),
        /// The times, and whether it is on from there.
        changes: Vec<(f64, bool)>,
        /// How finely times were recorded, in seconds: a change came at most this long before its time.
        step_s: f64,
    },
    /// Samples at even times, in seconds.
    Samples {
        /// The time of the first.
        from_s: f64,
        /// The time between two.
        step_s: f64,
        /// What was read.
        levels: Vec<f64>,
    },
}
