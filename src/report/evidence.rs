//! What a report shows besides verdicts: owned data for figures, which know shapes and units and no quantity.

use crate::judge::Verdict;
pub use crate::measure::{Measured, SeenRate};
use crate::units::Interval;

/// The question a figure answers.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum About {
    /// Is a light bright enough around the horizon, and no brighter than allowed?
    Horizon {
        /// The light.
        light: String,
        /// Which intensity is shown.
        measured: Measured,
    },
    /// The same above and below, in the upright plane through an azimuth.
    Upright {
        /// The light.
        light: String,
        /// Which intensity is shown.
        measured: Measured,
        /// The azimuth in degrees.
        azimuth_deg: f64,
    },
    /// What becomes of a light all over the sphere?
    Sphere {
        /// The light.
        light: String,
    },
    /// Are the colours those of the rules?
    Colours,
    /// When does each lamp flash?
    Timing,
    /// How far is each goal from its limit?
    Margins {
        /// Which part of them, from 1.
        part: usize,
        /// Of how many.
        parts: usize,
    },
}

/// A figure: one question and what answers it.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What links name it by, unique in a report: letters, digits and hyphens.
    pub id: String,
    /// The question it answers.
    pub about: About,
    /// The paragraphs it speaks of, with their rule set.
    pub cites: Vec<String>,
    /// What is drawn.
    pub shape: Shape,
}

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Shape {
    /// Luminous intensity around a plane.
    Polar(Polar),
    /// The whole sphere.
    Sphere(SphereMap),
    /// Chromaticities.
    Colours(ColourChart),
    /// Pulses and flashes over time.
    Timing(TimeStrip),
    /// Margins of goals.
    Margins(Vec<MarginRow>),
}

/// The colour light is drawn in, and the letter that stands for it in print.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hue {
    /// `R`, `G`, `W`, `Y`, `B`; `?` where nothing is known of it.
    pub letter: char,
    /// Red, green, blue for the screen.
    pub rgb: [u8; 3],
}

/// The plane of a polar diagram.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Plane {
    /// Elevation 0; angles are azimuths, 0 ahead, positive to the right.
    Horizontal,
    /// The upright plane through an azimuth and its opposite; angles are elevations towards it, past 90 overhead and on to
    /// the other side, past -90 below.
    Vertical {
        /// The azimuth in degrees.
        azimuth_deg: f64,
    },
}

/// Luminous intensity around a plane, at full-size equivalent, in cd.
#[derive(Debug, Clone, PartialEq)]
pub struct Polar {
    /// The plane.
    pub plane: Plane,
    /// In order of angle, all round, the last not the first again.
    pub points: Vec<PolarPoint>,
    /// The angle of the worst direction, where it lies in this plane.
    pub worst_deg: Option<f64>,
}

/// An angle of a polar diagram.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PolarPoint {
    /// The angle in degrees, -180 to 180.
    pub angle_deg: f64,
    /// The intensity found; the high end may be infinite where nothing is known.
    pub found: Interval,
    /// The least that is asked there.
    pub floor: Option<f64>,
    /// The most that is allowed there.
    pub ceiling: Option<f64>,
}

/// What becomes of a light in a direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cover {
    /// Seen where no intensity is asked.
    NotAsked,
    /// Seen, and as bright as asked.
    Seen,
    /// Seen; whether it is as bright as asked cannot be told.
    Unsure,
    /// Less than asked.
    Short,
    /// More than allowed.
    Spill,
    /// In the half-shadow of an edge, and so not known to be as bright as asked.
    Shaded,
    /// Hidden by masks or the lamps' own bodies.
    Masked,
    /// Hidden by the airframe.
    Airframe,
}

/// The whole sphere in fields of equal angle.
#[derive(Debug, Clone, PartialEq)]
pub struct SphereMap {
    /// The side of a field in degrees; divides 180.
    pub step_deg: f64,
    /// Rows from straight down to straight up, each from azimuth -180 on.
    pub fields: Vec<Vec<Cover>>,
    /// How much of the sphere each cover takes, in sr, summed over the fields; those that occur.
    pub areas: Vec<(Cover, f64)>,
    /// Worst directions: azimuth, elevation, the goal's title.
    pub worst: Vec<(f64, f64, String)>,
}

/// Colours in CIE 1931 x, y.
#[derive(Debug, Clone, PartialEq)]
pub struct ColourChart {
    /// The spectrum's colours: wavelength in nm, x, y.
    pub locus: Vec<(f64, [f64; 2])>,
    /// The colours of black bodies: temperature in kelvin, x, y.
    pub planck: Vec<(f64, [f64; 2])>,
    /// Published regions.
    pub regions: Vec<ColourRegion>,
    /// The lamps' colours.
    pub lamps: Vec<ColourMark>,
}

/// A published region.
#[derive(Debug, Clone, PartialEq)]
pub struct ColourRegion {
    /// Its name.
    pub name: String,
    /// Its outline.
    pub outline: Vec<[f64; 2]>,
}

/// The colour of lamps: a point, or all colours it may be.
#[derive(Debug, Clone, PartialEq)]
pub struct ColourMark {
    /// The lamps of that colour, by name.
    pub lamps: Vec<String>,
    /// The colours: one, two ends, or the corners about a range.
    pub points: Vec<[f64; 2]>,
    /// How it is drawn.
    pub hue: Hue,
    /// The verdict of the colour goals that decide, the worst.
    pub verdict: Option<Verdict>,
}

/// Channels on one axis of time.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TimeStrip {
    /// How long the axis is, in ms.
    pub length_ms: f64,
    /// The channels.
    pub tracks: Vec<Track>,
    /// Whether the axis is shorter than the slowest period.
    pub cut: bool,
    /// Flash frequency as seen from around: the place in words, flashes per minute.
    pub seen_from: Vec<(String, SeenRate)>,
}

/// A channel over time.
#[derive(Debug, Clone, PartialEq)]
pub struct Track {
    /// The channel.
    pub name: String,
    /// Its lamps.
    pub lamps: Vec<String>,
    /// Its clock, where the channels run on several: they drift against each other.
    pub clock: Option<String>,
    /// Its period in ms.
    pub period_ms: f64,
    /// Flashes per minute.
    pub per_min: f64,
    /// Time in ms and level from 0 to 1, corners of the line, over the whole axis.
    pub corners: Vec<[f64; 2]>,
    /// Flashes, from and to in ms, over the whole axis; none where they are too many to tell apart.
    pub flashes: Vec<[f64; 2]>,
    /// How many pulses one flash has.
    pub pulses_per_flash: usize,
    /// Peak and effective intensity of its lamps where they are brightest, at full-size equivalent, in cd.
    pub brightest_cd: Option<(Interval, Interval)>,
    /// How it is drawn.
    pub hue: Hue,
}

/// The margin of a goal.
#[derive(Debug, Clone, PartialEq)]
pub struct MarginRow {
    /// The goal's rule set and id, as in every other format.
    pub goal: (String, String),
    /// Its title.
    pub title: String,
    /// Its citation.
    pub cite: String,
    /// How it came out.
    pub verdict: Verdict,
    /// How far on the right side of the limit; 0 or more is met.
    pub margin: Option<Interval>,
    /// What the margin is measured in; `None`: a share of the limit.
    pub unit: Option<String>,
}

/// The model in three views, in mm on the model, axes forward, right, up.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ThreeViews {
    /// Whether the outlines are the airframe's own; else they are the declared span and length alone.
    pub from_mesh: bool,
    /// Seen from above: rings of (right, forward).
    pub plan: Vec<Vec<[f64; 2]>>,
    /// Seen from the left: rings of (forward, up).
    pub side: Vec<Vec<[f64; 2]>>,
    /// Seen from ahead: rings of (left, up).
    pub front: Vec<Vec<[f64; 2]>>,
    /// The lamps whose places are known.
    pub lamps: Vec<PlacedLamp>,
}

/// A lamp on the model.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedLamp {
    /// Its number in the lamp table, from 1.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// Forward, right and up of the datum, in mm; what is not given is not known.
    pub place: [Option<f64>; 3],
    /// The azimuths its light is asked over, from and to turning right, in degrees.
    pub asked_deg: Option<(f64, f64)>,
    /// Azimuths inside those in which masks, its body or the airframe hide it on the horizon, from and to turning right.
    pub hidden_deg: Vec<(f64, f64)>,
    /// How it is drawn.
    pub hue: Hue,
}

/// What an observer sees at night.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct NightView {
    /// The observer's azimuth from the model in degrees, 0 ahead of it, positive on its right.
    pub azimuth_deg: f64,
    /// The observer's elevation from the model in degrees.
    pub elevation_deg: f64,
    /// How far away, in m, from the model; and the full-size craft that looks the same.
    pub distance_m: (f64, f64),
    /// The airframe's outline as seen, in mm across and up.
    pub outline: Vec<Vec<[f64; 2]>>,
    /// The lamps, the farthest first.
    pub lamps: Vec<NightLamp>,
    /// How long a frame is, in ms.
    pub frame_ms: f64,
    /// How many times slower than life it must be played so that no more than three flashes begin in a second.
    pub slowed: f64,
    /// Flashes that begin in the worst second, at its own speed.
    pub flashes_in_a_second: usize,
    /// Lamps whose places are not known on all axes, which cannot be shown.
    pub unplaced: Vec<String>,
}

/// A lamp as seen at night.
#[derive(Debug, Clone, PartialEq)]
pub struct NightLamp {
    /// Its number in the lamp table, from 1.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// Where it is seen, in mm across (right is positive to the observer) and up.
    pub at: [f64; 2],
    /// Its intensity towards the observer at full level, at full-size equivalent, in cd.
    pub cd: Interval,
    /// Illuminance at the observer's eye at full level, in lux: intensity on the model over the squared distance.
    pub lux: Interval,
    /// Its level in each frame.
    pub levels: Vec<f64>,
    /// How it is drawn.
    pub hue: Hue,
}
