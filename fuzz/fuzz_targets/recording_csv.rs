//! Any text is signals or a sentence that says why not.
#![no_main]

use lampwright::source::formats::{TimeUnit, recording_csv};

libfuzzer_sys::fuzz_target!(|text: &str| {
    for unit in [None, Some(TimeUnit::Milliseconds)] {
        match recording_csv(text, unit) {
            Ok(signals) => assert!(!signals.is_empty()),
            Err(why) => assert!(!why.is_empty()),
        }
    }
});
