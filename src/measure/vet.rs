//! Whether a goal of a rule set gives its quantity what that needs.

use super::{ALL, find};
use crate::rules::{GoalSpec, Limit, Region};
use crate::source::{Code, Diagnostic, nearest, one_of};

/// What is wrong with a goal.
pub(super) fn vet_goal(spec: &GoalSpec) -> Vec<Diagnostic> {
    let (id, at) = (&spec.quantity.value, &spec.quantity.at);
    let Some(quantity) = find(id) else {
        let known: Vec<&str> = ALL.iter().map(|q| q.id()).collect();
        let instead = nearest(id, known.iter().copied())
            .map_or_else(|| format!("known are {}", one_of(&known)), |near| format!("did you mean `{near}`?"));
        return vec![Diagnostic::new(Code::UnknownName, at, format!("there is no quantity called `{id}`"), instead)];
    };
    if matches!(spec.limit, Limit::NotAtHand(_)) {
        return Vec::new();
    }
    let mut wrong = Vec::new();
    let mut say =
        |code: Code, message: String, instead: String| wrong.push(Diagnostic::new(code, at, message, instead));
    if let Err(instead) = quantity.takes(&spec.limit) {
        say(Code::WrongShape, format!("`{id}` cannot be held against this limit"), instead.to_string());
    }
    let needs = quantity.needs();
    match spec.region.as_ref().map(kind) {
        Some(kind) if !needs.regions.contains(&kind) => {
            let instead = match needs.regions {
                [] => "leave `region` out".to_string(),
                some => format!("give it a region of {}", one_of(some)),
            };
            say(Code::WrongShape, format!("`{id}` has no use for a region of `{kind}`"), instead);
        }
        None if !needs.regions.is_empty() => {
            let instead = format!("add `region:` with {}", one_of(needs.regions));
            say(Code::MissingKey, format!("`{id}` wants a region"), instead);
        }
        _ => {}
    }
    for (name, unit) in needs.with {
        match spec.with.get(*name) {
            None => say(
                Code::MissingKey,
                format!("`{id}` wants `with: {{{name}: ...}}`"),
                format!("give it in {}", unit.symbol()),
            ),
            Some(figure) if figure.scalar.unit != *unit => {
                say(Code::WrongValue, format!("`{name}` is in another unit"), format!("give it in {}", unit.symbol()));
            }
            Some(_) => {}
        }
    }
    let known: Vec<&str> = needs.with.iter().chain(needs.may_have).map(|(name, _)| *name).collect();
    for name in spec.with.keys().filter(|name| !known.contains(&name.as_str())) {
        let instead =
            if known.is_empty() { "leave `with` out".to_string() } else { format!("it knows {}", one_of(&known)) };
        say(Code::UnknownKey, format!("`{id}` has no use for `{name}`"), instead);
    }
    match (needs.phases, spec.phases.is_empty()) {
        (true, true) => {
            say(Code::MissingKey, format!("`{id}` wants `phases:`"), "add them, like `phases: [taxi, cruise]`".into())
        }
        (false, false) => say(Code::UnknownKey, format!("`{id}` has no use for `phases`"), "leave them out".into()),
        _ => {}
    }
    wrong
}

fn kind(region: &Region) -> &'static str {
    match region {
        Region::Dihedral(_) => "dihedral",
        Region::Band(_) => "band",
        Region::Overlap { .. } => "overlap",
        Region::Sector(_) => "sector",
    }
}
