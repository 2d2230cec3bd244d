//! Aircraft and sequence files as written.

use super::aim::Aim;
use super::mask::Hides;
use super::place::Place;
use super::scale::Scale;
use super::words::{CoverKind, FileAxis, FileSize, FileUnit, Half, Origin, RequiredBy};
use crate::rules::{Authority, Category, Dates, Light};
use crate::source::{Decode, Located, Many, Named, Node, Sink, Text, choice, record, words};
use crate::units::{
    Angle, Current, Flux, Intensity, Length, Mass, Micros, Range, Rate, Share, Temperature, Unspecified, Wavelength,
};

record! {
    /// A model and its lamps.
    what "an aircraft file";
    pub struct AircraftFile {
        /// `aircraft 1`: what this file is.
        pub lampwright: Located<Text>,
        /// The model.
        pub model: ModelDecl,
        /// The full-size craft it stands for.
        pub prototype: PrototypeDecl,
        /// The entry for a competition, as a printed report names it.
        pub entry: Option<EntryDecl>,
        /// Emitters by name, where the typical ones do not do.
        #[schemars(default)]
        pub emitters: Named<EmitterDecl>,
        /// The sequence file whose channels the lamps use, beside this file or below.
        pub sequence: Option<Located<Text>>,
        /// Channels written here instead of in a sequence file.
        #[schemars(default)]
        pub channels: Named<ChannelDecl>,
        /// The airframe, which hides some of what the lamps show; each lamp then needs its place.
        pub airframe: Option<AirframeDecl>,
        /// The lamps by name.
        pub lamps: Located<Named<LampDecl>>,
        /// Which lights are lit in which phase; `nothing` for none.
        #[schemars(default)]
        pub phases: Named<Many<LitDecl>>,
    }
}

record! {
    /// An entry for a competition; every word is the entrant's own and nothing is judged by it.
    what "an entry";
    pub struct EntryDecl {
        /// The entrant's number.
        pub number: Option<Located<Text>>,
        /// The entrant.
        pub entrant: Option<Located<Text>>,
        /// The competition class.
        pub class: Option<Located<Text>>,
        /// The event.
        pub event: Option<Located<Text>>,
        /// The date of the event.
        pub date: Option<Located<Text>>,
        /// The individual craft shown: its type, and its serial or registration.
        pub individual: Option<Located<Text>>,
        /// How the model differs from the craft shown: what differs, and how and why.
        #[schemars(default)]
        pub differences: Named<Located<Text>>,
    }
}

record! {
    /// Lights lit on a channel of their own in a phase.
    what "lights on a channel";
    pub struct LitOnDecl {
        /// A light, a group of lights, or a lamp.
        pub lights: Located<Text>,
        /// The channel that lights them in this phase.
        pub channel: Located<Text>,
    }
}

/// Lights lit in a phase: a light, a group of lights, a lamp; or these on a channel of their own.
#[derive(Debug, Clone, PartialEq, schemars::JsonSchema)]
#[schemars(untagged)]
pub enum LitDecl {
    /// As ever.
    As(Located<Text>),
    /// On a channel of their own.
    On(LitOnDecl),
}

impl Decode for LitDecl {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        match node {
            Node::Map { .. } => LitOnDecl::decode(node, sink).map(Self::On),
            _ => Located::decode(node, sink).map(Self::As),
        }
    }
}

record! {
    /// The model.
    what "a model";
    pub struct ModelDecl {
        /// Its title.
        pub title: Located<Text>,
        /// Its scale, in quotes: "1:8".
        pub scale: Located<Scale>,
        /// Its span, tip to tip.
        pub span: Option<Located<Length>>,
        /// Its length, nose to tail.
        pub length: Option<Located<Length>>,
        /// Where its nose is, from the datum: `forward 700 mm`.
        pub nose: Option<Located<Place>>,
        /// Where it is flown: whose rules for model aircraft hold there.
        pub flown_in: Option<Located<Authority>>,
    }
}

record! {
    /// The airframe as a mesh of triangles.
    what "an airframe";
    pub struct AirframeDecl {
        /// An STL or OBJ file, beside this file or below.
        pub mesh: Located<Text>,
        /// The unit of its numbers.
        pub unit: Located<FileUnit>,
        /// Whether it is drawn in the model's own size or the full one; unsaid it is the model's.
        pub size: Option<Located<FileSize>>,
        /// Which way the nose points in the file: `+x`.
        pub nose: Located<FileAxis>,
        /// Which way is up in the file: `+z`.
        pub up: Located<FileAxis>,
        /// Which half it is, where only one is drawn; the other is its mirror image.
        pub half: Option<Located<Half>>,
        /// Where the file's origin lies on the model; unsaid it is the datum.
        pub origin: Option<Located<Place>>,
        /// How far from a lamp the mesh is that lamp's own housing and hides nothing; unsaid 5 mm.
        pub housing: Option<Located<Length>>,
    }
}

record! {
    /// The full-size craft the model stands for.
    what "a prototype";
    pub struct PrototypeDecl {
        /// What kind of craft it is.
        pub category: Option<Located<Category>>,
        /// Whose rules it was built to.
        pub authority: Option<Located<Authority>>,
        /// When its type certificate was applied for.
        pub applied: Option<Located<Dates>>,
        /// Its first flight, where the application date is not known: it was not later.
        pub first_flight: Option<Located<Dates>>,
        /// When its type certificate was issued.
        pub certificated: Option<Located<Dates>>,
        /// The date of the configuration shown.
        pub depicted: Option<Located<Dates>>,
        /// Its mass.
        pub mass: Option<Located<Mass>>,
        /// Whether it was built for night operation.
        pub night: Option<Located<bool>>,
        /// Whether it alights on water.
        pub seaplane: Option<Located<bool>>,
        /// The rule set to judge by, for a craft of your own invention.
        pub judge_by: Option<Located<Text>>,
    }
}

record! {
    /// A chromaticity.
    what "a chromaticity";
    pub struct ChromaticityDecl {
        /// CIE 1931 x.
        pub x: Located<Unspecified>,
        /// CIE 1931 y.
        pub y: Located<Unspecified>,
    }
}

record! {
    /// An emitter: a typical class, and what is known better.
    what "an emitter";
    pub struct EmitterDecl {
        /// The typical class it starts from, like `red 3 W star`.
        pub class: Option<Located<Text>>,
        /// Where the figures below come from; unsaid counts as a guess.
        pub from: Option<Located<Origin>>,
        /// Chromaticity in CIE 1931.
        pub chromaticity: Option<ChromaticityDecl>,
        /// Dominant wavelength, against illuminant E.
        pub dominant_wavelength: Option<Located<Range<Wavelength>>>,
        /// Peak wavelength; not the same as the dominant one.
        pub peak_wavelength: Option<Located<Range<Wavelength>>>,
        /// Full width of the spectrum at half its height.
        pub spectral_width: Option<Located<Range<Wavelength>>>,
        /// Colour temperature of a white.
        pub colour_temperature: Option<Located<Range<Temperature>>>,
        /// Distance of a white from the Planckian locus.
        pub duv: Option<Located<Range<Unspecified>>>,
        /// A file of two columns, wavelength in nm and power, beside this file or below.
        pub spectrum: Option<Located<Text>>,
        /// Luminous intensity at its brightest, of one emitter without cover.
        pub peak: Option<Located<Range<Intensity>>>,
        /// Luminous flux of one emitter without cover.
        pub flux: Option<Located<Range<Flux>>>,
        /// Full angle between the directions of half the peak.
        pub viewing_angle: Option<Located<Range<Angle>>>,
        /// Half of that angle: from the axis to half the peak.
        pub half_angle: Option<Located<Range<Angle>>>,
        /// The beam as a table: angle from the axis, share of the peak.
        #[schemars(default)]
        pub table: Named<Located<Share>>,
        /// The beam as a photometric file, LM-63 (`.ies`) or EULUMDAT (`.ldt`), beside this file or below; its own light
        /// counts unless `peak` or `flux` gives another.
        pub photometric_file: Option<Located<Text>>,
        /// The size of what shines; 0 mm for a point.
        pub size: Option<Located<Range<Length>>>,
        /// The current its light is stated for.
        pub stated_at: Option<Located<Current>>,
    }
}

record! {
    /// How the emitter is run.
    what "a drive";
    pub struct DriveDecl {
        /// The current through it.
        pub current: Option<Located<Range<Current>>>,
        /// Its share of full brightness by pulse width.
        pub level: Option<Located<Range<Share>>>,
    }
}

record! {
    /// What a mask hides.
    what "a mask";
    pub struct MaskDecl {
        /// What it hides, seen from the emitter.
        pub hides: Many<Located<Hides>>,
        /// How far its edge is from the emitter.
        pub edge: Option<Located<Range<Length>>>,
    }
}

record! {
    /// A cover with figures of its own.
    what "a cover";
    pub struct CoverFigures {
        /// What it is.
        pub kind: Option<Located<CoverKind>>,
        /// The share of light it lets through.
        pub transmittance: Option<Located<Range<Share>>>,
        /// The colour seen through it.
        pub chromaticity: Option<ChromaticityDecl>,
    }
}

/// A cover: one word, or figures.
#[derive(Debug, Clone, PartialEq, schemars::JsonSchema)]
#[schemars(untagged)]
pub enum CoverDecl {
    /// One word.
    Word(Located<CoverKind>),
    /// Figures.
    Figures(CoverFigures),
}

impl Decode for CoverDecl {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        match node {
            Node::Map { .. } => CoverFigures::decode(node, sink).map(Self::Figures),
            _ => Located::decode(node, sink).map(Self::Word),
        }
    }
}

record! {
    /// A lamp: one or more emitters at one place, pointing one way.
    what "a lamp";
    pub struct LampDecl {
        /// Which light it is part of.
        pub light: Located<Light>,
        /// Where it sits on the model.
        pub place: Option<Located<Place>>,
        /// Where it points.
        pub aim: Located<Aim>,
        /// How far a photometric file is turned about the aim, clockwise as seen from behind the lamp.
        pub roll: Option<Located<Angle>>,
        /// An emitter named above, or a typical one like `red 3 W star`.
        pub emitter: Located<Text>,
        /// How many emitters, side by side.
        pub count: Option<Located<u32>>,
        /// The size of all that shines: of several emitters together, or of a cover that spreads light.
        pub size: Option<Located<Range<Length>>>,
        /// How they are run.
        pub drive: Option<DriveDecl>,
        /// What stands before them.
        pub cover: Option<Located<CoverDecl>>,
        /// What hides them from some directions.
        pub mask: Option<Located<MaskDecl>>,
        /// The channel that lights it.
        pub channel: Option<Located<Text>>,
        /// Always lit, at this level.
        pub steady: Option<Located<Share>>,
        /// A flash, for a lamp with a pattern of its own.
        pub flash: Option<Located<FlashDecl>>,
        /// A swell, for a lamp with a pattern of its own.
        pub swell: Option<Located<SwellDecl>>,
        /// Steps, for a lamp with a pattern of its own.
        pub steps: Option<Located<Vec<StepDecl>>>,
        /// The photograph or drawing that shows it.
        pub evidence: Option<Located<Text>>,
        /// Who requires it, where it is not there for realism.
        pub required_by: Option<Located<RequiredBy>>,
    }
}

record! {
    /// Light sequences that lamps can use.
    what "a sequence file";
    pub struct SequenceFile {
        /// `sequence 1`: what this file is.
        pub lampwright: Located<Text>,
        /// Its title.
        pub title: Option<Located<Text>>,
        /// The rule set it is for.
        pub judge_by: Option<Located<Text>>,
        /// The controller's smallest step of time.
        pub tick: Option<Located<Micros>>,
        /// How long one turn of the controller's program takes.
        pub loop_time: Option<Located<Micros>>,
        /// The frequency of its pulse-width dimming.
        pub pwm: Option<Located<Rate>>,
        /// The channels by name.
        pub channels: Located<Named<ChannelDecl>>,
    }
}

words! {
    /// A colour in plain words.
    what "a colour";
    pub enum PlainColour {
        /// Red.
        Red = "red",
        /// Green.
        Green = "green",
        /// White.
        White = "white",
        /// Blue.
        Blue = "blue",
        /// Amber.
        Amber = "amber",
    }
}

record! {
    /// A channel: what it drives, and a pattern.
    what "a channel";
    pub struct ChannelDecl {
        /// The light it drives.
        pub drives: Option<Located<Light>>,
        /// The colour of the lamps it drives.
        pub colour: Option<Located<PlainColour>>,
        /// The clock it runs on; channels of one clock keep their phase for ever.
        pub clock: Option<Located<Text>>,
        /// When its period starts on that clock.
        pub start: Option<Located<Micros>>,
        /// Always lit, at this level.
        pub steady: Option<Located<Share>>,
        /// A flash of one or more pulses.
        pub flash: Option<Located<FlashDecl>>,
        /// A rise, a hold and a fall, as a rotating beam shows.
        pub swell: Option<Located<SwellDecl>>,
        /// Step by step.
        pub steps: Option<Located<Vec<StepDecl>>>,
    }
}

record! {
    /// A flash of one or more equal pulses.
    what "a flash";
    pub struct FlashDecl {
        /// How often.
        pub rate: Option<Located<Rate>>,
        /// Or how long from one flash to the next.
        pub period: Option<Located<Micros>>,
        /// How long each pulse is lit.
        pub lit: Located<Micros>,
        /// How many pulses; one where not said.
        pub pulses: Option<Located<u32>>,
        /// The dark time between pulses of one flash.
        pub gap: Option<Located<Micros>>,
    }
}

record! {
    /// A swell.
    what "a swell";
    pub struct SwellDecl {
        /// How often.
        pub rate: Option<Located<Rate>>,
        /// Or how long from one swell to the next.
        pub period: Option<Located<Micros>>,
        /// How long it rises.
        pub rise: Located<Micros>,
        /// How long it stays full.
        pub hold: Option<Located<Micros>>,
        /// How long it falls.
        pub fall: Located<Micros>,
    }
}

choice! {
    /// A step of a pattern.
    what "a step";
    pub enum StepDecl {
        /// Full for a time.
        Lit(Located<Micros>) = "lit",
        /// Dark for a time.
        Dark(Located<Micros>) = "dark",
        /// A level for a time.
        Level(LevelDecl) = "level",
        /// A straight ramp.
        Ramp(RampDecl) = "ramp",
        /// Steps done several times.
        Repeat(RepeatDecl) = "repeat",
    }
}

record! {
    /// A level for a time.
    what "a level";
    pub struct LevelDecl {
        /// The share of luminous intensity.
        pub share: Located<Share>,
        /// How long.
        pub time: Located<Micros>,
    }
}

record! {
    /// A straight ramp.
    what "a ramp";
    pub struct RampDecl {
        /// From this share of luminous intensity.
        pub from: Located<Share>,
        /// To this one.
        pub to: Located<Share>,
        /// How long.
        pub time: Located<Micros>,
    }
}

record! {
    /// Steps done several times.
    what "a repeat";
    pub struct RepeatDecl {
        /// How many times.
        pub times: Located<u32>,
        /// The steps.
        pub steps: Vec<StepDecl>,
    }
}
