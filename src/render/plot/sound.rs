//! What every drawing must be, for tests.

use super::style::{SMALL_WIDTH, WIDTH};

/// What a drawing is held to.
#[derive(Clone, Copy)]
struct Held {
    wide: f64,
    high: f64,
    letters: f64,
}

/// Well-formed, every number finite and within the drawing, every id and link its own, text large enough, nothing that moves.
pub(super) fn check(svg: &str, id: &str) {
    check_of(svg, id, WIDTH, 12.0);
}

/// The same of a small drawing.
pub(super) fn check_small(svg: &str, id: &str) {
    check_of(svg, id, SMALL_WIDTH, 8.5);
}

fn check_of(svg: &str, id: &str, wide: f64, letters: f64) {
    let document = roxmltree::Document::parse(svg).expect("well-formed");
    let root = document.root_element();
    let size: Vec<f64> = root.attribute("viewBox").expect("a box").split(' ').map(number).collect();
    let high = size[3];
    let held = Held { wide, high, letters };
    assert!(size[2] == wide && high > 20.0 && high < 20000.0, "{size:?}");
    assert!(root.attribute("width").is_none() && root.attribute("height").is_none());
    for node in root.descendants().filter(roxmltree::Node::is_element) {
        let name = node.tag_name().name();
        assert!(!["style", "script", "animate", "animateTransform", "set", "image", "a"].contains(&name), "{name}");
        for attribute in node.attributes() {
            attribute_is_sound(id, attribute.name(), attribute.value(), held);
        }
        if name == "text" {
            text_is_inside(&node, wide);
        }
    }
}

fn attribute_is_sound(id: &str, name: &str, value: &str, held: Held) {
    let Held { wide, high, letters } = held;
    match name {
        "id" => assert!(value == id || value.starts_with(&format!("{id}-")), "{value}"),
        "x" | "cx" | "x1" | "x2" => assert!((0.0..=wide).contains(&number(value)), "{name} {value}"),
        "y" | "cy" | "y1" | "y2" => assert!((0.0..=high).contains(&number(value)), "{name} {value} of {high}"),
        "r" | "width" | "height" if !value.ends_with('%') => assert!((0.0..20000.0).contains(&number(value))),
        "font-size" => assert!(number(value) >= letters),
        "href" => assert!(value.starts_with(&format!("#{id}-")), "{value}"),
        "d" if value.chars().all(|c| "MLZ -.".contains(c) || c.is_ascii_digit()) => {
            let numbers = value.split(['M', 'L', 'Z', ' ']).filter(|t| !t.is_empty()).map(number);
            for (n, v) in numbers.enumerate() {
                let most = if n % 2 == 0 { wide } else { high };
                assert!((0.0..=most).contains(&v), "{v} of {most} in {value}");
            }
        }
        _ if value.starts_with("url(") => assert!(value.starts_with(&format!("url(#{id}-")), "{value}"),
        _ => {}
    }
}

/// The ends of a text's lines stay inside, taking letters for half as wide as high.
fn text_is_inside(node: &roxmltree::Node, room: f64) {
    for line in node.descendants().filter(roxmltree::Node::is_element) {
        let text: String = line.children().filter_map(|n| n.text().filter(|_| n.is_text())).collect();
        let nearest = |name: &str| line.ancestors().find_map(|n| n.attribute(name));
        let of = |name: &str| nearest(name).map_or(0.0, number);
        let wide = text.chars().count() as f64 * 0.5 * of("font-size");
        let left = match nearest("text-anchor") {
            Some("middle") => of("x") - wide / 2.0,
            Some("end") => of("x") - wide,
            _ => of("x"),
        };
        assert!(left >= 0.0 && left + wide <= room, "`{text}` from {left} to {}", left + wide);
    }
}

fn number(text: &str) -> f64 {
    let value: f64 = text.parse().unwrap_or_else(|_| panic!("`{text}` is no number"));
    assert!(value.is_finite(), "{text}");
    value
}
