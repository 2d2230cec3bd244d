//! Whether a goal of a rule set gives its quantity what that needs.

use super::{ALL, find};
use crate::rules::{GoalSpec, Limit, Region, RuleSet, default_readings};
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
    for message in backwards(&spec.limit) {
        say(Code::OutOfRange, message, "write a figure above 0".into());
    }
    if let Some(each) = needs.each.filter(|each| *each != spec.each) {
        say(Code::MissingKey, format!("`{id}` is judged for each {each}"), format!("add `each: {each}`"));
    }
    for key in keys(spec).into_iter().filter(|key| !needs.keys.contains(key)) {
        say(Code::UnknownKey, format!("`{id}` has no use for `{key}`"), "leave it out".into());
    }
    if let (Some(_), Limit::AtMost(most)) = (&spec.allow, &spec.limit)
        && most.scalar.value > 0.0
    {
        let message = format!("`allow` stands beside a limit of {}, and only one of them can hold", most.scalar);
        say(Code::Contradiction, message, "write `limit: {at_most: 0 sr}`".into());
    }
    for (name, unit) in needs.may_have {
        let Some(figure) = spec.with.get(*name).map(|f| f.scalar) else { continue };
        if figure.unit != *unit {
            say(Code::WrongValue, format!("`{name}` is in another unit"), format!("give it in {}", unit.symbol()));
        } else if *name == "level" && figure.value != 1.0 {
            say(Code::OutOfRange, format!("a level of {figure}"), "write `level: 100 %`, or leave it out".into());
        }
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

/// Figures a limit cannot have: below nothing, or a floor of nothing.
fn backwards(limit: &Limit) -> Vec<String> {
    let (floor, others) = match limit {
        Limit::AtLeast(figure) => (Some(figure), vec![]),
        Limit::AtMost(figure) => (None, vec![figure]),
        Limit::Between(low, high) => (None, vec![low, high]),
        _ => (None, vec![]),
    };
    let nothing = floor.filter(|f| f.scalar.value <= 0.0).map(|f| format!("a floor of {} asks nothing", f.scalar));
    let below = others.into_iter().filter(|f| f.scalar.value < 0.0);
    nothing.into_iter().chain(below.map(|f| format!("a limit of {} is below nothing", f.scalar))).collect()
}

/// The keys a goal has besides those every goal may have.
fn keys(spec: &GoalSpec) -> Vec<&'static str> {
    let there = [
        ("allow", spec.allow.is_some()),
        ("relief", spec.relief.is_some()),
        ("sources", spec.sources.is_some()),
        ("seen_over", spec.seen_over.is_some()),
        ("above", spec.above.is_some()),
    ];
    there.into_iter().filter(|(_, is)| *is).map(|(key, _)| key).collect()
}

/// Readings that nothing knows, or in a unit or a range they cannot have.
pub(super) fn vet_readings(set: &RuleSet) -> Vec<Diagnostic> {
    let known = default_readings();
    let mut wrong = Vec::new();
    for (name, reading) in &set.readings {
        let figure = reading.figure.scalar;
        let mut say = |code, message, instead| wrong.push(Diagnostic::new(code, &reading.at, message, instead));
        match known.get(name) {
            None => {
                let names: Vec<&str> = known.keys().map(String::as_str).collect();
                let instead = nearest(name, names.iter().copied())
                    .map_or_else(|| format!("known are {}", one_of(&names)), |near| format!("did you mean `{near}`?"));
                say(Code::UnknownName, format!("there is no reading called `{name}`"), instead);
            }
            Some(usual) if usual.scalar.unit != figure.unit => {
                say(
                    Code::WrongValue,
                    format!("`{name}` is in another unit"),
                    format!("write it like `{}`", usual.scalar),
                );
            }
            Some(usual) if figure.value < 0.0 => {
                say(Code::OutOfRange, format!("`{name}` is {figure}"), format!("write it like `{}`", usual.scalar));
            }
            Some(_) => {}
        }
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
