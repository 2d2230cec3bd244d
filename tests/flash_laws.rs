//! Laws of flashing light: what must not change, whatever the pattern.

use lampwright::report::Report;
use lampwright::rules::RuleSet;
use lampwright::source::Memory;
use lampwright::{Options, bundled_rule_sets, check};
use proptest::prelude::*;
use std::fmt::Write;
use std::path::Path;
use std::sync::LazyLock;

static SETS: LazyLock<Vec<RuleSet>> = LazyLock::new(|| bundled_rule_sets().expect("sound"));

/// A lamp: where it is aimed (azimuth in 10 degrees, elevation up), its peak in cd, and its channel.
#[derive(Debug, Clone)]
struct Strobe {
    aim: (i32, i32),
    peak_cd: f64,
    channel: usize,
}

/// A channel: period and lit time in ms, pulses, and start in ms.
#[derive(Debug, Clone)]
struct Pattern {
    period_ms: u32,
    lit_ms: u32,
    pulses: u32,
    start_ms: u32,
}

fn patterns() -> impl Strategy<Value = Vec<Pattern>> {
    // Periods a tenth of a second apart, so that joint patterns stay short.
    let one = (6..15_u32, 20..120_u32, 1..3_u32, 0..1500_u32).prop_map(|(tenths, lit_ms, pulses, start_ms)| Pattern {
        period_ms: 100 * tenths,
        lit_ms,
        pulses,
        start_ms,
    });
    prop::collection::vec(one, 2)
}

fn strobes() -> impl Strategy<Value = Vec<Strobe>> {
    let one = (-17..=18_i32, 0..=80_i32, 2.0..60.0_f64, 0..2_usize).prop_map(|(az, el, peak_cd, channel)| Strobe {
        aim: (10 * az, el),
        peak_cd,
        channel,
    });
    prop::collection::vec(one, 1..4)
}

fn written(patterns: &[Pattern], strobes: &[Strobe], shift_ms: u32) -> String {
    let mut text = "lampwright: aircraft 1\nmodel: {title: x, scale: \"1:8\"}\nprototype: {category: transport aeroplane, authority: US, applied: 1991}\nemitters:\n".to_string();
    for (n, strobe) in strobes.iter().enumerate() {
        let _ = writeln!(
            text,
            "  e{n}: {{from: measured, peak: {} cd, viewing_angle: 140 deg, chromaticity: {{x: 0.34, y: 0.35}}}}",
            strobe.peak_cd
        );
    }
    text.push_str("channels:\n");
    for (n, p) in patterns.iter().enumerate() {
        let start = p.start_ms + shift_ms;
        let gap = if p.pulses > 1 { format!(", pulses: {}, gap: 60 ms", p.pulses) } else { String::new() };
        let _ = writeln!(
            text,
            "  c{n}: {{drives: strobe, start: {start} ms, flash: {{period: {} ms, lit: {} ms{gap}}}}}",
            p.period_ms, p.lit_ms
        );
    }
    text.push_str("lamps:\n");
    for (n, strobe) in strobes.iter().enumerate() {
        let (az, el) = strobe.aim;
        let side = if az < 0 { "left" } else { "right" };
        let _ = writeln!(
            text,
            "  l{n}: {{light: strobe, emitter: e{n}, aim: {side} {} deg up {el} deg, channel: c{}}}",
            az.abs(),
            strobe.channel
        );
    }
    text
}

fn judged(text: &str) -> Report {
    let files = Memory::new().with("x.yaml", text.to_string());
    let model = lampwright::aircraft::read(&files, Path::new("x.yaml")).expect("readable");
    check(&model.unwrap_or_else(|wrong| panic!("{wrong}\n{text}")), &SETS, &Options::default()).expect("judged")
}

/// What was found for the goals whose id begins so.
fn found(report: &Report, start: &str) -> Vec<(String, Option<(f64, f64)>)> {
    let figure = |g: &lampwright::report::GoalReport| {
        g.found.as_ref().and_then(|f| f.interval).map(|interval| (interval.low, interval.high))
    };
    report.goals.iter().filter(|g| g.id.starts_with(start)).map(|g| (g.id.clone(), figure(g))).collect()
}

/// The margins of the goals whose id begins so: ratio to the floor, less 1, over all directions.
fn margins(report: &Report, start: &str) -> Vec<(String, (f64, f64))> {
    let ours = report.goals.iter().filter(|g| g.id.starts_with(start));
    ours.filter_map(|g| g.margin.map(|m| (g.id.clone(), (m.low, m.high)))).collect()
}

/// What a search settles an extreme to.
const SETTLED: f64 = 1e-3;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    #[test]
    fn shifting_a_clock_changes_nothing(patterns in patterns(), strobes in strobes(), shift in 1..5000_u32) {
        let (before, after) =
            (judged(&written(&patterns, &strobes, 0)), judged(&written(&patterns, &strobes, shift)));
        for (one, other) in before.goals.iter().zip(&after.goals) {
            prop_assert_eq!((&one.id, one.verdict), (&other.id, other.verdict));
        }
        prop_assert_eq!(found(&before, "anti-collision-frequency"), found(&after, "anti-collision-frequency"));
        for ((id, one), (_, other)) in
            margins(&before, "anti-collision-intensity").iter().zip(&margins(&after, "anti-collision-intensity"))
        {
            let same = |a: f64, b: f64| (a - b).abs() <= SETTLED * (1.0 + a).abs().max((1.0 + b).abs()) + 1e-9;
            prop_assert!(same(one.0, other.0) && same(one.1, other.1), "{id} {one:?} {other:?}");
        }
    }

    #[test]
    fn adding_a_lamp_never_lowers_effective_intensity(patterns in patterns(), strobes in strobes(), more in strobes()) {
        let all: Vec<Strobe> = strobes.iter().chain(&more).cloned().collect();
        let (few, many) = (judged(&written(&patterns, &strobes, 0)), judged(&written(&patterns, &all, 0)));
        for ((id, one), (_, other)) in
            margins(&few, "anti-collision-intensity").iter().zip(&margins(&many, "anti-collision-intensity"))
        {
            // Ratios are margins and 1.
            let not_lower = |few: f64, many: f64| 1.0 + many >= (1.0 + few) * (1.0 - SETTLED) - 1e-9;
            prop_assert!(not_lower(one.0, other.0) && not_lower(one.1, other.1), "{id} {one:?} {other:?}");
        }
    }

    #[test]
    fn splitting_a_lamp_in_two_changes_no_frequency(patterns in patterns(), strobes in strobes()) {
        let halves: Vec<Strobe> = strobes
            .iter()
            .flat_map(|s| [s.clone(), s.clone()])
            .map(|s| Strobe { peak_cd: 0.5 * s.peak_cd, ..s })
            .collect();
        let (whole, split) = (judged(&written(&patterns, &strobes, 0)), judged(&written(&patterns, &halves, 0)));
        prop_assert_eq!(found(&whole, "anti-collision-frequency"), found(&split, "anti-collision-frequency"));
        prop_assert_eq!(found(&whole, "each-channel-frequency"), found(&split, "each-channel-frequency"));
    }
}
