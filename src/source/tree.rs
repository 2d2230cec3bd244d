//! YAML text to a tree in which every key and value knows its place.

use super::diagnostic::{Code, Sink};
use super::place::At;
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_saphyr::{DuplicateKeyPolicy, Location, MergeKeyPolicy, Options, Spanned};
use std::fmt;
use std::sync::Arc;

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

/// A value before its place is turned into file terms.
enum Raw {
    Text(String),
    Plain(Kind),
    List(Vec<Spanned<Raw>>),
    Map(Vec<(Spanned<String>, Spanned<Raw>)>),
}

impl<'de> Deserialize<'de> for Raw {
    fn deserialize<D: Deserializer<'de>>(input: D) -> Result<Self, D::Error> {
        input.deserialize_any(RawVisitor)
    }
}

struct RawVisitor;

impl<'de> Visitor<'de> for RawVisitor {
    type Value = Raw;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }
    fn visit_str<E>(self, text: &str) -> Result<Raw, E> {
        Ok(Raw::Text(text.to_string()))
    }
    fn visit_bool<E>(self, _: bool) -> Result<Raw, E> {
        Ok(Raw::Plain(Kind::Truth))
    }
    fn visit_i64<E>(self, _: i64) -> Result<Raw, E> {
        Ok(Raw::Plain(Kind::Number))
    }
    fn visit_u64<E>(self, _: u64) -> Result<Raw, E> {
        Ok(Raw::Plain(Kind::Number))
    }
    fn visit_i128<E>(self, _: i128) -> Result<Raw, E> {
        Ok(Raw::Plain(Kind::Number))
    }
    fn visit_u128<E>(self, _: u128) -> Result<Raw, E> {
        Ok(Raw::Plain(Kind::Number))
    }
    fn visit_f64<E>(self, _: f64) -> Result<Raw, E> {
        Ok(Raw::Plain(Kind::Number))
    }
    fn visit_unit<E>(self) -> Result<Raw, E> {
        Ok(Raw::Plain(Kind::Null))
    }
    fn visit_none<E>(self) -> Result<Raw, E> {
        Ok(Raw::Plain(Kind::Null))
    }
    fn visit_some<D: Deserializer<'de>>(self, input: D) -> Result<Raw, D::Error> {
        input.deserialize_any(self)
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut access: A) -> Result<Raw, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = access.next_element()? {
            items.push(item);
        }
        Ok(Raw::List(items))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Raw, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = access.next_entry()? {
            entries.push(entry);
        }
        Ok(Raw::Map(entries))
    }
}

/// Turns raw locations into places in one file.
struct Placer<'a> {
    file: Arc<str>,
    text: &'a str,
}

impl Placer<'_> {
    fn at(&self, location: Location) -> At {
        let span = location.span();
        let offset = span.byte_offset().and_then(|o| usize::try_from(o).ok()).unwrap_or(0).min(self.text.len());
        let length = span.byte_len().and_then(|l| usize::try_from(l).ok()).unwrap_or(0);
        At {
            file: self.file.clone(),
            line: u32::try_from(location.line()).unwrap_or(u32::MAX),
            column: u32::try_from(location.column()).unwrap_or(u32::MAX),
            offset,
            length: length.min(self.text.len() - offset),
        }
    }

    /// The place an error tells only in its text: `… at line 104, column 22`.
    fn told_in(&self, message: &str) -> Option<At> {
        let (_, rest) = message.split_once("line ")?;
        let (line, rest) = rest.split_once(", column ")?;
        let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
        let (line, column): (u32, u32) = (line.parse().ok()?, digits.parse().ok()?);
        let before = self.text.split_inclusive('\n').take(usize::try_from(line).ok()?.checked_sub(1)?);
        let start: usize = before.map(str::len).sum();
        let here = self.text.get(start..)?.lines().next().unwrap_or("");
        let within: usize =
            here.chars().take(usize::try_from(column).ok()?.saturating_sub(1)).map(char::len_utf8).sum();
        Some(At { file: self.file.clone(), line, column, offset: start + within, length: 0 })
    }

    /// The first tab of a place's line.
    fn first_tab(&self, at: &At) -> Option<At> {
        let before = self.text.split_inclusive('\n').take(usize::try_from(at.line).ok()?.checked_sub(1)?);
        let start: usize = before.map(str::len).sum();
        let line = self.text.get(start..)?.lines().next()?;
        let tab = line.find('\t')?;
        let column = u32::try_from(line.get(..tab)?.chars().count() + 1).ok()?;
        Some(At { file: self.file.clone(), line: at.line, column, offset: start + tab, length: 1 })
    }

    fn node(&self, raw: Spanned<Raw>) -> Node {
        let at = self.at(raw.referenced);
        match raw.value {
            Raw::Text(text) => Node::Scalar { text, kind: Kind::Text, at },
            Raw::Plain(kind) => {
                let defined = self.at(raw.defined);
                let text = self.text.get(defined.offset..defined.offset + defined.length).unwrap_or("");
                Node::Scalar { text: text.trim().to_string(), kind, at }
            }
            Raw::List(items) => Node::List { items: items.into_iter().map(|i| self.node(i)).collect(), at },
            Raw::Map(entries) => Node::Map {
                entries: entries.into_iter().map(|(k, v)| (k.value, self.at(k.referenced), self.node(v))).collect(),
                at,
            },
        }
    }
}

fn options() -> Options {
    serde_saphyr::options! {
        strict_booleans: true,
        duplicate_keys: DuplicateKeyPolicy::PassThrough,
        merge_keys: MergeKeyPolicy::AsOrdinary,
        with_snippet: false,
        // A value of a wrong kind is told where it is read, with what is wanted there.
        non_finite_float_policy: serde_saphyr::options::NonFiniteFloatPolicy::PassThrough,
        budget: serde_saphyr::budget! {
            max_depth: 32,
            max_nodes: 200_000,
            max_aliases: 1_000,
            max_documents: 1,
        },
        alias_limits: serde_saphyr::alias_limits! { max_total_replayed_events: 20_000 },
    }
}

/// What the reader's own terms mean, and what to write instead.
fn in_plain_words(error: &str) -> Option<(&'static str, &'static str)> {
    const KNOWN: &[(&str, &str, &str)] = &[
        ("tabs", "a tab stands where YAML wants spaces", "indent with spaces"),
        ("documents", "a second document starts here, and a file holds one", "keep one document; take the `---` away"),
        ("non-finite", "a figure must be a finite number, and `.nan` and `.inf` are none", "write a number"),
        ("depth", "lists and mappings stand too deep in each other here", "write it less deep; 32 levels are read"),
        ("recursion", "lists and mappings stand too deep in each other here", "write it less deep; 32 levels are read"),
        ("anchor", "an alias (`*name`) names no anchor", "write the value out instead of `*name`"),
        ("alias", "aliases (`*name`) repeat too much here", "write the values out instead of `*name`"),
        ("nodes", "the file holds more values than are read", "split it into several files"),
    ];
    let error = error.to_lowercase();
    KNOWN.iter().find(|(word, ..)| error.contains(word)).map(|(_, message, instead)| (*message, *instead))
}

/// Reads YAML text into a tree; `None` after saying why it cannot be read.
pub fn parse(file: &str, text: &str, sink: &mut Sink) -> Option<Node> {
    sink.sources.add(file, text);
    let placer = Placer { file: Arc::from(file), text };
    match serde_saphyr::from_str_with_options::<Spanned<Raw>>(text, options()) {
        // Comments alone are nothing, too.
        Ok(raw) if matches!(raw.value, Raw::Plain(Kind::Null)) => {
            let instead = "start with `lampwright new aircraft`, which prints a file to fill in";
            sink.say(Code::NotYaml, &At::start_of(file), "the file is empty", instead);
            None
        }
        Ok(raw) => Some(placer.node(raw)),
        Err(error) => {
            let whole = error.without_snippet().to_string();
            let at = error.location().map(|l| placer.at(l)).filter(|at| at.is_real() && at.offset > 0);
            let at = at.or_else(|| placer.told_in(&whole)).unwrap_or_else(|| At::start_of(file));
            let first = whole.lines().next().unwrap_or("it cannot be read").trim_start_matches("error: ");
            let first = first.split(" at line ").next().unwrap_or(first).to_string();
            let at = if first.contains("tabs") { placer.first_tab(&at).unwrap_or(at) } else { at };
            let (message, instead) = if let Some(told) = in_plain_words(&first) {
                (told.0.to_string(), told.1)
            } else if text.trim().is_empty() {
                (
                    "the file is empty".to_string(),
                    "start with `lampwright new aircraft`, which prints a file to fill in",
                )
            } else {
                (
                    format!("this is not YAML that can be read: {first}"),
                    "check the indentation, the quotes and the brackets around here; words with `:` or `#` need quotes",
                )
            };
            sink.say(Code::NotYaml, &at, message, instead);
            None
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_value_knows_its_place() {
        let mut sink = Sink::new();
        let node = parse("a.yaml", "a: 1.50\nb: [x, \"y z\"]\nc: {d: ~}\n", &mut sink).expect("reads");
        let Some(Node::Scalar { text, kind, at }) = node.get("a") else { panic!("scalar") };
        assert_eq!(
            (text.as_str(), *kind, at.line, at.column, at.offset, at.length),
            ("1.50", Kind::Number, 1, 4, 3, 4)
        );
        let Some(Node::List { items, .. }) = node.get("b") else { panic!("list") };
        assert_eq!(items[1].at().column, 8);
        assert!(matches!(&items[1], Node::Scalar { text, .. } if text == "y z"));
        assert!(matches!(node.get("c").and_then(|c| c.get("d")), Some(Node::Scalar { kind: Kind::Null, .. })));
    }

    #[test]
    fn words_of_yaml_1_1_stay_words() {
        let mut sink = Sink::new();
        let node = parse("a.yaml", "a: on\nb: no\n", &mut sink).expect("reads");
        assert!(matches!(node.get("a"), Some(Node::Scalar { text, kind: Kind::Text, .. }) if text == "on"));
    }

    #[test]
    fn hostile_files_are_refused_with_a_place() {
        let deep = "[".repeat(100_000);
        let nested: String = (0..200).map(|i| format!("{}a:\n", " ".repeat(i))).collect();
        let bomb = "a: &a [x,x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b,*b]\nd: &d [*c,*c,*c,*c,*c,*c,*c,*c,*c,*c]\ne: [*d,*d,*d,*d,*d,*d,*d,*d,*d,*d]\n".to_string();
        for text in [deep, nested, bomb, "a: [".into(), "a: \"x".into(), String::new()] {
            let mut sink = Sink::new();
            let parsed = parse("a.yaml", &text, &mut sink);
            assert!(parsed.is_none() && sink.count() == 1, "{:.40}", text);
        }
    }
}
