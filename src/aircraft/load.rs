//! From an aircraft file to an aircraft, with every mistake said.

mod airframe;
mod emitters;
mod lamps;
mod phases;
mod photometric;

use super::declared::{AircraftFile, EntryDecl, ModelDecl, PrototypeDecl};
use super::entry::Entry;
use super::lamp::{Aircraft, Controller};
use super::sequence::{DeclaredChannel, channels, sequence_channels};
use crate::rules::Craft;
use crate::source::{
    At, Code, Decode, Diagnostic, Files, Located, Rejected, Sink, Text, header, inside_folder, parse, read_text,
};
use crate::units::Length;
use std::collections::BTreeMap;
use std::path::Path;

/// The most lamps, and the most channels, of one model.
const MOST: usize = 200;

/// Reads an aircraft file and the files it names.
///
/// # Errors
/// The file cannot be read, or everything that is wrong in it.
pub fn read(files: &dyn Files, path: &Path) -> Result<Result<Aircraft, Rejected>, crate::error::Error> {
    let text = read_text(files, path)?;
    let name = path.display().to_string();
    let mut sink = Sink::new();
    let aircraft = parse(&name, &text, &mut sink).and_then(|node| {
        header(&node, "aircraft", &mut sink)?;
        let declared = AircraftFile::decode(&node, &mut sink)?;
        let (told, sequence_unread, photometric) = (Vec::new(), false, BTreeMap::new());
        Loader { files, path, sink: &mut sink, told, sequence_unread, photometric }.aircraft(&declared, node.at())
    });
    Ok(sink.finish(aircraft))
}

fn entry(declared: &EntryDecl) -> Entry {
    let words = |text: &Option<Located<Text>>| text.as_ref().map(|t| t.value.0.clone());
    Entry {
        number: words(&declared.number),
        entrant: words(&declared.entrant),
        class: words(&declared.class),
        event: words(&declared.event),
        date: words(&declared.date),
        individual: words(&declared.individual),
        differences: declared
            .differences
            .0
            .iter()
            .map(|(name, text)| (name.value.clone(), text.value.0.clone()))
            .collect(),
    }
}

/// What loading needs at hand.
struct Loader<'a> {
    files: &'a dyn Files,
    path: &'a Path,
    sink: &'a mut Sink,
    /// Channels that are wrong and were told: using them is no second mistake.
    told: Vec<String>,
    /// Whether the sequence file could not be used, so that its channels are not known.
    sequence_unread: bool,
    /// The photometric files read so far, by name; `None` where one was wrong and that was told.
    photometric: BTreeMap<String, Option<photometric::Beam>>,
}

impl Loader<'_> {
    fn aircraft(&mut self, declared: &AircraftFile, at: &At) -> Option<Aircraft> {
        let model = &declared.model;
        positive(&model.span, "span", self.sink);
        positive(&model.length, "length", self.sink);
        self.days_in_order(declared);
        let (channels, controller) = self.channels(declared);
        self.too_many(channels.len(), "channels", at);
        self.one_of_each(&channels);
        self.too_many(declared.lamps.0.len(), "lamps", at);
        if declared.lamps.0.is_empty() && declared.lamps.1.is_empty() {
            self.sink.say(Code::MissingKey, &declared.lamps.at, "this aircraft has no lamps", "add one under `lamps:`");
        }
        let emitters = self.emitters(&declared.emitters);
        let mut aircraft = Aircraft {
            title: model.title.0.clone(),
            scale: model.scale.value,
            span: model.span.as_ref().map(|s| s.value),
            length: model.length.as_ref().map(|l| l.value),
            nose_forward_mm: nose(model, self.sink),
            craft: Craft { flown_in: model.flown_in.as_ref().map(|v| v.value), ..craft(&declared.prototype) },
            channels: channels.iter().map(|c| c.channel.clone()).collect(),
            lamps: Vec::new(),
            phases: Vec::new(),
            controller,
            unused_emitters: unused_emitters(declared),
            airframe: None,
            entry: declared.entry.as_ref().map(entry).unwrap_or_default(),
            at: at.clone(),
        };
        for (name, lamp) in &declared.lamps.0 {
            let lamp = self.lamp(name, lamp, &emitters, &channels, &mut aircraft);
            aircraft.lamps.extend(lamp);
        }
        aircraft.phases = self.phases(&declared.phases, &aircraft, &declared.lamps);
        aircraft.craft.fitted = aircraft.fitted();
        aircraft.craft.length = aircraft.length.map(|l| Length::from_mm(l.mm() * aircraft.scale.n()));
        let airframe = self.airframe(declared);
        let all_read = airframe.is_some();
        aircraft.airframe = airframe.flatten();
        // A lamp that could not be read must never be a lamp that is not judged.
        let all = aircraft.lamps.len() == declared.lamps.0.len() + declared.lamps.1.len();
        (all && all_read && !self.sequence_unread).then_some(aircraft)
    }

    fn days_in_order(&mut self, declared: &AircraftFile) {
        let craft = &declared.prototype;
        let Some(applied) = &craft.applied else { return };
        let later = [
            (&craft.first_flight, "its first flight in", "a type flies after its application"),
            (&craft.certificated, "its type certificate of", "a certificate follows its application"),
            (&craft.depicted, "the date shown,", "a craft is shown after its type was applied for"),
        ];
        for (date, what, why) in later {
            if let Some(date) = date.as_ref().filter(|d| applied.first > d.last) {
                let message = format!("applied for {}, after {what} {}", applied.value, date.value);
                let told =
                    Diagnostic::new(Code::Contradiction, &applied.at, message, format!("{why}: mend one of the two"));
                self.sink.push(told.related(&date.at, "the other date"));
            }
        }
    }

    /// The channels written here and those of the sequence file.
    fn channels(&mut self, declared: &AircraftFile) -> (Vec<DeclaredChannel>, Controller) {
        let mut all = channels(&declared.channels, self.sink);
        let mut controller = Controller::default();
        if let Some(sequence) = &declared.sequence {
            let named = self.named_file(sequence);
            match named.and_then(|(file, text)| sequence_channels(&file, &text, self.sink)) {
                Some((more, head)) => {
                    all.sound.extend(more.sound);
                    all.told.extend(more.told);
                    controller = head.controller;
                }
                None => self.sequence_unread = true,
            }
        }
        self.told = all.told;
        (all.sound, controller)
    }

    /// Says which channels stand in this file and in the sequence file under one name.
    fn one_of_each(&mut self, channels: &[DeclaredChannel]) {
        for (n, channel) in channels.iter().enumerate() {
            let twin = channels.iter().take(n).find(|c| c.channel.name == channel.channel.name);
            if let Some(twin) = twin.filter(|t| t.channel.at.file != channel.channel.at.file) {
                let message = format!("two channels are called `{}`", channel.channel.name);
                let told = Diagnostic::new(Code::Contradiction, &twin.channel.at, message, "give one another name");
                self.sink.push(told.related(&channel.channel.at, "the other"));
            }
        }
    }

    fn too_many(&mut self, count: usize, what: &str, at: &At) {
        if count > MOST {
            self.sink.say(
                Code::OutOfRange,
                at,
                format!("{count} {what} are more than {MOST}"),
                "split the model into several files",
            );
        }
    }

    /// The name and text of a file named in this one.
    fn named_file(&mut self, named: &Located<Text>) -> Option<(String, String)> {
        self.named_by(named, read_text)
    }

    /// The name and what a reader makes of a file named in this one.
    fn named_by<T>(
        &mut self,
        named: &Located<Text>,
        read: impl Fn(&dyn Files, &Path) -> Result<T, crate::error::Error>,
    ) -> Option<(String, T)> {
        let read = inside_folder(self.path, &named.0)
            .and_then(|path| Ok((path.display().to_string(), read(self.files, &path)?)));
        match read {
            Ok(read) => Some(read),
            Err(error) => {
                self.sink.say(
                    Code::OtherFile,
                    &named.at,
                    error.to_string(),
                    "name a file beside this one or in a folder below",
                );
                None
            }
        }
    }
}

fn unused_emitters(declared: &AircraftFile) -> Vec<Located<String>> {
    let used = |name: &str| declared.lamps.0.iter().any(|(_, lamp)| lamp.emitter.0 == name);
    // The lamp that could not be read may be the one that uses it.
    let known = declared.lamps.1.is_empty();
    declared.emitters.0.iter().filter(|(name, _)| known && !used(&name.value)).map(|(name, _)| name.clone()).collect()
}

fn positive(length: &Option<Located<Length>>, what: &str, sink: &mut Sink) {
    if let Some(length) = length.as_ref().filter(|l| l.mm() <= 0.0) {
        sink.say(Code::OutOfRange, &length.at, format!("the {what} is not above 0"), "write it like `1200 mm`");
    }
}

fn nose(model: &ModelDecl, sink: &mut Sink) -> Option<f64> {
    let nose = model.nose.as_ref()?;
    if nose.forward_mm.is_none() {
        sink.say(
            Code::WrongValue,
            &nose.at,
            "this does not say how far forward the nose is",
            "write `nose: forward 700 mm`",
        );
    }
    nose.forward_mm
}

fn craft(declared: &PrototypeDecl) -> Craft {
    Craft {
        category: declared.category.as_ref().map(|v| v.value),
        authority: declared.authority.as_ref().map(|v| v.value),
        applied: declared.applied.as_ref().map(|v| v.value),
        certificated: declared.certificated.as_ref().map(|v| v.value),
        first_flight: declared.first_flight.as_ref().map(|v| v.value),
        depicted: declared.depicted.as_ref().map(|v| v.value),
        mass: declared.mass.as_ref().map(|v| v.value),
        length: None,
        night: declared.night.as_ref().map(|v| v.value),
        seaplane: declared.seaplane.as_ref().map(|v| v.value),
        judge_by: declared.judge_by.as_ref().map(|v| v.0.clone()),
        fitted: Vec::new(),
        flown_in: None,
    }
}
