//! The rule sets that come with the program.

use super::declared::SharedFile;
use super::figure::Figure;
use super::load::{read, read_head};
use super::set::{RuleHead, RuleSet};
use crate::source::{Decode, Rejected, Sink, parse};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// A bundled rule-set file.
#[derive(Debug, Clone, Copy)]
pub struct Bundled {
    /// Its path in the repository.
    pub path: &'static str,
    /// Its text.
    pub text: &'static str,
}

impl Bundled {
    /// Reads what the rule set says of itself.
    ///
    /// # Errors
    /// A mistake in the head of the file; a test keeps bundled files free of them.
    pub fn read_head(self) -> Result<RuleHead, Rejected> {
        read_head(self.path, self.text)
    }

    /// Reads the rule set.
    ///
    /// # Errors
    /// A mistake in the file; a test keeps bundled files free of them.
    pub fn read(self) -> Result<RuleSet, Rejected> {
        read(self.path, self.text, &shared_text)
    }
}

// `SETS` and `SHARED`: every file of rules/ and rules/shared/, listed by the build script.
include!(concat!(env!("OUT_DIR"), "/bundled.rs"));

/// Every bundled rule set.
#[must_use]
pub fn bundled() -> &'static [Bundled] {
    SETS
}

/// The names of the bundled shared files.
pub fn shared_names() -> impl Iterator<Item = &'static str> {
    SHARED.iter().filter_map(|s| s.path.strip_prefix("rules/shared/").and_then(|p| p.strip_suffix(".yaml")))
}

/// The text of a bundled shared file, by its name without folder and ending.
#[must_use]
pub fn shared_text(name: &str) -> Option<&'static str> {
    SHARED
        .iter()
        .find(|s| s.path.strip_prefix("rules/shared/").and_then(|p| p.strip_suffix(".yaml")) == Some(name))
        .map(|s| s.text)
}

/// The bundled readings, which hold where a rule set says nothing.
#[must_use]
pub fn default_readings() -> &'static BTreeMap<String, Figure> {
    static READINGS: LazyLock<BTreeMap<String, Figure>> = LazyLock::new(|| {
        let mut sink = Sink::new();
        let file = shared_text("readings")
            .and_then(|text| parse("rules/shared/readings.yaml", text, &mut sink))
            .and_then(|node| SharedFile::decode(&node, &mut sink));
        let named = file.map(|f| f.readings.0).unwrap_or_default();
        named.into_iter().map(|(name, figure)| (name.value, figure)).collect()
    });
    &READINGS
}
