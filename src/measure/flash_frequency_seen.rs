//! How often an observer in any one direction sees the whole system flash.

use super::flash_frequency::period_asked;
use super::zones::{blame, plain, plain_finding, takes_plain};
use super::{CannotTell, Finding, Needs, Quantity, Where};
use crate::geometry::Direction;
use crate::resolve::Goal;
use crate::rules::{Limit, Region, Sources, Table, Unit};
use crate::scene::{Scene, Sweep, System};
use crate::timing::{Clock, FlashReading, JointLimits, flash_frequency};
use crate::units::Interval;
use std::collections::BTreeMap;
use std::sync::Arc;

/// More sources than this may be seen or not: their combinations are no longer counted one by one.
const MOST_UNSURE: u32 = 10;

/// See [`Quantity`].
pub struct FlashFrequencySeen;

impl Quantity for FlashFrequencySeen {
    fn id(&self) -> &'static str {
        "flash frequency seen"
    }

    fn how(&self) -> &'static str {
        "In every direction of the band the sources seen there are found: a source is a channel, seen where a lamp of it is \
         not hidden and its own effective intensity is at least 5 % of the strongest source's there and of the minimum \
         there. Flashes of sources on one clock that overlap count once; of several clocks the highest frequency is their \
         sum, the lowest the largest of them. Repeated at 1 % and 20 %, and with every pulse counted; a changed verdict is said."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::PerMinute], "write `limit: {between: [40 per min, 100 per min]}`")
    }

    fn needs(&self) -> Needs {
        Needs { keys: &["sources", "seen_over"], ..Needs::region(&["band"]) }
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let system = System::new(scene, &goal.lamps)?;
        if system.sources.len() > 32 {
            return Err(CannotTell::Beyond("more than 32 channels light the system".to_string()));
        }
        let looked = Looked::over(goal, scene, &system)?;
        let reading = scene.readings.flash;
        let usual = looked.found(goal, &system, scene.readings.seen_from, &reading)?;
        let blame = blame(goal, scene, |l| &l.places.pattern);
        if !usual.any_seen {
            let share = crate::rules::show(scene.readings.seen_from, Unit::Share);
            return Err(CannotTell::Beyond(format!(
                "no source reaches {share} of the minimum in any direction, so none counts as seen; see their effective intensity"
            )));
        }
        let Some(found) = usual.found else {
            return Err(CannotTell::NotAsked(
                match goal.spec.sources {
                    Some(Sources::Several) => "nowhere are two sources seen together",
                    _ => "nowhere is one source seen by itself",
                }
                .to_string(),
            ));
        };
        let at = usual.at.map(Where::from);
        let mut finding = plain_finding(goal, found, Unit::PerMinute, at, &blame)?;
        finding.margin = usual.margin;
        finding.notes.extend(usual.names);
        let verdict = |margin: Interval| (margin.low >= 0.0, margin.high < 0.0);
        for share in [0.01, 0.2] {
            let other = looked.found(goal, &system, share, &reading)?;
            if verdict(other.margin) != verdict(usual.margin) {
                finding.notes.push(format!(
                    "counting sources as seen from {} would change the verdict",
                    crate::rules::show(share, Unit::Share)
                ));
            }
        }
        let pulses = looked.found(goal, &system, scene.readings.seen_from, &reading.every_pulse())?;
        if let Some(each) = pulses.found.filter(|f| *f != found) {
            let turned =
                if verdict(pulses.margin) == verdict(usual.margin) { "" } else { "; it would change the verdict" };
            finding
                .notes
                .push(format!("counting every pulse {}{turned}", crate::rules::show_range(each, Unit::PerMinute)));
        }
        if finding.margin.high < 0.0 {
            finding.to_meet = mend(goal, &system, found);
        }
        Ok(finding)
    }
}

/// What would bring the frequency into its limits.
fn mend(goal: &Goal<'_>, system: &System<'_>, found: Interval) -> Option<String> {
    let Limit::Between(low, high) = &goal.spec.limit else { return None };
    if system.sources.iter().any(|s| s.waveform.is_steady()) {
        return Some("a source never flashes: give it a pattern".to_string());
    }
    if goal.spec.sources == Some(Sources::Several) {
        return Some("put the channels on one clock so that they flash together, or slow one down".to_string());
    }
    let rate = if found.high > high.scalar.value { found.high } else { found.low };
    Some(period_asked(rate, low.scalar.value, high.scalar.value))
}

/// The sweep of a goal's system, and the minima of the rule.
struct Looked<'g> {
    sweep: Arc<Sweep>,
    seen_over: Option<&'g Table>,
}

/// What a share and a reading make of it.
struct Outcome {
    found: Option<Interval>,
    margin: Interval,
    at: Option<Direction>,
    names: Option<String>,
    any_seen: bool,
}

impl<'g> Looked<'g> {
    fn over(goal: &Goal<'g>, scene: &Scene<'_>, system: &System<'_>) -> Result<Self, CannotTell> {
        let Some(Region::Band(band)) = &goal.spec.region else {
            return Err(CannotTell::Beyond("the rule set gives this goal no band".to_string()));
        };
        let sweep = scene.sweep(&goal.lamps, system, *band);
        Ok(Self { sweep, seen_over: goal.spec.seen_over.as_ref() })
    }

    /// Sources surely seen and sources that may be, with a direction for each combination.
    fn combinations(&self, share: f64) -> BTreeMap<(u32, u32), Direction> {
        let mut seen = BTreeMap::new();
        let mut last = None;
        // The sweep goes round at one elevation before the next.
        let mut floor = (f64::NAN, 0.0);
        for (d, worth) in self.sweep.directions() {
            if floor.0 != d.elevation_deg() {
                let minimum = self.seen_over.and_then(|t| t.strictest(d.elevation_deg().abs()));
                floor = (d.elevation_deg(), minimum.unwrap_or(0.0));
            }
            let (sure, maybe) = seen_sources(worth, share, floor.1);
            // Most directions see what the one beside them sees.
            if last.replace((sure, maybe)) != Some((sure, maybe)) {
                seen.entry((sure, maybe)).or_insert(*d);
            }
        }
        seen
    }

    fn found(
        &self,
        goal: &Goal<'_>,
        system: &System<'_>,
        share: f64,
        reading: &FlashReading,
    ) -> Result<Outcome, CannotTell> {
        let wanted = |set: u32| match goal.spec.sources {
            Some(Sources::One) => set.count_ones() == 1,
            Some(Sources::Several) => set.count_ones() > 1,
            None => set != 0,
        };
        let mut rates: BTreeMap<u32, Interval> = BTreeMap::new();
        let mut outcome = Outcome {
            found: None,
            margin: Interval { low: f64::INFINITY, high: f64::INFINITY },
            at: None,
            names: None,
            any_seen: false,
        };
        for ((sure, maybe), d) in self.combinations(share) {
            if (maybe & !sure).count_ones() > MOST_UNSURE {
                return Err(CannotTell::Beyond(
                    "too many lamps may be seen or not: their light is not known well enough".to_string(),
                ));
            }
            outcome.any_seen |= maybe != 0;
            // The best that a direction's combinations allow is what it surely has at the least.
            let mut best = f64::NEG_INFINITY;
            for set in subsets(sure, maybe) {
                if !wanted(set) {
                    best = f64::INFINITY;
                    continue;
                }
                let rate = *rates.entry(set).or_insert_with(|| rate_of(set, system, reading));
                let margin = plain(&goal.spec.limit, rate).map_or(f64::NAN, |(_, m)| m.low);
                best = best.max(margin);
                outcome.found = Some(outcome.found.map_or(rate, |f| f.hull(rate)));
                if margin < outcome.margin.low {
                    outcome.margin.low = margin;
                    outcome.at = Some(d);
                    outcome.names = Some(named(set, system));
                }
            }
            outcome.margin.high = outcome.margin.high.min(best);
        }
        if outcome.margin.high.is_infinite() {
            // Nothing surely falls under this goal: what may, decides nothing but cannot be excluded.
            outcome.margin.high = outcome.margin.low.max(0.0);
        }
        Ok(outcome)
    }
}

/// The sources surely seen and those that may be, of what each is worth in a direction: a share of the strongest there and
/// of the minimum asked there.
fn seen_sources(worth: &[Interval], share: f64, floor: f64) -> (u32, u32) {
    let (mut sure, mut maybe) = (0_u32, 0_u32);
    for (n, own) in worth.iter().enumerate() {
        let others = |pick: fn(&Interval) -> f64| {
            worth.iter().enumerate().filter(|(m, _)| *m != n).map(|(_, w)| pick(w)).fold(0.0, f64::max)
        };
        let bit = 1_u32 << n;
        if own.low > 0.0 && own.low >= share * others(|w| w.high) && own.low >= share * floor {
            sure |= bit;
        }
        if own.high > 0.0 && own.high >= share * others(|w| w.low) && own.high >= share * floor {
            maybe |= bit;
        }
    }
    (sure, maybe)
}

/// Flashes a minute as seen from somewhere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SeenRate {
    /// So many.
    Rate(Interval),
    /// So many, or nothing flashing is seen: its light is not known well enough.
    RateOrDark(Interval),
    /// Nothing flashing is seen.
    Dark,
    /// What is seen there is not known, or cannot be reckoned.
    Unknown,
}

/// Flashes a minute of some lamps as seen in one direction, whatever the rule asks there.
#[must_use]
pub fn frequency_seen(scene: &Scene<'_>, lamps: &[usize], d: &Direction) -> SeenRate {
    let Some(system) = System::new(scene, lamps).ok().filter(|system| system.sources.len() <= 32) else {
        return SeenRate::Unknown;
    };
    let (sure, maybe) = seen_sources(&system.worth(d), scene.readings.seen_from, 0.0);
    if (maybe & !sure).count_ones() > MOST_UNSURE {
        return SeenRate::Unknown;
    }
    let sets = subsets(sure, maybe).into_iter().filter(|set| *set != 0);
    match sets.map(|set| rate_of(set, &system, &scene.readings.flash)).reduce(|a, b| a.hull(b)) {
        None => SeenRate::Dark,
        Some(rate) if sure == 0 => SeenRate::RateOrDark(rate),
        Some(rate) => SeenRate::Rate(rate),
    }
}

/// The sets that hold `sure` and lie within `maybe`.
fn subsets(sure: u32, maybe: u32) -> Vec<u32> {
    let free = maybe & !sure;
    let mut all = vec![sure];
    let mut part = free;
    while part != 0 {
        all.push(sure | part);
        part = (part - 1) & free;
    }
    all
}

fn named(set: u32, system: &System<'_>) -> String {
    let names: Vec<&str> =
        system.sources.iter().enumerate().filter(|(n, _)| set & (1 << n) != 0).map(|(_, s)| s.name).collect();
    format!("seen there: {}", names.join(", "))
}

/// Lower and upper flash frequency of a set of sources, a minute.
fn rate_of(set: u32, system: &System<'_>, reading: &FlashReading) -> Interval {
    let mut by_clock: BTreeMap<&str, Vec<&crate::timing::Waveform>> = BTreeMap::new();
    for (_, source) in system.sources.iter().enumerate().filter(|(n, _)| set & (1 << n) != 0) {
        by_clock.entry(source.clock).or_default().push(source.waveform);
    }
    let clocks: Vec<Clock<'_>> = by_clock.into_values().map(Clock::new).collect();
    let rate = flash_frequency(&clocks, reading, &JointLimits::default());
    Interval { low: rate.lower().per_min(), high: rate.upper().per_min() }
}
