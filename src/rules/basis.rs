//! Which craft a rule applies to: dates in force and conditions, answered yes, no, or cannot tell.

use super::dates::Dates;
use super::figure::Standing;
use super::words::{Authority, Category, LightGroup};
use crate::units::{Length, Mass};
use jiff::civil::Date;

/// An answer that may be unknown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Holds {
    /// It holds.
    Yes,
    /// It does not, and why.
    No(String),
    /// It cannot be told; what is missing.
    Unknown(String),
}

impl Holds {
    /// Both must hold.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::No(why), _) | (_, Self::No(why)) => Self::No(why),
            (Self::Unknown(key), _) | (_, Self::Unknown(key)) => Self::Unknown(key),
            _ => Self::Yes,
        }
    }
}

/// What is known of the full-size craft a model stands for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Craft {
    /// Its category.
    pub category: Option<Category>,
    /// Whose rules it was built to.
    pub authority: Option<Authority>,
    /// When its type certificate was applied for.
    pub applied: Option<Dates>,
    /// When its type certificate was issued.
    pub certificated: Option<Dates>,
    /// Its first flight: the application was not later.
    pub first_flight: Option<Dates>,
    /// The date of the configuration shown.
    pub depicted: Option<Dates>,
    /// Its mass.
    pub mass: Option<Mass>,
    /// Its full-size length.
    pub length: Option<Length>,
    /// Whether night operation was asked for.
    pub night: Option<bool>,
    /// Whether it alights on water.
    pub seaplane: Option<bool>,
    /// The rule set to judge by, whatever the rest says.
    pub judge_by: Option<String>,
    /// The lights the model has.
    pub fitted: Vec<super::words::Light>,
    /// Where the model is flown.
    pub flown_in: Option<Authority>,
}

impl Craft {
    /// The days the type certificate may have been applied for.
    #[must_use]
    pub fn application(&self) -> Dates {
        // What flies, or is shown, was applied for by then.
        let last = [self.first_flight, self.depicted].into_iter().flatten().map(|d| d.last).min();
        self.applied.unwrap_or(Dates { last: last.unwrap_or(Dates::ALWAYS.last), ..Dates::ALWAYS })
    }

    /// The days the craft may be shown on: not before it was applied for, where nothing is said of it.
    #[must_use]
    pub fn shown(&self) -> Dates {
        let first = self.first_flight.or(self.applied).map_or(Dates::ALWAYS.first, |d| d.first);
        self.depicted.unwrap_or(Dates { first, ..Dates::ALWAYS })
    }

    /// Whether its type certificate was issued in a time: not before it was applied for.
    fn certificated_in(&self, time: &InForce) -> Holds {
        let first = self.applied.map_or(Dates::ALWAYS.first, |d| d.first);
        let days = self.certificated.unwrap_or(Dates { first, ..Dates::ALWAYS });
        match time.on(days) {
            Holds::No(why) => Holds::No(format!("by the date of its type certificate {why}")),
            Holds::Unknown(_) => Holds::Unknown("prototype.certificated".into()),
            Holds::Yes => Holds::Yes,
        }
    }
}

/// From which day, and up to which day (not included), something holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct InForce {
    /// The first day; a range where sources disagree.
    pub from: Option<Dates>,
    /// The first day it no longer holds.
    pub until: Option<Dates>,
    /// How well the dates are known.
    pub standing: Option<Standing>,
}

impl std::fmt::Display for InForce {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match (self.from, self.until) {
            (None, None) => f.write_str("at any date")?,
            (Some(from), None) => write!(f, "from {from}")?,
            (None, Some(until)) => write!(f, "until before {until}")?,
            (Some(from), Some(until)) => write!(f, "from {from} until before {until}")?,
        }
        self.standing.as_ref().map_or(Ok(()), |standing| write!(f, " ({standing})"))
    }
}

impl InForce {
    /// Whether it holds on every day, on none, or on some of the days given.
    #[must_use]
    pub fn on(&self, days: Dates) -> Holds {
        let too_early = self.from.is_some_and(|from| days.last < from.first);
        let too_late = self.until.is_some_and(|until| days.first >= until.last);
        let surely = self.from.is_none_or(|from| days.first >= from.last)
            && self.until.is_none_or(|until| days.last < until.first);
        match (too_early, too_late, surely) {
            (true, ..) => {
                Holds::No(format!("not in force before {}", self.from.map_or(String::new(), |d| d.to_string())))
            }
            (_, true, _) => {
                Holds::No(format!("no longer in force from {}", self.until.map_or(String::new(), |d| d.to_string())))
            }
            (.., true) => Holds::Yes,
            _ => Holds::Unknown("prototype.applied".into()),
        }
    }

    /// The days at which the answer may change.
    #[must_use]
    pub fn boundaries(&self) -> Vec<Date> {
        [self.from, self.until].into_iter().flatten().flat_map(|d| [d.first, d.last]).collect()
    }
}

/// When a requirement applies.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct When {
    /// Only to these categories; empty: to all.
    pub category: Vec<Category>,
    /// Only where night operation is, or is not, asked for.
    pub night: Option<bool>,
    /// Only to craft that alight on water, or do not.
    pub seaplane: Option<bool>,
    /// Only over this mass and up to that one.
    pub mass: (Option<Mass>, Option<Mass>),
    /// Only from this full-size length on and under that one.
    pub length: (Option<Length>, Option<Length>),
    /// Only where all of these are fitted.
    pub fitted: Vec<LightGroup>,
    /// Only to craft whose type certificate was issued in this time.
    pub certificated: Option<InForce>,
}

impl When {
    /// Whether the conditions hold for a craft.
    #[must_use]
    pub fn holds_for(&self, craft: &Craft) -> Holds {
        let category = match craft.category {
            _ if self.category.is_empty() => Holds::Yes,
            Some(c) if self.category.contains(&c) => Holds::Yes,
            Some(c) => Holds::No(format!("not asked of a {c}")),
            None => Holds::Unknown("prototype.category".into()),
        };
        let fitted = self.fitted.iter().find(|group| !craft.fitted.iter().any(|l| group.holds(*l)));
        let fitted = fitted.map_or(Holds::Yes, |group| Holds::No(format!("no {group} light is fitted")));
        category
            .and(flag(self.night, craft.night, "night operation", "prototype.night"))
            // A craft that says nothing of water is a landplane: nobody forgets floats.
            .and(flag(self.seaplane, Some(craft.seaplane.unwrap_or(false)), "alighting on water", "prototype.seaplane"))
            .and(between(self.mass, craft.mass, ("a mass", "prototype.mass"), |is, over| is > over))
            .and(between(self.length, craft.length, ("a length", "model.length"), |is, least| is >= least))
            .and(self.certificated.as_ref().map_or(Holds::Yes, |time| craft.certificated_in(time)))
            .and(fitted)
    }
}

fn flag(wanted: Option<bool>, is: Option<bool>, what: &str, key: &str) -> Holds {
    match (wanted, is) {
        (None, _) => Holds::Yes,
        (Some(_), None) => Holds::Unknown(key.into()),
        (Some(wanted), Some(is)) if wanted == is => Holds::Yes,
        (Some(true), _) => Holds::No(format!("asked only with {what}")),
        (Some(false), _) => Holds::No(format!("asked only without {what}")),
    }
}

/// Whether a figure lies beyond the first limit and not beyond the second; `beyond` says which side owns a limit.
fn between<Q: PartialOrd + Copy + std::fmt::Display>(
    (low, high): (Option<Q>, Option<Q>),
    is: Option<Q>,
    (what, key): (&str, &str),
    beyond: impl Fn(Q, Q) -> bool,
) -> Holds {
    if low.is_none() && high.is_none() {
        return Holds::Yes;
    }
    let Some(is) = is else { return Holds::Unknown(key.into()) };
    if let Some(low) = low.filter(|l| !beyond(is, *l)) {
        return Holds::No(format!("asked only beyond {what} of {low}"));
    }
    if let Some(high) = high.filter(|h| beyond(is, *h)) {
        return Holds::No(format!("asked only below {what} of {high}"));
    }
    Holds::Yes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn days(text: &str) -> Dates {
        text.parse().expect("dates")
    }

    #[test]
    fn the_day_before_and_the_day() {
        // The 1971 standard took effect on 11 August 1971 (read, FAA Historical Chronology).
        let new = InForce { from: Some(days("1971-08-11")), ..InForce::default() };
        let old = InForce { until: Some(days("1971-08-11")), ..InForce::default() };
        assert_eq!(new.on(days("1971-08-11")), Holds::Yes);
        assert!(matches!(new.on(days("1971-08-10")), Holds::No(_)));
        assert_eq!(old.on(days("1971-08-10")), Holds::Yes);
        assert!(matches!(old.on(days("1971-08-11")), Holds::No(_)));
        assert!(matches!(new.on(days("1971")), Holds::Unknown(_)));
    }

    #[test]
    fn a_boundary_may_be_a_range() {
        let new = InForce { from: Some(days("1977-07-18 to 1977-09-01")), ..InForce::default() };
        assert!(matches!(new.on(days("1977-08")), Holds::Unknown(_)));
        assert_eq!(new.on(days("1977-09-01")), Holds::Yes);
        assert!(matches!(new.on(days("1977-07-17")), Holds::No(_)));
    }

    #[test]
    fn unknown_is_not_no() {
        let when = When { night: Some(true), ..When::default() };
        assert_eq!(when.holds_for(&Craft::default()), Holds::Unknown("prototype.night".into()));
    }
}
