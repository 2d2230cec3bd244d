//! The margins of all goals: one row per goal, what is missed first.

mod axis;
mod bar;
mod group;
mod row;
mod symbol;

use super::key::{self, Entry};
use super::lettering::below;
use super::style::drawing;
use super::words::margins as words;
use crate::judge::Verdict;
use crate::report::evidence::MarginRow;
use group::Group;
use maud::{Markup, html};

/// Verdicts in the order of rows.
const ORDER: [Verdict; 4] = [Verdict::Missed, Verdict::CannotTell, Verdict::Met, Verdict::NotApplicable];

/// Draws the margins of goals.
pub(in crate::render) fn draw(id: &str, title: &str, rows: &[MarginRow]) -> Markup {
    let (legend, mut y) = legend(rows);
    let mut drawn = Vec::new();
    for group in group::groups(rows) {
        let (markup, end) = group_from(y + 10.0, &group);
        drawn.push(markup);
        y = end;
    }
    let body = html! {
        (legend)
        @for group in drawn { (group) }
        @if rows.is_empty() { (below([4.0, 18.0], 14.0, 18.0, &[words::NONE.to_string()])) }
    };
    drawing(id, y.max(28.0) + 4.0, title, &told(rows), &body)
}

fn group_from(top: f64, group: &Group) -> (Markup, f64) {
    let head = top + axis::head(group.axis.as_ref());
    let mut y = head;
    let mut drawn = Vec::new();
    for margin in &group.rows {
        let (markup, high) = row::draw(y, margin, group.axis.as_ref());
        drawn.push(markup);
        y += high;
    }
    let markup = html! {
        (axis::draw(top, y, &group.heading, group.axis.as_ref()))
        @for row in drawn { (row) }
    };
    (markup, y)
}

fn count(rows: &[MarginRow], verdict: Verdict) -> usize {
    rows.iter().filter(|r| r.verdict == verdict).count()
}

fn legend(rows: &[MarginRow]) -> (Markup, f64) {
    if rows.is_empty() {
        return (html! {}, 0.0);
    }
    let entry = |v: &Verdict| (symbol::draw([key::SAMPLE - 8.0, 7.0], *v), format!("{v}: {}", count(rows, *v)));
    let entries: Vec<Entry> = ORDER.iter().filter(|v| count(rows, **v) > 0).map(entry).collect();
    let (key, end) = key::draw(4.0, 2, &entries);
    let (notes, end) =
        key::notes(end, &[format!("{} {}", words::HOW_TO_READ, words::BEYOND), words::BY_THE_LIST.into()]);
    (html! { (key) (notes) }, end)
}

fn told(rows: &[MarginRow]) -> String {
    if rows.is_empty() {
        return words::NONE.into();
    }
    let counts = ORDER.iter().filter(|v| count(rows, **v) > 0).map(|v| format!("{v}: {}", count(rows, *v)));
    format!("{} {}; {}.", rows.len(), words::GOALS, counts.collect::<Vec<_>>().join(", "))
}

#[cfg(test)]
mod tests;
