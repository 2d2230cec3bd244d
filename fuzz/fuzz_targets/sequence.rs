//! Any text is a sequence or mistakes at their places.
#![no_main]

use lampwright::aircraft::read_sequence;
use lampwright_fuzz::{stands_in, told};

libfuzzer_sys::fuzz_target!(|text: &str| match read_sequence("lights.yaml", text) {
    Err(rejected) => told(&rejected, stands_in),
    Ok(sequence) => {
        assert!(!sequence.channels.is_empty());
        for channel in &sequence.channels {
            stands_in(text, &channel.pattern_at);
            stands_in(text, &channel.channel.at);
        }
    }
});
