//! What a text tells before it is read as a tree: its first key with its value, and where its values stand.

use super::yaml::parser;
use granit_parser::Event;
use std::ops::Range;

fn events(text: &str) -> impl Iterator<Item = (Event<'_>, Option<Range<usize>>)> {
    parser(text).map_while(Result::ok).map(|(event, span)| (event, span.byte_range()))
}

/// The first key of a mapping and its value, where both are words; nothing further is read.
///
/// # Example
/// ```
/// use lampwright::source::first_entry;
/// // YAML 1.2.2, sections 6.6 and 7.3: a comment may be indented, and a key may be quoted.
/// let text = "  # lights of the tail\n\"lampwright\": sequence 1\n";
/// assert_eq!(first_entry(text), Some(("lampwright".to_string(), "sequence 1".to_string())));
/// ```
#[must_use]
pub fn first_entry(text: &str) -> Option<(String, String)> {
    let mut events = events(text).map(|(event, _)| event);
    events
        .by_ref()
        .find(|event| !matches!(event, Event::StreamStart | Event::DocumentStart(..)))
        .filter(|event| matches!(event, Event::MappingStart(..)))?;
    let mut word = || match events.next() {
        Some(Event::Scalar(text, ..)) => Some(text.into_owned()),
        _ => None,
    };
    Some((word()?, word()?))
}

/// Where values stand, as bytes, as far as the text can be read: what is in one of them is no comment.
#[must_use]
pub fn value_spans(text: &str) -> Vec<Range<usize>> {
    let values = events(text).filter(|(event, _)| matches!(event, Event::Scalar(..)));
    values.filter_map(|(_, span)| span).collect()
}
