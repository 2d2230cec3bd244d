//! What lint found in files: everything a renderer may know of it.

use crate::source::{At, Sources, words};

words! {
    /// How much a finding weighs.
    what "a severity";
    pub enum Severity {
        /// It fails the run.
        Error = "error",
        /// It should be looked at; fails the run with `--strict`.
        Warning = "warning",
        /// Good to know.
        Note = "note",
        /// It is not told at all.
        Off = "off",
    }
}

/// One thing found in a file.
#[derive(Debug, Clone, PartialEq)]
pub struct LintFinding {
    /// Its code: a requirement's id, a check of the file's own, or the code of a mistake.
    pub code: String,
    /// What the code stands for, in a few words.
    pub title: String,
    /// The rule set it comes from; none for checks of the file itself.
    pub rule_set: Option<String>,
    /// How much it weighs.
    pub severity: Severity,
    /// Where.
    pub at: At,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub instead: String,
    /// Other places that matter, each with a note.
    pub related: Vec<(At, String)>,
    /// The reason its line gives for letting it pass.
    pub let_pass: Option<String>,
    /// Whether it was there before, by the baseline.
    pub known: bool,
    /// Whether the file could not be used for it.
    pub unusable: bool,
}

impl LintFinding {
    /// What stays the same when lines move: file, code and what it is about.
    #[must_use]
    pub fn key(&self) -> String {
        // Figures change with the pattern; what stands in backticks names the channel.
        let names: Vec<&str> = self.message.split('`').skip(1).step_by(2).collect();
        format!("{}#{}#{}", self.at.file, self.code, names.join(","))
    }

    /// Whether it still counts.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.let_pass.is_none() && !self.known
    }

    /// Whether it makes the run fail; where the run is strict, a warning does.
    #[must_use]
    pub fn fails(&self, strict: bool) -> bool {
        self.counts() && (self.severity == Severity::Error || strict && self.severity == Severity::Warning)
    }
}

/// A file and what was found in it.
#[derive(Debug, Clone, Default)]
pub struct LintedFile {
    /// The file.
    pub path: String,
    /// The rule sets its channels were held against.
    pub rule_sets: Vec<String>,
    /// What was found, by place.
    pub findings: Vec<LintFinding>,
    /// The texts its findings speak of; empty where there are none.
    pub sources: Sources,
}

/// What was found in all files.
#[derive(Debug, Clone, Default)]
pub struct LintReport {
    /// The files, sorted by path.
    pub files: Vec<LintedFile>,
    /// Files in the folders that are none of this program's.
    pub passed_over: usize,
    /// Whether a baseline told what was there before.
    pub has_baseline: bool,
    /// Whether a warning fails, too.
    pub strict: bool,
    /// The settings file that says what codes weigh, where there is one.
    pub settings: Option<String>,
}

impl LintReport {
    /// Everything found, file by file.
    pub fn findings(&self) -> impl Iterator<Item = &LintFinding> {
        self.files.iter().flat_map(|f| &f.findings)
    }

    /// How many findings of a weight count.
    #[must_use]
    pub fn count(&self, severity: Severity) -> usize {
        self.findings().filter(|f| f.severity == severity && f.counts()).count()
    }

    /// Whether something found makes the run fail.
    #[must_use]
    pub fn fails(&self) -> bool {
        self.findings().any(|f| f.fails(self.strict))
    }

    /// Whether a file could not be used.
    #[must_use]
    pub fn unusable(&self) -> bool {
        self.findings().any(|f| f.unusable)
    }
}
