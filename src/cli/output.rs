//! Where output goes: the terminal, or a file that appears whole or not at all.

use super::Ended;
use crate::error::Error;
use std::io::{self, IsTerminal, Read, Write};
use std::path::Path;

/// Whether the output stream is a terminal that wants colour.
pub(super) fn colour_out() -> bool {
    anstream::AutoStream::choice(&io::stdout()) != anstream::ColorChoice::Never && io::stdout().is_terminal()
}

/// Whether the error stream is a terminal that wants colour.
pub(super) fn colour_err() -> bool {
    anstream::AutoStream::choice(&io::stderr()) != anstream::ColorChoice::Never && io::stderr().is_terminal()
}

/// Writes to the error stream; there is nowhere left to complain if that fails.
pub(super) fn complain(text: &str) {
    let _ = writeln!(io::stderr(), "{}", folded(text.trim_end()));
}

/// A long message of one line, at 80 columns; what has lines of its own stays as it is.
fn folded(text: &str) -> String {
    if text.contains('\n') || text.chars().count() < 200 {
        return text.to_string();
    }
    let options = textwrap::Options::new(80).break_words(false).word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(text, options)
}

/// Prints to the terminal, or ends with why not. A reader that stops early (`| head`) is no failure.
pub(super) fn print(text: &[u8], then: Ended) -> Ended {
    match io::stdout().write_all(text).and_then(|()| io::stdout().flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Ended::Failed(format!("cannot print: {error}")),
        _ => then,
    }
}

/// Whether a file that somebody wrote for this program stands there: no report may take its place.
fn is_input(path: &Path) -> bool {
    let mut start = [0; 64];
    let Ok(length) = std::fs::File::open(path).and_then(|mut file| file.read(&mut start)) else { return false };
    let text = String::from_utf8_lossy(start.get(..length).unwrap_or_default()).into_owned();
    text.trim_start_matches('\u{feff}').lines().any(|line| line.starts_with("lampwright:"))
}

/// Writes a file beside its name and renames it into place, so that a half-written one never stands there.
pub(super) fn write_file(path: &Path, bytes: &[u8]) -> Result<(), Error> {
    let cannot = |e: io::Error| Error::Write { path: path.into(), why: e.to_string() };
    let name = path.file_name().ok_or_else(|| Error::Write { path: path.into(), why: "it names no file".into() })?;
    if is_input(path) {
        let why = "there is a lampwright file of that name; name another file for the report".to_string();
        return Err(Error::Write { path: path.into(), why });
    }
    if let Some(folder) = path.parent().filter(|f| !f.as_os_str().is_empty() && !f.is_dir()) {
        return Err(Error::Write { path: path.into(), why: format!("there is no folder `{}`", folder.display()) });
    }
    let beside = path.with_file_name(format!(".{}.{}.part", name.to_string_lossy(), std::process::id()));
    let written = std::fs::File::create(&beside).and_then(|mut file| {
        file.write_all(bytes)?;
        file.sync_all()
    });
    let placed = written.and_then(|()| std::fs::rename(&beside, path));
    if placed.is_err() {
        // The part file may not exist; the first error is the one to tell.
        let _ = std::fs::remove_file(&beside);
    }
    placed.map_err(cannot)
}
