//! Recordings of light held against what was written: ranges that hold the truth, and verdicts that follow from them.

use lampwright::aircraft::{Sequence, read_sequence};
use lampwright::lint::{Rules, Traced, counted, trace};
use lampwright::source::formats::{Signal, TimeUnit, Values, recording_csv, vcd};
use lampwright::timing::{FlashReading, Recorded};
use proptest::prelude::*;
use rstest::rstest;
use std::fmt::Write;
use std::process::Command;
use std::sync::LazyLock;

static RULES: LazyLock<Rules> = LazyLock::new(|| Rules::bundled().expect("sound"));

fn sequence(channels: &str) -> Sequence {
    read_sequence("x.yaml", &format!("lampwright: sequence 1\nchannels:\n{channels}")).expect("sound")
}

fn held(signal: &Signal, sequence: &Sequence, pwm_hz: Option<f64>) -> Traced {
    trace(&Recorded::of(signal, pwm_hz), &sequence.channels[0], sequence, &RULES)
}

fn met(traced: &Traced, id: &str) -> Option<bool> {
    traced.goals.iter().find(|g| g.id == id).unwrap_or_else(|| panic!("no goal {id}")).met
}

/// A light of one pulse a period, sampled: dark reads 0.2 and full 1.2.
fn sampled(period_s: f64, lit_s: f64, step_s: f64, length_s: f64, start_s: f64) -> Signal {
    let count = (length_s / step_s) as usize;
    let level = |n: usize| {
        let t = (n as f64 * step_s - start_s).rem_euclid(period_s);
        if t < lit_s { 1.2 } else { 0.2 }
    };
    let values = Values::Samples { from_s: 0.0, step_s, levels: (0..count).map(level).collect() };
    Signal { name: "top".into(), values }
}

#[test]
fn one_percent_slow_is_missed_at_a_kilohertz_and_open_at_20_ms() {
    // 40 a minute is a period of 1500 ms; 1 % slow, 1515 ms is 39.60 a minute. In 3 s there are two beginnings: sampled
    // each millisecond their distance is known to 0.07 %, sampled each 20 ms to 1.3 %, which is more than the 1 %.
    let written = sequence("  top: {drives: beacon, flash: {period: 1500 ms, lit: 100 ms}}\n");
    let verdict = |step_s| {
        let traced = held(&sampled(1.515, 0.1, step_s, 3.0, 0.4), &written, None);
        assert_eq!(traced.shown.as_ref().expect("two flashes").flashes, 2);
        met(&traced, "anti-collision-frequency")
    };
    assert_eq!(verdict(0.001), Some(false));
    assert_eq!(verdict(0.020), None);
    // As written it lies on the limit, which no recording can tell; 1 % fast is inside.
    assert_eq!(
        met(&held(&sampled(1.485, 0.1, 0.001, 3.0, 0.4), &written, None), "anti-collision-frequency"),
        Some(true)
    );
}

#[test]
fn a_dump_of_another_library_is_read() {
    // tests/traces/make.py wrote it with pyvcd 0.4.1: a wire, a vector and a real in nested scopes. The beacon runs at
    // 1515 ms where 1500 are written; the strobes as written, two pulses of 50 ms, 1280 ms apart.
    let bytes = std::fs::read("tests/traces/two-lamps.vcd").expect("there");
    let signals = vcd(bytes.as_slice()).expect("readable");
    let names: Vec<&str> = signals.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["model.tail", "model.fuselage.top", "model.wing.outer.tips"]);
    for (name, period_s, pulses, lit_ms) in
        [("tail", 1.280, 2, 50.0), ("top", 1.515, 1, 100.0), ("tips", 1.280, 2, 50.0)]
    {
        let signal = signals.iter().find(|s| s.name.ends_with(name)).expect("there");
        let shown = Recorded::of(signal, None).shown(&FlashReading::default()).expect("flashes");
        assert!(shown.per_min.contains(60.0 / period_s) && shown.per_min.width() < 0.02, "{name}: {:?}", shown.per_min);
        assert_eq!(shown.pulses, (pulses, pulses), "{name}");
        assert!(shown.longest_ms.contains(lit_ms) && shown.longest_ms.width() < 2.5, "{name}");
        let share = f64::from(u32::try_from(pulses).expect("few")) * lit_ms / (period_s * 1e3);
        assert!(shown.duty.contains(share), "{name}: {:?}", shown.duty);
    }
}

#[test]
fn the_command_says_what_differs() {
    let run = |words: &[&str]| {
        let ran = Command::new(env!("CARGO_BIN_EXE_lampwright")).args(words).output().expect("starts");
        (
            ran.status.code(),
            String::from_utf8_lossy(&ran.stdout).into_owned(),
            String::from_utf8_lossy(&ran.stderr).into_owned(),
        )
    };
    let (dump, file) = ("tests/traces/two-lamps.vcd", "tests/traces/two-lamps.yaml");
    let (status, out, _) = run(&["trace", dump, "--sequence", file]);
    assert_eq!(status, Some(1), "{out}");
    assert!(out.lines().all(|l| l.chars().count() <= 80), "{out}");
    assert!(
        out.contains("missed        flash frequency: 39.6 per min") && out.contains("the file says 40 per min"),
        "{out}"
    );
    assert_eq!(out.matches("as written    pulses in a flash: 2").count(), 2, "{out}");
    let tips = ["trace", dump, "--sequence", file, "--signal", "model.wing.outer.tips=tips"];
    assert_eq!(run(&tips).0, Some(0));
    // Recorded each 20 ms, a width of 50 ms is known from 30 to 70.
    let (_, out, _) = run(&[&tips[..], &["--sampling", "20 ms"]].concat());
    assert!(out.contains("longest pulse: 30 to 70 ms"), "{out}");
    let (status, out, _) = run(&[&tips[..], &["--format", "json"]].concat());
    let said: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((status, said["signals"][0]["goals"][0]["verdict"].as_str()), (Some(0), Some("met")));
    for (words, wanted) in [
        (&["--signal", "tops=top"][..], "has no signal called `tops`"),
        (&["--signal", "model.tail=tial"], "did you mean `tail`?"),
        (&["--signal", "model.tail"], "is not like `SIGNAL=CHANNEL`"),
    ] {
        let (status, _, error) = run(&[&["trace", dump, "--sequence", file][..], words].concat());
        assert_eq!(status, Some(2));
        assert!(error.contains(wanted), "{error}");
    }
    assert_eq!(run(&["trace", "nowhere.vcd", "--sequence", file]).0, Some(2));
    let count = |said: &'static str| run(&["trace", "--counted", said, "--channel", "top", "--sequence", file]);
    assert_eq!(
        (count("10 flashes in 15 s").0, count("3 flashes in 15 s").0, count("ten in 15 s").0),
        (Some(0), Some(1), Some(2))
    );
}

#[rstest]
// A count by eye may be one off at each end: 12 in 15 s is 44 to 52 a minute, 10 is 36 to 44, 8 is 28 to 36.
#[case(12, Some(true))]
#[case(10, None)]
#[case(8, Some(false))]
fn a_count_by_eye_is_one_off(#[case] flashes: u32, #[case] wanted: Option<bool>) {
    let written = sequence("  top: {drives: beacon, flash: {period: 1250 ms, lit: 100 ms}}\n");
    let traced = counted(flashes, 15.0, &written.channels[0], &written, &RULES);
    assert_eq!(met(&traced, "anti-collision-frequency"), wanted);
}

/// A blink of 1.2 s, lit 100 ms, as rows of a table that has a row a change.
fn changes() -> String {
    let mut text = "Time [s],Channel 0\n-0.05,0\n".to_string();
    for n in 0..12 {
        let on = 0.2 + 1.2 * f64::from(n);
        let _ = write!(text, "{on:.4},1\n{:.4},0\n", on + 0.1);
    }
    text
}

#[rstest]
#[case("as exported", changes(), None)]
#[case("in milliseconds", changes().replace("[s]", "[ms]"), Some(1e3))]
#[case("a semicolon and a decimal comma", changes().replace(',', ";").replace('.', ","), None)]
#[case("two lines of header and a closing word", format!("{}EOF\n", changes().replacen('\n', "\n(V)\n", 1)), None)]
#[case("a mark at the start and other line ends", format!("\u{feff}{}", changes().replace('\n', "\r\n")), None)]
fn tables_as_people_export_them(#[case] name: &str, #[case] text: String, #[case] slower: Option<f64>) {
    let signals = recording_csv(&text, None).unwrap_or_else(|e| panic!("{name}: {e}"));
    assert_eq!(signals[0].name, "Channel 0", "{name}");
    let shown = Recorded::of(&signals[0], None).shown(&FlashReading::default()).expect("flashes");
    // 60 / 1.2 = 50 a minute; taken for milliseconds, a thousand times that.
    assert!(shown.per_min.contains(50.0 * slower.unwrap_or(1.0)), "{name}: {:?}", shown.per_min);
}

#[rstest]
#[case("", "no line begins with a number")]
#[case("Time,A\n0,0\n1,1\n2,0\n", "does not say the unit")]
#[case("Time [s],A\n0,0\n1\n2,0\n", "0 values, and the line before has 1")]
#[case("Time [s],A\n0,0\n1,x\n2,0\n", "line 3: a value is no number")]
#[case("Time [s],A\n0,0\n2,1\n1,0\n", "line 4: time runs backwards")]
#[case("Time [s],A\n0,0\nx,1\n2,0\n", "line 3: `x` is no time")]
#[case("Time [s],A\n0,0\n1,1\n", "fewer than three rows")]
#[case("Time [s]\n0\n1\n2\n", "no column beside the time")]
#[case("Time [s],A\n0,0\nnan,1\n2,0\n", "`nan` is no time")]
fn a_table_that_is_none_says_why(#[case] text: &str, #[case] wanted: &str) {
    let error = recording_csv(text, None).expect_err("wrong");
    assert!(error.contains(wanted), "{error}");
}

#[test]
fn ambient_light_and_dimming_do_not_count_as_flashes() {
    // Sampled at 10 kHz, dimmed by pulses of 400 Hz and half on, over an ambient level three times the light itself.
    let (period, lit) = (1.2, 0.1);
    let level = |n: usize| {
        let t = n as f64 * 1e-4;
        let on = (t - 0.3_f64).rem_euclid(period) < lit && (t * 400.0).fract() < 0.5;
        3.0 + if on { 1.0 } else { 0.0 }
    };
    let signal = Signal {
        name: "top".into(),
        values: Values::Samples { from_s: 0.0, step_s: 1e-4, levels: (0..120_000).map(level).collect() },
    };
    let written = sequence("  top: {drives: beacon, flash: {period: 1200 ms, lit: 100 ms}}\n");
    let traced = held(&signal, &written, Some(400.0));
    let shown = traced.shown.as_ref().expect("flashes");
    assert!(shown.per_min.contains(50.0) && shown.longest_ms.contains(100.0), "{shown:?}");
    assert_eq!(shown.pulses, (1, 1));
    assert!(traced.compared.iter().all(|c| c.agrees), "{:?}", traced.compared);
    // A lamp that is always lit, with noise, shows no flash.
    let steady = Values::Samples {
        from_s: 0.0,
        step_s: 0.01,
        levels: (0..1000).map(|n| 3.0 + 0.01 * f64::from(n % 3)).collect(),
    };
    assert!(held(&Signal { name: "top".into(), values: steady }, &written, None).shown.is_none());
}

#[test]
fn a_hostile_dump_ends_with_a_message_and_never_with_a_crash() {
    let deep = format!("$timescale 1 us $end\n{}$enddefinitions $end\n#0\n", "$scope module a $end\n".repeat(200_000));
    assert!(vcd(deep.as_bytes()).expect_err("no signals").contains("no signals"));
    for (text, wanted) in [
        ("$var wire 1 ! a $end\n#0\n1!\n", "no `$timescale`"),
        ("$timescale 1 ms $end\n$var wire 1 ! a $end\n$enddefinitions $end\n#5\n1!\n#3\n0!\n", "time runs backwards"),
        ("", "no `$timescale`"),
    ] {
        let error = vcd(text.as_bytes()).expect_err("wrong");
        assert!(error.contains(wanted), "{error}");
    }
    // Unknown at the start is no beginning of a flash; one name for two signals shows in both.
    let text = "$timescale 1 ms $end\n$var wire 1 ! a $end\n$var wire 1 ! b $end\n$enddefinitions $end\n#0\nx!\n#10\n1!\n#20\n0!\n#1020\n1!\n#1030\n0!\n#2020\n1!\n#2030\n0!\n";
    let signals = vcd(text.as_bytes()).expect("readable");
    assert_eq!(signals.len(), 2);
    let shown = Recorded::of(&signals[1], None).shown(&FlashReading::default()).expect("flashes");
    assert_eq!(shown.flashes, 2);
    assert!(shown.per_min.contains(60.0));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn what_a_recording_shows_holds_the_truth(
        period_ms in 600_u32..1600, lit_ms in 40_u32..300, step_us in 100_u32..20_000, start_ms in 0_u32..1000,
    ) {
        let (period, lit, step) = (f64::from(period_ms) * 1e-3, f64::from(lit_ms) * 1e-3, f64::from(step_us) * 1e-6);
        let signal = sampled(period, lit, step, 16.0, f64::from(start_ms) * 1e-3);
        let shown = Recorded::of(&signal, None).shown(&FlashReading::default()).expect("flashes");
        let slack = 1e-9;
        prop_assert!(shown.per_min.low - slack <= 60.0 / period && 60.0 / period <= shown.per_min.high + slack, "{:?}", shown);
        prop_assert!(shown.longest_ms.high + slack >= f64::from(lit_ms) && shown.shortest_ms.low - slack <= f64::from(lit_ms));
        prop_assert!(shown.duty.low - slack <= lit / period && lit / period <= shown.duty.high + slack);
        prop_assert!(shown.longest_ms.width() <= 4e3 * step + slack);
        prop_assert!(shown.jitter_ms.low <= slack);
    }

    #[test]
    fn no_bytes_end_in_a_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300), text in "[ -~\n,;$#01xz!\"]{0,300}") {
        let _ = vcd(bytes.as_slice());
        let _ = vcd(text.as_bytes());
        for text in [text.clone(), String::from_utf8_lossy(&bytes).into_owned(), format!("Time [s],A\n0,0\n{text}")] {
            if let Ok(signals) = recording_csv(&text, Some(TimeUnit::Seconds)) {
                signals.iter().for_each(|s| drop(Recorded::of(s, Some(400.0)).shown(&FlashReading::default())));
            }
        }
    }
}
