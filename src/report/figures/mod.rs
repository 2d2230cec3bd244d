//! From a model and its goals to the evidence behind a report.

mod colours;
mod envelope;
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
use crate::measure::Measured;
use crate::resolve::{Candidate, Goal, GoalState, Tree, goals};
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
        goals(candidate, &scene).into_iter().for_each(|tree| asked.extend(standing(tree, &report)));
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

/// The goals of a tree that are asked: of several ways to meet a requirement, those of the way that stands for it in the report.
fn standing<'a>(tree: Tree<'a>, report: &Report) -> Vec<Goal<'a>> {
    match tree {
        Tree::One(goal) => Some(*goal).filter(|g| g.state == GoalState::Measure).into_iter().collect(),
        Tree::Any { id, alternatives } => {
            let ways = alternatives.into_iter().map(|way| way.into_iter().flat_map(|t| standing(t, report)).collect());
            let mut ways: Vec<Vec<Goal<'a>>> = ways.collect();
            let stands = |way: &Vec<Goal<'a>>| {
                let of = |g: &Goal<'_>| {
                    report.goals.iter().any(|r| r.id == id && r.rule_set == g.set.id && r.title == g.title)
                };
                way.iter().any(of)
            };
            ways.iter().position(stands).map_or_else(Vec::new, |n| ways.swap_remove(n))
        }
    }
}

/// The figures of a light that anything is asked of in some direction.
fn of_light(light: &Shown, scene: &Scene<'_>, asked: &[Goal<'_>], report: &Report) -> Vec<Figure> {
    let own: Vec<&Goal<'_>> =
        asked.iter().filter(|g| !g.lamps.is_empty() && g.lamps.iter().all(|n| light.lamps.contains(n))).collect();
    let worst = sphere::worst(light, scene, report);
    let shines = polar::Light::new(light, scene);
    let cites = cites(&own);
    let name = light.name.to_string();
    let slug = light.slug();
    let mut figures: Vec<Figure> = Vec::new();
    for around in polar::around(&shines, scene, &own, &worst) {
        let (light, measured, azimuth_deg) = (name.clone(), around.measured, around.azimuth_deg);
        let suffix = match measured {
            Measured::Mean => "",
            Measured::FullLevel => "-kept-on",
            Measured::Effective => "-effective",
        };
        figures.push(figure(
            &format!("{slug}-horizon{suffix}"),
            About::Horizon { light: light.clone(), measured },
            &cites,
            Shape::Polar(around.horizon),
        ));
        let about = About::Upright { light, measured, azimuth_deg };
        figures.push(figure(&format!("{slug}-upright{suffix}"), about, &cites, Shape::Polar(around.upright)));
    }
    if !figures.is_empty() {
        let map = sphere::map(light, &shines, scene, &own, worst);
        figures.push(figure(&format!("{slug}-sphere"), About::Sphere { light: name }, &cites, Shape::Sphere(map)));
    }
    figures
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
    let parts = rows.len().div_ceil(A_PAGE);
    let each = |(n, rows): (usize, &[MarginRow])| {
        let about = About::Margins { part: n + 1, parts };
        figure(&format!("margins-{}", n + 1), about, &[], Shape::Margins(rows.to_vec()))
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
