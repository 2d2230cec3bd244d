//! The command line: flags and commands, one file a command; no physics.

mod baseline;
mod browser;
mod check;
mod completions;
mod convert;
mod diff;
mod directions;
mod emitters;
mod explain;
mod explain_for;
mod explain_words;
mod lint;
mod new;
mod output;
mod paths;
mod report;
mod rules;
mod rules_for;
mod schema;
mod trace;

use clap::{Parser, Subcommand};
use std::process::ExitCode;

/// Holds a scale model's exterior lights against published full-size lighting requirements.
///
/// Full-size rules are a yardstick of realism here and nothing else: model aircraft are governed by the rules where they
/// are flown.
#[derive(Parser)]
#[command(name = "lampwright", version, max_term_width = 100)]
pub struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Judge a model: which requirements its lamps meet, by how much, seen from where.
    Check(check::Args),
    /// Write the documentation of lights that a judge reads: the verdicts, and the evidence as pictures.
    Report(report::Args),
    /// Look at sequence and aircraft files by themselves, whole folders in a blink.
    Lint(lint::Args),
    /// Tell which goals change between two versions of an aircraft file, or of a rule set.
    Diff(diff::Args),
    /// Make a sequence file from a plain list of times, a table of masks, or times on and off.
    Convert(convert::Args),
    /// Hold a recorded light against the sequence that should have made it.
    Trace(trace::Args),
    /// Print a commented file to start from.
    New(new::Args),
    /// List the rule sets, or show one whole.
    Rules(rules::Args),
    /// List the typical emitters a file can name.
    Emitters(emitters::Args),
    /// Tell what a requirement, a quantity, an emitter or a word on the bag means.
    Explain(explain::Args),
    /// Print the JSON Schema of a kind of file.
    Schema(schema::Args),
    /// Print what a shell needs to complete commands and flags.
    Completions(completions::Args),
}

/// What a command ends with.
pub(crate) enum Ended {
    /// Everything required is met, or nothing was judged.
    Well,
    /// A required goal is missed.
    Missed,
    /// A file could not be used; the report says why.
    Unusable,
    /// It could not be done; says why on the error stream.
    Failed(String),
}

/// Runs the command line.
#[must_use]
pub fn run() -> ExitCode {
    let ended = match Cli::try_parse() {
        Ok(cli) => match cli.command {
            Command::Check(args) => check::run(&args),
            Command::Report(args) => report::run(&args),
            Command::Lint(args) => lint::run(&args),
            Command::Diff(args) => diff::run(&args),
            Command::Convert(args) => convert::run(&args),
            Command::Trace(args) => trace::run(&args),
            Command::New(args) => new::run(&args),
            Command::Rules(args) => rules::run(&args),
            Command::Emitters(args) => emitters::run(&args),
            Command::Explain(args) => explain::run(&args),
            Command::Schema(args) => schema::run(&args),
            Command::Completions(args) => completions::run(&args),
        },
        Err(error) => {
            let failed = error.use_stderr();
            // Nothing sensible is left to do when even the help cannot be printed.
            let _ = error.print();
            return if failed { ExitCode::from(2) } else { ExitCode::SUCCESS };
        }
    };
    match ended {
        Ended::Well => ExitCode::SUCCESS,
        Ended::Missed => ExitCode::from(1),
        Ended::Unusable => ExitCode::from(2),
        Ended::Failed(why) => {
            output::complain(&why);
            ExitCode::from(2)
        }
    }
}
