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
fn a_turning_beacon_is_clean() {
    // The times of CV11 with CV12 (two lamps turning 45 times a minute, 15 degrees wide: 667 ms, lit 55.6) and of CV13 (one,
    // 40 times, 30 degrees: 1500 ms, lit 125), which tests/check_values.rs works out: nothing is told of such a beacon.
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
// On one clock and with one period two strobes stay together; on two clocks they drift, however near those are (CV14, CV15).
#[case("one", "1333.333 ms", "one", "1333.333 ms", false)]
#[case("one", "1333.333 ms", "other", "1333.333 ms", true)]
// CV16: 1.000 s and 1.050 s meet each 21 s and are 500 ms apart between. CV17: 45 and 46 a minute meet each 60 s.
#[case("one", "1000 ms", "one", "1050 ms", true)]
#[case("one", "1333.333 ms", "one", "1304.348 ms", true)]
fn strobes_that_drift_or_beat(
    #[case] clock: &str,
    #[case] period: &str,
    #[case] other_clock: &str,
    #[case] other_period: &str,
    #[case] wanted: bool,
) {
    let strobe = |name: &str, clock: &str, period: &str| {
        format!(
            "  {name}: {{drives: strobe, colour: white, clock: {clock}, flash: {{period: {period}, lit: 50 ms}}}}\n"
        )
    };
    let channels = strobe("left", clock, period) + &strobe("right", other_clock, other_period);
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
