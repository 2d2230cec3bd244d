//! What tells one text from another: SHA-256 (FIPS 180-4), and which files were read.

use super::Files;
use crate::error::Error;
use sha2::{Digest, Sha256};
use std::path::Path;
use std::sync::{Mutex, PoisonError};

/// The SHA-256 of bytes, in hexadecimal.
///
/// # Example
/// ```
/// // FIPS 180-2, appendix B.1: the digest of "abc".
/// assert_eq!(
///     lampwright::source::sha256(b"abc"),
///     "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
/// );
/// ```
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Files with a record of which were read, and what they were.
pub struct Recorded<'a> {
    files: &'a dyn Files,
    read: Mutex<Vec<(String, String)>>,
}

impl<'a> Recorded<'a> {
    /// Over other files.
    #[must_use]
    pub fn new(files: &'a dyn Files) -> Self {
        Self { files, read: Mutex::new(Vec::new()) }
    }

    /// The files read so far with their SHA-256, each once, in the order of reading.
    #[must_use]
    pub fn into_read(self) -> Vec<(String, String)> {
        self.read.into_inner().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Files for Recorded<'_> {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Error> {
        let bytes = self.files.read(path, limit)?;
        let entry = (path.display().to_string(), sha256(&bytes));
        let mut read = self.read.lock().unwrap_or_else(PoisonError::into_inner);
        if !read.contains(&entry) {
            read.push(entry);
        }
        Ok(bytes)
    }
}
