//! Worst directions: numbered rings, moved aside where they would hide each other.

use super::super::style::{INK, number};
use super::graticule;
use super::mollweide::{CENTRE, HALF, place};
use maud::{Markup, html};

/// The radius of a ring.
const RING: f64 = 9.0;
/// Directions this close on the drawing share a number.
const SAME: f64 = 2.0;

/// A worst direction, or several in one place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Spot {
    pub(super) azimuth_deg: f64,
    pub(super) elevation_deg: f64,
    /// Where it is on the drawing.
    pub(super) at: [f64; 2],
    /// Where its number stands.
    pub(super) number_at: [f64; 2],
    /// The titles of the goals.
    pub(super) goals: Vec<String>,
}

/// The worst directions in the order of their numbers, from 1.
pub(super) fn spots(worst: &[(f64, f64, String)]) -> Vec<Spot> {
    let mut spots: Vec<Spot> = Vec::new();
    for (azimuth_deg, elevation_deg, goal) in worst {
        if !azimuth_deg.is_finite() || !elevation_deg.is_finite() {
            continue;
        }
        let turned = crate::units::Azimuth::from_deg(*azimuth_deg).deg();
        let at = place(turned, elevation_deg.clamp(-90.0, 90.0));
        match spots.iter_mut().find(|s| apart(s.at, at) < SAME) {
            Some(spot) => spot.goals.push(goal.clone()),
            None => {
                let number_at = free(at, &spots);
                let (azimuth_deg, elevation_deg) = (turned, *elevation_deg);
                spots.push(Spot { azimuth_deg, elevation_deg, at, number_at, goals: vec![goal.clone()] });
            }
        }
    }
    spots
}

fn apart([ax, ay]: [f64; 2], [bx, by]: [f64; 2]) -> f64 {
    (ax - bx).hypot(ay - by)
}

/// The place itself, or the nearest around it where no other number and no word stands and that is still on the map.
fn free(at: [f64; 2], spots: &[Spot]) -> [f64; 2] {
    let on_map = |[x, y]: [f64; 2]| ((x - CENTRE[0]) / HALF).hypot((y - CENTRE[1]) / HALF * 2.0) <= 1.0;
    let words = graticule::taken();
    let beside = |[x, y]: [f64; 2]| {
        words.iter().all(|[l, t, r, b]| x + RING < *l || x - RING > *r || y + RING < *t || y - RING > *b)
    };
    let open =
        |place: &[f64; 2]| beside(*place) && spots.iter().all(|s| apart(s.number_at, *place) >= 2.0 * RING + 2.0);
    let around = (1..=8).flat_map(|round| {
        (0..12).map(move |n| {
            let (sin, cos) = (f64::from(n) * 30.0).to_radians().sin_cos();
            let off = f64::from(round) * (2.0 * RING + 2.0);
            [at[0] + off * sin, at[1] - off * cos]
        })
    });
    std::iter::once(at).chain(around.filter(|p| on_map(*p))).find(open).unwrap_or(at)
}

/// The rings.
pub(super) fn draw(spots: &[Spot]) -> Markup {
    html! {
        @for spot in spots.iter().filter(|s| s.at != s.number_at) {
            path d=(super::super::style::path(&[spot.at, spot.number_at], false)) stroke=(INK) stroke-width="1.5" {}
            circle cx=(number(spot.at[0])) cy=(number(spot.at[1])) r="3.5" fill="#fff" stroke=(INK) stroke-width="1.75" {}
        }
        @for (n, spot) in spots.iter().enumerate() { (ring(spot.number_at, n + 1)) }
    }
}

/// A number in a ring.
pub(super) fn ring([x, y]: [f64; 2], n: usize) -> Markup {
    html! {
        circle cx=(number(x)) cy=(number(y)) r=(number(RING)) fill="#fff" stroke=(INK) stroke-width="1.75" {}
        text x=(number(x)) y=(number(y + 4.3)) font-size="12" font-weight="bold" text-anchor="middle" { (n) }
    }
}
