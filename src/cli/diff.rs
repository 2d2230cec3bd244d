//! `lampwright diff`: which goals change between two versions of a file, or of a rule set.

use super::check::{load_aircraft, load_rules, rule_sets};
use super::rules::para;
use super::{Ended, output};
use crate::aircraft::Aircraft;
use crate::report::{Change, Changed, GoalReport, Report, changes};
use crate::rules::RuleSet;
use crate::source::{Disk, read_text};
use crate::{Options, check};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

#[derive(clap::Args)]
pub(super) struct Args {
    /// The old version: an aircraft file, or with `--for` a rule-set file.
    old: PathBuf,
    /// The new version of the same.
    new: PathBuf,
    /// The aircraft file that both rule sets judge.
    #[arg(long = "for", value_name = "FILE")]
    aircraft: Option<PathBuf>,
    /// How to print the changes.
    #[arg(long, value_parser = ["text", "json"], default_value = "text")]
    format: String,
}

pub(super) fn run(args: &Args) -> Ended {
    let both = match &args.aircraft {
        Some(aircraft) => by_rules(aircraft, &args.old, &args.new),
        None => judged(&args.old).and_then(|old| Ok((old, judged(&args.new)?))),
    };
    let (old, new) = match both {
        Ok(both) => both,
        Err(why) => return Ended::Failed(why),
    };
    let found = changes(&old, &new, args.aircraft.is_some());
    let ended = if found.iter().any(Changed::fails) { Ended::Missed } else { Ended::Well };
    let text = if args.format == "json" { as_json(&found) } else { as_text(&found, old.goals.len(), new.goals.len()) };
    output::print(text.as_bytes(), ended)
}

fn by_rules(aircraft: &Path, old: &Path, new: &Path) -> Result<(Report, Report), String> {
    let model = load_aircraft(aircraft)?;
    let judged = |path: &Path| {
        let set = load_rules(path)?;
        report(&model, Some(set))
    };
    Ok((judged(old)?, judged(new)?))
}

fn judged(path: &Path) -> Result<Report, String> {
    let text = read_text(&Disk, path).map_err(|e| e.to_string())?;
    if text.lines().any(|line| line.starts_with("lampwright: rules")) {
        return Err(format!("{}: two rule sets are compared for an aircraft: add `--for FILE`", path.display()));
    }
    report(&load_aircraft(path)?, None)
}

fn report(model: &Aircraft, own: Option<RuleSet>) -> Result<Report, String> {
    let asked = own.as_ref().map(|set| set.id.clone());
    // The set itself is compared, and not what holds for every craft besides.
    let options = Options { rule_set: asked.clone(), only: asked.into_iter().collect() };
    let sets = rule_sets(model, own)?;
    check(model, &sets, &options).map_err(|e| e.to_string())
}

fn as_text(found: &[Changed<'_>], old: usize, new: usize) -> String {
    let mut out = String::new();
    let mut heading = None;
    for one in found {
        let Some(goal) = one.goal() else { continue };
        if heading != Some(one.change) {
            heading = Some(one.change);
            let count = found.iter().filter(|c| c.change == one.change).count();
            let blank = if out.is_empty() { "" } else { "\n" };
            out.push_str(&format!("{blank}{}: {count}\n", capital(one.change.as_str())));
        }
        let free = if goal.binding { "" } else { " (does not decide)" };
        para(&mut out, 2, "", &format!("{}/{}, {}{free}", goal.rule_set, goal.id, goal.title));
        match (one.old, one.new) {
            (Some(old), Some(new)) => {
                para(&mut out, 4, "was", &state(old));
                para(&mut out, 4, "is", &state(new));
            }
            (Some(only), None) | (None, Some(only)) => {
                para(&mut out, 4, if one.new.is_some() { "is" } else { "was" }, &state(only));
            }
            (None, None) => {}
        }
        if one.new.is_some() && goal.location.is_real() && one.change != Change::Better {
            para(&mut out, 4, "look at", &goal.location.to_string());
        }
    }
    let same = new - found.iter().filter(|c| c.new.is_some()).count().min(new);
    out.push_str(&format!(
        "{}{} changed of {old} goals before and {new} now, {same} the same\n",
        if out.is_empty() { "" } else { "\n" },
        found.len()
    ));
    out
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

/// A verdict with what was found.
fn state(goal: &GoalReport) -> String {
    let found = goal.found.as_ref().map(|f| f.text.clone()).or_else(|| goal.reason.as_ref().map(|r| r.text.clone()));
    let required = goal.required.as_ref().map_or(String::new(), |r| format!(", required {}", r.text));
    format!("{}: {}{required}", goal.verdict, found.unwrap_or_default())
}

fn as_json(found: &[Changed<'_>]) -> String {
    let finite = |v: f64| v.is_finite().then_some(v);
    let side = |goal: Option<&GoalReport>| {
        goal.map_or(Value::Null, |g| {
            let margin = g.margin.map(|m| json!({ "low": finite(m.low), "high": finite(m.high) }));
            json!({ "verdict": g.verdict.as_str().replace(' ', "_"), "margin": margin, "found": g.found.as_ref().map(|f| &f.text) })
        })
    };
    let rows: Vec<Value> = found
        .iter()
        .filter_map(|one| {
            let goal = one.goal()?;
            Some(json!({
                "change": one.change.as_str(), "rule_set": goal.rule_set, "id": goal.id, "title": goal.title,
                "binding": goal.binding, "old": side(one.old), "new": side(one.new),
            }))
        })
        .collect();
    let whole = json!({ "format": "lampwright diff 1", "changes": rows });
    serde_json::to_string_pretty(&whole).map_or_else(|e| format!("{e}\n"), |text| text + "\n")
}
