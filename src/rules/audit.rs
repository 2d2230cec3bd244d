//! What can be wrong in a rule set whose every line can be read: dates that leave days out or hold twice, colours that
//! nothing has, tables that stop short, citations that lead nowhere.

use super::basis::InForce;
use super::set::{DihedralAngle, GoalSpec, Limit, Paragraph, Region, Requirement, RuleSet, Table};
use super::words::{ParagraphStatus, RuleKind};
use crate::colorimetry::{Chromaticity, Region as ColourRegion};
use crate::source::{At, Code, Diagnostic};
use std::collections::BTreeMap;

/// What is wrong, in the order of the requirements.
#[must_use]
pub fn audit(set: &RuleSet) -> Vec<Diagnostic> {
    let mut wrong = Vec::new();
    if set.kind == RuleKind::Published {
        wrong.extend(uncited(set));
        wrong.extend(unanswered(set));
        wrong.extend(undated(set));
    }
    wrong.extend(days(set));
    for requirement in &set.requirements {
        for spec in requirement.demand.goals() {
            wrong.extend(colours(spec));
            wrong.extend(short_tables(spec));
        }
    }
    wrong
}

/// The section a citation begins with: up to a bracket or blank after its first number.
fn section(cite: &str) -> &str {
    let number = cite.find(|c: char| c.is_ascii_digit()).unwrap_or(cite.len());
    let end = cite.get(number..).and_then(|rest| rest.find(['(', ' '])).map_or(cite.len(), |n| number + n);
    cite.get(..end).unwrap_or(cite)
}

/// Requirements whose paragraph is not listed, and empty citations.
fn uncited(set: &RuleSet) -> Vec<Diagnostic> {
    let mut wrong = Vec::new();
    for requirement in &set.requirements {
        let at = &requirement.at;
        if requirement.cite.trim().is_empty() {
            let message = format!("`{}` cites nothing", requirement.id);
            wrong.push(Diagnostic::new(Code::MissingKey, at, message, "name the section and paragraph in `cite:`"));
        }
        // `25.1387(d), (e)`: a further paragraph of the section before.
        for cite in requirement.cite.split(", ").filter(|c| !c.trim().is_empty() && !c.starts_with('(')) {
            if !set.paragraphs.iter().any(|p| section(&p.section) == section(cite)) {
                let message = format!("`{}` cites {cite}, which `paragraphs:` does not list", requirement.id);
                let instead = "list it with what it is about and `status: checked`";
                wrong.push(Diagnostic::new(Code::UnknownName, at, message, instead));
            }
        }
    }
    wrong
}

/// Paragraphs said to be checked that nothing cites, and requirements that cite only what is said not to be.
fn unanswered(set: &RuleSet) -> Vec<Diagnostic> {
    let cites = |r: &Requirement, p: &Paragraph| {
        r.cite.split(", ").any(|cite| !cite.is_empty() && section(cite) == section(&p.section))
    };
    let checked = |p: &&Paragraph| p.status == ParagraphStatus::Checked;
    let idle = set.paragraphs.iter().filter(checked).filter(|p| !set.requirements.iter().any(|r| cites(r, p)));
    let mut wrong: Vec<Diagnostic> = idle
        .map(|p| {
            let message = format!("paragraph `{}` is said to be checked, and no requirement cites it", p.section);
            Diagnostic::new(
                Code::Contradiction,
                &p.at,
                message,
                "give it another status, or a requirement that cites it",
            )
        })
        .collect();
    for requirement in &set.requirements {
        let mut listed = set.paragraphs.iter().filter(|p| cites(requirement, p)).peekable();
        if listed.peek().is_some() && !listed.any(|p| p.status == ParagraphStatus::Checked) {
            let message = format!("`{}` cites {}, which is not said to be checked", requirement.id, requirement.cite);
            let instead = "give the paragraph `status: checked`";
            wrong.push(Diagnostic::new(Code::Contradiction, &requirement.at, message, instead));
        }
    }
    wrong
}

/// Dates that do not say how well they are known.
fn undated(set: &RuleSet) -> Vec<Diagnostic> {
    let bare = |dates: &InForce| (dates.from.is_some() || dates.until.is_some()) && dates.standing.is_none();
    let told = |at: &At, what: &str| {
        let message = format!("the dates of {what} do not say how well they are known");
        Diagnostic::new(
            Code::MissingKey,
            at,
            message,
            "add `standing: read 1`, or `recalled`, beside `from` and `until`",
        )
    };
    let of_set = set.basis.iter().filter(|b| bare(&b.in_force)).map(|_| told(&set.at, "the rule set"));
    let of_requirements =
        set.requirements.iter().filter(|r| bare(&r.in_force)).map(|r| told(&r.at, &format!("`{}`", r.id)));
    let of_paragraphs =
        set.paragraphs.iter().filter(|p| bare(&p.in_force)).map(|p| told(&p.at, &format!("paragraph `{}`", p.section)));
    of_set.chain(of_requirements).chain(of_paragraphs).collect()
}

/// What a requirement asks, whatever its dates: requirements that ask the same take each other's place.
fn question(requirement: &Requirement) -> String {
    let each = |spec: &&GoalSpec| format!("{} {} {:?} {:?}", spec.light, spec.quantity.value, spec.name, overlap(spec));
    let goals: Vec<String> = requirement.demand.goals().iter().map(each).collect();
    format!("{} {}", requirement.cite.split(", ").next().unwrap_or_default(), goals.join(", "))
}

/// The part of a region that tells questions apart; a band may differ from standing to standing.
fn overlap(spec: &GoalSpec) -> Option<&Region> {
    spec.region.as_ref().filter(|r| !matches!(r, Region::Band(_)))
}

/// Standings of one question that leave days out, or hold on the same days.
fn days(set: &RuleSet) -> Vec<Diagnostic> {
    let mut questions: BTreeMap<String, Vec<&Requirement>> = BTreeMap::new();
    for requirement in &set.requirements {
        questions.entry(question(requirement)).or_default().push(requirement);
    }
    let mut wrong = Vec::new();
    for mut standings in questions.into_values() {
        if standings.iter().all(|r| r.in_force == InForce::default()) {
            continue;
        }
        standings.sort_by_key(|r| r.in_force.from.map(|d| d.first));
        for pair in standings.windows(2) {
            if let [before, after] = pair {
                wrong.extend(between(before, after));
            }
        }
    }
    wrong
}

fn between(before: &Requirement, after: &Requirement) -> Option<Diagnostic> {
    let told = |message: String, instead: &str| {
        let said = Diagnostic::new(Code::Contradiction, &after.at, message, instead);
        Some(said.related(&before.at, "the standing before"))
    };
    let (one, two) = (&before.id, &after.id);
    match (before.in_force.until, after.in_force.from) {
        (Some(until), Some(from)) if until == from => None,
        (Some(until), Some(from)) if until.last < from.first => told(
            format!("from {until} until {from} neither `{one}` nor `{two}` holds"),
            "let one begin where the other ends",
        ),
        (until, from) => {
            let day = from.or(until).map_or_else(|| "every day".to_string(), |d| format!("days about {d}"));
            told(format!("on {day} both `{one}` and `{two}` hold"), "let one begin where the other ends")
        }
    }
}

/// Colours that no light has.
fn colours(spec: &GoalSpec) -> Vec<Diagnostic> {
    let Limit::Inside(colours) = &spec.limit else { return Vec::new() };
    let empty = colours.iter().filter(|c| is_empty(&c.region));
    empty
        .map(|c| {
            let message = format!("no chromaticity meets all the conditions of `{}`", c.name);
            Diagnostic::new(Code::Contradiction, &spec.at, message, "check the signs of its conditions")
        })
        .collect()
}

/// Steps along x and y in which a region is looked for; published regions are ten times as wide.
const STEPS: u32 = 200;

fn is_empty(region: &ColourRegion) -> bool {
    let at = |k: u32| f64::from(k) / f64::from(STEPS);
    let inside = |x: f64, y: f64| region.conditions().iter().all(|c| c.slack(Chromaticity { x, y }) >= 0.0);
    !(0..=STEPS).any(|i| (0..=STEPS - i).any(|j| inside(at(i), at(j))))
}

/// Tables that do not reach as far as the region they are a floor for.
fn short_tables(spec: &GoalSpec) -> Vec<Diagnostic> {
    let mut wrong = Vec::new();
    let mut check = |table: &Table, (from, to): (f64, f64)| wrong.extend(short(table, from, to, &spec.at));
    match (&spec.limit, &spec.region) {
        (Limit::FloorByElevation(table), Some(Region::Band(band))) => {
            check(table, (0.0, band.low.abs().max(band.high.abs())));
        }
        (Limit::Floor { by_azimuth, .. }, Some(Region::Dihedral(angle))) => {
            let range = match angle {
                DihedralAngle::L | DihedralAngle::R => (0.0, 110.0),
                DihedralAngle::A => (110.0, 180.0),
                DihedralAngle::Round => (0.0, 180.0),
            };
            check(by_azimuth, range);
        }
        _ => {}
    }
    wrong
}

fn short(table: &Table, from_deg: f64, to_deg: f64, at: &At) -> Option<Diagnostic> {
    let (first, last) = (table.rows.first()?, table.rows.last()?);
    if first.from_deg <= from_deg && last.to_deg >= to_deg {
        return None;
    }
    let message = format!(
        "the table `{}` runs from {} to {} deg and the region from {from_deg} to {to_deg}",
        table.name, first.from_deg, last.to_deg
    );
    Some(Diagnostic::new(Code::Contradiction, at, message, "add the rows that are missing, or make the region smaller"))
}
