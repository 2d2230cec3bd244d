//! A rule set ready for use: every name replaced by what it stands for.

use super::basis::{InForce, When};
pub use super::declared::ChosenBy;
pub use super::declared::{DihedralAngle, Each, Sources};
use super::figure::{Figure, Standing};
use super::words::{Authority, Category, Judges, LightGroup, Lit, ParagraphStatus, Phase, RuleKind, Side};
use crate::colorimetry::Region as ColourRegion;
use crate::geometry::Patch;
use crate::source::{At, Located};
use crate::units::Interval;
use std::collections::BTreeMap;

/// What a rule set says of itself: enough to choose by.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleHead {
    /// Its short name.
    pub id: String,
    /// Its title.
    pub title: String,
    /// What it judges.
    pub judges: Judges,
    /// What it rests on.
    pub kind: RuleKind,
    /// Whose rules, for which craft; `None`: for every craft.
    pub basis: Option<Basis>,
    /// The document.
    pub document: Document,
    /// What every line that rests on it must say, where the text of its day was not read.
    pub unverified: Option<String>,
    /// Where it was written.
    pub at: At,
}

/// A rule set; what its head says is reached through it: `set.id`.
#[derive(Debug, Clone)]
pub struct RuleSet {
    /// What it says of itself.
    pub head: RuleHead,
    /// How it reads what the document leaves open, by name.
    pub readings: BTreeMap<String, Reading>,
    /// Every paragraph of the cited sections.
    pub paragraphs: Vec<Paragraph>,
    /// What is required.
    pub requirements: Vec<Requirement>,
}

impl std::ops::Deref for RuleSet {
    type Target = RuleHead;
    fn deref(&self) -> &RuleHead {
        &self.head
    }
}

impl RuleSet {
    /// A requirement by its id.
    #[must_use]
    pub fn requirement(&self, id: &str) -> Option<&Requirement> {
        self.requirements.iter().find(|r| r.id == id)
    }
}

/// Whose rules, for which craft, chosen by which date.
#[derive(Debug, Clone, PartialEq)]
pub struct Basis {
    /// Whose rules.
    pub authorities: Vec<Authority>,
    /// For which craft.
    pub categories: Vec<Category>,
    /// Which date chooses.
    pub chosen_by: ChosenBy,
    /// Only for craft that alight on water, or do not.
    pub seaplane: Option<bool>,
    /// Dates for which the document holds.
    pub in_force: InForce,
}

/// The document a rule set is written from.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// The document.
    pub name: String,
    /// Amendment or edition.
    pub amendment: Option<String>,
    /// When and where published.
    pub published: Option<String>,
    /// What a reader should know of the copy used.
    pub note: Option<String>,
}

/// A figure by which a rule set reads what its document leaves open.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The figure.
    pub figure: Figure,
    /// Where it was written.
    pub at: At,
}

/// A paragraph of the document.
#[derive(Debug, Clone, PartialEq)]
pub struct Paragraph {
    /// The paragraph.
    pub section: String,
    /// What it is about.
    pub about: String,
    /// What becomes of it.
    pub status: ParagraphStatus,
    /// Why.
    pub note: Option<String>,
    /// Dates for which it holds.
    pub in_force: InForce,
    /// Where it was written.
    pub at: At,
}

/// Something the document requires.
#[derive(Debug, Clone)]
pub struct Requirement {
    /// Its short name, unique in the rule set.
    pub id: String,
    /// Section and paragraph.
    pub cite: String,
    /// What it is, in a few words.
    pub title: String,
    /// What it asks, in plain words.
    pub asks: String,
    /// What usually misses it.
    pub usually_missed: Option<String>,
    /// What mends it.
    pub to_mend: Option<String>,
    /// How well its figures are known.
    pub standing: Standing,
    /// What it rests on.
    pub kind: RuleKind,
    /// When it applies.
    pub when: When,
    /// Dates for which it holds.
    pub in_force: InForce,
    /// What must be so.
    pub demand: Demand,
    /// Where it was written.
    pub at: At,
}

/// A goal, or several.
#[derive(Debug, Clone)]
pub enum Demand {
    /// One goal.
    Goal(Box<GoalSpec>),
    /// All of these.
    AllOf(Vec<Demand>),
    /// One of these.
    AnyOf(Vec<Demand>),
}

impl Demand {
    /// Every goal in it.
    #[must_use]
    pub fn goals(&self) -> Vec<&GoalSpec> {
        match self {
            Self::Goal(goal) => vec![goal],
            Self::AllOf(list) | Self::AnyOf(list) => list.iter().flat_map(Self::goals).collect(),
        }
    }
}

/// What is measured, where, and the limit.
#[derive(Debug, Clone)]
pub struct GoalSpec {
    /// What tells this goal from others of the same requirement.
    pub name: Option<String>,
    /// Which light.
    pub light: LightGroup,
    /// For the light as a whole, for each lamp, or for each channel.
    pub each: Each,
    /// The measured quantity, by name.
    pub quantity: Located<String>,
    /// Over which directions.
    pub region: Option<Region>,
    /// The limit.
    pub limit: Limit,
    /// Figures the quantity needs besides the limit.
    pub with: BTreeMap<String, Figure>,
    /// What may be obstructed, and where.
    pub allow: Option<Allowance>,
    /// Where a bright light is let off.
    pub relief: Option<Relief>,
    /// For flash frequency: where one source is seen, or where several are.
    pub sources: Option<Sources>,
    /// The minima by elevation that tell which sources count as seen.
    pub seen_over: Option<Table>,
    /// For vertical spacing: the light the lamps are to be above.
    pub above: Option<LightGroup>,
    /// For lights by phase: in which phases.
    pub phases: Vec<Phase>,
    /// A paragraph without figures that might excuse a miss.
    pub may_be_excused: Option<String>,
    /// How well this goal is known, where it is less well known than its requirement.
    pub known: Option<Standing>,
    /// Where it was written.
    pub at: At,
}

impl GoalSpec {
    /// The least sure standing of what it rests on: its requirement's and its own, its limit's, those of a row of its
    /// table, and those it needs besides; of a relief where it had a part in it.
    #[must_use]
    pub fn standing(&self, of_requirement: &Standing, row: Option<&Row>, relieved: bool) -> Standing {
        let limit = match &self.limit {
            Limit::AtLeast(figure) | Limit::AtMost(figure) => vec![figure],
            Limit::Between(low, high) => vec![low, high],
            // Of a table over elevation only the row of the goal counts.
            Limit::Floor { by_azimuth, .. } => by_azimuth.rows.iter().map(|r| &r.is).collect(),
            _ => Vec::new(),
        };
        let allowed = self.allow.iter().map(|a| match a {
            Allowance::AboutVertical { at_most, .. }
            | Allowance::AboutAft { at_most, .. }
            | Allowance::Anywhere { at_most } => at_most,
        });
        let relief = self.relief.iter().filter(|_| relieved).flat_map(|r| [&r.peak_over, &r.at_most]);
        let row = row.map(|r| &r.is);
        let figures = limit.into_iter().chain(row).chain(allowed).chain(relief).chain(self.with.values());
        let own = figures.filter_map(|f| f.standing.clone());
        own.chain(self.known.clone())
            .chain([of_requirement.clone()])
            .max_by_key(Standing::doubt)
            .unwrap_or(Standing::OwnReading)
    }
}

/// A set of directions.
#[derive(Debug, Clone, PartialEq)]
pub enum Region {
    /// A dihedral angle, all elevations.
    Dihedral(DihedralAngle),
    /// A band of elevations, all azimuths, in degrees.
    Band(Interval),
    /// The directions of `into` that meet the plane at an angle strictly between the two.
    Overlap {
        /// The dihedral angle the light spills into.
        into: DihedralAngle,
        /// The azimuth of the boundary plane.
        plane_deg: f64,
        /// The angles, in degrees, both excluded.
        angles_deg: Interval,
    },
    /// Azimuths and elevations of any extent, in degrees.
    Sector(Patch),
}

/// A limit.
#[derive(Debug, Clone)]
pub enum Limit {
    /// Not less than.
    AtLeast(Figure),
    /// Not more than.
    AtMost(Figure),
    /// From the first to the second, both included.
    Between(Figure, Figure),
    /// A floor over azimuth, and its factors over elevation where there are any.
    Floor {
        /// The floor in the horizontal plane.
        by_azimuth: Table,
        /// Factors on it.
        times_by_elevation: Option<Table>,
    },
    /// A floor over elevation.
    FloorByElevation(Table),
    /// Inside one of these colours.
    Inside(Vec<NamedColour>),
    /// On this side of the craft.
    Side(Side),
    /// Lit, or not.
    Lit(Lit),
    /// The document has a figure that was not at hand; where to find it.
    NotAtHand(String),
}

/// A colour region under its name.
#[derive(Debug, Clone)]
pub struct NamedColour {
    /// Its name.
    pub name: String,
    /// Paragraph.
    pub cite: String,
    /// The inequalities.
    pub region: ColourRegion,
}

/// A table of steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Its name.
    pub name: String,
    /// Paragraph or table in the source.
    pub cite: String,
    /// Its rows, in rising order.
    pub rows: Vec<Row>,
}

impl Table {
    /// The strictest figure of the closed rows that hold an angle; `None` outside the table.
    #[must_use]
    pub fn strictest(&self, angle_deg: f64) -> Option<f64> {
        self.rows
            .iter()
            .filter(|r| r.from_deg <= angle_deg && angle_deg <= r.to_deg)
            .map(|r| r.is.scalar.value)
            .fold(None, |best, v| Some(best.map_or(v, |b: f64| b.max(v))))
    }
}

/// A row of a table: a closed range of angles and its figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// From this angle, in degrees.
    pub from_deg: f64,
    /// To this angle, in degrees.
    pub to_deg: f64,
    /// The figure.
    pub is: Figure,
}

/// How much may be obstructed, and where.
#[derive(Debug, Clone, PartialEq)]
pub enum Allowance {
    /// At most so much, and only so near the vertical through the light.
    AboutVertical {
        /// In all, at most.
        at_most: Figure,
        /// Half-angle about the vertical, in degrees.
        half_angle_deg: f64,
    },
    /// At most so much, and only inside a cone of this solid angle dead astern.
    AboutAft {
        /// In all, at most.
        at_most: Figure,
        /// The cone's solid angle, in steradian.
        cone_sr: f64,
    },
    /// At most so much, wherever it is.
    Anywhere {
        /// In all, at most.
        at_most: Figure,
    },
}

/// Higher ceilings for a bright light.
#[derive(Debug, Clone, PartialEq)]
pub struct Relief {
    /// Paragraph.
    pub cite: String,
    /// For a light whose peak is more than this, in candela.
    pub peak_over: Figure,
    /// The ceiling is then this share of the peak, where that is higher.
    pub at_most: Figure,
}
