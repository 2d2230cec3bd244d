//! Facts of the trade: what builders and judges know of lights, held against reports.
//!
//! Facts marked "common practice, no source" have none. Ranges of emitters and covers are the trade's, read in data
//! sheets where the list of typical emitters says so. CV numbers are check values worked by hand: a rate is 60 / period,
//! an intensity at 1:N is the full-size one over N squared.

use lampwright::aircraft::{
    Aim, Aircraft, Channel, Cover, CoverKind, Drive, Emitter, Hides, Known, Lamp, MaskSpec, Origin, Output, Place,
    Scale, find_typical,
};
use lampwright::colorimetry::ColourSet;
use lampwright::geometry::AzimuthSpan;
use lampwright::judge::Verdict;
use lampwright::photometry::Shape;
use lampwright::report::{GoalReport, Report};
use lampwright::rules::{Authority, Category, Light, RuleSet, read, shared_text};
use lampwright::source::{At, Disk, Memory};
use lampwright::timing::{Step, Waveform};
use lampwright::units::{Fraction, Interval, Micros};
use lampwright::{Options, bundled_rule_sets, check};
use rstest::rstest;
use std::path::Path;
use std::sync::LazyLock;

static SETS: LazyLock<Vec<RuleSet>> = LazyLock::new(|| bundled_rule_sets().expect("sound"));

fn model(scale: f64) -> Aircraft {
    let mut model = Aircraft::new("made", Scale::one_to(scale).expect("a scale"));
    model.craft.category = Some(Category::TransportAeroplane);
    model.craft.authority = Some(Authority::Us);
    model.craft.applied = Some("1991".parse().expect("dates"));
    model
}

fn judged(model: &Aircraft) -> Report {
    check(model, &SETS, &Options::default()).expect("judged")
}

fn goal<'a>(report: &'a Report, id: &str) -> &'a GoalReport {
    report.goals.iter().find(|g| g.id == id).unwrap_or_else(|| panic!("no goal {id}"))
}

fn verdict(report: &Report, id: &str) -> Verdict {
    goal(report, id).verdict
}

fn found(report: &Report, id: &str) -> Interval {
    goal(report, id).found.as_ref().and_then(|f| f.interval).unwrap_or_else(|| panic!("nothing found for {id}"))
}

fn typical(phrase: &str) -> Emitter {
    find_typical(phrase).expect("a class").emitter(&At::nowhere())
}

fn aim(azimuth_deg: f64) -> Aim {
    Aim::from_degrees(azimuth_deg, 0.0)
}

/// An emitter equal in every direction, measured, of no size.
fn even(peak_cd: f64) -> Emitter {
    Emitter {
        output: Some(Known::in_code(Output::PeakCd(Interval::exactly(peak_cd)), Origin::Measured)),
        shape: Some(Known::in_code(Shape::isotropic(None, Interval::exactly(1.0)).expect("a shape"), Origin::Measured)),
        size_mm: Some(Known::in_code(Interval::ZERO, Origin::Measured)),
        ..Emitter::unknown("even", &At::nowhere())
    }
}

/// An emitter that shows the half of the sphere it faces.
fn half(peak_cd: f64) -> Emitter {
    let shape = Shape::cosine_power(Interval::exactly(60.0)).expect("a shape");
    Emitter { shape: Some(Known::in_code(shape, Origin::Measured)), ..even(peak_cd) }
}

fn coloured(colour: ColourSet) -> Emitter {
    Emitter { colour: Some(Known::in_code(colour, Origin::DataSheet)), ..even(1.0) }
}

fn masked(mut lamp: Lamp, hides: Hides) -> Lamp {
    lamp.mask = Some(MaskSpec { hides: vec![hides], edge_mm: None });
    lamp
}

fn at(mut lamp: Lamp, right_mm: f64) -> Lamp {
    lamp.place = Some(Place::from_mm(0.0, right_mm, 0.0));
    lamp
}

/// A model with one lamp.
fn only(scale: f64, lamp: Lamp) -> Aircraft {
    let mut model = model(scale);
    model.lamps.push(lamp);
    model
}

// --- sides -------------------------------------------------------------------------------------------------------

/// Common practice, no source (and 14 CFR 25.1385(b)): red on the left wing, green on the right, the pilot's sides.
#[rstest]
#[case(-690.0, 690.0, Verdict::Met)]
#[case(690.0, -690.0, Verdict::Missed)]
fn red_is_on_the_left_wing(#[case] red_mm: f64, #[case] green_mm: f64, #[case] wanted: Verdict) {
    let mut model = model(8.0);
    let red = Lamp::new("red", Light::LeftPosition, aim(-55.0), typical("red 1 W star"));
    let green = Lamp::new("green", Light::RightPosition, aim(55.0), typical("green 1 W star"));
    model.lamps.extend([at(red, red_mm), at(green, green_mm)]);
    let report = judged(&model);
    assert_eq!([verdict(&report, "left-light-side"), verdict(&report, "right-light-side")], [wanted, wanted]);
    assert_eq!(verdict(&report, "left-light-colour/red"), Verdict::Met);
}

/// Common practice, no source: a green lamp does for a red one nowhere.
#[test]
fn colours_swapped_are_both_missed() {
    let mut model = model(8.0);
    model.lamps.push(Lamp::new("left", Light::LeftPosition, aim(-55.0), typical("green 1 W star")));
    model.lamps.push(Lamp::new("right", Light::RightPosition, aim(55.0), typical("red 1 W star")));
    let report = judged(&model);
    for id in ["left-light-colour/left", "right-light-colour/right"] {
        assert_eq!(verdict(&report, id), Verdict::Missed, "{id}");
    }
}

// --- coverage of the anti-collision system ------------------------------------------------------------------------

/// Strobes aimed 20 deg aft of abeam at both tips, their inboard side hidden by the wing, and one in the tail.
fn strobes() -> Vec<Lamp> {
    let tip = |name: &str, side: f64| {
        let lamp = Lamp::new(name, Light::Strobe, aim(side * 110.0), half(1.0));
        masked(at(lamp, side * 690.0), Hides::Inboard)
    };
    vec![tip("left tip", -1.0), tip("right tip", 1.0), Lamp::new("tail", Light::Strobe, aim(180.0), half(1.0))]
}

fn beacon(name: &str, elevation_deg: f64) -> Lamp {
    Lamp::new(name, Light::Beacon, Aim::from_degrees(0.0, elevation_deg), half(1.0))
}

fn field(lamps: Vec<Lamp>) -> (Verdict, Interval) {
    let mut model = model(8.0);
    model.lamps = lamps;
    let report = judged(&model);
    (verdict(&report, "anti-collision-field"), found(&report, "anti-collision-field"))
}

/// A solid angle by closed form must lie in the bounds found.
fn holds(bounds: Interval, sr: f64) {
    assert!(bounds.low - 1e-6 <= sr && sr <= bounds.high + 1e-6 && bounds.width() < 1e-3, "{sr} {bounds:?}");
}

/// A wedge of azimuth between elevations -75 and 75 deg: its width times 2 sin 75.
fn wedge_sr(width_deg: f64) -> f64 {
    width_deg.to_radians() * 2.0 * 75.0_f64.to_radians().sin()
}

/// Common practice, no source: white strobes on both tips and the tail with a red beacon above and one below the fuselage
/// are seen from everywhere.
#[test]
fn strobes_and_two_beacons_are_seen_from_everywhere() {
    let mut lamps = strobes();
    lamps.extend([beacon("top", 90.0), beacon("belly", -90.0)]);
    let (verdict, sr) = field(lamps);
    assert_eq!(verdict, Verdict::Met);
    holds(sr, 0.0);
}

/// Without beacons strobes that look aft leave a wedge of 20 deg either side of dead ahead.
#[test]
fn strobes_that_look_aft_leave_the_nose_dark() {
    let (verdict, sr) = field(strobes());
    assert_eq!(verdict, Verdict::Missed);
    holds(sr, wedge_sr(40.0));
}

/// Without the belly beacon the lower half of that wedge is dark; without the top one the upper half.
#[rstest]
#[case(90.0)]
#[case(-90.0)]
fn one_beacon_leaves_half_of_it(#[case] elevation_deg: f64) {
    let mut lamps = strobes();
    lamps.push(beacon("only", elevation_deg));
    let (verdict, sr) = field(lamps);
    assert_eq!(verdict, Verdict::Missed);
    holds(sr, 0.5 * wedge_sr(40.0));
}

/// Tip strobes on the upper skin of the wing show nothing below it: ahead and below only a belly beacon does.
#[test]
fn strobes_on_the_wing_need_the_belly_beacon() {
    let on_top = |lamp: Lamp| masked(lamp, Hides::Below(0.0));
    let tip = |name: &str, side: f64| on_top(Lamp::new(name, Light::Strobe, aim(side * 90.0), half(1.0)));
    let tail = Lamp::new("tail", Light::Strobe, aim(180.0), half(1.0));
    let mut lamps = vec![tip("left tip", -1.0), tip("right tip", 1.0), tail, beacon("top", 90.0)];
    let (verdict, sr) = field(lamps.clone());
    assert_eq!(verdict, Verdict::Missed);
    // The forward half of the lower band: 180 deg of azimuth from elevation -75 to 0.
    holds(sr, 0.5 * wedge_sr(180.0));
    lamps.push(beacon("belly", -90.0));
    assert_eq!(field(lamps).0, Verdict::Met);
}

/// Two tip strobes aimed abeam cover all round; a fuselage that hides 10 deg past the plane of symmetry loses ahead and
/// astern, and a tail strobe mends astern alone.
#[test]
fn tips_masked_past_the_middle_lose_ahead_and_astern() {
    let tips = |hidden_from: Option<f64>| {
        [(-1.0, "left tip"), (1.0, "right tip")].map(|(side, name)| {
            let lamp = at(Lamp::new(name, Light::Strobe, aim(side * 90.0), half(1.0)), side * 690.0);
            let sector = |from: f64| {
                let span = AzimuthSpan::new(-from, 180.0 + 2.0 * from);
                let azimuth = if side < 0.0 { span } else { span.mirrored() };
                Hides::Sector { azimuth, elevation_deg: Interval::new(-90.0, 90.0) }
            };
            match hidden_from {
                Some(from) => masked(lamp, sector(from)),
                None => lamp,
            }
        })
    };
    assert_eq!(field(tips(None).to_vec()).0, Verdict::Met);
    let (verdict, sr) = field(tips(Some(10.0)).to_vec());
    assert_eq!(verdict, Verdict::Missed);
    holds(sr, wedge_sr(40.0));
    let mut mended = tips(Some(10.0)).to_vec();
    mended.push(Lamp::new("tail", Light::Strobe, aim(180.0), half(1.0)));
    let (verdict, sr) = field(mended);
    assert_eq!(verdict, Verdict::Missed);
    holds(sr, wedge_sr(20.0));
}

// --- patterns ----------------------------------------------------------------------------------------------------

fn flash(period_ms: u64, lit_ms: u64) -> Waveform {
    let period_us = Fraction::new(i128::from(period_ms) * 1000, 1);
    Waveform::flash(period_us, Micros(lit_ms * 1000), 1, Micros(0)).expect("a flash")
}

fn per_min(rate: i128, lit_ms: u64) -> Waveform {
    Waveform::flash(Fraction::new(60_000_000, rate), Micros(lit_ms * 1000), 1, Micros(0)).expect("a flash")
}

fn beacon_on(waveform: Waveform) -> Report {
    let mut model = model(8.0);
    let channel = model.add_channel(Channel::in_code("flash", waveform));
    model.lamps.push(Lamp { channel: Some(channel), ..beacon("top", 90.0) });
    judged(&model)
}

/// Common practice, no source: position lights are steady; a flashing one misses.
#[test]
fn position_lights_stay_on() {
    let mut model = model(8.0);
    let steady = model.add_channel(Channel::in_code("steady", Waveform::steady(1.0).expect("a level")));
    let flashing = model.add_channel(Channel::in_code("flashing", per_min(60, 500)));
    let lamp = |name: &str, light, channel| Lamp { channel, ..Lamp::new(name, light, aim(0.0), even(1.0)) };
    model.lamps.push(lamp("left", Light::LeftPosition, Some(steady)));
    model.lamps.push(lamp("right", Light::RightPosition, Some(flashing)));
    model.lamps.push(lamp("tail", Light::RearPosition, None));
    let report = judged(&model);
    assert_eq!(verdict(&report, "steady-position-lights/steady"), Verdict::Met);
    assert_eq!(verdict(&report, "steady-position-lights/flashing"), Verdict::Missed);
    assert_eq!(verdict(&report, "steady-position-lights/tail"), Verdict::Met);
}

/// Common practice, no source: each channel keeps its own time.
#[test]
fn each_channel_keeps_its_own_time() {
    let mut model = model(8.0);
    for (name, rate, elevation_deg) in [("top", 44, 90.0), ("belly", 46, -90.0)] {
        let channel = model.add_channel(Channel::in_code(name, per_min(rate, 120)));
        model.lamps.push(Lamp { channel: Some(channel), ..beacon(name, elevation_deg) });
    }
    let report = judged(&model);
    for (id, rate) in [("each-channel-frequency/top", 44.0), ("each-channel-frequency/belly", 46.0)] {
        let ours = found(&report, id);
        assert!(ours.is_exact() && (ours.low - rate).abs() < 1e-9, "{id} {ours:?}");
        assert_eq!(verdict(&report, id), Verdict::Met);
    }
}

/// CV01 to CV04: 60 s / 1.5 s = 40, 60 / 1.501 = 39.973, 60 / 0.6 = 100, 60 / 0.599 = 100.167; 40 to 100, ends included.
#[rstest]
#[case(1500, 40.0, Verdict::Met)]
#[case(1501, 39.973, Verdict::Missed)]
#[case(600, 100.0, Verdict::Met)]
#[case(599, 100.167, Verdict::Missed)]
fn periods_at_the_limits(#[case] period_ms: u64, #[case] rate: f64, #[case] wanted: Verdict) {
    let report = beacon_on(flash(period_ms, 100));
    assert!((found(&report, "each-channel-frequency/flash").low - rate).abs() < 5e-4);
    assert_eq!(verdict(&report, "each-channel-frequency/flash"), wanted);
}

/// CV05, CV06, CV07: n steps of a tick, one lit: 32 of 50 ms 37.5, 30 of 50 ms 40.0, 24 of 50 ms 50.0, 64 of 20 ms 46.875.
#[rstest]
#[case(32, 50, 37.5, Verdict::Missed)]
#[case(31, 50, 38.709_677, Verdict::Missed)]
#[case(30, 50, 40.0, Verdict::Met)]
#[case(24, 50, 50.0, Verdict::Met)]
#[case(64, 20, 46.875, Verdict::Met)]
fn patterns_of_steps(#[case] steps: u32, #[case] tick_ms: u64, #[case] rate: f64, #[case] wanted: Verdict) {
    let tick = Micros(tick_ms * 1000);
    let dark = Step::Repeat { times: steps - 1, steps: vec![Step::Dark(tick)] };
    let report = beacon_on(Waveform::from_steps(&[Step::Lit(tick), dark]).expect("steps"));
    assert!((found(&report, "each-channel-frequency/flash").low - rate).abs() < 1e-6);
    assert_eq!(verdict(&report, "each-channel-frequency/flash"), wanted);
}

/// CV08: 100 / 150 / 100 / 1500 ms is 1.85 s: 32.43 groups and 64.86 pulses a minute; groups miss, and the report says that
/// pulses would not.
#[test]
fn a_double_flash_is_one_flash() {
    let ms = |ms: u64| Micros(ms * 1000);
    let steps = [Step::Lit(ms(100)), Step::Dark(ms(150)), Step::Lit(ms(100)), Step::Dark(ms(1500))];
    let report = beacon_on(Waveform::from_steps(&steps).expect("steps"));
    let frequency = goal(&report, "each-channel-frequency/flash");
    assert!((found(&report, "each-channel-frequency/flash").low - 32.432).abs() < 1e-3);
    assert_eq!(frequency.verdict, Verdict::Missed);
    assert!(frequency.readings.iter().any(|n| n.contains("64.86") && n.contains("would turn")), "{frequency:?}");
}

/// Common practice, no source: a beacon that is always lit is no beacon.
#[test]
fn a_steady_beacon_never_flashes() {
    let report = beacon_on(Waveform::steady(1.0).expect("a level"));
    assert_eq!(verdict(&report, "each-channel-frequency/flash"), Verdict::Missed);
    assert_eq!(found(&report, "each-channel-frequency/flash").high, 0.0);
}

// --- colours -----------------------------------------------------------------------------------------------------

fn colour_verdict(light: Light, id: &str, emitter: Emitter) -> Verdict {
    verdict(&judged(&only(8.0, Lamp::new("lamp", light, aim(0.0), emitter))), &format!("{id}/lamp"))
}

/// Trade: 10 000 K lies past the end x = 0.300 of aviation white for every Duv within 0.012.
#[rstest]
#[case(ColourSet::declared_temperature(Interval::exactly(10_000.0)))]
#[case(ColourSet::White { kelvin: Interval::exactly(10_000.0), duv: Interval::new(-0.012, 0.012) })]
fn super_white_is_never_aviation_white(#[case] colour: ColourSet) {
    assert_eq!(colour_verdict(Light::RearPosition, "rear-light-colour", coloured(colour.clone())), Verdict::Missed);
    assert_eq!(colour_verdict(Light::Strobe, "anti-collision-colour", coloured(colour)), Verdict::Missed);
}

/// Trade: a yellowish "standard green" of 565 to 575 nm is never aviation green, a "520-530 nm" one always.
#[rstest]
#[case(570.0, 570.0, Verdict::Missed)]
#[case(565.0, 575.0, Verdict::Missed)]
#[case(520.0, 530.0, Verdict::Met)]
fn standard_green_is_never_aviation_green(#[case] low: f64, #[case] high: f64, #[case] wanted: Verdict) {
    let colour = ColourSet::Dominant { wavelength_nm: Interval::new(low, high), fwhm_nm: Interval::new(14.0, 42.0) };
    assert_eq!(colour_verdict(Light::RightPosition, "right-light-colour", coloured(colour)), wanted);
}

/// Trade table of typical colours and the aviation regions: which hold whole, which straddle, which never.
#[rstest]
#[case(Light::LeftPosition, "left-light-colour", "red 3 W star", Verdict::Met)]
#[case(Light::LeftPosition, "left-light-colour", "orange-red 3 W star", Verdict::CannotTell)]
#[case(Light::LeftPosition, "left-light-colour", "amber 3 W star", Verdict::Missed)]
#[case(Light::RightPosition, "right-light-colour", "green 3 W star", Verdict::CannotTell)]
#[case(Light::RightPosition, "right-light-colour", "yellow-green 0603 chip", Verdict::Missed)]
#[case(Light::RearPosition, "rear-light-colour", "neutral white 3 W star", Verdict::CannotTell)]
#[case(Light::RearPosition, "rear-light-colour", "cool white 3 W star", Verdict::CannotTell)]
#[case(Light::RearPosition, "rear-light-colour", "red 3 W star", Verdict::Missed)]
fn typical_colours(#[case] light: Light, #[case] id: &str, #[case] phrase: &str, #[case] wanted: Verdict) {
    assert_eq!(colour_verdict(light, id, typical(phrase)), wanted, "{phrase}");
}

/// Trade: a tinted cover over a white LED cannot be called red, or green, without a measurement; over a red LED it stays
/// red; over a green LED it is dark, and its colour cannot be told either.
#[rstest]
#[case("cool white 3 W star", Verdict::CannotTell)]
#[case("warm white 3 W star", Verdict::CannotTell)]
#[case("green 3 W star", Verdict::CannotTell)]
#[case("red 3 W star", Verdict::Met)]
fn a_red_cover_over_white_cannot_be_told(#[case] phrase: &str, #[case] wanted: Verdict) {
    let mut lamp = Lamp::new("lamp", Light::LeftPosition, aim(0.0), typical(phrase));
    lamp.cover = Cover::of(CoverKind::Red);
    let report = judged(&only(8.0, lamp));
    let colour = goal(&report, "left-light-colour/lamp");
    assert_eq!(colour.verdict, wanted);
    if wanted == Verdict::CannotTell {
        let reason = colour.reason.as_ref().expect("a reason");
        assert_eq!((reason.kind, reason.add[0].0.as_str()), ("missing input", "lamps.lamp.cover.chromaticity"));
    }
}

// --- what typical emitters can decide -----------------------------------------------------------------------------

/// A rule set that asks 40 candles only so far from dead ahead, for what holds "on axis only".
fn forty_to(degrees: f64) -> RuleSet {
    let text = format!(
        "lampwright: rules 1
id: made
title: made
judges: full-size appearance
kind: own
source: {{document: made}}
candle: {{is: 1 cd, standing: recalled}}
tables:
  ahead:
    over: azimuth
    cite: made
    rows:
      - {{from: 0 deg, to: {degrees} deg, is: 40 candles}}
requirements:
  - id: ahead
    cite: made
    title: made
    asks: made
    standing: own reading
    goal: {{light: left position, quantity: horizontal intensity, region: {{dihedral: L}}, limit: {{floor: {{by_azimuth: ahead}}}}}}
"
    );
    read("made.yaml", &text, &shared_text).expect("sound")
}

/// The verdict on 40 candles so far from dead ahead, and the intensity on the model there.
fn ahead(scale: f64, lamp: Lamp, degrees: f64) -> (Verdict, Interval) {
    let sets = [forty_to(degrees)];
    let model = only(scale, lamp);
    let options = Options { rule_set: Some("made".to_string()), ..Options::default() };
    let report = check(&model, &sets, &options).expect("judged");
    let ours = goal(&report, "ahead");
    (ours.verdict, ours.found.as_ref().and_then(|f| f.at_scale).expect("an intensity"))
}

fn left(aim_deg: f64, emitter: Emitter) -> Lamp {
    Lamp::new("lamp", Light::LeftPosition, aim(-aim_deg), emitter)
}

fn near(value: f64, printed: f64) {
    assert!((value / printed - 1.0).abs() < 0.05, "{value} against {printed}");
}

/// Example 1: a bare 3 W red star, 9.7 to 39 cd, misses 40 cd at full size over its whole range.
#[test]
fn a_bare_star_at_full_size_misses() {
    let (verdict, cd) = ahead(1.0, left(0.0, typical("red 3 W star")), 0.0);
    assert_eq!(verdict, Verdict::Missed);
    assert!(cd.high <= 39.0);
    // Cold, as bought: the whole range.
    let mut cold = typical("red 3 W star");
    cold.runs_hot = false;
    let (verdict, cd) = ahead(1.0, left(0.0, cold.clone()), 0.0);
    assert_eq!(verdict, Verdict::Missed);
    near(cd.low, 9.7);
    near(cd.high, 39.0);
    // And the section itself is missed, wherever it is aimed.
    for aim_deg in [0.0, 55.0] {
        assert_eq!(verdict_of_section(1.0, left(aim_deg, cold.clone())), Verdict::Missed);
    }
}

fn verdict_of_section(scale: f64, lamp: Lamp) -> Verdict {
    verdict(&judged(&only(scale, lamp)), "left-light-horizontal")
}

/// Example 2: the same with a 30 deg lens, cold 68 to 490 cd, meets on its axis and nowhere near the whole angle.
#[test]
fn a_lens_meets_on_its_axis_only() {
    let mut cold = typical("red 3 W star with 30 deg lens");
    cold.runs_hot = false;
    let (verdict, cd) = ahead(1.0, left(0.0, cold.clone()), 0.0);
    assert_eq!(verdict, Verdict::Met);
    near(cd.low, 68.0);
    near(cd.high, 490.0);
    // 15 deg off, about half of 68 cd: 34 cd to 0.5 x 490.
    assert_eq!(ahead(1.0, left(0.0, cold.clone()), 15.0).0, Verdict::CannotTell);
    assert_ne!(verdict_of_section(1.0, left(0.0, cold)), Verdict::Met);
}

/// Example 3: at 1:4, 40 / 16 = 2.5 cd; bare star, hot x 0.55, clear cover x 0.88: from 4.7 cd, met if aimed dead ahead;
/// aimed 55 deg outboard x 0.48 to 0.71, from 2.3 cd, which cannot be told.
#[test]
fn at_a_quarter_size_the_aim_decides() {
    let covered = |aim_deg: f64| {
        let mut lamp = left(aim_deg, typical("red 3 W star"));
        lamp.cover = Cover::of(CoverKind::Clear);
        lamp
    };
    let (on_axis, cd) = ahead(4.0, covered(0.0), 0.0);
    near(cd.low, 4.7);
    assert!(cd.high >= 28.0);
    assert_eq!(on_axis, Verdict::Met);
    assert_eq!(ahead(4.0, covered(0.0), 10.0).0, Verdict::Met);
    let (outboard, cd) = ahead(4.0, covered(55.0), 0.0);
    near(cd.low, 2.3);
    assert!(cd.high >= 20.0);
    assert_eq!(outboard, Verdict::CannotTell);
    assert_eq!(verdict_of_section(4.0, covered(55.0)), Verdict::CannotTell);
}

/// Example 4: at 1:72, 40 / 5184 = 7.7 mcd; a red 0603 chip at 2 of 20 mA gives 3.5 to 44 mcd, which cannot be told; at
/// 10 mA 22 to 190 mcd meets, too bright by 3 to 24.
#[test]
fn at_one_to_seventy_two_a_chip_is_too_bright() {
    let driven = |ma: f64| {
        let mut lamp = left(0.0, typical("red 0603 chip"));
        lamp.drive = Drive { current_ma: Some(Interval::exactly(ma)), level: None };
        lamp
    };
    let (verdict_2, mcd) = ahead(72.0, driven(2.0), 0.0);
    near(mcd.low, 3.5e-3);
    near(mcd.high, 44e-3);
    assert_eq!(verdict_2, Verdict::CannotTell);
    let (verdict_10, mcd) = ahead(72.0, driven(10.0), 0.0);
    near(mcd.low, 22e-3);
    near(mcd.high, 190e-3);
    assert_eq!(verdict_10, Verdict::Met);
    let report = judged(&only(72.0, driven(10.0)));
    let times = found(&report, "forward-lights-bright-for-the-scale/left");
    near(times.low, 2.9);
    near(times.high, 24.3);
}

/// Common practice, no source: 40 cd, right on the full-size craft, are 2304 times too bright on a 1:48 model; 40 / 2304 cd
/// are right.
#[test]
fn full_size_intensity_on_a_small_model_is_too_bright() {
    let own = |cd: f64| verdict(&judged(&only(48.0, left(0.0, even(cd)))), "forward-lights-bright-for-the-scale/left");
    assert_eq!(own(40.0), Verdict::Missed);
    assert_eq!(own(40.0 / 2304.0), Verdict::Met);
    assert_eq!(own(39.9 / 2304.0), Verdict::Missed);
    assert_eq!(own(399.0 / 2304.0), Verdict::Met);
    assert_eq!(own(401.0 / 2304.0), Verdict::Missed);
}

/// CV21, CV22, CV24: 400 cd at 1:8 is 6.250 cd, 100 cd 1.5625 cd; 400 cd at 1:4, 1:6, 1:10, 1:72 is 25.0, 11.11, 4.00, 0.0772.
#[rstest]
#[case(400.0, 8.0, 6.250)]
#[case(100.0, 8.0, 1.5625)]
#[case(400.0, 4.0, 25.0)]
#[case(400.0, 6.0, 11.11)]
#[case(400.0, 10.0, 4.0)]
#[case(400.0, 72.0, 0.0772)]
fn full_size_figures_at_scale(#[case] full_size_cd: f64, #[case] n: f64, #[case] at_scale_cd: f64) {
    let scaled = full_size_cd / Scale::one_to(n).expect("a scale").intensity();
    assert!((scaled / at_scale_cd - 1.0).abs() < 1e-3, "{scaled}");
}

/// CV23: 40, 30, 5, 20 cd at 1:8 are 0.625, 0.469, 0.078, 0.3125 cd, printed as required where the light is darkest.
#[rstest]
#[case(Light::LeftPosition, None, "left-light-horizontal", 40.0, 0.625)]
#[case(Light::LeftPosition, Some((12.0, 16.0)), "left-light-horizontal", 30.0, 0.469)]
#[case(Light::LeftPosition, Some((40.0, 60.0)), "left-light-horizontal", 5.0, 0.078)]
#[case(Light::RearPosition, None, "rear-light-horizontal", 20.0, 0.3125)]
fn required_figures_at_scale(
    #[case] light: Light,
    #[case] hidden: Option<(f64, f64)>,
    #[case] id: &str,
    #[case] full_size_cd: f64,
    #[case] at_scale_cd: f64,
) {
    let lamp = Lamp::new("lamp", light, aim(0.0), even(0.01));
    let lamp = match hidden {
        Some((from, to)) => {
            let (azimuth, elevation_deg) = (AzimuthSpan::between(-to, -from), Interval::new(-90.0, 90.0));
            masked(lamp, Hides::Sector { azimuth, elevation_deg })
        }
        None => lamp,
    };
    let report = judged(&only(8.0, lamp));
    let required = goal(&report, id).required.clone().expect("a figure");
    assert_eq!(required.full_size, Some(full_size_cd));
    assert!((required.at_scale.expect("a figure") / at_scale_cd - 1.0).abs() < 2e-3, "{required:?}");
}

// --- the same facts in files ---------------------------------------------------------------------------------------

fn from_file(text: &str) -> Report {
    let files = Memory::new().with("made.yaml", text);
    let model = lampwright::aircraft::read(&files, Path::new("made.yaml")).expect("readable").expect("sound");
    judged(&model)
}

/// A channel and a lamp of the same name are two things: each is judged.
#[test]
fn names_shared_by_lamps_and_channels_hide_nothing() {
    let report = from_file(
        "lampwright: aircraft 1
model: {title: Made, scale: \"1:8\"}
prototype: {category: transport aeroplane, authority: US, applied: 1991}
channels:
  beacon: {flash: {rate: 60 per min, lit: 100 ms}}
lamps:
  top: {light: beacon, emitter: red 1 W star, aim: up, channel: beacon}
  beacon: {light: beacon, emitter: red 1 W star, aim: down, flash: {rate: 20 per min, lit: 100 ms}}
",
    );
    let rates: Vec<&GoalReport> = report.goals.iter().filter(|g| g.quantity == "flash frequency").collect();
    let lamps: Vec<&str> = rates.iter().flat_map(|g| g.lamps.iter().map(String::as_str)).collect();
    assert_eq!(lamps, ["top", "beacon"]);
    assert_eq!(rates.iter().map(|g| g.verdict).collect::<Vec<_>>(), [Verdict::Met, Verdict::Missed]);
}

/// The wexcombe example is full of mistakes people make; each is missed.
#[rstest]
#[case("left-light-side")]
#[case("right-light-side")]
#[case("right-light-colour/green tip")]
#[case("rear-light-colour/tail")]
#[case("each-channel-frequency/belly")]
#[case("anti-collision-field")]
#[case("forward-lights-bright-for-the-scale/left")]
fn usual_mistakes_are_missed(#[case] id: &str) {
    static REPORT: LazyLock<Report> = LazyLock::new(|| {
        let path = Path::new("examples/wexcombe-sparrow.yaml");
        judged(&lampwright::aircraft::read(&Disk, path).expect("readable").expect("sound"))
    });
    assert_eq!(verdict(&REPORT, id), Verdict::Missed);
}
