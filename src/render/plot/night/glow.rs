//! A lamp as a glow that grows with the logarithm of the light at the eye, as brightness does to it.

use super::super::labels::{Room, about};
use super::super::lettering::{name, width};
use super::super::style::{number, rgb};
use super::{PALE, greatest};
use crate::photometry::NIGHT_THRESHOLD_LX as FAINTEST_LX;
use crate::report::evidence::NightLamp;
use maud::{Markup, html};

/// The light whose glow is largest, in lux; that of what is just seen is smallest.
const STRONGEST_LX: f64 = 1.0;
/// How large they are.
const RADII: [f64; 2] = [2.0, 14.0];
/// How much larger the halo is.
const HALO: f64 = 2.2;

/// The radius of a lamp's disc.
pub(super) fn radius(lamp: &NightLamp) -> f64 {
    let lux = if lamp.lux.high.is_finite() { lamp.lux.high } else { lamp.lux.low };
    let share = (lux * greatest(lamp) / FAINTEST_LX).log10() / (STRONGEST_LX / FAINTEST_LX).log10();
    let share = if share.is_nan() { 0.0 } else { share.clamp(0.0, 1.0) };
    RADII[0] + share * (RADII[1] - RADII[0])
}

/// Whether it may as well not be seen.
pub(super) fn unsure(lamp: &NightLamp) -> bool {
    lamp.cd.low <= 0.0 || lamp.cd.low.is_nan()
}

/// The halos' gradients, one per colour.
pub(super) fn gradients(id: &str, lamps: &[&NightLamp]) -> Markup {
    let colours: std::collections::BTreeSet<[u8; 3]> = lamps.iter().map(|l| l.hue.rgb).collect();
    html! {
        defs {
            @for colour in colours {
                @let hue = rgb(colour);
                radialGradient id=(gradient(id, colour)) {
                    stop offset="0" stop-color=(hue) stop-opacity="0.95" {}
                    stop offset="0.35" stop-color=(hue) stop-opacity="0.6" {}
                    stop offset="1" stop-color=(hue) stop-opacity="0" {}
                }
            }
        }
    }
}

/// One lamp with its number and letter.
pub(super) fn draw(id: &str, lamp: &NightLamp, [x, y]: [f64; 2], room: &mut Room) -> Markup {
    let r = radius(lamp);
    let text = format!("{} {}", lamp.number, lamp.hue.letter);
    let word = room.place(about([x, y], [2.0 * r + 4.0; 2]), [width(&text, 13.0), 13.0], [1.0, 0.4]);
    let levels: Vec<String> = lamp.levels.iter().map(f64::to_string).collect();
    html! {
        g class="night-lamp" data-lamp=(name(&lamp.name)) data-number=(lamp.number) data-levels=(levels.join(" ")) {
            title { (lamp.number) " " (name(&lamp.name)) }
            @if unsure(lamp) {
                circle cx=(number(x)) cy=(number(y)) r=(number(r.max(4.0))) fill="none" stroke=(rgb(lamp.hue.rgb))
                    stroke-width="1.5" stroke-dasharray="3 2.5" {}
            } @else {
                circle cx=(number(x)) cy=(number(y)) r=(number(HALO * r)) fill={ "url(#" (gradient(id, lamp.hue.rgb)) ")" } {}
                circle cx=(number(x)) cy=(number(y)) r=(number(r)) fill=(rgb(lamp.hue.rgb)) {}
                circle cx=(number(x)) cy=(number(y)) r=(number(0.55 * r)) fill="#fffdf7" fill-opacity="0.9" {}
            }
            text x=(number(word[0])) y=(number(word[1] + 4.5)) font-size="13" text-anchor="middle" fill=(PALE) {
                (text)
            }
        }
    }
}

fn gradient(id: &str, colour: [u8; 3]) -> String {
    format!("{id}-glow-{}", rgb(colour).trim_start_matches('#'))
}
