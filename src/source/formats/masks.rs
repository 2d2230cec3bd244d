//! A table of masks: on each line which channels are lit, and how long.

use super::{LitAndDark, TimeUnit, time, words};
use crate::source::diagnostic::{Code, Rejected, Sink};
use crate::source::place::At;

/// Reads lines of a mask and a time, like `101 50`: a digit a channel, from the first to the last, 1 lit and 0 dark.
///
/// # Errors
/// Every line that is no mask and time; masks of other lengths than there are channels; a table without lines.
pub fn masks(file: &str, text: &str, names: &[String], unit: TimeUnit) -> Result<Vec<LitAndDark>, Rejected> {
    let mut sink = Sink::new();
    sink.sources.add(file, text);
    let mut channels: Vec<LitAndDark> = names.iter().map(|name| LitAndDark::new(name)).collect();
    let list = words(file, text);
    if list.is_empty() {
        let instead = "write a mask and a time a line, like `101 50`";
        sink.say(Code::MissingKey, &At::start_of(file), "this table has no lines", instead);
    }
    for pair in list.chunk_by(|a, b| a.1.line == b.1.line) {
        match pair {
            [(mask, at), (word, time_at)] => {
                let us = time(word, unit, time_at, &mut sink);
                if us == Some(0) {
                    sink.say(
                        Code::OutOfRange,
                        time_at,
                        "a step takes no time",
                        "leave it out, or give it a time above 0",
                    );
                }
                let bits: Option<Vec<bool>> = mask.chars().map(|c| "01".find(c).map(|n| n == 1)).collect();
                match bits {
                    Some(bits) if bits.len() == names.len() => {
                        for (channel, lit) in channels.iter_mut().zip(bits) {
                            channel.push(lit, us.unwrap_or(0));
                        }
                    }
                    Some(bits) => {
                        let message = format!("a mask of {} channels, and {} are named", bits.len(), names.len());
                        let instead =
                            "write a digit for each, the first channel first, or name them all with `--channels`";
                        sink.say(Code::Contradiction, at, message, instead);
                    }
                    None => {
                        let message = format!("`{mask}` is no mask");
                        sink.say(Code::WrongValue, at, message, "write 1 for lit and 0 for dark, like `101`");
                    }
                }
            }
            line => {
                if let Some((_, at)) = line.first() {
                    let message = format!("{} words on a line, and a mask and a time are wanted", line.len());
                    sink.say(Code::WrongShape, at, message, "write it like `101 50`");
                }
            }
        }
    }
    sink.finish(Some(channels))
}
