//! `lampwright rules`: the rule sets that come with the program.

use super::{Ended, output};
use crate::{bundled_heads, bundled_rule_sets};
use crate::rules::{
    Allowance, Basis, Demand, Figure, GoalSpec, InForce, Limit, Region, Requirement, RuleSet, Standing, Table, When,
};
use std::fmt::Write;
use std::path::PathBuf;

#[derive(clap::Args)]
pub(super) struct Args {
    #[command(subcommand)]
    action: Option<Action>,
}

#[derive(clap::Subcommand)]
enum Action {
    /// One line for each rule set (what `lampwright rules` alone does).
    List,
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
    if let Some(Action::For(args)) = &args.action {
        return match bundled_heads() {
            Ok(heads) => super::rules_for::run(args, &heads),
            Err(rejected) => Ended::Failed(rejected.show(false)),
        };
    }
    let sets = match bundled_rule_sets() {
        Ok(sets) => sets,
        Err(rejected) => return Ended::Failed(rejected.show(false)),
    };
    match &args.action {
        None | Some(Action::List) => output::print(list(&sets).as_bytes(), Ended::Well),
        Some(Action::For(_)) => Ended::Well,
        Some(Action::Show { file: Some(file), .. }) => match super::check::load_rules(file) {
            Ok(set) => output::print(show(&set).as_bytes(), Ended::Well),
            Err(why) => Ended::Failed(why),
        },
        Some(Action::Show { id, .. }) => {
            let id = id.as_deref().unwrap_or_default();
            match sets.iter().find(|s| s.id == id) {
                Some(set) => output::print(show(set).as_bytes(), Ended::Well),
                None => {
                    let ids: Vec<&str> = sets.iter().map(|s| s.id.as_str()).collect();
                    Ended::Failed(format!("no rule set is called `{id}`; there are {}", crate::source::one_of(&ids)))
                }
            }
        }
    }
}

fn list(sets: &[RuleSet]) -> String {
    let mut out = String::new();
    for set in sets {
        let (mut read, mut recalled, mut own) = (0, 0, 0);
        for requirement in &set.requirements {
            match requirement.standing {
                Standing::Read { .. } => read += 1,
                Standing::Recalled => recalled += 1,
                Standing::OwnReading => own += 1,
            }
        }
        let craft = set.basis.as_ref().map_or_else(
            || "every craft".to_string(),
            |b| {
                let categories: Vec<&str> = b.categories.iter().map(|c| c.as_str()).collect();
                format!("{}: {}; {}", authorities(b), categories.join(", "), dates(&b.in_force))
            },
        );
        let counted = format!(
            "{} requirements: {read} read, {recalled} recalled, {own} own readings; {} paragraphs listed",
            set.requirements.len(),
            set.paragraphs.len()
        );
        para(&mut out, 0, &set.id, &set.title);
        para(&mut out, 0, " ", &format!("{}; {craft}", set.kind));
        para(&mut out, 0, " ", &counted);
    }
    out.push_str(
        "\n`lampwright rules show ID` prints one whole;\n`lampwright explain REQUIREMENT` explains one line of it;\n`lampwright rules for --help` finds the one that answers a craft.\n",
    );
    out
}

pub(super) fn authorities(basis: &Basis) -> String {
    basis.authorities.iter().map(|a| a.as_str()).collect::<Vec<_>>().join(", ")
}

pub(super) fn dates(in_force: &InForce) -> String {
    let standing = in_force.standing.as_ref().map_or(String::new(), |s| format!(" ({s})"));
    match (in_force.from, in_force.until) {
        (None, None) => "at any date".to_string(),
        (Some(from), None) => format!("from {from}{standing}"),
        (None, Some(until)) => format!("until before {until}{standing}"),
        (Some(from), Some(until)) => format!("from {from} until before {until}{standing}"),
    }
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
    let width = if label.is_empty() { 0 } else { 14 };
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
        para(out, indent, "excuse", &format!("{excuse} may excuse a miss, without a figure"));
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
