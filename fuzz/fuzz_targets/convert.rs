//! Any text is channels of lit and dark in turn, or mistakes at their places.
#![no_main]

use lampwright::source::Rejected;
use lampwright::source::formats::{LitAndDark, TimeUnit, durations, intervals, masks};
use lampwright_fuzz::{told, within};

const PERIOD_US: u64 = 1_200_000;

libfuzzer_sys::fuzz_target!(|text: &str| {
    let names = ["left", "right"].map(String::from);
    for unit in [TimeUnit::Seconds, TimeUnit::Milliseconds, TimeUnit::Microseconds] {
        channels(durations("times.txt", text, "top", unit, true).map(|channel| vec![channel]));
        channels(masks("masks.txt", text, &names, unit));
        for channel in channels(intervals("times.csv", text, PERIOD_US, unit)) {
            assert_eq!(channel.steps.iter().map(|(_, us)| us).sum::<u64>(), PERIOD_US, "{channel:?}");
        }
    }
});

/// Steps of some length, lit and dark in turn.
fn channels(read: Result<Vec<LitAndDark>, Rejected>) -> Vec<LitAndDark> {
    let channels = read.unwrap_or_else(|rejected| {
        // A place in a table of times is its row.
        told(&rejected, within);
        Vec::new()
    });
    for channel in &channels {
        assert!(!channel.steps.is_empty() && channel.steps.iter().all(|(_, us)| *us > 0), "{channel:?}");
        assert!(channel.steps.windows(2).all(|pair| pair[0].0 != pair[1].0), "{channel:?}");
    }
    channels
}
