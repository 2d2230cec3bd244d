//! What the rule sets hold, line by line: how many goals, and how well their figures are known.

use super::figure::Standing;
use super::set::{Limit, RuleSet};
use super::words::ParagraphStatus;

/// One rule set in numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CatalogueLine {
    /// Its id.
    pub id: String,
    /// Its title.
    pub title: String,
    /// What it rests on.
    pub kind: String,
    /// Whose rules, for which craft; `every craft`.
    pub craft: String,
    /// Dates for which it holds, and how well they are known.
    pub dates: String,
    /// How many goals its requirements have, over all its standings.
    pub goals: usize,
    /// Of these, how many rest on figures that were read.
    pub read: usize,
    /// How many on figures recalled.
    pub recalled: usize,
    /// How many on an own reading.
    pub own: usize,
    /// How many wait for a figure that is not at hand.
    pub not_at_hand: usize,
    /// Paragraphs that ask for what no declared data can show.
    pub not_checkable: usize,
    /// Paragraphs whose figures are not at hand.
    pub paragraphs_not_at_hand: usize,
}

/// The lines of rule sets, in their order.
#[must_use]
pub fn catalogue(sets: &[RuleSet]) -> Vec<CatalogueLine> {
    sets.iter().map(line).collect()
}

fn line(set: &RuleSet) -> CatalogueLine {
    let mut line = CatalogueLine {
        id: set.id.clone(),
        title: set.title.clone(),
        kind: set.kind.to_string(),
        craft: "every craft".to_string(),
        dates: "at any date".to_string(),
        goals: 0,
        read: 0,
        recalled: 0,
        own: 0,
        not_at_hand: 0,
        not_checkable: paragraphs(set, ParagraphStatus::NotCheckable),
        paragraphs_not_at_hand: paragraphs(set, ParagraphStatus::NotAtHand),
    };
    if let Some(basis) = &set.basis {
        let authorities: Vec<&str> = basis.authorities.iter().map(|a| a.as_str()).collect();
        let categories: Vec<&str> = basis.categories.iter().map(|c| c.as_str()).collect();
        line.craft = format!("{}: {}", authorities.join(", "), categories.join(", "));
        line.dates = basis.in_force.to_string();
    }
    for requirement in &set.requirements {
        for spec in requirement.demand.goals() {
            line.goals += 1;
            let count = match (&spec.limit, spec.standing(&requirement.standing, None, false)) {
                (Limit::NotAtHand(_), _) => &mut line.not_at_hand,
                (_, Standing::Read { .. }) => &mut line.read,
                (_, Standing::Recalled) => &mut line.recalled,
                (_, Standing::OwnReading) => &mut line.own,
            };
            *count += 1;
        }
    }
    line
}

fn paragraphs(set: &RuleSet, status: ParagraphStatus) -> usize {
    set.paragraphs.iter().filter(|p| p.status == status).count()
}
