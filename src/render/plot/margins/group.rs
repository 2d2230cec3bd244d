//! Goals whose margins are measured in one unit, on an axis of their own.

use super::super::words::margins as words;
use super::ORDER;
use super::axis::Axis;
use crate::report::evidence::MarginRow;

/// Rows under one heading.
pub(super) struct Group<'r> {
    pub(super) heading: String,
    /// None where there is nothing to draw on it.
    pub(super) axis: Option<Axis>,
    pub(super) rows: Vec<&'r MarginRow>,
}

/// Shares of the limit first, then other units as they come, then what has no margin.
pub(super) fn groups(rows: &[MarginRow]) -> Vec<Group<'_>> {
    let mut units: Vec<Option<&str>> = vec![None];
    for row in rows.iter().filter(|r| r.margin.is_some()) {
        if !units.contains(&row.unit.as_deref()) {
            units.push(row.unit.as_deref());
        }
    }
    let mut groups: Vec<Group<'_>> = units
        .into_iter()
        .map(|unit| {
            let rows = sorted(rows.iter().filter(|r| r.margin.is_some() && r.unit.as_deref() == unit));
            Group { heading: heading(unit), axis: Some(Axis::of(unit, &rows)), rows }
        })
        .collect();
    let without = sorted(rows.iter().filter(|r| r.margin.is_none()));
    groups.push(Group { heading: words::WITHOUT.into(), axis: None, rows: without });
    groups.retain(|g| !g.rows.is_empty());
    groups
}

fn heading(unit: Option<&str>) -> String {
    match unit {
        None => words::SHARE.into(),
        // Some units bring the word along: `in x, y`.
        Some(unit) => format!("{} {}", words::IN_UNIT, unit.strip_prefix("in ").unwrap_or(unit)),
    }
}

fn sorted<'r>(rows: impl Iterator<Item = &'r MarginRow>) -> Vec<&'r MarginRow> {
    let mut rows: Vec<_> = rows.collect();
    rows.sort_by_key(|r| ORDER.iter().position(|v| *v == r.verdict));
    rows
}
