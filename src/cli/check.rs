//! `lampwright check`: judge a model.

use super::{Ended, baseline, directions, output, paths};
use crate::aircraft::{self, Aircraft};
use crate::report::Writer;
use crate::rules::{self, RuleSet};
use crate::scene::Readings;
use crate::source::{Diagnostic, Disk, Files, Rejected, Sources, read_text};
use crate::{Options, bundled_heads, check, measure, render, rule_sets_for};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

#[derive(clap::Args)]
pub(super) struct Args {
    /// The aircraft file.
    file: PathBuf,
    #[command(flatten)]
    printed: Printed,
    /// Also end with status 1 when a required goal cannot be told or is met on a guess.
    #[arg(long)]
    strict: bool,
    /// Judge by this rule-set file instead of the published ones that come with the program.
    #[arg(long, value_name = "FILE")]
    rules: Option<PathBuf>,
    /// Only goals whose id or paragraph holds this word, or of the rule set of that id; may be given several times.
    #[arg(long, value_name = "WORD")]
    only: Vec<String>,
    /// Fail only on goals that this earlier report, JSON or SARIF, does not have as missed.
    #[arg(long, value_name = "FILE")]
    baseline: Option<PathBuf>,
    /// Also write a CSV of directions each 2 degrees: how bright each light is there, which lamps are seen, what the airframe
    /// hides, which goals have their worst there.
    #[arg(long, value_name = "FILE")]
    show_directions: Option<PathBuf>,
}

/// How a report is printed, and where to.
#[derive(clap::Args)]
pub(super) struct Printed {
    /// How to print the report.
    #[arg(long, value_parser = formats(), default_value = "text")]
    format: String,
    /// Write the report to this file instead of the terminal.
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

fn formats() -> clap::builder::PossibleValuesParser {
    clap::builder::PossibleValuesParser::new(render::ALL.iter().map(|r| r.name()))
}

pub(super) fn run(args: &Args) -> Ended {
    let own = args.rules.as_deref().map(load_rules).transpose();
    let (aircraft, own) = match (load_aircraft(&paths::plain(&args.file)), own) {
        (Ok(aircraft), Ok(own)) => (aircraft, own),
        (aircraft, own) => {
            let why: Vec<String> = [aircraft.err(), own.err()].into_iter().flatten().collect();
            return Ended::Failed(why.join("\n"));
        }
    };
    let options = Options { rule_set: own.as_ref().map(|set| set.id.clone()), only: args.only.clone() };
    let sets = match rule_sets(&aircraft, own) {
        Ok(sets) => sets,
        Err(why) => return Ended::Failed(why),
    };
    let mut report = match check(&aircraft, &sets, &options) {
        Ok(report) => report,
        Err(error) => return Ended::Failed(error.to_string()),
    };
    match args.baseline.as_deref().map(|path| baseline::read(path, Writer::Check)).transpose() {
        Ok(before) => before.into_iter().for_each(|before| before.mark(&mut report)),
        Err(why) => return Ended::Failed(why),
    }
    if report.goals.is_empty() && report.local_rules.iter().all(|rule| rule.goals.is_empty()) {
        return Ended::Failed(format!(
            "no goal holds {}; `lampwright rules show ID` lists them",
            crate::source::one_of(&args.only.iter().map(String::as_str).collect::<Vec<_>>())
        ));
    }
    report.strict = args.strict;
    if let Some(path) = &args.show_directions {
        // As the first of the sets the report goes by reads open points.
        let first = report.rule_sets.first().and_then(|head| sets.iter().find(|set| set.id == head.id));
        let readings = first.or(sets.first()).map(Readings::of);
        let table = readings.map_or(Ok(Vec::new()), |readings| directions::table(&aircraft, &report, readings));
        let written =
            table.map_err(|e| e.to_string()).and_then(|t| output::write_file(path, &t).map_err(|e| e.to_string()));
        if let Err(why) = written {
            return Ended::Failed(why);
        }
    }
    let ended = if report.fails() { Ended::Missed } else { Ended::Well };
    args.printed.write(ended, |format, colour, out| format.write(&report, colour, out))
}

impl Printed {
    /// Writes a report in the format asked for, to a file or to the terminal.
    pub(super) fn write(
        &self,
        ended: Ended,
        write: impl Fn(&dyn render::Render, bool, &mut dyn Write) -> io::Result<()>,
    ) -> Ended {
        let Some(format) = render::find(&self.format) else {
            return Ended::Failed(format!("no format is called `{}`", self.format));
        };
        let mut bytes = Vec::new();
        let colour = self.output.is_none() && output::colour_out();
        if let Err(error) = write(format, colour, &mut bytes) {
            return Ended::Failed(format!("cannot write the report: {error}"));
        }
        match &self.output {
            None => output::print(&bytes, ended),
            Some(path) => match output::write_file(path, &bytes) {
                Ok(()) => ended,
                Err(error) => Ended::Failed(error.to_string()),
            },
        }
    }
}

/// Reads an aircraft file, or says what is wrong with it.
pub(super) fn load_aircraft(path: &Path) -> Result<Aircraft, String> {
    load_aircraft_with(&Disk, path)
}

/// The same from other files.
pub(super) fn load_aircraft_with(files: &dyn Files, path: &Path) -> Result<Aircraft, String> {
    let read = aircraft::read(files, path).map_err(|e| e.to_string())?;
    read.map_err(|rejected| rejected.show(output::colour_err()))
}

/// Reads a rule-set file, or says what is wrong with it.
pub(super) fn load_rules(path: &Path) -> Result<RuleSet, String> {
    load_rules_with(path, &|_| Vec::new())
}

/// Reads a rule-set file with further checks, or says what is wrong with it.
pub(super) fn load_rules_with(path: &Path, more: &dyn Fn(&RuleSet) -> Vec<Diagnostic>) -> Result<RuleSet, String> {
    let text = read_text(&Disk, path).map_err(|e| e.to_string())?;
    let name = path.display().to_string();
    let shown = |rejected: Rejected| rejected.show(output::colour_err());
    let set = rules::read(&name, &text, &rules::shared_text).map_err(shown)?;
    let mut wrong = measure::vet(&set);
    wrong.extend(more(&set));
    if wrong.is_empty() {
        return Ok(set);
    }
    let mut sources = Sources::default();
    sources.add(&name, &text);
    Err(Rejected::new(wrong, sources).show(output::colour_err()))
}

/// The rule sets to judge by.
pub(super) fn rule_sets(aircraft: &Aircraft, own: Option<RuleSet>) -> Result<Vec<RuleSet>, String> {
    let asked = own.as_ref().map(|set| set.id.as_str());
    let bundled = rule_sets_for(&aircraft.craft, asked).map_err(|e| e.to_string())?;
    if let Some(own) = &own
        && bundled_heads().map_err(|e| e.to_string())?.iter().any(|head| head.id == own.id)
    {
        return Err(format!(
            "{}: `{}` is the id of a rule set that comes with the program; give yours another `id`",
            own.at, own.id
        ));
    }
    Ok(own.into_iter().chain(bundled).collect())
}
