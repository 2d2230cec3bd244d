//! Lampwright compares a scale model's exterior lights with published full-size lighting requirements.

pub mod units;
