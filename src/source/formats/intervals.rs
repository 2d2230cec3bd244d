//! Times on and off: a CSV of channel, on, off within one period.

use super::table::{TableRow, table_rows};
use super::{LitAndDark, TimeUnit, time};
use crate::source::diagnostic::{Code, Rejected, Sink};
use crate::source::place::At;
use std::collections::HashMap;

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
    let mut rows = table_rows(text, b',', Some(b'#'));
    let Some(columns) = rows.next().and_then(Result::ok).and_then(|row| Columns::of(&row.cells)) else {
        let semicolons = text.lines().any(|line| !line.starts_with('#') && line.contains(';'));
        let instead = if semicolons {
            "begin with the line `channel,on,off`, with commas between columns and points in numbers"
        } else {
            "begin with the line `channel,on,off`"
        };
        let message = "the columns `channel`, `on` and `off` are not all there";
        sink.say(Code::WrongShape, &At::start_of(file), message, instead);
        return sink.finish(None);
    };
    let mut table = Lit { period_us, unit, lit: Vec::new(), numbers: HashMap::new() };
    for row in rows {
        match row {
            Ok(row) => table.take(&row, &columns, &Lines { file, text }, &mut sink),
            Err((line, why)) => {
                let at = At { line: u32::try_from(line).unwrap_or(u32::MAX), ..At::start_of(file) };
                sink.say(Code::WrongShape, &at, why, "write `channel,on,off` and nothing else");
            }
        }
    }
    if table.lit.is_empty() && sink.count() == 0 {
        sink.say(
            Code::MissingKey,
            &At::start_of(file),
            "this table has no rows",
            "write a row a flash, like `top,0,100`",
        );
    }
    let channels = table.lit.into_iter().map(|(name, list)| channel(&name, list, period_us, &mut sink)).collect();
    sink.finish(Some(channels))
}

/// Which column is which.
struct Columns {
    name: usize,
    on: usize,
    off: usize,
    count: usize,
}

impl Columns {
    fn of(header: &csv::StringRecord) -> Option<Self> {
        let column = |name: &str| header.iter().position(|h| h.eq_ignore_ascii_case(name));
        Some(Self { name: column("channel")?, on: column("on")?, off: column("off")?, count: header.len() })
    }
}

/// The lines of the file, for places.
struct Lines<'t> {
    file: &'t str,
    text: &'t str,
}

impl Lines<'_> {
    /// A cell of a row, or the whole row where quotes hide which it is.
    fn at(&self, row: &TableRow, cell: Option<usize>) -> At {
        let line = self.text.get(row.offset..).and_then(|r| r.lines().next()).unwrap_or_default();
        let whole = At {
            line: u32::try_from(row.line).unwrap_or(u32::MAX),
            offset: row.offset,
            length: line.len(),
            ..At::start_of(self.file)
        };
        let Some(cell) = cell.filter(|_| !line.contains('"')) else { return whole };
        let before: usize = line.split(',').take(cell).map(|c| c.len() + 1).sum();
        let Some(written) = line.split(',').nth(cell) else { return whole };
        let start = before + written.len() - written.trim_start().len();
        let column = line.get(..start).map_or(0, |l| l.chars().count());
        At {
            offset: row.offset + start,
            length: written.trim().len(),
            column: u32::try_from(column + 1).unwrap_or(u32::MAX),
            ..whole
        }
    }
}

/// What each channel is lit, in the order the table names them.
struct Lit {
    period_us: u64,
    unit: TimeUnit,
    lit: Vec<(String, Flashes)>,
    numbers: HashMap<String, usize>,
}

impl Lit {
    fn take(&mut self, row: &TableRow, columns: &Columns, lines: &Lines<'_>, sink: &mut Sink) {
        if row.cells.len() != columns.count {
            let message = "this row has other columns than the first line";
            sink.say(Code::WrongShape, &lines.at(row, None), message, "write `channel,on,off` and nothing else");
            return;
        }
        let word = |n: usize| row.cells.get(n).unwrap_or_default();
        let mut read = |n: usize| time(word(n), self.unit, &lines.at(row, Some(n)), sink);
        let (Some(from), Some(to)) = (read(columns.on), read(columns.off)) else { return };
        let at = lines.at(row, None);
        if from >= self.period_us || to <= from || to - from >= self.period_us {
            let message = format!("lit from {} to {} does not fit the period", word(columns.on), word(columns.off));
            let instead = "let it begin within the period and end after it begins, past the period where it runs over its end, and leave some dark";
            sink.say(Code::OutOfRange, &at, message, instead);
            return;
        }
        let name = word(columns.name);
        let number = *self.numbers.entry(name.to_string()).or_insert_with(|| {
            self.lit.push((name.to_string(), Vec::new()));
            self.lit.len() - 1
        });
        if let Some((_, list)) = self.lit.get_mut(number) {
            list.push((from, to, at));
        }
    }
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
