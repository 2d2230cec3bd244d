//! What was found before: only what is new should fail.

use super::{LintReport, Report};
use crate::judge::Verdict;
use crate::source::words;
use serde_json::Value;
use std::collections::BTreeMap;

words! {
    /// The command that wrote a report.
    what "a command that writes baselines";
    pub enum Writer {
        /// It judged a model.
        Check = "check",
        /// It looked at files by themselves.
        Lint = "lint",
    }
}

/// What an earlier run found, by what stays the same when lines move, and how often.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Baseline {
    writer: Option<Writer>,
    found: BTreeMap<String, usize>,
}

impl Baseline {
    /// Reads what this program wrote as JSON or SARIF.
    ///
    /// # Errors
    /// What is wrong with the text, in words.
    pub fn read(text: &str) -> Result<Self, String> {
        let value: Value = serde_json::from_str(text).map_err(|e| format!("it is no JSON: {e}"))?;
        let read = if value.get("runs").is_some() { from_sarif(&value) } else { from_json(&value) };
        let (writer, keys) = read.ok_or("it is not what `--format json` or `--format sarif` writes")?;
        let mut found = BTreeMap::new();
        for key in keys {
            *found.entry(key).or_insert(0) += 1;
        }
        Ok(Self { writer, found })
    }

    /// The command that wrote it, where it says so.
    #[must_use]
    pub fn writer(&self) -> Option<Writer> {
        self.writer
    }

    fn take(&mut self, key: &str) -> bool {
        self.found.get_mut(key).filter(|left| **left > 0).map(|left| *left -= 1).is_some()
    }

    /// Marks what was found before.
    pub fn mark_lint(mut self, report: &mut LintReport) {
        report.has_baseline = true;
        for finding in report.files.iter_mut().flat_map(|f| &mut f.findings) {
            // A file that cannot be used is never an old story.
            finding.known = !finding.unusable && finding.let_pass.is_none() && self.take(&finding.key());
        }
    }

    /// Marks goals that were missed before.
    pub fn mark(mut self, report: &mut Report) {
        report.has_baseline = true;
        for goal in report.goals.iter_mut().filter(|g| g.verdict == Verdict::Missed) {
            let key = goal.key();
            goal.known = self.take(&key);
        }
    }
}

/// A report's writer, and the keys of what failed in it.
type Read = (Option<Writer>, Vec<String>);

/// Goals that were missed, or findings that counted.
fn from_json(value: &Value) -> Option<Read> {
    let text = |item: &Value, key: &str| item.get(key).and_then(Value::as_str).map(str::to_string);
    let format = value.get("format")?.as_str()?;
    let (writer, list, counts): (Writer, &str, fn(&Value) -> bool) = if format.starts_with("lampwright report ") {
        (Writer::Check, "goals", |goal| goal.get("verdict").and_then(Value::as_str) == Some("missed"))
    } else if format.starts_with("lampwright lint ") {
        (Writer::Lint, "findings", |finding| finding.get("let_pass").is_none_or(Value::is_null))
    } else {
        return None;
    };
    let items = value.get(list)?.as_array()?.iter().filter(|item| counts(item));
    let keys: Option<Vec<String>> = items.map(|item| text(item, "key")).collect();
    Some((Some(writer), keys?))
}

/// Results that failed and were not let pass.
fn from_sarif(value: &Value) -> Option<Read> {
    let run = value.get("runs")?.get(0)?;
    if run.get("tool")?.get("driver")?.get("name")?.as_str()? != "lampwright" {
        return None;
    }
    let results = run.get("results")?.as_array()?.iter();
    let let_pass = |r: &Value| r.get("suppressions").and_then(Value::as_array).is_some_and(|list| !list.is_empty());
    let counts = |r: &&Value| r.get("kind").and_then(Value::as_str) == Some("fail") && !let_pass(r);
    let key = |r: &Value| r.get("partialFingerprints")?.get("lampwright/v1")?.as_str().map(str::to_string);
    let keys: Option<Vec<String>> = results.filter(counts).map(key).collect();
    let said = run.get("automationDetails").and_then(|details| details.get("id")?.as_str());
    let writer = said.and_then(|id| id.trim_end_matches('/').strip_prefix("lampwright ")?.parse().ok());
    Some((writer, keys?))
}
