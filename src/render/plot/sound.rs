//! What every drawing must be, for tests.

use super::style::WIDTH;

/// Well-formed, every number finite and within the drawing, every id and link its own, text large enough, nothing that moves.
pub(super) fn check(svg: &str, id: &str) {
    let document = roxmltree::Document::parse(svg).expect("well-formed");
    let root = document.root_element();
    let size: Vec<f64> = root.attribute("viewBox").expect("a box").split(' ').map(number).collect();
    let high = size[3];
    assert!(size[2] == WIDTH && high > 20.0 && high < 20000.0, "{size:?}");
    assert!(root.attribute("width").is_none() && root.attribute("height").is_none());
    for node in root.descendants().filter(roxmltree::Node::is_element) {
        let name = node.tag_name().name();
        assert!(
            !["style", "script", "animate", "animateTransform", "set", "image", "a", "use"].contains(&name),
            "{name}"
        );
        for attribute in node.attributes() {
            attribute_is_sound(id, attribute.name(), attribute.value(), high);
        }
        if name == "text" {
            text_is_inside(&node);
        }
    }
}

fn attribute_is_sound(id: &str, name: &str, value: &str, high: f64) {
    match name {
        "id" => assert!(value == id || value.starts_with(&format!("{id}-")), "{value}"),
        "x" | "cx" | "x1" | "x2" => assert!((0.0..=WIDTH).contains(&number(value)), "{name} {value}"),
        "y" | "cy" | "y1" | "y2" => assert!((0.0..=high).contains(&number(value)), "{name} {value} of {high}"),
        "r" | "width" | "height" if !value.ends_with('%') => assert!((0.0..20000.0).contains(&number(value))),
        "font-size" => assert!(number(value) >= 12.0),
        "href" => panic!("a link"),
        "d" => {
            let numbers = value.split(['M', 'L', 'Z', ' ']).filter(|t| !t.is_empty()).map(number);
            for (n, v) in numbers.enumerate() {
                let most = if n % 2 == 0 { WIDTH } else { high };
                assert!((0.0..=most).contains(&v), "{v} of {most} in {value}");
            }
        }
        _ if value.starts_with("url(") => assert!(value.starts_with(&format!("url(#{id}-")), "{value}"),
        _ => {}
    }
}

/// A text's ends stay inside, taking letters for half as wide as high.
fn text_is_inside(node: &roxmltree::Node) {
    let of = |name: &str, usual: f64| node.attribute(name).map_or(usual, number);
    let text: String = node.descendants().filter(|n| n.is_text()).filter_map(|n| n.text()).collect();
    let wide = text.chars().count() as f64 * 0.5 * of("font-size", 14.0);
    let left = match node.attribute("text-anchor") {
        Some("middle") => of("x", 0.0) - wide / 2.0,
        Some("end") => of("x", 0.0) - wide,
        _ => of("x", 0.0),
    };
    assert!(left >= 0.0 && left + wide <= WIDTH, "`{text}` from {left} to {}", left + wide);
}

fn number(text: &str) -> f64 {
    let value: f64 = text.parse().unwrap_or_else(|_| panic!("`{text}` is no number"));
    assert!(value.is_finite(), "{text}");
    value
}
