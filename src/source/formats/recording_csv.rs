//! A recording as a table: a column of times and a column a signal, a row a change or a row a sample.

use super::TimeUnit;
use super::recording::{Signal, Values};

/// Rows further apart than this share of the usual step are no samples.
const EVEN: f64 = 0.01;
/// More rows than this are no recording of a few lamps.
const MOST_ROWS: usize = 5_000_000;

struct Row {
    line: usize,
    time: f64,
    values: Vec<f64>,
}

/// Reads a table whose first column is the time. Even steps are samples, uneven ones changes; so are rows of 0 and 1 that
/// each change something.
///
/// Lines before the first that begins with a number are the header, the first of them with the names; a unit in the name
/// of the first column, like `Time [ms]`, is taken. With semicolons between columns a comma is a decimal point.
///
/// # Errors
/// Which line is wrong and how; no unit anywhere.
pub fn recording_csv(text: &str, unit: Option<TimeUnit>) -> Result<Vec<Signal>, String> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let semicolons = text.lines().next().is_some_and(|l| l.contains(';'));
    let delimiter = if semicolons {
        ';'
    } else if text.lines().next().is_some_and(|l| l.contains('\t')) {
        '\t'
    } else {
        ','
    };
    let number = |word: &str| {
        let word = word.trim().trim_matches('"');
        let plain = if semicolons { word.replace(',', ".") } else { word.to_string() };
        plain.parse::<f64>().ok().filter(|v| v.is_finite())
    };
    let first_of = |line: &str| line.split(delimiter).next().and_then(number);
    let lines: Vec<(usize, &str)> = (1..).zip(text.lines()).filter(|(_, l)| !l.trim().is_empty()).collect();
    let data = lines.iter().position(|(_, l)| first_of(l).is_some()).ok_or("no line begins with a number")?;
    let names: Vec<String> = match lines.first().filter(|_| data > 0) {
        Some((_, head)) => head.split(delimiter).map(|w| w.trim().trim_matches('"').to_string()).collect(),
        None => Vec::new(),
    };
    let unit = unit.or_else(|| names.first().and_then(|n| named_unit(n)));
    let unit = unit.ok_or("it does not say the unit of its times: add `--unit s`, `ms` or `us`")?;
    let mut rows: Vec<Row> = Vec::new();
    for (line, said) in lines.iter().skip(data) {
        let Some(time) = first_of(said) else {
            // A closing word ends some exports; a number after it would be data lost.
            if lines.iter().any(|(l, s)| l > line && first_of(s).is_some()) {
                return Err(format!(
                    "line {line}: `{}` is no time",
                    said.split(delimiter).next().unwrap_or_default().trim()
                ));
            }
            break;
        };
        let values: Option<Vec<f64>> = said.split(delimiter).skip(1).map(number).collect();
        let values = values.ok_or_else(|| format!("line {line}: a value is no number"))?;
        if let Some(last) = rows.last() {
            if last.values.len() != values.len() {
                return Err(format!(
                    "line {line}: {} values, and the line before has {}",
                    values.len(),
                    last.values.len()
                ));
            }
            if time < last.time / (unit.us() * 1e-6) {
                return Err(format!("line {line}: time runs backwards"));
            }
        }
        if rows.len() >= MOST_ROWS {
            return Err(format!("line {line}: more than {MOST_ROWS} rows; record a shorter time"));
        }
        rows.push(Row { line: *line, time: time * unit.us() * 1e-6, values });
    }
    signals(&rows, &names)
}

fn named_unit(name: &str) -> Option<TimeUnit> {
    let last = name.rsplit(['[', '(', ' ', '_']).next()?.trim_matches([']', ')', ' ', '.']).to_lowercase();
    match last.as_str() {
        "s" | "sec" | "seconds" => Some(TimeUnit::Seconds),
        "ms" | "milliseconds" => Some(TimeUnit::Milliseconds),
        "us" | "µs" | "microseconds" => Some(TimeUnit::Microseconds),
        _ => None,
    }
}

fn signals(rows: &[Row], names: &[String]) -> Result<Vec<Signal>, String> {
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else { return Err("it has no rows".to_string()) };
    let columns = first.values.len();
    if columns == 0 {
        return Err(format!("line {}: no column beside the time", first.line));
    }
    if rows.len() < 3 {
        return Err("fewer than three rows tell nothing of a flash".to_string());
    }
    let steps: Vec<f64> = rows.windows(2).filter_map(|p| Some(p.get(1)?.time - p.first()?.time)).collect();
    let step = (last.time - first.time) / (rows.len() - 1) as f64;
    let even = step > 0.0 && steps.iter().all(|s| (s - step).abs() <= EVEN * step);
    let digital = rows.iter().flat_map(|r| &r.values).all(|v| *v == 0.0 || *v == 1.0);
    let each_changes = rows.windows(2).all(|p| matches!(p, [a, b] if a.values != b.values));
    let samples = even && !(digital && each_changes);
    let signal = |n: usize| {
        let column = rows.iter().filter_map(|r| Some((r.time, *r.values.get(n)?)));
        let values = if samples {
            Values::Samples { from_s: first.time, step_s: step, levels: column.map(|(_, v)| v).collect() }
        } else {
            let (low, high) = column.clone().fold((f64::MAX, f64::MIN), |(l, h), (_, v)| (l.min(v), h.max(v)));
            let middle = f64::midpoint(low, high);
            let mut changes: Vec<(f64, bool)> = column.map(|(t, v)| (t, v > middle && high > low)).collect();
            changes.dedup_by(|b, a| a.1 == b.1);
            // The first row says what was, and not that it changed.
            changes.remove(0);
            let step_s = steps.iter().copied().filter(|s| *s > 0.0).fold(f64::MAX, f64::min).min(1e-6);
            Values::Changes { span_s: (first.time, last.time), changes, step_s }
        };
        let name = names.get(n + 1).filter(|name| !name.is_empty()).cloned();
        Signal { name: name.unwrap_or_else(|| format!("column {}", n + 1)), values }
    };
    Ok((0..columns).map(signal).collect())
}
