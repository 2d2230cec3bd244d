//! The words readers see, in one place: of goals in every format, of the printed report, of its figures.

pub(super) mod goals;
pub(super) mod page;
pub(super) mod plot;
