//! Directions, regions and solid angles against closed forms and independent counts.

use lampwright::geometry::{
    AzimuthSpan, Bounds, Cell, Direction, Ends, Extremum, Patch, State, Zone, area_below, area_where,
    band_solid_angle_sr, cap_half_angle_deg, cap_solid_angle_sr, line_to_plane_deg, wedge_solid_angle_sr,
};
use lampwright::units::Interval;
use proptest::prelude::*;
use rstest::rstest;
use std::f64::consts::PI;

fn table(text: &str) -> Vec<csv::StringRecord> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader.records().map(|r| r.expect("a row")).collect()
}

fn number(row: &csv::StringRecord, column: usize) -> f64 {
    row[column].parse().expect("a number")
}

/// A region by the name the published table gives it.
fn region_sr(name: &str) -> Option<f64> {
    let words: Vec<&str> = name.split_whitespace().collect();
    let deg = |text: &str| text.trim_start_matches("+-").parse::<f64>().expect("degrees");
    let patch = |w: f64, low: f64, high: f64| {
        Patch { azimuth: AzimuthSpan::new(0.0, w), elevation_deg: Interval::new(low, high) }.solid_angle_sr()
    };
    Some(match words.as_slice() {
        ["whole", "sphere"] => Zone::sphere().solid_angle_sr(),
        ["lune", "of", w, ..] => wedge_solid_angle_sr(deg(w)),
        ["band", "within", e, "deg", "elevation"] => band_solid_angle_sr(-deg(e), deg(e)),
        ["band", "within", e, "deg", "elevation", "of", "a", w, ..] => patch(deg(w), -deg(e), deg(e)),
        ["zone", range, ..] => {
            let (low, high) = range.split_once("..").expect("a range");
            patch(360.0, deg(low), deg(high))
        }
        ["cap", "of", "half-angle", h, ..] => cap_solid_angle_sr(deg(h)),
        ["two", "polar", "caps", "beyond", e, ..] => 2.0 * cap_solid_angle_sr(90.0 - deg(e)),
        ["slab", ..] => Zone::between_planes(AzimuthSpan::between(0.0, 180.0), 0.0, 10.0, 20.0).solid_angle_sr(),
        ["beyond", ..] => Zone::between_planes(AzimuthSpan::between(0.0, 180.0), 0.0, 20.0, 90.0).solid_angle_sr(),
        _ => return None,
    })
}

#[test]
fn solid_angles_are_the_closed_forms() {
    let rows = table(include_str!("published/solid_angle_closed_forms.csv"));
    assert_eq!(rows.len(), 34);
    for row in rows {
        let found = region_sr(&row[0]).expect("a region the test knows");
        // The zones between planes are drawn in by 1e-7 degrees at each edge: 2e-8 sr.
        let tolerance = if row[0].contains("from a plane") { 5e-8 } else { 1e-11 };
        assert!((found - number(&row, 1)).abs() < tolerance, "{} {found}", &row[0]);
    }
}

#[test]
fn cap_half_angles_are_the_closed_form() {
    for row in table(include_str!("published/cap_half_angles.csv")) {
        assert!((cap_half_angle_deg(number(&row, 0)) - number(&row, 2)).abs() < 1e-5, "{row:?}");
        assert!((cap_solid_angle_sr(number(&row, 2)) - number(&row, 0)).abs() < 1e-6, "{row:?}");
    }
    // 14 CFR 25.1401(b): 0.03 sr is one cone of 5.601203 degrees (acos(1 - 0.03 / 2 pi)).
    assert!((cap_half_angle_deg(0.03) - 5.601203).abs() < 1e-6);
}

// asin(cos el |sin daz|) by hand calculator; the areas they fall in by 14 CFR 25.1395.
#[rstest]
#[case(15.0, 0.0, 15.0)]
#[case(20.0, 0.0, 20.0)]
#[case(15.0, 50.0, 9.5766)]
#[case(25.0, 40.0, 18.8895)]
#[case(30.0, 60.0, 14.4775)]
#[case(90.0, 75.0, 15.0)]
#[case(90.0, 69.0, 21.0)]
#[case(140.0, 0.0, 40.0)]
#[case(140.0, 60.0, 18.7472)]
fn the_angle_to_a_plane_is_no_azimuth(#[case] offset: f64, #[case] el: f64, #[case] phi: f64) {
    for plane in [0.0, 110.0, -110.0] {
        for side in [1.0, -1.0] {
            let d = Direction::from_degrees(plane + side * offset, side * el);
            assert!((line_to_plane_deg(&d, plane) - phi).abs() < 5.1e-5, "{plane} {side}");
        }
    }
}

fn overlap(width: f64, from: f64, to: f64) -> (Zone, f64) {
    let published: serde_json::Value =
        serde_json::from_str(include_str!("published/overlap_area_solid_angles.json")).expect("JSON");
    let name = if to > 89.0 {
        format!("wedge {width} deg: angle to plane>{from} (sr)")
    } else {
        format!("wedge {width} deg: {from}<angle to plane<{to} (sr)")
    };
    let sr = published[&name].as_f64().expect("a published area");
    (Zone::between_planes(AzimuthSpan::new(0.0, width), 0.0, from, to), sr)
}

#[rstest]
fn overlap_areas_are_as_counted(
    #[values(70.0, 110.0, 140.0)] width: f64,
    #[values((10.0, 20.0), (20.0, 90.0))] (from, to): (f64, f64),
) {
    let (zone, published) = overlap(width, from, to);
    let exact = zone.solid_angle_sr();
    // The count on equal-area cells is good to about 1e-4.
    assert!((exact - published).abs() < 2e-4, "{exact} {published}");
    let bounds = area_where(&zone, &[33.0, 64.0], &[-40.0, 7.0], 1e-6, |_| State::Inside);
    assert!(bounds.undecided_sr == 0.0 && (bounds.inside_sr - exact).abs() < 1e-7, "{bounds:?} {exact}");
    let estimate =
        area_below(&zone, (&[], &[]), |c| if c.radius_rad > 0.02 { State::Mixed } else { State::Inside }, |_| true).low;
    assert!((estimate - exact).abs() < 2e-5, "{estimate} {exact}");
}

fn dead_astern() -> Direction {
    Direction::from_degrees(180.0, 0.0)
}

#[test]
fn the_blocked_wedge_and_its_part_in_the_aft_cone() {
    // Azimuth 175 to -175 of the +-75 band: (10 deg) x 2 sin 75 = 0.3371717 sr; inside the cone of half angle 12.5447 deg
    // the integral over -5..5 deg of 2 sqrt(1 - (cos 12.5447 / cos x)^2) dx = 0.0738203 sr.
    let zone = Zone::rectangle(AzimuthSpan::FULL, &[(-75.0, 75.0)]);
    let wedge = AzimuthSpan::between(175.0, -175.0);
    let blocked = |c: &Cell| {
        if wedge.contains(c.center.azimuth_deg(), false) { State::Inside } else { State::Outside }
    };
    let whole = area_where(&zone, &[175.0, -175.0], &[], 1e-6, blocked);
    assert!((whole.inside_sr - 0.3371717).abs() < 1e-7 && whole.undecided_sr < 1e-9, "{whole:?}");
    let cone = cap_half_angle_deg(0.15).to_radians();
    let in_cone = area_where(&zone, &[175.0, -175.0], &[], 2e-5, |c| {
        let angle = c.center.angle_to_rad(&dead_astern());
        match blocked(c) {
            State::Inside if angle + c.radius_rad <= cone => State::Inside,
            State::Inside if angle - c.radius_rad < cone => State::Mixed,
            _ => State::Outside,
        }
    });
    assert!(in_cone.undecided_sr < 2e-5, "{in_cone:?}");
    let Interval { low, high } = in_cone.interval();
    assert!(low - 1e-7 <= 0.0738203 && 0.0738203 <= high + 1e-7, "{in_cone:?}");
}

#[test]
fn a_polar_sector_is_exact() {
    // Below elevation -80 in a wedge of 110 degrees: 1.9198622 x (1 - sin 80) = 0.0291671 sr.
    let zone = Zone::rectangle(AzimuthSpan::between(-110.0, 0.0), &[(-90.0, 90.0)]);
    let below = |c: &Cell| if c.center.elevation_deg() < -80.0 { State::Inside } else { State::Outside };
    let found = area_where(&zone, &[], &[-80.0], 1e-6, below);
    assert!((found.inside_sr - 0.0291671).abs() < 1e-7, "{found:?}");
    let estimate = area_below(&zone, (&[], &[-80.0]), below, |d| d.elevation_deg() < -80.0).low;
    assert!((estimate - 0.0291671).abs() < 1e-7, "{estimate}");
}

#[test]
fn the_sliver_at_the_poles_is_found() {
    // |az| >= 110, |el| 40..90, 125 cos(theta) < 1 about dead astern: 2 x integral over b = -70..70 deg of
    // 1 - sqrt(1 - 1/(125 cos b)^2) db = 3.517e-4 sr.
    let zone = Zone::rectangle(AzimuthSpan::between(110.0, -110.0), &[(40.0, 90.0), (-90.0, -40.0)]);
    let found = area_below(
        &zone,
        (&[], &[]),
        |c| match c.cosines_to(&dead_astern()).scaled(125.0) {
            cd if cd.high < 1.0 => State::Inside,
            cd if cd.low >= 1.0 => State::Outside,
            _ => State::Mixed,
        },
        |d| 125.0 * d.cos_to(&dead_astern()) < 1.0,
    );
    assert!((found.low - 3.517e-4).abs() < 1e-7 && found.width() < 2e-5, "{found:?}");
}

#[test]
fn caps_anywhere_are_estimated() {
    for (az, el, half) in
        [(0.0, 0.0, 3.0), (33.0, 77.0, 20.0), (-179.0, -88.0, 5.0), (91.0, 12.0, 90.0), (0.0, 90.0, 7.0)]
    {
        let axis = Direction::from_degrees(az, el);
        let cos = f64::cos(f64::to_radians(half));
        let found = area_below(
            &Zone::sphere(),
            (&[0.0, 110.0], &[5.0]),
            |c| cap_state(c, &axis, half.to_radians()),
            |d| d.cos_to(&axis) > cos,
        );
        assert!((found.low - cap_solid_angle_sr(half)).abs() < 2e-5, "{az} {el} {half} {found:?}");
    }
}

#[test]
fn a_constant_test_costs_little() {
    let looks = std::cell::Cell::new(0);
    let test = |_: &Direction| {
        looks.set(looks.get() + 1);
        true
    };
    let area = area_below(&Zone::sphere(), (&[], &[]), |_| State::Inside, test);
    assert!((area.low - 4.0 * PI).abs() < 1e-11);
    assert!(looks.get() < 40_000, "{}", looks.get());
}

/// A table of off-axis angles every 5 degrees falling to nothing, by straight lines.
fn kinked(off_axis_deg: f64) -> f64 {
    const RELATIVE: [f64; 9] = [1.0, 0.9, 0.5, 0.3, 0.22, 0.1, 0.05, 0.02, 0.0];
    let place = (off_axis_deg / 5.0).min(7.999);
    let k = place.floor();
    let (p, q) = (RELATIVE[k as usize], RELATIVE[k as usize + 1]);
    p + (q - p) * (place - k)
}

#[rstest]
fn peaks_of_narrow_kinked_beams_are_found(
    #[values((-8.3, 3.7), (40.1, -61.4), (179.6, 22.2), (12.0, 90.0))] (az, el): (f64, f64),
) {
    let axis = Direction::from_degrees(az, el);
    // The peak is 1 on the axis; twice as steep a table is a beam of 10 degrees.
    let f = |d: &Direction| kinked(2.0 * d.angle_to_deg(&axis));
    // The table falls all the way.
    let over = |c: &Cell| c.angles_to_rad(&axis).falling(|angle| kinked(2.0 * angle.to_degrees()));
    let found = Zone::sphere().extreme(Extremum::Highest, (&[], &[]), f, over).expect("not empty");
    assert!((found.value - 1.0).abs() < 1e-6, "{found:?}");
    assert!(found.at.angle_to_deg(&axis) < 1e-4, "{found:?}");
}

#[test]
fn the_supremum_of_an_open_area_lies_at_its_edge() {
    // White astern, 125 cos(theta), in area A of R (plane at azimuth 110): 125 cos 80 at azimuth 100, elevation 0; in B
    // 125 cos 90 = 0 at azimuth 90.
    let r = AzimuthSpan::between(0.0, 110.0);
    let f = |d: &Direction| 125.0 * d.cos_to(&dead_astern());
    let over = |c: &Cell| c.cosines_to(&dead_astern()).scaled(125.0);
    let none: (&[f64], &[f64]) = (&[], &[]);
    let a = Zone::between_planes(r, 110.0, 10.0, 20.0).extreme(Extremum::Highest, none, f, over).expect("A");
    assert!((a.value / 5.0 - 4.341204).abs() < 1e-5, "{a:?}");
    assert!((a.at.azimuth_deg() - 100.0).abs() < 1e-3 && a.at.elevation_deg().abs() < 0.1, "{a:?}");
    let b = Zone::between_planes(r, 110.0, 20.0, 90.0).extreme(Extremum::Highest, none, f, over).expect("B");
    assert!(b.value.abs() < 1e-5 && b.value <= 0.0, "{b:?}");
}

#[test]
fn the_horizon_of_angle_a_is_lowest_at_its_ends() {
    // 125 cos 70 / 20 = 2.137626.
    let horizon = Zone::rectangle(AzimuthSpan::between(110.0, -110.0), &[(0.0, 0.0)]);
    let f = |d: &Direction| 125.0 * d.cos_to(&dead_astern()) / 20.0;
    let over = |c: &Cell| c.cosines_to(&dead_astern()).scaled(125.0 / 20.0);
    let found = horizon.extreme(Extremum::Lowest, (&[], &[]), f, over).expect("not empty");
    assert!((found.value - 2.137626).abs() < 1e-6 && found.at.azimuth_deg().abs() == 110.0, "{found:?}");
}

#[test]
fn both_sides_of_a_break_are_seen() {
    // A step between two beams' sectors at azimuth 37.3: the dark side is 1e-7 degrees beyond it.
    let zone = Zone::rectangle(AzimuthSpan::between(0.0, 110.0), &[(-5.0, 5.0)]);
    let f = |d: &Direction| if d.azimuth_deg() > 37.3 { 100.0 - d.azimuth_deg() } else { 0.5 * d.azimuth_deg() };
    let over = |c: &Cell| {
        let (low, high) = (c.azimuth.from_deg, c.azimuth.to_deg());
        if low >= 37.3 { Interval::new(100.0 - high, 100.0 - low) } else { Interval::new(0.5 * low, 0.5 * high) }
    };
    let highest = zone.extreme(Extremum::Highest, (&[37.3], &[]), f, over).expect("not empty");
    assert!((highest.value - 62.7).abs() < 1e-5 && (highest.at.azimuth_deg() - 37.3).abs() < 1e-6, "{highest:?}");
}

#[test]
fn both_ends_of_an_interval_are_sought_at_once() {
    let zone = Zone::sphere();
    let (up, right) = (Direction::from_degrees(0.0, 90.0), Direction::from_degrees(90.0, 0.0));
    let f = |d: &Direction| Interval { low: -d.cos_to(&up), high: 2.0 - d.cos_to(&right) };
    let over = |c: &Cell| Ends {
        low: c.cosines_to(&up).falling(|cos| -cos),
        high: c.cosines_to(&right).falling(|cos| 2.0 - cos),
    };
    let none: (&[f64], &[f64]) = (&[], &[]);
    let lowest = zone.extremes_of_interval(Extremum::Lowest, none, f, over).expect("not empty");
    assert!(lowest.low.at.is_pole() && (lowest.low.value + 1.0).abs() < 1e-12, "{lowest:?}");
    assert!((lowest.high.at.azimuth_deg() - 90.0).abs() < 1e-3 && (lowest.high.value - 1.0).abs() < 1e-9, "{lowest:?}");
    let highest = zone.extremes_of_interval(Extremum::Highest, none, f, over).expect("not empty");
    assert!((highest.interval().low - 1.0).abs() < 1e-12 && (highest.interval().high - 3.0).abs() < 1e-9);
}

#[test]
fn nothing_to_search_is_none() {
    let empty = Zone::rectangle(AzimuthSpan::FULL, &[]);
    assert!(empty.extreme(Extremum::Lowest, (&[], &[]), |_| 1.0, |_| Interval::exactly(1.0)).is_none());
    assert!(Zone::sphere().extreme(Extremum::Lowest, (&[], &[]), |_| f64::NAN, |_| Interval::ZERO).is_none());
    // Beyond 80 degrees of elevation no direction is 10 degrees from a vertical plane.
    assert!(Zone::between_planes(AzimuthSpan::between(0.0, 5.0), 0.0, 10.0, 20.0).bands_at(5.0).is_empty());
}

fn cap_state(cell: &Cell, axis: &Direction, half_rad: f64) -> State {
    let angle = cell.center.angle_to_rad(axis);
    if angle + cell.radius_rad <= half_rad {
        State::Inside
    } else if angle - cell.radius_rad > half_rad {
        State::Outside
    } else {
        State::Mixed
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_cap_and_its_complement_make_the_sphere(az in -180.0..180.0_f64, el in -90.0..90.0_f64, half in 1.0..179.0_f64, cut in -180.0..180.0_f64, level in -90.0..90.0_f64) {
        let axis = Direction::from_degrees(az, el);
        let swapped = |s| match s { State::Inside => State::Outside, State::Outside => State::Inside, other => other };
        let sphere = Zone::sphere();
        let (az_breaks, el_breaks) = ([cut], [level]);
        let inside = area_where(&sphere, &az_breaks, &el_breaks, 5e-3, |c| cap_state(c, &axis, half.to_radians()));
        let outside = area_where(&sphere, &az_breaks, &el_breaks, 5e-3, |c| swapped(cap_state(c, &axis, half.to_radians())));
        let holds = |b: Bounds, sr: f64| b.inside_sr <= sr + 1e-9 && sr <= b.interval().high + 1e-9;
        prop_assert!(holds(inside, cap_solid_angle_sr(half)), "{inside:?}");
        prop_assert!(holds(outside, cap_solid_angle_sr(180.0 - half)), "{outside:?}");
        prop_assert!((inside.inside_sr + inside.undecided_sr + outside.inside_sr - 4.0 * PI).abs() < 1e-9);
    }

    #[test]
    fn pieces_make_the_sphere(cuts in prop::collection::vec(-400.0..400.0_f64, 0..6), levels in prop::collection::vec(-100.0..100.0_f64, 0..6), a in -180.0..180.0_f64, w in 0.0..360.0_f64) {
        let span = AzimuthSpan::new(a, w);
        let inside = |c: &Cell| if span.contains(c.center.azimuth_deg(), true) { State::Inside } else { State::Outside };
        let mut breaks = cuts.clone();
        breaks.extend([span.from_deg, span.to_deg()]);
        let sphere = Zone::sphere();
        let all = area_where(&sphere, &cuts, &levels, 1e-6, |_| State::Inside);
        prop_assert!((all.inside_sr - 4.0 * PI).abs() < 1e-9 && all.undecided_sr == 0.0);
        let unknown = area_where(&sphere, &cuts, &levels, 1e-6, |_| State::Unknown);
        prop_assert!((unknown.undecided_sr - 4.0 * PI).abs() < 1e-9);
        let wedge = area_where(&sphere, &breaks, &levels, 1e-6, inside);
        prop_assert!((wedge.inside_sr - wedge_solid_angle_sr(w)).abs() < 1e-7 && wedge.undecided_sr == 0.0, "{wedge:?}");
        let estimate = area_below(&sphere, (&breaks, &levels), inside, |d| span.contains(d.azimuth_deg(), true)).low;
        prop_assert!((estimate - wedge_solid_angle_sr(w)).abs() < 1e-6, "{estimate}");
    }

    #[test]
    fn searches_stay_in_their_zone(from in -180.0..180.0_f64, w in 1.0..360.0_f64, plane in -180.0..180.0_f64, a in 0.0..60.0_f64, d in 1.0..40.0_f64, az in -180.0..180.0_f64, el in -90.0..90.0_f64) {
        let zone = Zone::between_planes(AzimuthSpan::new(from, w), plane, a, a + d);
        let axis = Direction::from_degrees(az, el);
        if let Some(found) = zone.extreme(Extremum::Highest, (&[az], &[el]), |x| x.cos_to(&axis), |c| c.cosines_to(&axis)) {
            prop_assert!(zone.contains(&found.at), "{found:?}");
            if zone.contains(&axis) {
                prop_assert!(found.value > 1.0 - 1e-12, "{found:?}");
            }
        }
    }

    #[test]
    fn directions_survive_vectors_and_mirrors(az in -1e4..1e4_f64, el in -90.0..90.0_f64) {
        let d = Direction::from_degrees(az, el);
        let again = Direction::from_vector(3.0 * d.forward(), 3.0 * d.right(), 3.0 * d.up()).expect("a vector");
        prop_assert!(d.angle_to_deg(&again) < 1e-12);
        prop_assert!((d.elevation_deg() - again.elevation_deg()).abs() < 1e-12);
        prop_assert_eq!(d.mirrored().mirrored(), d);
        let m = Direction::from_degrees(-az, el);
        prop_assert!(m.angle_to_deg(&d.mirrored()) < 1e-9);
    }

    #[test]
    fn no_nan_comes_out(a in prop::num::f64::ANY, b in prop::num::f64::ANY, c in prop::num::f64::ANY, e in prop::num::f64::ANY) {
        let d = Direction::from_degrees(a, b);
        prop_assert!(!(d.forward() + d.right() + d.up() + d.azimuth_deg() + d.elevation_deg()).is_nan());
        prop_assert!(!line_to_plane_deg(&d, c).is_nan());
        prop_assert!(!(cap_solid_angle_sr(a) + cap_half_angle_deg(b) + wedge_solid_angle_sr(c) + band_solid_angle_sr(a, e)).is_nan());
        let zones = [
            Zone::between_planes(AzimuthSpan::new(a, b), c, e, a),
            Zone::rectangle(AzimuthSpan::between(a, b), &[(c, e), (a, e)]),
            Zone::from(Patch { azimuth: AzimuthSpan { from_deg: a, width_deg: b }, elevation_deg: Interval { low: c, high: e } }),
        ];
        for zone in zones {
            prop_assert!(!zone.solid_angle_sr().is_nan(), "{zone:?}");
            prop_assert!(!zone.bands_at(c).iter().any(|(l, h)| l.is_nan() || h.is_nan()));
        }
    }
}

#[test]
fn a_ring_thinner_than_a_lattice_is_counted() {
    // A dark ring of half width 0.04 degrees about 30 degrees off an axis: 2 pi (cos 29.96 - cos 30.04) = 4.3865e-3 sr.
    let axis = Direction::from_degrees(12.0, 20.0);
    let (near, far) = (29.96_f64.to_radians(), 30.04_f64.to_radians());
    let over = |c: &Cell| match c.angles_to_rad(&axis) {
        a if a.low > near && a.high < far => State::Inside,
        a if a.high < near || a.low > far => State::Outside,
        _ => State::Mixed,
    };
    let holds = |d: &Direction| (near..far).contains(&d.angle_to_rad(&axis));
    let found = area_below(&Zone::sphere(), (&[], &[]), over, holds);
    let true_sr = 2.0 * PI * (near.cos() - far.cos());
    assert!(found.contains(true_sr) && found.width() < 0.06 * true_sr, "{found:?} {true_sr}");
}
