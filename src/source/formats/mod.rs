//! Other people's files: light patterns as plain lists, tables of masks and times on and off, recordings of light, and
//! photometric files.
//!
//! Each file here reads one generic form. Patterns become channels of lit and dark times in whole microseconds, recordings
//! signals over time, photometric files intensities by two angles.

mod durations;
mod eulumdat;
mod intervals;
mod lm63;
mod masks;
mod numbers;
mod photometry;
mod recording;
mod recording_csv;
mod soup;
mod table;
mod vcd;

pub use durations::durations;
pub use eulumdat::eulumdat;
pub use intervals::intervals;
pub use lm63::lm63;
pub use masks::masks;
pub use photometry::{PhotometricType, Photometry, photometric_file};
pub use recording::{Changes, Samples, Signal, Values};
pub use recording_csv::recording_csv;
pub use soup::{Corners, MOST_TRIANGLES, soup};
pub use vcd::vcd;

use super::diagnostic::{Code, Sink};
use super::place::At;

/// A channel as lit and dark times, in microseconds, one after the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LitAndDark {
    /// Its name.
    pub name: String,
    /// Whether it is lit, and how long.
    pub steps: Vec<(bool, u64)>,
}

impl LitAndDark {
    fn new(name: &str) -> Self {
        Self { name: name.to_string(), steps: Vec::new() }
    }

    /// Adds a stretch; two of the same kind become one.
    fn push(&mut self, lit: bool, us: u64) {
        match self.steps.last_mut() {
            Some((last, length)) if *last == lit => *length = length.saturating_add(us),
            _ => self.steps.push((lit, us)),
        }
    }
}

/// A unit of time a list of bare numbers may be in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeUnit {
    /// Seconds.
    Seconds,
    /// Milliseconds.
    Milliseconds,
    /// Microseconds.
    Microseconds,
    /// Nanoseconds.
    Nanoseconds,
}

impl TimeUnit {
    fn us(self) -> f64 {
        match self {
            Self::Seconds => 1e6,
            Self::Milliseconds => 1e3,
            Self::Microseconds => 1.0,
            Self::Nanoseconds => 1e-3,
        }
    }
}

/// The longest time a pattern may hold: one day.
const LONGEST_US: f64 = 86_400e6;

/// A number of a list as whole microseconds, or says what is wrong with it.
fn time(word: &str, unit: TimeUnit, at: &At, sink: &mut Sink) -> Option<u64> {
    let value = word.parse::<f64>().ok().filter(|v| v.is_finite());
    let us = value.map(|v| (v * unit.us()).round());
    let (message, instead) = match (value, us) {
        (Some(value), Some(us)) if (0.0..=LONGEST_US).contains(&us) && (us > 0.0 || value == 0.0) => {
            return Some(us as u64);
        }
        (Some(_), Some(us)) if us > LONGEST_US => {
            (format!("`{word}` is longer than a day"), "write a shorter time, or say the unit with `--unit`")
        }
        (Some(value), _) if value > 0.0 => {
            (format!("`{word}` is less than half a microsecond"), "write a longer time, or say the unit with `--unit`")
        }
        _ if matches!(word, "s" | "ms" | "us" | "\u{b5}s" | "\u{3bc}s" | "ns") => {
            (format!("`{word}` is no time"), "write bare numbers, and say their unit with `--unit`")
        }
        _ => (
            format!("`{word}` is no time"),
            "write a number from 0 up, with a point and not a comma, like `100` or `62.5`",
        ),
    };
    sink.say(Code::WrongValue, at, message, instead);
    None
}

/// The words of a text with their places; `#` begins a comment, commas and blanks part words.
fn words<'t>(file: &str, text: &'t str) -> Vec<(&'t str, At)> {
    let mut found = Vec::new();
    let mut line_start = 0;
    for (line, written) in (1_u32..).zip(text.split_inclusive('\n')) {
        let said = written.split('#').next().unwrap_or_default();
        let mut from = 0;
        for word in said.split(|c: char| c.is_whitespace() || c == ',' || c == ';') {
            if !word.is_empty() {
                let column = u32::try_from(said.get(..from).unwrap_or_default().chars().count()).unwrap_or(u32::MAX);
                let at = At {
                    file: file.into(),
                    line,
                    column: column.saturating_add(1),
                    offset: line_start + from,
                    length: word.len(),
                };
                found.push((word, at));
            }
            // What parts words is one byte, but for wide blanks.
            from += word.len() + said.get(from + word.len()..).and_then(|r| r.chars().next()).map_or(0, char::len_utf8);
        }
        line_start += written.len();
    }
    found
}
