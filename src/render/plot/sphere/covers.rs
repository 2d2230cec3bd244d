//! How covers are filled: by shade and by pattern, so that they are told apart in grey.

use super::super::words::sphere as words;
use crate::report::evidence::Cover;
use maud::{Markup, html};

/// All covers, in the order of the key.
pub(super) const ALL: [Cover; 7] =
    [Cover::Seen, Cover::Unsure, Cover::Short, Cover::Spill, Cover::Shaded, Cover::Masked, Cover::Airframe];

/// How a cover is drawn.
pub(super) struct Look {
    /// What ids end in.
    pub(super) key: &'static str,
    pub(super) words: &'static str,
    pub(super) fill: &'static str,
    /// Lines on the fill: a path in a tile, its tile's side, its colour and its width.
    pub(super) lines: Option<(&'static str, f64, &'static str, f64)>,
}

/// The look of a cover.
pub(super) fn look(cover: Cover) -> Look {
    let look = |key, words, fill, lines| Look { key, words, fill, lines };
    match cover {
        Cover::Seen => look("seen", words::SEEN, "#ffffff", None),
        Cover::Unsure => look("unsure", words::UNSURE, "#ffe9bd", Some((DOT, 8.0, "#a86f00", 2.2))),
        Cover::Short => look("short", words::SHORT, "#f3a783", Some((RISING, 6.0, "#8f3500", 1.3))),
        Cover::Spill => look("spill", words::SPILL, "#f6e65a", Some((CROSSES, 8.0, "#554c00", 1.1))),
        Cover::Shaded => look("shaded", words::SHADED, "#e4e4e4", Some((FALLING, 6.0, "#8c8c8c", 1.0))),
        Cover::Masked => look("masked", words::MASKED, "#ababab", None),
        Cover::Airframe => look("airframe", words::AIRFRAME, "#6b6b6b", Some((CHECKS, 6.0, "#2f2f2f", 1.2))),
    }
}

// A dot is a line of no length with round ends.
const DOT: &str = "M4 4h0";
// Diagonals overrun the tile's corners, or they come out broken there.
const RISING: &str = "M-1 7L7 -1M-1 1L1 -1M5 7L7 5";
const FALLING: &str = "M-1 -1L7 7M-1 5L1 7M5 -1L7 1";
const CROSSES: &str = "M2 2L6 6M2 6L6 2";
const CHECKS: &str = "M0 3H6M3 0V6";

/// The patterns.
pub(super) fn patterns(id: &str) -> Markup {
    html! {
        defs {
            @for look in ALL.map(look) {
                @if let Some((d, side, colour, wide)) = look.lines {
                    pattern id={ (id) "-" (look.key) } width=(side) height=(side) patternUnits="userSpaceOnUse" {
                        path d=(d) stroke=(colour) stroke-width=(wide) stroke-linecap="round" fill="none" {}
                    }
                }
            }
        }
    }
}
