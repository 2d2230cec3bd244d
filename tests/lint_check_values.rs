//! Check values of the trade worked by hand, asked of `lint` and `trace`: a rate is 60 / period, a limit has its ends in.

use lampwright::aircraft::read_sequence;
use lampwright::lint::{Rules, Settings, Target, counted, lint};
use lampwright::source::Memory;
use rstest::rstest;
use std::sync::LazyLock;

static RULES: LazyLock<Rules> = LazyLock::new(|| Rules::bundled().expect("sound"));

/// The codes of what counts in a sequence of these channels.
fn codes(channels: &str) -> Vec<String> {
    let text = format!("lampwright: sequence 1\nchannels:\n{channels}");
    let files = Memory::new().with("x.yaml", text);
    let report = lint(&files, &[Target { path: "x.yaml".into(), named: true }], &RULES, &Settings::default());
    assert!(report.findings().all(|f| f.code != "not-yaml" && f.code != "unknown-key"), "a sound file");
    report.findings().filter(|f| f.counts()).map(|f| f.code.clone()).collect()
}

fn told(channels: &str, code: &str) -> bool {
    codes(channels).iter().any(|c| c == code)
}

#[rstest]
// CV01 to CV04: 60 / 1.5 = 40, 60 / 1.501 = 39.973, 60 / 0.6 = 100, 60 / 0.599 = 100.167 a minute; 40 to 100, ends in.
#[case("flash: {period: 1500 ms, lit: 60 ms}", false)]
#[case("flash: {period: 1501 ms, lit: 60 ms}", true)]
#[case("flash: {period: 600 ms, lit: 60 ms}", false)]
#[case("flash: {period: 599 ms, lit: 60 ms}", true)]
// CV05: 32 steps of 50 ms are 37.5 a minute, 30 are 40. CV06: 24 are 50. CV07: 64 of 20 ms are 46.875.
#[case("steps: [{lit: 50 ms}, {dark: 1550 ms}]", true)]
#[case("steps: [{lit: 50 ms}, {dark: 1450 ms}]", false)]
#[case("steps: [{lit: 50 ms}, {dark: 1150 ms}]", false)]
#[case("steps: [{lit: 60 ms}, {dark: 1220 ms}]", false)]
// CV08: 100 / 150 / 100 / 1500 ms is one group in 1.85 s: 32.43 a minute, though its pulses are 64.86.
#[case("steps: [{lit: 100 ms}, {dark: 150 ms}, {lit: 100 ms}, {dark: 1500 ms}]", true)]
fn rates_at_the_limits(#[case] pattern: &str, #[case] wanted: bool) {
    let channels = format!("  top: {{drives: beacon, colour: red, {pattern}}}\n");
    assert_eq!(told(&channels, "anti-collision-frequency"), wanted, "{:?}", codes(&channels));
}

#[test]
fn a_turning_beacon_of_two_lamps() {
    // CV11: 45 turns a minute and two lamps are 90 flashes, a period of 667 ms. CV12: a beam of 15 degrees is lit
    // 60 000 / 45 x 15 / 360 = 55.6 ms of a turn. CV13: 40 turns and 30 degrees, 125 ms. A beacon that glows from 40 ms on
    // and flashes under 100 a minute has nothing told of it.
    for (period, lit) in [("666.667 ms", "55.556 ms"), ("1500 ms", "125 ms")] {
        let channels = format!("  top: {{drives: beacon, colour: red, flash: {{period: {period}, lit: {lit}}}}}\n");
        let all = codes(&channels);
        assert!(!all.iter().any(|c| c.starts_with("anti-collision") || c == "beacon-on-time"), "{all:?}");
    }
}

#[rstest]
// CV18: three in a group 100 ms apart, 50 groups a minute: 3 begin in the worst second. CV19: four: 4. CV20: 180 single ones
// a minute, 333 ms apart: 3 in the worst second, as the second is open at its end.
#[case("flash: {rate: 50 per min, lit: 40 ms, pulses: 3, gap: 60 ms}", false)]
#[case("flash: {rate: 50 per min, lit: 40 ms, pulses: 4, gap: 60 ms}", true)]
#[case("flash: {rate: 180 per min, lit: 40 ms}", false)]
// WCAG 2.2, success criterion 2.3.1: no more than three flashes in any second; 200 a minute begin 4 in some.
#[case("flash: {rate: 200 per min, lit: 40 ms}", true)]
fn flashes_in_any_second(#[case] pattern: &str, #[case] wanted: bool) {
    let channels = format!("  tips: {{drives: strobe, colour: white, {pattern}}}\n");
    assert_eq!(told(&channels, "flashes-in-a-second"), wanted, "{:?}", codes(&channels));
}

#[rstest]
// CV14: two clocks 1 % apart at 45 a minute, CV15: 100 ppm, CV16 and CV17 other periods altogether: patterns that drift are
// said; on one clock, with one period, they are not.
#[case("one", "one", "1333.333 ms", false)]
#[case("one", "other", "1333.333 ms", true)]
fn clocks_that_drift(#[case] first: &str, #[case] second: &str, #[case] period: &str, #[case] wanted: bool) {
    let channels = format!(
        "  left: {{drives: strobe, colour: white, clock: {first}, flash: {{period: {period}, lit: 50 ms}}}}\n  right: {{drives: strobe, colour: white, clock: {second}, flash: {{period: {period}, lit: 50 ms}}}}\n"
    );
    assert_eq!(told(&channels, "strobes-together"), wanted, "{:?}", codes(&channels));
}

#[test]
fn a_count_by_eye_of_the_limits() {
    // CV01 and CV03 by eye: 40 and 100 a minute counted for 60 s are 39 to 41 and 99 to 101, which tells of neither limit.
    let text = "lampwright: sequence 1\nchannels:\n  top: {drives: beacon, flash: {period: 1500 ms, lit: 60 ms}}\n";
    let sequence = read_sequence("x.yaml", text).expect("sound");
    for (flashes, wanted) in [(38, Some(false)), (40, None), (70, Some(true)), (100, None), (102, Some(false))] {
        let traced = counted(flashes, 60.0, &sequence.channels[0], &sequence, &RULES);
        let goal = traced.goals.iter().find(|g| g.id == "anti-collision-frequency").expect("asked");
        assert_eq!(goal.met, wanted, "{flashes}");
    }
}
