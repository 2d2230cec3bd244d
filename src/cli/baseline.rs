//! `--baseline FILE`: an earlier report whose findings fail no more.

use crate::report::{Baseline, Writer};
use crate::source::{Disk, Files};
use std::path::Path;

/// The most bytes of a baseline: a report of ten thousand files fits.
const MOST: u64 = 256 * 1024 * 1024;

/// Reads a baseline that a command wrote for itself.
pub(super) fn read(path: &Path, by: Writer) -> Result<Baseline, String> {
    let bytes = Disk.read(path, MOST).map_err(|e| e.to_string())?;
    let text = String::from_utf8(bytes).map_err(|_| format!("{}: it is no text in UTF-8", path.display()))?;
    let instead = format!("write one with `lampwright {by} … --format json --output FILE`");
    let baseline = Baseline::read(&text).map_err(|why| format!("{}: no baseline: {why}; {instead}", path.display()))?;
    match baseline.writer().filter(|writer| *writer != by) {
        Some(other) => Err(format!(
            "{}: `{other}` wrote this baseline, and `{by}` finds nothing of its own in it; {instead}",
            path.display()
        )),
        None => Ok(baseline),
    }
}
