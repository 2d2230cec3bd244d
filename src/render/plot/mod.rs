//! Figures as SVG: one file per kind, drawn from evidence, knowing shapes and units and no quantity.

pub(in crate::render) mod colours;
mod fit;
mod hatch;
mod hue;
mod key;
mod labels;
mod lettering;
pub(in crate::render) mod margins;
pub(in crate::render) mod night;
pub(in crate::render) mod polar;
#[cfg(test)]
mod sound;
pub(in crate::render) mod sphere;
mod style;
pub(in crate::render) mod timing;
pub(in crate::render) mod views;

use super::words::plot as words;
