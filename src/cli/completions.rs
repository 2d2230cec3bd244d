//! `lampwright completions`: what a shell completes.

use super::{Cli, Ended, output};
use clap::CommandFactory;
use clap_complete::Shell;

#[derive(clap::Args)]
pub(super) struct Args {
    /// The shell.
    shell: Shell,
}

pub(super) fn run(args: &Args) -> Ended {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "lampwright", &mut text);
    output::print(&text, Ended::Well)
}
