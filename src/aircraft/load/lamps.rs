//! Lamps: emitters put in their places, with mask, cover and channel.

use super::Loader;
use crate::aircraft::colour_family::Family;
use crate::aircraft::cover::Cover;
use crate::aircraft::declared::{CoverDecl, DriveDecl, LampDecl, MaskDecl, PlainColour};
use crate::aircraft::emitter::{Emitter, Known};
use crate::aircraft::lamp::{Aircraft, Channel, Drive, Lamp, LampPlaces};
use crate::aircraft::mask::{Hides, MaskSpec};
use crate::aircraft::pattern::PatternDecl;
use crate::aircraft::sequence::DeclaredChannel;
use crate::aircraft::words::Origin;
use crate::colorimetry::ColourSet;
use crate::source::{Code, Diagnostic, Located, Text, nearest, one_of};
use crate::units::{Current, Length, Share};
use std::collections::BTreeMap;

impl Loader<'_> {
    pub(super) fn lamp(
        &mut self,
        name: &Located<String>,
        declared: &LampDecl,
        emitters: &BTreeMap<String, Option<Emitter>>,
        channels: &[DeclaredChannel],
        aircraft: &mut Aircraft,
    ) -> Option<Lamp> {
        let emitter = self.lamp_emitter(&declared.emitter, emitters);
        let emitter = emitter.and_then(|e| self.rolled(e, &declared.roll));
        let count = self.count(&declared.count);
        let cover = declared.cover.as_ref().map_or(Some(Cover::default()), |c| self.cover(c));
        let mask = declared.mask.as_ref().map(|m| self.mask(m));
        let drive = declared.drive.as_ref().map_or(Some(Drive::default()), |d| self.drive(d, emitter.as_ref()));
        let pattern_at = self.pattern_place(name, declared);
        let channel = self.lamp_channel(name, declared, emitter.as_ref(), channels, aircraft);
        let or_name = |at: Option<&crate::source::At>| at.unwrap_or(&name.at).clone();
        let mut lamp = Lamp::new(&name.value, declared.light.value, declared.aim.value, emitter?);
        lamp.place = declared.place.as_ref().map(|p| p.value);
        lamp.count = count?;
        lamp.cover = cover?;
        lamp.size_mm = declared.size.as_ref().map(|s| s.interval(Length::mm));
        if let Some(size) = declared.size.as_ref().filter(|s| s.low.mm() < 0.0) {
            self.sink.say(Code::OutOfRange, &size.at, "a size cannot be below 0", "write it like `12 mm`");
        }
        lamp.mask = mask;
        lamp.drive = drive?;
        lamp.channel = channel?;
        lamp.steady_level =
            declared.steady.as_ref().map(|s| Known { value: s.one(), origin: Origin::Measured, at: s.at.clone() });
        lamp.evidence = declared.evidence.as_ref().map(|e| e.0.clone());
        lamp.required_by = declared.required_by.as_ref().map(|r| r.value);
        lamp.places = LampPlaces {
            name: name.at.clone(),
            light: declared.light.at.clone(),
            place: or_name(declared.place.as_ref().map(|p| &p.at)),
            aim: declared.aim.at.clone(),
            emitter: declared.emitter.at.clone(),
            mask: or_name(declared.mask.as_ref().map(|m| &m.at)),
            pattern: pattern_at,
        };
        self.sided(&lamp, declared)?;
        self.within_the_model(&lamp, declared, aircraft)?;
        Some(lamp)
    }

    fn pattern_place(&self, name: &Located<String>, declared: &LampDecl) -> crate::source::At {
        let places = [
            declared.channel.as_ref().map(|c| &c.at),
            declared.flash.as_ref().map(|c| &c.at),
            declared.swell.as_ref().map(|c| &c.at),
            declared.steps.as_ref().map(|c| &c.at),
            declared.steady.as_ref().map(|c| &c.at),
        ];
        places.into_iter().flatten().next().unwrap_or(&name.at).clone()
    }

    fn lamp_emitter(&mut self, named: &Located<Text>, emitters: &BTreeMap<String, Option<Emitter>>) -> Option<Emitter> {
        match emitters.get(&named.0) {
            Some(emitter) => emitter.clone(),
            None => {
                let or = match nearest(&named.0, emitters.keys().map(String::as_str)) {
                    Some(near) => format!("; of this file, `{near}` is nearest"),
                    None => ", and others can be described under `emitters:`".to_string(),
                };
                self.typical(named, &or)
            }
        }
    }

    fn count(&mut self, declared: &Option<Located<u32>>) -> Option<u32> {
        let Some(count) = declared else { return Some(1) };
        if (1..=1000).contains(&count.value) {
            return Some(count.value);
        }
        self.sink.say(
            Code::OutOfRange,
            &count.at,
            format!("{} is not a number of emitters", count.value),
            "write a whole number from 1 to 1000",
        );
        None
    }

    fn cover(&mut self, declared: &Located<CoverDecl>) -> Option<Cover> {
        let at = Some(declared.at.clone());
        let figures = match &declared.value {
            CoverDecl::Word(kind) => return Some(Cover { at, ..Cover::of(kind.value) }),
            CoverDecl::Figures(figures) => figures,
        };
        let seen_as = match &figures.chromaticity {
            Some(xy) => Some(ColourSet::Point(self.chromaticity(xy)?)),
            None => None,
        };
        let transmittance = match &figures.transmittance {
            Some(share) => Some(self.share(share, "a transmittance")?),
            None => None,
        };
        Some(Cover { kind: figures.kind.as_ref().map(|k| k.value), transmittance, seen_as, at })
    }

    fn share(&mut self, range: &Located<crate::units::Range<Share>>, what: &str) -> Option<crate::units::Interval> {
        let share = range.interval(Share::one);
        if share.low < 0.0 || share.high > 1.0 + 1e-12 {
            self.sink.say(
                Code::OutOfRange,
                &range.at,
                format!("{what} lies from 0 % to 100 %"),
                "write it like `92 %`",
            );
            return None;
        }
        Some(share)
    }

    fn drive(&mut self, declared: &DriveDecl, emitter: Option<&Emitter>) -> Option<Drive> {
        let level = match &declared.level {
            Some(level) => Some(self.share(level, "a level")?),
            None => None,
        };
        let Some(current) = &declared.current else { return Some(Drive { current_ma: None, level }) };
        let ma = current.interval(Current::ma);
        if emitter.is_some_and(|e| e.reference_ma.is_none()) {
            let message = "a drive current says nothing without the current the emitter's light is stated for";
            self.sink.say(
                Code::MissingKey,
                &current.at,
                message,
                "add `stated_at`, like `stated_at: 20 mA`, to the emitter",
            );
            return None;
        }
        let most = emitter.and_then(|e| e.reference_ma).map(|r| 3.0 * r);
        if ma.low <= 0.0 || most.is_some_and(|most| ma.high > most) {
            let message = match most {
                Some(most) if ma.low > 0.0 => format!(
                    "`{}` is over three times the emitter's stated current ({} mA at most)",
                    current.value, most
                ),
                _ => "a current is above 0".to_string(),
            };
            self.sink.say(
                Code::OutOfRange,
                &current.at,
                message,
                "check the unit, or give the emitter's `stated_at` current",
            );
            return None;
        }
        Some(Drive { current_ma: Some(ma), level })
    }

    fn mask(&mut self, declared: &Located<MaskDecl>) -> MaskSpec {
        let edge_mm = declared.edge.as_ref().map(|e| e.interval(Length::mm));
        if let Some(edge) = declared.edge.as_ref().filter(|e| e.low.mm() <= 0.0) {
            self.sink.say(
                Code::OutOfRange,
                &edge.at,
                "the edge of a mask is at some distance from the emitter",
                "measure from the middle of the emitter to the edge, like `12 mm`",
            );
        }
        if declared.hides.0.is_empty() {
            self.sink.say(
                Code::MissingKey,
                &declared.at,
                "this mask hides nothing",
                "say what it hides, like `hides: inboard`, or leave the mask out",
            );
        }
        MaskSpec { hides: declared.hides.0.iter().map(|h| h.value).collect(), edge_mm }
    }

    fn sided(&mut self, lamp: &Lamp, declared: &LampDecl) -> Option<()> {
        let hides = declared.mask.as_ref().map_or(&[][..], |m| &m.hides.0);
        let sided = hides.iter().find(|h| matches!(h.value, Hides::Inboard | Hides::Outboard));
        if let Some(word) = sided.filter(|_| lamp.side().is_none()) {
            self.sink.say(
                Code::Contradiction,
                &word.at,
                "a lamp in the plane of symmetry has no inboard side",
                "say what the mask hides as `ahead of`, `aft of` or a sector",
            );
            return None;
        }
        Some(())
    }

    fn within_the_model(&mut self, lamp: &Lamp, declared: &LampDecl, aircraft: &Aircraft) -> Option<()> {
        let (Some(span), Some(right)) = (aircraft.span, lamp.place.and_then(|p| p.right_mm)) else { return Some(()) };
        if right.abs() <= 0.55 * span.mm() {
            return Some(());
        }
        let at = declared.place.as_ref().map_or(&lamp.places.name, |p| &p.at);
        let message =
            format!("this place lies {} mm out, and the half-span of the model is {} mm", right.abs(), 0.5 * span.mm());
        self.sink.say(Code::Contradiction, at, message, "give places and span in the model's own millimetres");
        None
    }

    /// The number of the lamp's channel, `Some(None)` where it is always lit.
    fn lamp_channel(
        &mut self,
        name: &Located<String>,
        declared: &LampDecl,
        emitter: Option<&Emitter>,
        channels: &[DeclaredChannel],
        aircraft: &mut Aircraft,
    ) -> Option<Option<usize>> {
        let pattern = PatternDecl {
            steady: &declared.steady,
            flash: &declared.flash,
            swell: &declared.swell,
            steps: &declared.steps,
        };
        if let (Some(channel), Some(key)) = (&declared.channel, pattern.keys().first()) {
            self.sink.say(
                Code::Contradiction,
                &channel.at,
                format!("both `channel` and `{key}` give a pattern"),
                "keep one of them",
            );
            return None;
        }
        if let Some(channel) = &declared.channel {
            let number = channels.iter().position(|c| c.channel.name == channel.0);
            let Some(number) = number else { return self.unknown_channel(channel, channels) };
            if let Some(known) = channels.get(number) {
                self.agrees(declared, emitter, known)?;
            }
            return Some(Some(number));
        }
        let Some(pattern) = pattern.read(self.sink).ok()? else { return Some(None) };
        Some(Some(aircraft.add_channel(Channel {
            name: name.value.clone(),
            // A pattern of its own keeps its own time; lamps that flash together share a channel.
            clock: format!("{} alone", name.value),
            waveform: pattern.waveform,
            at: pattern.at.clone(),
            pattern_at: pattern.at,
        })))
    }

    fn unknown_channel(&mut self, channel: &Located<Text>, channels: &[DeclaredChannel]) -> Option<Option<usize>> {
        if self.sequence_unread || self.told.contains(&channel.0) {
            return None;
        }
        if channels.is_empty() && self.told.is_empty() {
            return self.no_channels(channel);
        }
        let names: Vec<&str> = channels.iter().map(|c| c.channel.name.as_str()).collect();
        let instead = match nearest(&channel.0, names.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None if names.is_empty() => "name another channel, or write `flash:` here".to_string(),
            None => format!("name {}, or write `flash:` here", one_of(&names)),
        };
        self.sink.say(Code::UnknownName, &channel.at, format!("there is no channel called `{}`", channel.0), instead);
        None
    }

    /// Says once that a file without channels names some.
    fn no_channels(&mut self, channel: &Located<Text>) -> Option<Option<usize>> {
        let message =
            format!("there is no channel called `{}`, since this file has none and names no sequence", channel.0);
        self.sink.say(Code::MissingKey, &channel.at, message, "add `sequence: FILE`, or write `flash:` here");
        self.sequence_unread = true;
        None
    }

    /// Whether a channel says it drives something else than this lamp.
    fn agrees(&mut self, declared: &LampDecl, emitter: Option<&Emitter>, channel: &DeclaredChannel) -> Option<()> {
        let name = &channel.channel.name;
        if let Some(drives) = channel.drives.as_ref().filter(|d| d.value != declared.light.value) {
            let message = format!(
                "this {} light is on channel `{name}`, which drives a {} light",
                declared.light.value, drives.value
            );
            let diagnostic = Diagnostic::new(
                Code::Contradiction,
                &declared.light.at,
                message,
                "change the lamp's light or channel, or what the channel drives",
            );
            self.sink.push(diagnostic.related(&drives.at, "the channel says so here"));
            return None;
        }
        let family = emitter.and_then(|e| e.family);
        if let (Some(colour), Some(family)) = (&channel.colour, family)
            && !same_colour(colour.value, family)
        {
            let message = format!(
                "this lamp's emitter is not {}, and channel `{name}` says it drives {} lamps",
                colour.value, colour.value
            );
            let diagnostic = Diagnostic::new(
                Code::Contradiction,
                &declared.emitter.at,
                message,
                "a lamp's colour belongs to its emitter: change one of the two",
            );
            self.sink.push(diagnostic.related(&colour.at, "the channel says so here"));
            return None;
        }
        Some(())
    }
}

fn same_colour(colour: PlainColour, family: Family) -> bool {
    match colour {
        PlainColour::Red => family == Family::Red,
        PlainColour::Green => matches!(family, Family::Green | Family::YellowGreen),
        PlainColour::White => matches!(family, Family::White | Family::Filament),
        PlainColour::Blue => family == Family::Blue,
        PlainColour::Amber => matches!(family, Family::Amber | Family::Red),
    }
}
