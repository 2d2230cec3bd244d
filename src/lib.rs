//! Lampwright compares a scale model's exterior lights with published full-size lighting requirements.

pub mod aircraft;
mod check;
#[cfg(feature = "cli")]
pub mod cli;
pub mod colorimetry;
pub mod error;
pub mod geometry;
pub mod judge;
pub mod measure;
pub mod photometry;
pub mod render;
pub mod report;
pub mod resolve;
pub mod rules;
pub mod scene;
pub mod source;
pub mod timing;
pub mod units;

pub use check::{Options, bundled_rule_sets, check};
