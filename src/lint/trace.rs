//! A recorded light held against the channel it should show, and against the goals a recording can answer.

use super::Rules;
use crate::aircraft::{Sequence, SequenceChannel};
use crate::measure::against;
use crate::rules::{GoalSpec, RuleKind, Unit, show, show_range};
use crate::scene::Readings;
use crate::timing::{FlashReading, Recorded, Shown, milliseconds};
use crate::units::Interval;

/// What became of a recording.
#[derive(Debug, Clone)]
pub struct Traced {
    /// The channel it was held against.
    pub channel: String,
    /// What it shows; nothing where it has fewer than two whole flashes.
    pub shown: Option<Shown>,
    /// The goals a recording can answer.
    pub goals: Vec<TracedGoal>,
    /// How it compares with the file, figure by figure.
    pub compared: Vec<Compared>,
}

/// A goal and what the recording says of it.
#[derive(Debug, Clone, PartialEq)]
pub struct TracedGoal {
    /// The requirement.
    pub id: String,
    /// Its rule set and paragraph.
    pub by: String,
    /// Its title.
    pub title: String,
    /// Whether it is a published one.
    pub published: bool,
    /// What was found.
    pub found: String,
    /// What is asked.
    pub required: String,
    /// Met, missed, or none of them: the limit lies within what was found.
    pub met: Option<bool>,
}

/// A figure of the file beside the recording's.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// What it is.
    pub what: &'static str,
    /// What the file says.
    pub file: String,
    /// What the recording shows.
    pub shown: String,
    /// Whether the file's figure lies within what the recording allows.
    pub agrees: bool,
}

/// Holds a recording against a channel of a sequence.
#[must_use]
pub fn trace(recorded: &Recorded, channel: &SequenceChannel, sequence: &Sequence, rules: &Rules) -> Traced {
    let sets = rules.for_sequence(sequence.judge_by.as_ref().map(|j| j.value.as_str()));
    let reading = sets.last().map_or_else(FlashReading::default, |set| Readings::of(set).flash);
    let shown = recorded.shown(&reading);
    let name = channel.channel.name.clone();
    let Some(found) = &shown else {
        return Traced { channel: name, shown, goals: Vec::new(), compared: Vec::new() };
    };
    Traced {
        channel: name,
        goals: goals(channel, rules, sequence, found),
        compared: compared(channel, &reading, found),
        shown,
    }
}

/// A count by hand: so many flashes in so many seconds, one more or less.
#[must_use]
pub fn counted(flashes: u32, seconds: f64, channel: &SequenceChannel, sequence: &Sequence, rules: &Rules) -> Traced {
    let flashes = f64::from(flashes);
    let per_min = Interval { low: (flashes - 1.0).max(0.0) * 60.0 / seconds, high: (flashes + 1.0) * 60.0 / seconds };
    let reading = FlashReading::default();
    let file = channel.channel.waveform.flashes(&reading).flash_rate().per_min();
    let compared = vec![compare("flashes a minute", file, per_min, Unit::PerMinute)];
    let goals =
        each_goal(channel, rules, sequence, &|spec| (spec.quantity.value == "flash frequency").then_some(per_min));
    Traced { channel: channel.channel.name.clone(), shown: None, goals, compared }
}

fn goals(channel: &SequenceChannel, rules: &Rules, sequence: &Sequence, found: &Shown) -> Vec<TracedGoal> {
    each_goal(channel, rules, sequence, &|spec| match spec.quantity.value.as_str() {
        "flash frequency" => Some(found.per_min),
        "on-time" => Some(found.longest_ms),
        "duty" => Some(found.duty),
        _ => None,
    })
}

fn each_goal(
    channel: &SequenceChannel,
    rules: &Rules,
    sequence: &Sequence,
    figure: &dyn Fn(&GoalSpec) -> Option<Interval>,
) -> Vec<TracedGoal> {
    let Some(light) = channel.drives.as_ref().map(|d| d.value) else { return Vec::new() };
    let mut goals = Vec::new();
    for set in rules.for_sequence(sequence.judge_by.as_ref().map(|j| j.value.as_str())) {
        for requirement in &set.requirements {
            for spec in requirement.demand.goals().into_iter().filter(|s| s.light.holds(light)) {
                let Some(found) = figure(spec) else { continue };
                let Some((required, margin)) = against(&spec.limit, found) else { continue };
                let unit = unit_of(&spec.quantity.value);
                goals.push(TracedGoal {
                    id: requirement.id.clone(),
                    by: match requirement.kind {
                        RuleKind::Published => format!("{} {}", set.id, requirement.cite),
                        _ => requirement.cite.clone(),
                    },
                    title: requirement.title.clone(),
                    published: requirement.kind == RuleKind::Published,
                    found: show_range(found, unit),
                    required: required.text,
                    met: if margin.low >= 0.0 { Some(true) } else { (margin.high < 0.0).then_some(false) },
                });
            }
        }
    }
    goals
}

fn unit_of(quantity: &str) -> Unit {
    match quantity {
        "on-time" => Unit::Millisecond,
        "duty" => Unit::Share,
        _ => Unit::PerMinute,
    }
}

fn compared(channel: &SequenceChannel, reading: &FlashReading, found: &Shown) -> Vec<Compared> {
    let waveform = &channel.channel.waveform;
    let flashes = waveform.flashes(reading);
    let pulses: Vec<f64> = waveform.pulses(reading).iter().map(|p| milliseconds(p.end_us - p.onset_us)).collect();
    let (fewest, most) = flashes.flashes.iter().fold((usize::MAX, 0), |(l, h), f| (l.min(f.pulses), h.max(f.pulses)));
    let in_flash =
        |(low, high): (usize, usize)| if low == high { high.to_string() } else { format!("{low} to {high}") };
    let mut list = vec![compare("flashes a minute", flashes.flash_rate().per_min(), found.per_min, Unit::PerMinute)];
    if most > 0 {
        list.push(Compared {
            what: "pulses in a flash",
            file: in_flash((fewest, most)),
            shown: in_flash(found.pulses),
            agrees: (fewest, most) == found.pulses,
        });
    }
    let longest = pulses.iter().copied().fold(0.0, f64::max);
    let shortest = pulses.iter().copied().fold(f64::INFINITY, f64::min);
    list.push(compare("longest pulse", longest, found.longest_ms, Unit::Millisecond));
    if shortest.is_finite() && shortest < longest {
        list.push(compare("shortest pulse", shortest, found.shortest_ms, Unit::Millisecond));
    }
    list.push(compare("share of time lit", waveform.duty(reading), found.duty, Unit::Share));
    list
}

fn compare(what: &'static str, file: f64, shown: Interval, unit: Unit) -> Compared {
    Compared {
        what,
        file: show(file, unit),
        shown: show_range(shown, unit),
        agrees: shown.low <= file && file <= shown.high,
    }
}
