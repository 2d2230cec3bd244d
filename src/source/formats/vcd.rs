//! Value change dumps (IEEE 1364-2005, clause 18): what logic analysers and simulators write.

use super::recording::{Changes, Signal, Values};
use std::collections::BTreeMap;
use std::io::BufRead;
use std::sync::Arc;
use vcd::{Command, IdCode, Parser, TimescaleUnit, Value};

/// More changes than this are no recording of a few lamps.
const MOST_CHANGES: usize = 5_000_000;
/// More signals than this are no recording of a few lamps.
const MOST_SIGNALS: usize = 1_000;
/// So many of the innermost scopes are part of a name.
const SCOPES_IN_A_NAME: usize = 8;

/// Reads a dump. Scalars are lit at 1, vectors where any bit is 1, reals above the middle of their range; at `x` and `z` a
/// signal is not known. One signal under two names stands there twice.
///
/// # Errors
/// What the reader cannot make out, with its line; no time scale, or one the standard does not know; changes of what was
/// never declared; too many of anything.
pub fn vcd(reader: impl BufRead) -> Result<Vec<Signal>, String> {
    let mut dump = Dump::default();
    // The commands one by one: the reader's own header parser goes as deep as the scopes do.
    for command in Parser::new(reader) {
        dump.take(command.map_err(|e| e.to_string())?)?;
    }
    dump.signals()
}

#[derive(Default)]
struct Dump {
    tick_s: Option<f64>,
    scopes: Vec<String>,
    names: Vec<(IdCode, String)>,
    now: u64,
    first: Option<u64>,
    /// Ticks since the first, and the level where it is known.
    changes: BTreeMap<IdCode, Vec<(u64, Option<f64>)>>,
    count: usize,
}

impl Dump {
    fn take(&mut self, command: Command) -> Result<(), String> {
        match command {
            Command::Timescale(number, unit) => {
                if !matches!(number, 1 | 10 | 100) {
                    return Err(format!("`$timescale` is {number} {unit}; the standard knows 1, 10 and 100 of a unit"));
                }
                self.tick_s = Some(f64::from(number) * seconds(unit));
            }
            Command::ScopeDef(_, name) => self.scopes.push(name),
            Command::Upscope => {
                self.scopes.pop();
            }
            Command::VarDef(_, _, id, name, _) => self.declare(id, &name)?,
            Command::Timestamp(time) if time < self.now => {
                return Err(format!("time runs backwards, from #{} to #{time}", self.now));
            }
            Command::Timestamp(time) => {
                self.first.get_or_insert(time);
                self.now = time;
            }
            Command::ChangeScalar(id, value) => self.change(id, bit(value))?,
            Command::ChangeVector(id, vector) => {
                let bits: Vec<Option<f64>> = vector.iter().map(bit).collect();
                let lit = bits.contains(&Some(1.0));
                let known = lit || bits.iter().all(Option::is_some);
                self.change(id, known.then_some(if lit { 1.0 } else { 0.0 }))?;
            }
            Command::ChangeReal(id, value) => self.change(id, value.is_finite().then_some(value))?,
            _ => {}
        }
        Ok(())
    }

    fn declare(&mut self, id: IdCode, name: &str) -> Result<(), String> {
        if self.names.len() >= MOST_SIGNALS {
            return Err(format!("more than {MOST_SIGNALS} signals; record fewer"));
        }
        let inner = self.scopes.len().saturating_sub(SCOPES_IN_A_NAME);
        let path: Vec<&str> = self.scopes.iter().skip(inner).map(String::as_str).chain([name]).collect();
        self.names.push((id, path.join(".")));
        Ok(())
    }

    fn change(&mut self, id: IdCode, value: Option<f64>) -> Result<(), String> {
        self.count += 1;
        if self.count > MOST_CHANGES {
            return Err(format!("more than {MOST_CHANGES} changes; record a shorter time, or fewer signals"));
        }
        let since = self.now - self.first.unwrap_or(self.now);
        self.changes.entry(id).or_default().push((since, value));
        Ok(())
    }

    fn signals(self) -> Result<Vec<Signal>, String> {
        let tick = self.tick_s.ok_or("it has no `$timescale`, so its times mean nothing")?;
        if self.names.is_empty() {
            return Err("it has no signals".to_string());
        }
        if let Some(id) = self.changes.keys().find(|id| !self.names.iter().any(|(known, _)| known == *id)) {
            return Err(format!("`{id}` changes and no `$var` declares it"));
        }
        let ticks = self.now - self.first.unwrap_or(0);
        let mut by_id: BTreeMap<IdCode, Arc<Values>> = BTreeMap::new();
        let mut signals = Vec::with_capacity(self.names.len());
        for (id, name) in self.names {
            let values = by_id.entry(id).or_insert_with(|| {
                let levels = self.changes.get(&id).map_or(&[][..], Vec::as_slice);
                Arc::new(Values::Changes(changes(levels, tick, ticks as f64 * tick)))
            });
            signals.push(Signal { name, values: values.clone() });
        }
        Ok(signals)
    }
}

fn changes(levels: &[(u64, Option<f64>)], tick_s: f64, to_s: f64) -> Changes {
    let known = || levels.iter().filter_map(|(_, v)| *v);
    let (low, high) = known().fold((0.0_f64, 0.0_f64), |(l, h), v| (l.min(v), h.max(v)));
    // A meter over ambient light never reads nought.
    let least = known().fold(f64::INFINITY, f64::min);
    let low = if least > 0.0 && least < high { least } else { low };
    let middle = f64::midpoint(low, high);
    let mut states = levels.iter().map(|(t, v)| (*t as f64 * tick_s, v.map(|v| v > middle))).peekable();
    // What is said at the first time is what the signal was, and no change.
    let mut first = None;
    while let Some((_, lit)) = states.next_if(|(t, _)| *t <= 0.0) {
        first = lit;
    }
    let mut last = first;
    let changes = states.filter(|(_, lit)| std::mem::replace(&mut last, *lit) != *lit).collect();
    Changes { to_s, first, changes, early_s: tick_s, late_s: 0.0 }
}

fn bit(value: Value) -> Option<f64> {
    match value {
        Value::V0 => Some(0.0),
        Value::V1 => Some(1.0),
        Value::X | Value::Z => None,
    }
}

fn seconds(unit: TimescaleUnit) -> f64 {
    match unit {
        TimescaleUnit::S => 1.0,
        TimescaleUnit::MS => 1e-3,
        TimescaleUnit::US => 1e-6,
        TimescaleUnit::NS => 1e-9,
        TimescaleUnit::PS => 1e-12,
        TimescaleUnit::FS => 1e-15,
    }
}
