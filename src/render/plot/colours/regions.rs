//! Published regions: outlines told apart by their dashes, with names beside them.

use super::super::fit::bounds;
use super::super::labels::{Room, leader};
use super::super::lettering::{cut, width};
use super::super::style::{INK, SOFT, number, path, rgb};
use super::axes::{at, away};
use super::tint;
use crate::report::evidence::{ColourChart, ColourRegion};
use maud::{Markup, html};

/// How outlines are dashed, in order.
const DASHES: [&str; 6] = ["none", "7 3", "2 2.5", "10 3 2 3", "4 2", "12 3 2 3 2 3"];
/// The widest a name may be.
const NAME_ROOM: f64 = 190.0;
/// How long the sample of the dash before a name is.
const SAMPLE: f64 = 22.0;

/// The regions themselves.
pub(super) fn areas(chart: &ColourChart) -> Markup {
    html! {
        @for (n, region) in chart.regions.iter().enumerate() {
            @let points = drawn(region);
            @if !points.is_empty() {
                path class="region" d=(path(&points, true)) fill=(rgb(tint::of(middle(&region.outline)))) fill-opacity="0.7"
                    stroke=(INK) stroke-width="1.25" stroke-dasharray=(dash(n)) stroke-linejoin="round" {
                    title { (region.name) }
                }
            }
        }
    }
}

/// Takes their outlines' places, so that words stand beside them.
pub(super) fn take(chart: &ColourChart, room: &mut Room) {
    chart.regions.iter().for_each(|region| room.take_line(&drawn(region), true));
}

/// Their names.
pub(super) fn names(chart: &ColourChart, room: &mut Room) -> Markup {
    html! { @for (n, region) in chart.regions.iter().enumerate() { (name(n, region, room)) } }
}

fn name(n: usize, region: &ColourRegion, room: &mut Room) -> Markup {
    let points = drawn(region);
    let Some(around) = bounds(&points) else { return html! {} };
    let text = cut(&region.name, NAME_ROOM, 14.0);
    let size = [width(&text, 14.0) + SAMPLE + 6.0, 16.0];
    let centre = [(around[0] + around[2]) / 2.0, (around[1] + around[3]) / 2.0];
    let [x, y] = room.place(around, size, away(centre));
    let left = x - size[0] / 2.0;
    let foot = points.iter().copied().min_by(|a, b| far(*a, [x, y]).total_cmp(&far(*b, [x, y]))).unwrap_or(centre);
    html! {
        g class="region-name" {
            @if let Some(line) = leader(foot, [x, y], [0.8 * size[0], size[1]], 12.0) {
                path d=(path(&line, false)) stroke=(SOFT) stroke-width="0.75" fill="none" {}
            }
            path d=(path(&[[left, y], [left + SAMPLE, y]], false)) stroke=(INK) stroke-width="1.25"
                stroke-dasharray=(dash(n)) fill="none" {}
            text x=(number(left + SAMPLE + 6.0)) y=(number(y + 5.0)) stroke="#ffffff" stroke-width="3"
                stroke-linejoin="round" paint-order="stroke" { (text) }
        }
    }
}

fn dash(n: usize) -> &'static str {
    DASHES[n % DASHES.len()]
}

fn drawn(region: &ColourRegion) -> Vec<[f64; 2]> {
    region.outline.iter().filter_map(|xy| at(*xy)).collect()
}

fn middle(outline: &[[f64; 2]]) -> [f64; 2] {
    let inside: Vec<_> = outline.iter().filter(|xy| at(**xy).is_some()).collect();
    let mean = |n: usize| inside.iter().map(|p| p[n]).sum::<f64>() / inside.len() as f64;
    [mean(0), mean(1)]
}

fn far(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}
