//! Everything a renderer may know: one owned report, no lifetimes.

mod baseline;
mod build;
mod changes;
mod documentation;
pub mod evidence;
mod figures;
mod linted;
mod notices;

pub use baseline::{Baseline, Writer};
pub use build::build;
pub use changes::{Change, Changed, changes};
pub use documentation::{Documentation, LampRow, Method};
pub use figures::{Observer, Shown, document, lights};
pub use linted::{LintFinding, LintReport, LintedFile, Severity};
pub use notices::{LOCAL_RULES, cautions};

use crate::aircraft::Origin;
use crate::judge::Verdict;
use crate::measure::Where;
use crate::rules::{Phase, RuleKind, Standing, Unit};
use crate::source::At;
use crate::units::Interval;

/// What was found of a model.
#[derive(Debug, Clone)]
pub struct Report {
    /// The model.
    pub aircraft: AircraftHead,
    /// The rule sets it was held against, each at one standing.
    pub rule_sets: Vec<RuleSetHead>,
    /// The goals, in the order of the rule sets.
    pub goals: Vec<GoalReport>,
    /// Lamps no requirement looked at.
    pub lamps_unjudged: Vec<String>,
    /// Lamps that only a local rule requires.
    pub local_rule_lamps: Vec<String>,
    /// What the rules for model aircraft ask where it is flown, judged on the model itself; advice, in no tally.
    pub local_rules: Vec<LocalRule>,
    /// The place where it is flown, where no local rule is at hand for that.
    pub no_local_rule: Option<String>,
    /// Which lamps are lit in which phase, as the file says.
    pub phases: Vec<PhaseReport>,
    /// How many of the goals that decide came out how.
    pub required: Tally,
    /// How many goals of every kind came out how.
    pub all: Tally,
    /// Usual cautions that apply.
    pub cautions: Vec<Caution>,
    /// The notice every report carries.
    pub notice: String,
    /// Whether a baseline told what was missed before.
    pub has_baseline: bool,
    /// Whether a required goal that cannot be told, or is met on a guess, fails, too.
    pub strict: bool,
}

impl Report {
    /// Whether a goal makes the run fail.
    #[must_use]
    pub fn fails(&self) -> bool {
        self.goals.iter().any(|goal| goal.fails(self.strict))
    }
}

/// A local rule and how the model itself comes out.
#[derive(Debug, Clone)]
pub struct LocalRule {
    /// The rule set.
    pub head: RuleSetHead,
    /// Since when it holds.
    pub since: Option<String>,
    /// Its goals.
    pub goals: Vec<GoalReport>,
}

/// A phase and the lamps lit in it.
#[derive(Debug, Clone, PartialEq)]
pub struct PhaseReport {
    /// The phase.
    pub phase: Phase,
    /// The lamps lit, and the channel of each where it is not its usual one.
    pub lit: Vec<(String, Option<String>)>,
    /// The same in few words: lights of which every lamp is lit, and lamps by name where not.
    pub summary: Vec<String>,
}

/// A usual caution and its source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// The caution, in our words.
    pub text: String,
    /// Where it comes from.
    pub source: String,
}

/// The model a report is about.
#[derive(Debug, Clone, PartialEq)]
pub struct AircraftHead {
    /// Its title.
    pub title: String,
    /// N of its scale, 1 to N.
    pub scale: f64,
    /// Its file.
    pub file: String,
    /// The full-size craft in a few words.
    pub prototype: String,
    /// Its airframe in a few words, where one was looked at.
    pub airframe: Option<String>,
}

/// A rule set at one standing.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleSetHead {
    /// Its id.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Its document.
    pub document: String,
    /// What it rests on.
    pub kind: RuleKind,
    /// The application dates for which this standing holds.
    pub standing_at: String,
    /// Why it was chosen.
    pub why: String,
    /// Why the standings before and after it were not.
    pub beside: Vec<String>,
    /// How its goals came out.
    pub tally: Tally,
    /// Paragraphs that no goal checks: section, about, status.
    pub unchecked: Vec<[String; 3]>,
}

/// How many goals came out how.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    /// Met.
    pub met: usize,
    /// Missed.
    pub missed: usize,
    /// Cannot tell.
    pub cannot_tell: usize,
    /// Not applicable.
    pub not_applicable: usize,
}

impl Tally {
    /// Counts verdicts.
    pub fn of(verdicts: impl Iterator<Item = Verdict>) -> Self {
        let mut tally = Self::default();
        for verdict in verdicts {
            match verdict {
                Verdict::Met => tally.met += 1,
                Verdict::Missed => tally.missed += 1,
                Verdict::CannotTell => tally.cannot_tell += 1,
                Verdict::NotApplicable => tally.not_applicable += 1,
            }
        }
        tally
    }
}

/// What a verdict rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct RestsOn {
    /// The standing of the rule's figures.
    pub rule: Standing,
    /// What else is to be said of the rule, where its text was not read.
    pub unverified: Option<String>,
    /// The least sure of the user's figures.
    pub input: Option<Origin>,
}

/// What was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The figure at full size.
    pub interval: Option<Interval>,
    /// Its unit.
    pub unit: Unit,
    /// In words.
    pub text: String,
    /// Where the worst was found.
    pub at: Option<Where>,
    /// The figure on the model itself, for intensities.
    pub at_scale: Option<Interval>,
}

/// What was required where the worst was found.
#[derive(Debug, Clone, PartialEq)]
pub struct RequiredFigure {
    /// In words.
    pub text: String,
    /// At full size.
    pub full_size: Option<f64>,
    /// On the model itself, for intensities.
    pub at_scale: Option<f64>,
    /// Their unit.
    pub unit: Option<Unit>,
}

/// Why a goal cannot be told.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason {
    /// `missing input`, `within bounds`, `figure not at hand` or `which rule`.
    pub kind: &'static str,
    /// In words.
    pub text: String,
    /// Figures that would tell, as key and what to write.
    pub add: Vec<(String, String)>,
}

/// A goal and what came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct GoalReport {
    /// Its id.
    pub id: String,
    /// Its rule set.
    pub rule_set: String,
    /// Section and paragraph.
    pub citation: String,
    /// Its title.
    pub title: String,
    /// What it rests on.
    pub kind: RuleKind,
    /// Whether it decides if the model passes.
    pub binding: bool,
    /// The light.
    pub light: String,
    /// Its lamps.
    pub lamps: Vec<String>,
    /// The measured quantity.
    pub quantity: String,
    /// What was required.
    pub required: Option<RequiredFigure>,
    /// What was found.
    pub found: Option<Found>,
    /// How far on the right side of the limit.
    pub margin: Option<Interval>,
    /// The unit of the margin; `None`: a ratio.
    pub margin_unit: Option<Unit>,
    /// The verdict.
    pub verdict: Verdict,
    /// Why it cannot be told, or does not apply.
    pub reason: Option<Reason>,
    /// What would meet it.
    pub to_meet: Option<String>,
    /// What it rests on.
    pub rests_on: RestsOn,
    /// What else a reader should know.
    pub readings: Vec<String>,
    /// The line of the user's file to change.
    pub location: At,
    /// The requirement's line.
    pub related: At,
    /// Whether it was missed before, by the baseline.
    pub known: bool,
}

impl GoalReport {
    /// What stays the same when the file is edited: rule set, goal, file.
    #[must_use]
    pub fn key(&self) -> String {
        format!("{}/{}@{}", self.rule_set, self.id, self.location.file)
    }

    /// Whether it makes the run fail: it decides and is missed, and was not before; where the run is strict, also when
    /// it cannot be told or is met on a guess.
    #[must_use]
    pub fn fails(&self, strict: bool) -> bool {
        let fails = match self.verdict {
            Verdict::Missed => !self.known,
            Verdict::CannotTell => strict,
            Verdict::Met => strict && self.rests_on.input == Some(Origin::Guess),
            Verdict::NotApplicable => false,
        };
        self.binding && fails
    }
}
