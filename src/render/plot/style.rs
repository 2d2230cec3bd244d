//! What all figures share: size, words for readers who do not see them, colours that colour-blind readers tell apart.

use maud::{Markup, html};

/// How wide a figure's drawing is, in its own units; text in it is 14 high, and a page may show it at any width.
pub(in crate::render) const WIDTH: f64 = 560.0;
/// How wide a small drawing is: on a first page of 88 mm a unit prints as 0.756 pt.
pub(in crate::render) const SMALL_WIDTH: f64 = 330.0;
/// How high its letters are.
pub(in crate::render) const SMALL_LETTERS: f64 = 9.5;
/// Lines and words.
pub(in crate::render) const INK: &str = "#1b1b1b";
/// Axes and second words.
pub(in crate::render) const SOFT: &str = "#5f5f5f";
/// Grids.
pub(in crate::render) const FAINT: &str = "#d4d4d4";
/// What was found (Okabe and Ito's blue).
pub(in crate::render) const FOUND: &str = "#0072b2";
/// What is asked at the least (their green).
pub(in crate::render) const FLOOR: &str = "#00795a";
/// What is allowed at the most (their vermilion).
pub(in crate::render) const CEILING: &str = "#c04a00";
/// What cannot be told (their orange).
pub(in crate::render) const UNSURE: &str = "#e69f00";

/// A drawing of the usual width.
pub(in crate::render) fn drawing(id: &str, height: f64, title: &str, description: &str, body: &Markup) -> Markup {
    drawing_of_width(id, [WIDTH, height], 14.0, [title, description], body)
}

/// A drawing with a name and a description for readers who do not see it; ids carry the figure's so that none stands twice.
pub(in crate::render) fn drawing_of_width(
    id: &str,
    [width, height]: [f64; 2],
    letters: f64,
    [title, description]: [&str; 2],
    body: &Markup,
) -> Markup {
    let (name, told) = (format!("{id}-name"), format!("{id}-told"));
    html! {
        svg id=(id) class="drawing" xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby={ (name) " " (told) }
            viewBox={ "0 0 " (number(width)) " " (number(height)) } font-size=(number(letters)) fill=(INK) {
            title id=(name) { (title) }
            desc id=(told) { (description) }
            (body)
        }
    }
}

/// A coordinate, to a hundredth.
pub(in crate::render) fn number(x: f64) -> String {
    let rounded = (x * 100.0).round() / 100.0;
    // No -0.
    format!("{}", rounded + 0.0)
}

/// A path through points, closed or open.
pub(in crate::render) fn path(points: &[[f64; 2]], closed: bool) -> String {
    let mut d = String::new();
    for (n, [x, y]) in points.iter().enumerate() {
        d.push(if n == 0 { 'M' } else { 'L' });
        d.push_str(&number(*x));
        d.push(' ');
        d.push_str(&number(*y));
    }
    if closed && !d.is_empty() {
        d.push('Z');
    }
    d
}

/// A colour as SVG writes it.
pub(in crate::render) fn rgb([r, g, b]: [u8; 3]) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}
