//! A rule set at the standings its dates allow.

use super::Candidate;
use super::choose::refitted;
use crate::rules::{Basis, ChosenBy, Craft, Dates, RuleSet};
use jiff::ToSpan;
use jiff::civil::Date;

/// The standings of a rule set over the days that choose its document.
pub(super) fn standings<'a>(craft: &Craft, set: &'a RuleSet, basis: &Basis, why: &str) -> Vec<Candidate<'a>> {
    match basis.chosen_by {
        ChosenBy::Application => of_design(craft, set, why),
        ChosenBy::Depicted => of_flight(craft, set, why),
        // No date is asked of a model: the newest standing is what a flyer meets.
        ChosenBy::Flown => {
            let newest = between_cuts(set, Dates::ALWAYS, why).pop();
            newest.map(|c| Candidate { binding: false, ..c }).into_iter().collect()
        }
    }
}

/// Rules for showing lights, on the day shown or, where none is given, first after the craft was built.
fn of_flight<'a>(craft: &Craft, set: &'a RuleSet, why: &str) -> Vec<Candidate<'a>> {
    let shown = craft.shown();
    let mut found = match craft.depicted {
        Some(days) => between_cuts(set, days, &format!("{why}, shown as of {days}")),
        None => {
            let since =
                if shown.first == Dates::ALWAYS.first { String::new() } else { format!(" after {}", shown.first) };
            let why = format!("{why}; no date shown is given, so the first that held{since}");
            between_cuts(set, shown, &why).into_iter().take(1).collect()
        }
    };
    if found.is_empty() {
        let outside = format!("{why}, outside the days this document held");
        found.extend(nearest_span(set, shown).and_then(|span| between_cuts(set, span, &outside).into_iter().next()));
    }
    found
}

/// Rules for the design, on the days a craft may have been applied for, or refitted in.
fn of_design<'a>(craft: &Craft, set: &'a RuleSet, why: &str) -> Vec<Candidate<'a>> {
    let given = craft.application();
    let asked = match (given.first == Dates::ALWAYS.first, given.last == Dates::ALWAYS.last) {
        (true, true) => ", application date not given".to_string(),
        (true, false) => format!(", applied for not later than {}", given.last),
        _ => format!(", applied for {given}"),
    };
    let mut found = between_cuts(set, given, &format!("{why}{asked}"));
    if let Some(shown) = refitted(craft) {
        let refit = between_cuts(set, shown, &format!("{why}, shown as of {shown}: it may have been refitted"));
        let new = refit.into_iter().filter(|r| !found.iter().any(|f| f.span == r.span));
        found.extend(new.map(|r| Candidate { refit: true, ..r }).collect::<Vec<_>>());
    }
    if found.is_empty() {
        found.extend(nearest_span(set, given).and_then(|span| {
            let outside = format!("{why}{asked}, outside the days this document held");
            between_cuts(set, span, &outside).into_iter().next()
        }));
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
        // `25.1387(d), (e)`: the bracket belongs to the section before it.
        .flat_map(|r| r.cite.split(", ").filter(|cite| !cite.starts_with('(')))
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
