//! Channels, from a sequence file or from an aircraft file.

use super::declared::{ChannelDecl, PlainColour, SequenceFile};
use super::lamp::Channel;
use super::pattern::PatternDecl;
use crate::rules::Light;
use crate::source::{Code, Decode, Located, Named, Rejected, Sink, header, parse};
use crate::units::Micros;

/// The clock of channels that name none: one small controller.
const CONTROLLER: &str = "controller";

/// A channel and what its file says it drives.
pub(super) struct DeclaredChannel {
    pub channel: Channel,
    pub drives: Option<Located<Light>>,
    pub colour: Option<Located<PlainColour>>,
}

/// The channels of a file, and the names of those that are wrong and were told.
pub(super) struct Channels {
    pub sound: Vec<DeclaredChannel>,
    pub told: Vec<String>,
}

/// Reads the channels of a sequence file.
///
/// # Errors
/// Everything that is wrong in the file.
pub fn read_sequence(file: &str, text: &str) -> Result<Vec<Channel>, Rejected> {
    let mut sink = Sink::new();
    let channels = sequence_channels(file, text, &mut sink);
    sink.finish(channels.map(|list| list.sound.into_iter().map(|d| d.channel).collect()))
}

pub(super) fn sequence_channels(file: &str, text: &str, sink: &mut Sink) -> Option<Channels> {
    let node = parse(file, text, sink)?;
    header(&node, "sequence", sink)?;
    let declared = SequenceFile::decode(&node, sink)?;
    if declared.channels.0.is_empty() && declared.channels.1.is_empty() {
        sink.say(Code::MissingKey, &declared.channels.at, "this sequence has no channels", "add one under `channels:`");
    }
    Some(channels(&declared.channels, sink))
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
        },
        drives: declared.drives.clone(),
        colour: declared.colour.clone(),
    })
}
