//! What several targets assert.

use lampwright::source::{At, Node, Rejected};

/// A place is real and within its text, on whole characters.
pub fn within(text: &str, at: &At) {
    assert!(at.line >= 1 && at.column >= 1, "{at:?} is no place");
    assert!(text.get(at.offset..at.offset + at.length).is_some(), "{at:?} is no part of {} bytes", text.len());
}

/// A place is within its text, and line and column say the same as the offset.
pub fn stands_in(text: &str, at: &At) {
    within(text, at);
    // A carriage return alone ends a line to YAML and to nobody else.
    if !text.replace("\r\n", "").contains('\r') {
        let before = &text[..at.offset];
        let column = before.rsplit('\n').next().unwrap_or(before).chars().count() + 1;
        assert_eq!((at.line as usize, at.column as usize), (before.split('\n').count(), column), "{at:?}");
    }
}

/// Every place of a tree stands in its text.
pub fn tree_stands_in(text: &str, node: &Node) {
    stands_in(text, node.at());
    match node {
        Node::Scalar { .. } => {}
        Node::List { items, .. } => items.iter().for_each(|item| tree_stands_in(text, item)),
        Node::Map { entries, .. } => entries.iter().for_each(|(_, key, value)| {
            stands_in(text, key);
            tree_stands_in(text, value);
        }),
    }
}

/// Something was told, each mistake with a place in a text that was read, and all of it is fit for a terminal.
pub fn told(rejected: &Rejected, place: impl Fn(&str, &At)) {
    assert!(!rejected.diagnostics.is_empty());
    for told in &rejected.diagnostics {
        for at in std::iter::once(&told.at).chain(told.related.iter().map(|(at, _)| at)) {
            let text = rejected.sources().text(&at.file).unwrap_or_else(|| panic!("{told:?}: of no file"));
            place(text, at);
        }
        assert!(!told.message.is_empty() && !told.instead.is_empty(), "{told:?}");
    }
    let shown = rejected.show(false);
    assert!(!shown.contains(|c: char| c.is_control() && c != '\n'), "{shown:?}");
}
