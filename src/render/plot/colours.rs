//! Colours of lamps and published regions in the CIE 1931 x, y diagram.

mod axes;
mod key;
mod lamps;
mod regions;
mod tint;

use super::labels::Room;
use super::lettering::name;
use super::{style, words};
use crate::report::evidence::ColourChart;
use axes::{BOTTOM, LEFT, RIGHT, TOP};
use maud::{Markup, html};

/// Draws the chart.
pub(in crate::render) fn draw(id: &str, title: &str, chart: &ColourChart) -> Markup {
    let (key, height) = key::draw(&chart.lamps, BOTTOM + 64.0);
    let mut room = Room::new([LEFT + 2.0, TOP, RIGHT + 16.0, BOTTOM - 2.0]);
    let areas = regions::areas(chart);
    lamps::take(&chart.lamps, &mut room);
    axes::take(chart, &mut room);
    regions::take(chart, &mut room);
    let marks = lamps::draw(&chart.lamps, &mut room);
    let spectrum = axes::spectrum(&chart.locus, &mut room);
    let names = regions::names(chart, &mut room);
    let planck = axes::planck(&chart.planck, &mut room);
    let body = html! {
        (axes::axes()) (areas) (spectrum) (planck) (names) (marks) (key)
    };
    style::drawing(id, height, title, &told(chart), &body)
}

/// What the drawing says, in words.
fn told(chart: &ColourChart) -> String {
    let lamp = |(n, mark): (usize, &_)| format!("{}: {}", n + 1, key::told(mark));
    let lamps: Vec<String> = chart.lamps.iter().enumerate().map(lamp).collect();
    let regions: Vec<String> = chart.regions.iter().map(|r| name(&r.name)).collect();
    format!("{} {}. {}", words::COLOURS_TOLD, regions.join("; "), lamps.join("; "))
}

#[cfg(test)]
mod tests;
