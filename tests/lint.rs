//! Lint: each code has a file that fails it and one that is clean, and every format carries the same findings.

use lampwright::lint::{OWN_CODES, Rules, Settings, Target, lint};
use lampwright::report::{Baseline, LintReport, Severity};
use lampwright::rules::{Demand, Limit, RuleKind, read, shared_text};
use lampwright::source::{Disk, Memory};
use lampwright::{bundled_rule_sets, render};
use rstest::rstest;
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::Command;
use std::sync::LazyLock;

static RULES: LazyLock<Rules> = LazyLock::new(|| Rules::bundled().expect("sound"));

fn of_text(text: &str) -> LintReport {
    let files = Memory::new().with("x.yaml", text.to_string());
    lint(&files, &[Target { path: "x.yaml".into(), named: true }], &RULES, &Settings::default())
}

fn codes(report: &LintReport) -> Vec<&str> {
    report.findings().map(|f| f.code.as_str()).collect()
}

fn fixtures() -> Vec<PathBuf> {
    let all = std::fs::read_dir("tests/lint").expect("a folder").map(|e| e.expect("an entry").path());
    let mut all: Vec<PathBuf> = all.collect();
    all.sort();
    all
}

fn of_disk(paths: &[PathBuf]) -> LintReport {
    let targets: Vec<Target> = paths.iter().map(|p| Target { path: p.clone(), named: true }).collect();
    lint(&Disk, &targets, &RULES, &Settings::default())
}

#[test]
fn every_code_has_a_failing_and_a_clean_file() {
    let mut seen = BTreeSet::new();
    for path in fixtures() {
        let text = std::fs::read_to_string(&path).expect("text");
        let report = of_disk(std::slice::from_ref(&path));
        let found: Vec<(String, u32)> =
            report.findings().filter(|f| f.counts()).map(|f| (f.code.clone(), f.at.line)).collect();
        match text.lines().next().and_then(|l| l.strip_prefix("# expect: ")).and_then(|e| e.split_once(' ')) {
            Some((code, line)) => {
                assert_eq!(found, [(code.to_string(), line.parse().expect("a line"))], "{}", path.display());
                seen.insert(code.to_string());
            }
            None => assert_eq!(found, [], "{}", path.display()),
        }
    }
    let all: BTreeSet<String> = OWN_CODES.iter().map(|c| c.code.to_string()).collect();
    assert_eq!(seen, all);
}

fn sequence(channels: &str) -> LintReport {
    of_text(&format!("lampwright: sequence 1\nchannels:\n{channels}"))
}

#[rstest]
// Errors people make, as common practice knows them (no source), each alone in an otherwise clean file.
// Strobes that are not together: 100 ms apart on one clock, over 50.
#[case("  tips: {drives: strobe, flash: {period: 1 s, lit: 50 ms}}\n  tail: {drives: strobe, start: 100 ms, flash: {period: 1 s, lit: 50 ms}}\n", &["strobes-together"])]
// 2 Hz is 120 a minute, 0.5 Hz is 30: 40 to 100 are right (14 CFR 25.1401(c)).
#[case("  top: {drives: beacon, flash: {rate: 2 Hz, lit: 60 ms}}\n", &["anti-collision-frequency"])]
#[case("  top: {drives: beacon, flash: {rate: 0.5 Hz, lit: 60 ms}}\n", &["anti-collision-frequency"])]
// The double blink of 100/150/100/1500 ms is 32.4 groups a minute, though 64.9 pulses.
#[case("  top: {drives: beacon, steps: [{lit: 100 ms}, {dark: 150 ms}, {lit: 100 ms}, {dark: 1500 ms}]}\n", &["anti-collision-frequency"])]
// Lit for more than half of the time, it looks like an indicator; a strobe over 150 ms does.
#[case("  top: {drives: beacon, steps: [{lit: 290 ms}, {dark: 100 ms}, {lit: 290 ms}, {dark: 400 ms}]}\n", &["anti-collision-duty"])]
#[case("  tips: {drives: strobe, flash: {period: 1 s, lit: 160 ms}}\n", &["strobe-on-time"])]
// A beacon that blinks like a strobe.
#[case("  top: {drives: beacon, flash: {period: 1 s, lit: 30 ms}}\n", &["beacon-on-time"])]
// Two clocks drift; so do two periods.
#[case("  tips: {drives: strobe, clock: a, flash: {period: 1 s, lit: 50 ms}}\n  tail: {drives: strobe, clock: b, flash: {period: 1 s, lit: 50 ms}}\n", &["strobes-stay-together", "strobes-together"])]
// A position light that blinks.
#[case("  left: {drives: left position, flash: {period: 1 s, lit: 500 ms}}\n", &["steady-position-lights"])]
// A strobe written as a swell.
#[case("  tips: {drives: strobe, swell: {period: 1 s, rise: 40 ms, fall: 40 ms}}\n", &["strobe-sudden"])]
fn a_mistake_gives_its_finding_and_no_other(#[case] channels: &str, #[case] wanted: &[&str]) {
    assert_eq!(codes(&sequence(channels)), wanted);
}

#[rstest]
// 14 CFR 25.1401(c): 40 to 100 a minute, which are periods of 1500 to 600 ms; 120 a minute are 500 ms.
#[case(
    "  top: {drives: beacon, flash: {rate: 120 per min, lit: 60 ms}}\n",
    "channel `top`: 120 per min, where `flash frequency` asks 40 to 100 per min (sequence-envelope 25.1401(c) and its like)",
    "period 600 to 1500 ms, yours 500 ms: write `rate:` from 40 to 100 per min"
)]
// Common practice, no source: a strobe of at most 150 ms, a beacon of 40 to 300 ms, lit half of the time at most.
#[case(
    "  tips: {drives: strobe, flash: {period: 1 s, lit: 400 ms}}\n",
    "channel `tips`: 400 ms, where `a strobe is short` asks at most 150 ms (common practice)",
    "lit at most 150 ms, yours 400 ms: change `lit:`, or the lit steps"
)]
#[case(
    "  top: {drives: beacon, flash: {period: 1 s, lit: 30 ms}}\n",
    "channel `top`: 30 ms, where `a beacon glows longer than a strobe` asks 40 to 300 ms (common practice)",
    "lit 40 to 300 ms, yours 30 ms: change `lit:`, or the lit steps"
)]
#[case(
    "  top: {drives: beacon, steps: [{lit: 290 ms}, {dark: 100 ms}, {lit: 290 ms}, {dark: 400 ms}]}\n",
    "channel `top`: 53.7 %, where `anti-collision lights are mostly dark` asks at most 50 % (common practice)",
    "lit at most 50 % of the time, yours 53.7 %: change `lit:` or the period"
)]
#[case(
    "  tips: {drives: strobe, swell: {period: 1 s, rise: 40 ms, fall: 40 ms}}\n",
    "channel `tips`: 40 ms, where `a strobe comes and goes at once` asks at most 10 ms (common practice)",
    "rise and fall at most 10 ms: write `flash:` in place of `swell:`"
)]
// What must be the same is what differs: the start; the period too; the clock too.
#[case(
    "  tips: {drives: strobe, flash: {period: 1 s, lit: 50 ms}}\n  tail: {drives: strobe, start: 100 ms, flash: {period: 1 s, lit: 50 ms}}\n",
    "channels `tips`, `tail`: 100 ms, where `strobes flash together` asks at most 20 ms (common practice)",
    "give `tips` and `tail` the same `start`, or use one channel"
)]
#[case(
    "  tips: {drives: strobe, flash: {period: 1 s, lit: 50 ms}}\n  tail: {drives: strobe, flash: {period: 1500 ms, lit: 50 ms}}\n",
    "channels `tips`, `tail`: 500 ms, where `strobes flash together` asks at most 20 ms (common practice)",
    "give `tips` and `tail` the same `rate` and `start`, or use one channel"
)]
#[case(
    "  tips: {drives: strobe, clock: a, flash: {period: 1 s, lit: 50 ms}}\n  tail: {drives: strobe, clock: b, flash: {period: 1500 ms, lit: 50 ms}}\n",
    "channels `tips`, `tail`: 750 ms, where `strobes flash together` asks at most 20 ms (common practice)",
    "give `tips` and `tail` the same `clock`, `rate` and `start`, or use one channel"
)]
// A dark of 0.2 s or more parts pulses (`explain "flash frequency"`): 210 ms are two flashes of 1.3 s, 92.3 a minute; in
// 1 s, 120.
#[case(
    "  top: {drives: beacon, steps: [{lit: 60 ms}, {dark: 210 ms}, {lit: 60 ms}, {dark: 670 ms}]}\n",
    "channel `top`: 120 per min, where `flash frequency` asks 40 to 100 per min (sequence-envelope 25.1401(c) and its like)",
    "period 600 to 1500 ms, yours 500 ms: write `rate:` from 40 to 100 per min; pulses 210 ms apart count as flashes of their own; under 200 ms they are one"
)]
fn a_finding_says_the_figure_first_and_what_to_write(
    #[case] channels: &str,
    #[case] message: &str,
    #[case] help: &str,
) {
    let report = sequence(channels);
    let told = report.findings().any(|f| f.message == message && f.instead == help);
    let all: Vec<(&str, &str)> = report.findings().map(|f| (f.message.as_str(), f.instead.as_str())).collect();
    assert!(told, "{all:#?}");
}

#[rstest]
// 40 a minute is 1500 ms, 46.9 ticks of 32 ms; 47 are 1504 ms, under 40 a minute; 46 are 1472 ms, 60 000 / 1472 = 40.8.
#[case(
    "tick: 32 ms",
    "{drives: beacon, flash: {rate: 40 per min, lit: 96 ms}}",
    "tick-turns-verdict",
    "write a period of 46 ticks = 1472 ms, 40.8 per min, and whole ticks within it"
)]
// Between 600 and 1500 ms there is no whole second but 1 s, which cannot be lit and dark in whole seconds.
#[case(
    "tick: 1 s",
    "{drives: beacon, flash: {rate: 45 per min, lit: 60 ms}}",
    "tick-turns-verdict",
    "no whole number of ticks is a period that keeps the limits: write a finer `tick`"
)]
// 50 ms are 1.6 ticks of 32 ms, so 2, which are 64 ms; 992 ms are 31 whole ones.
#[case(
    "tick: 32 ms",
    "{drives: strobe, flash: {period: 992 ms, lit: 50 ms}}",
    "tick-changes-pattern",
    "`lit`: 50 ms becomes 64 ms: write times that are whole ticks, or a finer `tick`"
)]
// 145 ms are 4.5 ticks of 32 ms, so 5, which are 160 ms, over 150 (common practice, no source).
#[case(
    "tick: 32 ms",
    "{drives: strobe, flash: {period: 992 ms, lit: 145 ms}}",
    "tick-turns-verdict",
    "channel `top`, `lit`: 145 ms becomes 160 ms: write times that are whole ticks"
)]
fn help_on_ticks_has_the_figures_of_the_file(
    #[case] tick: &str,
    #[case] channel: &str,
    #[case] code: &str,
    #[case] help: &str,
) {
    let report = of_text(&format!("lampwright: sequence 1\n{tick}\nchannels:\n  top: {channel}\n"));
    let told: Vec<(&str, &str)> = report.findings().map(|f| (f.code.as_str(), f.instead.as_str())).collect();
    assert!(told.contains(&(code, help)), "{told:#?}");
}

#[test]
fn headlines_fit_80_columns() {
    let mut report = of_disk(&fixtures());
    report.files.extend(of_many_periods(400, "strobe").files);
    for line in written(&report, "text").lines().filter(|l| !l.contains(" | ") && !l.contains("--> ")) {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

/// Channels of one light, each of a period of its own in whole milliseconds, from 601 up.
fn of_many_periods(count: u32, light: &str) -> LintReport {
    let channel = |n: u32| format!("  c{n}: {{drives: {light}, flash: {{period: {} ms, lit: 50 ms}}}}\n", 601 + n);
    sequence(&(0..count).map(channel).collect::<String>())
}

#[test]
fn a_pattern_of_minutes_is_told_of_each_channel_once() {
    let report = of_many_periods(2000, "beacon");
    let told: Vec<u32> = report.findings().filter(|f| f.code == "pattern-of-minutes").map(|f| f.at.line).collect();
    // 601 is a prime, so 601 ms and p ms meet after 601 p ms: 600.4 s at 999 ms, and over 600 s from there on.
    assert!((1..=2000).contains(&told.len()), "{}", told.len());
    assert_eq!(told.iter().collect::<BTreeSet<_>>().len(), told.len());
    // The channel of 999 ms is the 399th, on line 401; the one before meets the first after 599.8 s.
    assert!(told.contains(&401));
    let with_first = |line: u32| report.findings().any(|f| f.at.line == line && f.message.contains("`c0`"));
    assert!(with_first(401) && !with_first(400));
    // As many places are shown as were found, without reading the text again for each.
    assert!(written(&report, "text").lines().count() > 5 * told.len());
}

#[test]
fn strobes_of_many_periods_are_as_far_apart_as_the_longest_wait_allows() {
    let report = of_many_periods(400, "strobe");
    let told = report.findings().find(|f| f.code == "strobes-together").expect("told");
    // Periods of 1000 and 997 ms (a prime) meet after 997 s and so count as drifting: half of 1000 ms, as
    // `explain "onset spread"` says.
    assert!(told.message.contains(" 500 ms"), "{}", told.message);
}

#[rstest]
// 60 000 / 1500 = 40.000 and 60 000 / 600 = 100.000 a minute are inside; a millisecond more or less is not.
#[case(1500, true)]
#[case(1501, false)]
#[case(600, true)]
#[case(599, false)]
// 32 steps of 50 ms are 37.5 a minute, 30 are 40.0; 24 of 50 ms are 50.0, 64 of 20 ms 46.875.
#[case(32 * 50, false)]
#[case(30 * 50, true)]
#[case(24 * 50, true)]
#[case(64 * 20, true)]
fn forty_and_a_hundred_are_inside(#[case] period_ms: u32, #[case] clean: bool) {
    let report = sequence(&format!("  top: {{drives: beacon, flash: {{period: {period_ms} ms, lit: 100 ms}}}}\n"));
    assert_eq!(codes(&report).is_empty(), clean);
}

/// Forty clean sequences: rates from 42 to 96 a minute, one to three pulses, beacons as flashes and as swells.
fn clean_files() -> Memory {
    (0..40_u32).fold(Memory::new(), |files, n| {
        let period = 1000 + 12 * n;
        let pulses = 1 + n % 3;
        let beacon = match n % 2 {
            0 => format!("flash: {{period: {period} ms, lit: 100 ms}}"),
            _ => format!("swell: {{period: {period} ms, rise: 60 ms, hold: 20 ms, fall: 80 ms}}"),
        };
        let text = format!(
            "lampwright: sequence 1\ntitle: Clean {n}\ntick: 10 ms\nloop_time: 10 ms\npwm: 400 Hz\nchannels:\n  \
             position: {{drives: rear position, steady: 100 %}}\n  tips: {{drives: strobe, flash: {{period: {period} ms, \
             lit: 40 ms, pulses: {pulses}, gap: 60 ms}}}}\n  top: {{drives: beacon, {beacon}}}\n  spare: {{drives: landing, steps: [{{lit: 1 s}}]}}\n"
        );
        files.with(format!("{n:02}.yaml"), text)
    })
}

fn written(report: &LintReport, format: &str) -> String {
    let mut bytes = Vec::new();
    render::find(format).expect("a format").write_lint(report, false, &mut bytes).expect("written");
    String::from_utf8(bytes).expect("text")
}

/// Code and weight of every finding, by file, as each format has them.
fn in_every_format(report: &LintReport) -> Vec<Vec<(String, String, String)>> {
    let json: serde_json::Value = serde_json::from_str(&written(report, "json")).expect("JSON");
    let text = |v: &serde_json::Value| v.as_str().expect("text").to_string();
    let last = |id: &str| id.rsplit('/').next().expect("a code").to_string();
    let of_json = json["findings"].as_array().expect("findings").iter();
    let of_json = of_json.map(|f| (text(&f["file"]), text(&f["code"]), text(&f["severity"]))).collect();
    let sarif: serde_json::Value = serde_json::from_str(&written(report, "sarif")).expect("JSON");
    let of_sarif = sarif["runs"][0]["results"].as_array().expect("results").iter();
    let of_sarif = of_sarif
        .map(|r| {
            let at = &r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"];
            (text(at), last(&text(&r["ruleId"])), text(&r["level"]))
        })
        .collect();
    let junit = written(report, "junit");
    let junit = roxmltree::Document::parse(&junit).expect("XML");
    let of_junit = junit.descendants().filter(|n| n.has_tag_name("testcase")).filter_map(|case| {
        let verdict = case.descendants().find(|n| n.attribute("name") == Some("verdict"))?.attribute("value")?;
        Some((case.attribute("classname")?.to_string(), case.attribute("name")?.to_string(), verdict.to_string()))
    });
    let markdown = written(report, "markdown");
    let of_markdown = markdown.lines().filter(|l| l.starts_with("| ") && l.contains(" | `"));
    let of_markdown = of_markdown
        .map(|row| {
            let cells: Vec<&str> = row.split(" | ").collect();
            let place = cells.last().expect("a place").trim_matches(['`', ' ', '|']);
            let severity = cells[0].trim_start_matches("| ").split(" (").next().expect("a word").to_string();
            (place.rsplit_once(':').expect("a line").0.to_string(), last(cells[1].trim_matches('`')), severity)
        })
        .collect();
    vec![of_json, of_sarif, of_junit.collect(), of_markdown]
}

#[test]
fn forty_clean_files_give_nothing_in_any_format() {
    let targets: Vec<Target> = (0..40).map(|n| Target { path: format!("{n:02}.yaml").into(), named: true }).collect();
    let report = lint(&clean_files(), &targets, &RULES, &Settings::default());
    assert_eq!(codes(&report), Vec::<&str>::new());
    for found in in_every_format(&report) {
        assert_eq!(found, []);
    }
    assert_eq!(written(&report, "text"), "40 files, 0 errors, 0 warnings, 0 notes\n");
    // Each file is a case of its own that passed.
    let junit = written(&report, "junit");
    let junit = roxmltree::Document::parse(&junit).expect("XML");
    assert_eq!(junit.root_element().attribute("tests"), Some("40"));
}

#[test]
fn every_format_carries_the_same_findings() {
    let report = of_disk(&fixtures());
    let wanted: Vec<(String, String, String)> = report
        .files
        .iter()
        .flat_map(|file| file.findings.iter().map(|f| (file.path.clone(), f.code.clone(), f.severity.to_string())))
        .collect();
    assert!(wanted.len() > 10);
    for found in in_every_format(&report) {
        assert_eq!(found, wanted);
    }
    let counted = report.findings().filter(|f| f.counts()).count();
    let text = written(&report, "text");
    let heads = text.lines().filter(|l| ["error[", "warning[", "note["].iter().any(|w| l.starts_with(w)));
    assert_eq!(heads.count(), counted);
}

#[test]
fn together_or_one_by_one_the_same_is_found() {
    let paths = fixtures();
    let together = of_disk(&paths);
    let one_by_one: Vec<_> = paths.iter().flat_map(|p| of_disk(std::slice::from_ref(p)).files).collect();
    let flat = |files: &[lampwright::report::LintedFile]| -> Vec<_> {
        files.iter().map(|f| (f.path.clone(), f.findings.clone())).collect()
    };
    assert_eq!(flat(&together.files), flat(&one_by_one));
}

#[test]
fn a_baseline_lets_only_what_is_new_count() {
    let mut report = of_disk(&fixtures());
    let before = report.findings().filter(|f| f.counts()).count();
    for format in ["json", "sarif"] {
        let baseline = Baseline::read(&written(&report, format)).expect("a baseline");
        let mut again = of_disk(&fixtures());
        baseline.mark_lint(&mut again);
        assert_eq!(again.findings().filter(|f| f.counts()).count(), 0, "{format}");
    }
    // One finding less in the baseline is one that is new.
    let dropped = report.files.iter_mut().find(|f| f.findings.iter().any(|f| f.counts())).expect("a finding");
    dropped.findings.retain(|f| !f.counts());
    let baseline = Baseline::read(&written(&report, "json")).expect("a baseline");
    let mut again = of_disk(&fixtures());
    baseline.mark_lint(&mut again);
    assert_eq!(again.findings().filter(|f| f.counts()).count(), 1);
    assert!(before > 1);
    for text in ["", "[]", "{}", "{\"format\": \"other 1\"}", "{\"runs\": []}"] {
        assert!(Baseline::read(text).is_err(), "{text}");
    }
}

#[test]
fn settings_weigh_codes_and_know_no_others() {
    let sets = bundled_rule_sets().expect("sound");
    let text = "lampwright: lint 1\nseverity:\n  strobe-on-time: error\n  beacon-on-time: off\n";
    let settings = Settings::read("lint.yaml", text, &sets).expect("sound");
    let files = Memory::new().with(
        "x.yaml",
        "lampwright: sequence 1\nchannels:\n  tips: {drives: strobe, flash: {period: 1 s, lit: 160 ms}}\n  \
         top: {drives: beacon, flash: {period: 1 s, lit: 30 ms}}\n",
    );
    let report = lint(&files, &[Target { path: "x.yaml".into(), named: true }], &RULES, &settings);
    let found: Vec<(&str, Severity)> = report.findings().map(|f| (f.code.as_str(), f.severity)).collect();
    assert_eq!(found, [("strobe-on-time", Severity::Error)]);
    let wrong = Settings::read("lint.yaml", "lampwright: lint 1\nseverity:\n  strobe-on-tim: error\n", &sets);
    let wrong = wrong.expect_err("a code nobody knows");
    assert!(wrong.to_string().contains("did you mean `strobe-on-time`?"), "{wrong}");
    assert!(Settings::read("lint.yaml", "lampwright: lint 1\nseverity:\n  strobe-on-time: fatal\n", &sets).is_err());
    assert!(Settings::read("lint.yaml", "lampwright: lint 1\njudge_by: us-14cfr26\n", &sets).is_err());
}

/// The widest limits on flash frequency of the published rule sets, by what each asks of one channel or one source.
fn published_frequencies() -> Vec<(String, f64, f64)> {
    let sets = bundled_rule_sets().expect("sound");
    let published = sets.iter().filter(|s| s.kind == RuleKind::Published && s.basis.is_some());
    let mut found = Vec::new();
    for set in published {
        for spec in set.requirements.iter().flat_map(|r| r.demand.goals()) {
            let single = spec.sources != Some(lampwright::rules::Sources::Several);
            if let (true, Limit::Between(low, high)) =
                (spec.quantity.value.starts_with("flash frequency") && single, &spec.limit)
            {
                found.push((set.id.clone(), low.scalar.value, high.scalar.value));
            }
        }
    }
    found
}

#[test]
fn the_envelope_is_the_widest_of_all_published_limits() {
    let sets = bundled_rule_sets().expect("sound");
    let envelope = sets.iter().find(|s| s.id == "sequence-envelope").expect("bundled");
    let Demand::Goal(spec) = &envelope.requirements[0].demand else { panic!("a goal") };
    let Limit::Between(low, high) = &spec.limit else { panic!("two limits") };
    let all = published_frequencies();
    assert!(all.len() >= 10, "{all:?}");
    let (least, most) = all.iter().fold((f64::MAX, f64::MIN), |(l, h), (_, a, b)| (l.min(*a), h.max(*b)));
    assert_eq!((low.scalar.value, high.scalar.value), (least, most));
}

#[test]
fn a_sequence_may_name_its_rule_set() {
    // Standard 625 of Canada asks for steady position lights; the envelope does not.
    let text = |set: &str| {
        format!(
            "lampwright: sequence 1\njudge_by: {set}\nchannels:\n  left: {{drives: left position, flash: {{period: 1 s, lit: 500 ms}}}}\n"
        )
    };
    let report = of_text(&text("ca-standard625"));
    assert_eq!(codes(&report), ["position-lights-steady", "steady-position-lights"]);
    assert_eq!(report.files[0].rule_sets, ["ca-standard625", "sequence-practice"]);
    let wrong = of_text(&text("ca-standard652"));
    assert!(wrong.unusable());
    let first = wrong.findings().next().expect("told");
    assert_eq!((first.code.as_str(), first.at.line), ("unknown-name", 2));
    assert!(first.instead.contains("did you mean `ca-standard625`?"), "{}", first.instead);
}

#[test]
fn every_set_with_a_frequency_asks_it_of_a_sequence_that_names_it() {
    // 120 a minute is over the 100 of every one of them, and 30 under the 40 (14 CFR 25.1401(c) and the sections like it).
    let named: BTreeSet<String> = published_frequencies().into_iter().map(|(id, ..)| id).collect();
    assert!(named.contains("us-14cfr25") && named.contains("us-14cfr29") && named.contains("eu-cs25"), "{named:?}");
    for (set, rate) in named.iter().flat_map(|set| [(set, 120), (set, 30)]) {
        let text = format!(
            "lampwright: sequence 1\njudge_by: {set}\nchannels:\n  top: {{drives: beacon, flash: {{rate: {rate} per min, lit: 60 ms}}}}\n"
        );
        let report = of_text(&text);
        // The one frequency of Part 3 ended on 1 April 1957: the envelope stands for it.
        let asks = if set == "us-car3" { "sequence-envelope" } else { set };
        let by = report.findings().filter(|f| f.rule_set.as_deref() == Some(asks)).count();
        assert_eq!((by, report.count(Severity::Error)), (1, 1), "{set} at {rate}: {:?}", codes(&report));
    }
    // A document without figures leaves the sequence to the envelope.
    let text = "lampwright: sequence 1\njudge_by: us-14cfr23-2017\nchannels:\n  top: {drives: beacon, flash: {rate: 120 per min, lit: 60 ms}}\n";
    let report = of_text(text);
    assert_eq!(report.files[0].rule_sets, ["sequence-envelope", "sequence-practice"]);
    assert_eq!(codes(&report), ["anti-collision-frequency"]);
}

#[test]
fn a_model_is_held_against_the_frequency_of_its_documents() {
    let text = "lampwright: aircraft 1\nmodel: {title: x, scale: \"1:8\"}\n\
        prototype: {category: transport aeroplane, authority: US, applied: 1980}\nlamps:\n  \
        top: {light: beacon, emitter: red 1 W star, aim: up, flash: {rate: 120 per min, lit: 60 ms}}\n";
    let report = of_text(text);
    assert_eq!(codes(&report), ["anti-collision-frequency"]);
    assert_eq!(report.files[0].rule_sets[0], "us-14cfr25");
}

#[test]
fn sets_for_sequences_judge_no_craft() {
    let text = "lampwright: rules 1\nid: own\ntitle: own\njudges: sequences by themselves\nkind: own\nsource: {document: notes}\n\
        requirements:\n  - id: first\n    cite: notes\n    title: first\n    asks: Something.\n    standing: own reading\n    \
        goal: {light: strobe, each: channel, quantity: on-time, limit: {at_most: 1 ms}}\n";
    let own = read("own.yaml", text, &shared_text).expect("sound");
    let mut sets = bundled_rule_sets().expect("sound");
    sets.push(own);
    let craft = lampwright::rules::Craft {
        category: Some(lampwright::rules::Category::TransportAeroplane),
        authority: Some(lampwright::rules::Authority::Us),
        ..Default::default()
    };
    let chosen = lampwright::resolve::choose(&craft, &sets, None).expect("chosen");
    assert!(chosen.iter().all(|c| !["own", "sequence-envelope", "sequence-practice"].contains(&c.set.id.as_str())));
}

fn run(folder: &std::path::Path, words: &[&str]) -> (Option<i32>, String, String) {
    let ran = Command::new(env!("CARGO_BIN_EXE_lampwright")).args(words).current_dir(folder).output().expect("starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (ran.status.code(), text(ran.stdout), text(ran.stderr))
}

#[test]
fn a_folder_is_looked_through_and_ignore_files_are_honoured() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("lint-folder");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(folder.join("old")).expect("made");
    let bad = "lampwright: sequence 1\nchannels:\n  top: {drives: beacon, flash: {rate: 120 per min, lit: 60 ms}}\n";
    let good = "lampwright: sequence 1\nchannels:\n  top: {drives: beacon, flash: {rate: 60 per min, lit: 60 ms}}\n";
    for (name, text) in [
        ("good.yaml", good),
        ("old/bad.yaml", bad),
        ("notes.yaml", "title: a file of another program\n"),
        (".gitignore", "old/\n"),
    ] {
        std::fs::write(folder.join(name), text).expect("written");
    }
    assert_eq!(run(&folder, &["lint", "."]).0, Some(0));
    let (status, out, _) = run(&folder, &["lint", ".", "old/bad.yaml"]);
    assert_eq!(status, Some(1), "{out}");
    assert!(out.contains("error[anti-collision-frequency]") && out.contains("old/bad.yaml:3:"), "{out}");
    assert!(out.ends_with("2 files, 1 error, 0 warnings, 0 notes, 1 other file not looked at\n"), "{out}");
    // What was there before does not fail again; the settings beside the files are taken.
    let (_, json, _) = run(&folder, &["lint", "old/bad.yaml", "--format", "json"]);
    std::fs::write(folder.join("before.json"), json).expect("written");
    assert_eq!(run(&folder, &["lint", "old/bad.yaml", "--baseline", "before.json"]).0, Some(0));
    std::fs::write(
        folder.join("lampwright-lint.yaml"),
        "lampwright: lint 1\nseverity: {anti-collision-frequency: note}\n",
    )
    .expect("written");
    assert_eq!(run(&folder, &["lint", "old/bad.yaml"]).0, Some(0));
    // A file of no use ends with 2 and says why; so does a path without files.
    std::fs::write(folder.join("broken.yaml"), "lampwright: sequence 1\nchannels:\n  top: {drives: becon}\n")
        .expect("written");
    let (status, out, _) = run(&folder, &["lint", "."]);
    assert_eq!(status, Some(2), "{out}");
    assert!(out.contains("did you mean `beacon`?"), "{out}");
    assert_eq!(run(&folder, &["lint", "nowhere.yaml"]).0, Some(2));
    assert_eq!(run(&folder, &["lint", "notes.yaml"]).0, Some(2));
}

fn scratch(name: &str) -> PathBuf {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("made");
    folder
}

/// 2 Hz is 120 a minute, over 100 (14 CFR 25.1401(c)): an error.
const TOO_FAST: &str =
    "lampwright: sequence 1\nchannels:\n  top: {drives: beacon, flash: {rate: 120 per min, lit: 60 ms}}\n";

/// A strobe of 160 ms, over the 150 ms of common practice (no source): a warning.
const TOO_LONG: &str =
    "lampwright: sequence 1\nchannels:\n  tips: {drives: strobe, flash: {period: 1 s, lit: 160 ms}}\n";

#[test]
fn a_file_is_the_same_however_it_is_spelt() {
    let folder = scratch("lint-spelt");
    std::fs::create_dir_all(folder.join("a")).expect("made");
    std::fs::write(folder.join("bad.yaml"), TOO_FAST).expect("written");
    let whole = folder.join("bad.yaml").display().to_string();
    let spelt = ["bad.yaml", "./bad.yaml", "a/../bad.yaml", "../lint-spelt/bad.yaml", whole.as_str(), "."];
    for one in spelt {
        let (_, said, _) = run(&folder, &["lint", ".", one]);
        assert!(said.ends_with("\n1 file, 1 error, 0 warnings, 0 notes\n"), "{one}: {said}");
        for format in ["json", "sarif"] {
            let (_, report, _) = run(&folder, &["lint", one, "--format", format]);
            std::fs::write(folder.join("before.json"), report).expect("written");
            for other in spelt {
                let (status, said, _) = run(&folder, &["lint", other, "--baseline", "before.json"]);
                assert_eq!(status, Some(0), "{one} and {other}: {said}");
            }
        }
    }
}

#[test]
fn a_baseline_of_another_command_is_told() {
    let folder = scratch("lint-baselines");
    std::fs::write(folder.join("bad.yaml"), TOO_FAST).expect("written");
    std::fs::copy("examples/merlewood-m20.yaml", folder.join("model.yaml")).expect("copied");
    for format in ["json", "sarif"] {
        run(&folder, &["lint", "bad.yaml", "--format", format, "--output", "lint.out"]);
        run(&folder, &["check", "model.yaml", "--format", format, "--output", "check.out"]);
        assert_eq!(run(&folder, &["lint", "bad.yaml", "--baseline", "lint.out"]).0, Some(0));
        assert_eq!(run(&folder, &["check", "./model.yaml", "--baseline", "check.out"]).0, Some(0));
        let (status, _, said) = run(&folder, &["lint", "bad.yaml", "--baseline", "check.out"]);
        assert_eq!(status, Some(2));
        assert!(said.contains("`check` wrote this baseline"), "{said}");
        let (status, _, said) = run(&folder, &["check", "model.yaml", "--baseline", "lint.out"]);
        assert_eq!(status, Some(2));
        assert!(said.contains("`lint` wrote this baseline"), "{said}");
    }
}

#[test]
fn what_the_reader_takes_is_looked_at() {
    let folder = scratch("lint-kinds");
    // YAML 1.2.2, sections 6.6, 7.3 and 6.8: a comment may be indented, a key may be quoted, a directive may come first.
    let heads = [
        "  # tail\nlampwright: sequence 1\n",
        "\"lampwright\": sequence 1\n",
        "'lampwright': 'sequence 1'\n",
        "%YAML 1.2\n# one\n---\n\nlampwright: sequence 1\n",
        "? lampwright\n: sequence 1\n",
    ];
    for (n, head) in heads.iter().enumerate() {
        std::fs::write(folder.join(format!("{n}.yaml")), TOO_FAST.replace("lampwright: sequence 1\n", head))
            .expect("written");
    }
    std::fs::write(folder.join("BAD.YAML"), TOO_FAST).expect("written");
    std::fs::write(
        folder.join("flow.Yml"),
        "{lampwright: sequence 1, channels: {a: {drives: beacon, flash: {rate: 120 per min, lit: 60 ms}}}}\n",
    )
    .expect("written");
    std::fs::write(folder.join("other.yaml"), "a: lampwright\nlampwright: sequence 1\n").expect("written");
    let (_, said, _) = run(&folder, &["lint", "."]);
    assert!(said.ends_with("\n7 files, 7 errors, 0 warnings, 0 notes, 1 other file not looked at\n"), "{said}");
    // One that breaks off at once is still told.
    std::fs::write(folder.join("broken.yaml"), "lampwright: \"sequence 1\nchannels: {}\n").expect("written");
    assert_eq!(run(&folder, &["lint", "."]).0, Some(2));
}

/// An aircraft whose beacon is on a channel of a sequence file, and that file.
fn with_sequence(channels: &str) -> LintReport {
    let aircraft = "lampwright: aircraft 1\nmodel: {title: x, scale: \"1:8\"}\n\
        prototype: {category: transport aeroplane, authority: US, applied: 1980}\nsequence: lights.yaml\nlamps:\n  \
        top: {light: beacon, emitter: red 1 W star, aim: up, channel: top}\n";
    let sequence =
        format!("lampwright: sequence 1\npwm: 100 Hz # let pass dimming-seen: a static display\nchannels:\n{channels}");
    let files = Memory::new().with("fleet/x.yaml", aircraft).with("fleet/lights.yaml", sequence);
    lint(&files, &[Target { path: "fleet/x.yaml".into(), named: true }], &RULES, &Settings::default())
}

#[test]
fn a_reason_in_the_sequence_file_serves_the_aircraft() {
    let pattern = "flash: {rate: 120 per min, lit: 60 ms}";
    let counted = |channels: &str| {
        let report = with_sequence(channels);
        let left: Vec<String> = report.findings().filter(|f| f.counts()).map(|f| f.code.clone()).collect();
        left
    };
    assert_eq!(counted(&format!("  top: {{drives: beacon, {pattern}}}\n")), ["anti-collision-frequency"]);
    let beside =
        format!("  top: {{drives: beacon, {pattern}}} # let pass anti-collision-frequency: as on the real one\n");
    let block = format!(
        "  top:\n    drives: beacon\n    # let pass anti-collision-frequency: as on the real one\n    # the manual says so\n    {pattern}\n"
    );
    assert_eq!((counted(&beside), counted(&block)), (vec![], vec![]));
}

#[rstest]
#[case(
    "# let pass anti-collision-frequency",
    "let-pass-without-reason",
    "is not let pass: the comment gives no reason",
    "why"
)]
#[case(
    "# let pass anti-colision-frequency: why",
    "nothing-let-pass",
    "no code is called `anti-colision-frequency`",
    "did you mean `anti-collision-frequency`?"
)]
#[case("# let pass", "nothing-let-pass", "names no code", "# let pass CODE: why")]
#[case("# let pass: anti-collision-frequency: why", "nothing-let-pass", "begins `let pass:`", "# let pass CODE: why")]
#[case("# Let pass anti-collision-frequency: why", "nothing-let-pass", "begins `Let pass`", "# let pass CODE: why")]
#[case(
    "# let pass anti-collision-frequency, beacon-on-time: why",
    "nothing-let-pass",
    "several codes",
    "a comment for each code"
)]
#[case(
    "# let pass beacon-on-time: why",
    "nothing-let-pass",
    "there is no `beacon-on-time` here",
    "on the line of the finding"
)]
fn a_comment_that_lets_nothing_pass_says_why(
    #[case] comment: &str,
    #[case] code: &str,
    #[case] message: &str,
    #[case] help: &str,
) {
    let report = of_text(&format!("{} {comment}\n", TOO_FAST.trim_end()));
    assert_eq!(report.count(Severity::Error), 1, "{comment}");
    let told = report.findings().find(|f| f.code == code).expect("told");
    assert!(told.message.contains(message) && told.instead.contains(help), "{}; {}", told.message, told.instead);
}

#[test]
fn a_text_in_quotes_lets_nothing_pass() {
    let text = "lampwright: sequence 1\nchannels:\n  \"x # let pass anti-collision-frequency: why\": {drives: beacon, \
                flash: {rate: 120 per min, lit: 60 ms}}\n";
    assert_eq!(codes(&of_text(text)), ["anti-collision-frequency"]);
    assert_eq!(of_text(text).count(Severity::Error), 1);
}

#[test]
fn the_settings_file_is_named_where_it_was_applied() {
    let folder = scratch("lint-settings");
    std::fs::write(folder.join("long.yaml"), TOO_LONG).expect("written");
    std::fs::write(folder.join("lampwright-lint.yaml"), "lampwright: lint 1\nseverity: {strobe-on-time: error}\n")
        .expect("written");
    let (status, said, _) = run(&folder, &["lint", "long.yaml"]);
    assert_eq!(status, Some(1));
    assert!(said.ends_with("\n1 file, 1 error, 0 warnings, 0 notes, weighed by lampwright-lint.yaml\n"), "{said}");
    let (_, said, _) = run(&folder, &["lint", "long.yaml", "--format", "markdown"]);
    assert!(
        said.starts_with("**1 file: 1 error, 0 warnings, 0 notes**, weighed by `lampwright-lint.yaml`\n"),
        "{said}"
    );
}

/// The only mistake of a file: its code, message and help.
fn only_mistake(text: &str) -> (String, String, String) {
    let report = of_text(text);
    let all: Vec<_> = report.findings().collect();
    assert!(report.unusable() && all.len() == 1, "{all:#?}");
    (all[0].code.clone(), all[0].message.clone(), all[0].instead.clone())
}

#[rstest]
#[case(
    "{drives: beacon, flash: {rate: 60 per min, lit: 60 ms, gap: 100 ms}}",
    "contradiction",
    "this flash has one pulse",
    "add `pulses: 2`, or leave `gap` out"
)]
// YAML 1.2.2, section 7.3.3: within braces a comma ends a value, so the rest of the number is a key.
#[case(
    "{drives: beacon, flash: {rate: 60 per min, lit: 0,05 s}}",
    "wrong-value",
    "`0,05 s` is written with a comma",
    "write `0.05 s`, with a point"
)]
#[case(
    "{drives: beacon, flash: {rate: 46,5 per min, lit: 60 ms}}",
    "wrong-value",
    "`46,5 per min` is written with a comma",
    "write `46.5 per min`, with a point"
)]
fn a_slip_in_a_pattern_is_one_mistake(
    #[case] channel: &str,
    #[case] code: &str,
    #[case] message: &str,
    #[case] instead: &str,
) {
    let told = only_mistake(&format!("lampwright: sequence 1\nchannels:\n  top: {channel}\n"));
    assert!(told.0 == code && told.1.contains(message) && told.2 == instead, "{told:?}");
}

#[test]
fn channels_that_are_not_there_are_told_with_those_that_are() {
    let head = "lampwright: aircraft 1\nmodel: {title: x, scale: \"1:8\"}\n\
        prototype: {category: small aeroplane, authority: US, applied: 1980}\n";
    let lamps = "lamps:\n  top: {light: beacon, emitter: red 1 W star, aim: up, channel: flicker}\n  \
        fin: {light: beacon, emitter: red 1 W star, aim: up, channel: zigzag}\n";
    // Neither a sequence nor channels: one mistake, at the first lamp.
    let (code, _, instead) = only_mistake(&format!("{head}{lamps}"));
    assert_eq!((code.as_str(), instead.as_str()), ("missing-key", "add `sequence: FILE`, or write `flash:` here"));
    let own =
        "channels:\n  red: {flash: {rate: 60 per min, lit: 60 ms}}\n  white: {flash: {rate: 60 per min, lit: 60 ms}}\n";
    let report = of_text(&format!("{head}{lamps}{own}"));
    let told: Vec<&str> = report.findings().map(|f| f.instead.as_str()).collect();
    assert_eq!(told, ["name `red` or `white`, or write `flash:` here"; 2]);
}

fn sarif_results(report: &LintReport) -> Vec<serde_json::Value> {
    let sarif: serde_json::Value = serde_json::from_str(&written(report, "sarif")).expect("JSON");
    sarif["runs"][0]["results"].as_array().expect("results").clone()
}

#[test]
fn of_all_results_or_of_none_it_is_said_whether_they_are_suppressed() {
    // SARIF 2.1.0, section 3.27.23: if any result of a run has `suppressions`, all have.
    let mut report = of_disk(&fixtures());
    let results = sarif_results(&report);
    let lists: Vec<usize> = results.iter().map(|r| r["suppressions"].as_array().expect("a list").len()).collect();
    assert!(lists.contains(&0) && lists.contains(&1));
    let passed = report.findings().filter(|f| f.let_pass.is_some()).count();
    assert_eq!(lists.iter().sum::<usize>(), passed);
    for file in &mut report.files {
        file.findings.retain(|f| f.let_pass.is_none());
    }
    assert!(sarif_results(&report).iter().all(|r| r.get("suppressions").is_none()));
}

#[test]
fn a_file_that_cannot_be_read_is_a_place_by_itself() {
    let report = of_disk(&["tests/not-there.yaml".into()]);
    // SARIF 2.1.0, section 3.29.4: a region may be absent, and the location is then the whole file.
    let place = sarif_results(&report)[0]["locations"][0]["physicalLocation"].clone();
    assert_eq!(place, serde_json::json!({ "artifactLocation": { "uri": "tests/not-there.yaml" } }));
    assert!(written(&report, "markdown").contains("| `tests/not-there.yaml` |"));
}

#[test]
fn what_fails_the_run_fails_in_junit() {
    let folder = scratch("lint-strict");
    std::fs::write(folder.join("long.yaml"), TOO_LONG).expect("written");
    for (words, wanted) in [
        (&["lint", "long.yaml", "--format", "junit"][..], 0),
        (&["lint", "long.yaml", "--strict", "--format", "junit"], 1),
    ] {
        let (status, said, _) = run(&folder, words);
        let junit = roxmltree::Document::parse(&said).expect("XML");
        assert_eq!(
            (status, junit.root_element().attribute("failures")),
            (Some(wanted), Some(wanted.to_string().as_str()))
        );
    }
}

#[test]
fn markdown_counts_as_people_do() {
    assert!(written(&of_text(TOO_FAST), "markdown").starts_with("**1 file: 1 error, 0 warnings, 0 notes**\n"));
}

#[rstest]
#[case(
    "aliases",
    "lampwright: sequence 1\na: &a [x,x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b,*b]\nd: &d [*c,*c,*c,*c,*c,*c,*c,*c,*c,*c]\ne: [*d,*d,*d,*d,*d,*d,*d,*d,*d,*d]\n",
    "not-yaml"
)]
#[case("a tab", "lampwright: sequence 1\nchannels:\n\ttop: {drives: beacon}\n", "not-yaml")]
#[case(
    "one key twice",
    "lampwright: sequence 1\nchannels: {a: {steady: 100 %}}\nchannels: {b: {steady: 100 %}}\n",
    "duplicate-key"
)]
#[case("nothing", "lampwright: sequence 1\n", "missing-key")]
fn a_hostile_file_is_a_finding(#[case] name: &str, #[case] text: &str, #[case] wanted: &str) {
    let report = of_text(text);
    assert!(report.unusable(), "{name}");
    assert!(codes(&report).contains(&wanted), "{name}: {:?}", codes(&report));
}

#[test]
fn depth_size_and_encoding_are_findings_too() {
    let deep = format!("lampwright: sequence 1\nchannels: {}{}\n", "[".repeat(10_000), "]".repeat(10_000));
    assert_eq!(codes(&of_text(&deep)), ["not-yaml"]);
    // A byte order mark and the line ends of another system are no mistake.
    let plain = "lampwright: sequence 1\nchannels:\n  top: {drives: beacon, flash: {period: 1 s, lit: 60 ms}}\n";
    assert_eq!(codes(&of_text(&format!("\u{feff}{}", plain.replace('\n', "\r\n")))), Vec::<&str>::new());
    let files = Memory::new().with("x.yaml", b"lampwright: sequence 1\ntitle: \xff\n".to_vec());
    let report = lint(&files, &[Target { path: "x.yaml".into(), named: true }], &RULES, &Settings::default());
    assert!(report.unusable() && report.findings().any(|f| f.message.contains("not text in UTF-8")));
    let huge = format!("lampwright: sequence 1\ntitle: {}\n", "x".repeat(5_000_000));
    assert!(of_text(&huge).findings().any(|f| f.message.contains("larger than 4194304 bytes")));
}

#[test]
fn readme_shows_what_lint_prints() {
    let readme = std::fs::read_to_string("README.md").expect("text");
    let shown = readme.split("```text\n").nth(2).and_then(|rest| rest.split("```").next()).expect("a second block");
    let text = "lampwright: sequence 1\nchannels:\n  top: {drives: beacon, flash: {rate: 120 per min, lit: 60 ms}}\n";
    let files = Memory::new().with("lights/top.yaml", text);
    let targets = [Target { path: "lights/top.yaml".into(), named: true }];
    assert_eq!(written(&lint(&files, &targets, &RULES, &Settings::default()), "text"), shown);
}

#[test]
fn a_hook_passes_over_files_of_others_and_shells_are_served() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("lint-hook");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("made");
    std::fs::write(folder.join("other.yaml"), "jobs: {}\n").expect("written");
    assert_eq!(run(&folder, &["lint", "--skip-others", "other.yaml"]).0, Some(0));
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let (status, out, _) = run(&folder, &["completions", shell]);
        assert_eq!(status, Some(0));
        assert!(out.contains("lint") && out.contains("baseline"), "{shell}");
    }
}

#[test]
fn a_comment_behind_a_value_lets_its_own_line_pass_alone() {
    let two = "  one: {drives: beacon, colour: red, flash: {rate: 300 per min, lit: 60 ms}}  # let pass anti-collision-frequency: slow later\n  \
               two: {drives: beacon, colour: red, flash: {rate: 300 per min, lit: 60 ms}}\n";
    let report = sequence(two);
    let of = |passed: bool| {
        let all = report.findings().filter(|f| f.code == "anti-collision-frequency");
        all.filter(|f| f.counts() != passed).map(|f| f.at.line).collect::<Vec<_>>()
    };
    assert_eq!((of(true), of(false)), (vec![3], vec![4]));
    // Alone on its line it reaches down, over other comments, to the next line.
    let alone = "  # let pass anti-collision-frequency: slow later\n  # another word\n  one: {drives: beacon, colour: red, flash: {rate: 300 per min, lit: 60 ms}}\n";
    assert!(sequence(alone).findings().filter(|f| f.code == "anti-collision-frequency").all(|f| !f.counts()));
}

#[test]
fn a_reason_for_a_channel_that_says_no_light_is_not_called_useless() {
    let report = sequence(
        "  one:\n    # let pass anti-collision-frequency: club rule\n    flash: {rate: 300 per min, lit: 60 ms}\n",
    );
    assert!(!codes(&report).contains(&"nothing-let-pass"), "{:?}", codes(&report));
    let report = sequence(
        "  one:\n    drives: beacon\n    # let pass anti-collision-frequency: club rule\n    flash: {rate: 50 per min, lit: 60 ms}\n",
    );
    assert!(codes(&report).contains(&"nothing-let-pass"), "{:?}", codes(&report));
}
