//! JSON, version 1: structs of its own, so that the program's inside may change without the format changing.

use super::Render;
use crate::judge::Verdict;
use crate::measure::Where;
use crate::report::{GoalReport, LOCAL_RULES, LintFinding, LintReport, Report, Severity, Tally};
use crate::rules::Unit;
use crate::source::At;
use crate::units::Interval;
use schemars::JsonSchema;
use serde::Serialize;
use std::io::{self, Write};

/// See [`Render`].
pub struct Json;

impl Render for Json {
    fn name(&self) -> &'static str {
        "json"
    }

    fn write(&self, report: &Report, _colour: bool, out: &mut dyn Write) -> io::Result<()> {
        serde_json::to_writer_pretty(&mut *out, &Document::of(report)).map_err(io::Error::other)?;
        writeln!(out)
    }

    fn write_lint(&self, report: &LintReport, _colour: bool, out: &mut dyn Write) -> io::Result<()> {
        serde_json::to_writer_pretty(&mut *out, &LintDocument::of(report)).map_err(io::Error::other)?;
        writeln!(out)
    }
}

/// The JSON Schema of what lint writes.
#[must_use]
pub fn lint_schema() -> schemars::Schema {
    schemars::schema_for!(LintDocument)
}

/// The JSON Schema of this format.
#[must_use]
pub fn schema() -> schemars::Schema {
    schemars::schema_for!(Document)
}

/// A realism report of a model's lamps.
#[derive(Serialize, JsonSchema)]
#[schemars(rename = "Report", deny_unknown_fields)]
struct Document {
    /// Name and major version of this format: `lampwright report 1`.
    format: &'static str,
    /// The program and its version.
    tool: Tool,
    /// The model.
    aircraft: Craft,
    /// The rule sets used, each at one standing.
    rule_sets: Vec<Set>,
    /// The goals.
    goals: Vec<Goal>,
    /// What the rules for model aircraft ask where it is flown, judged on the model itself: advice, in no tally.
    local_rules: Vec<LocalRule>,
    /// The place where it is flown, where no local rule is at hand for that.
    no_local_rule: Option<String>,
    /// Which lamps are lit in which phase.
    phases: Vec<Phase>,
    /// Lamps no requirement looked at.
    lamps_unjudged: Vec<String>,
    /// Lamps that only a local rule requires.
    lamps_by_local_rule: Vec<String>,
    /// How the published goals came out.
    tally: Count,
    /// How all goals came out.
    tally_of_all: Count,
    /// The usual cautions that apply.
    cautions: Vec<Caution>,
    /// What the report does not say.
    notice: String,
}

/// What lint found in files.
#[derive(Serialize, JsonSchema)]
#[schemars(rename = "Lint", deny_unknown_fields)]
struct LintDocument {
    /// Name and major version of this format: `lampwright lint 1`.
    format: &'static str,
    /// The program and its version.
    tool: Tool,
    /// How many files were looked at.
    files: usize,
    /// How many files of the folders were none of this program's.
    passed_over: usize,
    /// How many findings count, by weight.
    tally: Weights,
    /// What was found, file by file.
    findings: Vec<Finding>,
    /// What this does not say.
    notice: String,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Weights {
    error: usize,
    warning: usize,
    note: usize,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Finding {
    code: String,
    /// The rule set it comes from; absent for checks of the file itself.
    rule_set: Option<String>,
    severity: String,
    message: String,
    /// What to write instead.
    instead: String,
    /// The file looked at.
    file: String,
    /// Where, in that file or in one it names.
    location: Option<Place>,
    related: Vec<Related>,
    /// Why its line lets it pass.
    let_pass: Option<String>,
    /// Whether it was there before, by the baseline.
    known: bool,
    /// What stays the same when lines move.
    key: String,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Related {
    location: Option<Place>,
    note: String,
}

impl LintDocument {
    fn of(report: &LintReport) -> Self {
        let (error, warning, note) =
            (report.count(Severity::Error), report.count(Severity::Warning), report.count(Severity::Note));
        Self {
            format: "lampwright lint 1",
            tool: Tool { name: "lampwright", version: env!("CARGO_PKG_VERSION") },
            files: report.files.len(),
            passed_over: report.passed_over,
            tally: Weights { error, warning, note },
            findings: report
                .files
                .iter()
                .flat_map(|f| f.findings.iter().map(|one| Finding::of(&f.path, one)))
                .collect(),
            notice: LOCAL_RULES.to_string(),
        }
    }
}

impl Finding {
    fn of(path: &str, finding: &LintFinding) -> Self {
        let related = |(at, note): &(At, String)| Related { location: Place::of(at), note: note.clone() };
        Self {
            code: finding.code.clone(),
            rule_set: finding.rule_set.clone(),
            severity: finding.severity.to_string(),
            message: finding.message.clone(),
            instead: finding.instead.clone(),
            file: path.to_string(),
            location: Place::of(&finding.at),
            related: finding.related.iter().map(related).collect(),
            let_pass: finding.let_pass.clone(),
            known: finding.known,
            key: finding.key(),
        }
    }
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Tool {
    name: &'static str,
    version: &'static str,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Craft {
    title: String,
    /// N of 1 to N.
    scale: f64,
    file: String,
    prototype: String,
    /// The airframe in a few words, where one was looked at.
    #[serde(skip_serializing_if = "Option::is_none")]
    airframe: Option<String>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Set {
    id: String,
    title: String,
    document: String,
    kind: String,
    /// The application dates for which this standing holds.
    standing_at: String,
    /// Why it was chosen.
    why: String,
    /// Why the standings before and after it were not chosen.
    beside: Vec<String>,
    tally: Count,
    /// Paragraphs that no goal checks.
    unchecked: Vec<Paragraph>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct LocalRule {
    rule_set: Set,
    /// The first day it holds.
    since: Option<String>,
    goals: Vec<Goal>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Phase {
    phase: String,
    lit: Vec<Lit>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Lit {
    lamp: String,
    /// The channel that lights it in this phase, where that is not its usual one.
    channel: Option<String>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Paragraph {
    section: String,
    about: String,
    status: String,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Count {
    met: usize,
    missed: usize,
    cannot_tell: usize,
    not_applicable: usize,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Caution {
    text: String,
    source: String,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Goal {
    id: String,
    rule_set: String,
    citation: String,
    title: String,
    kind: String,
    /// Whether it decides the exit status.
    binding: bool,
    light: String,
    lamps: Vec<String>,
    quantity: String,
    required: Option<Required>,
    found: Option<Found>,
    /// How far on the right side of the limit; 0 or more is met.
    margin: Option<Margin>,
    verdict: Word,
    reason: Option<Reason>,
    /// What would meet the goal.
    to_meet: Option<String>,
    rests_on: RestsOn,
    readings: Vec<String>,
    /// The line of the user's file to change.
    location: Option<Place>,
    /// The requirement's line.
    related: Option<Place>,
    /// Whether it was missed before, by the baseline.
    known: bool,
    /// What stays the same when lines move.
    key: String,
}

#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
enum Word {
    Met,
    Missed,
    CannotTell,
    NotApplicable,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Required {
    text: String,
    full_size: Option<f64>,
    at_scale: Option<f64>,
    unit: Option<&'static str>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Found {
    text: String,
    /// At full size; absent where unbounded.
    low: Option<f64>,
    high: Option<f64>,
    unit: &'static str,
    at: Option<Spot>,
    /// On the model itself, for intensities.
    at_scale: Option<Margin>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Margin {
    low: Option<f64>,
    high: Option<f64>,
    /// The unit; absent for a ratio.
    unit: Option<&'static str>,
}

#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
enum Spot {
    Direction(Direction),
    Lamp(String),
    Channel(String),
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Direction {
    azimuth_deg: f64,
    elevation_deg: f64,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Reason {
    kind: String,
    text: String,
    /// Figures that would tell.
    add: Vec<Add>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Add {
    key: String,
    what: String,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct RestsOn {
    /// How well the rule's figures are known.
    rule: String,
    /// What else is to be said of the rule, where its text was not read.
    unverified: Option<String>,
    /// The least sure of the user's figures.
    input: Option<String>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Place {
    file: String,
    line: u32,
    column: u32,
}

impl Document {
    fn of(report: &Report) -> Self {
        let craft = &report.aircraft;
        Self {
            format: "lampwright report 1",
            tool: Tool { name: "lampwright", version: env!("CARGO_PKG_VERSION") },
            aircraft: Craft {
                title: craft.title.clone(),
                scale: craft.scale,
                file: craft.file.clone(),
                prototype: craft.prototype.clone(),
                airframe: craft.airframe.clone(),
            },
            rule_sets: report.rule_sets.iter().map(Set::of).collect(),
            goals: report.goals.iter().map(Goal::of).collect(),
            local_rules: report
                .local_rules
                .iter()
                .map(|rule| LocalRule {
                    rule_set: Set::of(&rule.head),
                    since: rule.since.clone(),
                    goals: rule.goals.iter().map(Goal::of).collect(),
                })
                .collect(),
            no_local_rule: report.no_local_rule.clone(),
            phases: report.phases.iter().map(Phase::of).collect(),
            lamps_unjudged: report.lamps_unjudged.clone(),
            lamps_by_local_rule: report.local_rule_lamps.clone(),
            tally: Count::of(&report.required),
            tally_of_all: Count::of(&report.all),
            cautions: report
                .cautions
                .iter()
                .map(|c| Caution { text: c.text.clone(), source: c.source.clone() })
                .collect(),
            notice: report.notice.clone(),
        }
    }
}

impl Phase {
    fn of(phase: &crate::report::PhaseReport) -> Self {
        let lit = phase.lit.iter().map(|(lamp, channel)| Lit { lamp: lamp.clone(), channel: channel.clone() });
        Self { phase: phase.phase.to_string(), lit: lit.collect() }
    }
}

impl Set {
    fn of(set: &crate::report::RuleSetHead) -> Self {
        let paragraph = |[section, about, status]: &[String; 3]| Paragraph {
            section: section.clone(),
            about: about.clone(),
            status: status.clone(),
        };
        Self {
            id: set.id.clone(),
            title: set.title.clone(),
            document: set.document.clone(),
            kind: set.kind.to_string(),
            standing_at: set.standing_at.clone(),
            why: set.why.clone(),
            beside: set.beside.clone(),
            tally: Count::of(&set.tally),
            unchecked: set.unchecked.iter().map(paragraph).collect(),
        }
    }
}

impl Count {
    fn of(tally: &Tally) -> Self {
        Self {
            met: tally.met,
            missed: tally.missed,
            cannot_tell: tally.cannot_tell,
            not_applicable: tally.not_applicable,
        }
    }
}

/// JSON has no infinity: an end without bound is left out.
fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

impl Margin {
    fn of(interval: Interval, unit: Option<Unit>) -> Self {
        Self { low: finite(interval.low), high: finite(interval.high), unit: unit.map(Unit::symbol) }
    }
}

impl Place {
    fn of(at: &At) -> Option<Self> {
        at.is_real().then(|| Self { file: at.file.to_string(), line: at.line, column: at.column })
    }
}

impl Goal {
    fn of(goal: &GoalReport) -> Self {
        Self {
            id: goal.id.clone(),
            rule_set: goal.rule_set.clone(),
            citation: goal.citation.clone(),
            title: goal.title.clone(),
            kind: goal.kind.to_string(),
            binding: goal.binding,
            light: goal.light.clone(),
            lamps: goal.lamps.clone(),
            quantity: goal.quantity.clone(),
            required: goal.required.as_ref().map(|r| Required {
                text: r.text.clone(),
                full_size: r.full_size.and_then(finite),
                at_scale: r.at_scale.and_then(finite),
                unit: r.unit.map(Unit::symbol),
            }),
            found: goal.found.as_ref().map(Found::of),
            margin: goal.margin.map(|m| Margin::of(m, goal.margin_unit)),
            verdict: match goal.verdict {
                Verdict::Met => Word::Met,
                Verdict::Missed => Word::Missed,
                Verdict::CannotTell => Word::CannotTell,
                Verdict::NotApplicable => Word::NotApplicable,
            },
            reason: goal.reason.as_ref().map(|r| Reason {
                kind: r.kind.to_string(),
                text: r.text.clone(),
                add: r.add.iter().map(|(key, what)| Add { key: key.clone(), what: what.clone() }).collect(),
            }),
            to_meet: goal.to_meet.clone(),
            rests_on: RestsOn {
                rule: goal.rests_on.rule.to_string(),
                unverified: goal.rests_on.unverified.clone(),
                input: goal.rests_on.input.map(|o| o.to_string()),
            },
            readings: goal.readings.clone(),
            location: Place::of(&goal.location),
            related: Place::of(&goal.related),
            known: goal.known,
            key: goal.key(),
        }
    }
}

impl Found {
    fn of(found: &crate::report::Found) -> Self {
        Self {
            text: found.text.clone(),
            low: found.interval.and_then(|i| finite(i.low)),
            high: found.interval.and_then(|i| finite(i.high)),
            unit: found.unit.symbol(),
            at: found.at.as_ref().map(|at| match at {
                Where::Direction { azimuth_deg, elevation_deg } => {
                    Spot::Direction(Direction { azimuth_deg: *azimuth_deg, elevation_deg: *elevation_deg })
                }
                Where::Lamp(name) => Spot::Lamp(name.clone()),
                Where::Channel(name) => Spot::Channel(name.clone()),
            }),
            at_scale: found.at_scale.map(|i| Margin::of(i, Some(found.unit))),
        }
    }
}
