//! Value change dumps (IEEE 1364-2005, clause 18): what logic analysers and simulators write.

use super::recording::{Signal, Values};
use std::collections::BTreeMap;
use std::io::BufRead;
use vcd::{Command, IdCode, Parser, TimescaleUnit, Value};

/// More changes than this are no recording of a few lamps.
const MOST_CHANGES: usize = 5_000_000;

/// Reads a dump. Scalars are lit at 1, vectors where any bit is 1, reals above half of their greatest value; `x` and `z` say
/// nothing. One signal under two names stands there twice.
///
/// # Errors
/// What the reader cannot make out, with its line; no time scale; too many changes.
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
    changes: BTreeMap<IdCode, Vec<(u64, f64)>>,
    count: usize,
}

impl Dump {
    fn take(&mut self, command: Command) -> Result<(), String> {
        match command {
            Command::Timescale(number, unit) => self.tick_s = Some(f64::from(number) * seconds(unit)),
            Command::ScopeDef(_, name) => self.scopes.push(name),
            Command::Upscope => {
                self.scopes.pop();
            }
            Command::VarDef(_, _, id, name, _) => {
                let path: Vec<&str> = self.scopes.iter().map(String::as_str).chain([name.as_str()]).collect();
                self.names.push((id, path.join(".")));
            }
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

    fn change(&mut self, id: IdCode, value: Option<f64>) -> Result<(), String> {
        self.count += 1;
        if self.count > MOST_CHANGES {
            return Err(format!("more than {MOST_CHANGES} changes; record a shorter time, or fewer signals"));
        }
        if let Some(value) = value {
            self.changes.entry(id).or_default().push((self.now, value));
        }
        Ok(())
    }

    fn signals(self) -> Result<Vec<Signal>, String> {
        let tick = self.tick_s.ok_or("it has no `$timescale`, so its times mean nothing")?;
        if self.names.is_empty() {
            return Err("it has no signals".to_string());
        }
        let (first, last) = (self.first.unwrap_or(0) as f64 * tick, self.now as f64 * tick);
        let signal = |(id, name): &(IdCode, String)| {
            let values = self.changes.get(id).map_or(&[][..], Vec::as_slice);
            let most = values.iter().map(|(_, v)| *v).fold(0.0, f64::max);
            let changes = values.iter().map(|(t, v)| (*t as f64 * tick, *v > most / 2.0)).collect();
            let values = Values::Changes { span_s: (first, last), changes: since_first(changes), step_s: tick };
            Signal { name: name.clone(), values }
        };
        Ok(self.names.iter().map(signal).collect())
    }
}

/// The first value is what the signal was when the recording began, and no change.
fn since_first(changes: Vec<(f64, bool)>) -> Vec<(f64, bool)> {
    let mut known: Option<bool> = None;
    let mut kept = Vec::new();
    for (at, lit) in changes {
        if known.is_some_and(|was| was != lit) {
            kept.push((at, lit));
        }
        known = Some(lit);
    }
    kept
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
