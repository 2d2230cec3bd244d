//! SARIF 2.1.0 (OASIS Standard, 27 March 2020): one result a goal, its verdict as `kind`.

use super::Render;
use super::parts::entry::{Entry, Outcome};
use crate::report::{LOCAL_RULES, LintReport, Report, Severity, Writer};
use crate::source::At;
use serde::Serialize;
use std::collections::BTreeMap;
use std::io::{self, Write};

/// See [`Render`].
pub struct Sarif;

impl Render for Sarif {
    fn name(&self) -> &'static str {
        "sarif"
    }

    fn write(&self, report: &Report, _colour: bool, out: &mut dyn Write) -> io::Result<()> {
        log(Writer::Check, &Entry::of_goals(report), out)
    }

    fn write_lint(&self, report: &LintReport, _colour: bool, out: &mut dyn Write) -> io::Result<()> {
        log(Writer::Lint, &Entry::of_findings(report), out)
    }
}

fn log(writer: Writer, entries: &[Entry<'_>], out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, &Log::of(writer, entries)).map_err(io::Error::other)?;
    writeln!(out)
}

/// A log file (section 3.13).
#[derive(Serialize)]
struct Log {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run {
    tool: Tool,
    automation_details: Automation,
    column_kind: &'static str,
    results: Vec<Found>,
    properties: BTreeMap<&'static str, String>,
}

/// Which of this program's runs it is (section 3.17): the command that wrote it.
#[derive(Serialize)]
struct Automation {
    id: String,
}

#[derive(Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Driver {
    name: &'static str,
    version: &'static str,
    semantic_version: &'static str,
    rules: Vec<Rule>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Rule {
    id: String,
    short_description: Text,
    help: Text,
}

#[derive(Serialize, Clone)]
struct Text {
    text: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Found {
    rule_id: String,
    rule_index: usize,
    kind: &'static str,
    level: &'static str,
    message: Text,
    locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
    partial_fingerprints: BTreeMap<&'static str, String>,
    /// Of all results of a run or of none (section 3.27.23); an empty list where the result counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    suppressions: Option<Vec<Suppression>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    baseline_state: Option<&'static str>,
    properties: BTreeMap<&'static str, String>,
}

/// A result that does not count, and why (section 3.35).
#[derive(Serialize)]
struct Suppression {
    kind: &'static str,
    justification: String,
}

impl Suppression {
    fn of(why: &str) -> Self {
        Self { kind: "inSource", justification: why.to_string() }
    }
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    physical_location: Physical,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Text>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: Artifact,
    #[serde(skip_serializing_if = "Option::is_none")]
    region: Option<Region>,
}

#[derive(Serialize)]
struct Artifact {
    uri: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: u32,
    start_column: u32,
}

impl Log {
    fn of(writer: Writer, entries: &[Entry<'_>]) -> Self {
        let mut rules: Vec<Rule> = Vec::new();
        let mut index: BTreeMap<&str, usize> = BTreeMap::new();
        let some_pass = entries.iter().any(|entry| entry.let_pass.is_some());
        let results = entries
            .iter()
            .map(|entry| {
                let at = *index.entry(&entry.rule).or_insert_with(|| {
                    rules.push(Rule::of(entry));
                    rules.len() - 1
                });
                Found::of(entry, at, some_pass)
            })
            .collect();
        let version = env!("CARGO_PKG_VERSION");
        let driver = Driver { name: "lampwright", version, semantic_version: version, rules };
        let properties = BTreeMap::from([("notice", LOCAL_RULES.to_string())]);
        let automation_details = Automation { id: format!("lampwright {writer}/") };
        let run =
            Run { tool: Tool { driver }, automation_details, column_kind: "unicodeCodePoints", results, properties };
        Self { schema: "https://json.schemastore.org/sarif-2.1.0.json", version: "2.1.0", runs: [run] }
    }
}

impl Rule {
    fn of(entry: &Entry<'_>) -> Self {
        let help = format!("`lampwright explain {}` tells what is asked and how it is measured", entry.explain);
        Self {
            id: entry.rule.clone(),
            short_description: Text { text: entry.rule_title.clone() },
            help: Text { text: help },
        }
    }
}

impl Found {
    fn of(entry: &Entry<'_>, rule_index: usize, some_pass: bool) -> Self {
        let (kind, level) = kind(entry.outcome);
        let related = entry.related.iter().filter_map(|(at, note)| {
            location(at).map(|place| Location { message: Some(Text { text: note.clone() }), ..place })
        });
        let mut properties = BTreeMap::from([("verdict", entry.word.to_string()), ("goal", entry.name.to_string())]);
        properties.extend(entry.requirement.map(|at| ("requirement", at.to_string())));
        Self {
            rule_id: entry.rule.clone(),
            rule_index,
            kind,
            level,
            message: Text { text: entry.sentence() },
            locations: location(entry.at).into_iter().collect(),
            related_locations: related.collect(),
            partial_fingerprints: BTreeMap::from([("lampwright/v1", entry.key.clone())]),
            suppressions: some_pass.then(|| entry.let_pass.map(Suppression::of).into_iter().collect()),
            baseline_state: entry.known.map(|known| if known { "unchanged" } else { "new" }),
            properties,
        }
    }
}

/// The outcome in this format's words (sections 3.27.9 and 3.27.10): only what fails has a level.
fn kind(outcome: Outcome) -> (&'static str, &'static str) {
    match outcome {
        Outcome::Fail(Severity::Error) => ("fail", "error"),
        Outcome::Fail(Severity::Warning) => ("fail", "warning"),
        Outcome::Fail(_) => ("fail", "note"),
        Outcome::Open => ("open", "none"),
        Outcome::Pass => ("pass", "none"),
        Outcome::NotApplicable => ("notApplicable", "none"),
    }
}

/// A place; of a file that could not be read, the file alone.
fn location(at: &At) -> Option<Location> {
    let region = at.is_real().then_some(Region { start_line: at.line, start_column: at.column });
    (!at.file.is_empty()).then(|| Location {
        physical_location: Physical { artifact_location: Artifact { uri: uri(&at.file) }, region },
        message: None,
    })
}

/// A path as a relative reference (RFC 3986, section 4.2): what is not plain is written as `%` and two hex digits.
fn uri(path: &str) -> String {
    let mut out = String::new();
    for byte in path.replace('\\', "/").bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => out.push(byte.into()),
            other => out.push_str(&format!("%{other:02X}")),
        }
    }
    if path.starts_with('/') { format!("file://{out}") } else { out }
}

#[cfg(test)]
mod tests {
    use super::uri;

    #[test]
    fn a_path_is_a_reference() {
        // RFC 3986, section 2.1: a space is %20; the umlaut is its two bytes in UTF-8.
        assert_eq!(uri("my lights/grün.yaml"), "my%20lights/gr%C3%BCn.yaml");
        assert_eq!(uri("/models/a.yaml"), "file:///models/a.yaml");
    }
}
