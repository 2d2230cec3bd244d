//! What is wrong in a user's file: collected, sorted, each with its place and what to write instead.

use super::place::At;
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// What kind of mistake a diagnostic tells of; the text form is stable.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Code {
    /// The file is not YAML, or breaks a limit on its size or depth.
    NotYaml,
    /// The first key is missing, or names another kind of file.
    WrongHeader,
    /// The file is of a newer major version than this program reads.
    NewerVersion,
    /// A mapping was wanted and something else stands there, or the like.
    WrongShape,
    /// A key that is not known here.
    UnknownKey,
    /// A key that must be there.
    MissingKey,
    /// A key written twice.
    DuplicateKey,
    /// A value that cannot be read: no unit, wrong unit, unknown word.
    WrongValue,
    /// A name that nothing defines.
    UnknownName,
    /// Two values that cannot both hold.
    Contradiction,
    /// A file named in this one cannot be used.
    OtherFile,
    /// A value outside what is possible or allowed.
    OutOfRange,
}

impl Code {
    /// The stable text of the code.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::NotYaml => "not-yaml",
            Self::WrongHeader => "wrong-header",
            Self::NewerVersion => "newer-version",
            Self::WrongShape => "wrong-shape",
            Self::UnknownKey => "unknown-key",
            Self::MissingKey => "missing-key",
            Self::DuplicateKey => "duplicate-key",
            Self::WrongValue => "wrong-value",
            Self::UnknownName => "unknown-name",
            Self::Contradiction => "contradiction",
            Self::OtherFile => "other-file",
            Self::OutOfRange => "out-of-range",
        }
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// One mistake in a user's file.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnostic {
    /// What kind of mistake.
    pub code: Code,
    /// Where.
    pub at: At,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub instead: String,
    /// Other places that matter, each with a note.
    pub related: Vec<(At, String)>,
}

impl Diagnostic {
    /// A mistake at one place.
    pub fn new(code: Code, at: &At, message: impl Into<String>, instead: impl Into<String>) -> Self {
        Self { code, at: at.clone(), message: message.into(), instead: instead.into(), related: Vec::new() }
    }
    /// Adds another place that matters.
    #[must_use]
    pub fn related(mut self, at: &At, note: impl Into<String>) -> Self {
        self.related.push((at.clone(), note.into()));
        self
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {} [{}]; {}", self.at, self.message, self.code, self.instead)
    }
}

/// The texts of the files read, for showing the line a diagnostic speaks of.
#[derive(Debug, Clone, Default)]
pub struct Sources(BTreeMap<Arc<str>, Arc<str>>);

impl Sources {
    /// Remembers a file's text.
    pub fn add(&mut self, file: &str, text: &str) {
        self.0.insert(Arc::from(file), Arc::from(text));
    }
    /// A file's text, where it was read.
    #[must_use]
    pub fn text(&self, file: &str) -> Option<&str> {
        self.0.get(file).map(AsRef::as_ref)
    }
    /// Takes over what another remembers.
    pub fn take(&mut self, other: Self) {
        self.0.extend(other.0);
    }
}

/// Collects the mistakes of a run.
#[derive(Debug, Default)]
pub struct Sink {
    list: Vec<Diagnostic>,
    /// The texts read so far.
    pub sources: Sources,
}

impl Sink {
    /// Nothing found yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }
    /// Adds a mistake.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        self.list.push(diagnostic);
    }
    /// Adds a mistake at one place.
    pub fn say(&mut self, code: Code, at: &At, message: impl Into<String>, instead: impl Into<String>) {
        self.push(Diagnostic::new(code, at, message, instead));
    }
    /// How many so far.
    #[must_use]
    pub fn count(&self) -> usize {
        self.list.len()
    }
    /// The value if nothing was wrong, else all that was.
    ///
    /// # Errors
    /// Every mistake collected, sorted by place.
    pub fn finish<T>(self, value: Option<T>) -> Result<T, Rejected> {
        match value {
            Some(value) if self.list.is_empty() => Ok(value),
            Some(_) => Err(Rejected::new(self.list, self.sources)),
            None => {
                let mut list = self.list;
                if list.is_empty() {
                    let message = "this file could not be used, and the program failed to say why";
                    list.push(Diagnostic::new(
                        Code::WrongShape,
                        &At::nowhere(),
                        message,
                        "please report it with the file",
                    ));
                }
                Err(Rejected::new(list, self.sources))
            }
        }
    }
}

/// A file that cannot be used, with everything that is wrong in it.
#[derive(Debug, Clone)]
pub struct Rejected {
    /// The mistakes, sorted by place.
    pub diagnostics: Vec<Diagnostic>,
    sources: Sources,
}

impl Rejected {
    /// Sorts the mistakes by file, line and column.
    #[must_use]
    pub fn new(mut diagnostics: Vec<Diagnostic>, sources: Sources) -> Self {
        diagnostics.sort_by(|a, b| a.at.cmp(&b.at).then(a.code.cmp(&b.code)));
        diagnostics.dedup();
        Self { diagnostics, sources }
    }

    /// The texts the mistakes speak of.
    #[must_use]
    pub fn sources(&self) -> &Sources {
        &self.sources
    }

    /// The mistakes as text with the lines they speak of, with or without terminal colours.
    #[must_use]
    pub fn show(&self, colour: bool) -> String {
        let mut out = String::new();
        for d in &self.diagnostics {
            let shown = Shown {
                weight: Weight::Error,
                code: d.code.as_str(),
                message: &d.message,
                instead: &d.instead,
                at: &d.at,
                related: &d.related,
            };
            out.push_str(&shown.text(&self.sources, colour));
            out.push_str("\n\n");
        }
        let count = self.diagnostics.len();
        out.push_str(&format!("{count} {} to mend first\n", if count == 1 { "mistake" } else { "mistakes" }));
        out
    }
}

/// How much something shown weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weight {
    Error,
    Warning,
    Note,
}

/// Something said of a place in a file, with the line and a caret under it.
pub(crate) struct Shown<'a> {
    pub weight: Weight,
    pub code: &'a str,
    pub message: &'a str,
    pub instead: &'a str,
    pub at: &'a At,
    pub related: &'a [(At, String)],
}

impl<'a> Shown<'a> {
    /// As text, with or without terminal colours.
    pub fn text(&self, sources: &'a Sources, colour: bool) -> String {
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        // The renderer shows other control characters as pictures, and lets these of ISO 6429 pass, which begin commands.
        renderer.render(&[self.group(sources)]).replace(|c| matches!(c, '\u{80}'..='\u{9f}'), "\u{fffd}")
    }

    fn group(&self, sources: &'a Sources) -> annotate_snippets::Group<'a> {
        let level = match self.weight {
            Weight::Error => Level::ERROR,
            Weight::Warning => Level::WARNING,
            Weight::Note => Level::NOTE,
        };
        let mut group = annotate_snippets::Group::with_title(level.primary_title(self.message).id(self.code));
        match snippet(sources, self.at, AnnotationKind::Primary, None) {
            Some(snippet) => group = group.element(snippet),
            None => group = group.element(origin(self.at)),
        }
        for (at, note) in self.related {
            if let Some(snippet) = snippet(sources, at, AnnotationKind::Context, Some(note)) {
                group = group.element(snippet);
            }
        }
        if !self.instead.is_empty() {
            group = group.element(Level::HELP.message(folded(self.instead)));
        }
        group
    }
}

/// The room for help on a line of 80 columns, after the bar and `= help: `.
const HELP_WIDTH: usize = 68;

fn folded(text: &str) -> String {
    let options = textwrap::Options::new(HELP_WIDTH).break_words(false);
    textwrap::fill(text, options.word_splitter(textwrap::WordSplitter::NoHyphenation))
}

/// Bytes of a line that is shown; a longer one is only named.
const LONGEST_LINE: usize = 4096;

/// Where something stands, without its line.
fn origin(at: &At) -> annotate_snippets::Origin<'_> {
    let origin = annotate_snippets::Origin::path(at.file.as_ref());
    let number = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
    if at.is_real() { origin.line(number(at.line)).char_column(number(at.column)) } else { origin }
}

fn snippet<'a>(
    sources: &'a Sources,
    at: &'a At,
    kind: AnnotationKind,
    note: Option<&'a str>,
) -> Option<Snippet<'a, annotate_snippets::Annotation<'a>>> {
    let text = sources.text(&at.file)?;
    let offset = (0..=at.offset.min(text.len())).rev().find(|n| text.is_char_boundary(*n))?;
    // Its line alone: in a whole file every mistake would be looked for from the first line on.
    let before = text.get(..offset)?.rfind('\n').map_or(0, |newline| newline + 1);
    let line = text.get(before..)?.lines().next().unwrap_or_default();
    if line.len() > LONGEST_LINE {
        return None;
    }
    let start = (offset - before).min(line.len());
    let end = (start + at.length.max(1)).min(line.len());
    let end = (end..=line.len()).find(|e| line.is_char_boundary(*e))?;
    let mut annotation = kind.span(start..end);
    if let Some(note) = note {
        annotation = annotation.label(note);
    }
    let number = usize::try_from(at.line.max(1)).unwrap_or(usize::MAX);
    Some(Snippet::source(line).line_start(number).path(at.file.as_ref()).annotation(annotation))
}

impl fmt::Display for Rejected {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for diagnostic in &self.diagnostics {
            writeln!(f, "{diagnostic}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Rejected {}
