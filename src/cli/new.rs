//! `lampwright new`: a commented file to start from.

use super::{Ended, output};

#[derive(clap::Args)]
pub(super) struct Args {
    /// Which kind of file.
    #[arg(value_parser = ["aircraft", "sequence", "rules"])]
    kind: String,
}

/// The text of a new file of a kind.
pub(super) fn template(kind: &str) -> Option<&'static str> {
    match kind {
        "aircraft" => Some(include_str!("templates/aircraft.yaml")),
        "sequence" => Some(include_str!("templates/sequence.yaml")),
        "rules" => Some(include_str!("templates/rules.yaml")),
        _ => None,
    }
}

pub(super) fn run(args: &Args) -> Ended {
    match template(&args.kind) {
        Some(text) => output::print(text.as_bytes(), Ended::Well),
        None => Ended::Failed(format!("there is no kind of file called `{}`", args.kind)),
    }
}
