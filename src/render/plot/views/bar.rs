//! The bar that tells the scale.

use super::super::fit::round_below;
use super::super::style::{INK, number, path};
use crate::units::rounded;
use maud::{Markup, html};

/// The longest the bar may be.
const LONGEST: f64 = 160.0;

/// A bar of a round number of mm.
pub(super) fn draw(scale: f64, y: f64) -> Markup {
    let mm = round_below(LONGEST / scale);
    let end = 8.0 + (mm * scale).min(LONGEST);
    let line = [[8.0, y], [8.0, y + 8.0], [end, y + 8.0], [end, y]];
    html! {
        g class="scale-bar" data-mm=(mm) {
            path d=(path(&line, false)) fill="none" stroke=(INK) stroke-width="1.25" {}
            text x=(number(end + 8.0)) y=(number(y + 11.0)) { (rounded(mm, 4)) " mm" }
        }
    }
}
