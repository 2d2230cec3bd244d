//! Why a run cannot go on. A mistake inside a user's file is a diagnostic, a goal not reached is a verdict: neither is an error.

use std::path::PathBuf;

/// Why a run cannot go on.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// A file could not be read.
    #[error("cannot read `{}`: {why}", path.display())]
    Read {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        why: String,
    },
    /// A file is larger than the limit.
    #[error("`{}` is larger than {limit} bytes, the most that is read; split it", path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// The limit in bytes.
        limit: u64,
    },
    /// A file named inside another lies outside that file's folder.
    #[error("`{}` lies outside the folder of the file that names it; move it beside that file", path.display())]
    Outside {
        /// The path as written.
        path: PathBuf,
    },
    /// A file is not text in UTF-8.
    #[error("`{}` is not text in UTF-8 (byte {byte}); save it as UTF-8", path.display())]
    NotText {
        /// The file.
        path: PathBuf,
        /// The first byte that is not UTF-8.
        byte: usize,
    },
    /// No bundled rule set answers this craft.
    #[error("no rule set for this craft: {why}")]
    NoRuleSet {
        /// What was asked for and what is nearest.
        why: String,
    },
    /// A rule set that comes with the program has a mistake.
    #[error("{0}")]
    Bundled(String),
    /// A name given on the command line or in a call is not known.
    #[error("{0}")]
    Unknown(String),
    /// A file could not be written.
    #[error("cannot write `{}`: {why}", path.display())]
    Write {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        why: String,
    },
}
