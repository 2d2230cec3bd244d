//! What a word on the bag means.

use crate::source::{Decode, Located, Named, Sink, Text, parse};
use std::sync::LazyLock;

static WORDS: LazyLock<Vec<(String, String)>> = LazyLock::new(|| {
    let mut sink = Sink::new();
    let words = parse("bag_words.yaml", include_str!("bag_words.yaml"), &mut sink)
        .and_then(|node| Named::<Located<Text>>::decode(&node, &mut sink));
    let words = words.map(|w| w.0).unwrap_or_default();
    words.into_iter().map(|(word, meaning)| (word.value, meaning.value.0)).collect()
});

/// The words whose meaning is known, with it.
#[must_use]
pub fn bag_words() -> &'static [(String, String)] {
    &WORDS
}

/// What a word on the bag means.
#[must_use]
pub fn bag_word(word: &str) -> Option<&'static str> {
    let plain = |w: &str| w.to_lowercase().replace([' ', '-'], "");
    bag_words().iter().find(|(known, _)| plain(known) == plain(word)).map(|(_, meaning)| meaning.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_is_read_and_every_reference_leads_somewhere() {
        let lines = include_str!("bag_words.yaml").lines().filter(|l| !l.starts_with('#')).count();
        assert_eq!(bag_words().len(), lines);
        for (_, meaning) in bag_words() {
            if let Some(other) = meaning.strip_prefix("See ") {
                assert!(bag_word(other.trim_end_matches('.')).is_some(), "{meaning}");
            }
        }
        assert!(bag_word("3w").is_some() && bag_word("Viewing-Angle").is_some());
    }
}
