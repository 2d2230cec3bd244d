//! How covers are filled: by shade and by hatching, so that they are told apart in grey.

use super::super::hatch::Hatch;
use super::super::words::sphere as words;
use crate::report::evidence::Cover;

/// All covers, in the order of the key.
pub(super) const ALL: [Cover; 8] = [
    Cover::Seen,
    Cover::NotAsked,
    Cover::Unsure,
    Cover::Short,
    Cover::Spill,
    Cover::Shaded,
    Cover::Masked,
    Cover::Airframe,
];

/// How a cover is drawn.
pub(super) struct Look {
    /// What ids end in.
    pub(super) key: &'static str,
    pub(super) words: &'static str,
    pub(super) fill: &'static str,
    /// Strokes on the fill: how far apart, their colour and their width.
    pub(super) lines: Option<(Hatch, f64, &'static str, f64)>,
}

/// The look of a cover.
pub(super) fn look(cover: Cover) -> Look {
    let look = |key, words, fill, lines| Look { key, words, fill, lines };
    match cover {
        Cover::Seen => look("seen", words::SEEN, "#dfeadf", None),
        Cover::NotAsked => look("not-asked", words::NOT_ASKED, "#ffffff", None),
        Cover::Unsure => look("unsure", words::UNSURE, "#ffe9bd", Some((Hatch::Dots, 9.0, "#a86f00", 2.2))),
        Cover::Short => look("short", words::SHORT, "#f3a783", Some((Hatch::Rising, 8.0, "#8f3500", 1.3))),
        Cover::Spill => look("spill", words::SPILL, "#f6e65a", Some((Hatch::Crosses, 9.0, "#554c00", 1.1))),
        Cover::Shaded => look("shaded", words::SHADED, "#e4e4e4", Some((Hatch::Falling, 8.0, "#8c8c8c", 1.0))),
        Cover::Masked => look("masked", words::MASKED, "#ababab", None),
        Cover::Airframe => look("airframe", words::AIRFRAME, "#6b6b6b", Some((Hatch::Checks, 6.0, "#2f2f2f", 1.2))),
    }
}
