//! From a declared pattern to a waveform.

use super::declared::{FlashDecl, StepDecl, SwellDecl};
use crate::source::{At, Code, Located, Sink};
use crate::timing::{Step, TimingError, Waveform};
use crate::units::{Fraction, Micros, Rate, Share};

/// The pattern keys of a lamp or a channel; at most one may be there.
pub(super) struct PatternDecl<'a> {
    pub steady: &'a Option<Located<Share>>,
    pub flash: &'a Option<Located<FlashDecl>>,
    pub swell: &'a Option<Located<SwellDecl>>,
    pub steps: &'a Option<Located<Vec<StepDecl>>>,
}

/// A pattern that was declared, and where.
pub(super) struct Pattern {
    pub waveform: Waveform,
    pub at: At,
}

impl PatternDecl<'_> {
    fn places(&self) -> Vec<(&'static str, &At)> {
        let all = [
            ("steady", self.steady.as_ref().map(|l| &l.at)),
            ("flash", self.flash.as_ref().map(|l| &l.at)),
            ("swell", self.swell.as_ref().map(|l| &l.at)),
            ("steps", self.steps.as_ref().map(|l| &l.at)),
        ];
        all.into_iter().filter_map(|(key, at)| at.map(|at| (key, at))).collect()
    }

    /// The keys that are there, for messages.
    pub fn keys(&self) -> Vec<&'static str> {
        self.places().into_iter().map(|(key, _)| key).collect()
    }

    /// Whether every level, time and repeat can be, said where each stands.
    fn sound(&self, sink: &mut Sink) -> Result<(), ()> {
        let before = sink.count();
        self.steady.iter().for_each(|level| level_sound(level, sink));
        self.steps.iter().for_each(|steps| steps_sound(steps, sink));
        if sink.count() == before { Ok(()) } else { Err(()) }
    }

    /// The pattern, if one was declared; `Err` after saying what is wrong with it.
    pub fn read(&self, sink: &mut Sink) -> Result<Option<Pattern>, ()> {
        let places = self.places();
        if let [(first, _), (second, at), ..] = places.as_slice() {
            sink.say(
                Code::Contradiction,
                at,
                format!("both `{first}` and `{second}` give a pattern"),
                "keep one of them",
            );
            return Err(());
        }
        let Some((_, at)) = places.first() else { return Ok(None) };
        self.sound(sink)?;
        let made = match (self.steady, self.flash, self.swell, self.steps) {
            (Some(level), ..) => Waveform::steady(level.one()),
            (_, Some(flash), ..) => flashing(flash, sink)?,
            (_, _, Some(swell), _) => swelling(swell, sink)?,
            (.., Some(steps)) => Waveform::from_steps(&steps.iter().map(step).collect::<Vec<_>>()),
            _ => return Ok(None),
        };
        match made {
            Ok(waveform) => Ok(Some(Pattern { waveform, at: (*at).clone() })),
            Err(TimingError { what, instead }) => {
                sink.say(Code::OutOfRange, at, what, instead);
                Err(())
            }
        }
    }
}

fn level_sound(level: &Located<Share>, sink: &mut Sink) {
    if !(0.0..=1.0).contains(&level.one()) {
        let message = format!("`{}` is not a level from 0 % to 100 %", level.value);
        sink.say(Code::OutOfRange, &level.at, message, "write the share of full light, like `40 %`, up to `100 %`");
    }
}

fn time_sound(time: &Located<Micros>, sink: &mut Sink) {
    if time.0 == 0 {
        sink.say(Code::OutOfRange, &time.at, "a step takes no time", "leave it out, or give it a time above 0");
    }
}

fn steps_sound(steps: &[StepDecl], sink: &mut Sink) {
    for step in steps {
        match step {
            StepDecl::Lit(time) | StepDecl::Dark(time) => time_sound(time, sink),
            StepDecl::Level(level) => {
                level_sound(&level.share, sink);
                time_sound(&level.time, sink);
            }
            StepDecl::Ramp(ramp) => {
                level_sound(&ramp.from, sink);
                level_sound(&ramp.to, sink);
                time_sound(&ramp.time, sink);
            }
            StepDecl::Repeat(repeat) => {
                if repeat.times.value == 0 {
                    let instead = "leave it out, or repeat it at least once";
                    sink.say(Code::OutOfRange, &repeat.times.at, "a repeat is done 0 times", instead);
                }
                steps_sound(&repeat.steps, sink);
            }
        }
    }
}

fn period(
    rate: &Option<Located<Rate>>,
    period: &Option<Located<Micros>>,
    at: &At,
    sink: &mut Sink,
) -> Result<Fraction, ()> {
    match (rate, period) {
        (Some(rate), None) => rate.period_us().ok_or(()),
        (None, Some(period)) => Ok(Fraction::new(i128::from(period.0), 1)),
        (Some(_), Some(period)) => {
            sink.say(Code::Contradiction, &period.at, "both `rate` and `period` are given", "keep one of them");
            Err(())
        }
        (None, None) => {
            sink.say(
                Code::MissingKey,
                at,
                "this pattern says neither `rate` nor `period`",
                "add a line like `rate: 46 per min`",
            );
            Err(())
        }
    }
}

fn flashing(declared: &Located<FlashDecl>, sink: &mut Sink) -> Result<Result<Waveform, TimingError>, ()> {
    let period_us = period(&declared.rate, &declared.period, &declared.at, sink)?;
    let pulses = declared.pulses.as_ref().map_or(1, |p| p.value);
    if pulses > 1 && declared.gap.is_none() {
        sink.say(
            Code::MissingKey,
            &declared.at,
            "a flash of several pulses has no `gap`",
            "add the dark time between them, like `gap: 100 ms`",
        );
        return Err(());
    }
    if let (None, Some(gap)) = (&declared.pulses, &declared.gap) {
        let message = "a `gap` is the dark between pulses, and this flash has one pulse";
        sink.say(Code::Contradiction, &gap.at, message, "add `pulses: 2`, or leave `gap` out");
        return Err(());
    }
    let gap = declared.gap.as_ref().map_or(Micros(0), |g| g.value);
    Ok(Waveform::flash(period_us, declared.lit.value, pulses, gap))
}

fn swelling(declared: &Located<SwellDecl>, sink: &mut Sink) -> Result<Result<Waveform, TimingError>, ()> {
    let period_us = period(&declared.rate, &declared.period, &declared.at, sink)?;
    let hold = declared.hold.as_ref().map_or(Micros(0), |h| h.value);
    Ok(Waveform::swell(period_us, declared.rise.value, hold, declared.fall.value))
}

fn step(declared: &StepDecl) -> Step {
    match declared {
        StepDecl::Lit(time) => Step::Lit(time.value),
        StepDecl::Dark(time) => Step::Dark(time.value),
        StepDecl::Level(level) => Step::Level { level: level.share.one(), time: level.time.value },
        StepDecl::Ramp(ramp) => Step::Ramp { from: ramp.from.one(), to: ramp.to.one(), time: ramp.time.value },
        StepDecl::Repeat(repeat) => {
            Step::Repeat { times: repeat.times.value, steps: repeat.steps.iter().map(step).collect() }
        }
    }
}
