//! The night view: a still, and frames that move only when asked.

use super::{ticked, words};
use crate::render::plot;
use crate::report::evidence::NightView;
use maud::{Markup, PreEscaped, html};

const SCRIPT: &str = include_str!("night.js");

pub(super) fn section(view: &NightView) -> Markup {
    html! {
        @if view.lamps.is_empty() {
            section { h2 { (words::NIGHT) } p { (ticked(words::NO_NIGHT)) } }
        } @else {
            section id="night" data-frame-ms=(view.frame_ms) data-slowed=(view.slowed) {
                h2 { (words::NIGHT) }
                figure {
                    (plot::night::draw("night-view", words::NIGHT, view))
                    figcaption { (words::night(view)) }
                }
                @if view.flashes_in_a_second > 0 {
                    p class="caution" { (words::flash_caution(view)) span class="screen" { " " (words::speed(view)) } }
                    (controls())
                }
            }
        }
    }
}

/// Shown by the script alone: without it they would do nothing.
fn controls() -> Markup {
    html! {
        div id="night-controls" hidden {
            p id="night-still" hidden { (words::NO_MOTION) }
            p {
                button id="night-play" type="button" data-play=(words::PLAY) data-pause=(words::PAUSE) { (words::PLAY) }
                " " button id="night-back" type="button" { (words::BACK) }
                " " button id="night-step" type="button" { (words::NEXT) }
                " " output id="night-frame" data-still=(words::STILL) { (words::STILL) }
            }
        }
        script { (PreEscaped(SCRIPT)) }
    }
}
