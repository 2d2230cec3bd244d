use super::*;
use crate::render::plot::sound::{check, check_small};
use crate::report::evidence::{Hue, SeenRate, Track};
use crate::units::Interval;

const WHITE: Hue = Hue { letter: 'W', rgb: [255, 255, 255] };

fn track(corners: Vec<[f64; 2]>, flashes: Vec<[f64; 2]>) -> Track {
    Track {
        name: "strobes".into(),
        lamps: vec!["left strobe".into(), "right strobe".into()],
        clock: Some("A".into()),
        period_ms: 1250.0625,
        per_min: 60_000.0 / 1250.0625,
        corners,
        flashes,
        pulses_per_flash: 2,
        brightest_cd: Some((Interval::new(100.0, 120.0), Interval::exactly(9.0))),
        hue: WHITE,
    }
}

fn strip(tracks: Vec<Track>) -> TimeStrip {
    let seen = vec![("ahead".into(), SeenRate::Rate(Interval::exactly(48.0))), ("aft".into(), SeenRate::Dark)];
    TimeStrip { length_ms: 2500.0, tracks, cut: false, seen_from: seen }
}

#[test]
fn data_is_what_was_given() {
    let given = track(vec![[0.0, 1.0], [2500.0, 1.0]], vec![]);
    let svg = draw("t", "title", &strip(vec![given.clone()])).into_string();
    let document = roxmltree::Document::parse(&svg).expect("well-formed");
    let group = document.descendants().find(|n| n.attribute("class") == Some("track")).expect("a track");
    let number = |name: &str| group.attribute(name).and_then(|v| v.parse::<f64>().ok());
    assert_eq!(group.attribute("data-channel"), Some("strobes"));
    assert_eq!((number("data-per-min"), number("data-period-ms")), (Some(given.per_min), Some(given.period_ms)));
    assert!(svg.contains(">steady<") && svg.contains(">clock A<") && svg.contains(words::TIMING_DRIFT));
}

/// Flashes that are given are the brackets that are drawn, each on its share of the axis.
#[test]
fn brackets_stand_over_their_flashes() {
    let svg = draw("t", "title", &strip(vec![track(vec![[0.0, 0.0]], vec![[0.0, 250.0], [1250.0, 1500.0]])]));
    let svg = svg.into_string();
    let document = roxmltree::Document::parse(&svg).expect("well-formed");
    let starts = |class: &str| -> Vec<f64> {
        let found = document.descendants().filter(|n| n.attribute("class") == Some(class));
        let first = |n: roxmltree::Node| {
            let d = n.attribute("d").expect("a path").trim_start_matches('M');
            d.split_once(' ').expect("two numbers").0.parse().expect("a number")
        };
        found.map(first).collect()
    };
    let (from, rule) = (starts("flash"), starts("period"));
    // 1250 ms is half of 2500 ms, and where the period of 1250 ms begins anew.
    assert!((from[0] - axis::LEFT).abs() < 0.01 && (from[1] - rule[0]).abs() < 0.01);
    assert_eq!((from.len(), rule.len()), (2, 1));
}

#[test]
fn nothing_and_nonsense_are_drawn_without_harm() {
    let (nan, inf) = (f64::NAN, f64::INFINITY);
    let mut odd =
        track(vec![[nan, 1.0], [inf, 2.0], [-inf, nan], [5.0, -inf]], vec![[nan, 3.0], [inf, -inf], [9.0, 1.0]]);
    (odd.period_ms, odd.per_min, odd.name) = (nan, inf, "a very long name <&> ".repeat(9));
    odd.brightest_cd = Some((Interval { low: nan, high: inf }, Interval::exactly(-inf)));
    let fast =
        Track { period_ms: 1e-9, pulses_per_flash: usize::MAX, ..track(vec![[3.0, 0.5]], vec![[0.0, 2500.0]; 3]) };
    let many = vec![track(vec![], vec![]), odd, fast];
    for length_ms in [2500.0, nan, inf, 0.0, -1.0, 1e-300, 1e300] {
        let seen: Vec<_> = (0..9)
            .map(|n| ("somewhere else".repeat(n), SeenRate::RateOrDark(Interval { low: nan, high: inf })))
            .collect();
        let strip = TimeStrip { length_ms, tracks: many.clone(), cut: true, seen_from: seen };
        check(&draw("t", "title", &strip).into_string(), "t");
        check_small(&draw_small("t", "title", &strip).into_string(), "t");
    }
    check(&draw("t", "title", &TimeStrip::default()).into_string(), "t");
}

#[test]
fn a_cut_axis_and_one_clock_say_so() {
    let alone = Track { clock: None, ..track(vec![[0.0, 0.0]], vec![[0.0, 250.0]]) };
    let strip = TimeStrip { length_ms: 10_000.0, cut: true, ..strip(vec![alone]) };
    let svg = draw("t", "title", &strip).into_string();
    assert!(svg.contains("The axis shows the first 10 s; slower patterns go on."));
    assert!(!svg.contains(words::TIMING_DRIFT) && !svg.contains(">clock"));
}

#[test]
fn a_small_strip_has_eight_lines_and_counts_the_rest() {
    let one = track(vec![[0.0, 0.0], [2500.0, 0.0]], vec![[0.0, 250.0]]);
    let svg = draw_small("t", "title", &strip(vec![Track { per_min: 46.9, ..one }; 11])).into_string();
    check_small(&svg, "t");
    assert_eq!(svg.matches("class=\"track\"").count(), 8);
    for said in ["and 3 more on the evidence pages.", ">46.9/min<", ">clock A<", ">none seen<"] {
        assert!(svg.contains(said), "{said}");
    }
}
