//! Requirements that a document takes from a shared file, under its own number.

use super::declared::{DemandDecl, GoalDecl, LimitDecl, RequirementDecl, TakeDecl};
use super::figure::Standing;
use super::load::SharedFiles;
use super::names::Names;
use crate::source::{Code, Located, Sink, Text, nearest, one_of};

/// What stands in a shared file for the number of the document that takes from it.
const PART: &str = "PART";

/// The requirements of a shared file, as the document that takes them has them.
pub(super) fn requirements(
    take: &TakeDecl,
    names: &mut Names,
    shared: SharedFiles<'_>,
    sink: &mut Sink,
) -> Vec<RequirementDecl> {
    names.add_shared(&take.from, shared, sink);
    if take.part.is_some() == take.cite.is_some() {
        let message = "requirements that are taken want either `part` or `cite`";
        sink.say(Code::WrongShape, &take.from.at, message, "write one of them, like `part: \"27\"`");
    }
    let Some(all) = names.requirements.get(&take.from.value.0) else { return Vec::new() };
    let ids: Vec<&str> = all.iter().map(|r| r.id.0.as_str()).collect();
    if ids.is_empty() {
        let message = format!("the shared file `{}` has no requirements", take.from.0);
        sink.say(Code::UnknownName, &take.from.at, message, "name one that has `requirements:`");
    }
    let named = take.only.0.iter().chain(&take.but.0).map(|name| (name.0.as_str(), &name.at));
    let stood = take.standing_of.0.iter().map(|(name, _)| (name.value.as_str(), &name.at));
    for (name, at) in named.chain(stood).filter(|(name, _)| !ids.contains(name)) {
        let message = format!("the shared file `{}` has no requirement called `{name}`", take.from.0);
        let instead = nearest(name, ids.iter().copied())
            .map_or_else(|| format!("it has {}", one_of(&ids)), |near| format!("did you mean `{near}`?"));
        sink.say(Code::UnknownName, at, message, instead);
    }
    let listed = |list: &[Located<Text>], id: &str| list.iter().any(|name| name.0 == id);
    all.iter()
        .filter(|r| take.only.0.is_empty() || listed(&take.only.0, &r.id.0))
        .filter(|r| !listed(&take.but.0, &r.id.0))
        .map(|r| under(r, take))
        .collect()
}

fn under(declared: &RequirementDecl, take: &TakeDecl) -> RequirementDecl {
    let part = take.part.as_ref().or(take.cite.as_ref()).map_or("", |p| p.0.as_str());
    let mut own = declared.clone();
    match &take.cite {
        Some(cite) => own.cite = cite.clone(),
        None => number(&mut own.cite, part),
    }
    if let Some(suffix) = &take.suffix {
        own.id.value.0.push_str(&suffix.0);
    }
    own.when = take.when.clone().or(own.when);
    own.in_force = take.in_force.clone().or(own.in_force);
    own.standing = match take.standing_of.get(&declared.id.0) {
        Some(standing) => standing.clone(),
        // What no text says is an own reading whoever takes it.
        None if declared.standing.value == Standing::OwnReading => declared.standing.clone(),
        None => take.standing.clone(),
    };
    own.goal.iter_mut().for_each(|goal| number_goal(goal, part));
    own.all_of.iter_mut().chain(&mut own.any_of).for_each(|list| number_all(&mut list.value, part));
    own
}

fn number(text: &mut Located<Text>, part: &str) {
    text.value.0 = text.value.0.replace(PART, part);
}

fn number_goal(goal: &mut GoalDecl, part: &str) {
    goal.relief.iter_mut().for_each(|relief| number(&mut relief.cite, part));
    goal.may_be_excused.iter_mut().for_each(|cite| number(cite, part));
    if let LimitDecl::NotAtHand(place) = &mut goal.limit {
        number(place, part);
    }
}

fn number_all(list: &mut [DemandDecl], part: &str) {
    for demand in list {
        match demand {
            DemandDecl::Goal(goal) => number_goal(goal, part),
            DemandDecl::AllOf(inner) | DemandDecl::AnyOf(inner) => number_all(&mut inner.value, part),
        }
    }
}
