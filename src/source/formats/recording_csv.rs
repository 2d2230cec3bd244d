//! A recording as a table: a column of times and a column a signal, a row a change or a row a sample.

use super::TimeUnit;
use super::recording::{Changes, Samples, Signal, Values};
use super::table::table_rows;
use std::sync::Arc;

/// More rows than this are no recording of a few lamps.
const MOST_ROWS: usize = 5_000_000;
/// More cells than this are more than memory should hold.
const MOST_CELLS: usize = 20_000_000;
/// More columns than this are no recording of a few lamps.
const MOST_COLUMNS: usize = 256;
/// The finest time taken from a table of changes: recorders print more digits than they sample.
const FINEST_S: f64 = 1e-6;

/// Reads a table whose first column is the time. Rows that each change a column of two values are changes; all else is
/// samples, each at its own time.
///
/// Lines before the first row of numbers are the header, the last of as many columns with the names; a unit there, like
/// `Time [ms]`, is taken. With semicolons or tabs between columns a comma is a decimal point.
///
/// # Errors
/// Which line is wrong and how; no unit anywhere.
pub fn recording_csv(text: &str, unit: Option<TimeUnit>) -> Result<Vec<Signal>, String> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let Some((delimiter, data)) = dialect(text) else { return Err("no line begins with a number".to_string()) };
    let mut table = Table { delimiter, data, header: Vec::new(), times: Times::default(), columns: Vec::new() };
    table.read(text)?;
    table.signals(unit)
}

/// What parts the columns, and the line of the first row of numbers.
fn dialect(text: &str) -> Option<(u8, usize)> {
    let mut best: Option<(usize, u8)> = None;
    for delimiter in *b";\t," {
        let rows = table_rows(text, delimiter, None).take(200).map_while(Result::ok);
        let is_data = |cells: &csv::StringRecord| cells.iter().all(|cell| number(cell, delimiter).is_some());
        // One column of numbers may be a table parted otherwise.
        let mut lines = rows.filter(|row| is_data(&row.cells)).map(|row| (row.cells.len() < 2, row.line));
        if let Some((single, line)) = lines.next() {
            let rank = if single { usize::MAX / 2 + line } else { line };
            if best.is_none_or(|(least, _)| rank < least) {
                best = Some((rank, delimiter));
            }
        }
    }
    best.map(|(rank, delimiter)| (delimiter, if rank > usize::MAX / 2 { rank - usize::MAX / 2 } else { rank }))
}

fn number(cell: &str, delimiter: u8) -> Option<f64> {
    let value = if delimiter == b',' { cell.parse::<f64>() } else { cell.replace(',', ".").parse::<f64>() };
    value.ok().filter(|v| v.is_finite())
}

#[derive(Default)]
struct Times {
    written: Vec<f64>,
    /// The finest digit of plain times, the coarsest of those with an exponent: loggers drop closing zeros.
    finest: Option<f64>,
    coarsest: Option<f64>,
}

impl Times {
    fn push(&mut self, cell: &str, time: f64) {
        self.written.push(time);
        let (digit, has_exponent) = last_digit(cell);
        if has_exponent {
            self.coarsest = Some(self.coarsest.map_or(digit, |known| known.max(digit)));
        } else {
            self.finest = Some(self.finest.map_or(digit, |known| known.min(digit)));
        }
    }

    /// How far a written time may lie from its rounding's other side: the value of its last digit.
    fn digit(&self) -> f64 {
        let most = self.written.iter().fold(0.0_f64, |most, t| most.max(t.abs()));
        let written = self.coarsest.or(self.finest).unwrap_or(1.0);
        written.max(most * f64::EPSILON)
    }
}

/// What one more in the last digit of a number is worth, and whether it has an exponent.
fn last_digit(cell: &str) -> (f64, bool) {
    let (mantissa, exponent) = cell.split_once(['e', 'E']).unwrap_or((cell, ""));
    let decimals = mantissa.split_once(['.', ',']).map_or(0, |(_, digits)| digits.len());
    let decimals = i32::try_from(decimals.min(400)).unwrap_or(400);
    let power = exponent.parse::<i32>().unwrap_or(0).clamp(-400, 400) - decimals;
    (10_f64.powi(power), !exponent.is_empty())
}

struct Table {
    delimiter: u8,
    /// The line of the first row of numbers.
    data: usize,
    header: Vec<Vec<String>>,
    times: Times,
    columns: Vec<Vec<f64>>,
}

impl Table {
    fn read(&mut self, text: &str) -> Result<(), String> {
        // A closing word ends some exports; a number after it would be data lost.
        let mut ended: Option<String> = None;
        for row in table_rows(text, self.delimiter, None) {
            let row = row.map_err(|(line, why)| format!("line {line}: {why}"))?;
            if row.cells.len() > MOST_COLUMNS + 1 {
                return Err(format!("line {}: more than {MOST_COLUMNS} columns; record fewer signals", row.line));
            }
            let first = row.cells.get(0).unwrap_or_default();
            if row.line < self.data {
                if number(first, self.delimiter).is_some() && row.cells.len() > 1 {
                    let wrong = row.cells.iter().find(|cell| number(cell, self.delimiter).is_none());
                    return Err(format!("line {}: `{}` is no number", row.line, clipped(wrong.unwrap_or_default())));
                }
                self.header.push(row.cells.iter().map(str::to_string).collect());
                continue;
            }
            match (number(first, self.delimiter), &ended) {
                (Some(_), Some(why)) => return Err(why.clone()),
                (None, _) => {
                    ended.get_or_insert_with(|| format!("line {}: `{}` is no time", row.line, clipped(first)));
                }
                (Some(time), None) => self.take(time, &row.cells, row.line)?,
            }
        }
        Ok(())
    }

    fn take(&mut self, time: f64, cells: &csv::StringRecord, line: usize) -> Result<(), String> {
        let values = cells.len() - 1;
        if self.times.written.is_empty() {
            self.columns = vec![Vec::new(); values];
        } else if self.columns.len() != values {
            return Err(format!("line {line}: {values} values, and the lines before have {}", self.columns.len()));
        }
        if self.times.written.last().is_some_and(|last| time < *last) {
            return Err(format!("line {line}: time runs backwards"));
        }
        let held = self.times.written.len().saturating_mul(values);
        if self.times.written.len() >= MOST_ROWS || held >= MOST_CELLS {
            return Err(format!(
                "line {line}: more than {MOST_ROWS} rows or {MOST_CELLS} cells; record a shorter time, or fewer signals"
            ));
        }
        self.times.push(cells.get(0).unwrap_or_default(), time);
        for (column, cell) in self.columns.iter_mut().zip(cells.iter().skip(1)) {
            let value = number(cell, self.delimiter);
            column.push(value.ok_or_else(|| format!("line {line}: `{}` is no number", clipped(cell)))?);
        }
        Ok(())
    }

    /// The names of the columns: the last header line of as many columns that is not units alone.
    fn names(&self) -> Option<&Vec<String>> {
        let fits = |line: &&Vec<String>| line.len() == self.columns.len() + 1;
        let is_units = |line: &&Vec<String>| line.iter().all(|cell| cell.is_empty() || cell.starts_with(['(', '[']));
        self.header.iter().rev().find(|line| fits(line) && !is_units(line))
    }

    fn signals(mut self, unit: Option<TimeUnit>) -> Result<Vec<Signal>, String> {
        if self.columns.is_empty() {
            return Err(format!("line {}: no column beside the time", self.data));
        }
        let rows = self.times.written.len();
        if rows < 3 {
            return Err("fewer than three rows tell nothing of a flash".to_string());
        }
        let said = || self.header.iter().rev().find_map(|line| line.first().and_then(|cell| named_unit(cell)));
        let unit = unit.or_else(said);
        let unit = unit.ok_or("it does not say the unit of its times: add `--unit s`, `ms`, `us` or `ns`")?;
        let scale = unit.us() * 1e-6;
        let start = self.times.written.first().copied().unwrap_or(0.0);
        let times: Vec<f64> = self.times.written.iter().map(|t| (t - start) * scale).collect();
        let digit_s = self.times.digit() * scale;
        let are_changes = self.are_changes();
        let (times, off_s) = if are_changes { (times, digit_s / 2.0) } else { samples_at(times, digit_s) };
        let times: Arc<[f64]> = times.into();
        let names = self.names().cloned();
        let signal = |(n, column): (usize, Vec<f64>)| {
            let values = if are_changes {
                changes(&times, &column, off_s.max(FINEST_S))
            } else {
                Values::Samples(Samples { times_s: times.clone(), levels: column, off_s })
            };
            let name = names.as_ref().and_then(|names| names.get(n + 1)).filter(|name| !name.is_empty()).cloned();
            Signal { name: name.unwrap_or_else(|| format!("column {}", n + 1)), values: Arc::new(values) }
        };
        Ok(std::mem::take(&mut self.columns).into_iter().enumerate().map(signal).collect())
    }

    /// Whether each row changes something, and no column has more than two values; a last row may only say when it ended.
    fn are_changes(&self) -> bool {
        let two = |column: &Vec<f64>| {
            let low = column.iter().copied().fold(f64::INFINITY, f64::min);
            let high = column.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            column.iter().all(|v| *v == low || *v == high)
        };
        let last = self.times.written.len().saturating_sub(1);
        let differs = |n: usize| self.columns.iter().any(|column| column.get(n) != column.get(n - 1));
        self.columns.iter().all(two) && (1..last).all(differs)
    }
}

/// Samples that lie on a straight line but for the rounding of their last digit were taken evenly, and are known better
/// than they are written; all others where they say, give or take that rounding.
fn samples_at(times: Vec<f64>, digit_s: f64) -> (Vec<f64>, f64) {
    let (Some(last), count) = (times.last().copied(), times.len()) else { return (times, 0.0) };
    let step = last / (count - 1).max(1) as f64;
    let even = |(n, t): (usize, &f64)| (t - step * n as f64).abs() <= digit_s * 1.001;
    if step > 0.0 && times.iter().enumerate().all(even) {
        ((0..count).map(|n| step * n as f64).collect(), digit_s / count as f64)
    } else {
        (times, digit_s / 2.0)
    }
}

fn changes(times: &[f64], column: &[f64], off_s: f64) -> Values {
    let (low, high) = column.iter().fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(*v), h.max(*v)));
    // A column of one value is lit where it is not nought.
    let middle = if high > low { f64::midpoint(low, high) } else { 0.0 };
    let mut states = times.iter().zip(column).map(|(t, v)| (*t, Some(*v > middle)));
    let first = states.next().and_then(|(_, lit)| lit);
    let mut known = first;
    let changes = states.filter(|(_, lit)| std::mem::replace(&mut known, *lit) != *lit).collect();
    let to_s = times.last().copied().unwrap_or(0.0);
    Values::Changes(Changes { to_s, first, changes, early_s: off_s, late_s: off_s })
}

/// A cell short enough for a message.
fn clipped(cell: &str) -> String {
    cell.chars().take(40).collect()
}

fn named_unit(name: &str) -> Option<TimeUnit> {
    let last = name.rsplit(['[', '(', ' ', '_', '/']).next()?.trim_matches([']', ')', ' ', '.']).to_lowercase();
    match last.as_str() {
        "s" | "sec" | "seconds" => Some(TimeUnit::Seconds),
        "ms" | "msec" | "milliseconds" => Some(TimeUnit::Milliseconds),
        // The sign for micro has two places in Unicode.
        "us" | "\u{b5}s" | "\u{3bc}s" | "usec" | "microseconds" => Some(TimeUnit::Microseconds),
        "ns" | "nsec" | "nanoseconds" => Some(TimeUnit::Nanoseconds),
        _ => None,
    }
}
