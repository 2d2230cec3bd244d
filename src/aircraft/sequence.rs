//! Channels, from a sequence file or from an aircraft file.

use super::declared::{ChannelDecl, PlainColour, SequenceFile};
use super::lamp::{Channel, Controller};
use super::pattern::PatternDecl;
use crate::rules::Light;
use crate::source::{At, Code, Decode, Located, Named, Rejected, Sink, header, parse};
use crate::units::Micros;

/// The clock of channels that name none: one small controller.
const CONTROLLER: &str = "controller";

/// A channel and what its file says it drives.
pub(super) struct DeclaredChannel {
    pub channel: Channel,
    pub pattern_at: At,
    pub drives: Option<Located<Light>>,
    pub colour: Option<Located<PlainColour>>,
}

impl DeclaredChannel {
    fn into_public(self) -> SequenceChannel {
        SequenceChannel { channel: self.channel, drives: self.drives, pattern_at: self.pattern_at }
    }
}

/// The channels of a file, and the names of those that are wrong and were told.
pub(super) struct Channels {
    pub sound: Vec<DeclaredChannel>,
    pub told: Vec<String>,
}

/// A sequence file: light patterns for the lamps of a model.
#[derive(Debug, Clone)]
pub struct Sequence {
    /// Its title.
    pub title: Option<String>,
    /// The rule set it is for.
    pub judge_by: Option<Located<String>>,
    /// What is known of the controller it is written for.
    pub controller: Controller,
    /// Its channels.
    pub channels: Vec<SequenceChannel>,
    /// The file it was read from.
    pub at: At,
}

/// A channel of a sequence file.
#[derive(Debug, Clone)]
pub struct SequenceChannel {
    /// The channel.
    pub channel: Channel,
    /// The light it drives, where that is said.
    pub drives: Option<Located<Light>>,
    /// Where its pattern was written.
    pub pattern_at: At,
}

/// Reads a sequence file.
///
/// # Errors
/// Everything that is wrong in the file.
///
/// # Example
/// ```
/// // 14 CFR 25.1401(c) and the sections like it speak of flashes a minute; 46 a minute is a period of 60 000 / 46 ms.
/// let text = "lampwright: sequence 1\nchannels:\n  top: {drives: beacon, flash: {rate: 46 per min, lit: 60 ms}}\n";
/// let sequence = lampwright::aircraft::read_sequence("lights.yaml", text)?;
/// let period_ms = lampwright::timing::milliseconds(sequence.channels[0].channel.waveform.period_us());
/// assert!((period_ms - 60_000.0 / 46.0).abs() < 1e-9);
/// # Ok::<(), lampwright::source::Rejected>(())
/// ```
pub fn read_sequence(file: &str, text: &str) -> Result<Sequence, Rejected> {
    let mut sink = Sink::new();
    let sequence = sequence_channels(file, text, &mut sink).map(|(channels, head)| Sequence {
        title: head.title,
        judge_by: head.judge_by,
        controller: head.controller,
        channels: channels.sound.into_iter().map(DeclaredChannel::into_public).collect(),
        at: head.at,
    });
    sink.finish(sequence)
}

/// What a sequence file says besides its channels.
pub(super) struct SequenceHead {
    pub title: Option<String>,
    pub judge_by: Option<Located<String>>,
    pub controller: Controller,
    pub at: At,
}

pub(super) fn sequence_channels(file: &str, text: &str, sink: &mut Sink) -> Option<(Channels, SequenceHead)> {
    let node = parse(file, text, sink)?;
    header(&node, "sequence", sink)?;
    let declared = SequenceFile::decode(&node, sink)?;
    if declared.channels.0.is_empty() && declared.channels.1.is_empty() {
        sink.say(Code::MissingKey, &declared.channels.at, "this sequence has no channels", "add one under `channels:`");
    }
    let head = SequenceHead {
        title: declared.title.as_ref().map(|t| t.0.clone()),
        judge_by: declared.judge_by.as_ref().map(|j| Located { value: j.0.clone(), at: j.at.clone() }),
        controller: controller(&declared, sink),
        at: node.at().clone(),
    };
    Some((channels(&declared.channels, sink), head))
}

fn controller(declared: &SequenceFile, sink: &mut Sink) -> Controller {
    for (time, what) in [(&declared.tick, "tick"), (&declared.loop_time, "loop time")] {
        if let Some(time) = time.as_ref().filter(|t| t.value.0 == 0) {
            sink.say(Code::OutOfRange, &time.at, format!("a {what} of 0"), "write a time above 0, like `10 ms`");
        }
    }
    Controller { tick: declared.tick.clone(), loop_time: declared.loop_time.clone(), pwm: declared.pwm.clone() }
}

pub(super) fn channels(declared: &Named<ChannelDecl>, sink: &mut Sink) -> Channels {
    let mut channels = Channels { sound: Vec::new(), told: declared.1.clone() };
    for (name, channel) in &declared.0 {
        match read_channel(name, channel, sink) {
            Some(channel) => channels.sound.push(channel),
            None => channels.told.push(name.value.clone()),
        }
    }
    channels
}

fn read_channel(name: &Located<String>, declared: &ChannelDecl, sink: &mut Sink) -> Option<DeclaredChannel> {
    let pattern = PatternDecl {
        steady: &declared.steady,
        flash: &declared.flash,
        swell: &declared.swell,
        steps: &declared.steps,
    };
    let Some(pattern) = pattern.read(sink).ok()? else {
        let instead = "add `steady: 100 %`, `flash:`, `swell:` or `steps:`";
        sink.say(Code::MissingKey, &name.at, format!("channel `{}` has no pattern", name.value), instead);
        return None;
    };
    let start = declared.start.as_ref().map_or(Micros(0), |s| s.value);
    let clock = declared.clock.as_ref().map_or_else(|| CONTROLLER.to_string(), |c| c.0.clone());
    Some(DeclaredChannel {
        channel: Channel {
            name: name.value.clone(),
            clock,
            waveform: pattern.waveform.with_start(start),
            at: name.at.clone(),
            pattern_at: pattern.at.clone(),
        },
        pattern_at: pattern.at,
        drives: declared.drives.clone(),
        colour: declared.colour.clone(),
    })
}
