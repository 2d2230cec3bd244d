//! The azimuths a lamp's light is asked over, and where it is hidden.

use super::super::fit::Fit;
use super::super::hatch::Hatch;
use super::super::hue::dash;
use super::super::labels::Room;
use super::super::style::{INK, SOFT, path};
use super::face::Face;
use crate::report::evidence::PlacedLamp;
use maud::{Markup, html};

/// How far a sector reaches, by letter: sectors of lamps at one place stay apart.
fn radius(face: &Face, lamp: &PlacedLamp) -> f64 {
    let usual = match lamp.hue.letter {
        'R' => 60.0,
        'G' => 56.0,
        'W' => 48.0,
        _ => 40.0,
    };
    usual * face.size.share
}

/// The sectors of every lamp of a view.
pub(super) fn draw(id: &str, face: &Face, fit: Fit) -> Markup {
    html! {
        @for (lamp, at) in &face.lamps {
            @let (at, far) = (fit.at(*at), radius(face, lamp));
            @if let Some(asked) = lamp.asked_deg.and_then(|a| wedge(a, at, far)) {
                path class="asked" d=(path(&asked, true)) fill="none" stroke=(SOFT)
                    stroke-dasharray=(dash(lamp.hue.letter)) {}
            }
            @for (n, hidden) in lamp.hidden_deg.iter().filter_map(|h| wedge(*h, at, far)).enumerate() {
                @let clip = format!("{id}-hidden-{}-{n}", lamp.number);
                clipPath id=(clip) { path d=(path(&hidden, true)) {} }
                path class="hidden" d=(path(&hidden, true)) fill="#ffffff" fill-opacity="0.6" stroke=(INK) stroke-width="0.75" {}
                path clip-path={ "url(#" (clip) ")" } stroke=(INK) stroke-width="1.3"
                    d=(Hatch::Rising.over([at[0] - far, at[1] - far, at[0] + far, at[1] + far], 2.0 + 5.0 * face.size.share)) {}
            }
        }
    }
}

/// Takes the places of the lines and of what is hatched, so that words stand beside them.
pub(super) fn take(face: &Face, fit: Fit, room: &mut Room) {
    for (lamp, at) in &face.lamps {
        let asked = lamp.asked_deg.and_then(|a| wedge(a, fit.at(*at), radius(face, lamp)));
        room.take_line(&asked.unwrap_or_default(), true);
        for hidden in lamp.hidden_deg.iter().filter_map(|h| wedge(*h, fit.at(*at), radius(face, lamp))) {
            hidden.iter().for_each(|rim| room.take_line(&[fit.at(*at), *rim], false));
        }
    }
}

/// The corners of a lamp's sectors.
pub(super) fn reach(face: &Face, lamp: &PlacedLamp, at: [f64; 2]) -> Vec<[f64; 2]> {
    let all = lamp.asked_deg.iter().chain(&lamp.hidden_deg);
    all.filter_map(|s| wedge(*s, at, radius(face, lamp))).flatten().collect()
}

/// A sector from one azimuth turning right to another: 0 is up, as the nose is; all round it has no middle.
fn wedge((from, to): (f64, f64), [x, y]: [f64; 2], far: f64) -> Option<Vec<[f64; 2]>> {
    let turn = if (to - from).abs() >= 360.0 { 360.0 } else { (to - from).rem_euclid(360.0) };
    (from.is_finite() && turn > 0.0).then(|| {
        let steps = (turn / 3.0).ceil().max(1.0);
        let rim = (0..=steps as u32).map(|n| (from + turn * f64::from(n) / steps).to_radians());
        let rim = rim.map(|a| [x + far * a.sin(), y - far * a.cos()]);
        if turn == 360.0 { rim.collect() } else { std::iter::once([x, y]).chain(rim).collect() }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn azimuths_turn_right_from_the_nose() {
        let quarter = wedge((0.0, 90.0), [100.0, 100.0], 10.0).expect("a sector");
        let near = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-9;
        assert!(near(quarter[0], [100.0, 100.0]) && near(quarter[1], [100.0, 90.0]));
        assert!(near(quarter[quarter.len() - 1], [110.0, 100.0]));
        // From 110 on the right round the tail to 110 on the left is 140, not 220.
        let astern = wedge((110.0, -110.0), [0.0, 0.0], 1.0).expect("a sector");
        assert!(astern.iter().any(|p| near(*p, [0.0, 1.0]) || p[1] > 0.99) && astern.iter().all(|p| p[1] > -1e-9));
    }

    #[test]
    fn no_sector_of_nothing() {
        for odd in [(0.0, 0.0), (f64::NAN, 1.0), (0.0, f64::NAN), (f64::NEG_INFINITY, 0.0)] {
            assert_eq!(wedge(odd, [0.0, 0.0], 1.0), None, "{odd:?}");
        }
        assert!(wedge((-180.0, 180.0), [0.0, 0.0], 1.0).is_some());
    }
}
