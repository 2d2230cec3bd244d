//! `--baseline FILE`: an earlier report whose findings fail no more.

use crate::report::Baseline;
use crate::source::{Disk, Files};
use std::path::Path;

/// The most bytes of a baseline: a report of ten thousand files fits.
const MOST: u64 = 256 * 1024 * 1024;

pub(super) fn read(path: &Path) -> Result<Baseline, String> {
    let bytes = Disk.read(path, MOST).map_err(|e| e.to_string())?;
    let text = String::from_utf8(bytes).map_err(|_| format!("{}: it is no text in UTF-8", path.display()))?;
    let instead = "write one with `--format json --output FILE`";
    Baseline::read(&text).map_err(|why| format!("{}: no baseline: {why}; {instead}", path.display()))
}
