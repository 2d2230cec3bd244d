//! The bundled rules of 14 CFR Part 25 against the printed figures: tables, overlaps, colours, dates, riding light.
//!
//! Figures are those of public copies of 14 CFR 25.1387 to 25.1401 unless another source stands beside them.

use lampwright::aircraft::Aircraft;
use lampwright::colorimetry::{Chromaticity, Region as ColourRegion};
use lampwright::judge::Verdict;
use lampwright::report::Report;
use lampwright::rules::{
    Allowance, Demand, DihedralAngle, GoalSpec, Holds, LightGroup, Limit, Region, RuleSet, Side, Table, Unit,
};
use lampwright::source::Memory;
use lampwright::{Options, bundled_rule_sets, check};
use rstest::rstest;
use std::path::Path;

fn part_25() -> RuleSet {
    let sets = bundled_rule_sets().expect("sound");
    sets.into_iter().find(|s| s.id == "us-14cfr25").expect("bundled")
}

fn goals(set: &RuleSet, id: &str) -> Vec<GoalSpec> {
    let requirement = set.requirement(id).unwrap_or_else(|| panic!("no requirement {id}"));
    requirement.demand.goals().into_iter().cloned().collect()
}

fn goal(set: &RuleSet, id: &str) -> GoalSpec {
    let goals = goals(set, id);
    assert_eq!(goals.len(), 1, "{id}");
    goals[0].clone()
}

fn rows(table: &Table, unit: Unit) -> Vec<(f64, f64, f64)> {
    assert!(table.rows.iter().all(|r| r.is.scalar.unit == unit), "{}", table.name);
    table.rows.iter().map(|r| (r.from_deg, r.to_deg, r.is.scalar.value)).collect()
}

/// The floor over azimuth and its factors over elevation of a requirement.
fn floor(set: &RuleSet, id: &str) -> (Table, Option<Table>) {
    match goal(set, id).limit {
        Limit::Floor { by_azimuth, times_by_elevation } => (by_azimuth, times_by_elevation),
        other => panic!("{id}: {other:?}"),
    }
}

fn aircraft(text: &str) -> Aircraft {
    let files = Memory::new().with("model.yaml", text);
    lampwright::aircraft::read(&files, Path::new("model.yaml")).expect("readable").expect("sound")
}

fn report(text: &str, only: &[&str]) -> Report {
    let only = only.iter().map(ToString::to_string).collect();
    check(&aircraft(text), &bundled_rule_sets().expect("sound"), &Options { only, ..Options::default() })
        .expect("judged")
}

fn verdict(report: &Report, id: &str) -> Option<Verdict> {
    report.goals.iter().find(|g| g.id == id).map(|g| g.verdict)
}

fn xy(x: f64, y: f64) -> Chromaticity {
    Chromaticity { x, y }
}

const FORWARD: [(f64, f64, f64); 3] = [(0.0, 10.0, 40.0), (10.0, 20.0, 30.0), (20.0, 110.0, 5.0)];
const REAR: [(f64, f64, f64); 1] = [(110.0, 180.0, 20.0)];
const FACTORS: [(f64, f64, f64); 8] = [
    (0.0, 0.0, 1.0),
    (0.0, 5.0, 0.9),
    (5.0, 10.0, 0.8),
    (10.0, 15.0, 0.7),
    (15.0, 20.0, 0.5),
    (20.0, 30.0, 0.3),
    (30.0, 40.0, 0.1),
    (40.0, 90.0, 0.05),
];

/// 25.1391 and 25.1393, row by row, for each of the three lights.
#[rstest]
#[case("left-light", LightGroup::LeftPosition, DihedralAngle::L, &FORWARD)]
#[case("right-light", LightGroup::RightPosition, DihedralAngle::R, &FORWARD)]
#[case("rear-light", LightGroup::RearPosition, DihedralAngle::A, &REAR)]
fn minimum_intensities(
    #[case] name: &str,
    #[case] light: LightGroup,
    #[case] angle: DihedralAngle,
    #[case] printed: &[(f64, f64, f64)],
) {
    let set = part_25();
    let horizontal = format!("{name}-horizontal");
    let (table, none) = floor(&set, &horizontal);
    assert_eq!(rows(&table, Unit::Candela), printed);
    assert!(none.is_none());
    let vertical = format!("{name}-vertical");
    let (table, factors) = floor(&set, &vertical);
    assert_eq!(rows(&table, Unit::Candela), printed);
    assert_eq!(rows(&factors.expect("factors"), Unit::Times), FACTORS);
    for id in [horizontal, vertical] {
        let spec = goal(&set, &id);
        assert_eq!((spec.light, spec.region), (light, Some(Region::Dihedral(angle))), "{id}");
    }
}

/// Products of 25.1391 and 25.1393 by hand; at a joint of rows the stricter row holds.
#[rstest]
#[case("left-light", 0.0, 0.0, 40.0)]
#[case("left-light", 0.0, 0.1, 36.0)]
#[case("left-light", 5.0, 3.0, 36.0)]
#[case("left-light", 10.0, 0.0, 40.0)]
#[case("left-light", 10.1, 0.0, 30.0)]
#[case("left-light", 15.0, 12.0, 21.0)]
#[case("right-light", 60.0, 25.0, 1.5)]
#[case("right-light", 109.0, 45.0, 0.25)]
#[case("rear-light", 180.0, 0.0, 20.0)]
#[case("rear-light", 180.0, 14.0, 14.0)]
#[case("rear-light", 150.0, 29.0, 6.0)]
#[case("rear-light", 120.0, 60.0, 1.0)]
// The joints: 20 deg belongs to 30 cd, 110 deg still to 5 cd; el 5, 10, 15, 20, 30, 40 to the row below.
#[case("right-light", 20.0, 0.0, 30.0)]
#[case("right-light", 110.0, 0.0, 5.0)]
#[case("rear-light", 110.0, 0.0, 20.0)]
#[case("left-light", 0.0, 5.0, 36.0)]
#[case("left-light", 0.0, 10.0, 32.0)]
#[case("left-light", 0.0, 15.0, 28.0)]
#[case("left-light", 0.0, 20.0, 20.0)]
#[case("left-light", 0.0, 30.0, 12.0)]
#[case("left-light", 0.0, 40.0, 4.0)]
#[case("left-light", 0.0, 90.0, 2.0)]
fn products_and_joints(#[case] light: &str, #[case] azimuth: f64, #[case] elevation: f64, #[case] cd: f64) {
    let (table, factors) = floor(&part_25(), &format!("{light}-vertical"));
    let at_azimuth = table.strictest(azimuth).expect("in the table");
    let at_elevation = factors.expect("factors").strictest(elevation).expect("in the table");
    assert!((at_azimuth * at_elevation - cd).abs() < 1e-12 * cd, "{at_azimuth} x {at_elevation}");
}

/// The joint of 40 and 30 cd as judged: 30 cd all round and 10 more up to an azimuth, which must reach 10 deg.
#[rstest]
#[case("9.9 deg", Verdict::Missed)]
#[case("10.1 deg", Verdict::Met)]
fn the_first_row_ends_at_ten_degrees(#[case] edge: &str, #[case] expected: Verdict) {
    let text = format!(
        "lampwright: aircraft 1
model: {{title: joint, scale: \"1:1\"}}
prototype: {{category: transport aeroplane, authority: US, applied: 1980}}
emitters:
  base: {{from: measured, peak: 30 cd, size: 0 mm, table: {{0 deg: 100 %, 180 deg: 100 %}}}}
  more: {{from: measured, peak: 10 cd, size: 0 mm, table: {{0 deg: 100 %, 180 deg: 100 %}}}}
lamps:
  base: {{light: left position, aim: ahead, emitter: base}}
  more: {{light: left position, aim: ahead, emitter: more, mask: {{hides: aft of {edge}}}}}
"
    );
    let report = report(&text, &["left-light-horizontal"]);
    assert_eq!(verdict(&report, "left-light-horizontal"), Some(expected));
}

/// 25.1395: which colour, seen where, from which boundary plane, at most how many candles in areas A and B.
#[rstest]
#[case("green-in-L", LightGroup::RightPosition, DihedralAngle::L, 0.0, 10.0)]
#[case("red-in-R", LightGroup::LeftPosition, DihedralAngle::R, 0.0, 10.0)]
#[case("green-in-A", LightGroup::RightPosition, DihedralAngle::A, 110.0, 5.0)]
#[case("red-in-A", LightGroup::LeftPosition, DihedralAngle::A, -110.0, 5.0)]
#[case("white-in-L", LightGroup::RearPosition, DihedralAngle::L, -110.0, 5.0)]
#[case("white-in-R", LightGroup::RearPosition, DihedralAngle::R, 110.0, 5.0)]
fn overlaps(
    #[case] id: &str,
    #[case] light: LightGroup,
    #[case] into: DihedralAngle,
    #[case] plane_deg: f64,
    #[case] area_a_cd: f64,
) {
    let set = part_25();
    let areas = [("area A", 10.0, 20.0, area_a_cd, 0.10), ("area B", 20.0, 90.0, 1.0, 0.025)];
    let specs = goals(&set, id);
    assert_eq!(specs.len(), 2);
    assert!(matches!(&set.requirement(id).expect("there").demand, Demand::AllOf(list) if list.len() == 2));
    for (spec, (name, from, to, cd, share)) in specs.iter().zip(areas) {
        assert_eq!((spec.name.as_deref(), spec.light), (Some(name), light));
        let angles_deg = lampwright::units::Interval::new(from, to);
        assert_eq!(spec.region, Some(Region::Overlap { into, plane_deg, angles_deg }));
        match &spec.limit {
            Limit::AtMost(most) => assert_eq!((most.scalar.value, most.scalar.unit), (cd, Unit::Candela)),
            other => panic!("{other:?}"),
        }
        // 25.1389(b)(3): forward lights over 100 candles, between those two only; 10 % and 2.5 % of the peak.
        let forward = plane_deg == 0.0;
        assert_eq!(spec.relief.is_some(), forward, "{id} {name}");
        if let Some(relief) = &spec.relief {
            assert_eq!((relief.peak_over.scalar.value, relief.at_most.scalar.value), (100.0, share));
        }
    }
}

/// 25.1395: the angle to the boundary plane is that of a line, asin(cos el |sin d_az|), worked out by hand.
#[rstest]
// phi 15.0, 9.5766, 18.8895, 14.4775, 15.0, 21.0.
#[case("green-in-L", -15.0, 0.0, Some("A"))]
#[case("green-in-L", -15.0, 50.0, None)]
#[case("green-in-L", -25.0, 40.0, Some("A"))]
#[case("green-in-L", -30.0, 60.0, Some("A"))]
#[case("green-in-L", -90.0, 75.0, Some("A"))]
#[case("green-in-L", -90.0, 69.0, Some("B"))]
// 140 deg past the plane of right 110 deg is left 110 deg: phi 40.0, 18.7472.
#[case("green-in-A", -110.0, 0.0, Some("B"))]
#[case("green-in-A", -110.0, 60.0, Some("A"))]
fn overlap_angles(#[case] id: &str, #[case] azimuth: f64, #[case] elevation: f64, #[case] area: Option<&str>) {
    let side = if azimuth < 0.0 { "left" } else { "right" };
    let text = format!(
        "lampwright: aircraft 1
model: {{title: spot, scale: \"1:1\"}}
prototype: {{category: transport aeroplane, authority: US, applied: 1980}}
emitters:
  spot: {{from: measured, peak: 50 cd, size: 0 mm, table: {{0 deg: 100 %, 0.2 deg: 100 %, 0.3 deg: 0 %, 180 deg: 0 %}}}}
lamps:
  spot: {{light: right position, aim: {side} {} deg up {elevation} deg, emitter: spot}}
",
        azimuth.abs()
    );
    let report = report(&text, &[id]);
    for name in ["A", "B"] {
        let expected = if area == Some(name) { Verdict::Missed } else { Verdict::Met };
        assert_eq!(verdict(&report, &format!("{id}/area {name}")), Some(expected), "area {name}");
    }
}

/// 25.1385, 25.1387 and 25.1401: sides, dihedral angles, allowances, bands and flash frequencies.
#[test]
fn sides_angles_allowances_and_rates() {
    let set = part_25();
    assert!(matches!(goal(&set, "left-light-side").limit, Limit::Side(Side::Left)));
    assert!(matches!(goal(&set, "right-light-side").limit, Limit::Side(Side::Right)));
    for (id, angle) in [
        ("left-light-unbroken", DihedralAngle::L),
        ("right-light-unbroken", DihedralAngle::R),
        ("rear-light-unbroken", DihedralAngle::A),
    ] {
        let spec = goal(&set, id);
        assert_eq!(spec.region, Some(Region::Dihedral(angle)), "{id}");
        match (angle, spec.allow) {
            // 25.1387(e): 0.04 sr within 30 deg of the vertical, for the rear light only.
            (DihedralAngle::A, Some(Allowance::AboutVertical { at_most, half_angle_deg })) => {
                assert_eq!((at_most.scalar.value, half_angle_deg), (0.04, 30.0));
            }
            (DihedralAngle::L | DihedralAngle::R, None) => {}
            (_, other) => panic!("{id}: {other:?}"),
        }
    }
    // 25.1401(b): +-75 deg (+-30 before 1977), 0.03 sr inside 0.15 sr dead astern.
    for (id, deg) in [("anti-collision-field", 75.0), ("anti-collision-field-30", 30.0)] {
        let spec = goal(&set, id);
        assert_eq!(spec.region, Some(Region::Band(lampwright::units::Interval::new(-deg, deg))));
        match spec.allow {
            Some(Allowance::AboutAft { at_most, cone_sr }) => assert_eq!((at_most.scalar.value, cone_sr), (0.03, 0.15)),
            other => panic!("{other:?}"),
        }
    }
    // 25.1401(c).
    match goal(&set, "anti-collision-frequency").limit {
        Limit::Between(low, high) => assert_eq!((low.scalar.value, high.scalar.value), (40.0, 100.0)),
        other => panic!("{other:?}"),
    }
}

fn colours(id: &str) -> Vec<ColourRegion> {
    match goal(&part_25(), id).limit {
        Limit::Inside(list) => list.into_iter().map(|c| c.region).collect(),
        other => panic!("{other:?}"),
    }
}

fn colour(id: &str) -> ColourRegion {
    colours(id).remove(0)
}

/// Every point of a grid of the diagram on the same side as by the printed inequalities (25.1397(a), (b)).
#[test]
fn red_and_green_by_their_inequalities() {
    let red: fn(f64, f64) -> f64 = |x, y| (0.335 - y).min(0.002 - (1.0 - x - y));
    let green: fn(f64, f64) -> f64 = |x, y| (0.440 - 0.320 * y - x).min(y - 0.170 - x).min(y - (0.390 - 0.170 * x));
    for (id, slack) in [("left-light-colour", red), ("right-light-colour", green)] {
        let region = colour(id);
        let (mut inside, mut outside) = (0, 0);
        for i in 0..=300 {
            for j in 0..=300 - i {
                // Off the round thousandths, so that no point lies on a limit.
                let (x, y) = (f64::from(i) / 300.0 + 1.7e-5, f64::from(j) / 300.0 - 2.3e-5);
                assert_eq!(region.contains(xy(x, y)), slack(x, y) >= 0.0, "{id} {x} {y}");
                if slack(x, y) >= 0.0 { inside += 1 } else { outside += 1 }
            }
        }
        assert!(inside > 50 && outside > 50, "{id}: {inside} {outside}");
    }
}

/// Corners of aviation green: (0.18803, 0.35803) and (0.29212, 0.46212), lines intersected by hand.
#[rstest]
#[case(0.188_03, 0.358_03, -1.0, 0.2)]
#[case(0.292_12, 0.462_12, -0.5, 1.0)]
fn green_corners(#[case] x: f64, #[case] y: f64, #[case] dx: f64, #[case] dy: f64) {
    let green = colour("right-light-colour");
    assert!(green.margin(xy(x, y)).distance.abs() < 2e-5);
    assert!(green.contains(xy(x + 1e-3 * dx, y + 1e-3 * dy)));
    assert!(!green.contains(xy(x + 1e-3, y)));
}

/// 25.1397(c): lower and upper limit of aviation white over x; y0 from Planck's law at 1 nm, 360 to 830 nm.
#[rstest]
#[case(0.300, 0.26000, 0.320)]
#[case(0.340, 0.30000, 0.360)]
#[case(0.380, 0.34000, 0.400)]
#[case(0.420, 0.38000, 0.440)]
#[case(0.440, 0.39510, 0.460)]
#[case(0.460, 0.40063, 0.452)]
#[case(0.480, 0.40405, 0.444)]
#[case(0.500, 0.40527, 0.436)]
#[case(0.520, 0.40419, 0.428)]
#[case(0.540, 0.40069, 0.420)]
fn white_limits(#[case] x: f64, #[case] lower: f64, #[case] upper: f64) {
    // Just inside the ends of x, which are limits of their own.
    let inward = if x == 0.300 {
        1e-7
    } else if x == 0.540 {
        -1e-7
    } else {
        0.0
    };
    let contains = |white: &ColourRegion, y: f64| white.contains(xy(x + inward, y));
    // White anti-collision lights are held against the same paragraph, 25.1401(d).
    for white in [colour("rear-light-colour"), colours("anti-collision-colour").remove(1)] {
        assert!(contains(&white, lower + 2e-5) && !contains(&white, lower - 2e-5), "{x} {lower}");
        assert!(contains(&white, upper - 1e-6) && !contains(&white, upper + 1e-6), "{x} {upper}");
    }
}

#[test]
fn white_ends_at_its_x() {
    let white = colour("rear-light-colour");
    for (x, y, inside) in [(0.2999, 0.31, false), (0.3001, 0.31, true), (0.5399, 0.41, true), (0.5401, 0.41, false)] {
        assert_eq!(white.contains(xy(x, y)), inside, "{x}");
    }
}

/// Whether a requirement is in force for an aircraft applied for on a day: yes, no, or not known.
fn holds(id: &str, day: &str) -> Option<bool> {
    let set = part_25();
    match set.requirement(id).expect("there").in_force.on(day.parse().expect("a date")) {
        Holds::Yes => Some(true),
        Holds::No(_) => Some(false),
        Holds::Unknown(_) => None,
    }
}

/// The day before and the day: Amdt 25-27 in force 11 Aug 1971, Amdt 25-30 of 5 Nov 1971; that of Amdt 25-41 lies
/// between its publication on 18 Jul 1977 and 1 Sep 1977 and cannot be told closer.
#[rstest]
#[case("rear-light-colour-before-1971", "rear-light-colour", "1971-08-10", "1971-08-11")]
#[case("anti-collision-colour-before-1971", "anti-collision-colour", "1971-08-10", "1971-08-11")]
#[case("rear-light-unbroken-before-1971", "rear-light-unbroken", "1971-11-04", "1971-11-05")]
#[case("anti-collision-field-30", "anti-collision-field", "1977-07-17", "1977-09-01")]
fn dates_in_force(#[case] old: &str, #[case] new: &str, #[case] before: &str, #[case] day: &str) {
    assert_eq!((holds(old, before), holds(new, before)), (Some(true), Some(false)));
    assert_eq!((holds(old, day), holds(new, day)), (Some(false), Some(true)));
    assert_eq!((holds(old, "1970"), holds(new, "2020")), (Some(true), Some(true)));
}

#[rstest]
#[case("1977-07-18")]
#[case("1977-08-31")]
fn between_two_dates_neither_is_sure(#[case] day: &str) {
    assert_eq!((holds("anti-collision-field-30", day), holds("anti-collision-field", day)), (None, None));
}

fn dated(day: &str) -> String {
    format!(
        "lampwright: aircraft 1
model: {{title: dated, scale: \"1:1\"}}
prototype: {{category: transport aeroplane, authority: US, applied: {day}}}
emitters:
  white: {{from: measured, chromaticity: {{x: 0.38, y: 0.377}}, peak: 40 cd, size: 0 mm, table: {{0 deg: 100 %, 180 deg: 100 %}}}}
lamps:
  tail: {{light: rear position, aim: aft, emitter: white, mask: {{hides: above up 80 deg}}}}
  strobe:
    light: strobe
    aim: up
    emitter: white
    mask: {{hides: [above up 40 deg, below down 40 deg]}}
    flash: {{rate: 60 per min, lit: 50 ms}}
"
    )
}

/// The same days through a whole check.
#[rstest]
// White strobes are red's fault before 11 Aug 1971 (25.1401(d)); the old white itself was not at hand.
#[case("1971-08-10", "anti-collision-colour-before-1971/strobe", Some(Verdict::Missed))]
#[case("1971-08-10", "anti-collision-colour/strobe", None)]
#[case("1971-08-11", "anti-collision-colour/strobe", Some(Verdict::Met))]
#[case("1971-08-11", "anti-collision-colour-before-1971/strobe", None)]
#[case("1971-08-10", "rear-light-colour-before-1971/tail", Some(Verdict::CannotTell))]
#[case("1971-08-11", "rear-light-colour/tail", Some(Verdict::Met))]
// A cap of 10 deg about the zenith, the part in A: 2 pi (1 - cos 10) 140/360 = 0.0371 sr, under the 0.04 sr of 1971.
#[case("1971-11-04", "rear-light-unbroken-before-1971", Some(Verdict::Missed))]
#[case("1971-11-04", "rear-light-unbroken", None)]
#[case("1971-11-05", "rear-light-unbroken", Some(Verdict::Met))]
// Seen up to 40 deg: enough for +-30, not for +-75.
#[case("1977-07-17", "anti-collision-field-30", Some(Verdict::Met))]
#[case("1977-07-17", "anti-collision-field", None)]
#[case("1977-07-18", "anti-collision-field-30", Some(Verdict::CannotTell))]
#[case("1977-07-18", "anti-collision-field", Some(Verdict::CannotTell))]
#[case("1977-08-31", "anti-collision-field", Some(Verdict::CannotTell))]
#[case("1977-09-01", "anti-collision-field", Some(Verdict::Missed))]
#[case("1977-09-01", "anti-collision-field-30", None)]
fn dates_judged(#[case] day: &str, #[case] id: &str, #[case] expected: Option<Verdict>) {
    let word = id.split('/').next().expect("a word");
    assert_eq!(verdict(&report(&dated(day), &[word]), id), expected);
}

/// A whole year that holds the boundary leaves the verdict open where the two standings disagree.
#[test]
fn a_year_across_a_boundary_cannot_be_told() {
    let report = report(&dated("1971"), &["anti-collision-colour"]);
    assert!(!report.goals.is_empty());
    assert!(report.goals.iter().all(|g| g.verdict == Verdict::CannotTell), "{:?}", report.goals);
}

/// 25.1399(a), 2 nautical miles: 4.9955 cd at 2e-7 lx through air of 10 nmi visibility (Allard's law, numpy).
#[rstest]
#[case("1:1", "5.1 cd", Verdict::Met)]
#[case("1:1", "4.996 cd", Verdict::Met)]
#[case("1:1", "4.995 cd", Verdict::Missed)]
#[case("1:1", "4.9 cd", Verdict::Missed)]
#[case("1:10", "51 mcd", Verdict::Met)]
#[case("1:10", "49 mcd", Verdict::Missed)]
fn riding_light(#[case] scale: &str, #[case] peak: &str, #[case] expected: Verdict) {
    let csv = include_str!("published/visual_range_intensity.csv");
    let row = csv.lines().find(|l| l.starts_with("2 nautical miles,3704.000,2e-07,")).expect("the row");
    assert_eq!(row.split(',').nth(4), Some("4.9955"), "column of V = 10 nmi");
    let text = format!(
        "lampwright: aircraft 1
model: {{title: boat, scale: \"{scale}\"}}
prototype: {{category: transport aeroplane, authority: US, applied: 1980, seaplane: true}}
emitters:
  all round: {{from: measured, peak: {peak}, size: 0 mm, table: {{0 deg: 100 %, 180 deg: 100 %}}}}
lamps:
  riding: {{light: riding, aim: up, emitter: all round}}
"
    );
    let report = report(&text, &["riding-light-range"]);
    assert_eq!(verdict(&report, "riding-light-range/range"), Some(expected));
}
