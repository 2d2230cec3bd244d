use super::*;
use crate::render::plot::sound::check;
use crate::report::evidence::Hue;
use crate::units::Interval;

fn lamp(name: &str, at: [f64; 2], cd: Interval, lux: Interval) -> NightLamp {
    let hue = Hue { letter: 'G', rgb: [0, 160, 80] };
    NightLamp { number: 3, name: name.into(), at, cd, lux, levels: vec![0.25, 1.0, 0.123_456_789_012], hue }
}

fn night(lamps: Vec<NightLamp>) -> NightView {
    NightView {
        unplaced: Vec::new(),
        azimuth_deg: -30.0,
        elevation_deg: 5.0,
        distance_m: (40.0, 480.0),
        outline: vec![vec![[-700.0, 0.0], [700.0, 0.0], [0.0, 200.0]]],
        lamps,
        frame_ms: 12.5,
        slowed: 2.0,
        flashes_in_a_second: 6,
    }
}

fn attributes(svg: &str, of: &str, name: &str) -> Vec<String> {
    let document = roxmltree::Document::parse(svg).expect("well-formed");
    let found = document.descendants().filter(|n| n.attribute("class") == Some(of));
    found.filter_map(|n| n.attribute(name).map(String::from)).collect()
}

#[test]
fn data_is_what_was_given() {
    let one = lamp("tip", [10.0, 20.0], Interval::exactly(3.0), Interval::exactly(1e-4));
    let svg = draw("n", "t", &night(vec![one.clone()])).into_string();
    let levels = attributes(&svg, "night-lamp", "data-levels");
    let levels: Vec<f64> = levels[0].split(' ').map(|l| l.parse().expect("a number")).collect();
    assert_eq!(levels, one.levels);
    assert_eq!(attributes(&svg, "night-lamp", "data-lamp"), ["tip"]);
    assert_eq!(attributes(&svg, "night-lamps", "data-flashes-in-a-second"), ["6"]);
    assert!(attributes(&svg, "night-lamps", "data-frame-ms").is_empty() && svg.contains(">3 G<"));
}

#[test]
fn dark_lamps_are_not_drawn_and_doubtful_ones_are_rings() {
    let lux = Interval::new(0.0, 1e-3);
    let dark = lamp("dark", [0.0; 2], Interval::ZERO, Interval::ZERO);
    let doubtful = lamp("doubtful", [0.0; 2], Interval::new(0.0, 5.0), lux);
    let never = NightLamp { levels: vec![0.0, 0.0], ..lamp("never", [0.0; 2], Interval::exactly(5.0), lux) };
    let svg = draw("n", "t", &night(vec![dark, doubtful, never])).into_string();
    assert_eq!(attributes(&svg, "night-lamp", "data-lamp"), ["doubtful"]);
    assert!(svg.contains("stroke-dasharray"));
}

/// What is up for the observer is up in the drawing.
#[test]
fn up_is_up() {
    let (cd, lux) = (Interval::exactly(1.0), Interval::exactly(1e-3));
    let svg = draw("n", "t", &night(vec![lamp("low", [0.0, 0.0], cd, lux), lamp("high", [300.0, 200.0], cd, lux)]));
    let svg = svg.into_string();
    let document = roxmltree::Document::parse(&svg).expect("well-formed");
    let at = |name: &str| {
        let group = document.descendants().find(|n| n.attribute("data-lamp") == Some(name)).expect("a lamp");
        let disc = group.descendants().find(|n| n.has_tag_name("circle")).expect("a disc");
        ["cx", "cy"].map(|a| disc.attribute(a).and_then(|v| v.parse::<f64>().ok()).expect("a number"))
    };
    let (low, high) = (at("low"), at("high"));
    assert!(high[0] > low[0] && high[1] < low[1], "{low:?} {high:?}");
}

/// Equal ratios of light are equal steps of size, as a logarithm has it.
#[test]
fn glows_grow_with_the_logarithm() {
    let size = |lux: f64| glow::radius(&lamp("x", [0.0; 2], Interval::exactly(1.0), Interval::exactly(lux)));
    let (a, b, c) = (size(1e-5), size(1e-4), size(1e-3));
    assert!(a < b && (b - a - (c - b)).abs() < 1e-9);
    assert!((2.0..=14.0).contains(&size(1e-300)) && (2.0..=14.0).contains(&size(1e300)));
}

#[test]
fn nothing_and_nonsense_are_drawn_without_harm() {
    let (nan, inf) = (f64::NAN, f64::INFINITY);
    let all = Interval { low: nan, high: inf };
    let odd = vec![
        lamp("a<&", [nan, 0.0], all, all),
        lamp("b", [inf, 0.0], Interval::exactly(inf), all),
        lamp("c", [1.0, 1.0], Interval::exactly(inf), Interval::exactly(inf)),
        NightLamp { levels: vec![nan, inf], ..lamp("d", [1e9, 1.0], all, all) },
        NightLamp { levels: vec![], ..lamp("e", [1.0, 1.0], all, all) },
    ];
    let heap = vec![lamp("f", [1.0, 1.0], Interval::exactly(1.0), Interval::exactly(1.0)); 20];
    for lamps in [vec![], odd, heap] {
        let mut view = night(lamps);
        check(&draw("n", "t", &view).into_string(), "n");
        (view.azimuth_deg, view.elevation_deg, view.distance_m) = (nan, inf, (inf, nan));
        (view.outline, view.frame_ms) = (vec![vec![], vec![[nan, inf]], vec![[0.0, 0.0]]], nan);
        check(&draw("n", "t", &view).into_string(), "n");
    }
}

#[test]
fn lamps_at_one_place_stand_beside_each_other() {
    let (cd, lux) = (Interval::exactly(1.0), Interval::exactly(1e-4));
    let heap: Vec<NightLamp> = (0..4).map(|n| lamp(&n.to_string(), [5.0, 5.0], cd, lux)).collect();
    let svg = draw("n", "t", &night(heap)).into_string();
    let document = roxmltree::Document::parse(&svg).expect("well-formed");
    let lamps = document.descendants().filter(|n| n.attribute("class") == Some("night-lamp"));
    let discs = lamps.filter_map(|l| l.descendants().find(|n| n.has_tag_name("circle")));
    let of = |n: &roxmltree::Node, name: &str| n.attribute(name).and_then(|v| v.parse::<f64>().ok()).expect("a number");
    let at: Vec<[f64; 2]> = discs.map(|d| [of(&d, "cx"), of(&d, "cy")]).collect();
    for (n, a) in at.iter().enumerate() {
        assert!(at[..n].iter().all(|b| (a[0] - b[0]).hypot(a[1] - b[1]) > 8.0), "{at:?}");
    }
    assert_eq!(at.len(), 4);
}
