//! Figures as SVG: one file per kind, drawn from evidence, knowing shapes and units and no quantity.

mod style;
