//! What the map says in words: the key below it, and its description for readers who do not see it.

use super::super::key::{self, Entry, HIGH, SAMPLE};
use super::super::lettering::on_top;
use super::super::style::{INK, SOFT, number};
use super::super::words::sphere as words;
use super::covers::{ALL, Look, look};
use super::marks::{Spot, ring};
use super::mollweide::{CENTRE, HALF};
use crate::report::evidence::{Cover, SphereMap};
use crate::units::{Azimuth, Elevation, rounded};
use maud::{Markup, html};

/// The key, and where it ends.
pub(super) fn draw(map: &SphereMap, spots: &[Spot]) -> (Markup, f64) {
    let top = CENTRE[1] + HALF / 2.0 + 40.0;
    let covers: Vec<Entry> = occurring(map).map(|c| (swatch(&look(c)), phrase(map, c))).collect();
    let (covers, end) = key::draw(top, 2, &covers);
    if spots.is_empty() {
        return (covers, end);
    }
    let heading = on_top([4.0, end + 18.0], 14.0, "start", INK, &[words::WORST.into()]);
    let entry = |(n, spot): (usize, &Spot)| (ring([SAMPLE / 2.0, 7.0], n + 1), told_spot(spot));
    let spots: Vec<Entry> = spots.iter().enumerate().map(entry).collect();
    let (spots, end) = key::draw(end + 28.0, 1, &spots);
    (html! { (covers) (heading) (spots) }, end)
}

/// The covers there are, by area or by fields.
fn occurring(map: &SphereMap) -> impl Iterator<Item = Cover> {
    ALL.into_iter().filter(|c| area(map, *c).is_some() || map.fields.iter().flatten().any(|f| f == c))
}

fn area(map: &SphereMap, cover: Cover) -> Option<f64> {
    map.areas.iter().find(|(c, _)| *c == cover).map(|(_, sr)| *sr)
}

fn phrase(map: &SphereMap, cover: Cover) -> String {
    let words = look(cover).words;
    match area(map, cover).filter(|sr| sr.is_finite()) {
        Some(sr) => format!("{words}: {} sr", rounded(sr, 3)),
        None => words.to_string(),
    }
}

fn swatch(look: &Look) -> Markup {
    let [wide, high] = [SAMPLE, HIGH].map(number);
    html! {
        rect width=(wide) height=(high) fill=(look.fill) {}
        @if let Some((hatch, apart, colour, thick)) = look.lines {
            path d=(hatch.over([0.0, 0.0, SAMPLE, HIGH], 0.75 * apart)) stroke=(colour) stroke-width=(thick) stroke-linecap="round" fill="none" {}
        }
        rect width=(wide) height=(high) fill="none" stroke=(SOFT) stroke-width="0.75" {}
    }
}

fn told_spot(spot: &Spot) -> String {
    let (azimuth, elevation) = (Azimuth::from_deg(spot.azimuth_deg), Elevation::from_deg(spot.elevation_deg));
    format!("{} ({azimuth} and {elevation})", spot.goals.join("; "))
}

/// The map in words.
pub(super) fn told(map: &SphereMap, spots: &[Spot]) -> String {
    let mut parts = vec![words::MAP.to_string()];
    parts.extend(occurring(map).map(|c| phrase(map, c)));
    let told = parts.join("; ") + ".";
    if spots.is_empty() {
        return told;
    }
    let spots: Vec<String> = spots.iter().enumerate().map(|(n, s)| format!("{} {}", n + 1, told_spot(s))).collect();
    format!("{told} {}: {}.", words::WORST, spots.join("; "))
}
