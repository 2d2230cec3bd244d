//! Generic light patterns become sequences that say the same, and what is wrong in them is told at its place.

use lampwright::aircraft::read_sequence;
use lampwright::source::formats::{LitAndDark, TimeUnit, durations, intervals, masks};
use lampwright::timing::FlashReading;
use lampwright::units::Fraction;
use proptest::prelude::*;
use rstest::rstest;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

fn named(names: &[&str]) -> Vec<String> {
    names.iter().map(ToString::to_string).collect()
}

/// Runs the command on a file of its own and gives back status and output.
fn converted(name: &str, text: &str, more: &[&str]) -> (Option<i32>, String, String) {
    static RUNS: AtomicUsize = AtomicUsize::new(0);
    // Tests run side by side: each run has a folder of its own.
    let run = format!("convert-{}", RUNS.fetch_add(1, Ordering::Relaxed));
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(run);
    std::fs::create_dir_all(&folder).expect("made");
    let path = folder.join(name);
    std::fs::write(&path, text).expect("written");
    let words = [&["convert", path.to_str().expect("text")], more].concat();
    let ran = Command::new(env!("CARGO_BIN_EXE_lampwright")).args(words).output().expect("starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (ran.status.code(), text(ran.stdout), text(ran.stderr))
}

#[rstest]
// 100/150/100/1500 ms: a period of 1.85 s, 32.43 groups a minute (common practice, no source); a 0 ends such lists.
#[case("100 150 100 1500", 60_000_000, 1_850_000)]
#[case("100, 150,100 ,1500, 0\n", 60_000_000, 1_850_000)]
// 62.5 ms is whole microseconds.
#[case("62.5 937.5 # one flash", 60_000_000, 1_000_000)]
fn a_list_is_lit_and_dark_in_turn(#[case] text: &str, #[case] minute_us: i128, #[case] period_us: i128) {
    let (status, out, error) = converted("list.txt", text, &["--from", "durations", "--channels", "top"]);
    assert_eq!(status, Some(0), "{error}");
    let sequence = read_sequence("out.yaml", &out).expect("sound");
    let waveform = &sequence.channels[0].channel.waveform;
    assert_eq!(
        (sequence.channels[0].channel.name.as_str(), waveform.period_us()),
        ("top", Fraction::new(period_us, 1))
    );
    assert_eq!(waveform.flash_rate(&FlashReading::default()).exact_per_minute(), Fraction::new(minute_us, period_us));
}

#[test]
fn masks_give_each_channel_its_digit() {
    // 32 steps of 50 ms with one lit are 37.5 flashes a minute (common practice, no source).
    let table = format!("10 50\n{}", "01 50\n".repeat(31));
    let channels = masks("x", &table, &named(&["top", "rest"]), TimeUnit::Milliseconds).expect("sound");
    assert_eq!(channels[0].steps, [(true, 50_000), (false, 1_550_000)]);
    assert_eq!(channels[1].steps, [(false, 50_000), (true, 1_550_000)]);
}

#[test]
fn a_flash_may_run_across_the_end_of_the_period() {
    let table = "channel,on,off\ntop,0.9,1.05\ntips,0.5,0.55\ntop,0.3,0.4\n";
    let channels = intervals("x", table, 1_000_000, TimeUnit::Seconds).expect("sound");
    let wrapped = [(true, 50_000), (false, 250_000), (true, 100_000), (false, 500_000), (true, 100_000)];
    assert_eq!(channels[0], LitAndDark { name: "top".into(), steps: wrapped.to_vec() });
    assert_eq!(channels[1].steps, [(false, 500_000), (true, 50_000), (false, 450_000)]);
}

#[rstest]
#[case("durations", "100 200 300", "1:9", "runs into the first")]
#[case("durations", "", "1:1", "no times")]
#[case("durations", "100 0 100 50", "1:5", "a time of 0 within the list")]
#[case("durations", "100 1,5 -3 x", "1:12", "`x` is no time")]
#[case("durations", "1e30 5", "1:1", "is longer than a day")]
#[case("masks", "1x 50\n", "1:1", "`1x` is no mask")]
#[case("masks", "10 50\n101 50\n", "2:1", "a mask of 3 channels, and 2 are named")]
#[case("masks", "10 50 60\n", "1:1", "3 words on a line")]
#[case("masks", "10 0\n", "1:4", "a step takes no time")]
#[case("times", "on,off\n1,2\n", "1:1", "are not all there")]
#[case("times", "channel,on,off\ntop,0,200\ntop,100,300\n", "3:1", "two flashes of `top` overlap")]
#[case("times", "channel,on,off\ntop,500,400\n", "2:1", "does not fit the period")]
#[case("times", "channel,on,off\ntop,1,2,3\n", "2:1", "other columns")]
#[case("times", "channel,on,off\n", "1:1", "no rows")]
fn a_mistake_is_told_at_its_place(#[case] form: &str, #[case] text: &str, #[case] at: &str, #[case] wanted: &str) {
    let file = "mistake.txt";
    let (status, _, error) = converted(file, text, &["--from", form, "--channels", "a,b", "--period", "1 s"]);
    assert_eq!(status, Some(2));
    assert!(error.contains(&format!("{file}:{at}\n")) && error.contains(wanted), "{error}");
}

#[test]
fn times_want_a_period_and_names_may_be_anything() {
    let (status, _, error) = converted("times.csv", "channel,on,off\ntop,0,100\n", &["--from", "times"]);
    assert_eq!(status, Some(2));
    assert!(error.contains("--period"), "{error}");
    let odd = "channel,on,off\n\"a: \"\"b\"\" #c\",0,100\n";
    let (status, out, error) = converted("odd.csv", odd, &["--from", "times", "--period", "1 s"]);
    assert_eq!(status, Some(0), "{error}");
    assert_eq!(read_sequence("x", &out).expect("sound").channels[0].channel.name, "a: \"b\" #c");
}

proptest! {
    #[test]
    fn no_text_ends_in_a_panic(text in "[ -~\n,;01#\t]{0,200}") {
        let names = named(&["a", "b"]);
        let _ = durations("x", &text, "a", TimeUnit::Milliseconds, true);
        let _ = masks("x", &text, &names, TimeUnit::Microseconds);
        let _ = intervals("x", &format!("channel,on,off\n{text}"), 1_000_000, TimeUnit::Seconds);
    }

    #[test]
    fn a_list_keeps_its_times(list in proptest::collection::vec(1_u64..100_000, 1..20)) {
        // Twice as many, so that lit and dark are even.
        let words: Vec<String> = list.iter().chain(&list).map(ToString::to_string).collect();
        let channel = durations("x", &words.join(" "), "a", TimeUnit::Microseconds, true).expect("sound");
        prop_assert_eq!(channel.steps.iter().map(|(_, us)| us).sum::<u64>(), 2 * list.iter().sum::<u64>());
        prop_assert_eq!(channel.steps.len(), 2 * list.len());
    }
}
