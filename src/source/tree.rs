//! A YAML file as a tree in which every key and value knows its place.

use super::diagnostic::{Code, Sink};
use super::place::At;

/// What a YAML scalar was written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Quoted, or a plain word.
    Text,
    /// A plain number.
    Number,
    /// `true` or `false`.
    Truth,
    /// Nothing, `~` or `null`.
    Null,
}

/// A value in a YAML file and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub enum Node {
    /// A scalar, as written.
    Scalar {
        /// The text, unquoted; for numbers the digits as written.
        text: String,
        /// What it was written as.
        kind: Kind,
        /// Where.
        at: At,
    },
    /// A sequence.
    List {
        /// Its items.
        items: Vec<Node>,
        /// Where it starts.
        at: At,
    },
    /// A mapping; a key written twice stands twice.
    Map {
        /// Keys and values in the order written.
        entries: Vec<(String, At, Node)>,
        /// Where it starts.
        at: At,
    },
}

impl Node {
    /// Where the value stands.
    #[must_use]
    pub fn at(&self) -> &At {
        match self {
            Self::Scalar { at, .. } | Self::List { at, .. } | Self::Map { at, .. } => at,
        }
    }
    /// Gives the value, and all in it, another place: where an alias repeats it.
    pub(super) fn stand_at(&mut self, place: &At) {
        match self {
            Self::Scalar { at, .. } => at.clone_from(place),
            Self::List { items, at } => {
                at.clone_from(place);
                items.iter_mut().for_each(|item| item.stand_at(place));
            }
            Self::Map { entries, at } => {
                at.clone_from(place);
                for (_, key, value) in entries {
                    key.clone_from(place);
                    value.stand_at(place);
                }
            }
        }
    }
    /// The value under a key of a mapping.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Self> {
        match self {
            Self::Map { entries, .. } => entries.iter().find(|(k, ..)| k == key).map(|(.., v)| v),
            _ => None,
        }
    }
    /// What stands here, in words for a message.
    #[must_use]
    pub fn what(&self) -> &'static str {
        match self {
            Self::Scalar { kind: Kind::Null, .. } => "nothing",
            Self::Scalar { kind: Kind::Number, .. } => "a number",
            Self::Scalar { .. } => "a word",
            Self::List { .. } => "a list",
            Self::Map { .. } => "a mapping",
        }
    }
}

/// Checks the first key, `lampwright: KIND MAJOR`; `None` after saying what is wrong with it.
pub fn header(node: &Node, kind: &str, sink: &mut Sink) -> Option<()> {
    let want = format!("lampwright: {kind} 1");
    if let Node::Scalar { kind: Kind::Null, at, .. } = node {
        let start = At::start_of(&at.file);
        sink.say(Code::WrongHeader, &start, "the file is empty", format!("start it with `{want}`"));
        return None;
    }
    let Node::Map { entries, at } = node else {
        let message = format!("a mapping was wanted here, and {} stands here", node.what());
        sink.say(Code::WrongShape, node.at(), message, format!("start the file with `{want}`"));
        return None;
    };
    let Some((key, key_at, value)) = entries.first() else {
        sink.say(Code::WrongHeader, at, "the file is empty", format!("start it with `{want}`"));
        return None;
    };
    let text = match value {
        Node::Scalar { text, .. } if key == "lampwright" => text.as_str(),
        _ => {
            sink.say(
                Code::WrongHeader,
                key_at,
                "the first key does not say what this file is",
                format!("write `{want}` as its first line"),
            );
            return None;
        }
    };
    let (found_kind, major) = text.rsplit_once(' ').unwrap_or((text, ""));
    if found_kind != kind {
        let message = format!("this says `{text}`, and a file of kind `{kind}` was wanted");
        sink.say(Code::WrongHeader, value.at(), message, format!("write `{want}`, or give a file of that kind"));
        return None;
    }
    match major.parse::<u32>() {
        Ok(1) => Some(()),
        Ok(newer) => {
            let message =
                format!("version {newer} of `{kind}` files is not known to this program, which reads version 1");
            sink.say(Code::NewerVersion, value.at(), message, "use a newer lampwright, or write the file as version 1");
            None
        }
        Err(_) => {
            sink.say(Code::WrongHeader, value.at(), format!("`{text}` has no version"), format!("write `{want}`"));
            None
        }
    }
}
