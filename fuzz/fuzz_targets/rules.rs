//! Any text is a rule set or mistakes at their places. What stands after a form feed is every shared file that the
//! program does not bring.
#![no_main]

use lampwright::measure::vet;
use lampwright::rules::{audit, read, read_head, shared_text};
use lampwright::source::{Rejected, Sources};
use lampwright_fuzz::{stands_in, told};

libfuzzer_sys::fuzz_target!(|text: &str| {
    let (rules, own) = text.split_once('\u{c}').unwrap_or((text, ""));
    if let Err(rejected) = read_head("own.rules.yaml", rules) {
        told(&rejected, stands_in);
    }
    match read("own.rules.yaml", rules, &|name| shared_text(name).or(Some(own))) {
        Err(rejected) => told(&rejected, stands_in),
        Ok(set) => {
            stands_in(rules, &set.at);
            let mut sources = Sources::default();
            sources.add("own.rules.yaml", rules);
            let found = vet(&set).into_iter().chain(audit(&set)).collect();
            assert!(!Rejected::new(found, sources).show(false).is_empty());
        }
    }
});
