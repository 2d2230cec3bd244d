//! YAML text to a tree, from a parser's events: a place for every key and value, limits on everything that grows.

use super::diagnostic::{Code, Sink};
use super::place::At;
use super::tree::{Kind, Node};
use granit_parser::{ErrorKind, Event, Marker, Options, Parser, ScalarStyle, ScanError, Span, StrInput, Tag};
use std::collections::HashMap;
use std::sync::Arc;

/// Lists and mappings in each other.
const DEEPEST: usize = 32;
/// Values in a file, what stands under an anchor counted once more.
const MOST_VALUES: usize = 200_000;
/// Aliases in a file.
const MOST_ALIASES: usize = 1_000;
/// Values that aliases repeat.
const MOST_REPEATED: usize = 20_000;

/// Why a text is no tree.
struct Refused {
    at: At,
    message: String,
    instead: &'static str,
}

/// A list or mapping whose end is not yet read.
struct Open {
    what: Container,
    at: At,
    anchor: usize,
    /// Values counted before it.
    before: usize,
}

enum Container {
    List(Vec<Node>),
    Map { entries: Vec<(String, At, Node)>, key: Option<(String, At)> },
}

/// What stands under an anchor, and how many values that is.
struct Anchored {
    node: Node,
    values: usize,
}

/// A tree being built from events.
struct Builder<'a> {
    file: Arc<str>,
    text: &'a str,
    open: Vec<Open>,
    root: Option<Node>,
    anchored: HashMap<usize, Anchored>,
    values: usize,
    aliases: usize,
    repeated: usize,
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

impl<'a> Builder<'a> {
    fn new(file: &str, text: &'a str) -> Self {
        let (open, anchored) = (Vec::new(), HashMap::new());
        Self { file: Arc::from(file), text, open, root: None, anchored, values: 0, aliases: 0, repeated: 0 }
    }

    fn place(&self, start: Marker, length: usize) -> At {
        let offset = start.byte_offset().unwrap_or(0).min(self.text.len());
        let length = length.min(self.text.len() - offset);
        At { file: self.file.clone(), line: count(start.line()), column: count(start.col() + 1), offset, length }
    }

    fn at(&self, span: &Span) -> At {
        self.place(span.start, span.byte_range().map_or(0, |range| range.len()))
    }

    fn refuse(at: At, message: impl Into<String>, instead: &'static str) -> Refused {
        Refused { at, message: message.into(), instead }
    }

    /// Takes an event; the tree is whole at the stream's end.
    fn take(&mut self, event: Event, span: &Span) -> Result<(), Refused> {
        match event {
            Event::DocumentStart(..) if self.root.is_some() => Err(Self::refuse(
                self.at(span),
                "a second document starts here, and a file holds one",
                "keep one document; take the `---` away",
            )),
            Event::Scalar(text, style, anchor, tag) => {
                let kind = self.tagged(tag.as_deref(), span)?.unwrap_or_else(|| kind(&text, style));
                // For a value left out the parser gives `~`.
                let text = if span.is_empty() { String::new() } else { text.into_owned() };
                let node = Node::Scalar { text, kind, at: self.at(span) };
                self.count_values(1, span)?;
                self.keep(anchor, &node, 1, span)?;
                self.put(node)
            }
            Event::SequenceStart(_, anchor, tag) => {
                self.start(Container::List(Vec::new()), anchor, tag.as_deref(), span)
            }
            Event::MappingStart(_, anchor, tag) => {
                self.start(Container::Map { entries: Vec::new(), key: None }, anchor, tag.as_deref(), span)
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(span),
            Event::Alias(id) => self.repeat(id, span),
            _ => Ok(()),
        }
    }

    /// What a tag makes of a scalar: `!!str` and `!` words; any other tag is no part of these files.
    fn tagged(&self, tag: Option<&Tag>, span: &Span) -> Result<Option<Kind>, Refused> {
        let Some(tag) = tag else { return Ok(None) };
        if tag.is_yaml_core_schema_tag("str") || tag.original() == "!" {
            return Ok(Some(Kind::Text));
        }
        let at = span.tag_span().map_or_else(|| self.at(span), |span| self.at(&span));
        let message =
            format!("a tag, `{}`, says here what kind of value follows, and tags are not read", tag.original());
        Err(Self::refuse(at, message, "take the tag away; quote what is a word and looks like a number"))
    }

    fn start(&mut self, what: Container, anchor: usize, tag: Option<&Tag>, span: &Span) -> Result<(), Refused> {
        if self.open.len() == DEEPEST {
            return Err(too_deep(self.at(span)));
        }
        if let Some(tag) = tag.filter(|t| !t.is_yaml_core_schema_tag("seq") && !t.is_yaml_core_schema_tag("map")) {
            self.tagged(Some(tag), span)?;
        }
        let before = self.values;
        self.count_values(1, span)?;
        self.open.push(Open { what, at: self.at(span), anchor, before });
        Ok(())
    }

    fn end(&mut self, span: &Span) -> Result<(), Refused> {
        let Some(Open { what, at, anchor, before }) = self.open.pop() else { return Ok(()) };
        let node = match what {
            Container::List(items) => Node::List { items, at },
            Container::Map { entries, .. } => Node::Map { entries, at },
        };
        let values = self.values - before;
        self.keep(anchor, &node, values, span)?;
        self.put(node)
    }

    /// Puts a value where it stands: the root, an item, a key, or a key's value.
    fn put(&mut self, node: Node) -> Result<(), Refused> {
        match self.open.last_mut().map(|open| &mut open.what) {
            None => self.root = Some(node),
            Some(Container::List(items)) => items.push(node),
            Some(Container::Map { entries, key }) => match (key.take(), node) {
                (Some((name, at)), node) => entries.push((name, at, node)),
                (None, Node::Scalar { text, at, kind }) if kind != Kind::Null => *key = Some((text, at)),
                (None, node) => {
                    let message = format!("a key must be a word, and {} stands here", node.what());
                    return Err(Self::refuse(node.at().clone(), message, "write a word before the `:`"));
                }
            },
        }
        Ok(())
    }

    fn count_values(&mut self, values: usize, span: &Span) -> Result<(), Refused> {
        self.values += values;
        if self.values > MOST_VALUES {
            let message = "the file holds more values than are read";
            return Err(Self::refuse(self.at(span), message, "split it into several files"));
        }
        Ok(())
    }

    /// Keeps what an anchor names. A copy is as large as what it copies, and anchors stand in anchors.
    fn keep(&mut self, anchor: usize, node: &Node, values: usize, span: &Span) -> Result<(), Refused> {
        if anchor > 0 {
            self.count_values(values, span)?;
            self.anchored.insert(anchor, Anchored { node: node.clone(), values });
        }
        Ok(())
    }

    fn repeat(&mut self, id: usize, span: &Span) -> Result<(), Refused> {
        let at = self.at(span);
        let instead = "write the values out instead of `*name`";
        let Some(Anchored { node, values }) = self.anchored.get(&id) else {
            return Err(Self::refuse(at, "an alias (`*name`) stands inside what it repeats", instead));
        };
        self.aliases += 1;
        self.repeated += values;
        if self.aliases > MOST_ALIASES || self.repeated > MOST_REPEATED {
            return Err(Self::refuse(at, "aliases (`*name`) repeat too much here", instead));
        }
        let (mut node, values) = (node.clone(), *values);
        node.stand_at(&at);
        self.count_values(values, span)?;
        self.put(node)
    }

    /// What the parser could not read, in this program's words where they are clearer.
    fn unreadable(&self, error: &ScanError) -> Refused {
        let at = self.place(*error.marker(), 0);
        match error.kind() {
            ErrorKind::TabNotAllowed
            | ErrorKind::TabInBlockIndentation
            | ErrorKind::TabAtBlockScalarStart
            | ErrorKind::TabInIndentation
            | ErrorKind::TabInPlainScalar => {
                let at = self.first_tab(&at).unwrap_or(at);
                Self::refuse(at, "a tab stands where YAML wants spaces", "indent with spaces")
            }
            ErrorKind::RecursionLimitExceeded => too_deep(at),
            ErrorKind::UnknownAnchor => {
                Self::refuse(at, "an alias (`*name`) names no anchor", "write the value out instead of `*name`")
            }
            _ => Self::refuse(
                at,
                format!("this is not YAML that can be read: {}", error.info()),
                "check the indentation, the quotes and the brackets around here; words with `:` or `#` need quotes",
            ),
        }
    }

    /// The first tab of a place's line.
    fn first_tab(&self, at: &At) -> Option<At> {
        let start = self.text.get(..at.offset)?.rfind('\n').map_or(0, |newline| newline + 1);
        let line = self.text.get(start..)?.lines().next()?;
        let tab = line.find('\t')?;
        let column = count(line.get(..tab)?.chars().count() + 1);
        Some(At { column, offset: start + tab, length: 1, ..at.clone() })
    }
}

fn too_deep(at: At) -> Refused {
    Builder::refuse(
        at,
        "lists and mappings stand too deep in each other here",
        "write it less deep; 32 levels are read",
    )
}

/// What a scalar is by the core schema of YAML 1.2.2, section 10.3.2.
fn kind(text: &str, style: ScalarStyle) -> Kind {
    if style != ScalarStyle::Plain {
        return Kind::Text;
    }
    match text {
        "" | "~" | "null" | "Null" | "NULL" => Kind::Null,
        "true" | "True" | "TRUE" | "false" | "False" | "FALSE" => Kind::Truth,
        _ if is_number(text) => Kind::Number,
        _ => Kind::Text,
    }
}

fn is_number(text: &str) -> bool {
    let unsigned = text.strip_prefix(['+', '-']).unwrap_or(text);
    if matches!(unsigned, ".inf" | ".Inf" | ".INF") || matches!(text, ".nan" | ".NaN" | ".NAN") {
        return true;
    }
    if let Some(digits) = text.strip_prefix("0x") {
        return !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_hexdigit());
    }
    if let Some(digits) = text.strip_prefix("0o") {
        return !digits.is_empty() && digits.bytes().all(|b| matches!(b, b'0'..=b'7'));
    }
    // `inf` and `nan` are words, and Rust would take them.
    unsigned.starts_with(|c: char| c.is_ascii_digit() || c == '.') && unsigned.parse::<f64>().is_ok()
}

/// The events of a text, comments aside.
pub(super) fn parser(text: &str) -> Parser<'_, StrInput<'_>> {
    let mut options = Options::default();
    options.set_emit_comments(false);
    Parser::new_from_str_with_options(text, options)
}

fn read(file: &str, text: &str) -> Result<Option<Node>, Refused> {
    let mut builder = Builder::new(file, text);
    for event in parser(text) {
        let (event, span) = event.map_err(|error| builder.unreadable(&error))?;
        builder.take(event, &span)?;
    }
    Ok(builder.root)
}

/// Reads YAML text into a tree; `None` after saying why it cannot be read.
pub fn parse(file: &str, text: &str, sink: &mut Sink) -> Option<Node> {
    sink.sources.add(file, text);
    match read(file, text) {
        // Comments alone are nothing, too.
        Ok(None | Some(Node::Scalar { kind: Kind::Null, .. })) => {
            let instead = "start with `lampwright new aircraft`, which prints a file to fill in";
            sink.say(Code::NotYaml, &At::start_of(file), "the file is empty", instead);
            None
        }
        Ok(root) => root,
        Err(Refused { at, message, instead }) => {
            sink.say(Code::NotYaml, &at, message, instead);
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

    /// YAML 1.2.2, section 10.3.2, tag resolution of the core schema, and its example 10.9.
    #[test]
    fn scalars_are_what_the_core_schema_says() {
        let of = |word: &str| kind(word, ScalarStyle::Plain);
        for word in
            ["0", "0o7", "0x3A", "-19", "0.", "-0.0", ".5", "+12e03", "-2E+05", ".inf", "-.Inf", "+.INF", ".NAN"]
        {
            assert_eq!(of(word), Kind::Number, "{word}");
        }
        for word in ["true", "True", "false", "FALSE"] {
            assert_eq!(of(word), Kind::Truth, "{word}");
        }
        for word in ["", "~", "null", "Null", "NULL"] {
            assert_eq!(of(word), Kind::Null, "{word}");
        }
        for word in ["inf", "nan", "infinity", "1_000", "0x", "-0x1F", "1e", ".", "-", "-.nan", "1.2.3", "nULL", "yes"]
        {
            assert_eq!(of(word), Kind::Text, "{word}");
        }
        assert_eq!(kind("5", ScalarStyle::DoubleQuoted), Kind::Text);
    }

    #[test]
    fn what_an_alias_repeats_stands_where_it_is_repeated() {
        let mut sink = Sink::new();
        let node = parse("a.yaml", "a: &x {p: 1}\nb: *x\n", &mut sink).expect("reads");
        let p = node.get("b").and_then(|b| b.get("p")).expect("repeated");
        assert_eq!((p.at().line, p.at().column), (2, 4));
    }

    #[test]
    fn tags_keys_of_no_word_and_aliases_of_themselves_are_told() {
        for (text, column, word) in [
            ("a: !foo 5\n", 4, "!foo"),
            ("a: !!int \"5\"\n", 4, "!!int"),
            ("a: !foo [1]\n", 4, "!foo"),
            ("? [a]\n: b\n", 3, "a list"),
            ("{~: 3}\n", 2, "nothing"),
            ("a: &x [*x]\n", 8, "inside what it repeats"),
        ] {
            let mut sink = Sink::new();
            assert!(parse("a.yaml", text, &mut sink).is_none(), "{text}");
            let told = sink.finish::<()>(None).expect_err("told").diagnostics;
            assert!(told.len() == 1 && told[0].at.column == column && told[0].message.contains(word), "{told:?}");
        }
        let mut sink = Sink::new();
        let node = parse("a.yaml", "a: !!str 5\nb: ! 6\n", &mut sink).expect("reads");
        assert!(matches!(node.get("a"), Some(Node::Scalar { kind: Kind::Text, .. })));
        assert!(matches!(node.get("b"), Some(Node::Scalar { kind: Kind::Text, .. })));
    }
}
