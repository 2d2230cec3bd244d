//! `lampwright lint`: look at sequence and aircraft files by themselves.

use super::{Ended, baseline, check, output, paths};
use crate::bundled_rule_sets;
use crate::lint::{Rules, Settings, Target, lint};
use crate::report::{LintReport, Writer};
use crate::source::{Disk, read_text};
use ignore::WalkBuilder;
use std::path::{Path, PathBuf};

/// The settings file looked for where the command is run.
const SETTINGS: &str = "lampwright-lint.yaml";

#[derive(clap::Args)]
pub(super) struct Args {
    /// Files, and folders with everything below that is not hidden and that no ignore file leaves out.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    #[command(flatten)]
    printed: check::Printed,
    /// Also end with status 1 on a warning.
    #[arg(long)]
    strict: bool,
    /// Take what codes weigh from this file instead of `lampwright-lint.yaml` here.
    #[arg(long, value_name = "FILE")]
    settings: Option<PathBuf>,
    /// Pass over named files that are none of this program's, as in folders.
    #[arg(long)]
    skip_others: bool,
    /// Fail only on what this earlier report, JSON or SARIF, does not have.
    #[arg(long, value_name = "FILE")]
    baseline: Option<PathBuf>,
}

pub(super) fn run(args: &Args) -> Ended {
    match look(args) {
        Ok(report) => {
            let fails = if report.fails() { Ended::Missed } else { Ended::Well };
            let ended = if report.unusable() { Ended::Unusable } else { fails };
            args.printed.write(ended, |format, colour, out| format.write_lint(&report, colour, out))
        }
        Err(why) => Ended::Failed(why),
    }
}

fn look(args: &Args) -> Result<LintReport, String> {
    let settings = settings(args.settings.as_deref())?;
    let rules = Rules::bundled().map_err(|e| e.to_string())?;
    let before = args.baseline.as_deref().map(|path| baseline::read(path, Writer::Lint)).transpose()?;
    let targets = targets(&args.paths, !args.skip_others)?;
    let mut report = lint(&Disk, &targets, &rules, &settings);
    report.strict = args.strict;
    if report.files.is_empty() && !args.skip_others {
        return Err("there is no sequence file and no aircraft file among these paths".to_string());
    }
    if let Some(before) = before {
        before.mark_lint(&mut report);
    }
    Ok(report)
}

fn settings(asked: Option<&Path>) -> Result<Settings, String> {
    let path = match asked {
        Some(path) => path,
        None if Path::new(SETTINGS).is_file() => Path::new(SETTINGS),
        None => return Ok(Settings::default()),
    };
    let text = read_text(&Disk, path).map_err(|e| e.to_string())?;
    let sets = bundled_rule_sets().map_err(|e| e.show(output::colour_err()))?;
    Settings::read(&path.display().to_string(), &text, &sets).map_err(|e| e.show(output::colour_err()))
}

/// The files of the paths, each once, by name.
fn targets(paths: &[PathBuf], named: bool) -> Result<Vec<Target>, String> {
    let mut all: Vec<Target> = Vec::new();
    for path in paths.iter().map(|path| paths::plain(path)) {
        if !path.is_dir() {
            all.push(Target { path, named });
            continue;
        }
        for entry in WalkBuilder::new(&path).require_git(false).build() {
            let entry = entry.map_err(|e| e.to_string())?;
            let kind = entry.file_type();
            let file = kind.is_some_and(|t| t.is_file() || t.is_symlink() && entry.path().is_file());
            let ending = entry.path().extension();
            let yaml = ending.is_some_and(|e| e.eq_ignore_ascii_case("yaml") || e.eq_ignore_ascii_case("yml"));
            if file && yaml {
                let path = entry.path().strip_prefix(".").unwrap_or(entry.path()).to_path_buf();
                all.push(Target { path, named: false });
            }
        }
    }
    // One that was named stands before the same one found.
    all.sort_by(|a, b| a.path.cmp(&b.path).then(b.named.cmp(&a.named)));
    all.dedup_by(|a, b| a.path == b.path);
    Ok(all)
}
