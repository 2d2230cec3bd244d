//! A plain list of times: lit, dark, lit, dark, for ever.

use super::{LitAndDark, TimeUnit, time, words};
use crate::source::diagnostic::{Code, Diagnostic, Rejected, Sink};
use crate::source::place::At;

/// Reads a list of times that are lit and dark in turn; a 0 at its end only ends it.
///
/// # Errors
/// Every word that is no time; a list that is empty, or odd, so that its last time runs into its first of the same kind.
///
/// # Example
/// ```
/// use lampwright::source::formats::{TimeUnit, durations};
/// // The double blink of 100/150/100/1500 ms is a period of 1.85 s (common practice, no source).
/// let channel = durations("list.txt", "100 150 100 1500", "top", TimeUnit::Milliseconds, true)?;
/// assert_eq!(channel.steps.iter().map(|(_, us)| us).sum::<u64>(), 1_850_000);
/// # Ok::<(), lampwright::source::Rejected>(())
/// ```
pub fn durations(file: &str, text: &str, name: &str, unit: TimeUnit, starts_lit: bool) -> Result<LitAndDark, Rejected> {
    let mut sink = Sink::new();
    sink.sources.add(file, text);
    let mut list = words(file, text);
    let mut times: Vec<(Option<u64>, At)> =
        list.drain(..).map(|(word, at)| (time(word, unit, &at, &mut sink), at)).collect();
    if times.last().is_some_and(|(us, _)| *us == Some(0)) {
        times.pop();
    }
    for (_, at) in times.iter().filter(|(us, _)| *us == Some(0)) {
        sink.say(Code::OutOfRange, at, "a time of 0 within the list", "only the last may be 0, as the end of the list");
    }
    match times.last() {
        None => {
            let instead = "write lit and dark times in turn, like `100 150 100 1500`";
            sink.say(Code::MissingKey, &At::start_of(file), "this list has no times", instead);
        }
        // A word that is no time may be the one too many.
        Some((_, at)) if times.len() % 2 == 1 && sink.count() == 0 => {
            let (first, missing) = if starts_lit { ("lit", "dark") } else { ("dark", "lit") };
            let message =
                format!("{} times: the last is {first} and runs into the first, which is {first} too", times.len());
            sink.push(Diagnostic::new(Code::Contradiction, at, message, format!("add the last {missing} time")));
        }
        Some(_) => {}
    }
    let mut channel = LitAndDark::new(name);
    for (n, (us, _)) in times.iter().enumerate() {
        channel.push((n % 2 == 0) == starts_lit, us.unwrap_or(0));
    }
    sink.finish(Some(channel))
}
