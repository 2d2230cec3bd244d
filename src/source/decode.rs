//! From a tree to typed values, reporting every mistake on the way.

use super::comma;
use super::diagnostic::{Code, Diagnostic, Sink};
use super::place::{At, Located};
use super::tree::{Kind, Node};
use crate::units::UnitError;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::str::FromStr;

/// A value that can be read from a YAML node.
pub trait Decode: Sized {
    /// Reads the value; `None` after saying everything that is wrong with it.
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self>;
    /// What the value is where its key is absent; `None` where the key must be there.
    #[must_use]
    fn absent() -> Option<Self> {
        None
    }
}

/// Reads a scalar through its text form.
pub fn from_text<T: FromStr<Err = UnitError>>(node: &Node, sink: &mut Sink) -> Option<T> {
    let Node::Scalar { text, kind, at } = node else {
        sink.say(
            Code::WrongShape,
            node.at(),
            format!("{} stands where one value is wanted", node.what()),
            "write one value",
        );
        return None;
    };
    if *kind == Kind::Null {
        sink.say(Code::WrongValue, at, "there is no value here", "write one, or leave the key out");
        return None;
    }
    match text.parse() {
        Ok(value) => Some(value),
        Err(UnitError { what, instead }) => {
            sink.say(Code::WrongValue, at, what, instead);
            None
        }
    }
}

impl<T: Decode> Decode for Located<T> {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        Some(Self { value: T::decode(node, sink)?, at: node.at().clone() })
    }
}

impl<T: Decode> Decode for Option<T> {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        T::decode(node, sink).map(Some)
    }
    fn absent() -> Option<Self> {
        Some(None)
    }
}

impl<T: Decode> Decode for Box<T> {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        T::decode(node, sink).map(Self::new)
    }
}

impl<T: Decode> Decode for Vec<T> {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        let Node::List { items, .. } = node else {
            sink.say(
                Code::WrongShape,
                node.at(),
                format!("{} stands where a list is wanted", node.what()),
                "write a list: `[first, second]`",
            );
            return None;
        };
        let read: Vec<Option<T>> = items.iter().map(|item| T::decode(item, sink)).collect();
        read.into_iter().collect()
    }
    fn absent() -> Option<Self> {
        Some(Self::new())
    }
}

/// One value, or a list of them: `hides: inboard` is `hides: [inboard]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Many<T>(pub Vec<T>);

impl<T> Default for Many<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T: Decode> Decode for Many<T> {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        match node {
            Node::List { .. } => Vec::decode(node, sink).map(Self),
            _ => T::decode(node, sink).map(|one| Self(vec![one])),
        }
    }
    fn absent() -> Option<Self> {
        Some(Self::default())
    }
}

impl<T: schemars::JsonSchema> schemars::JsonSchema for Many<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("OneOrMore{}", T::schema_name()).into()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let one = generator.subschema_for::<T>();
        schemars::json_schema!({ "anyOf": [one, { "type": "array", "items": one }] })
    }
}

impl Decode for bool {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        match node {
            Node::Scalar { text, kind: Kind::Truth, .. } => Some(text.eq_ignore_ascii_case("true")),
            _ => {
                sink.say(Code::WrongValue, node.at(), "this is neither `true` nor `false`", "write `true` or `false`");
                None
            }
        }
    }
}

impl Decode for u32 {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        let read = match node {
            Node::Scalar { text, kind: Kind::Number, .. } => text.parse().ok(),
            _ => None,
        };
        if read.is_none() {
            sink.say(Code::WrongValue, node.at(), "this is not a whole number", "write a whole number like `2`");
        }
        read
    }
}

/// A text of one line or more, not empty.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Text(pub String);

impl std::ops::Deref for Text {
    type Target = str;
    fn deref(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for Text {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl FromStr for Text {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let text = text.trim();
        if text.is_empty() || text.chars().any(|c| c.is_control() && c != '\n' && c != '\t') {
            return Err(UnitError {
                what: "this text is empty or holds control characters".into(),
                instead: "write plain text".into(),
            });
        }
        Ok(Self(text.to_string()))
    }
}

impl schemars::JsonSchema for Text {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        "Text".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": ["string", "number"], "minLength": 1 })
    }
}

/// A mapping from names the user chooses to values, in the order written; then the names whose values could not be
/// read, so that one mistake does not hide those in other values, and using such a name is no second mistake.
#[derive(Debug, Clone, PartialEq)]
pub struct Named<T>(pub Vec<(Located<String>, T)>, pub Vec<String>);

impl<T> Default for Named<T> {
    fn default() -> Self {
        Self(Vec::new(), Vec::new())
    }
}

impl<T> Named<T> {
    /// The value of a name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&T> {
        self.0.iter().find(|(n, _)| n.value == name).map(|(_, v)| v)
    }
    /// The names in the order written.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(n, _)| n.value.as_str())
    }
}

impl<T: Decode> Decode for Named<T> {
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        let Node::Map { entries, .. } = node else {
            sink.say(
                Code::WrongShape,
                node.at(),
                format!("{} stands where names with values are wanted", node.what()),
                "write `name: value` lines",
            );
            return None;
        };
        no_duplicates(entries, sink);
        let before = sink.count();
        let mut read = Self::default();
        for (name, at, value) in entries {
            let named = name.parse::<Text>();
            if let Err(UnitError { what, instead }) = &named {
                sink.say(Code::WrongValue, at, what, instead);
            }
            match T::decode(value, sink).filter(|_| named.is_ok()) {
                Some(value) => read.0.push((Located { value: name.clone(), at: at.clone() }, value)),
                None => read.1.push(name.clone()),
            }
        }
        // What could not be read must have been told, or the whole is refused.
        (read.1.is_empty() || sink.count() > before).then_some(read)
    }
    fn absent() -> Option<Self> {
        Some(Self::default())
    }
}

impl<T: schemars::JsonSchema> schemars::JsonSchema for Named<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("Named{}", T::schema_name()).into()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let value = generator.subschema_for::<T>();
        schemars::json_schema!({ "type": "object", "additionalProperties": value })
    }
}

fn no_duplicates(entries: &[(String, At, Node)], sink: &mut Sink) {
    let mut seen: BTreeMap<&str, &At> = BTreeMap::new();
    for (n, (key, at, _)) in entries.iter().enumerate() {
        if comma::rest(entries, n).is_some() {
            continue;
        }
        if let Some(first) = seen.insert(key, at) {
            sink.push(
                Diagnostic::new(Code::DuplicateKey, at, format!("`{key}` stands here twice"), "keep one of the two")
                    .related(first, "first written here"),
            );
        }
    }
}

/// The fields of a mapping while they are read.
pub struct Fields<'a> {
    entries: &'a [(String, At, Node)],
    at: &'a At,
    known: &'static [&'static str],
    what: &'static str,
}

impl<'a> Fields<'a> {
    /// Opens a mapping whose keys must be among `known`; says which are not, and which stand twice.
    pub fn open(node: &'a Node, what: &'static str, known: &'static [&'static str], sink: &mut Sink) -> Option<Self> {
        let Node::Map { entries, at } = node else {
            let message = format!("{} stands where {what} is wanted", node.what());
            sink.say(Code::WrongShape, node.at(), message, format!("write a mapping with {}", one_of(known)));
            return None;
        };
        no_duplicates(entries, sink);
        for (n, (key, at, _)) in entries.iter().enumerate() {
            if let Some(number) = comma::rest(entries, n) {
                sink.say(Code::WrongValue, &number.at, number.message(), number.instead());
            } else if !known.contains(&key.as_str()) {
                let instead = match nearest(key, known.iter().copied()) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("known here: {}", one_of(known)),
                };
                sink.say(Code::UnknownKey, at, format!("`{key}` is not a key of {what}"), instead);
            }
        }
        Some(Self { entries, at, known, what })
    }

    /// Reads one field, or says that it is missing.
    pub fn take<T: Decode>(&self, key: &'static str, sink: &mut Sink) -> Option<T> {
        debug_assert!(self.known.contains(&key));
        match self.entries.iter().position(|(k, ..)| k == key).and_then(|n| Some((n, self.entries.get(n)?))) {
            // A number with a comma was told of when the mapping was opened.
            Some((n, _)) if comma::rest(self.entries, n + 1).is_some() => None,
            Some((_, (.., node))) => T::decode(node, sink),
            None => T::absent().or_else(|| {
                // A key that was most likely meant as this one has been told of already.
                if self.entries.iter().any(|(k, ..)| {
                    !self.known.contains(&k.as_str()) && nearest(k, self.known.iter().copied()) == Some(key)
                }) {
                    return None;
                }
                sink.say(
                    Code::MissingKey,
                    self.at,
                    format!("{} has no `{key}`", self.what),
                    format!("add a line `{key}: …`"),
                );
                None
            }),
        }
    }
}

/// The known word nearest to a misspelt one, where one is near enough.
pub fn nearest<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    known
        .map(|k| (strsim::jaro_winkler(&word, &k.to_lowercase()), k))
        .filter(|(score, _)| *score > 0.82)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, k)| k)
}

/// A list of words for a message: `a`, `b` or `c`.
#[must_use]
pub fn one_of(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|w| format!("`{w}`")).collect();
    match quoted.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}

/// `Decode` for types read through their text form.
macro_rules! text_decode {
    ($($name:ty),+ $(,)?) => { $(
        impl $crate::source::Decode for $name {
            fn decode(node: &$crate::source::Node, sink: &mut $crate::source::Sink) -> Option<Self> {
                $crate::source::from_text(node, sink)
            }
        }
    )+ };
}
pub(crate) use text_decode;

/// A mapping with fixed keys: the struct, its JSON Schema and its decoder.
macro_rules! record {
    (
        $(#[doc = $doc:literal])+
        what $what:literal;
        pub struct $name:ident { $( $(#[$field_meta:meta])* pub $field:ident: $ty:ty ),+ $(,)? }
    ) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, PartialEq, schemars::JsonSchema)]
        #[schemars(deny_unknown_fields)]
        pub struct $name { $( $(#[$field_meta])* pub $field: $ty ),+ }

        impl $crate::source::Decode for $name {
            fn decode(node: &$crate::source::Node, sink: &mut $crate::source::Sink) -> Option<Self> {
                let fields = $crate::source::Fields::open(node, $what, &[$(stringify!($field)),+], sink)?;
                $( let $field = fields.take::<$ty>(stringify!($field), sink); )+
                Some(Self { $( $field: $field? ),+ })
            }
        }
    };
}
pub(crate) use record;

/// One of several shapes, told by its only key: the enum, its JSON Schema and its decoder.
macro_rules! choice {
    (
        $(#[doc = $doc:literal])+
        what $what:literal;
        pub enum $name:ident { $( $(#[doc = $variant_doc:literal])+ $variant:ident($ty:ty) = $key:literal ),+ $(,)? }
    ) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, PartialEq, schemars::JsonSchema)]
        pub enum $name { $( $(#[doc = $variant_doc])+ #[schemars(rename = $key)] $variant($ty) ),+ }

        impl $crate::source::Decode for $name {
            fn decode(node: &$crate::source::Node, sink: &mut $crate::source::Sink) -> Option<Self> {
                const KEYS: &[&str] = &[$($key),+];
                let fields = $crate::source::Fields::open(node, $what, KEYS, sink)?;
                let key = fields.only(KEYS, sink)?;
                match key {
                    $( $key => fields.take::<$ty>($key, sink).map(Self::$variant), )+
                    _ => None,
                }
            }
        }
    };
}
pub(crate) use choice;

impl Fields<'_> {
    /// The only key that stands here, of a mapping that wants exactly one.
    pub fn only(&self, keys: &'static [&'static str], sink: &mut Sink) -> Option<&'static str> {
        let mut present = keys.iter().filter(|k| self.entries.iter().any(|(e, ..)| e == **k));
        match (present.next(), present.next()) {
            (Some(key), None) => Some(key),
            (None, _) => {
                if self.entries.iter().all(|(k, ..)| keys.contains(&k.as_str())) {
                    sink.say(
                        Code::MissingKey,
                        self.at,
                        format!("{} is empty", self.what),
                        format!("write one of {}", one_of(keys)),
                    );
                }
                None
            }
            (Some(a), Some(b)) => {
                let message = format!("{} takes one key, and both `{a}` and `{b}` stand here", self.what);
                sink.say(Code::Contradiction, self.at, message, "keep one of them");
                None
            }
        }
    }
}

/// A closed list of words: the enum, its text form, JSON Schema and decoder.
macro_rules! words {
    (
        $(#[doc = $doc:literal])+
        what $what:literal;
        pub enum $name:ident { $( $(#[doc = $variant_doc:literal])+ $variant:ident = $word:literal ),+ $(,)? }
    ) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, schemars::JsonSchema)]
        pub enum $name { $( $(#[doc = $variant_doc])+ #[schemars(rename = $word)] $variant ),+ }

        impl $name {
            /// The word as files write it.
            #[must_use]
            pub fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result { f.pad(self.as_str()) }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::units::UnitError;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                const WORDS: &[&str] = &[$($word),+];
                let text = text.trim();
                match text {
                    $( $word => Ok(Self::$variant), )+
                    _ => Err($crate::units::UnitError {
                        what: format!("`{text}` is not {}", $what),
                        instead: match $crate::source::nearest(text, WORDS.iter().copied()) {
                            Some(near) => format!("did you mean `{near}`? The words are {}", $crate::source::one_of(WORDS)),
                            None => format!("write {}", $crate::source::one_of(WORDS)),
                        },
                    }),
                }
            }
        }

        $crate::source::text_decode!($name);
    };
}
pub(crate) use words;

text_decode!(
    Text,
    crate::units::Intensity,
    crate::units::Flux,
    crate::units::Angle,
    crate::units::SolidAngle,
    crate::units::Length,
    crate::units::Wavelength,
    crate::units::Temperature,
    crate::units::Illuminance,
    crate::units::Current,
    crate::units::Mass,
    crate::units::Share,
    crate::units::Micros,
    crate::units::Rate,
    crate::units::Unspecified,
    crate::units::Azimuth,
    crate::units::Elevation,
);

impl<Q> Decode for crate::units::Range<Q>
where
    Q: crate::units::Quantity + PartialOrd + FromStr<Err = UnitError>,
{
    fn decode(node: &Node, sink: &mut Sink) -> Option<Self> {
        from_text(node, sink)
    }
}
