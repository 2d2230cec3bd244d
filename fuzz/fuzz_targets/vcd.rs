//! Any bytes are signals or a sentence that says why not.
#![no_main]

use lampwright::source::formats::vcd;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| match vcd(bytes) {
    Ok(signals) => assert!(!signals.is_empty()),
    Err(why) => assert!(!why.is_empty()),
});
