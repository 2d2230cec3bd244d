//! Checks of the file itself: times a controller cannot keep, names nobody uses, phases that leave something out.

use super::Found;
use super::by_rules::{Driven, Judged};
use super::codes;
use super::ticks::Ticks;
use crate::aircraft::{Aircraft, Controller, Sequence};
use crate::rules::{LightGroup, Phase, RuleSet};
use crate::scene::Readings;
use crate::timing::{Clock, FlashReading, JointLimits, coincide_every, milliseconds, worst_second};
use crate::units::{Fraction, Micros};
use std::collections::BTreeMap;

/// A joint pattern longer than this is taken as drifting, here as in a check.
const LONGEST_PATTERN: Micros = Micros(600_000_000);

/// Everything about times: ticks, turns of the program, dimming, patterns that do not come back.
pub(super) fn timing(
    sets: &[&RuleSet],
    driven: &[Driven<'_>],
    written: &[Judged<'_>],
    of: &Controller,
    out: &mut Vec<Found>,
) {
    let Some(practice) = sets.last() else { return };
    let figure = |name: &str, otherwise: f64| practice.readings.get(name).map_or(otherwise, |r| r.figure.scalar.value);
    let reading = Readings::of(practice).flash;
    if let Some(tick) = &of.tick {
        let ticks = Ticks { sets, driven, tick: tick.value, change_over: figure("tick change over", 0.1), reading };
        ticks.told(written, out);
    }
    if let Some(turn) = &of.loop_time {
        let shortest = turn.ms() * figure("loops in a pulse", 2.0);
        for one in driven {
            let pulses = one.channel.waveform.pulses(&reading);
            let lit = pulses.iter().map(|p| milliseconds(p.end_us - p.onset_us)).min_by(f64::total_cmp);
            if let Some(lit) = lit.filter(|lit| *lit < shortest) {
                let (lit, shortest) = (crate::units::short(lit), crate::units::short(shortest));
                let message = format!(
                    "channel `{}`: a pulse of {lit} ms is shorter than two turns of the program, {shortest} ms",
                    one.channel.name
                );
                out.push(
                    Found::own(codes::PULSE_UNDER_LOOP, one.at, message).beside(&turn.at, "one turn of the program"),
                );
            }
        }
    }
    let slowest = figure("dimming from", 12_000.0);
    if let Some(pwm) = of.pwm.as_ref().filter(|pwm| pwm.per_min() < slowest) {
        let message = format!(
            "pulse-width dimming at {} Hz, slower than {} Hz",
            crate::units::short(pwm.per_min() / 60.0),
            crate::units::short(slowest / 60.0)
        );
        out.push(Found::own(codes::DIMMING_SEEN, &pwm.at, message));
    }
    many_flashes(driven, &reading, out);
    long_patterns(driven, out);
}

/// What WCAG 2.2, success criterion 2.3.1, lets flash within a second.
const MOST_IN_A_SECOND: u64 = 3;

/// Tells of channels that by themselves begin more pulses in a second than that.
fn many_flashes(driven: &[Driven<'_>], reading: &FlashReading, out: &mut Vec<Found>) {
    for (n, one) in driven.iter().enumerate() {
        let again = driven.iter().take(n).any(|other| other.channel.name == one.channel.name);
        let clock = Clock::new([&one.channel.waveform]);
        let worst = worst_second(&[clock], reading, &JointLimits::default()).all;
        if worst > MOST_IN_A_SECOND && !again {
            let message = format!("channel `{}`: {worst} pulses begin within one second", one.channel.name);
            out.push(Found::own(codes::FLASHES_IN_A_SECOND, one.at, message));
        }
    }
}

/// The most periods of a clock that a channel is held against: thousands of channels take no thousands of times as long.
const MOST_PERIODS: usize = 64;

/// The periods of a clock, each with its first channel, in the order of the file.
type Periods<'a> = Vec<(Fraction, &'a Driven<'a>)>;

/// Tells of each channel once, beside the first of its clock that it meets again too late.
fn long_patterns(driven: &[Driven<'_>], out: &mut Vec<Found>) {
    let mut clocks: BTreeMap<&str, Periods<'_>> = BTreeMap::new();
    for one in driven {
        if !LightGroup::AntiCollision.holds(one.light) || one.channel.waveform.is_steady() {
            continue;
        }
        let period = one.channel.waveform.period_us();
        let known = clocks.entry(&one.channel.clock).or_default();
        let first = known.iter().find(|(other, _)| comes_back_late(*other, period));
        out.extend(first.map(|(_, first)| long_pattern(first, one)));
        if known.len() < MOST_PERIODS && known.iter().all(|(other, _)| *other != period) {
            known.push((period, one));
        }
    }
}

fn comes_back_late(one: Fraction, other: Fraction) -> bool {
    coincide_every(one, other).is_none_or(|us| us > Fraction::new(i128::from(LONGEST_PATTERN.0), 1))
}

fn long_pattern(first: &Driven<'_>, one: &Driven<'_>) -> Found {
    let message = format!(
        "channels `{}` and `{}` come back to where they began only after more than 10 minutes",
        first.channel.name, one.channel.name
    );
    Found::own(codes::PATTERN_OF_MINUTES, one.at, message).beside(first.at, "the other channel")
}

/// Channels of a sequence that no rule is held against, since nobody says which light they are for.
pub(super) fn drives(sequence: &Sequence, out: &mut Vec<Found>) {
    for channel in sequence.channels.iter().filter(|c| c.drives.is_none()) {
        let name = &channel.channel.name;
        let message = format!("channel `{name}` does not say which light it drives, so no rule is held against it");
        out.push(Found::own(codes::DRIVES_UNSAID, &channel.channel.at, message));
    }
}

/// Everything about names and phases of an aircraft file.
pub(super) fn names(model: &Aircraft, out: &mut Vec<Found>) {
    let in_lamps = |n: usize| model.lamps.iter().any(|l| l.channel == Some(n));
    let in_phases = |n: usize| model.phases.iter().flat_map(|p| &p.lit).any(|l| l.channel == Some(n));
    for (n, channel) in model.channels.iter().enumerate() {
        // A sequence file may serve several models, each with lamps for some of its channels.
        if channel.at.file == model.at.file && !in_lamps(n) && !in_phases(n) {
            let message = format!("channel `{}` lights no lamp", channel.name);
            out.push(Found::own(codes::CHANNEL_UNUSED, &channel.at, message));
        }
    }
    for emitter in &model.unused_emitters {
        let message = format!("no lamp has the emitter `{}`", emitter.value);
        out.push(Found::own(codes::EMITTER_UNUSED, &emitter.at, message));
    }
    let Some(first) = model.phases.first() else { return };
    if !model.phases.iter().any(|p| p.phase == Phase::SignalLost) {
        let message = "the phases do not say what is lit when the signal is lost".to_string();
        out.push(Found::own(codes::SIGNAL_LOST_UNSAID, &first.at, message));
    }
    for (n, lamp) in model.lamps.iter().enumerate().filter(|(_, l)| l.required_by.is_none()) {
        if !model.phases.iter().flat_map(|p| &p.lit).any(|l| l.lamp == n) {
            let message = format!("lamp `{}` is lit in no phase", lamp.name);
            out.push(Found::own(codes::LAMP_IN_NO_PHASE, &lamp.places.name, message).beside(&first.at, "the phases"));
        }
    }
}
