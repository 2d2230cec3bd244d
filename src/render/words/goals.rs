//! Goals in words: what every format that people read says of them.

use crate::judge::Verdict;
use crate::measure::Where;
use crate::report::GoalReport;
use crate::rules::{show, show_range};
use crate::units::{Azimuth, Elevation};

/// What there is to say of a goal, line by line under its heading.
pub(in crate::render) fn details(goal: &GoalReport) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    if let Some(required) = &goal.required {
        let scaled = required.at_scale.zip(required.unit);
        let scaled = scaled.map_or(String::new(), |(v, u)| format!(" ({} on the model)", show(v, u)));
        lines.push(("required", format!("{}{scaled}", required.text)));
    }
    if let Some(found) = &goal.found {
        let scaled = found.at_scale.map_or(String::new(), |i| format!(" ({} on the model)", show_range(i, found.unit)));
        let seen = match &found.at {
            Some(at @ Where::Direction { .. }) => format!(", seen from {}", place(at)),
            _ => String::new(),
        };
        lines.push(("found", format!("{}{scaled}{seen}", found.text)));
    }
    if goal.margin.is_some() {
        lines.push(("margin", margin(goal)));
    }
    if let Some(reason) = &goal.reason {
        lines.push(("because", reason.text.clone()));
        lines.extend(reason.add.iter().map(|(key, what)| ("add", format!("{key}: {what}"))));
    }
    if goal.known {
        lines.push(("baseline", "missed before too".to_string()));
    }
    lines.extend(goal.to_meet.iter().map(|to_meet| ("to meet", to_meet.clone())));
    lines.extend(goal.readings.iter().map(|reading| ("note", reading.clone())));
    let input = goal.rests_on.input.map_or(String::new(), |o| format!("; your figures: {o}"));
    let unverified = goal.rests_on.unverified.as_ref().map_or(String::new(), |u| format!(", {u}"));
    lines.push(("rests on", format!("rule: {}{unverified}{input}", goal.rests_on.rule)));
    let place = if goal.location.is_real() { format!("{}; ", goal.location) } else { String::new() };
    lines.push(("look at", format!("{place}explain {}", quoted(goal))));
    lines
}

/// So many of something: `1 file`, `2 files`.
pub(in crate::render) fn counted(n: usize, what: &str) -> String {
    format!("{n} {what}{}", if n == 1 { "" } else { "s" })
}

/// The id as a shell word.
fn quoted(goal: &GoalReport) -> String {
    let id = goal.id.split('/').next().unwrap_or(&goal.id);
    if id.contains(' ') { format!("'{id}'") } else { id.to_string() }
}

/// A margin as people read it: per cent of the limit, many times the limit, or the distance itself.
pub(in crate::render) fn margin(goal: &GoalReport) -> String {
    let Some(margin) = goal.margin else { return String::new() };
    // Of a count nothing is just or by far.
    if goal.quantity == "lamps fitted" && goal.verdict == Verdict::Met {
        return String::new();
    }
    if goal.verdict == Verdict::Met && margin.low < -1e-9 {
        return "short by less than decides".to_string();
    }
    let unit = match goal.margin_unit {
        Some(unit) => return show_range(margin, unit),
        None => margin,
    };
    let large = unit.low.abs().max(unit.high.abs()) >= 9.995;
    let number = |v: f64| match v {
        v if v.is_infinite() => "any".to_string(),
        v if large => format!("{}{}", if v > 0.0 { "+" } else { "" }, crate::units::rounded(v, 3)),
        v => format!("{:+.0}", v * 100.0),
    };
    let (low, high) = (number(unit.low), number(unit.high));
    let word = if large { "times the limit" } else { "%" };
    match (unit.low == 0.0 && unit.high == 0.0, low == high) {
        (true, _) => "just met".to_string(),
        (_, true) => format!("{high} {word}"),
        _ => format!("{low} to {high} {word}"),
    }
}

pub(in crate::render) fn place(at: &Where) -> String {
    match at {
        Where::Direction { azimuth_deg, elevation_deg } => {
            format!("{} and {}", Azimuth::from_deg(*azimuth_deg), Elevation::from_deg(*elevation_deg))
        }
        Where::Lamp(name) => format!("lamp {name}"),
        Where::Channel(name) => format!("channel {name}"),
    }
}
