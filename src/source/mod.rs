//! Files, positions and YAML: everything a user writes is read here, with line and column for every value.
//!
//! A file becomes a tree of [`Node`]s that know their place; `record!`, `choice!` and `words!` describe
//! the shapes a file may have and give each its decoder. A decoder reports every mistake it meets and goes on.

mod code_help;
mod comma;
mod decode;
mod diagnostic;
mod digest;
mod files;
pub mod formats;
mod peek;
mod place;
mod tree;
mod yaml;

pub use code_help::CodeHelp;
pub use decode::{Decode, Fields, Many, Named, Text, from_text, nearest, one_of};
pub(crate) use decode::{choice, record, text_decode, words};
pub use diagnostic::{Code, Diagnostic, Rejected, Sink, Sources};
pub(crate) use diagnostic::{Shown, Weight};
pub use digest::{Recorded, sha256};
pub use files::{Disk, Files, MAX_BYTES, Memory, inside_folder, read_text};
pub use peek::{first_entry, value_spans};
pub use place::{At, Located};
pub use tree::{Kind, Node, header};
pub use yaml::parse;
