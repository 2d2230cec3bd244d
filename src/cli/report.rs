//! `lampwright report`: the documentation of lights that a judge reads.

use super::check::{load_aircraft_with, load_rules, rule_sets};
use super::{Ended, browser, output, paths};
use crate::aircraft::Aim;
use crate::render::page::{self, Paper};
use crate::report::{Documentation, Method, Observer};
use crate::rules::{RuleSet, bundled, shared_names, shared_text};
use crate::source::{Disk, Recorded, sha256};
use crate::units::{Length, parse};
use crate::{Options, document};
use std::path::{Path, PathBuf};

#[derive(clap::Args)]
pub(super) struct Args {
    /// The aircraft file.
    file: PathBuf,
    /// Write the report here; the name's ending chooses: `.html`, `.md`, or `.pdf`, which an installed browser prints.
    #[arg(long, short, value_name = "FILE")]
    output: PathBuf,
    /// Judge by this rule-set file instead of the published ones that come with the program.
    #[arg(long, value_name = "FILE")]
    rules: Option<PathBuf>,
    /// From where the night view is seen: `left 35 deg, down 8 deg` of the model.
    #[arg(long, value_name = "WHERE", default_value = "left 35 deg down 8 deg")]
    seen_from: String,
    /// How far away that is from the model.
    #[arg(long, value_name = "LENGTH", default_value = "15 m")]
    distance: String,
    /// The paper of a `.pdf`.
    #[arg(long, value_enum, default_value = "a4")]
    paper: Sheet,
    /// The browser that prints a `.pdf`, where none is found by itself: one of the Chromium family.
    #[arg(long, value_name = "PROGRAM")]
    browser: Option<PathBuf>,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Sheet {
    A4,
    Letter,
}

pub(super) fn run(args: &Args) -> Ended {
    let ending = args.output.extension().map(|e| e.to_string_lossy().to_lowercase());
    if !matches!(ending.as_deref(), Some("html" | "htm" | "md" | "markdown" | "pdf")) {
        return Ended::Failed(format!("{}: a report is written as `.html`, `.pdf` or `.md`", args.output.display()));
    }
    let made = match documentation(args) {
        Ok(made) => made,
        Err(why) => return Ended::Failed(why),
    };
    let paper = match args.paper {
        Sheet::A4 => Paper::A4,
        Sheet::Letter => Paper::Letter,
    };
    let bytes = match ending.as_deref() {
        Some("pdf") => browser::print(&page::html(&made, Some(paper)), args.browser.as_deref()),
        Some("md" | "markdown") => {
            let mut bytes = Vec::new();
            page::write_markdown(&made, &mut bytes).map(|()| bytes).map_err(|e| e.to_string())
        }
        _ => Ok(page::html(&made, None).into_bytes()),
    };
    let written = bytes.and_then(|bytes| output::write_file(&args.output, &bytes).map_err(|e| e.to_string()));
    match written {
        Err(why) => Ended::Failed(why),
        Ok(()) if made.report.fails() => Ended::Missed,
        Ok(()) => Ended::Well,
    }
}

fn documentation(args: &Args) -> Result<Documentation, String> {
    let observer = observer(args);
    let own = args.rules.as_deref().map(load_rules).transpose();
    let files = Recorded::new(&Disk);
    let (aircraft, own, observer) = match (load_aircraft_with(&files, &paths::plain(&args.file)), own, observer) {
        (Ok(aircraft), Ok(own), Ok(observer)) => (aircraft, own, observer),
        (aircraft, own, observer) => {
            let why: Vec<String> = [aircraft.err(), own.err(), observer.err()].into_iter().flatten().collect();
            return Err(why.join("\n"));
        }
    };
    let options = Options { rule_set: own.as_ref().map(|set| set.id.clone()), only: Vec::new() };
    let sets = rule_sets(&aircraft, own)?;
    // Named as the aircraft file names them: where they lie on this machine is nobody's business.
    let file = paths::plain(&args.file);
    let folder = file.parent().unwrap_or(Path::new(""));
    let short = |name: String| Path::new(&name).strip_prefix(folder).map_or(name.clone(), |p| p.display().to_string());
    let method = Method {
        day: day(),
        inputs: files.into_read().into_iter().map(|(name, hash)| (short(name), hash)).collect(),
        rule_sets: sets.iter().map(|set| (set.id.clone(), digest_of(set, args.rules.as_deref()))).collect(),
    };
    let mut made = document(&aircraft, &sets, &options, observer, method).map_err(|e| e.to_string())?;
    // Of the sets read only those that judge are part of the method.
    let report = &made.report;
    let judges = |id: &str| {
        report.rule_sets.iter().any(|s| s.id == id) || report.local_rules.iter().any(|rule| rule.head.id == id)
    };
    made.method.rule_sets.retain(|(id, _)| judges(id));
    Ok(made)
}

fn observer(args: &Args) -> Result<Observer, String> {
    let aim: Aim = args.seen_from.parse().map_err(|e| format!("--seen-from: {e}"))?;
    let distance: Length = parse(&args.distance).map_err(|e| format!("--distance: {e}"))?;
    let distance_m = 1e-3 * distance.mm();
    if !(0.1..=100_000.0).contains(&distance_m) {
        return Err("--distance: an observer stands 100 mm to 100 km away".to_string());
    }
    let d = aim.direction();
    Ok(Observer { azimuth_deg: d.azimuth_deg(), elevation_deg: d.elevation_deg(), distance_m })
}

/// The day, or that of `SOURCE_DATE_EPOCH` where a build is to be repeated byte for byte.
fn day() -> String {
    let fixed = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|seconds| seconds.parse().ok());
    let time =
        fixed.and_then(|seconds| jiff::Timestamp::from_second(seconds).ok()).unwrap_or_else(jiff::Timestamp::now);
    time.strftime("%Y-%m-%d").to_string()
}

/// The digest of a rule set's text and, for those that come with the program, of the shared texts it may take from.
fn digest_of(set: &RuleSet, own: Option<&Path>) -> String {
    let shared = || shared_names().filter_map(shared_text).collect::<String>();
    let bundled = bundled().iter().find(|b| &*set.at.file == b.path).map(|b| format!("{}{}", b.text, shared()));
    let read = || own.and_then(|path| std::fs::read_to_string(path).ok()).map(|text| format!("{text}{}", shared()));
    bundled.or_else(read).map_or_else(|| "not to be read twice".to_string(), |text| sha256(text.as_bytes()))
}
