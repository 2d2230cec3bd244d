//! An aircraft model and its lamps, complete and checked.

use super::aim::Aim;
use super::airframe::Airframe;
use super::cover::Cover;
use super::emitter::{Emitter, Known};
use super::entry::Entry;
use super::mask::MaskSpec;
use super::place::Place;
use super::scale::Scale;
use super::words::RequiredBy;
use crate::rules::{Craft, Light, Phase, Side};
use crate::source::{At, Located};
use crate::timing::Waveform;
use crate::units::{Interval, Length, Micros, Rate};

/// A model aircraft.
#[derive(Debug, Clone)]
pub struct Aircraft {
    /// The model's title.
    pub title: String,
    /// Its scale.
    pub scale: Scale,
    /// Its span, tip to tip, on the model.
    pub span: Option<Length>,
    /// Its length on the model.
    pub length: Option<Length>,
    /// How far its nose is forward of the datum, in mm.
    pub nose_forward_mm: Option<f64>,
    /// The full-size craft it stands for.
    pub craft: Craft,
    /// The channels that light its lamps.
    pub channels: Vec<Channel>,
    /// Its lamps.
    pub lamps: Vec<Lamp>,
    /// Which lamps are lit in which phase.
    pub phases: Vec<PhaseLights>,
    /// What is known of the controller that runs the channels.
    pub controller: Controller,
    /// Emitters described and used by no lamp.
    pub unused_emitters: Vec<Located<String>>,
    /// Its airframe, where one is given.
    pub airframe: Option<Airframe>,
    /// The entry it is made for.
    pub entry: Entry,
    /// The file it was read from.
    pub at: At,
}

/// What is known of the controller that runs channels.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Controller {
    /// Its smallest step of time.
    pub tick: Option<Located<Micros>>,
    /// How long one turn of its program takes.
    pub loop_time: Option<Located<Micros>>,
    /// The frequency of its pulse-width dimming.
    pub pwm: Option<Located<Rate>>,
}

/// The lamps lit in a phase.
#[derive(Debug, Clone, PartialEq)]
pub struct PhaseLights {
    /// The phase.
    pub phase: Phase,
    /// The lamps lit in it.
    pub lit: Vec<LitLamp>,
    /// Where it was written.
    pub at: At,
}

/// A lamp that is lit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LitLamp {
    /// Its number.
    pub lamp: usize,
    /// The number of the channel that lights it, where that is not its usual one.
    pub channel: Option<usize>,
}

impl Aircraft {
    /// The lamps lit in a phase; `None` where nothing is said of it.
    #[must_use]
    pub fn lit_in(&self, phase: Phase) -> Option<&[LitLamp]> {
        self.phases.iter().find(|p| p.phase == phase).map(|p| p.lit.as_slice())
    }

    /// Where a phase was written.
    #[must_use]
    pub fn phase_at(&self, phase: Phase) -> Option<&At> {
        self.phases.iter().find(|p| p.phase == phase).map(|p| &p.at)
    }

    /// A model with no lamps yet, made in code.
    #[must_use]
    pub fn new(title: &str, scale: Scale) -> Self {
        Self {
            title: title.to_string(),
            scale,
            span: None,
            length: None,
            nose_forward_mm: None,
            craft: Craft::default(),
            channels: Vec::new(),
            lamps: Vec::new(),
            phases: Vec::new(),
            controller: Controller::default(),
            unused_emitters: Vec::new(),
            airframe: None,
            entry: Entry::default(),
            at: At::nowhere(),
        }
    }

    /// Adds a channel and gives its number, for [`Lamp::channel`].
    pub fn add_channel(&mut self, channel: Channel) -> usize {
        self.channels.push(channel);
        self.channels.len() - 1
    }

    /// The lights fitted for realism: a lamp that only a local rule requires is no light of the craft.
    #[must_use]
    pub fn fitted(&self) -> Vec<Light> {
        let own = self.lamps.iter().filter(|l| l.required_by.is_none());
        let mut lights: Vec<Light> = own.map(|l| l.light).collect();
        lights.sort();
        lights.dedup();
        lights
    }
}

/// A channel of the controller.
#[derive(Debug, Clone)]
pub struct Channel {
    /// Its name.
    pub name: String,
    /// The clock it runs on.
    pub clock: String,
    /// Its pattern.
    pub waveform: Waveform,
    /// Where it was written.
    pub at: At,
    /// Where its pattern was written.
    pub pattern_at: At,
}

impl Channel {
    /// A channel made in code, on the controller's clock.
    #[must_use]
    pub fn in_code(name: &str, waveform: Waveform) -> Self {
        let clock = "controller".to_string();
        Self { name: name.to_string(), clock, waveform, at: At::nowhere(), pattern_at: At::nowhere() }
    }
}

/// How emitters are run.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drive {
    /// The current through each, in mA.
    pub current_ma: Option<Interval>,
    /// Share of full brightness by pulse width.
    pub level: Option<Interval>,
}

/// Where the parts of a lamp were written.
#[derive(Debug, Clone, PartialEq)]
pub struct LampPlaces {
    /// Its name.
    pub name: At,
    /// Its light.
    pub light: At,
    /// Its place, or its name where no place is given.
    pub place: At,
    /// Its aim.
    pub aim: At,
    /// Its emitter.
    pub emitter: At,
    /// Its mask, or its name.
    pub mask: At,
    /// Its channel or pattern, or its name.
    pub pattern: At,
}

impl LampPlaces {
    /// Nowhere: a lamp made in code.
    #[must_use]
    pub fn nowhere() -> Self {
        let at = At::nowhere;
        Self { name: at(), light: at(), place: at(), aim: at(), emitter: at(), mask: at(), pattern: at() }
    }
}

/// A lamp: one or more equal emitters at one place, pointing one way.
#[derive(Debug, Clone)]
pub struct Lamp {
    /// Its name.
    pub name: String,
    /// Which light it is part of.
    pub light: Light,
    /// Where it sits.
    pub place: Option<Place>,
    /// Where it points.
    pub aim: Aim,
    /// Its emitter.
    pub emitter: Emitter,
    /// How many emitters.
    pub count: u32,
    /// How they are run.
    pub drive: Drive,
    /// The size of all that shines, in mm, where it is more than one emitter's.
    pub size_mm: Option<Interval>,
    /// What stands before them.
    pub cover: Cover,
    /// What hides them.
    pub mask: Option<MaskSpec>,
    /// The number of its channel; none: always lit.
    pub channel: Option<usize>,
    /// Its level when always lit, where one was given.
    pub steady_level: Option<Known<f64>>,
    /// What shows it on the full-size craft.
    pub evidence: Option<String>,
    /// Who requires it, where it is not there for realism.
    pub required_by: Option<RequiredBy>,
    /// Where it was written.
    pub places: LampPlaces,
}

impl Lamp {
    /// A lamp made in code: one emitter, no mask, no cover, always lit.
    #[must_use]
    pub fn new(name: &str, light: Light, aim: Aim, emitter: Emitter) -> Self {
        Self {
            name: name.to_string(),
            light,
            place: None,
            aim,
            emitter,
            count: 1,
            drive: Drive::default(),
            size_mm: None,
            cover: Cover::default(),
            mask: None,
            channel: None,
            steady_level: None,
            evidence: None,
            required_by: None,
            places: LampPlaces::nowhere(),
        }
    }

    /// The side it sits on: by its place, else by its light, else by its aim.
    #[must_use]
    pub fn side(&self) -> Option<Side> {
        let of = |right: f64| match right {
            r if r < -1e-9 => Some(Side::Left),
            r if r > 1e-9 => Some(Side::Right),
            _ => None,
        };
        match self.place.and_then(|p| p.right_mm) {
            Some(right) => of(right),
            None => self.light.side().or_else(|| of(self.aim.direction().right())),
        }
    }
}
