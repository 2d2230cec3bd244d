//! Which lights are lit in which phase.

use super::{CannotTell, Finding, Needs, Quantity, Required};
use crate::aircraft::LitLamp;
use crate::resolve::Goal;
use crate::rules::{Limit, Lit, Phase, Unit};
use crate::scene::{Missing, Scene};
use crate::source::one_of;
use crate::units::Interval;

/// See [`Quantity`].
pub struct LightsByPhase;

impl Quantity for LightsByPhase {
    fn id(&self) -> &'static str {
        "lights by phase"
    }

    fn how(&self) -> &'static str {
        "Whether the lamps of the light are lit, or dark, in every phase the goal names, by `phases:` of the aircraft file. \
         A model flown at dusk is taken as flown by night."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        if matches!(limit, Limit::Lit(_)) { Ok(()) } else { Err("write `limit: {lit: every lamp}`") }
    }

    fn needs(&self) -> Needs {
        Needs { phases: true, ..Needs::default() }
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let Limit::Lit(wanted) = &goal.spec.limit else {
            return Err(CannotTell::Beyond("no limit".to_string()));
        };
        if goal.lamps.is_empty() {
            return none_fitted(goal, scene, *wanted);
        }
        let (mut wrong, mut first_unsaid) = (Vec::new(), None);
        for phase in &goal.spec.phases {
            let Some(lit) = scene.aircraft.lit_in(*phase) else {
                first_unsaid.get_or_insert(*phase);
                continue;
            };
            let (on, off): (Vec<usize>, Vec<usize>) =
                goal.lamps.iter().partition(|n| lit.iter().any(|l| l.lamp == **n && shines(scene, l)));
            let told = match wanted {
                Lit::Every if !off.is_empty() => Some(("dark", off)),
                Lit::Some if on.is_empty() => Some(("dark", off)),
                Lit::No if !on.is_empty() => Some(("lit", on)),
                _ => None,
            };
            wrong.extend(told.map(|(how, lamps)| (*phase, how, lamps)));
        }
        match first_unsaid {
            // What is wrong in one phase no other phase can mend.
            Some(phase) if wrong.is_empty() => Err(unsaid(phase, scene)),
            _ => Ok(finding(goal, scene, *wanted, &wrong)),
        }
    }
}

/// Whether a lamp named in a phase gives light there: a channel that is dark for ever lights nothing.
fn shines(scene: &Scene<'_>, lit: &LitLamp) -> bool {
    let Some(lamp) = scene.aircraft.lamps.get(lit.lamp) else { return false };
    let channel = lit.channel.or(lamp.channel).and_then(|n| scene.aircraft.channels.get(n));
    match channel {
        Some(channel) => channel.waveform.peak_level() > 0.0,
        None => lamp.steady_level.as_ref().is_none_or(|level| level.value > 0.0),
    }
}

/// A light without lamps is dark in every phase.
fn none_fitted(goal: &Goal<'_>, scene: &Scene<'_>, wanted: Lit) -> Result<Finding, CannotTell> {
    if wanted == Lit::No {
        return Err(CannotTell::NotAsked(format!("no {} light is declared", goal.spec.light)));
    }
    let mut finding = finding(goal, scene, wanted, &[]);
    finding.margin = Interval::exactly(-1.0);
    finding.found_text = Some(format!("no {} light is declared", goal.spec.light));
    finding.to_meet = Some("add the lamps, and light them in `phases:`".to_string());
    Ok(finding)
}

fn unsaid(phase: Phase, scene: &Scene<'_>) -> CannotTell {
    CannotTell::MissingInput(Missing {
        key: format!("phases.{phase}"),
        what: "which lights are lit in that phase, like `[position, beacon]`".to_string(),
        at: scene.aircraft.at.clone(),
    })
}

fn finding(goal: &Goal<'_>, scene: &Scene<'_>, wanted: Lit, wrong: &[(Phase, &str, Vec<usize>)]) -> Finding {
    let phases: Vec<&str> = goal.spec.phases.iter().map(|p| p.as_str()).collect();
    let required = Required::words(format!("{wanted} lit in {}", phases.join(", ")));
    let margin = Interval::exactly(if wrong.is_empty() { 0.0 } else { -1.0 });
    let first = wrong.first().map(|(phase, ..)| *phase).or(goal.spec.phases.first().copied());
    let at = first.and_then(|p| scene.aircraft.phase_at(p)).unwrap_or(&scene.aircraft.at);
    let mut finding = Finding::new(margin, Unit::Lamps, required, margin, at);
    finding.found = None;
    finding.found_text = Some(if wrong.is_empty() { "so".to_string() } else { told(scene, wrong) });
    if let Some((_, how, _)) = wrong.first() {
        let phases: Vec<&str> = wrong.iter().map(|(phase, ..)| phase.as_str()).collect();
        finding.to_meet = Some(if *how == "dark" {
            format!("add {} to `phases:` in {}", goal.spec.light, one_of(&phases).replace(" or ", " and "))
        } else {
            format!("take them out of `phases:` in {}", one_of(&phases).replace(" or ", " and "))
        });
    }
    finding
}

/// What is wrong, phases with the same lamps told together.
fn told(scene: &Scene<'_>, wrong: &[(Phase, &str, Vec<usize>)]) -> String {
    let mut by_lamps: Vec<(&str, &[usize], Vec<&str>)> = Vec::new();
    for (phase, how, lamps) in wrong {
        match by_lamps.iter_mut().find(|(h, l, _)| h == how && *l == lamps.as_slice()) {
            Some((.., phases)) => phases.push(phase.as_str()),
            None => by_lamps.push((how, lamps, vec![phase.as_str()])),
        }
    }
    let each = by_lamps.iter().map(|(how, lamps, phases)| {
        let names: Vec<&str> = scene.lamps(lamps).map(|l| l.name.as_str()).collect();
        format!("{how} in {}: {}", phases.join(", "), names.join(", "))
    });
    each.collect::<Vec<_>>().join("; ")
}
