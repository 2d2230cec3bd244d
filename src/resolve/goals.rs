//! Requirements bound to lamps: the list of goals.

use super::choose::Candidate;
use crate::rules::{ChosenBy, Demand, Each, GoalSpec, Holds, Limit, Requirement, Row, RuleSet};
use crate::scene::Scene;
use std::collections::BTreeSet;

/// Whether a goal can be measured.
#[derive(Debug, Clone, PartialEq)]
pub enum GoalState {
    /// It can.
    Measure,
    /// It does not apply, and why.
    NotApplicable(String),
    /// Whether it applies cannot be told; the key that is missing.
    Unknown(String),
}

/// A requirement bound to a craft's lamps.
#[derive(Debug, Clone)]
pub struct Goal<'a> {
    /// Its rule set.
    pub set: &'a RuleSet,
    /// Its requirement.
    pub requirement: &'a Requirement,
    /// What is measured.
    pub spec: &'a GoalSpec,
    /// Its id: the requirement's, with what tells it from its siblings.
    pub id: String,
    /// Its title.
    pub title: String,
    /// The row of a table it is for.
    pub row: Option<Row>,
    /// The numbers of its lamps.
    pub lamps: Vec<usize>,
    /// Whether it can be measured.
    pub state: GoalState,
}

/// Goals as a requirement groups them.
#[derive(Debug, Clone)]
pub enum Tree<'a> {
    /// One goal.
    One(Box<Goal<'a>>),
    /// One of these groups must be met, whole.
    Any {
        /// The requirement's id.
        id: String,
        /// The alternatives.
        alternatives: Vec<Vec<Tree<'a>>>,
    },
}

impl Tree<'_> {
    /// Whether it asks the same of the same lamps by the same requirement.
    #[must_use]
    pub fn is_same(&self, other: &Self) -> bool {
        let all = |a: &[Self], b: &[Self]| a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.is_same(b));
        match (self, other) {
            (Self::One(a), Self::One(b)) => {
                a.id == b.id
                    && std::ptr::eq(a.requirement, b.requirement)
                    && std::ptr::eq(a.spec, b.spec)
                    && (a.lamps == b.lamps && a.row == b.row && a.state == b.state)
            }
            (Self::Any { id: a, alternatives: one }, Self::Any { id: b, alternatives: two }) => {
                a == b && one.len() == two.len() && one.iter().zip(two).all(|(a, b)| all(a, b))
            }
            _ => false,
        }
    }
}

/// The goals a rule set makes for a model.
#[must_use]
pub fn goals<'a>(candidate: &Candidate<'a>, scene: &Scene<'_>) -> Vec<Tree<'a>> {
    let mut trees: Vec<Tree<'a>> = candidate
        .set
        .requirements
        .iter()
        .filter(|r| !matches!(r.in_force.on(candidate.days), Holds::No(_)))
        .flat_map(|r| Binder { candidate, scene, requirement: r }.demand(&r.demand))
        .collect();
    tell_apart(&mut trees);
    trees
}

/// Numbers goals of the same id: a lamp may be called what a channel is called, and neither goal may hide the other.
fn tell_apart(trees: &mut [Tree<'_>]) {
    let mut seen: BTreeSet<String> = BTreeSet::new();
    for tree in trees {
        let own = match tree {
            Tree::One(goal) => &mut goal.id,
            Tree::Any { id, .. } => id,
        };
        let (first, mut times) = (own.clone(), 1);
        while !seen.insert(own.clone()) {
            times += 1;
            *own = format!("{first} ({times})");
        }
        if let (Tree::One(goal), true) = (tree, times > 1) {
            goal.title = format!("{} ({times})", goal.title);
        }
    }
}

/// Quantities that say something of a light without lamps.
const TOLD_OF_NONE: [&str; 2] = ["lamps fitted", "lights by phase"];

struct Binder<'a, 'b> {
    candidate: &'b Candidate<'a>,
    scene: &'b Scene<'b>,
    requirement: &'a Requirement,
}

impl<'a> Binder<'a, '_> {
    fn demand(&self, demand: &'a Demand) -> Vec<Tree<'a>> {
        match demand {
            Demand::Goal(spec) => self.bind(spec).into_iter().map(|g| Tree::One(Box::new(g))).collect(),
            Demand::AllOf(list) => list.iter().flat_map(|d| self.demand(d)).collect(),
            Demand::AnyOf(list) => vec![Tree::Any {
                id: self.requirement.id.clone(),
                alternatives: list.iter().map(|d| self.demand(d)).collect(),
            }],
        }
    }

    fn state(&self, spec: &GoalSpec, lamps: &[usize]) -> GoalState {
        let dated = match self.requirement.in_force.on(self.candidate.days) {
            Holds::Unknown(_) if self.chosen_by_depicted() => Holds::Unknown("prototype.depicted".into()),
            other => other,
        };
        match self.requirement.when.holds_for(&self.scene.aircraft.craft).and(dated) {
            Holds::No(why) => GoalState::NotApplicable(why),
            Holds::Unknown(key) => GoalState::Unknown(key),
            // How many lamps there are, and whether any is lit, can be told of none, too.
            Holds::Yes if lamps.is_empty() && !TOLD_OF_NONE.contains(&spec.quantity.value.as_str()) => {
                GoalState::NotApplicable(format!("no {} light is declared", spec.light))
            }
            Holds::Yes => GoalState::Measure,
        }
    }

    fn chosen_by_depicted(&self) -> bool {
        self.candidate.set.basis.as_ref().is_some_and(|b| b.chosen_by == ChosenBy::Depicted)
    }

    fn bind(&self, spec: &'a GoalSpec) -> Vec<Goal<'a>> {
        let lamps = self.scene.of_light(spec.light);
        let name = spec.name.as_deref();
        let base = self.goal(spec, name, name, None, lamps.clone());
        if base.state != GoalState::Measure {
            return vec![base];
        }
        match (spec.each, &spec.limit) {
            (Each::Lamp, _) => lamps.iter().map(|n| self.for_lamp(spec, *n)).collect(),
            (Each::Channel, _) => {
                self.by_channel(&lamps).into_iter().map(|(name, lamps)| self.named(spec, &name, lamps)).collect()
            }
            (Each::Light, Limit::Floor { times_by_elevation: Some(rows), .. } | Limit::FloorByElevation(rows)) => rows
                .rows
                .iter()
                // The row of a single elevation is the horizontal plane, which has a goal of its own.
                .filter(|row| row.from_deg < row.to_deg)
                .map(|row| {
                    let label = format!("{}-{}", row.from_deg, row.to_deg);
                    let title = format!("{label} deg up and down");
                    self.goal(spec, Some(&label), Some(&title), Some(row.clone()), lamps.clone())
                })
                .collect(),
            _ => vec![base],
        }
    }

    fn for_lamp(&self, spec: &'a GoalSpec, lamp: usize) -> Goal<'a> {
        let name = self.scene.lamps.get(lamp).map_or("", |l| l.name.as_str());
        self.named(spec, name, vec![lamp])
    }

    fn named(&self, spec: &'a GoalSpec, name: &str, lamps: Vec<usize>) -> Goal<'a> {
        let label = spec.name.as_ref().map_or_else(|| name.to_string(), |n| format!("{n}, {name}"));
        self.goal(spec, Some(&label), Some(&label), None, lamps)
    }

    /// Lamps by the channel that lights them; lamps without one each by themselves.
    fn by_channel(&self, lamps: &[usize]) -> Vec<(String, Vec<usize>)> {
        let mut groups: Vec<(String, Option<usize>, Vec<usize>)> = Vec::new();
        for n in lamps {
            let Some(lamp) = self.scene.aircraft.lamps.get(*n) else { continue };
            let channel = lamp.channel.and_then(|c| self.scene.aircraft.channels.get(c).map(|ch| (c, ch.name.clone())));
            match channel {
                Some((c, name)) => match groups.iter_mut().find(|(_, group, _)| *group == Some(c)) {
                    Some((.., list)) => list.push(*n),
                    None => groups.push((name, Some(c), vec![*n])),
                },
                None => groups.push((lamp.name.clone(), None, vec![*n])),
            }
        }
        groups.into_iter().map(|(name, _, lamps)| (name, lamps)).collect()
    }

    fn goal(
        &self,
        spec: &'a GoalSpec,
        label: Option<&str>,
        title: Option<&str>,
        row: Option<Row>,
        lamps: Vec<usize>,
    ) -> Goal<'a> {
        let requirement = self.requirement;
        let with = |base: &str, part: Option<&str>, join: &str| {
            part.map_or_else(|| base.to_string(), |p| format!("{base}{join}{p}"))
        };
        Goal {
            set: self.candidate.set,
            requirement,
            spec,
            id: with(&requirement.id, label, "/"),
            title: with(&requirement.title, title, ": "),
            row,
            state: self.state(spec, &lamps),
            lamps,
        }
    }
}
