//! Times on and off: a CSV of channel, on, off within one period.

use super::{LitAndDark, TimeUnit, time};
use crate::source::diagnostic::{Code, Rejected, Sink};
use crate::source::place::At;

/// When a channel is lit, from and to, and the row that says so.
type Flashes = Vec<(u64, u64, At)>;

/// Reads a CSV with the columns `channel`, `on` and `off`: when in the period each is lit.
///
/// A flash that ends in the next period runs across its end; rows of a channel may stand in any order and touch, but not
/// overlap.
///
/// # Errors
/// A header without these columns; every time that is none or lies outside the period; flashes that overlap.
pub fn intervals(file: &str, text: &str, period_us: u64, unit: TimeUnit) -> Result<Vec<LitAndDark>, Rejected> {
    let mut sink = Sink::new();
    sink.sources.add(file, text);
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).comment(Some(b'#')).from_reader(text.as_bytes());
    let headers = reader.headers().cloned().unwrap_or_default();
    let column = |name: &str| headers.iter().position(|h| h.eq_ignore_ascii_case(name));
    let (Some(name), Some(on), Some(off)) = (column("channel"), column("on"), column("off")) else {
        let instead = "begin with the line `channel,on,off`";
        sink.say(
            Code::WrongShape,
            &At::start_of(file),
            "the columns `channel`, `on` and `off` are not all there",
            instead,
        );
        return sink.finish(None);
    };
    let mut lit: Vec<(String, Flashes)> = Vec::new();
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let at = line_at(file, text, error.position());
                sink.say(
                    Code::WrongShape,
                    &at,
                    "this row has other columns than the first line",
                    "write `channel,on,off` and nothing else",
                );
                continue;
            }
        };
        let at = line_at(file, text, record.position());
        let word = |n: usize| record.get(n).unwrap_or_default();
        let (from, to) = (time(word(on), unit, &at, &mut sink), time(word(off), unit, &at, &mut sink));
        let (Some(from), Some(to)) = (from, to) else { continue };
        if from >= period_us || to <= from || to - from >= period_us {
            let message = format!("lit from {} to {} does not fit the period", word(on), word(off));
            sink.say(
                Code::OutOfRange,
                &at,
                message,
                "let it begin within the period, end after it begins, and leave some dark",
            );
            continue;
        }
        match lit.iter_mut().find(|(n, _)| n == word(name)) {
            Some((_, list)) => list.push((from, to, at)),
            None => lit.push((word(name).to_string(), vec![(from, to, at)])),
        }
    }
    if lit.is_empty() && sink.count() == 0 {
        sink.say(
            Code::MissingKey,
            &At::start_of(file),
            "this table has no rows",
            "write a row a flash, like `top,0,100`",
        );
    }
    let channels = lit.into_iter().map(|(name, list)| channel(&name, list, period_us, &mut sink)).collect();
    sink.finish(Some(channels))
}

/// The place of a row: the whole of its line.
fn line_at(file: &str, text: &str, position: Option<&csv::Position>) -> At {
    let Some(position) = position else { return At::start_of(file) };
    let offset = usize::try_from(position.byte()).unwrap_or(usize::MAX).min(text.len());
    let rest = text.get(offset..).unwrap_or_default();
    let offset = offset + (rest.len() - rest.trim_start().len());
    let length = text.get(offset..).and_then(|r| r.lines().next()).map_or(0, str::len);
    At { line: u32::try_from(position.line()).unwrap_or(u32::MAX), offset, length, ..At::start_of(file) }
}

fn channel(name: &str, mut list: Flashes, period_us: u64, sink: &mut Sink) -> LitAndDark {
    list.sort();
    // What runs across the end is lit at the beginning of the next period.
    let wraps = list.last().map_or(0, |(_, to, _)| to.saturating_sub(period_us));
    let mut channel = LitAndDark::new(name);
    let mut now = 0;
    if wraps > 0 {
        channel.push(true, wraps);
        now = wraps;
    }
    for (from, to, at) in &list {
        if *from < now {
            sink.say(
                Code::Contradiction,
                at,
                format!("two flashes of `{name}` overlap"),
                "make them one, or part them",
            );
            continue;
        }
        if *from > now {
            channel.push(false, from - now);
        }
        channel.push(true, (*to).min(period_us) - from);
        now = *to;
    }
    if now < period_us {
        channel.push(false, period_us - now);
    }
    channel
}
