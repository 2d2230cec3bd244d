//! The bar that tells the scale.

use super::super::fit::round_below;
use super::super::style::{INK, number, path};
use super::face::Size;
use crate::units::rounded;
use maud::{Markup, html};

/// The longest the bar may be.
const LONGEST: f64 = 160.0;

/// A bar of a round number of mm.
pub(super) fn draw(scale: f64, y: f64, size: Size) -> Markup {
    let (longest, high) = (LONGEST * size.share, 8.0 * size.share);
    let mm = round_below(longest / scale);
    let end = 8.0 + (mm * scale).min(longest);
    let line = [[8.0, y], [8.0, y + high], [end, y + high], [end, y]];
    html! {
        g class="scale-bar" data-mm=(mm) {
            path d=(path(&line, false)) fill="none" stroke=(INK) stroke-width="1.25" {}
            text x=(number(end + 8.0)) y=(number(y + high + 3.0)) { (rounded(mm, 4)) " mm" }
        }
    }
}
