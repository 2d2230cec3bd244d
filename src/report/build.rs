//! From goals and verdicts to a report.

use super::*;
use crate::aircraft::{Aircraft, LitLamp, PhaseLights, Scale};
use crate::geometry::Mesh;
use crate::judge::{Judgement, judge};
use crate::measure::{CannotTell, Finding, measure};
use crate::resolve::{Candidate, Goal, GoalState, Tree, goals};
use crate::rules::{ChosenBy, Holds, Light, LightGroup, ParagraphStatus, RuleSet, show_range};
use crate::scene::{Readings, Scene};
use crate::spread::spread;
use std::collections::BTreeSet;

/// Judges a model by rule sets and gathers the report; `only` keeps goals whose id or rule set holds one of the words.
#[must_use]
pub fn build(aircraft: &Aircraft, candidates: &[Candidate<'_>], only: &[String]) -> Report {
    let (of_the_site, full_size): (Vec<_>, Vec<_>) = candidates.iter().cloned().partition(Candidate::is_local);
    let candidates = full_size.as_slice();
    let scenes = Scenes::of(aircraft, candidates, false);
    let mut looked_at: BTreeSet<usize> = BTreeSet::new();
    let by_candidate = judged(candidates, &scenes, only, &mut looked_at);
    let heads = candidates.iter().zip(&by_candidate).map(|(candidate, reports)| head(candidate, reports)).collect();
    let goals = agreed(candidates, by_candidate);
    let verdicts = |binding: bool| goals.iter().filter(move |g| !binding || g.binding).map(|g| g.verdict);
    let (required, all) = (Tally::of(verdicts(true)), Tally::of(verdicts(false)));
    let lamp_names = |keep: &dyn Fn(usize) -> bool| -> Vec<String> {
        aircraft.lamps.iter().enumerate().filter(|(n, _)| keep(*n)).map(|(_, l)| l.name.clone()).collect()
    };
    let local = |n: usize| aircraft.lamps.get(n).is_some_and(|l| l.required_by.is_some());
    Report {
        aircraft: aircraft_head(aircraft),
        rule_sets: heads,
        goals,
        local_rules: local_rules(aircraft, &of_the_site, only, &mut looked_at),
        no_local_rule: aircraft.craft.flown_in.filter(|_| of_the_site.is_empty()).map(|place| place.to_string()),
        phases: phases(aircraft),
        lamps_unjudged: lamp_names(&|n| !looked_at.contains(&n) && !local(n)),
        local_rule_lamps: lamp_names(&local),
        required,
        all,
        cautions: cautions(aircraft, scenes.all.last()),
        notice: LOCAL_RULES.to_string(),
        has_baseline: false,
        strict: false,
    }
}

/// The goals of each candidate, judged on every core.
fn judged(
    candidates: &[Candidate<'_>],
    scenes: &Scenes<'_>,
    only: &[String],
    looked_at: &mut BTreeSet<usize>,
) -> Vec<Vec<GoalReport>> {
    let mut work = Work::default();
    let lists: Vec<Vec<usize>> = candidates
        .iter()
        .map(|candidate| {
            let scene = scenes.number_for(candidate.set);
            let mut trees = scenes.all.get(scene).map_or_else(Vec::new, |s| goals(candidate, s));
            trees.iter().for_each(|tree| collect_lamps(tree, looked_at));
            trees.retain(|tree| wanted(tree, only));
            trees.into_iter().map(|tree| work.add(scene, tree)).collect()
        })
        .collect();
    let judged =
        spread(&work.items, |(scene, tree)| scenes.all.get(*scene).map_or_else(Vec::new, |s| judge_tree(tree, s)));
    let of = |(candidate, list): (&Candidate<'_>, &Vec<usize>)| {
        let reports = list.iter().filter_map(|n| judged.get(*n)).flatten();
        reports.map(|g| GoalReport { binding: candidate.binding, ..g.clone() }).collect()
    };
    candidates.iter().zip(&lists).map(of).collect()
}

/// The local rules, held against the model as it is: at its own size, with every lamp it has.
fn local_rules(
    aircraft: &Aircraft,
    candidates: &[Candidate<'_>],
    only: &[String],
    looked_at: &mut BTreeSet<usize>,
) -> Vec<LocalRule> {
    let mut itself = Aircraft { scale: Scale::FULL_SIZE, ..aircraft.clone() };
    itself.craft.fitted = itself.lamps.iter().map(|l| l.light).collect();
    let scenes = Scenes::of(&itself, candidates, true);
    let by_candidate = judged(candidates, &scenes, only, looked_at);
    let rule = |(candidate, goals): (&Candidate<'_>, Vec<GoalReport>)| LocalRule {
        head: head(candidate, &goals),
        since: candidate.set.basis.as_ref().and_then(|b| b.in_force.from).map(|d| d.to_string()),
        goals,
    };
    candidates.iter().zip(by_candidate).map(rule).collect()
}

fn phases(aircraft: &Aircraft) -> Vec<PhaseReport> {
    let lamp = |lit: &LitLamp| {
        let channel = lit.channel.and_then(|c| aircraft.channels.get(c)).map(|c| c.name.clone());
        aircraft.lamps.get(lit.lamp).map(|l| (l.name.clone(), channel))
    };
    let phase = |p: &PhaseLights| PhaseReport {
        phase: p.phase,
        lit: p.lit.iter().filter_map(lamp).collect(),
        summary: summary(aircraft, p),
    };
    aircraft.phases.iter().map(phase).collect()
}

/// The lights of which every lamp is lit as ever, by name, the three position lights as one; else lamp by lamp.
fn summary(aircraft: &Aircraft, phase: &PhaseLights) -> Vec<String> {
    let lit = |n: usize| phase.lit.iter().find(|l| l.lamp == n);
    let as_ever = |n: &usize| lit(*n).is_some_and(|l| l.channel.is_none());
    let numbers = |keep: &dyn Fn(Light) -> bool| -> Vec<usize> {
        (0..aircraft.lamps.len()).filter(|n| aircraft.lamps.get(*n).is_some_and(|l| keep(l.light))).collect()
    };
    let position = numbers(&|light| LightGroup::Position.holds(light));
    let whole = position.iter().all(as_ever) && !position.is_empty();
    let mut words: Vec<String> = if whole { vec![LightGroup::Position.to_string()] } else { Vec::new() };
    for (n, lamp) in aircraft.lamps.iter().enumerate() {
        if whole && position.contains(&n) {
            continue;
        }
        let Some(found) = lit(n) else { continue };
        let word = match found.channel.and_then(|c| aircraft.channels.get(c)) {
            Some(channel) => format!("{} on {}", lamp.name, channel.name),
            None if numbers(&|light| light == lamp.light).iter().all(as_ever) => lamp.light.to_string(),
            None => lamp.name.clone(),
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words
}

/// A scene for each way in which rule sets read open points: one for most models.
struct Scenes<'a> {
    all: Vec<Scene<'a>>,
}

impl<'a> Scenes<'a> {
    fn of(aircraft: &'a Aircraft, candidates: &[Candidate<'_>], with_local: bool) -> Self {
        let mut all: Vec<Scene<'a>> = Vec::new();
        for candidate in candidates {
            let readings = Readings::of(candidate.set);
            if !all.iter().any(|s| s.readings == readings) {
                let scene = Scene::new(aircraft, readings);
                all.push(if with_local { scene.with_local_lamps() } else { scene });
            }
        }
        Self { all }
    }

    fn number_for(&self, set: &RuleSet) -> usize {
        let readings = Readings::of(set);
        self.all.iter().position(|s| s.readings == readings).unwrap_or(0)
    }
}

/// What is to be judged, each goal once: standings of a document share most of theirs.
#[derive(Default)]
struct Work<'a> {
    items: Vec<(usize, Tree<'a>)>,
}

impl<'a> Work<'a> {
    /// The number of a goal's work.
    fn add(&mut self, scene: usize, tree: Tree<'a>) -> usize {
        let known = self.items.iter().position(|(s, t)| *s == scene && t.is_same(&tree));
        known.unwrap_or_else(|| {
            self.items.push((scene, tree));
            self.items.len() - 1
        })
    }
}

/// Whether one of the words is part of a goal's id or paragraph, or names its rule set; no words ask for all.
fn wanted(tree: &Tree<'_>, only: &[String]) -> bool {
    let asked = |goal: &Goal<'_>| {
        only.iter().any(|word| {
            goal.id.contains(word.as_str()) || goal.set.id == *word || goal.requirement.cite.contains(word.as_str())
        })
    };
    only.is_empty()
        || match tree {
            Tree::One(goal) => asked(goal),
            Tree::Any { alternatives, .. } => alternatives.iter().flatten().any(|t| wanted(t, only)),
        }
}

fn aircraft_head(aircraft: &Aircraft) -> AircraftHead {
    let craft = &aircraft.craft;
    let parts = [
        craft.category.map(|c| c.to_string()),
        craft.authority.map(|a| a.to_string()),
        craft.applied.map(|d| format!("applied for {d}")),
        craft.first_flight.filter(|_| craft.applied.is_none()).map(|d| format!("first flown {d}")),
        craft.judge_by.clone().map(|id| format!("judged by {id}")),
    ];
    AircraftHead {
        title: aircraft.title.clone(),
        scale: aircraft.scale.n(),
        file: aircraft.at.file.to_string(),
        prototype: parts.into_iter().flatten().collect::<Vec<_>>().join(", "),
        airframe: aircraft.airframe.as_ref().map(|airframe| of_mesh(airframe.mesh())),
    }
}

/// A mesh in a few words: how large, and what of it is out of order. What it hides does not depend on that.
fn of_mesh(mesh: &Mesh) -> String {
    let state = mesh.state();
    let closed = state.open_edges == 0 && state.crowded_edges == 0;
    let told = [
        (state.degenerate, "without area left out"),
        (state.doubled, "doubled left out"),
        (state.t_joints, "corners on edges of others joined"),
        (state.open_edges, "open edges"),
        (state.crowded_edges, "edges of three or more"),
    ];
    let told = told.into_iter().filter(|(count, _)| *count > 0).map(|(count, what)| format!(", {count} {what}"));
    let inwards = if closed && mesh.signed_volume() > 0.0 { ", surface that faces inwards" } else { "" };
    format!("{} triangles{}{inwards}", mesh.triangle_count(), told.collect::<String>())
}

fn head(candidate: &Candidate<'_>, reports: &[GoalReport]) -> RuleSetHead {
    let set = candidate.set;
    let unchecked = set
        .paragraphs
        .iter()
        .filter(|p| p.status != ParagraphStatus::Checked && !matches!(p.in_force.on(candidate.days), Holds::No(_)))
        .map(|p| [p.section.clone(), p.about.clone(), p.status.to_string()])
        .collect();
    RuleSetHead {
        id: set.id.clone(),
        title: set.title.clone(),
        document: set.document.name.clone(),
        kind: set.kind,
        standing_at: if set.basis.is_some() { candidate.days.to_string() } else { "any date".to_string() },
        why: candidate.why.clone(),
        beside: candidate.beside.clone(),
        tally: Tally::of(reports.iter().map(|g| g.verdict)),
        unchecked,
    }
}

fn collect_lamps(tree: &Tree<'_>, into: &mut BTreeSet<usize>) {
    match tree {
        Tree::One(goal) => into.extend(&goal.lamps),
        Tree::Any { alternatives, .. } => alternatives.iter().flatten().for_each(|t| collect_lamps(t, into)),
    }
}

/// Whether goals of two standings ask the same of the same lamps under ids of their day.
fn same_question(a: &GoalReport, b: &GoalReport) -> bool {
    fn part(goal: &GoalReport) -> &str {
        goal.id.split_once('/').map_or("", |(_, part)| part)
    }
    a.light == b.light && a.quantity == b.quantity && a.lamps == b.lamps && part(a) == part(b)
}

/// One list of goals: where the candidates of a rule set disagree, a goal cannot be told.
fn agreed(candidates: &[Candidate<'_>], by_candidate: Vec<Vec<GoalReport>>) -> Vec<GoalReport> {
    let mut merged: Vec<GoalReport> = Vec::new();
    let mut told: BTreeSet<(String, String)> = BTreeSet::new();
    for (candidate, reports) in candidates.iter().zip(&by_candidate) {
        let of_set: Vec<_> = candidates.iter().zip(&by_candidate).filter(|(c, _)| c.is_rival_of(candidate)).collect();
        for report in reports {
            if told.contains(&key(report)) {
                continue;
            }
            let found: Vec<Option<&GoalReport>> = of_set.iter().map(|(_, list)| twin(list, report, reports)).collect();
            told.extend(found.iter().flatten().map(|g| key(g)));
            let same = found.iter().all(|g| g.is_some_and(|g| g.verdict == report.verdict));
            let decided = |g: &&GoalReport| matches!(g.verdict, Verdict::Met | Verdict::Missed);
            // The newest that shows a figure stands for all.
            let open = |g: &&GoalReport| g.verdict == Verdict::CannotTell;
            let newest = found.iter().rev().copied().flatten().find(decided);
            // What does not apply at one standing and cannot be told at another cannot be told.
            let mut whole = newest.or_else(|| found.iter().copied().flatten().find(open)).unwrap_or(report).clone();
            if !same && decided(&&whole) {
                whole.reason = Some(if of_set.iter().any(|(c, _)| c.refit) {
                    refitted(whole.verdict)
                } else {
                    which_rule(date_key(candidate), Some(whole.verdict))
                });
                whole.verdict = Verdict::CannotTell;
            }
            merged.push(whole);
        }
    }
    merged
}

fn key(goal: &GoalReport) -> (String, String) {
    (goal.rule_set.clone(), goal.id.clone())
}

/// The goal of a standing that asks what this one of another standing asks: by its id, or, where neither standing knows
/// the other's id, by what it asks.
fn twin<'r>(list: &'r [GoalReport], report: &GoalReport, beside: &[GoalReport]) -> Option<&'r GoalReport> {
    let of_its_day = |g: &&GoalReport| same_question(g, report) && !beside.iter().any(|b| b.id == g.id);
    list.iter().find(|g| g.id == report.id).or_else(|| list.iter().find(of_its_day))
}

/// The date that chooses among the standings of a document.
fn date_key(candidate: &Candidate<'_>) -> &'static str {
    match candidate.set.basis.as_ref().map(|b| b.chosen_by) {
        Some(ChosenBy::Depicted) => "prototype.depicted",
        _ => "prototype.applied",
    }
}

fn refitted(would_be: Verdict) -> Reason {
    Reason {
        kind: "which rule",
        text: format!(
            "it may be lit as certificated or as refitted by the date shown; as one of them it would be {would_be}"
        ),
        add: vec![(
            "prototype.depicted".to_string(),
            "leave it out to judge the craft as certificated, or put its date into `applied` to judge it as refitted"
                .to_string(),
        )],
    }
}

fn which_rule(key: &str, would_be: Option<Verdict>) -> Reason {
    let would = would_be.map_or(String::new(), |v| format!("; under this standing it would be {v}"));
    Reason {
        kind: "which rule",
        text: format!("the dates given leave open which standing of the rules holds{would}"),
        add: vec![(key.to_string(), "give it more exactly".to_string())],
    }
}

/// Whether a goal is asked depends on something the file does not say.
fn unsaid(key: &str) -> Reason {
    Reason {
        kind: "missing input",
        text: format!("whether this is asked depends on `{key}`, which is not said"),
        add: vec![(key.to_string(), "say it in the file".to_string())],
    }
}

fn judge_tree(tree: &Tree<'_>, scene: &Scene<'_>) -> Vec<GoalReport> {
    match tree {
        Tree::One(goal) => vec![judge_goal(goal, scene)],
        Tree::Any { id, alternatives } => any_of(id, alternatives, scene).into_iter().collect(),
    }
}

/// Several ways to meet a requirement: the best one that applies stands for it, and the others are named.
fn any_of(id: &str, alternatives: &[Vec<Tree<'_>>], scene: &Scene<'_>) -> Option<GoalReport> {
    let judged: Vec<Vec<GoalReport>> =
        alternatives.iter().map(|group| group.iter().flat_map(|t| judge_tree(t, scene)).collect()).collect();
    // Where nothing applies the requirement as a whole does not.
    let applies = judged.iter().flatten().any(|g| g.verdict != Verdict::NotApplicable);
    let mut worst_of_each: Vec<GoalReport> = judged
        .into_iter()
        .filter_map(|group| {
            let parts = group.len();
            let whole = group.into_iter().map(|part| if applies && parts > 1 { as_part(part) } else { part });
            whole.min_by_key(|g| rank(g.verdict))
        })
        .collect();
    worst_of_each.sort_by_key(|g| match g.verdict {
        Verdict::Met => 0,
        Verdict::CannotTell => 1,
        Verdict::Missed => 2,
        // A way that does not apply is no way to meet it: it stands only where no other does.
        Verdict::NotApplicable => 3,
    });
    let (best, others) = worst_of_each.split_first()?;
    let mut best = best.clone();
    best.readings.extend(others.iter().map(|o| format!("or {}: {}", o.title, o.verdict)));
    best.id = id.to_string();
    Some(best)
}

/// A goal as part of a way to meet a requirement: a way that speaks of a light the model does not have is not gone.
fn as_part(part: GoalReport) -> GoalReport {
    if part.verdict != Verdict::NotApplicable || !part.lamps.is_empty() {
        return part;
    }
    let required =
        RequiredFigure { text: format!("a {} light", part.light), full_size: None, at_scale: None, unit: None };
    let text = part.reason.as_ref().map_or_else(String::new, |r| r.text.clone());
    let found = Found { interval: None, unit: Unit::Lamps, text, at: None, at_scale: None };
    GoalReport { verdict: Verdict::Missed, reason: None, required: Some(required), found: Some(found), ..part }
}

/// How bad a verdict is within a group that must be met whole; what does not apply weighs least.
fn rank(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Missed => 0,
        Verdict::CannotTell => 1,
        Verdict::Met => 2,
        Verdict::NotApplicable => 3,
    }
}

fn judge_goal(goal: &Goal<'_>, scene: &Scene<'_>) -> GoalReport {
    match &goal.state {
        GoalState::NotApplicable(why) => {
            let reason = Reason { kind: "not applicable", text: why.clone(), add: Vec::new() };
            GoalReport { verdict: Verdict::NotApplicable, reason: Some(reason), ..blank(goal, scene) }
        }
        GoalState::Unknown(key) => {
            let dated = ["prototype.applied", "prototype.depicted", "prototype.certificated"].contains(&key.as_str());
            let reason = if dated { which_rule(key, None) } else { unsaid(key) };
            GoalReport { verdict: Verdict::CannotTell, reason: Some(reason), ..blank(goal, scene) }
        }
        GoalState::Measure => measured(goal, scene),
    }
}

fn blank(goal: &Goal<'_>, scene: &Scene<'_>) -> GoalReport {
    let lamps: Vec<_> = goal.lamps.iter().filter_map(|n| scene.aircraft.lamps.get(*n)).collect();
    GoalReport {
        id: goal.id.clone(),
        rule_set: goal.set.id.clone(),
        citation: goal.requirement.cite.clone(),
        title: goal.title.clone(),
        kind: goal.requirement.kind,
        binding: false,
        light: goal.spec.light.to_string(),
        lamps: lamps.iter().map(|l| l.name.clone()).collect(),
        quantity: goal.spec.quantity.value.clone(),
        required: None,
        found: None,
        margin: None,
        margin_unit: None,
        verdict: Verdict::CannotTell,
        reason: None,
        to_meet: None,
        rests_on: rests_on(goal, false, None),
        readings: Vec::new(),
        location: lamps.first().map_or_else(|| scene.aircraft.at.clone(), |l| l.places.name.clone()),
        related: goal.requirement.at.clone(),
        known: false,
    }
}

fn rests_on(goal: &Goal<'_>, relieved: bool, input: Option<Origin>) -> RestsOn {
    RestsOn {
        rule: goal.spec.standing(&goal.requirement.standing, goal.row.as_ref(), relieved),
        unverified: goal.set.unverified.clone(),
        input,
    }
}

fn measured(goal: &Goal<'_>, scene: &Scene<'_>) -> GoalReport {
    let result = measure(goal, scene);
    let Judgement { verdict, reason, notes } = judge(&result);
    let mut report = GoalReport { verdict, ..blank(goal, scene) };
    match result {
        Ok(finding) => {
            report.reason = reason.map(|_| within_bounds(&finding));
            // Where a part of known bin would meet it, that is said instead of what to measure.
            if let (Some(reason), Some(_)) = (&mut report.reason, &finding.to_meet) {
                reason.add.retain(|(key, _)| !key.ends_with(".emitter"));
            }
            report.readings = finding.notes.iter().cloned().chain(notes).collect();
            if verdict != Verdict::Met {
                let excuse = goal.spec.may_be_excused.iter();
                report.readings.extend(excuse.map(|by| format!("might be excused by {by}")));
                report.to_meet = finding.to_meet.clone();
            }
            report.rests_on = rests_on(goal, finding.relieved, Some(finding.origin));
            report.location = finding.blame.clone();
            // A side told by the aim alone has no distance to print.
            report.margin = finding.found.map(|_| finding.margin);
            report.margin_unit = finding.margin_unit;
            report.required = Some(required(&finding, scene));
            report.found = Some(found(&finding, scene));
        }
        Err(why) => {
            if let CannotTell::MissingInput(missing) = &why {
                report.location = missing.at.clone();
            }
            report.reason = Some(reason_of(why));
        }
    }
    report
}

fn within_bounds(finding: &Finding) -> Reason {
    let helps = |cause: &&crate::scene::Cause| !finding.causes.iter().any(|other| other.outweighs(cause));
    let mut add: Vec<(String, String)> =
        finding.causes.iter().filter(helps).filter_map(crate::scene::Cause::remedy).collect();
    add.dedup();
    let causes: Vec<String> = finding.causes.iter().filter(helps).map(ToString::to_string).collect();
    let text = if causes.is_empty() { "the limit lies within what it may be".to_string() } else { causes.join("; ") };
    Reason { kind: "within bounds", text, add }
}

fn reason_of(why: CannotTell) -> Reason {
    match why {
        CannotTell::MissingInput(missing) => Reason {
            kind: "missing input",
            text: format!("the file does not say {}", missing.what),
            add: vec![(missing.key, missing.what)],
        },
        CannotTell::NotAtHand(place) => Reason {
            kind: "figure not at hand",
            text: format!("the figure was not at hand; {place} has it"),
            add: Vec::new(),
        },
        CannotTell::Beyond(text) => Reason { kind: "figure not at hand", text, add: Vec::new() },
        CannotTell::NotAsked(text) => Reason { kind: "not applicable", text, add: Vec::new() },
        CannotTell::WhichRule(key) => which_rule(&key, None),
        CannotTell::WithinBounds => {
            Reason { kind: "within bounds", text: "the limit lies within what it may be".to_string(), add: Vec::new() }
        }
    }
}

fn required(finding: &Finding, scene: &Scene<'_>) -> RequiredFigure {
    let figure = finding.required.full_size;
    let scaled = figure.filter(|_| finding.required.scales).map(|f| f.value / scene.scale().intensity());
    RequiredFigure {
        text: finding.required.text.clone(),
        full_size: figure.map(|f| f.value),
        at_scale: scaled,
        unit: figure.map(|f| f.unit),
    }
}

fn found(finding: &Finding, scene: &Scene<'_>) -> Found {
    let range = |i: Interval| show_range(i, finding.unit);
    let text = finding.found_text.clone().or_else(|| finding.found.map(range)).unwrap_or_default();
    let at_scale =
        finding.found.filter(|_| finding.unit == Unit::Candela).map(|i| i.scaled(1.0 / scene.scale().intensity()));
    Found { interval: finding.found, unit: finding.unit, text, at: finding.at.clone(), at_scale }
}
