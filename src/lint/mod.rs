//! Sequence and aircraft files looked at by themselves: what a rule set can tell from channels alone, and the file's own
//! quality.
//!
//! Goals are the rule set's, cut down to quantities that need no lamps; only what is about the file itself is written
//! here. The settings say what a code weighs; a comment on a line lets one finding pass, with a reason.

mod by_rules;
mod codes;
mod config;
mod let_pass;
mod quality;
mod ticks;
mod trace;

pub use codes::{ALL as OWN_CODES, OwnCode, own_code};
pub use config::{LintFile, Settings};
pub use trace::{Compared, Traced, TracedGoal, counted, trace};

use crate::aircraft::{self, Aircraft, Controller, read_sequence};
use crate::check::bundled_heads;
use crate::error::Error;
use crate::judge::Verdict;
use crate::report::{LintFinding, LintReport, LintedFile, Severity};
use crate::resolve::wanted;
use crate::rules::{Judges, RuleHead, RuleKind, RuleSet, bundled};
use crate::source::{At, Code, Diagnostic, Files, Rejected, Sources, first_entry, nearest, read_text};
use crate::spread::spread;
use by_rules::{Driven, Judged, answerable, judged, stand_in, words};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// The rule set for sequences that name none.
const ENVELOPE: &str = "sequence-envelope";
/// Common practice of sequences.
const PRACTICE: &str = "sequence-practice";

/// What lint holds files against: the bundled rule sets, cut down to what channels tell, each read when it is first wanted.
#[derive(Debug)]
pub struct Rules {
    heads: Vec<RuleHead>,
    sets: Vec<OnceLock<Result<RuleSet, String>>>,
}

impl Rules {
    /// The rule sets that come with the program.
    ///
    /// # Errors
    /// A mistake in a bundled file, which a test keeps free of any.
    pub fn bundled() -> Result<Self, Error> {
        let heads = bundled_heads().map_err(|rejected| Error::Bundled(rejected.show(false)))?;
        let sets = heads.iter().map(|_| OnceLock::new()).collect();
        let rules = Self { heads, sets };
        // What every file is held against must be there before the first.
        for id in [ENVELOPE, PRACTICE] {
            rules.set(id).ok_or_else(|| Error::Bundled(format!("the rule set `{id}` cannot be read")))?;
        }
        Ok(rules)
    }

    fn at(&self, n: usize) -> Option<&RuleSet> {
        let read = || {
            let file = bundled().get(n).ok_or_else(String::new)?;
            file.read().map(|set| answerable(&set)).map_err(|rejected| rejected.show(false))
        };
        self.sets.get(n)?.get_or_init(read).as_ref().ok()
    }

    /// A set by its id, cut down.
    fn set(&self, id: &str) -> Option<&RuleSet> {
        self.at(self.heads.iter().position(|head| head.id == id)?)
    }

    /// The codes their requirements can be told under.
    fn codes(&self) -> impl Iterator<Item = &str> {
        let sets = (0..self.heads.len()).filter_map(|n| self.at(n));
        sets.flat_map(|set| set.requirements.iter().map(|r| r.id.as_str()))
    }

    fn ids(&self) -> impl Iterator<Item = &str> {
        self.heads.iter().map(|head| head.id.as_str())
    }

    /// The sets for a sequence: the one it names or else the envelope, and common practice.
    fn for_sequence(&self, asked: Option<&str>) -> Vec<&RuleSet> {
        // A set that asks nothing of channels leaves a sequence to the envelope, and not to nothing.
        let named = asked.and_then(|id| self.set(id)).filter(|set| !set.requirements.is_empty());
        named.or_else(|| self.set(ENVELOPE)).into_iter().chain(self.set(PRACTICE)).collect()
    }

    /// The sets for a model: those that answer its craft, or else the envelope, and common practice.
    fn for_model(&self, model: &Aircraft) -> Vec<&RuleSet> {
        let fits = wanted(&model.craft, &self.heads, None).unwrap_or_default();
        let published = self.heads.iter().zip(fits).enumerate().filter(|(_, (head, fits))| {
            *fits && head.kind == RuleKind::Published && head.judges == Judges::FullSizeAppearance
        });
        let sets = published.filter_map(|(n, _)| self.at(n));
        let mut found: Vec<&RuleSet> = sets.filter(|s| !s.requirements.is_empty()).collect();
        if found.is_empty() {
            return self.for_sequence(None);
        }
        found.extend(self.set(PRACTICE));
        found
    }
}

/// What was found, before it is weighed.
#[derive(Debug, Clone)]
struct Found {
    code: String,
    title: String,
    rule_set: Option<String>,
    severity: Severity,
    at: At,
    /// Where the pattern itself stands, where that is elsewhere.
    pattern_at: Option<At>,
    message: String,
    instead: String,
    related: Vec<(At, String)>,
    let_pass: Option<String>,
    unusable: bool,
}

impl Found {
    fn own(code: &'static str, at: &At, message: String) -> Self {
        let known = own_code(code);
        Self {
            code: code.to_string(),
            title: known.map_or(String::new(), |c| c.about.to_string()),
            rule_set: None,
            severity: known.map_or(Severity::Warning, |c| c.severity),
            at: at.clone(),
            pattern_at: None,
            message,
            instead: known.map_or(String::new(), |c| c.to_mend.to_string()),
            related: Vec::new(),
            let_pass: None,
            unusable: false,
        }
    }

    fn beside(mut self, at: &At, note: &str) -> Self {
        self.related.push((at.clone(), note.to_string()));
        self
    }

    fn with_help(mut self, help: &str) -> Self {
        self.instead = help.to_string();
        self
    }

    /// Weighs no more than the goal of common practice it is about.
    fn weighs_as_practice(&mut self) {
        self.severity = Severity::Warning;
    }

    fn mistake(d: &Diagnostic) -> Self {
        Self {
            code: d.code.as_str().to_string(),
            title: "a mistake in the file".to_string(),
            rule_set: None,
            severity: Severity::Error,
            at: d.at.clone(),
            pattern_at: None,
            message: d.message.clone(),
            instead: d.instead.clone(),
            related: d.related.clone(),
            let_pass: None,
            unusable: true,
        }
    }

    fn weighed(self, settings: &Settings) -> LintFinding {
        // A file that cannot be used is an error whatever was set.
        let set = settings.severity.get(&self.code).copied().filter(|_| !self.unusable);
        LintFinding {
            severity: set.unwrap_or(self.severity),
            code: self.code,
            title: self.title,
            rule_set: self.rule_set,
            at: self.at,
            message: self.message,
            instead: self.instead,
            related: self.related,
            let_pass: self.let_pass,
            known: false,
            unusable: self.unusable,
        }
    }
}

/// What kind of file it is, by its first key; `None` for files of another program.
fn kind(text: &str) -> Option<String> {
    let first = first_entry(text).or_else(|| first_line(text))?;
    let (key, said) = first;
    (key == "lampwright").then(|| said.split_whitespace().next().unwrap_or("").to_string())
}

/// The same of a file that breaks off before its first value is read.
fn first_line(text: &str) -> Option<(String, String)> {
    let line = text.lines().map(str::trim).find(|l| !l.is_empty() && !l.starts_with(['#', '%']) && *l != "---")?;
    let (key, said) = line.split_once(':')?;
    let plain = |word: &str| word.trim().trim_matches(['"', '\'']).to_string();
    Some((plain(key), plain(said)))
}

/// A path to look at: one that was named, or one that was found in a folder.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Target {
    /// The file.
    pub path: PathBuf,
    /// Whether it was named: then it must be a file of this program.
    pub named: bool,
}

/// Looks at files, on every core; what is found stands in the order of the files.
#[must_use]
pub fn lint(files: &(dyn Files + Sync), targets: &[Target], rules: &Rules, settings: &Settings) -> LintReport {
    let looked: Vec<Option<LintedFile>> = spread(targets, |target| one(files, target, rules, settings));
    let passed_over = looked.iter().filter(|l| l.is_none()).count();
    let files = looked.into_iter().flatten().collect();
    LintReport { files, passed_over, settings: settings.file.clone(), ..LintReport::default() }
}

fn one(files: &(dyn Files + Sync), target: &Target, rules: &Rules, settings: &Settings) -> Option<LintedFile> {
    let path = target.path.display().to_string();
    let text = match read_text(files, &target.path) {
        Ok(text) => text,
        Err(error) => {
            let at = At { line: 0, ..At::start_of(&path) };
            let told = Diagnostic::new(Code::OtherFile, &at, error.to_string(), "");
            return Some(weighed(path, Looked::unusable(&[told], Sources::default()), settings));
        }
    };
    let looked = match kind(&text).as_deref() {
        Some("sequence") => sequence(&path, &text, rules, settings),
        Some("aircraft") => model(files, &target.path, rules),
        Some("rules" | "shared" | "lint") | None if !target.named => return None,
        _ => {
            let told = Diagnostic::new(
                Code::WrongHeader,
                &At::start_of(&path),
                "this is neither a sequence file nor an aircraft file",
                "begin it with `lampwright: sequence 1`; for a rule set use `lampwright rules check`",
            );
            let mut sources = Sources::default();
            sources.add(&path, &text);
            Looked::unusable(&[told], sources)
        }
    };
    let mut looked = looked;
    let_pass::apply(&path, &text, files, rules, &mut looked);
    if !looked.found.is_empty() {
        looked.sources.add(&path, &text);
    }
    Some(weighed(path, looked, settings))
}

/// What was found in a file, not yet weighed.
#[derive(Default)]
struct Looked {
    rule_sets: Vec<String>,
    found: Vec<Found>,
    sources: Sources,
}

impl Looked {
    fn unusable(told: &[Diagnostic], sources: Sources) -> Self {
        Self { rule_sets: Vec::new(), found: told.iter().map(Found::mistake).collect(), sources }
    }

    fn rejected(rejected: &Rejected) -> Self {
        Self::unusable(&rejected.diagnostics, rejected.sources().clone())
    }
}

fn weighed(path: String, looked: Looked, settings: &Settings) -> LintedFile {
    let mut findings: Vec<LintFinding> = looked.found.into_iter().map(|f| f.weighed(settings)).collect();
    findings.retain(|f| f.severity != Severity::Off);
    findings.sort_by(|a, b| (&a.at, &a.code, &a.message).cmp(&(&b.at, &b.code, &b.message)));
    LintedFile { path, rule_sets: looked.rule_sets, findings, sources: looked.sources }
}

fn sequence(path: &str, text: &str, rules: &Rules, settings: &Settings) -> Looked {
    let sequence = match read_sequence(path, text) {
        Ok(sequence) => sequence,
        Err(rejected) => return Looked::rejected(&rejected),
    };
    let asked = sequence.judge_by.as_ref().map(|j| j.value.as_str());
    if let Some(asked) = sequence.judge_by.as_ref().filter(|j| rules.set(&j.value).is_none()) {
        let instead = nearest(&asked.value, rules.ids()).map_or_else(
            || "`lampwright rules list` lists them".to_string(),
            |near| format!("did you mean `{near}`? `lampwright rules list` lists them"),
        );
        let message = format!("no rule set is called `{}`", asked.value);
        let told = Diagnostic::new(Code::UnknownName, &asked.at, message, instead);
        return Looked::unusable(&[told], Sources::default());
    }
    let sets = rules.for_sequence(asked.or(settings.judge_by.as_deref()));
    let driven: Vec<Driven<'_>> = sequence
        .channels
        .iter()
        .filter_map(|c| Some(Driven { channel: &c.channel, light: c.drives.as_ref()?.value, at: &c.pattern_at }))
        .collect();
    let mut found = times(&sets, &driven, &sequence.controller);
    quality::drives(&sequence, &mut found);
    Looked { rule_sets: sets.iter().map(|s| s.id.clone()).collect(), found, sources: Sources::default() }
}

fn model(files: &(dyn Files + Sync), path: &Path, rules: &Rules) -> Looked {
    let model = match aircraft::read(files, path) {
        Ok(Ok(model)) => model,
        Ok(Err(rejected)) => return Looked::rejected(&rejected),
        Err(error) => {
            let at = At { line: 0, ..At::start_of(&path.display().to_string()) };
            let told = Diagnostic::new(Code::OtherFile, &at, error.to_string(), "");
            return Looked::unusable(&[told], Sources::default());
        }
    };
    let sets = rules.for_model(&model);
    let driven: Vec<Driven<'_>> = model
        .lamps
        .iter()
        .filter(|lamp| lamp.required_by.is_none())
        .filter_map(|lamp| {
            let channel = model.channels.get(lamp.channel?)?;
            Some(Driven { channel, light: lamp.light, at: &lamp.places.pattern })
        })
        .collect();
    let mut found = times(&sets, &driven, &model.controller);
    for one in &mut found {
        let pattern = driven.iter().find(|d| *d.at == one.at).map(|d| &d.channel.pattern_at);
        one.pattern_at = pattern.filter(|at| at.is_real() && **at != one.at).cloned();
    }
    quality::names(&model, &mut found);
    // A channel of several lamps is told of once, wherever they stand.
    let mut told = BTreeSet::new();
    found.retain(|f| told.insert((f.code.clone(), f.message.clone())));
    Looked { rule_sets: sets.iter().map(|s| s.id.clone()).collect(), found, sources: Sources::default() }
}

/// The goals that are missed, and what the controller makes of the patterns.
fn times(sets: &[&RuleSet], driven: &[Driven<'_>], controller: &Controller) -> Vec<Found> {
    let model = stand_in(driven);
    let written: Vec<Judged<'_>> = judged(sets, &model, &|_| true);
    let missed = written.iter().filter(|j| j.verdict == Verdict::Missed);
    let mut found: Vec<Found> = missed.map(|j| of_goal(j, &model)).collect();
    quality::timing(sets, driven, &written, controller, &mut found);
    found
}

fn of_goal(j: &Judged<'_>, model: &Aircraft) -> Found {
    let blame = j.finding.as_ref().map_or_else(At::nowhere, |f| f.blame.clone());
    let to_meet = j.finding.as_ref().and_then(|f| f.to_meet.clone()).or_else(|| j.requirement.to_mend.clone());
    Found {
        code: j.requirement.id.clone(),
        title: j.requirement.title.clone(),
        rule_set: Some(j.set.id.clone()),
        severity: match j.requirement.kind {
            RuleKind::Published => Severity::Error,
            RuleKind::Own => Severity::Note,
            _ => Severity::Warning,
        },
        at: blame,
        pattern_at: None,
        message: words(j, model),
        instead: to_meet.unwrap_or_default(),
        related: Vec::new(),
        let_pass: None,
        unusable: false,
    }
}
