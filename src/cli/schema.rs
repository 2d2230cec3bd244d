//! `lampwright schema`: the JSON Schema of a kind of file.

use super::{Ended, output};
use crate::aircraft::{AircraftFile, SequenceFile};
use crate::lint::LintFile;
use crate::render::{lint_schema, report_schema};
use crate::rules::RuleSetFile;

#[derive(clap::Args)]
pub(super) struct Args {
    /// Which kind of file.
    #[arg(value_parser = ["aircraft", "sequence", "rules", "lint", "report", "lint-report"])]
    kind: String,
}

pub(super) fn run(args: &Args) -> Ended {
    let schema = match args.kind.as_str() {
        "aircraft" => schemars::schema_for!(AircraftFile),
        "sequence" => schemars::schema_for!(SequenceFile),
        "rules" => schemars::schema_for!(RuleSetFile),
        "lint" => schemars::schema_for!(LintFile),
        "lint-report" => lint_schema(),
        _ => report_schema(),
    };
    match serde_json::to_string_pretty(&schema) {
        Ok(text) => output::print(format!("{text}\n").as_bytes(), Ended::Well),
        Err(error) => Ended::Failed(error.to_string()),
    }
}
