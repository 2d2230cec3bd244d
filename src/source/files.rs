//! Reading files: from disk, or from memory for tests and for hosts without a disk.

use crate::error::Error;
use std::collections::BTreeMap;
use std::io::Read;
use std::path::{Component, Path, PathBuf};

/// The most bytes read of any text file: 4 MiB, a hundred times the largest rule set.
pub const MAX_BYTES: u64 = 4 * 1024 * 1024;

/// Where files come from.
pub trait Files {
    /// Reads a file of at most `limit` bytes.
    ///
    /// # Errors
    /// The file cannot be read or is larger than `limit`.
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Error>;
}

/// The files of this machine.
#[derive(Debug, Clone, Copy, Default)]
pub struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Error> {
        let cannot = |e: std::io::Error| Error::Read { path: path.into(), why: e.to_string() };
        let file = std::fs::File::open(path).map_err(cannot)?;
        if file.metadata().map_err(cannot)?.is_dir() {
            return Err(Error::Read { path: path.into(), why: "it is a folder; name a file".into() });
        }
        let mut bytes = Vec::new();
        file.take(limit + 1).read_to_end(&mut bytes).map_err(cannot)?;
        if bytes.len() as u64 > limit {
            return Err(Error::TooLarge { path: path.into(), limit });
        }
        Ok(bytes)
    }
}

/// Files held in memory, by path.
#[derive(Debug, Clone, Default)]
pub struct Memory(BTreeMap<PathBuf, Vec<u8>>);

impl Memory {
    /// No files yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }
    /// Adds a file.
    #[must_use]
    pub fn with(mut self, path: impl Into<PathBuf>, bytes: impl Into<Vec<u8>>) -> Self {
        self.0.insert(path.into(), bytes.into());
        self
    }
}

impl Files for Memory {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Error> {
        let bytes =
            self.0.get(path).ok_or_else(|| Error::Read { path: path.into(), why: "there is no such file".into() })?;
        if bytes.len() as u64 > limit {
            return Err(Error::TooLarge { path: path.into(), limit });
        }
        Ok(bytes.clone())
    }
}

/// Reads a text file in UTF-8; a byte order mark is dropped.
///
/// # Errors
/// The file cannot be read, is larger than [`MAX_BYTES`], or is not UTF-8.
pub fn read_text(files: &dyn Files, path: &Path) -> Result<String, Error> {
    let bytes = files.read(path, MAX_BYTES)?;
    let text = String::from_utf8(bytes)
        .map_err(|e| Error::NotText { path: path.into(), byte: e.utf8_error().valid_up_to() })?;
    Ok(text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_string))
}

/// The path of a file named inside another: beside it or below, never outside its folder.
///
/// # Errors
/// An absolute path, or one that climbs out with `..`.
pub fn inside_folder(named_in: &Path, name: &str) -> Result<PathBuf, Error> {
    let path = Path::new(name);
    let plain = path.components().all(|c| matches!(c, Component::Normal(_) | Component::CurDir));
    if !plain || name.is_empty() {
        return Err(Error::Outside { path: path.into() });
    }
    let below: PathBuf = path.components().filter(|c| matches!(c, Component::Normal(_))).collect();
    Ok(named_in.parent().unwrap_or_else(|| Path::new("")).join(below))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_named_in_a_file_stay_in_its_folder() {
        let base = Path::new("fleet/merlewood.yaml");
        for named in ["lights.yaml", "./lights.yaml"] {
            assert_eq!(inside_folder(base, named).expect("beside").to_str(), Some("fleet/lights.yaml"));
        }
        for bad in ["../lights.yaml", "/etc/lights.yaml", "a/../../b", ""] {
            assert!(inside_folder(base, bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_large_file_is_refused_before_it_is_held() {
        let files = Memory::new().with("big", vec![b' '; 20]);
        assert!(matches!(files.read(Path::new("big"), 10), Err(Error::TooLarge { limit: 10, .. })));
    }
}
