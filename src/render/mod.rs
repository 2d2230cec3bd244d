//! Reports as bytes: one file per format, and the list of them.

mod json;
mod junit;
mod markdown;
pub mod page;
mod parts;
mod plot;
mod sarif;
mod text;
mod words;

pub use json::{lint_schema, schema as report_schema};

use crate::report::{LintReport, Report};
use std::io::{self, Write};

/// An output format.
pub trait Render: Sync {
    /// The word that chooses it.
    fn name(&self) -> &'static str;
    /// Writes a report; `colour` only where the format has any and a terminal reads it.
    ///
    /// # Errors
    /// The writer's.
    fn write(&self, report: &Report, colour: bool, out: &mut dyn Write) -> io::Result<()>;
    /// Writes what lint found.
    ///
    /// # Errors
    /// The writer's.
    fn write_lint(&self, report: &LintReport, colour: bool, out: &mut dyn Write) -> io::Result<()>;
}

/// Every format, the usual one first.
pub static ALL: &[&dyn Render] = &[&text::PlainText, &json::Json, &sarif::Sarif, &junit::JUnit, &markdown::Markdown];

/// The format of a name.
#[must_use]
pub fn find(name: &str) -> Option<&'static dyn Render> {
    ALL.iter().copied().find(|r| r.name() == name)
}
