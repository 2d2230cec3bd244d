//! Any text is an aircraft or mistakes at their places. What stands after a form feed is every file it names.
#![no_main]

use lampwright::aircraft::read;
use lampwright::error::Error;
use lampwright::source::Files;
use lampwright_fuzz::{stands_in, told};
use std::path::Path;

const MODEL: &str = "model.yaml";

struct Two<'a>(&'a str, &'a str);

impl Files for Two<'_> {
    fn read(&self, path: &Path, _: u64) -> Result<Vec<u8>, Error> {
        Ok(if path == Path::new(MODEL) { self.0 } else { self.1 }.as_bytes().to_vec())
    }
}

libfuzzer_sys::fuzz_target!(|text: &str| {
    let (model, named) = text.split_once('\u{c}').unwrap_or((text, ""));
    match read(&Two(model, named), Path::new(MODEL)).expect("readable") {
        Err(rejected) => told(&rejected, stands_in),
        Ok(aircraft) => {
            assert!(!aircraft.lamps.is_empty());
            let model = model.strip_prefix('\u{feff}').unwrap_or(model);
            aircraft.lamps.iter().for_each(|lamp| stands_in(model, &lamp.places.name));
        }
    }
});
