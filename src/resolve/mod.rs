//! Which rules apply to a craft, why, and the list of goals they make for its lamps.

mod choose;
mod goals;
mod standings;

pub use choose::{Candidate, choose, reasons, wanted};
pub use goals::{Goal, GoalState, Tree, goals};
