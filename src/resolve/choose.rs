//! The rule sets of a craft, each at every standing its dates allow.

use crate::error::Error;
use crate::rules::{Craft, Dates, Holds, RuleKind, RuleSet};
use jiff::ToSpan;
use jiff::civil::Date;

/// A rule set at one standing.
#[derive(Debug, Clone)]
pub struct Candidate<'a> {
    /// The rule set.
    pub set: &'a RuleSet,
    /// The application dates for which this standing holds.
    pub days: Dates,
    /// All the days of this standing.
    pub span: Dates,
    /// Why it was chosen.
    pub why: String,
    /// Why the standings before and after it were not.
    pub beside: Vec<String>,
    /// Whether it holds only if the craft was refitted by the date shown.
    pub refit: bool,
    /// Whether its goals decide if the model passes: the published ones do, and a set that was asked for by name.
    pub binding: bool,
}

/// Why a set was chosen that was asked for by its id.
const ASKED: &str = "asked for";

/// The published rule sets of a craft at every standing its dates allow, then those that hold for every craft.
///
/// A set asked for by its id is used whatever its basis says, and instead of every other published one.
///
/// # Errors
/// No published rule set answers the craft; names what is missing or nearest.
pub fn choose<'a>(craft: &Craft, sets: &'a [RuleSet], asked: Option<&str>) -> Result<Vec<Candidate<'a>>, Error> {
    let mut chosen = Vec::new();
    for set in sets.iter().filter(|s| s.basis.is_some()) {
        if let Ok(why) = fits(craft, set, asked) {
            chosen.extend(standings(craft, set, &why));
        }
    }
    if chosen.is_empty() && asked.is_none() {
        return Err(Error::NoRuleSet { why: nearest(craft, sets) });
    }
    // What an earlier document asked must be said where it is not at hand, not passed over.
    if let Some(first) = chosen.iter().map(|c| c.days.first).min()
        && first > craft.application().first
        && asked.is_none()
        && craft.judge_by.is_none()
        && let Some(candidate) = chosen.first_mut()
    {
        candidate.beside.push(format!("what held before {first} is not at hand and not judged"));
    }
    for set in sets.iter().filter(|s| s.basis.is_none()) {
        let binding = asked == Some(set.id.as_str()) || set.kind == RuleKind::Published;
        let why = if asked == Some(set.id.as_str()) { ASKED } else { "holds for every craft" };
        let (days, span) = (Dates::ALWAYS, Dates::ALWAYS);
        chosen.push(Candidate { set, days, span, why: why.to_string(), beside: Vec::new(), refit: false, binding });
    }
    Ok(chosen)
}

/// Why a rule set fits a craft, or why it does not.
fn fits(craft: &Craft, set: &RuleSet, asked: Option<&str>) -> Result<String, String> {
    let Some(basis) = &set.basis else { return Err("it holds for every craft".to_string()) };
    if let Some(asked) = asked {
        return if asked == set.id { Ok(ASKED.to_string()) } else { Err(format!("`{asked}` was asked for")) };
    }
    if let Some(named) = &craft.judge_by {
        let why = "named by prototype.judge_by";
        return if *named == set.id { Ok(why.to_string()) } else { Err(format!("{why} is `{named}`")) };
    }
    let (Some(category), Some(authority)) = (craft.category, craft.authority) else {
        return Err("the craft's category or authority is not given".to_string());
    };
    if authority != basis.authority {
        return Err(format!("it is of {}, not of {authority}", basis.authority));
    }
    if !basis.categories.contains(&category) {
        let categories: Vec<&str> = basis.categories.iter().map(|c| c.as_str()).collect();
        return Err(format!("it is for a {}, not for a {category}", categories.join(" or a ")));
    }
    let dates = [Some(craft.application()), refitted(craft)];
    let mut why_not = String::new();
    for days in dates.into_iter().flatten() {
        match basis.in_force.on(days) {
            Holds::No(why) => why_not = why,
            _ => return Ok(format!("{category} of {authority}")),
        }
    }
    Err(why_not)
}

/// The days shown, where they are later than the application: the craft may have been refitted to the rules of then.
fn refitted(craft: &Craft) -> Option<Dates> {
    craft.depicted.filter(|shown| shown.first > craft.application().last)
}

/// The standings of a rule set over the days a craft may have been applied for, or refitted in.
fn standings<'a>(craft: &Craft, set: &'a RuleSet, why: &str) -> Vec<Candidate<'a>> {
    let given = craft.application();
    let asked = match (given.first == Dates::ALWAYS.first, given.last == Dates::ALWAYS.last) {
        (true, true) => ", application date not given".to_string(),
        (true, false) => format!(", applied for not later than {}", given.last),
        _ => format!(", applied for {given}"),
    };
    let mut found = between_cuts(set, given, &format!("{why}{asked}"));
    if found.is_empty() && refitted(craft).is_none() {
        found.extend(nearest_span(set, given).and_then(|span| {
            let outside = format!("{why}{asked}, outside the days this document held");
            between_cuts(set, span, &outside).into_iter().next()
        }));
    }
    if let Some(shown) = refitted(craft) {
        let refit = between_cuts(set, shown, &format!("{why}, shown as of {shown}: it may have been refitted"));
        let new = refit.into_iter().filter(|r| !found.iter().any(|f| f.span == r.span));
        found.extend(new.map(|r| Candidate { refit: true, ..r }).collect::<Vec<_>>());
    }
    let (first, last) = (found.first().map(|c| c.span), found.last().map(|c| c.span));
    for candidate in &mut found {
        let span = candidate.span;
        if Some(span) == first {
            candidate.beside.extend(before(set, span));
        }
        if Some(span) == last {
            candidate.beside.push(after(set, span));
        }
    }
    found
}

/// The standings of a rule set that hold on some of these days.
fn between_cuts<'a>(set: &'a RuleSet, days: Dates, why: &str) -> Vec<Candidate<'a>> {
    spans(set)
        .into_iter()
        .filter(|span| span.first <= days.last && span.last >= days.first)
        .map(|span| Candidate {
            set,
            days: Dates { first: span.first.max(days.first), last: span.last.min(days.last) },
            span,
            why: why.to_string(),
            beside: Vec::new(),
            refit: false,
            binding: true,
        })
        .collect()
}

/// The standing of a rule set nearest to days on which it never held.
fn nearest_span(set: &RuleSet, days: Dates) -> Option<Dates> {
    let all = spans(set);
    if all.first().is_some_and(|first| days.last < first.first) { all.first().copied() } else { all.last().copied() }
}

/// All the standings of a rule set, from its first day to its last.
fn spans(set: &RuleSet) -> Vec<Dates> {
    let basis = set.basis.as_ref().map(|b| b.in_force.clone()).unwrap_or_default();
    let first = basis.from.map_or(Dates::ALWAYS.first, |f| f.first);
    let end = basis.until.map_or(Dates::ALWAYS.last, |u| day_before(u.last));
    let mut starts: Vec<Date> = set.requirements.iter().flat_map(|r| r.in_force.boundaries()).collect();
    starts.retain(|day| first < *day && *day <= end);
    starts.push(first);
    starts.sort();
    starts.dedup();
    let ends: Vec<Date> = starts.iter().skip(1).map(|start| day_before(*start)).chain([end]).collect();
    starts.into_iter().zip(ends).map(|(first, last)| Dates { first, last }).collect()
}

fn day_before(day: Date) -> Date {
    day.checked_sub(1.day()).unwrap_or(day)
}

/// The paragraphs in which a rule set changes on a day.
fn changed_on(set: &RuleSet, day: Date) -> String {
    let mut cites: Vec<&str> = set
        .requirements
        .iter()
        .filter(|r| r.in_force.boundaries().contains(&day))
        .flat_map(|r| r.cite.split(", "))
        .collect();
    cites.sort_unstable();
    cites.dedup();
    if cites.is_empty() { String::new() } else { format!(", when {} changed", cites.join(", ")) }
}

fn before(set: &RuleSet, span: Dates) -> Option<String> {
    let until = day_before(span.first);
    if !spans(set).iter().any(|s| s.last == until) {
        return None;
    }
    Some(format!("not as it stood until {until}{}: the date is later", changed_on(set, span.first)))
}

fn after(set: &RuleSet, span: Dates) -> String {
    let Some(next) = spans(set).into_iter().find(|s| s.first > span.last) else {
        return match set.basis.as_ref().and_then(|b| b.in_force.until) {
            Some(until) => format!("the last standing of this document, which ended before {until}"),
            None => "no later standing of this document is at hand".to_string(),
        };
    };
    format!("not as it stands from {}{}: the date is earlier", next.first, changed_on(set, next.first))
}

/// Each published rule set with why it answers a craft, or why it does not.
#[must_use]
pub fn reasons<'a>(craft: &Craft, sets: &'a [RuleSet]) -> Vec<(&'a RuleSet, Result<String, String>)> {
    sets.iter().filter(|s| s.basis.is_some()).map(|set| (set, fits(craft, set, None))).collect()
}

/// What to tell a user whose craft no rule set answers.
fn nearest(craft: &Craft, sets: &[RuleSet]) -> String {
    if let Some(named) = &craft.judge_by {
        let ids: Vec<&str> = sets.iter().filter(|s| s.basis.is_some()).map(|s| s.id.as_str()).collect();
        return format!("prototype.judge_by names `{named}`, and the rule sets are {}", crate::source::one_of(&ids));
    }
    let wanted = match (craft.category, craft.authority) {
        (None, None) => return "the file says neither prototype.category nor prototype.authority; add both, or name a rule set with prototype.judge_by".to_string(),
        (None, _) => return "the file has no prototype.category; add it, like `category: transport aeroplane`".to_string(),
        (_, None) => return "the file has no prototype.authority; add it, like `authority: US`".to_string(),
        (Some(category), Some(authority)) => format!("{category}, {authority}, applied for {}", craft.application()),
    };
    let near: Vec<String> = sets
        .iter()
        .filter_map(|s| {
            let basis = s.basis.as_ref()?;
            let categories: Vec<&str> = basis.categories.iter().map(|c| c.as_str()).collect();
            let from = basis.in_force.from.map_or(String::new(), |d| format!(", applied for from {d}"));
            Some(format!("`{}` ({}, {}{from})", s.id, basis.authority, categories.join(", ")))
        })
        .collect();
    format!("{wanted}; nearest: {}; to judge by it all the same, write `judge_by: ID` under prototype", near.join(", "))
}
