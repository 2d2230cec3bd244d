//! What a controller that counts time in ticks makes of a pattern.

use super::Found;
use super::by_rules::{Driven, Judged, judged, stand_in, words};
use super::codes;
use crate::aircraft::Channel;
use crate::judge::Verdict;
use crate::rules::{Limit, Requirement, RuleKind, RuleSet};
use crate::source::At;
use crate::timing::{FlashReading, Waveform, milliseconds};
use crate::units::{Fraction, Micros, rounded, short};

/// What rounding to ticks does to each pattern, and to the goals it meets as written.
pub(super) struct Ticks<'a> {
    pub sets: &'a [&'a RuleSet],
    pub driven: &'a [Driven<'a>],
    pub tick: Micros,
    /// A relative change of a time that is told.
    pub change_over: f64,
    pub reading: FlashReading,
}

impl Ticks<'_> {
    /// Tells of goals that rounding turns, and of patterns it changes.
    pub fn told(&self, written: &[Judged<'_>], out: &mut Vec<Found>) {
        let rounded: Vec<Option<Channel>> = self.driven.iter().map(|one| self.rounded(one.channel)).collect();
        if rounded.iter().all(Option::is_none) {
            return;
        }
        let run: Vec<Driven<'_>> = self
            .driven
            .iter()
            .zip(&rounded)
            .map(|(one, run)| Driven { channel: run.as_ref().unwrap_or(one.channel), light: one.light, at: one.at })
            .collect();
        let model = stand_in(&run);
        let changed = |n: usize| rounded.get(n).is_some_and(Option::is_some);
        let mut missed: Vec<Judged<'_>> = judged(self.sets, &model, &changed);
        missed.retain(|g| g.verdict == Verdict::Missed);
        let is_met = |g: &&Judged<'_>| written.iter().any(|w| same(w, g) && w.verdict == Verdict::Met);
        let turned: Vec<&Judged<'_>> = missed.iter().filter(is_met).collect();
        for goal in &turned {
            let blame = goal.finding.as_ref().map_or_else(At::nowhere, |f| f.blame.clone());
            let message = format!("rounded to ticks of {}, {}", self.tick, words(goal, &model));
            let help = self.help(goal, &goal.channels(&model), &run);
            let mut found = Found::own(codes::TICK_TURNS_VERDICT, &blame, message).with_help(&help);
            if goal.requirement.kind != RuleKind::Published {
                found.weighs_as_practice();
            }
            out.push(found);
        }
        for ((one, run), rounded) in self.driven.iter().zip(&run).zip(&rounded) {
            let told = turned.iter().any(|g| g.channels(&model).contains(&one.channel.name.as_str()));
            if rounded.is_some() && !told {
                self.change(one, run.channel, out);
            }
        }
    }

    /// A channel as it is run, where that is not as it is written.
    fn rounded(&self, channel: &Channel) -> Option<Channel> {
        let waveform = channel.waveform.in_ticks(self.tick).filter(|run| *run != channel.waveform)?;
        Some(Channel { waveform, ..channel.clone() })
    }

    fn change(&self, one: &Driven<'_>, run: &Channel, out: &mut Vec<Found>) {
        let change = change(&one.channel.waveform, &run.waveform, &self.reading);
        if change > self.change_over {
            let (name, tick) = (&one.channel.name, self.tick);
            let message =
                format!("channel `{name}`: rounded to ticks of {tick} a time changes by {:.0} %", change * 100.0);
            let becomes = becomes(&one.channel.waveform, &run.waveform, &self.reading);
            let help = format!("{}: write times that are whole ticks, or a finer `tick`", becomes.join(", "));
            out.push(Found::own(codes::TICK_CHANGES_PATTERN, one.at, message).with_help(&help));
        }
    }

    /// A period of whole ticks that keeps the limits, for a frequency; for other goals what becomes of each time.
    fn help(&self, goal: &Judged<'_>, names: &[&str], run: &[Driven<'_>]) -> String {
        let mine: Vec<(&Driven<'_>, &Driven<'_>)> =
            self.driven.iter().zip(run).filter(|(one, _)| names.contains(&one.channel.name.as_str())).collect();
        let frequency = frequency_asked(goal.requirement).filter(|_| names.len() == 1);
        if let (Some((low, high)), Some((one, _))) = (frequency, mine.first()) {
            return self.whole_period(&one.channel.waveform, low, high);
        }
        let changed =
            mine.iter().map(|(one, run)| (one, becomes(&one.channel.waveform, &run.channel.waveform, &self.reading)));
        let changed = changed.filter(|(_, list)| !list.is_empty());
        let changed: Vec<String> =
            changed.map(|(one, list)| format!("channel `{}`, {}", one.channel.name, list.join(", "))).collect();
        format!("{}: write times that are whole ticks", changed.join("; "))
    }

    fn whole_period(&self, written: &Waveform, low: f64, high: f64) -> String {
        let (tick, flashes) = (self.tick.ms(), written.flashes(&self.reading).flashes.len() as f64);
        let (fewest, most) = ((flashes * 60_000.0 / high / tick).ceil(), (flashes * 60_000.0 / low / tick).floor());
        // Every stretch, lit or dark, takes a tick at least.
        let fewest = fewest.max(written.pieces().len() as f64);
        if fewest > most {
            return "no whole number of ticks is a period that keeps the limits: write a finer `tick`".to_string();
        }
        let ticks = (milliseconds(written.period_us()) / tick).round().clamp(fewest, most);
        let (period, rate) = (ticks * tick, flashes * 60_000.0 / (ticks * tick));
        format!(
            "write a period of {ticks} ticks = {} ms, {} per min, and whole ticks within it",
            short(period),
            rounded(rate, 3)
        )
    }
}

/// The limits of a requirement on a flash frequency, a minute.
fn frequency_asked(requirement: &Requirement) -> Option<(f64, f64)> {
    requirement.demand.goals().iter().find_map(|spec| match &spec.limit {
        Limit::Between(low, high) if spec.quantity.value == "flash frequency" => {
            Some((low.scalar.value, high.scalar.value))
        }
        _ => None,
    })
}

/// What rounding makes of the start, the period and the lit time that changes most, each where it changes.
fn becomes(paper: &Waveform, run: &Waveform, reading: &FlashReading) -> Vec<String> {
    let us = |time: Micros| Fraction::new(i128::from(time.0), 1);
    // A swell writes no lit time.
    let sudden = paper.rise_time().0 == 0 && paper.fall_time().0 == 0;
    let lit = if sudden { "`lit`" } else { "a pulse" };
    let lengths = |wave: &Waveform| wave.pulses(reading).into_iter().map(|p| p.end_us - p.onset_us).collect::<Vec<_>>();
    let pulses = lengths(paper).into_iter().zip(lengths(run));
    let pulse = pulses.max_by(|a, b| relative(a.0, a.1).total_cmp(&relative(b.0, b.1)));
    let times = [
        Some(("`start`", us(paper.start()), us(run.start()))),
        Some(("the period", paper.period_us(), run.period_us())),
        pulse.map(|(a, b)| (lit, a, b)),
    ];
    let changed = times.into_iter().flatten().filter(|(_, a, b)| a != b);
    changed
        .map(|(what, a, b)| format!("{what}: {} ms becomes {} ms", short(milliseconds(a)), short(milliseconds(b))))
        .collect()
}

fn relative(a: Fraction, b: Fraction) -> f64 {
    let (a, b) = (milliseconds(a), milliseconds(b));
    if a > 0.0 { (b - a).abs() / a } else { 0.0 }
}

fn same(a: &Judged<'_>, b: &Judged<'_>) -> bool {
    a.id == b.id && a.set.id == b.set.id
}

/// The greatest relative change of the period and of the shortest and longest lit time.
fn change(paper: &Waveform, run: &Waveform, reading: &FlashReading) -> f64 {
    if paper.is_steady() {
        return 0.0;
    }
    let period = relative(paper.period_us(), run.period_us());
    let lit = paper.pulses(reading).into_iter().zip(run.pulses(reading));
    lit.map(|(a, b)| relative(a.end_us - a.onset_us, b.end_us - b.onset_us)).fold(period, f64::max)
}
