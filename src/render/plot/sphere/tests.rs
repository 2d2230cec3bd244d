use super::*;
use crate::report::evidence::Cover;

fn drawn(map: &SphereMap) -> String {
    let svg = draw("s", "A title", map).into_string();
    crate::render::plot::sound::check(&svg, "s");
    svg
}

fn told(svg: &str) -> String {
    let tree = roxmltree::Document::parse(svg).expect("well-formed");
    tree.descendants().find(|n| n.has_tag_name("desc")).and_then(|n| n.text()).expect("told").to_string()
}

#[test]
fn an_empty_map_is_a_map() {
    let svg = drawn(&SphereMap { step_deg: 3.0, fields: vec![], areas: vec![], worst: vec![] });
    assert!(!svg.contains("Worst directions"));
    drawn(&SphereMap { step_deg: 0.0, fields: vec![vec![]], areas: vec![], worst: vec![] });
}

#[test]
fn what_is_no_number_is_not_drawn() {
    let worst = [f64::NAN, f64::INFINITY, 1e300, -720.0].map(|a| (a, a, "a & b <c>".to_string()));
    let areas = vec![(Cover::Seen, f64::NAN), (Cover::Masked, f64::INFINITY)];
    let svg = drawn(&SphereMap { step_deg: f64::NAN, fields: vec![vec![Cover::Spill]], areas, worst: worst.to_vec() });
    assert!(svg.contains("more than allowed"));
}

#[test]
fn the_description_says_the_areas_and_the_goals_given() {
    let areas = vec![(Cover::Seen, 11.5), (Cover::Airframe, 1.07)];
    let worst =
        vec![(55.0, -10.0, "one goal".into()), (55.0, -10.0, "another".into()), (-120.0, 4.0, "a third".into())];
    let svg = drawn(&SphereMap { step_deg: 90.0, fields: vec![vec![Cover::Seen; 4]; 2], areas, worst });
    let told = told(&svg);
    for part in [
        "bright enough: 11.5 sr",
        "hidden by the airframe: 1.07 sr",
        "1 one goal; another (right 55 deg and down 10 deg)",
        "2 a third (left 120 deg and up 4 deg)",
    ] {
        assert!(told.contains(part), "{told}");
    }
}

#[test]
fn numbers_do_not_hide_each_other() {
    let near = |n: f64| (n, n, format!("goal {n}"));
    let spots = marks::spots(&[near(0.0), near(4.0), near(8.0), near(12.0)]);
    for (n, a) in spots.iter().enumerate() {
        for b in &spots[..n] {
            assert!((a.number_at[0] - b.number_at[0]).hypot(a.number_at[1] - b.number_at[1]) > 18.0);
        }
    }
}

/// A page with a few maps is to stay light: rows of twelve runs each, more than an airframe and its lamps make.
#[test]
fn a_map_in_fields_of_three_degrees_is_small() {
    let row: Vec<Cover> = (0..120).map(|n| if n / 10 % 2 == 0 { Cover::Short } else { Cover::Airframe }).collect();
    let svg = drawn(&SphereMap { step_deg: 3.0, fields: vec![row; 60], areas: vec![], worst: vec![] });
    assert!(svg.len() < 60_000, "{}", svg.len());
}

#[test]
fn numbers_do_not_stand_on_words() {
    let near = |azimuth: f64, elevation: f64| (azimuth, elevation, "a goal".to_string());
    for spot in marks::spots(&[near(5.0, -5.0), near(95.0, -6.0), near(-85.0, -6.0)]) {
        let [x, y] = spot.number_at;
        for [l, t, r, b] in graticule::taken() {
            let off = (x - x.clamp(l, r)).hypot(y - y.clamp(t, b));
            assert!(off >= 9.0 - 1e-9, "{spot:?}");
        }
    }
}

#[test]
fn what_is_not_asked_is_told_from_what_is_bright_enough() {
    let areas = vec![(Cover::Seen, 2.0), (Cover::NotAsked, 3.0)];
    let svg =
        drawn(&SphereMap { step_deg: 90.0, fields: vec![vec![Cover::Seen, Cover::NotAsked]], areas, worst: vec![] });
    assert!(told(&svg).contains("seen, bright enough: 2 sr; seen; nothing is asked there: 3 sr"));
}
