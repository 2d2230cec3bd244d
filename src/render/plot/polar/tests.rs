use super::*;
use crate::report::evidence::Plane;
use crate::units::Interval;

fn drawn(plane: Plane, points: Vec<PolarPoint>, worst_deg: Option<f64>) -> String {
    draw("p", "A title", &Polar { plane, points, worst_deg }).into_string()
}

fn point(angle_deg: f64, low: f64, high: f64, floor: Option<f64>, ceiling: Option<f64>) -> PolarPoint {
    PolarPoint { angle_deg, found: Interval { low, high }, floor, ceiling }
}

/// Every coordinate of an attribute's numbers, as text.
fn sound(svg: &str) {
    let tree = roxmltree::Document::parse(svg).expect("well-formed");
    for node in tree.descendants() {
        for attribute in node.attributes().filter(|a| !["aria-labelledby", "id"].contains(&a.name())) {
            let value = attribute.value();
            assert!(!value.contains("NaN") && !value.contains("inf"), "{}={value}", attribute.name());
        }
        let id = node.attribute("id").unwrap_or("p");
        assert!(id == "p" || id.starts_with("p-"), "{id}");
    }
}

#[test]
fn nothing_found_is_drawn_and_said() {
    let svg = drawn(Plane::Horizontal, vec![], None);
    sound(&svg);
    assert!(svg.contains("Nothing was found."));
}

#[test]
fn what_is_no_number_or_has_no_end_is_drawn_and_said() {
    let odd = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -0.0, -4.0, 1e-320, f64::MAX];
    for a in odd {
        for b in odd {
            let points = vec![
                point(a, b, a, Some(a), Some(b)),
                point(0.0, a, b, Some(b), None),
                point(90.0, a, b, None, Some(a)),
            ];
            for plane in [Plane::Horizontal, Plane::Vertical { azimuth_deg: a }] {
                sound(&drawn(plane, points.clone(), Some(b)));
            }
        }
    }
    let svg = drawn(Plane::Horizontal, vec![point(0.0, 1.0, f64::INFINITY, None, None)], None);
    assert!(svg.contains("runs to the rim"));
}

#[test]
fn the_description_says_the_figures_given() {
    let points = vec![
        point(-90.0, 2.0, 33.0, None, None),
        point(0.0, 7.0, 55.0, Some(40.0), None),
        point(90.0, 7.0, 55.0, None, Some(11.0)),
    ];
    let svg = drawn(Plane::Horizontal, points, Some(0.0));
    let tree = roxmltree::Document::parse(&svg).expect("well-formed");
    let told = tree.descendants().find(|n| n.has_tag_name("desc")).and_then(|n| n.text()).expect("told");
    for part in ["from 2 to 55", "asked at the least: 40", "allowed at the most: 11", "worst direction: ahead"] {
        assert!(told.contains(part), "{told}");
    }
}

#[test]
fn an_upright_plane_without_a_floor_says_so() {
    let said = |plane, floor| drawn(plane, vec![point(0.0, 7.0, 55.0, floor, Some(90.0))], None);
    let upright = Plane::Vertical { azimuth_deg: 0.0 };
    assert!(said(upright, None).contains("Nothing is asked in this plane."));
    assert!(!said(upright, Some(40.0)).contains("Nothing is asked"));
    assert!(!said(Plane::Horizontal, None).contains("Nothing is asked"));
}
