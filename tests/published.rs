//! The bundled 14 CFR Part 25 rule set against figures printed in the sections themselves.
//!
//! Section numbers beside each check name the printed text. The product table, the joints and the boundary points of
//! colours are arithmetic on printed figures, by hand.

use lampwright::aircraft::{Aim, Aircraft, Emitter, Known, Lamp, Origin, Output, Scale};
use lampwright::colorimetry::{Chromaticity, ColourSet};
use lampwright::judge::Verdict;
use lampwright::photometry::Shape;
use lampwright::report::{GoalReport, Report};
use lampwright::rules::{
    Allowance, Authority, Category, DihedralAngle, GoalSpec, Light, Limit, ParagraphStatus, Region, RuleSet, Table,
    Unit,
};
use lampwright::source::At;
use lampwright::units::Interval;
use lampwright::{Options, bundled_rule_sets, check};
use rstest::rstest;
use std::sync::LazyLock;

static SETS: LazyLock<Vec<RuleSet>> = LazyLock::new(|| bundled_rule_sets().expect("sound"));

fn part_25() -> &'static RuleSet {
    SETS.iter().find(|s| s.id == "us-14cfr25").expect("bundled")
}

/// The goal of a requirement, by the name that tells it from its siblings.
fn spec(set: &RuleSet, id: &str, name: Option<&str>) -> GoalSpec {
    let requirement = set.requirement(id).unwrap_or_else(|| panic!("no requirement {id}"));
    let goals = requirement.demand.goals();
    let found = goals.into_iter().find(|g| g.name.as_deref() == name);
    found.unwrap_or_else(|| panic!("no goal {name:?} of {id}")).clone()
}

fn floor(set: &RuleSet, id: &str) -> (Table, Option<Table>) {
    match spec(set, id, None).limit {
        Limit::Floor { by_azimuth, times_by_elevation } => (by_azimuth, times_by_elevation),
        other => panic!("{id} has no floor: {other:?}"),
    }
}

fn rows(table: &Table, unit: Unit) -> Vec<(f64, f64, f64)> {
    assert!(table.rows.iter().all(|r| r.is.scalar.unit == unit), "{}", table.name);
    table.rows.iter().map(|r| (r.from_deg, r.to_deg, r.is.scalar.value)).collect()
}

/// 25.1391, dihedral angles L and R: 0 to 10 deg 40, 10 to 20 deg 30, 20 to 110 deg 5 candles; A: 110 to 180 deg 20.
#[rstest]
#[case("left", DihedralAngle::L, &[(0.0, 10.0, 40.0), (10.0, 20.0, 30.0), (20.0, 110.0, 5.0)])]
#[case("right", DihedralAngle::R, &[(0.0, 10.0, 40.0), (10.0, 20.0, 30.0), (20.0, 110.0, 5.0)])]
#[case("rear", DihedralAngle::A, &[(110.0, 180.0, 20.0)])]
fn horizontal_minima(#[case] light: &str, #[case] angle: DihedralAngle, #[case] printed: &[(f64, f64, f64)]) {
    let set = part_25();
    for kind in ["horizontal", "vertical"] {
        let id = format!("{light}-light-{kind}");
        assert_eq!(rows(&floor(set, &id).0, Unit::Candela), printed, "{id}");
        assert_eq!(spec(set, &id, None).region, Some(Region::Dihedral(angle)), "{id}");
    }
    assert!(floor(set, &format!("{light}-light-horizontal")).1.is_none());
}

/// 25.1393: 0 deg 1.00, to 5 deg 0.90, to 10 deg 0.80, to 15 deg 0.70, to 20 deg 0.50, to 30 deg 0.30, to 40 deg 0.10,
/// to 90 deg 0.05.
#[rstest]
fn vertical_factors(#[values("left", "right", "rear")] light: &str) {
    let (_, factors) = floor(part_25(), &format!("{light}-light-vertical"));
    let printed = [
        (0.0, 0.0, 1.00),
        (0.0, 5.0, 0.90),
        (5.0, 10.0, 0.80),
        (10.0, 15.0, 0.70),
        (15.0, 20.0, 0.50),
        (20.0, 30.0, 0.30),
        (30.0, 40.0, 0.10),
        (40.0, 90.0, 0.05),
    ];
    assert_eq!(rows(&factors.expect("factors"), Unit::Times), printed);
}

/// The product of both tables by hand; at a joint the stricter row: 10.0 deg belongs to the 40, elevation 5 to the 0.90.
#[rstest]
#[case("left", 0.0, 0.0, 40.0)]
#[case("left", 0.0, 0.1, 36.0)]
#[case("left", 5.0, 3.0, 36.0)]
#[case("right", 10.0, 0.0, 40.0)]
#[case("right", 10.1, 0.0, 30.0)]
#[case("left", 20.0, 0.0, 30.0)]
#[case("left", 20.1, 0.0, 5.0)]
#[case("left", 110.0, 0.0, 5.0)]
#[case("left", 0.0, 5.0, 36.0)]
#[case("left", 0.0, 5.1, 32.0)]
#[case("left", 0.0, 10.0, 32.0)]
#[case("left", 0.0, 15.0, 28.0)]
#[case("left", 0.0, 20.0, 20.0)]
#[case("left", 0.0, 30.0, 12.0)]
#[case("left", 0.0, 40.0, 4.0)]
#[case("left", 0.0, 40.1, 2.0)]
#[case("right", 15.0, 12.0, 21.0)]
#[case("right", 60.0, 25.0, 1.5)]
#[case("right", 109.0, 45.0, 0.25)]
#[case("rear", 180.0, 0.0, 20.0)]
#[case("rear", 180.0, 14.0, 14.0)]
#[case("rear", 150.0, 29.0, 6.0)]
#[case("rear", 120.0, 60.0, 1.0)]
fn product_of_both_tables(#[case] light: &str, #[case] az: f64, #[case] el: f64, #[case] cd: f64) {
    let (minimum, factors) = floor(part_25(), &format!("{light}-light-vertical"));
    let product = minimum.strictest(az).expect("in") * factors.expect("factors").strictest(el).expect("in");
    assert!((product - cd).abs() < 1e-9, "{product}");
}

/// Nothing is asked outside the dihedral angle of a light.
#[test]
fn tables_end_with_the_dihedral_angle() {
    let (forward, factors) = floor(part_25(), "left-light-vertical");
    let (rear, _) = floor(part_25(), "rear-light-horizontal");
    assert_eq!((forward.strictest(110.1), rear.strictest(109.9)), (None, None));
    assert_eq!(factors.expect("factors").strictest(90.1), None);
}

/// 25.1395: area A, more than 10 but less than 20 deg from the common boundary plane; area B, more than 20 deg. Green in
/// L and red in R 10 and 1 candles, the four overlaps with A 5 and 1. The planes are those of 25.1387.
#[rstest]
#[case("green-in-L", "right position", DihedralAngle::L, 0.0, 10.0)]
#[case("red-in-R", "left position", DihedralAngle::R, 0.0, 10.0)]
#[case("green-in-A", "right position", DihedralAngle::A, 110.0, 5.0)]
#[case("red-in-A", "left position", DihedralAngle::A, -110.0, 5.0)]
#[case("white-in-L", "rear position", DihedralAngle::L, -110.0, 5.0)]
#[case("white-in-R", "rear position", DihedralAngle::R, 110.0, 5.0)]
fn overlap_maxima(
    #[case] id: &str,
    #[case] light: &str,
    #[case] into: DihedralAngle,
    #[case] plane_deg: f64,
    #[case] area_a_cd: f64,
) {
    let set = part_25();
    for (area, from, to, cd) in [("area A", 10.0, 20.0, area_a_cd), ("area B", 20.0, 90.0, 1.0)] {
        let goal = spec(set, id, Some(area));
        assert_eq!(goal.light.as_str(), light);
        let angles_deg = Interval::new(from, to);
        assert_eq!(goal.region, Some(Region::Overlap { into, plane_deg, angles_deg }), "{id} {area}");
        let Limit::AtMost(most) = &goal.limit else { panic!("{id} {area} has no ceiling") };
        assert_eq!((most.scalar.value, most.scalar.unit), (cd, Unit::Candela), "{id} {area}");
        // 25.1389(b)(3): for the two forward lights over 100 candles, 10 % and 2.5 % of the peak; never into A.
        let relief = goal.relief.as_ref().map(|r| (r.peak_over.scalar.value, r.at_most.scalar.value));
        let share = if area == "area A" { 0.10 } else { 0.025 };
        assert_eq!(relief, (plane_deg == 0.0).then_some((100.0, share)), "{id} {area}");
    }
    assert_eq!(set.requirement(id).expect("there").demand.goals().len(), 2);
}

/// 25.1387(e): 0.04 sr within 30 deg of the vertical. 25.1401(b): 0.03 sr within 0.15 sr aft. 25.1401(c): 40 to 100.
#[test]
fn allowances_and_rates() {
    let set = part_25();
    match spec(set, "rear-light-unbroken", None).allow {
        Some(Allowance::AboutVertical { at_most, half_angle_deg }) => {
            assert_eq!((at_most.scalar.value, at_most.scalar.unit, half_angle_deg), (0.04, Unit::Steradian, 30.0));
        }
        other => panic!("{other:?}"),
    }
    for id in ["left-light-unbroken", "right-light-unbroken", "rear-light-unbroken-before-1971"] {
        assert!(spec(set, id, None).allow.is_none(), "{id}");
    }
    for (id, band) in [("anti-collision-field", 75.0), ("anti-collision-field-30", 30.0)] {
        let goal = spec(set, id, None);
        assert_eq!(goal.region, Some(Region::Band(Interval::new(-band, band))), "{id}");
        match goal.allow {
            Some(Allowance::AboutAft { at_most, cone_sr }) => {
                assert_eq!((at_most.scalar.value, at_most.scalar.unit, cone_sr), (0.03, Unit::Steradian, 0.15), "{id}");
            }
            other => panic!("{id}: {other:?}"),
        }
    }
    for (name, most) in [("one source", 100.0), ("overlap", 180.0)] {
        let limit = spec(set, "anti-collision-frequency", Some(name)).limit;
        let Limit::Between(low, high) = limit else { panic!("no range") };
        let rates = [low.scalar, high.scalar].map(|s| (s.value, s.unit));
        assert_eq!(rates, [(40.0, Unit::PerMinute), (most, Unit::PerMinute)]);
    }
}

/// 25.1401(f): 400, 240, 80, 40, 20 candles to 5, 10, 20, 30, 75 deg. A rule set either has them all or says that it does
/// not look.
#[test]
fn anti_collision_intensities_are_whole_or_not_claimed() {
    let set = part_25();
    let paragraph = set.paragraphs.iter().find(|p| p.section == "25.1401(f)").expect("said");
    let tables: Vec<_> = set
        .requirements
        .iter()
        .filter(|r| r.cite.contains("25.1401(f)") && r.in_force.until.is_none())
        .flat_map(|r| r.demand.goals())
        .filter_map(|g| match &g.limit {
            Limit::FloorByElevation(table) => Some(rows(table, Unit::Candela)),
            _ => None,
        })
        .collect();
    let printed =
        vec![(0.0, 5.0, 400.0), (5.0, 10.0, 240.0), (10.0, 20.0, 80.0), (20.0, 30.0, 40.0), (30.0, 75.0, 20.0)];
    if paragraph.status == ParagraphStatus::Checked {
        assert!(!tables.is_empty());
    }
    assert!(tables.iter().all(|table| *table == printed), "{tables:?}");
    assert_eq!(tables.is_empty(), paragraph.status != ParagraphStatus::Checked);
}

fn colour_allows(id: &str, x: f64, y: f64) -> bool {
    let Limit::Inside(colours) = spec(part_25(), id, None).limit else { panic!("{id} has no colour") };
    assert_eq!(colours.len(), 1, "{id}");
    colours[0].region.contains(Chromaticity { x, y })
}

/// 25.1397(a): y not over 0.335, z = 1 - x - y not over 0.002; both inclusive.
#[test]
fn aviation_red() {
    let red = |x, y| colour_allows("left-light-colour", x, y);
    // z = 1 - 0.664 - 0.335 = 0.001.
    assert!(red(0.664, 0.335) && red(0.7, 0.2995));
    assert!(!red(0.664, 0.3351));
    assert!(red(0.690_05, 0.308) && !red(0.689_95, 0.308));
    // White and green, far off.
    assert!(!red(0.345, 0.352) && !red(0.17, 0.70));
}

/// 25.1397(b): x not over 0.440 - 0.320 y, x not over y - 0.170, y not under 0.390 - 0.170 x.
#[test]
fn aviation_green() {
    let green = |x, y| colour_allows("right-light-colour", x, y);
    // At y = 0.60: 0.440 - 0.192 = 0.248.
    assert!(green(0.2479, 0.60) && !green(0.2481, 0.60));
    // At y = 0.40: y - 0.170 = 0.230; the other limit is 0.312.
    assert!(green(0.2299, 0.40) && !green(0.2301, 0.40));
    // At x = 0.10: 0.390 - 0.017 = 0.373.
    assert!(green(0.10, 0.3731) && !green(0.10, 0.3729));
    // Corners by solving pairs of lines: x = 0.22 / 1.17, y = x + 0.17; y = 0.61 / 1.32, x = y - 0.17.
    for (x, y) in [(0.22 / 1.17, 0.22 / 1.17 + 0.17), (0.61 / 1.32 - 0.17, 0.61 / 1.32)] {
        assert!(!green(x + 1e-4, y - 1e-4), "{x} {y}");
    }
    assert!(green(0.188_03 - 1e-4, 0.358_03 + 1e-4) && green(0.292_12 - 1e-4, 0.462_12 + 1e-4));
}

/// 25.1397(c): x from 0.300 to 0.540, y not under the lesser of x - 0.040 and y0 - 0.010, not over x + 0.020 nor over
/// 0.636 - 0.400 x. Planckian y0 from Planck's law and the CIE 1931 functions at 1 nm (planckian_y0_of_x.csv).
#[rstest]
#[case(0.300, 0.260_00, 0.320)]
#[case(0.340, 0.300_00, 0.360)]
#[case(0.380, 0.340_00, 0.400)]
#[case(0.420, 0.380_00, 0.440)]
#[case(0.440, 0.395_10, 0.460)]
#[case(0.460, 0.400_63, 0.452)]
#[case(0.480, 0.404_05, 0.444)]
#[case(0.500, 0.405_27, 0.436)]
#[case(0.520, 0.404_19, 0.428)]
#[case(0.540, 0.400_69, 0.420)]
fn aviation_white(#[case] x: f64, #[case] low: f64, #[case] high: f64) {
    let white = |x, y| colour_allows("rear-light-colour", x, y);
    // A step off the end of the range keeps rounding from deciding.
    let inner = x.clamp(0.300 + 1e-9, 0.540 - 1e-9);
    assert!(white(inner, low + 1e-4) && white(inner, high - 1e-4));
    assert!(!white(inner, low - 1e-4) && !white(inner, high + 1e-4));
    let middle = 0.5 * (low + high);
    assert!(white(inner, middle));
    assert!(!white(0.2999, 0.30) && !white(0.5401, 0.41));
}

/// 25.1401(d): red or white; before 11 August 1971 red alone.
#[rstest]
#[case("anti-collision-colour", &["aviation red", "aviation white"])]
#[case("anti-collision-colour-before-1971", &["aviation red"])]
fn anti_collision_colours(#[case] id: &str, #[case] wanted: &[&str]) {
    let Limit::Inside(colours) = spec(part_25(), id, None).limit else { panic!("no colour") };
    assert_eq!(colours.iter().map(|c| c.name.as_str()).collect::<Vec<_>>(), wanted);
}

/// An emitter equal in every direction, measured, of no size.
fn even(peak_cd: f64, x: f64, y: f64) -> Emitter {
    let shape = Shape::isotropic(None, Interval::exactly(1.0)).expect("a shape");
    Emitter {
        colour: Some(Known::in_code(ColourSet::Point(Chromaticity { x, y }), Origin::Measured)),
        output: Some(Known::in_code(Output::PeakCd(Interval::exactly(peak_cd)), Origin::Measured)),
        shape: Some(Known::in_code(shape, Origin::Measured)),
        size_mm: Some(Known::in_code(Interval::ZERO, Origin::Measured)),
        ..Emitter::unknown("even", &At::nowhere())
    }
}

fn model(scale: f64, applied: &str) -> Aircraft {
    let mut model = Aircraft::new("made", Scale::one_to(scale).expect("a scale"));
    model.craft.category = Some(Category::TransportAeroplane);
    model.craft.authority = Some(Authority::Us);
    model.craft.applied = Some(applied.parse().expect("dates"));
    model
}

fn judged(model: &Aircraft) -> Report {
    check(model, &SETS, &Options::default()).expect("judged")
}

fn goal<'a>(report: &'a Report, id: &str) -> Option<&'a GoalReport> {
    report.goals.iter().find(|g| g.id == id)
}

fn verdict(report: &Report, id: &str) -> Verdict {
    goal(report, id).unwrap_or_else(|| panic!("no goal {id}")).verdict
}

/// A craft with a white tail light and a white strobe.
fn dated(applied: &str) -> Report {
    let mut model = model(8.0, applied);
    let white = || even(1.0, 0.345, 0.352);
    model.lamps.push(Lamp::new("tail", Light::RearPosition, Aim::from_degrees(180.0, 0.0), white()));
    model.lamps.push(Lamp::new("flash", Light::Strobe, Aim::from_degrees(0.0, 90.0), white()));
    judged(&model)
}

/// 36 FR 12972: in effect on 11 August 1971, new white and white anti-collision lights.
#[test]
fn the_day_of_august_1971() {
    let (before, on) = (dated("1971-08-10"), dated("1971-08-11"));
    assert_eq!(verdict(&before, "anti-collision-colour-before-1971/flash"), Verdict::Missed);
    assert!(goal(&before, "anti-collision-colour/flash").is_none());
    assert_eq!(verdict(&on, "anti-collision-colour/flash"), Verdict::Met);
    assert!(goal(&on, "anti-collision-colour-before-1971/flash").is_none());
    // The white before was not found: it cannot be told, and says where the figure is.
    let old = before.goals.iter().find(|g| g.id.starts_with("rear-light-colour-before-1971")).expect("asked");
    assert_eq!(old.verdict, Verdict::CannotTell);
    assert_eq!(old.reason.as_ref().map(|r| r.kind), Some("figure not at hand"));
    assert_eq!(verdict(&on, "rear-light-colour/tail"), Verdict::Met);
    // Both days in one answer: one question, told once, and it cannot be told.
    let both = dated("1971-08-10 to 1971-08-11");
    let colour: Vec<_> = both.goals.iter().filter(|g| g.id.starts_with("anti-collision-colour")).collect();
    assert!(matches!(colour.as_slice(), [only] if only.verdict == Verdict::CannotTell), "{colour:?}");
}

/// 36 FR 21278 of 5 November 1971: from then on the rear light has an allowance about the vertical.
#[test]
fn the_day_of_november_1971() {
    let (before, on) = (dated("1971-11-04"), dated("1971-11-05"));
    assert!(
        goal(&before, "rear-light-unbroken-before-1971").is_some() && goal(&before, "rear-light-unbroken").is_none()
    );
    assert!(goal(&on, "rear-light-unbroken").is_some() && goal(&on, "rear-light-unbroken-before-1971").is_none());
}

/// 42 FR 36970 of 18 July 1977: from 30 to 75 deg, on a day between then and 1 September.
#[test]
fn the_summer_of_1977() {
    let kinds =
        |report: &Report| ["anti-collision-field-30", "anti-collision-field"].map(|id| goal(report, id).is_some());
    assert_eq!(kinds(&dated("1977-07-17")), [true, false]);
    assert_eq!(kinds(&dated("1977-09-01")), [false, true]);
    for day in ["1977-07-18", "1977-08-31"] {
        let between = dated(day);
        assert_eq!(kinds(&between), [true, true], "{day}");
        for id in ["anti-collision-field-30", "anti-collision-field"] {
            assert_eq!(verdict(&between, id), Verdict::CannotTell, "{day} {id}");
        }
    }
}

/// 25.1399(a): 2 nautical miles. Allard's law with 2e-7 lx and a visibility of 10 nautical miles asks for 4.9955 cd
/// (visual_range_intensity.csv).
#[rstest]
#[case(4.9, Verdict::Missed)]
#[case(4.99, Verdict::Missed)]
#[case(5.0, Verdict::Met)]
#[case(5.1, Verdict::Met)]
fn riding_light(#[case] full_size_cd: f64, #[case] wanted: Verdict) {
    let table = include_str!("published/visual_range_intensity.csv");
    let lines: Vec<Vec<&str>> = table.lines().filter(|l| !l.starts_with('#')).map(|l| l.split(',').collect()).collect();
    let column = lines[0].iter().position(|h| *h == "I_cd_V=10nmi").expect("a column");
    let row = lines.iter().find(|r| r[0] == "2 nautical miles" && r[2] == "2e-07").expect("a row");
    let needed_cd: f64 = row[column].parse().expect("a number");
    assert_eq!(full_size_cd >= needed_cd, wanted == Verdict::Met);

    let scale = 12.0;
    let mut model = model(scale, "1980");
    model.craft.seaplane = Some(true);
    let lamp = even(full_size_cd / (scale * scale), 0.345, 0.352);
    model.lamps.push(Lamp::new("anchor", Light::Riding, Aim::from_degrees(0.0, 90.0), lamp));
    let report = judged(&model);
    assert_eq!(verdict(&report, "riding-light-range"), wanted);
    assert_eq!(verdict(&report, "riding-light-fitted"), Verdict::Met);
    // A landplane is not asked.
    model.craft.seaplane = None;
    assert_eq!(verdict(&judged(&model), "riding-light-range"), Verdict::NotApplicable);
}

/// A table beam of relative intensity `inside` up to an angle off dead ahead and `outside` from just past it.
fn stepped(full_size_cd: f64, to_deg: f64, outside: f64) -> Verdict {
    let shape =
        Shape::table(vec![0.0, to_deg, to_deg + 0.01, 180.0], vec![1.0, 1.0, outside, outside]).expect("a table");
    let mut model = model(1.0, "1980");
    let mut emitter = even(full_size_cd, 0.7, 0.2995);
    emitter.shape = Some(Known::in_code(shape, Origin::Measured));
    model.lamps.push(Lamp::new("left", Light::LeftPosition, Aim::from_degrees(0.0, 0.0), emitter));
    verdict(&judged(&model), "left-light-horizontal")
}

/// 25.1391 at its joints, measured: 40 candles hold at 10.0 deg, 30 at 20.0 deg.
#[test]
fn joints_belong_to_the_stricter_row() {
    // 40 cd as far as 10.0 deg, then 39 cd.
    assert_eq!(stepped(40.0, 10.0, 39.0 / 40.0), Verdict::Met);
    assert_eq!(stepped(40.0, 9.98, 39.0 / 40.0), Verdict::Missed);
    // 40 cd as far as 20.0 deg, then 29 cd.
    assert_eq!(stepped(40.0, 20.0, 29.0 / 40.0), Verdict::Met);
    assert_eq!(stepped(40.0, 19.98, 29.0 / 40.0), Verdict::Missed);
}
