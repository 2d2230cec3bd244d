//! Check values of the trade's flash arithmetic, worked by hand, in whole reports: files in, verdicts out.
//!
//! A rate is 60 s over the period; uncorrelated sources add; slip is offset over relative speed. Effective intensity of a
//! rectangular pulse is peak x t / (0.2 s + t) (Blondel and Rey). What is common practice has no source.

use lampwright::judge::Verdict::{self, Met, Missed, NotApplicable};
use lampwright::photometry::Shape;
use lampwright::photometry::effective::{EffectiveReading, IntensityPiece, Recurrence, effective_intensity};
use lampwright::report::{GoalReport, Report};
use lampwright::rules::RuleSet;
use lampwright::source::{Disk, Memory};
use lampwright::units::Interval;
use lampwright::{Options, bundled_rule_sets, check};
use rstest::rstest;
use std::path::Path;
use std::sync::LazyLock;

static SETS: LazyLock<Vec<RuleSet>> = LazyLock::new(|| bundled_rule_sets().expect("sound"));

const HEAD: &str = "lampwright: aircraft 1\nmodel: {title: x, scale: \"1:8\"}\nprototype: {category: transport aeroplane, authority: US, applied: 1991}\n\
    emitters:\n  all round: {from: measured, peak: 20 cd, table: {0 deg: 100 %, 180 deg: 100 %}, chromaticity: {x: 0.7003, y: 0.2992}}\n";

fn judged(rest: &str) -> Report {
    let files = Memory::new().with("x.yaml", format!("{HEAD}{rest}"));
    let model = lampwright::aircraft::read(&files, Path::new("x.yaml")).expect("readable");
    let model = model.unwrap_or_else(|wrong| panic!("{wrong}"));
    check(&model, &SETS, &Options::default()).expect("judged")
}

fn goal<'a>(report: &'a Report, id: &str) -> &'a GoalReport {
    report.goals.iter().find(|g| g.id == id).unwrap_or_else(|| panic!("no goal {id}"))
}

fn found(report: &Report, id: &str) -> (f64, f64) {
    let interval = goal(report, id).found.as_ref().and_then(|f| f.interval).expect("a figure");
    (interval.low, interval.high)
}

/// Lamps in one place, each a flasher of its own.
fn flashers(light: &str, patterns: &[&str]) -> String {
    let lamps: Vec<String> = patterns
        .iter()
        .enumerate()
        .map(|(n, pattern)| format!("  lamp {n}: {{light: {light}, emitter: all round, aim: up, {pattern}}}\n"))
        .collect();
    format!("lamps:\n{}", lamps.concat())
}

const FIFTY: &str = "flash: {rate: 50 per min, lit: 50 ms}";

#[rstest]
// CV09: two that drift, 50 a minute each: 100, under 180. CV10: four: 200.
#[case(2, 100.0, Met)]
#[case(4, 200.0, Missed)]
fn flashers_that_drift_add_up(#[case] lamps: usize, #[case] most: f64, #[case] wanted: Verdict) {
    let report = judged(&flashers("beacon", &vec![FIFTY; lamps]));
    let (low, high) = found(&report, "anti-collision-frequency/overlap");
    assert!((low - 50.0).abs() < 1e-9 && (high - most).abs() < 1e-9, "{low} {high}");
    assert_eq!(goal(&report, "anti-collision-frequency/overlap").verdict, wanted);
}

#[rstest]
// CV11: 45 turns a minute, two lamps 180 degrees apart on one clock: a flash every 667 ms, 90 a minute.
#[case(45, 667, 90.0)]
// 90 + 90 in turn on one clock: 180, the limit included.
#[case(90, 333, 180.0)]
fn two_beacons_in_turn(#[case] rate: u32, #[case] start_ms: u32, #[case] together: f64) {
    let report = judged(&format!(
        "channels:\n  one: {{drives: beacon, colour: red, flash: {{rate: {rate} per min, lit: 60 ms}}}}\n  other: {{drives: beacon, colour: red, start: {start_ms} ms, flash: {{rate: {rate} per min, lit: 60 ms}}}}\n\
         lamps:\n  top: {{light: beacon, emitter: all round, aim: up, channel: one}}\n  belly: {{light: beacon, emitter: all round, aim: down, channel: other}}\n"
    ));
    assert_eq!(found(&report, "anti-collision-frequency/overlap"), (together, together));
    assert_eq!(goal(&report, "anti-collision-frequency/overlap").verdict, Met);
}

#[test]
fn lit_420_ms_at_100_a_minute_is_100() {
    // 180 ms of dark between flashes is under 0.2 s, but evenly spaced pulses are flashes, not a group.
    let report = judged(&flashers("beacon", &["flash: {rate: 100 per min, lit: 420 ms}"]));
    assert_eq!(found(&report, "anti-collision-frequency/one source"), (100.0, 100.0));
    assert_eq!(goal(&report, "anti-collision-frequency/one source").verdict, Met);
}

#[rstest]
// CV12: 45 turns a minute and a 15 degree beam: 60/45 x 15/360 = 55.6 ms. CV13: 40 and 30 degrees: 125.0 ms.
#[case("steps: [{lit: 55.556 ms}, {dark: 1277.777 ms}]", 55.6)]
#[case("steps: [{lit: 125 ms}, {dark: 1375 ms}]", 125.0)]
fn a_turning_beam_lights_for_its_width(#[case] pattern: &str, #[case] lit_ms: f64) {
    let report = judged(&flashers("beacon", &[pattern]));
    let (low, high) = found(&report, "beacon-on-time/lamp 0");
    assert!(low == high && (low - lit_ms).abs() < 0.1, "{low}");
    assert_eq!(goal(&report, "beacon-on-time/lamp 0").verdict, Met);
}

#[rstest]
// CV18, CV19, CV20: a triple flash at 50 a minute, 100 ms apart, begins 3 pulses in its worst second, a quadruple one 4;
// 180 single flashes a minute 3.
#[case("flash: {rate: 50 per min, lit: 30 ms, pulses: 3, gap: 70 ms}", 3)]
#[case("flash: {rate: 50 per min, lit: 30 ms, pulses: 4, gap: 70 ms}", 4)]
#[case("flash: {rate: 180 per min, lit: 50 ms}", 3)]
fn pulses_in_the_worst_second(#[case] pattern: &str, #[case] most: u64) {
    let caution = &judged(&flashers("strobe", &[pattern])).cautions[0].text;
    assert!(caution.contains(&format!("start {most} pulses")), "{caution}");
    assert_eq!(caution.contains("can set off seizures"), most > 3, "{caution}");
}

#[test]
fn what_only_some_lamps_show_is_cautioned_too() {
    // One lamp dark while the other flashes hides the second one's pulses in all the light, not from where it alone is seen.
    let report = judged(
        "channels:\n  long: {drives: strobe, flash: {period: 1 s, lit: 900 ms}}\n  quick: {drives: strobe, flash: {period: 1 s, lit: 20 ms, pulses: 4, gap: 180 ms}}\n\
         lamps:\n  one: {light: strobe, emitter: all round, aim: up, channel: long}\n  other: {light: strobe, emitter: all round, aim: up, channel: quick}\n",
    );
    let caution = &report.cautions[0].text;
    assert!(caution.contains("only some of them are seen it is 4"), "{caution}");
}

#[rstest]
// CV25: 100 cd for 0.05, 0.1, 0.2, 0.5 s is worth 20.0, 33.3, 50.0, 71.4 cd. The lamp is 20 cd, 1280 at full size.
#[case("flash: {period: 1.5 s, lit: 50 ms}", 20.0)]
#[case("flash: {period: 1.5 s, lit: 100 ms}", 33.333)]
#[case("flash: {period: 1.5 s, lit: 200 ms}", 50.0)]
#[case("flash: {period: 1.5 s, lit: 500 ms}", 71.429)]
// CV28: two 50 ms pulses 100 ms apart are worth 0.250 of their peak, one 0.200. CV29: 200 ms apart no more than one.
#[case("flash: {period: 1.5 s, lit: 50 ms, pulses: 2, gap: 100 ms}", 25.0)]
#[case("flash: {period: 1.5 s, lit: 50 ms, pulses: 2, gap: 200 ms}", 20.0)]
fn what_a_flash_is_worth(#[case] pattern: &str, #[case] of_100: f64) {
    let report = judged(&flashers("strobe", &[pattern]));
    let (low, high) = found(&report, "anti-collision-intensity/0-5");
    let wanted = 1280.0 * of_100 / 100.0;
    assert!((low - wanted).abs() < 1e-3 * wanted && (high - wanted).abs() < 1e-3 * wanted, "{low} {high} {wanted}");
}

#[test]
fn a_lambert_emitter_of_100_lm() {
    // CV27: 100 lm over pi sr is 31.83 cd on the axis, and 50 ms of it are worth 6.37 cd, just over 400 cd at 1:8 (6.25).
    let lambert = Shape::cosine_power(Interval::exactly(60.0)).expect("well formed");
    let axis = lambert.peak_from_flux(Interval::exactly(100.0)).expect("a peak").low;
    assert!((axis - 31.831).abs() < 1e-3, "{axis}");
    let flash = |seconds: f64| {
        let pulse = IntensityPiece { duration_s: seconds, from_cd: 1.0, to_cd: 1.0 };
        effective_intensity(&[pulse], Recurrence::Once, &EffectiveReading::default())
    };
    assert!((axis * flash(0.05) - 6.366).abs() < 1e-3);
    // CV26: 6.25 cd need a peak of 31.25 cd with 50 ms, and of 1256 cd with 1 ms.
    assert!((6.25 / flash(0.05) - 31.25).abs() < 1e-2 && (6.25 / flash(0.001) - 1256.25).abs() < 0.5);
}

/// The goals about strobes that flash together.
fn together(rest: &str) -> Vec<(String, Verdict)> {
    let wanted = ["strobes-together", "strobes-stay-together"];
    let report = judged(rest);
    report.goals.iter().filter(|g| wanted.contains(&g.id.as_str())).map(|g| (g.id.clone(), g.verdict)).collect()
}

#[test]
fn strobes_on_one_channel_are_together_for_ever() {
    let rest = "channels:\n  all: {drives: strobe, flash: {rate: 45 per min, lit: 50 ms}}\n\
        lamps:\n  left: {light: strobe, emitter: all round, aim: left 90 deg, channel: all}\n  tail: {light: strobe, emitter: all round, aim: aft, channel: all}\n";
    let wanted = [("strobes-together".to_string(), Met), ("strobes-stay-together".to_string(), NotApplicable)];
    assert_eq!(together(rest), wanted);
}

#[rstest]
// Under 20 ms is seen as one moment, 60 ms is not (the eye's order threshold of 20 to 40 ms).
#[case("15 ms", Met, 15.0)]
#[case("60 ms", Missed, 60.0)]
fn an_offset_on_one_clock(#[case] start: &str, #[case] wanted: Verdict, #[case] apart_ms: f64) {
    let rest = format!(
        "channels:\n  tips: {{drives: strobe, flash: {{rate: 45 per min, lit: 50 ms}}}}\n  tail: {{drives: strobe, start: {start}, flash: {{rate: 45 per min, lit: 50 ms}}}}\n\
         lamps:\n  left: {{light: strobe, emitter: all round, aim: left 90 deg, channel: tips}}\n  tail: {{light: strobe, emitter: all round, aim: aft, channel: tail}}\n"
    );
    let report = judged(&rest);
    assert_eq!(goal(&report, "strobes-together").verdict, wanted);
    let (low, high) = found(&report, "strobes-together");
    assert!((low - apart_ms).abs() < 1e-9 && low == high, "{low} {high}");
}

#[test]
fn two_flashers_slip_apart() {
    // CV15: 100 ppm apart, 50 ms of slip take 50 ms / 1e-4 = 500 s, under 10 min; and they come to stand half of 60/45 s
    // apart, 667 ms. CV14: 1 % apart it is 5 s.
    let same = "flash: {rate: 45 per min, lit: 50 ms}";
    let report = judged(&flashers("strobe", &[same, same]));
    let (low, high) = found(&report, "strobes-stay-together");
    assert!((low - 500_000.0).abs() < 1.0 && low == high, "{low}");
    let (apart, _) = found(&report, "strobes-together");
    assert!((apart - 666.667).abs() < 0.01, "{apart}");
    // Periods of 1280 and 1293 ms differ by 13 / 1280, the clocks by 1e-4 besides: 50 ms / 0.01025625 = 4.875 s.
    let report =
        judged(&flashers("strobe", &["flash: {period: 1280 ms, lit: 50 ms}", "flash: {period: 1293 ms, lit: 50 ms}"]));
    let (low, _) = found(&report, "strobes-stay-together");
    assert!((low - 4875.08).abs() < 0.01, "{low}");
    assert_eq!(goal(&report, "strobes-stay-together").verdict, Missed);
}

#[test]
fn different_periods_on_one_clock_do_not_flash_together() {
    // 1.000 s and 1.050 s meet every 21 s (CV16); the k-th flash of the second lies k x 50 ms off, at most 500 ms.
    let rest = "channels:\n  tips: {drives: strobe, flash: {period: 1 s, lit: 50 ms}}\n  tail: {drives: strobe, flash: {period: 1.05 s, lit: 50 ms}}\n\
        lamps:\n  left: {light: strobe, emitter: all round, aim: left 90 deg, channel: tips}\n  tail: {light: strobe, emitter: all round, aim: aft, channel: tail}\n";
    assert_eq!(found(&judged(rest), "strobes-together"), (500.0, 500.0));
}

#[rstest]
#[case("flash: {rate: 50 per min, lit: 60 ms}", Met, 0.0)]
#[case("swell: {rate: 50 per min, rise: 60 ms, hold: 80 ms, fall: 40 ms}", Missed, 60.0)]
fn a_strobe_comes_at_once(#[case] pattern: &str, #[case] wanted: Verdict, #[case] ms: f64) {
    let report = judged(&flashers("strobe", &[pattern]));
    assert_eq!(goal(&report, "strobe-sudden/lamp 0").verdict, wanted);
    assert_eq!(found(&report, "strobe-sudden/lamp 0"), (ms, ms));
}

#[test]
fn a_club_writes_its_own_rules_without_rust() {
    let path = "examples/club-evening.rules.yaml";
    let text = std::fs::read_to_string(path).expect("text");
    let club = lampwright::rules::read(path, &text, &lampwright::rules::shared_text).expect("sound");
    assert_eq!(lampwright::measure::vet(&club), Vec::new());
    let sets: Vec<RuleSet> = std::iter::once(club).chain(SETS.iter().filter(|s| s.basis.is_none()).cloned()).collect();
    let by_club = |name: &str| {
        let model = lampwright::aircraft::read(&Disk, Path::new(name)).expect("readable").expect("sound");
        let asked = Options { rule_set: Some("club-evening".to_string()), ..Options::default() };
        let report = check(&model, &sets, &asked).expect("judged");
        report.goals.iter().filter(|g| g.binding).map(|g| (g.id.clone(), g.verdict)).collect::<Vec<_>>()
    };
    let own = |list: &[(&str, Verdict)]| list.iter().map(|(id, v)| ((*id).to_string(), *v)).collect::<Vec<_>>();
    // 60 / 1.28 = 46.9 and 50 a minute lie in 45 to 75; tips mirror to 0; x = 0.378 is over 0.345.
    let good = [
        ("club-frequency/strobe", Met),
        ("club-frequency/beacon", Met),
        ("club-symmetry", Met),
        ("club-warm-tail/tail", Met),
    ];
    assert_eq!(by_club("examples/harrowgate-h4.yaml"), own(&good));
    // 2 Hz is 120 a minute; tips at 690 mm either side; red 626 nm is no white. Tail strobe 60 / 1.3 = 46.2.
    let bad = [
        ("club-frequency/belly", Missed),
        ("club-frequency/tip strobes", Met),
        ("club-frequency/tail strobe", Met),
        ("club-symmetry", Met),
        ("club-warm-tail/tail", Missed),
    ];
    assert_eq!(by_club("examples/wexcombe-sparrow.yaml"), own(&bad));
}

#[test]
fn a_slow_and_a_fast_flasher_are_not_together() {
    // 20 and 1500 a minute: a fast flash may come in the middle of the 3 s between slow ones, 1500 ms from either.
    let report = judged(&flashers(
        "strobe",
        &["flash: {rate: 20 per min, lit: 50 ms}", "flash: {rate: 1500 per min, lit: 10 ms}"],
    ));
    assert_eq!(found(&report, "strobes-together"), (1500.0, 1500.0));
    assert_eq!(goal(&report, "strobes-together").verdict, Missed);
}

#[test]
fn every_channel_of_a_light_must_be_sudden() {
    let text = "lampwright: rules 1\nid: sudden\ntitle: t\njudges: full-size appearance\nkind: own\nsource: {document: notes}\nrequirements:\n  \
        - {id: sudden, cite: notes, title: t, asks: a, standing: own reading, goal: {light: strobe, quantity: rise and fall, limit: {at_most: 10 ms}}}\n";
    let set = lampwright::rules::read("r.yaml", text, &lampwright::rules::shared_text).expect("sound");
    let lamps = flashers(
        "strobe",
        &["flash: {rate: 50 per min, lit: 50 ms}", "swell: {rate: 50 per min, rise: 300 ms, fall: 300 ms}"],
    );
    let files = Memory::new().with("x.yaml", format!("{HEAD}{lamps}"));
    let model = lampwright::aircraft::read(&files, Path::new("x.yaml")).expect("readable").expect("sound");
    let asked = Options { rule_set: Some("sudden".to_string()), ..Options::default() };
    let report = check(&model, &[set], &asked).expect("judged");
    assert_eq!(goal(&report, "sudden").verdict, Missed);
    assert_eq!(found(&report, "sudden"), (300.0, 300.0));
}
