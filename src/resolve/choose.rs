//! The rule sets of a craft, each at every standing its dates allow.

use super::standings::standings;
use crate::error::Error;
use crate::rules::{Authority, Basis, ChosenBy, Craft, Dates, Holds, Judges, RuleHead, RuleKind, RuleSet};

/// A rule set at one standing.
#[derive(Debug, Clone)]
pub struct Candidate<'a> {
    /// The rule set.
    pub set: &'a RuleSet,
    /// The days, of the kind that choose its document, for which this standing holds.
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

impl Candidate<'_> {
    /// Whether both answer one question: the standings of a document, and of the documents of one authority that took
    /// each other's place.
    #[must_use]
    pub fn is_rival_of(&self, other: &Self) -> bool {
        match (&self.set.basis, &other.set.basis) {
            (Some(a), Some(b)) => {
                let shared = a.authorities.iter().any(|x| b.authorities.contains(x));
                // What is asked on the water is asked besides, and not instead.
                a.chosen_by == b.chosen_by && shared && a.seaplane == b.seaplane
            }
            _ => self.set.id == other.set.id,
        }
    }

    /// Whether it is about the model at the place it is flown, and not about the craft it stands for.
    #[must_use]
    pub fn is_local(&self) -> bool {
        self.set.kind == RuleKind::LocalRule
    }
}

/// Why a set was chosen that was asked for by its id.
const ASKED: &str = "asked for";

/// Which rule sets answer a craft, by what they say of themselves; the others need not be read.
///
/// # Errors
/// No published rule set answers the craft; names what is missing or nearest.
pub fn wanted(craft: &Craft, heads: &[RuleHead], asked: Option<&str>) -> Result<Vec<bool>, Error> {
    let fit: Vec<bool> = heads.iter().map(|head| fits(craft, head, asked).is_ok()).collect();
    let full_size = heads.iter().zip(&fit).any(|(head, fit)| *fit && head.kind != RuleKind::LocalRule);
    if !full_size && asked.is_none() {
        return Err(Error::NoRuleSet { why: nearest(craft, heads.iter()) });
    }
    Ok(heads.iter().zip(fit).map(|(head, fit)| fit || holds_for_every_craft(head)).collect())
}

/// Whether a set is about craft and about no craft in particular.
fn holds_for_every_craft(head: &RuleHead) -> bool {
    head.basis.is_none() && head.judges != Judges::Sequences
}

/// The published rule sets of a craft at every standing its dates allow, then those that hold for every craft, then the
/// local rules of the place it is flown.
///
/// A set asked for by its id is used whatever its basis says, and instead of every other published one. Operating rules
/// go by the date shown; where none is given, the first that held after the craft was built is taken.
///
/// # Errors
/// No published rule set answers the craft; names what is missing or nearest.
pub fn choose<'a>(craft: &Craft, sets: &'a [RuleSet], asked: Option<&str>) -> Result<Vec<Candidate<'a>>, Error> {
    let mut chosen: Vec<Candidate<'a>> = Vec::new();
    for set in sets {
        if let (Some(basis), Ok(why)) = (&set.basis, fits(craft, set, asked)) {
            chosen.extend(standings(craft, set, basis, &why));
        }
    }
    let is = |c: &Candidate<'_>, by: ChosenBy| c.set.basis.as_ref().is_some_and(|b| b.chosen_by == by);
    if !chosen.iter().any(|c| !c.is_local()) && asked.is_none() {
        return Err(Error::NoRuleSet { why: nearest(craft, sets.iter().map(|s| &s.head)) });
    }
    // Requirements for the design first, the oldest first.
    chosen.sort_by_key(|c| (is(c, ChosenBy::Flown), is(c, ChosenBy::Depicted), c.days.first, c.refit));
    let by_name = asked.is_some() || craft.judge_by.is_some();
    if !by_name {
        say_what_is_not_at_hand(craft, &mut chosen);
    }
    if craft.depicted.is_none() && !by_name {
        drop_successors(&mut chosen);
    }
    let (local, mut chosen): (Vec<_>, Vec<_>) = chosen.into_iter().partition(|c| is(c, ChosenBy::Flown));
    for set in sets.iter().filter(|s| holds_for_every_craft(s) || asked == Some(s.id.as_str()) && s.basis.is_none()) {
        let binding = asked == Some(set.id.as_str()) || set.kind == RuleKind::Published;
        let why = if asked == Some(set.id.as_str()) { ASKED } else { "holds for every craft" };
        // A set without a basis may have requirements with dates: those of the application, as for a design.
        let (days, span) = (craft.application(), Dates::ALWAYS);
        chosen.push(Candidate { set, days, span, why: why.to_string(), beside: Vec::new(), refit: false, binding });
    }
    chosen.extend(local);
    Ok(chosen)
}

/// What an earlier document asked must be said where it is not at hand, not passed over.
fn say_what_is_not_at_hand(craft: &Craft, chosen: &mut [Candidate<'_>]) {
    let of_design = |c: &&mut Candidate<'_>| c.set.basis.as_ref().is_some_and(|b| b.chosen_by == ChosenBy::Application);
    let first = chosen.iter_mut().filter(of_design).map(|c| c.days.first).min();
    match first {
        Some(first) if first > craft.application().first => {
            if let Some(candidate) = chosen.iter_mut().find(of_design) {
                candidate.beside.push(format!("what held before {first} is not at hand and not judged"));
            }
        }
        Some(_) => {}
        None => {
            if let Some(candidate) = chosen.first_mut() {
                candidate.beside.push(
                    "the requirements for the design of this craft are not at hand: judged by the rules for showing lights alone"
                        .to_string(),
                );
            }
        }
    }
}

/// Leaves out the documents that took the place of another that was chosen too.
fn drop_successors(chosen: &mut Vec<Candidate<'_>>) {
    let of_flight = |set: &RuleSet| set.basis.clone().filter(|b| b.chosen_by == ChosenBy::Depicted);
    let bases: Vec<Basis> = chosen.iter().filter_map(|c| of_flight(c.set)).collect();
    let replaces = |later: &Basis| {
        bases.iter().any(|b| {
            b.authorities.iter().any(|a| later.authorities.contains(a))
                && b.in_force.until.is_some()
                && b.in_force.from.map(|d| d.first) < later.in_force.from.map(|d| d.first)
        })
    };
    chosen.retain(|c| of_flight(c.set).is_none_or(|basis| !replaces(&basis)));
}

/// Why a rule set fits a craft, or why it does not.
fn fits(craft: &Craft, head: &RuleHead, asked: Option<&str>) -> Result<String, String> {
    let Some(basis) = &head.basis else { return Err("it holds for every craft".to_string()) };
    if let Some(asked) = asked {
        return if asked == head.id { Ok(ASKED.to_string()) } else { Err(format!("`{asked}` was asked for")) };
    }
    if basis.chosen_by == ChosenBy::Flown {
        return flown(craft, basis);
    }
    if let Some(named) = &craft.judge_by {
        let why = "named by prototype.judge_by";
        return if *named == head.id { Ok(why.to_string()) } else { Err(format!("{why} is `{named}`")) };
    }
    let (Some(category), Some(authority)) = (craft.category, craft.authority) else {
        return Err("the craft's category or authority is not given".to_string());
    };
    if !basis.authorities.contains(&authority) {
        return Err(format!("of another authority than {authority}"));
    }
    if !basis.categories.contains(&category) {
        return Err(format!("for other categories than {category}"));
    }
    match basis.seaplane {
        Some(true) if craft.seaplane != Some(true) => return Err("it is for craft that alight on water".to_string()),
        Some(false) if craft.seaplane == Some(true) => {
            return Err("it is not for craft that alight on water".to_string());
        }
        _ => {}
    }
    let dates = match basis.chosen_by {
        ChosenBy::Depicted => vec![craft.shown()],
        _ => [Some(craft.application()), refitted(craft)].into_iter().flatten().collect(),
    };
    let mut why_not = String::new();
    for days in dates {
        match basis.in_force.on(days) {
            Holds::No(why) => why_not = why,
            _ => return Ok(format!("{category} of {authority}")),
        }
    }
    Err(why_not)
}

fn flown(craft: &Craft, basis: &Basis) -> Result<String, String> {
    match craft.flown_in {
        Some(place) if basis.authorities.contains(&place) => Ok(format!("flown in {place}")),
        Some(place) => Err(format!("for models flown elsewhere than in {place}")),
        None => Err("for models flown at a place that is named (`flown_in` of the model)".to_string()),
    }
}

/// Authorities in words.
fn named(authorities: &[Authority]) -> String {
    let names: Vec<&str> = authorities.iter().map(|a| a.as_str()).collect();
    names.join(", ")
}

/// The days shown, where they are later than the application: the craft may have been refitted to the rules of then.
pub(super) fn refitted(craft: &Craft) -> Option<Dates> {
    craft.depicted.filter(|shown| shown.first > craft.application().last)
}

/// Each rule set for certain craft with why it answers one, or why it does not.
#[must_use]
pub fn reasons<'a>(craft: &Craft, heads: &'a [RuleHead]) -> Vec<(&'a RuleHead, Result<String, String>)> {
    heads.iter().filter(|h| h.basis.is_some()).map(|head| (head, fits(craft, head, None))).collect()
}

/// What to tell a user whose craft no rule set answers.
fn nearest<'h>(craft: &Craft, heads: impl Iterator<Item = &'h RuleHead>) -> String {
    let heads: Vec<&RuleHead> = heads.collect();
    if let Some(named) = &craft.judge_by {
        return unknown(named, &heads);
    }
    let with_basis: Vec<(&RuleHead, &Basis)> = heads
        .into_iter()
        .filter(|h| h.kind != RuleKind::LocalRule)
        .filter_map(|h| Some((h, h.basis.as_ref()?)))
        .collect();
    let wanted = match (craft.category, craft.authority) {
        (None, None) => return "the file says neither prototype.category nor prototype.authority; add both, or name a rule set with prototype.judge_by".to_string(),
        (None, _) => return "the file has no prototype.category; add it, like `category: transport aeroplane`".to_string(),
        (_, None) => return "the file has no prototype.authority; add it, like `authority: US`".to_string(),
        (Some(category), Some(authority)) => format!("{category}, {authority}, applied for {}", craft.application()),
    };
    let shares = |b: &Basis| {
        (
            craft.category.is_some_and(|c| b.categories.contains(&c)),
            craft.authority.is_some_and(|a| b.authorities.contains(&a)),
        )
    };
    let mut near: Vec<_> = with_basis;
    near.sort_by_key(|(_, b)| std::cmp::Reverse(shares(b)));
    let near: Vec<String> = near
        .into_iter()
        .take(NEAREST)
        .map(|(head, basis)| {
            let categories: Vec<&str> = basis.categories.iter().map(|c| c.as_str()).collect();
            let from = basis.in_force.from.map_or(String::new(), |d| format!(", from {d}"));
            format!("`{}` ({}; {}{from})", head.id, named(&basis.authorities), categories.join(", "))
        })
        .collect();
    format!(
        "{wanted}; nearest: {}; to judge by it all the same, write `judge_by: ID` under prototype; `lampwright rules` lists all",
        near.join(", ")
    )
}

/// What to tell a user who names a rule set that cannot judge a craft.
fn unknown(named: &str, heads: &[&RuleHead]) -> String {
    let Some(found) = heads.iter().find(|h| h.id == named) else {
        let ids = heads.iter().filter(|h| h.basis.is_some()).map(|h| h.id.as_str());
        let near = crate::source::nearest(named, ids).map_or(String::new(), |near| format!("; did you mean `{near}`?"));
        return format!("prototype.judge_by names `{named}`, which is none{near}; `lampwright rules` lists them");
    };
    if found.kind == RuleKind::LocalRule {
        return format!(
            "prototype.judge_by names `{named}`, which is about models where they are flown and not about a craft; write `flown_in` under model"
        );
    }
    format!(
        "prototype.judge_by names `{named}`, which holds for every craft; name a document, or give category and authority"
    )
}

/// How many rule sets are named to a user whose craft none answers.
const NEAREST: usize = 3;
