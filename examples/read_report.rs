//! Reading a report: which goals are missed, by how much, and which line of the file to change.
//!
//! Run it with `cargo run --example read_report`.

use lampwright::judge::Verdict;
use lampwright::source::Disk;
use lampwright::{Options, aircraft, check, rule_sets_for};
use std::error::Error;
use std::io::Write;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let model = aircraft::read(&Disk, Path::new("examples/wexcombe-sparrow.yaml"))??;
    let report = check(&model, &rule_sets_for(&model.craft, None)?, &Options::default())?;
    let mut out = std::io::stdout();
    writeln!(
        out,
        "{} of {} required goals are missed",
        report.required.missed,
        report.goals.iter().filter(|g| g.binding).count()
    )?;
    for goal in report.goals.iter().filter(|g| g.binding && g.verdict == Verdict::Missed) {
        let found = goal.found.as_ref().map_or("", |f| f.text.as_str());
        let required = goal.required.as_ref().map_or("", |r| r.text.as_str());
        writeln!(out, "{}  {}: {required}; found {found}", goal.location, goal.citation)?;
    }
    writeln!(out, "{}", report.notice)?;
    Ok(())
}
