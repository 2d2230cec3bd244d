use super::*;
use crate::render::plot::sound::{check, check_small};
use crate::report::evidence::{Hue, PlacedLamp};

const ALL: [View; 3] = [View::Plan, View::Side, View::Front];

fn lamp(number: usize, place: [Option<f64>; 3]) -> PlacedLamp {
    let hue = Hue { letter: 'R', rgb: [200, 0, 0] };
    PlacedLamp {
        number,
        name: format!("lamp {number}"),
        place,
        asked_deg: Some((-110.0, 0.0)),
        hidden_deg: vec![],
        hue,
    }
}

fn views(lamps: Vec<PlacedLamp>) -> ThreeViews {
    let ring = |w: f64, h: f64| vec![vec![[-w, -h], [w, -h], [w, h], [-w, h]]];
    ThreeViews {
        from_mesh: false,
        plan: ring(800.0, 600.0),
        side: ring(600.0, 150.0),
        front: ring(800.0, 150.0),
        lamps,
    }
}

fn dots(svg: &str, view: &str) -> Vec<[f64; 2]> {
    let document = roxmltree::Document::parse(svg).expect("well-formed");
    let group = document.descendants().find(|n| n.attribute("data-view") == Some(view)).expect("a view");
    let of = |n: &roxmltree::Node, name: &str| n.attribute(name).and_then(|v| v.parse().ok()).expect("a number");
    group.descendants().filter(|n| n.has_tag_name("circle")).map(|n| [of(&n, "cx"), of(&n, "cy")]).collect()
}

/// A lamp ahead, on the left and above: up and left from above; left and up from the left; right and up from ahead.
#[test]
fn each_side_has_its_left_and_right() {
    let given = vec![lamp(1, [Some(0.0); 3]), lamp(2, [Some(500.0), Some(-700.0), Some(100.0)])];
    let svg = draw("v", "t", &views(given), &ALL).into_string();
    for (view, right, down) in
        [(words::VIEWS_PLAN, -1.0, -1.0), (words::VIEWS_SIDE, -1.0, -1.0), (words::VIEWS_FRONT, 1.0, -1.0)]
    {
        let at = dots(&svg, view);
        assert!((at[1][0] - at[0][0]) * right > 0.0 && (at[1][1] - at[0][1]) * down > 0.0, "{view}: {at:?}");
    }
}

/// 700 mm to the left and 500 mm forward are as 700 to 500 in any drawing to scale, in each view alike.
#[test]
fn one_scale_for_all() {
    let given = vec![lamp(1, [Some(0.0); 3]), lamp(2, [Some(500.0), Some(-700.0), Some(100.0)])];
    let svg = draw("v", "t", &views(given), &ALL).into_string();
    let apart = |view: &str| {
        let at = dots(&svg, view);
        [(at[1][0] - at[0][0]).abs(), (at[1][1] - at[0][1]).abs()]
    };
    let (plan, side, front) = (apart(words::VIEWS_PLAN), apart(words::VIEWS_SIDE), apart(words::VIEWS_FRONT));
    assert!((plan[0] / 700.0 - plan[1] / 500.0).abs() < 1e-4);
    assert!((plan[0] - front[0]).abs() < 0.03 && (plan[1] - side[0]).abs() < 0.03 && (side[1] - front[1]).abs() < 0.03);
}

#[test]
fn what_is_not_known_is_left_out() {
    let given = vec![lamp(7, [Some(100.0), Some(50.0), None])];
    let svg = draw("v", "t", &views(given), &ALL).into_string();
    let count = |view: &str| dots(&svg, view).len();
    assert_eq!((count(words::VIEWS_PLAN), count(words::VIEWS_SIDE), count(words::VIEWS_FRONT)), (1, 0, 0));
    assert!(!svg.contains(words::VIEWS_NO_PLACE));
    assert!(svg.contains(words::VIEWS_DECLARED) && svg.contains("data-number=\"7\"") && svg.contains(">7 R<"));
}

#[test]
fn nothing_and_nonsense_are_drawn_without_harm() {
    let (nan, inf) = (f64::NAN, f64::INFINITY);
    let odd = PlacedLamp {
        asked_deg: Some((nan, inf)),
        hidden_deg: vec![(inf, 0.0), (0.0, 1e300), (-180.0, 180.0)],
        ..lamp(usize::MAX, [Some(0.0); 3])
    };
    let heap: Vec<PlacedLamp> = (0..30).map(|n| lamp(n, [Some(1.0); 3])).collect();
    let far = vec![lamp(1, [Some(nan); 3]), lamp(2, [Some(inf); 3]), lamp(3, [Some(1e300); 3]), odd];
    for lamps in [vec![], heap, far, vec![lamp(1, [Some(5.0); 3])]] {
        let bare =
            ThreeViews { from_mesh: true, plan: vec![], side: vec![vec![]], front: vec![vec![[nan, inf]]], lamps };
        let whole = ThreeViews { lamps: bare.lamps.clone(), ..views(vec![]) };
        for which in [&ALL[..], &ALL[..2], &[]] {
            check(&draw("v", "t", &bare, which).into_string(), "v");
            check(&draw("v", "t", &whole, which).into_string(), "v");
            check_small(&draw_small("v", "t", &bare, which).into_string(), "v");
            check_small(&draw_small("v", "t", &whole, which).into_string(), "v");
        }
    }
}

#[test]
fn without_places_and_outline_one_line_says_so() {
    let bare = ThreeViews { lamps: vec![lamp(1, [None; 3])], ..ThreeViews::default() };
    for svg in [draw("v", "t", &bare, &ALL), draw_small("v", "t", &bare, &ALL)].map(maud::Markup::into_string) {
        assert!(svg.contains(words::VIEWS_NO_PLACE));
        for left_out in ["scale-bar", "data-view", words::VIEWS_DECLARED] {
            assert!(!svg.contains(left_out), "{left_out}");
        }
    }
}

#[test]
fn a_place_in_one_direction_alone_is_no_place_in_a_view() {
    let given = ThreeViews { lamps: vec![lamp(1, [None, Some(9.0), None])], ..ThreeViews::default() };
    let svg = draw("v", "t", &given, &ALL).into_string();
    assert!(!svg.contains(words::VIEWS_NO_PLACE) && svg.contains(words::VIEWS_PARTLY));
}

#[test]
fn views_without_anything_in_them_are_left_out() {
    let given = ThreeViews { lamps: vec![lamp(1, [Some(100.0), Some(50.0), None])], ..ThreeViews::default() };
    for svg in [draw("v", "t", &given, &ALL), draw_small("v", "t", &given, &ALL)].map(maud::Markup::into_string) {
        assert_eq!(svg.matches("data-view").count(), 1);
        assert!(!svg.contains(words::VIEWS_DECLARED) && svg.contains("scale-bar"));
    }
}

/// The same 700 to 500 mm as in a large drawing.
#[test]
fn small_views_are_to_scale_and_low() {
    let given = vec![lamp(1, [Some(0.0); 3]), lamp(2, [Some(500.0), Some(-700.0), Some(100.0)])];
    let svg = draw_small("v", "t", &views(given), &ALL[..2]).into_string();
    check_small(&svg, "v");
    let at = dots(&svg, words::VIEWS_PLAN);
    assert!(((at[1][0] - at[0][0]).abs() / 700.0 - (at[1][1] - at[0][1]).abs() / 500.0).abs() < 1e-4);
    let document = roxmltree::Document::parse(&svg).expect("well-formed");
    let size = document.root_element().attribute("viewBox").expect("a box");
    let high: f64 = size.split(' ').next_back().and_then(|v| v.parse().ok()).expect("a height");
    assert!(high <= 211.0, "{high}");
}
