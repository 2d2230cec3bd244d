//! The whole sphere around the craft: what becomes of its lights in every direction.

mod covers;
mod fields;
mod graticule;
mod legend;
mod marks;
mod mollweide;

use super::style::drawing;
use crate::report::evidence::SphereMap;
use maud::{Markup, html};

/// Draws a map of the sphere.
pub(in crate::render) fn draw(id: &str, title: &str, map: &SphereMap) -> Markup {
    let spots = marks::spots(&map.worst);
    let (below, height) = legend::draw(map, &spots);
    let body = html! {
        (fields::draw(id, &map.fields))
        (graticule::lines())
        (marks::draw(&spots))
        (graticule::labels())
        (below)
    };
    drawing(id, height, title, &legend::told(map, &spots), &body)
}

#[cfg(test)]
mod tests;
