//! From a model and its goals to the evidence behind a report.

mod colours;
mod lamps;
mod lights;
mod night;
mod polar;
mod sphere;
mod timing;
mod views;

pub use lights::{Shown, lights};
pub use night::Observer;

use super::documentation::{Documentation, Method};
use super::evidence::{About, Figure, MarginRow, Shape};
use super::{GoalReport, Report, build};
use crate::aircraft::Aircraft;
use crate::judge::Verdict;
use crate::resolve::{Candidate, Goal, Tree, goals};
use crate::rules::Unit;
use crate::scene::{Readings, Scene};

/// Judges a model by rule sets and gathers the report and the evidence behind it.
#[must_use]
pub fn document(
    aircraft: &Aircraft,
    candidates: &[Candidate<'_>],
    only: &[String],
    observer: Observer,
    method: Method,
) -> Documentation {
    let report = build(aircraft, candidates, only);
    let full_size: Vec<&Candidate<'_>> = candidates.iter().filter(|c| !c.is_local()).collect();
    // As the first of the sets reads open points, so do the figures.
    let Some(first) = full_size.first().copied().or(candidates.first()) else {
        return Documentation::bare(report, aircraft.entry.clone(), method);
    };
    let scene = Scene::new(aircraft, Readings::of(first.set));
    let mut asked: Vec<Goal<'_>> = Vec::new();
    for candidate in full_size.iter().filter(|c| c.binding) {
        goals(candidate, &scene).into_iter().for_each(|tree| flatten(tree, &mut asked));
    }
    let rows = lamps::rows(&scene, &report);
    let lights = lights(aircraft);
    let mut figures: Vec<Figure> = lights.iter().flat_map(|light| of_light(light, &scene, &asked, &report)).collect();
    figures.extend(colours::figure_of(&scene, &asked, &report));
    let timing = timing::strip(&scene);
    if !timing.tracks.is_empty() {
        figures.push(figure("timing", About::Timing, &[], Shape::Timing(timing.clone())));
    }
    figures.extend(margins(&report));
    Documentation {
        entry: aircraft.entry.clone(),
        views: views::three(&scene, &lights, &asked, &rows),
        night: night::seen(&scene, &rows, observer),
        lamps: rows,
        timing,
        figures,
        method,
        report,
    }
}

fn flatten<'a>(tree: Tree<'a>, into: &mut Vec<Goal<'a>>) {
    match tree {
        Tree::One(goal) => into.push(*goal),
        Tree::Any { alternatives, .. } => alternatives.into_iter().flatten().for_each(|t| flatten(t, into)),
    }
}

/// The figures of a light that anything is asked of in some direction.
fn of_light(light: &Shown, scene: &Scene<'_>, asked: &[Goal<'_>], report: &Report) -> Vec<Figure> {
    let own: Vec<&Goal<'_>> =
        asked.iter().filter(|g| !g.lamps.is_empty() && g.lamps.iter().all(|n| light.lamps.contains(n))).collect();
    let worst = sphere::worst(light, scene, report);
    let Some(around) = polar::around(light, scene, &own, worst.first().map(|(az, el, _)| (*az, *el))) else {
        return Vec::new();
    };
    let cites = cites(&own);
    let (name, effective) = (light.name.to_string(), light.effective);
    let about = |plane| match plane {
        None => About::Horizon { light: name.clone(), effective },
        Some(azimuth_deg) => About::Upright { light: name.clone(), effective, azimuth_deg },
    };
    let slug = light.slug();
    vec![
        figure(&format!("{slug}-horizon"), about(None), &cites, Shape::Polar(around.horizon)),
        figure(&format!("{slug}-upright"), about(Some(around.azimuth_deg)), &cites, Shape::Polar(around.upright)),
        figure(
            &format!("{slug}-sphere"),
            About::Sphere { light: name.clone() },
            &cites,
            Shape::Sphere(sphere::map(light, scene, &own, worst)),
        ),
    ]
}

fn figure(id: &str, about: About, cites: &[String], shape: Shape) -> Figure {
    Figure { id: id.to_string(), about, cites: cites.to_vec(), shape }
}

/// The paragraphs of some goals, each once, with their rule set.
fn cites(goals: &[&Goal<'_>]) -> Vec<String> {
    let mut cites: Vec<String> = Vec::new();
    for goal in goals {
        let cite = format!("{} {}", goal.set.id, goal.requirement.cite);
        if !cites.contains(&cite) {
            cites.push(cite);
        }
    }
    cites
}

/// The margins of all goals, those of one unit together and the missed first, so many a figure that each fits a page.
fn margins(report: &Report) -> Vec<Figure> {
    const A_PAGE: usize = 36;
    let rank = |v: Verdict| match v {
        Verdict::Missed => 0,
        Verdict::CannotTell => 1,
        Verdict::Met => 2,
        Verdict::NotApplicable => 3,
    };
    let mut rows: Vec<MarginRow> = report.goals.iter().map(margin_row).collect();
    let place = |row: &MarginRow| (row.margin.is_none(), row.unit.clone(), rank(row.verdict));
    rows.sort_by_key(place);
    let each = |(n, rows): (usize, &[MarginRow])| {
        figure(&format!("margins-{}", n + 1), About::Margins, &[], Shape::Margins(rows.to_vec()))
    };
    rows.chunks(A_PAGE).enumerate().map(each).collect()
}

fn margin_row(goal: &GoalReport) -> MarginRow {
    MarginRow {
        goal: (goal.rule_set.clone(), goal.id.clone()),
        title: goal.title.clone(),
        cite: goal.citation.clone(),
        verdict: goal.verdict,
        margin: goal.margin,
        unit: goal.margin_unit.map(|unit: Unit| unit.symbol().to_string()),
    }
}
