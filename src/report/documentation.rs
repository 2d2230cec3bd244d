//! What an entrant hands over: the report, and the evidence behind it.

use super::Report;
use super::evidence::{Figure, Hue, NightView, ThreeViews, TimeStrip};
use crate::aircraft::Entry;
use crate::judge::Verdict;

/// A report with the evidence behind it.
#[derive(Debug, Clone)]
pub struct Documentation {
    /// The report.
    pub report: Report,
    /// What the entrant says of the entry.
    pub entry: Entry,
    /// The lamps, in the order of the file.
    pub lamps: Vec<LampRow>,
    /// The model in three views with its lamps.
    pub views: ThreeViews,
    /// Every flashing lamp on one axis of time.
    pub timing: TimeStrip,
    /// One figure a question.
    pub figures: Vec<Figure>,
    /// What an observer sees at night.
    pub night: NightView,
    /// How it was made.
    pub method: Method,
}

impl Documentation {
    /// A report that no rule set stands behind: no evidence.
    pub(super) fn bare(report: Report, entry: Entry, method: Method) -> Self {
        let (lamps, views, timing, figures, night) = Default::default();
        Self { report, entry, lamps, views, timing, figures, night, method }
    }
}

/// A row of the lamp table.
#[derive(Debug, Clone, PartialEq)]
pub struct LampRow {
    /// Its number, from 1.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// Its light.
    pub light: String,
    /// Its colour.
    pub hue: Hue,
    /// Its emitters, in words.
    pub emitter: String,
    /// Its place on the model and on the full-size craft, in words; `None` where none is given.
    pub place: Option<(String, String)>,
    /// Where it points, in words.
    pub aim: String,
    /// How it is lit, in words.
    pub pattern: String,
    /// What shows it on the full-size craft.
    pub evidence: Option<String>,
    /// Whether only a local rule requires it.
    pub local: bool,
    /// The worst verdict of the goals that decide and look at it.
    pub verdict: Option<Verdict>,
    /// The paragraphs of those goals.
    pub cites: Vec<String>,
}

/// How a report was made.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Method {
    /// The day it was made.
    pub day: String,
    /// The files it was made from, with their SHA-256.
    pub inputs: Vec<(String, String)>,
    /// The rule sets, with the SHA-256 of their texts.
    pub rule_sets: Vec<(String, String)>,
}
