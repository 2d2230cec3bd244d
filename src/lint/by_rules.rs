//! Goals a sequence can answer by itself: requirements cut down to what channels alone tell, and the channels as lamps.

use crate::aircraft::{Aim, Aircraft, Channel, Emitter, Lamp, LampPlaces, Scale};
use crate::judge::{Verdict, judge};
use crate::measure::{Finding, find, measure};
use crate::resolve::{Candidate, Goal, GoalState, Tree, goals};
use crate::rules::{
    Dates, Demand, Each, GoalSpec, InForce, Light, Requirement, RuleKind, RuleSet, Sources, When, show_range,
};
use crate::scene::{Readings, Scene};
use crate::source::At;

/// A channel with the light it drives, and the lamp or the pattern to blame.
pub(super) struct Driven<'a> {
    pub channel: &'a Channel,
    pub light: Light,
    pub at: &'a At,
}

/// Channels as the lamps of a model of which nothing else is known.
pub(super) fn stand_in(driven: &[Driven<'_>]) -> Aircraft {
    let mut model = Aircraft::new("", Scale::FULL_SIZE);
    for one in driven {
        let same = model.channels.iter().position(|c| c.name == one.channel.name);
        let channel = same.unwrap_or_else(|| model.add_channel(one.channel.clone()));
        let emitter = Emitter::unknown("", one.at);
        let mut lamp = Lamp::new(&one.channel.name, one.light, Aim::from_degrees(0.0, 0.0), emitter);
        lamp.channel = Some(channel);
        lamp.places = LampPlaces { pattern: one.at.clone(), name: one.at.clone(), ..LampPlaces::nowhere() };
        model.lamps.push(lamp);
    }
    model.craft.fitted = model.fitted();
    model
}

/// What of a rule set a sequence can answer: as it stands today, for whatever craft.
pub(super) fn answerable(set: &RuleSet) -> RuleSet {
    let newest = set.requirements.iter().filter(|r| r.in_force.until.is_none());
    let requirements = newest.filter_map(|r| {
        let when = When { fitted: r.when.fitted.clone(), ..When::default() };
        // The newest standing is asked for, so its first day does not leave open whether it holds.
        let in_force = InForce::default();
        Some(Requirement { demand: cut(&r.demand)?, when, in_force, ..r.clone() })
    });
    RuleSet { requirements: requirements.collect(), ..set.clone() }
}

fn cut(demand: &Demand) -> Option<Demand> {
    match demand {
        Demand::Goal(spec) => of_channels(spec).map(|spec| Demand::Goal(Box::new(spec))),
        Demand::AllOf(list) => {
            let kept: Vec<Demand> = list.iter().filter_map(cut).collect();
            (!kept.is_empty()).then_some(Demand::AllOf(kept))
        }
        // Of alternatives one that needs the model may be the one that is met.
        Demand::AnyOf(_) => None,
    }
}

fn of_channels(spec: &GoalSpec) -> Option<GoalSpec> {
    let quantity = spec.quantity.value.as_str();
    if find(quantity).is_some_and(|q| q.is_of_channels()) {
        return Some(spec.clone());
    }
    // What a whole system shows from somewhere is, where one source is seen, what that channel does by itself.
    (quantity == "flash frequency seen" && spec.sources != Some(Sources::Several)).then(|| {
        let mut own = spec.clone();
        own.quantity.value = "flash frequency".to_string();
        (own.each, own.region, own.seen_over, own.sources) = (Each::Channel, None, None, None);
        own
    })
}

/// A goal of the sequence and what came of it.
pub(super) struct Judged<'a> {
    pub requirement: &'a Requirement,
    pub set: &'a RuleSet,
    pub id: String,
    pub verdict: Verdict,
    pub finding: Option<Finding>,
    /// The numbers of its stand-in lamps.
    pub lamps: Vec<usize>,
}

impl Judged<'_> {
    /// The names of its channels.
    pub fn channels<'m>(&self, model: &'m Aircraft) -> Vec<&'m str> {
        let mut names: Vec<&str> = Vec::new();
        for lamp in self.lamps.iter().filter_map(|n| model.lamps.get(*n)) {
            // A stand-in is called what its channel is called.
            if !names.contains(&lamp.name.as_str()) {
                names.push(&lamp.name);
            }
        }
        names
    }
}

/// Judges a stand-in by rule sets: the goals of which some lamp is asked for.
pub(super) fn judged<'a>(sets: &[&'a RuleSet], model: &Aircraft, asked: &dyn Fn(usize) -> bool) -> Vec<Judged<'a>> {
    let mut scenes: Vec<Scene<'_>> = Vec::new();
    let mut all = Vec::new();
    for set in sets {
        let readings = Readings::of(set);
        // Most sets read open points alike, and one scene serves them all.
        let known = scenes.iter().position(|scene| scene.readings == readings);
        let n = known.unwrap_or_else(|| {
            scenes.push(Scene::new(model, readings));
            scenes.len() - 1
        });
        all.extend(scenes.get(n).map(|scene| by_set(set, scene, asked)).unwrap_or_default());
    }
    all
}

fn by_set<'a>(set: &'a RuleSet, scene: &Scene<'_>, asked: &dyn Fn(usize) -> bool) -> Vec<Judged<'a>> {
    let (days, why) = (Dates::ALWAYS, String::new());
    let candidate = Candidate { set, days, span: days, why, beside: Vec::new(), refit: false, binding: true };
    let trees = goals(&candidate, scene);
    let measurable = trees.iter().filter_map(|tree| match tree {
        Tree::One(goal) if goal.state == GoalState::Measure => Some(goal),
        _ => None,
    });
    measurable.filter(|g| g.lamps.iter().any(|n| asked(*n))).map(|goal| one(set, goal, scene)).collect()
}

fn one<'a>(set: &'a RuleSet, goal: &Goal<'a>, scene: &Scene<'_>) -> Judged<'a> {
    let result = measure(goal, scene);
    let verdict = judge(&result).verdict;
    let (requirement, id, lamps) = (goal.requirement, goal.id.clone(), goal.lamps.clone());
    Judged { requirement, set, id, verdict, finding: result.ok(), lamps }
}

/// What was found and what was asked, in a line: the figure first.
pub(super) fn words(judged: &Judged<'_>, model: &Aircraft) -> String {
    let (whose, title) = (whose(&judged.channels(model)), &judged.requirement.title);
    let Some(finding) = &judged.finding else { return format!("{whose}: `{title}` is missed") };
    let found = finding.found_text.clone().or_else(|| finding.found.map(|f| show_range(f, finding.unit)));
    let found = found.unwrap_or_default();
    format!("{whose}: {found}, where `{title}` asks {} ({})", finding.required.text, by(judged))
}

/// The rule set and the paragraph; of common practice that it is no more than that.
fn by(judged: &Judged<'_>) -> String {
    let cite = &judged.requirement.cite;
    match judged.requirement.kind {
        RuleKind::Published => format!("{} {cite}", judged.set.id),
        _ => cite.trim_end_matches(", no source").to_string(),
    }
}

/// More channels than this are counted and not named.
const MOST_NAMED: usize = 4;

fn whose(channels: &[&str]) -> String {
    let named = channels.iter().take(if channels.len() > MOST_NAMED { 2 } else { MOST_NAMED });
    let named = named.map(|c| format!("`{c}`")).collect::<Vec<_>>().join(", ");
    match channels.len() {
        1 => format!("channel {named}"),
        n if n > MOST_NAMED => format!("channels {named} and {} more", n - 2),
        _ => format!("channels {named}"),
    }
}
