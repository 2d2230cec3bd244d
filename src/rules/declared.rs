//! A rule-set file as written.

use super::dates::Dates;
use super::figure::{Figure, Scalar, Standing};
use super::words::{Authority, Category, Judges, LightGroup, Lit, ParagraphStatus, Phase, RuleKind, Side};
use crate::source::{Located, Many, Named, Text, choice, record, words};
use crate::units::{Angle, Azimuth, Elevation, Length, Mass, Unspecified};

record! {
    /// A rule set: one document, its paragraphs and what they require.
    what "a rule set";
    pub struct RuleSetFile {
        /// `rules 1`: what this file is.
        pub lampwright: Located<Text>,
        /// A short name, unique among rule sets.
        pub id: Located<Text>,
        /// The rule set's title.
        pub title: Located<Text>,
        /// What it judges.
        pub judges: Located<Judges>,
        /// What it rests on.
        pub kind: Located<RuleKind>,
        /// Whose rules, for which craft, chosen by which date; absent: for every craft.
        pub basis: Option<BasisDecl>,
        /// The document.
        pub source: SourceDecl,
        /// What every line that rests on this set must say, where the text of its day was not read.
        pub unverified: Option<Located<Text>>,
        /// What the document's candle is in candela.
        pub candle: Option<Figure>,
        /// To which multiple of a candela the document rounds what it turned from candles.
        pub candle_to_the_nearest: Option<Located<Scalar>>,
        /// Shared files whose tables, colours and readings are used here by name.
        #[schemars(default)]
        pub uses: Vec<Located<Text>>,
        /// Tables of this document.
        #[schemars(default)]
        pub tables: Named<TableDecl>,
        /// Colours of this document.
        #[schemars(default)]
        pub colours: Named<ColourDecl>,
        /// How this rule set reads what the document leaves open.
        #[schemars(default)]
        pub readings: Named<Figure>,
        /// Every paragraph of the cited sections and what becomes of it.
        #[schemars(default)]
        pub paragraphs: Vec<ParagraphDecl>,
        /// Requirements of shared files that this document has too.
        #[schemars(default)]
        pub take: Vec<TakeDecl>,
        /// What is required besides.
        pub requirements: Option<Located<Vec<RequirementDecl>>>,
    }
}

record! {
    /// Requirements of a shared file that a document has too, word for word but for its own number.
    what "requirements taken from a shared file";
    pub struct TakeDecl {
        /// The shared file.
        pub from: Located<Text>,
        /// What stands for PART in its citations, such as `27`;
        pub part: Option<Located<Text>>,
        /// or the whole citation, where the document numbers its paragraphs in another way.
        pub cite: Option<Located<Text>>,
        /// How well this document's figures are known, where that is not said for one below.
        pub standing: Located<Standing>,
        /// How well those of one requirement are known, by its id.
        #[schemars(default)]
        pub standing_of: Named<Located<Standing>>,
        /// Only these requirements; absent: all.
        #[schemars(default)]
        pub only: Many<Located<Text>>,
        /// All but these requirements.
        #[schemars(default)]
        pub but: Many<Located<Text>>,
        /// When they apply, where that differs from what the shared file says.
        pub when: Option<WhenDecl>,
        /// Dates for which they hold, where those differ from what the shared file says.
        pub in_force: Option<InForceDecl>,
        /// What is put behind their ids, where a document takes one twice.
        pub suffix: Option<Located<Text>>,
    }
}

record! {
    /// Tables, colours and readings that several rule sets use by name.
    what "a file of shared rules";
    pub struct SharedFile {
        /// `shared rules 1`: what this file is.
        pub lampwright: Located<Text>,
        /// Where the figures come from.
        pub source: SourceDecl,
        /// Tables.
        #[schemars(default)]
        pub tables: Named<TableDecl>,
        /// Colours.
        #[schemars(default)]
        pub colours: Named<ColourDecl>,
        /// Readings.
        #[schemars(default)]
        pub readings: Named<Figure>,
        /// Shared files whose tables and colours its requirements name.
        #[schemars(default)]
        pub uses: Vec<Located<Text>>,
        /// Requirements that several documents have, their citations written with PART for the document's number.
        #[schemars(default)]
        pub requirements: Vec<RequirementDecl>,
    }
}

record! {
    /// Whose rules, for which craft, chosen by which date.
    what "a certification basis";
    pub struct BasisDecl {
        /// Whose rules, or all those who took them over.
        pub authority: Many<Located<Authority>>,
        /// For which craft.
        pub categories: Many<Located<Category>>,
        /// Which date of the prototype chooses, or the place the model is flown.
        pub chosen_by: Located<ChosenBy>,
        /// Only for craft that alight on water (or do not).
        pub seaplane: Option<Located<bool>>,
        /// Dates for which the document holds.
        pub in_force: Option<InForceDecl>,
    }
}

words! {
    /// Which date of the prototype chooses the standing of the rules.
    what "a date that chooses the rules";
    pub enum ChosenBy {
        /// The day the type certificate was applied for.
        Application = "application for the type certificate",
        /// The day depicted.
        Depicted = "date depicted",
        /// The place where the model is flown.
        Flown = "place the model is flown",
    }
}

record! {
    /// The document a rule set is written from.
    what "a source";
    pub struct SourceDecl {
        /// The document.
        pub document: Located<Text>,
        /// The amendment or edition.
        pub amendment: Option<Located<Text>>,
        /// When and where it was published.
        pub published: Option<Located<Text>>,
        /// What a reader should know of the copy used.
        pub note: Option<Located<Text>>,
    }
}

record! {
    /// From which day, and up to which day (not included), something holds; a range where sources disagree.
    what "dates in force";
    pub struct InForceDecl {
        /// The first day.
        pub from: Option<Located<Dates>>,
        /// The first day it no longer holds.
        pub until: Option<Located<Dates>>,
        /// How well these dates are known.
        pub standing: Option<Located<Standing>>,
    }
}

words! {
    /// What a table's rows run over.
    what "an angle a table runs over";
    pub enum Over {
        /// Angle right or left of dead ahead in the horizontal plane.
        Azimuth = "azimuth",
        /// Angle above or below the horizontal plane.
        Elevation = "elevation",
    }
}

record! {
    /// A table of steps: closed rows, the stricter one owns a joint.
    what "a table";
    pub struct TableDecl {
        /// Which angle the rows run over.
        pub over: Located<Over>,
        /// Paragraph or table in the source.
        pub cite: Located<Text>,
        /// The rows.
        pub rows: Located<Vec<RowDecl>>,
    }
}

record! {
    /// A row of a table.
    what "a row of a table";
    pub struct RowDecl {
        /// From this angle.
        pub from: Located<Angle>,
        /// To this angle.
        pub to: Located<Angle>,
        /// The figure.
        pub is: Located<Figure>,
    }
}

record! {
    /// A colour as the published inequalities in CIE 1931 x, y, z and the Planckian y0; all must hold.
    what "a colour";
    pub struct ColourDecl {
        /// Paragraph in the source.
        pub cite: Located<Text>,
        /// The inequalities,
        #[schemars(default)]
        pub conditions: Vec<Located<Text>>,
        /// or the corners in order round the region, where the document prints corners.
        #[schemars(default)]
        pub corners: Vec<CornerDecl>,
    }
}

record! {
    /// A corner of a colour region.
    what "a corner";
    pub struct CornerDecl {
        /// CIE 1931 x.
        pub x: Located<Unspecified>,
        /// CIE 1931 y.
        pub y: Located<Unspecified>,
    }
}

record! {
    /// A paragraph of the document and what becomes of it.
    what "a paragraph";
    pub struct ParagraphDecl {
        /// The paragraph.
        pub section: Located<Text>,
        /// What it is about, in our words.
        pub about: Located<Text>,
        /// What becomes of it.
        pub status: Located<ParagraphStatus>,
        /// Why, or what a reader should know.
        pub note: Option<Located<Text>>,
        /// Dates for which the paragraph holds.
        pub in_force: Option<InForceDecl>,
    }
}

record! {
    /// Something the document requires.
    what "a requirement";
    pub struct RequirementDecl {
        /// A short name, unique in the rule set.
        pub id: Located<Text>,
        /// Section and paragraph.
        pub cite: Located<Text>,
        /// What it is, in a few words.
        pub title: Located<Text>,
        /// What it asks, in plain words.
        pub asks: Located<Text>,
        /// What usually misses it.
        pub usually_missed: Option<Located<Text>>,
        /// What mends it.
        pub to_mend: Option<Located<Text>>,
        /// How well its figures are known.
        pub standing: Located<Standing>,
        /// What it rests on, where that differs from the rule set.
        pub kind: Option<Located<RuleKind>>,
        /// When it applies.
        pub when: Option<WhenDecl>,
        /// Dates for which it holds.
        pub in_force: Option<InForceDecl>,
        /// One goal,
        pub goal: Option<GoalDecl>,
        /// or several that must all be met,
        pub all_of: Option<Located<Vec<DemandDecl>>>,
        /// or several of which one must be met.
        pub any_of: Option<Located<Vec<DemandDecl>>>,
    }
}

choice! {
    /// A goal, or several.
    what "a goal or a group of goals";
    pub enum DemandDecl {
        /// One goal.
        Goal(Box<GoalDecl>) = "goal",
        /// All of these.
        AllOf(Located<Vec<DemandDecl>>) = "all_of",
        /// One of these.
        AnyOf(Located<Vec<DemandDecl>>) = "any_of",
    }
}

record! {
    /// When a requirement applies.
    what "conditions of a requirement";
    pub struct WhenDecl {
        /// Only to these categories.
        #[schemars(default)]
        pub category: Many<Located<Category>>,
        /// Only where night operation is (or is not) asked for.
        pub night: Option<Located<bool>>,
        /// Only to craft that alight on water (or do not).
        pub seaplane: Option<Located<bool>>,
        /// Only to craft of this mass.
        pub mass: Option<MassDecl>,
        /// Only to craft of this full-size length.
        pub length: Option<LengthDecl>,
        /// Only where these lights are fitted.
        #[schemars(default)]
        pub fitted: Many<Located<LightGroup>>,
        /// Only to craft whose type certificate was issued in this time.
        pub certificated: Option<InForceDecl>,
    }
}

record! {
    /// A limit on mass.
    what "a limit on mass";
    pub struct MassDecl {
        /// Over this.
        pub over: Option<Located<Mass>>,
        /// At most this.
        pub at_most: Option<Located<Mass>>,
    }
}

record! {
    /// A limit on full-size length.
    what "a limit on length";
    pub struct LengthDecl {
        /// This or more.
        pub at_least: Option<Located<Length>>,
        /// Less than this.
        pub under: Option<Located<Length>>,
    }
}

words! {
    /// What a goal is judged for, one by one.
    what "what a goal is judged for";
    pub enum Each {
        /// The light as a whole, all its lamps together.
        Light = "light",
        /// Every lamp by itself.
        Lamp = "lamp",
        /// Every channel by itself.
        Channel = "channel",
    }
}

words! {
    /// How many sources are seen in the directions a goal speaks of.
    what "a number of sources";
    pub enum Sources {
        /// One.
        One = "one",
        /// Two or more: an overlap.
        Several = "several",
    }
}

words! {
    /// A dihedral angle of the position lights.
    what "a dihedral angle";
    pub enum DihedralAngle {
        /// Left: dead ahead to 110 deg left.
        L = "L",
        /// Right: dead ahead to 110 deg right.
        R = "R",
        /// Aft: 70 deg either side of dead astern.
        A = "A",
        /// Every azimuth, for lights of which tables speak all round.
        Round = "all round",
    }
}

record! {
    /// What is measured, where, and the limit.
    what "a goal";
    pub struct GoalDecl {
        /// What tells this goal from others of the same requirement.
        pub name: Option<Located<Text>>,
        /// Which light.
        pub light: Located<LightGroup>,
        /// Judged for the light as a whole (the usual), for each lamp, or for each channel.
        pub each: Option<Located<Each>>,
        /// The measured quantity.
        pub quantity: Located<Text>,
        /// Over which directions.
        pub region: Option<RegionDecl>,
        /// The limit.
        pub limit: LimitDecl,
        /// Figures the quantity needs besides the limit.
        #[schemars(default)]
        pub with: Named<Figure>,
        /// What may be exceeded, and where.
        pub allow: Option<AllowanceDecl>,
        /// Where a bright light is let off.
        pub relief: Option<ReliefDecl>,
        /// For flash frequency: where one source is seen, or where several are.
        pub sources: Option<Located<Sources>>,
        /// The table of minima by elevation that tells which sources count as seen.
        pub seen_over: Option<Located<Text>>,
        /// For vertical spacing: the light the lamps are to be above.
        pub above: Option<Located<LightGroup>>,
        /// For lights by phase: in which phases.
        #[schemars(default)]
        pub phases: Many<Located<Phase>>,
        /// A paragraph without figures that might excuse a miss.
        pub may_be_excused: Option<Located<Text>>,
        /// How well this goal is known, where it is less well known than its requirement.
        pub standing: Option<Located<Standing>>,
    }
}

choice! {
    /// A set of directions.
    what "a region";
    pub enum RegionDecl {
        /// A dihedral angle, all elevations.
        Dihedral(Located<DihedralAngle>) = "dihedral",
        /// A band of elevations, all azimuths.
        Band(BandDecl) = "band",
        /// Part of a neighbouring dihedral angle.
        Overlap(OverlapDecl) = "overlap",
        /// Azimuths and elevations of any extent.
        Sector(SectorDecl) = "sector",
    }
}

record! {
    /// Azimuths and elevations of any extent.
    what "a sector";
    pub struct SectorDecl {
        /// From this azimuth,
        pub from: Located<Azimuth>,
        /// turning right, to this one.
        pub to: Located<Azimuth>,
        /// From this elevation; straight down where not said.
        pub low: Option<Located<Elevation>>,
        /// To this elevation; straight up where not said.
        pub high: Option<Located<Elevation>>,
    }
}

record! {
    /// A band of elevations.
    what "a band of elevations";
    pub struct BandDecl {
        /// From this elevation.
        pub from: Located<Elevation>,
        /// To this elevation.
        pub to: Located<Elevation>,
    }
}

record! {
    /// The directions of a neighbouring dihedral angle that meet the common boundary plane at these angles.
    what "an overlap";
    pub struct OverlapDecl {
        /// The dihedral angle the light spills into.
        pub into: Located<DihedralAngle>,
        /// The azimuth of the common boundary plane.
        pub plane: Located<Azimuth>,
        /// More than this angle between line and plane.
        pub from: Located<Angle>,
        /// Less than this angle.
        pub to: Located<Angle>,
    }
}

choice! {
    /// A limit.
    what "a limit";
    pub enum LimitDecl {
        /// Not less than.
        AtLeast(Located<Figure>) = "at_least",
        /// Not more than.
        AtMost(Located<Figure>) = "at_most",
        /// From the first to the second, both included.
        Between(Located<Vec<Located<Figure>>>) = "between",
        /// A floor that depends on the direction.
        Floor(Located<FloorDecl>) = "floor",
        /// Inside one of these colours.
        Inside(Many<Located<Text>>) = "inside",
        /// On this side of the craft.
        Side(Located<Side>) = "side",
        /// Lit, or not.
        Lit(Located<Lit>) = "lit",
        /// The document has a figure that was not at hand; says where to find it.
        NotAtHand(Located<Text>) = "not_at_hand",
    }
}

record! {
    /// A floor over directions, by tables.
    what "a floor over directions";
    pub struct FloorDecl {
        /// Table over azimuth: the floor in the horizontal plane.
        pub by_azimuth: Option<Located<Text>>,
        /// Table over elevation: factors on the floor of the same azimuth.
        pub times_by_elevation: Option<Located<Text>>,
        /// Table over elevation: the floor itself.
        pub by_elevation: Option<Located<Text>>,
    }
}

record! {
    /// How much may be obstructed, and where.
    what "an allowance";
    pub struct AllowanceDecl {
        /// In all at most this much,
        pub at_most: Located<Figure>,
        /// and only inside this cone; anywhere where not said.
        pub within: Option<ConeDecl>,
    }
}

choice! {
    /// Where an allowance holds.
    what "a cone";
    pub enum ConeDecl {
        /// So far from the vertical through the light, above and below.
        Vertical(Located<Figure>) = "about_vertical",
        /// A solid angle centred dead astern.
        Aft(Located<Figure>) = "about_aft",
    }
}

record! {
    /// Higher ceilings for a bright light.
    what "a relief";
    pub struct ReliefDecl {
        /// Paragraph.
        pub cite: Located<Text>,
        /// For a light whose peak is more than this.
        pub peak_over: Located<Figure>,
        /// The ceiling is then this share of the peak, where that is higher.
        pub at_most: Located<Figure>,
    }
}
