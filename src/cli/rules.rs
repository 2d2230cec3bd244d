//! `lampwright rules`: the rule sets that come with the program.

use super::{Ended, output};
use crate::rules::{
    Allowance, Basis, CatalogueLine, Demand, Figure, GoalSpec, InForce, Limit, Region, Requirement, RuleSet, Standing,
    Table, When, audit, catalogue,
};
use crate::source::{nearest, one_of};
use crate::{bundled_heads, bundled_rule_sets};
use std::fmt::Write;
use std::path::{Path, PathBuf};

#[derive(clap::Args)]
pub(super) struct Args {
    #[command(subcommand)]
    action: Option<Action>,
}

#[derive(clap::Subcommand)]
enum Action {
    /// Every rule set in numbers (what `lampwright rules` alone does).
    List {
        /// As text, or as a Markdown table.
        #[arg(long, value_parser = ["text", "markdown"], default_value = "text")]
        format: String,
    },
    /// Everything that is wrong in a rule-set file of your own.
    Check {
        /// The rule-set file.
        file: PathBuf,
    },
    /// Which rule set answers a full-size craft, at which standing, and why the others do not.
    For(super::rules_for::Args),
    /// A rule set whole, with every name replaced by its figures.
    Show {
        /// The rule set's id.
        #[arg(required_unless_present = "file")]
        id: Option<String>,
        /// Show a rule-set file from disk instead.
        #[arg(long, value_name = "FILE", conflicts_with = "id")]
        file: Option<PathBuf>,
    },
}

pub(super) fn run(args: &Args) -> Ended {
    match &args.action {
        Some(Action::For(args)) => match bundled_heads() {
            Ok(heads) => super::rules_for::run(args, &heads),
            Err(rejected) => Ended::Failed(rejected.show(false)),
        },
        Some(Action::Check { file }) => checked(file),
        None => with_all(|sets| output::print(list(sets).as_bytes(), Ended::Well)),
        Some(Action::List { format }) => {
            let text = if format == "markdown" { page } else { list };
            with_all(|sets| output::print(text(sets).as_bytes(), Ended::Well))
        }
        Some(Action::Show { file: Some(file), .. }) => match super::check::load_rules(file) {
            Ok(set) => output::print(show(&set).as_bytes(), Ended::Well),
            Err(why) => Ended::Failed(why),
        },
        Some(Action::Show { id, .. }) => with_all(|sets| show_one(id.as_deref().unwrap_or_default(), sets)),
    }
}

fn with_all(then: impl FnOnce(&[RuleSet]) -> Ended) -> Ended {
    match bundled_rule_sets() {
        Ok(sets) => then(&sets),
        Err(rejected) => Ended::Failed(rejected.show(false)),
    }
}

fn show_one(id: &str, sets: &[RuleSet]) -> Ended {
    match sets.iter().find(|s| s.id == id) {
        Some(set) => output::print(show(set).as_bytes(), Ended::Well),
        None => {
            let ids: Vec<&str> = sets.iter().map(|s| s.id.as_str()).collect();
            let near =
                nearest(id, ids.iter().copied()).map_or(String::new(), |near| format!("did you mean `{near}`? "));
            Ended::Failed(format!("no rule set is called `{id}`; {near}there are {}", one_of(&ids)))
        }
    }
}

/// Reads a rule-set file with every check there is.
fn checked(file: &Path) -> Ended {
    match super::check::load_rules_with(file, &audit) {
        Ok(set) => {
            let goals: usize = set.requirements.iter().map(|r| r.demand.goals().len()).sum();
            let text = format!(
                "{}: sound; {} requirements with {goals} goals, {} paragraphs\n",
                set.id,
                set.requirements.len(),
                set.paragraphs.len()
            );
            output::print(text.as_bytes(), Ended::Well)
        }
        Err(why) => Ended::Failed(why),
    }
}

/// Every rule set in numbers.
fn list(sets: &[RuleSet]) -> String {
    let mut out = String::new();
    for line in catalogue(sets) {
        let CatalogueLine { id, title, kind, craft, dates, goals, read, recalled, own, .. } = &line;
        para(&mut out, 0, &format!("{id}  "), title);
        para(&mut out, 4, "", &format!("{kind}; {craft}; {dates}"));
        let mut counted = format!("{goals} goals: {read} read, {recalled} recalled, {own} own readings");
        let rest = [(line.not_at_hand, "figures not at hand"), (line.not_checkable, "paragraphs not checkable")];
        for (count, what) in rest.iter().filter(|(count, _)| *count > 0) {
            let _ = write!(counted, ", {count} {what}");
        }
        para(&mut out, 4, "", &counted);
    }
    out.push_str(
        "\n`lampwright rules show ID` prints one whole;\n`lampwright explain REQUIREMENT` explains one line of it;\n`lampwright rules for --help` finds the one that answers a craft.\n",
    );
    out
}

/// The same as a table for a page.
fn page(sets: &[RuleSet]) -> String {
    let mut out = String::from(
        "# Catalogue of rule sets\n\nMade by `lampwright rules list --format markdown`; a test keeps it so. Goals are counted over all standings of a document. *Read* figures were read in a copy of the text, *recalled* ones were not and are shown so in every report; *not at hand* are figures a document has and this program does not.\n\n| id | document | for | dates | goals | read | recalled | own reading | not at hand | paragraphs not checkable | paragraphs not at hand |\n|---|---|---|---|---|---|---|---|---|---|---|\n",
    );
    for line in catalogue(sets) {
        let numbers = [line.goals, line.read, line.recalled, line.own, line.not_at_hand, line.not_checkable];
        let numbers: Vec<String> =
            numbers.iter().chain([&line.paragraphs_not_at_hand]).map(ToString::to_string).collect();
        let _ = writeln!(
            out,
            "| `{}` | {} | {} | {} | {} |",
            line.id,
            line.title,
            line.craft,
            line.dates,
            numbers.join(" | ")
        );
    }
    out
}

pub(super) fn authorities(basis: &Basis) -> String {
    basis.authorities.iter().map(|a| a.as_str()).collect::<Vec<_>>().join(", ")
}

pub(super) fn dates(in_force: &InForce) -> String {
    in_force.to_string()
}

fn show(set: &RuleSet) -> String {
    let mut out = String::new();
    let document = &set.document;
    para(&mut out, 0, &format!("{}  ", set.id), &set.title);
    out.push('\n');
    let basis = set.basis.as_ref().map_or_else(
        || "every craft".to_string(),
        |b| {
            let categories: Vec<&str> = b.categories.iter().map(|c| c.as_str()).collect();
            format!("{}: {}; chosen by {}; {}", authorities(b), categories.join(", "), b.chosen_by, dates(&b.in_force))
        },
    );
    let rows = [
        ("kind", Some(set.kind.to_string())),
        ("judges", Some(set.judges.to_string())),
        ("for", Some(basis)),
        ("document", Some(document.name.clone())),
        ("amendment", document.amendment.clone()),
        ("published", document.published.clone()),
        ("note", document.note.clone()),
        ("said of all", set.unverified.clone()),
    ];
    for (label, value) in rows {
        if let Some(value) = value {
            para(&mut out, 0, label, &value);
        }
    }
    if !set.paragraphs.is_empty() {
        out.push_str("\nParagraphs\n");
        for p in &set.paragraphs {
            let note = p.note.as_ref().map_or(String::new(), |n| format!(" ({n})"));
            let dated =
                if p.in_force == InForce::default() { String::new() } else { format!("; {}", dates(&p.in_force)) };
            let _ = writeln!(out, "  {}: {}", p.section, p.status);
            para(&mut out, 4, "", &format!("{}{note}{dated}", p.about));
        }
    }
    if !set.readings.is_empty() {
        out.push_str("\nReadings\n");
        for (name, reading) in &set.readings {
            let why = reading.figure.why.as_ref().map_or(String::new(), |w| format!(": {w}"));
            para(&mut out, 2, "", &format!("{name} {}{why}", figure(&reading.figure)));
        }
    }
    out.push_str("\nRequirements\n");
    for requirement in &set.requirements {
        out.push('\n');
        out.push_str(&requirement_text(requirement));
    }
    out
}

/// A labelled paragraph at 80 columns.
pub(super) fn para(out: &mut String, indent: usize, label: &str, text: &str) {
    let width = if label.is_empty() { 0 } else { 14.max(label.chars().count() + 2) };
    let first = format!("{}{label:<width$}", " ".repeat(indent));
    let next = " ".repeat(indent + width);
    let options = textwrap::Options::new(80)
        .initial_indent(&first)
        .subsequent_indent(&next)
        .break_words(false)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    for line in textwrap::wrap(text, options) {
        out.push_str(line.trim_end());
        out.push('\n');
    }
}

/// A requirement with its figures and their standing.
pub(super) fn requirement_text(requirement: &Requirement) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "{}  {}", requirement.id, requirement.cite);
    let dated = (requirement.in_force != InForce::default()).then(|| dates(&requirement.in_force));
    let rows = [
        ("title", Some(requirement.title.clone())),
        ("asks", Some(requirement.asks.clone())),
        ("when", when(&requirement.when)),
        ("in force", dated),
        ("standing", Some(standing(&requirement.standing))),
        ("missed by", requirement.usually_missed.clone()),
        ("mended by", requirement.to_mend.clone()),
    ];
    for (label, value) in rows {
        if let Some(value) = value {
            para(&mut out, 4, label, &value);
        }
    }
    demand(&mut out, &requirement.demand, 4);
    out
}

/// A standing in plain words.
pub(super) fn standing(standing: &Standing) -> String {
    match standing {
        Standing::Read { copies: 1, through: None } => "figures read in 1 copy of the text".to_string(),
        Standing::Read { copies, through: None } => format!("figures read in {copies} copies of the text"),
        Standing::Read { copies, through: Some(through) } => {
            format!(
                "figures read {copies} {} over in {through}, not in the section itself",
                if *copies == 1 { "time" } else { "times" }
            )
        }
        Standing::Recalled => "recalled: figures from memory, not read".to_string(),
        Standing::OwnReading => "own reading: no published text gives these figures".to_string(),
    }
}

fn when(when: &When) -> Option<String> {
    let mut parts = Vec::new();
    if !when.category.is_empty() {
        let list: Vec<&str> = when.category.iter().map(|c| c.as_str()).collect();
        parts.push(format!("for a {}", list.join(" or ")));
    }
    parts.extend(
        when.night
            .map(|n| if n { "where night operation is asked for" } else { "without night operation" }.to_string()),
    );
    parts
        .extend(when.seaplane.map(|s| if s { "for craft that alight on water" } else { "for landplanes" }.to_string()));
    parts.extend(when.mass.0.map(|m| format!("over {m}")));
    parts.extend(when.mass.1.map(|m| format!("up to {m}")));
    parts.extend(when.length.0.map(|m| format!("{m} long or more")));
    parts.extend(when.length.1.map(|m| format!("less than {m} long")));
    parts.extend(when.certificated.as_ref().map(|c| format!("type certificate {}", dates(c))));
    parts.extend(when.fitted.iter().map(|g| format!("if {g} lights are fitted")));
    (!parts.is_empty()).then(|| parts.join(", "))
}

fn demand(out: &mut String, demand_: &Demand, indent: usize) {
    let (word, list) = match demand_ {
        Demand::Goal(spec) => return goal(out, spec, indent),
        Demand::AllOf(list) => ("all of", list),
        Demand::AnyOf(list) => ("one of", list),
    };
    para(out, indent, "", word);
    list.iter().for_each(|d| demand(out, d, indent + 2));
}

fn goal(out: &mut String, spec: &GoalSpec, indent: usize) {
    let name = spec.name.as_ref().map_or(String::new(), |n| format!("{n}: "));
    let region = spec.region.as_ref().map_or(String::new(), |r| format!(" {}", region(r)));
    para(
        out,
        indent,
        "goal",
        &format!("{name}{} of the {} light{region}, for each {}", spec.quantity.value, spec.light, spec.each),
    );
    para(out, indent, "limit", &limit(&spec.limit));
    if !spec.phases.is_empty() {
        let phases: Vec<&str> = spec.phases.iter().map(|p| p.as_str()).collect();
        para(out, indent, "phases", &phases.join(", "));
    }
    if let Some(above) = spec.above {
        para(out, indent, "above", &format!("the {above} light"));
    }
    if let Some(allow) = &spec.allow {
        let text = match allow {
            Allowance::AboutVertical { at_most, half_angle_deg } => {
                format!("{} in all, only within {half_angle_deg} deg of the vertical", figure(at_most))
            }
            Allowance::AboutAft { at_most, cone_sr } => {
                format!("{} in all, only inside {cone_sr} sr dead astern", figure(at_most))
            }
            Allowance::Anywhere { at_most } => format!("{} in all, wherever it is", figure(at_most)),
        };
        para(out, indent, "allows", &text);
    }
    if let Some(relief) = &spec.relief {
        let text = format!(
            "a light whose peak is over {} may show {} of it ({})",
            figure(&relief.peak_over),
            figure(&relief.at_most),
            relief.cite
        );
        para(out, indent, "relief", &text);
    }
    for (name, value) in &spec.with {
        let why = value.why.as_ref().map_or(String::new(), |w| format!(": {w}"));
        para(out, indent, "with", &format!("{name} {}{why}", figure(value)));
    }
    if let Some(excuse) = &spec.may_be_excused {
        para(out, indent, "excuse", &format!("a miss might be excused by {excuse}"));
    }
}

/// A figure with its own standing.
fn figure(figure: &Figure) -> String {
    figure.standing.as_ref().map_or_else(|| figure.scalar.to_string(), |s| format!("{} [{s}]", figure.scalar))
}

fn region(region: &Region) -> String {
    match region {
        Region::Dihedral(angle) => format!("in dihedral angle {angle}"),
        Region::Band(band) => format!("from {} to {} deg of elevation, all round", band.low, band.high),
        Region::Overlap { into, plane_deg, angles_deg } => format!(
            "in {into}, where the line meets the plane at {} at more than {} and less than {} deg",
            crate::units::Azimuth::from_deg(*plane_deg),
            angles_deg.low,
            angles_deg.high
        ),
        Region::Sector(patch) => format!(
            "from azimuth {} turning right to {}, from {} to {} deg of elevation",
            crate::units::Azimuth::from_deg(patch.azimuth.from_deg),
            crate::units::Azimuth::from_deg(patch.azimuth.to_deg()),
            patch.elevation_deg.low,
            patch.elevation_deg.high
        ),
    }
}

fn limit(limit: &Limit) -> String {
    match limit {
        Limit::AtLeast(f) => format!("at least {}", figure(f)),
        Limit::AtMost(f) => format!("at most {}", figure(f)),
        Limit::Between(low, high) => format!("from {} to {}, both included", figure(low), figure(high)),
        Limit::Floor { by_azimuth, times_by_elevation } => {
            let factors = times_by_elevation.as_ref().map_or(String::new(), |t| format!(", times {}", table(t)));
            format!("at least {}{factors}", table(by_azimuth))
        }
        Limit::FloorByElevation(t) => format!("at least {}", table(t)),
        Limit::Inside(colours) => {
            let each: Vec<String> = colours
                .iter()
                .map(|c| {
                    let lines: Vec<String> = c.region.conditions().iter().map(ToString::to_string).collect();
                    format!("{} ({}: {})", c.name, c.cite, lines.join("; "))
                })
                .collect();
            format!("inside {}", each.join(" or "))
        }
        Limit::Side(side) => format!("on the {side}"),
        Limit::Lit(lit) => format!("{lit} lit"),
        Limit::NotAtHand(place) => format!("figure not at hand; look in {place}"),
    }
}

fn table(table: &Table) -> String {
    let rows: Vec<String> =
        table.rows.iter().map(|r| format!("{} at {} to {} deg", figure(&r.is), r.from_deg, r.to_deg)).collect();
    format!("{} ({})", rows.join(", "), table.cite)
}
