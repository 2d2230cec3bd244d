//! The signs of verdicts: shapes that differ, not colours alone.

use super::super::style::{CEILING, FLOOR, SOFT, UNSURE, number};
use crate::judge::Verdict;
use maud::{Markup, html};

/// A filled disc is met, a cross missed, an open diamond cannot tell, a dash not applicable.
pub(super) fn draw([x, y]: [f64; 2], verdict: Verdict) -> Markup {
    let at = format!("translate({} {})", number(x), number(y));
    html! {
        g transform=(at) {
            @match verdict {
                Verdict::Met => circle r="5" fill=(FLOOR) {},
                Verdict::Missed => path d="M-5 -5L5 5M-5 5L5 -5" stroke=(CEILING) stroke-width="3" {},
                Verdict::CannotTell => {
                    path d="M0 -6L6 0L0 6L-6 0Z" fill="#fff" stroke=(UNSURE) stroke-width="2.25" {}
                },
                Verdict::NotApplicable => path d="M-5 0H5" stroke=(SOFT) stroke-width="2" {},
            }
        }
    }
}
