//! The rule sets that come with the program.

use super::declared::SharedFile;
use super::figure::Figure;
use super::load::read;
use super::set::RuleSet;
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
    /// Reads the rule set.
    ///
    /// # Errors
    /// A mistake in the file; a test keeps bundled files free of them.
    pub fn read(self) -> Result<RuleSet, Rejected> {
        read(self.path, self.text, &shared_text)
    }
}

macro_rules! embedded {
    ($($path:literal),+ $(,)?) => { &[$(Bundled { path: $path, text: include_str!(concat!("../../", $path)) }),+] };
}

/// Every bundled rule set.
#[must_use]
pub fn bundled() -> &'static [Bundled] {
    embedded!["rules/us-car4b.yaml", "rules/us-14cfr25.yaml", "rules/own-realism.yaml", "rules/practice.yaml"]
}

const SHARED: &[Bundled] = embedded![
    "rules/shared/anti-collision.yaml",
    "rules/shared/aviation-colours.yaml",
    "rules/shared/position-lights.yaml",
    "rules/shared/readings.yaml",
];

/// The names of the bundled shared files.
pub(super) fn shared_names() -> impl Iterator<Item = &'static str> {
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
