//! Where a value was written.

use std::fmt;
use std::sync::Arc;

/// A place in a file: line and column from 1, bytes from 0. Line 0 means "not from a file".
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct At {
    /// The file's name as the user gave it.
    pub file: Arc<str>,
    /// Line, from 1.
    pub line: u32,
    /// Column in characters, from 1.
    pub column: u32,
    /// Byte offset in the file.
    pub offset: usize,
    /// Length in bytes; 0 where only the start is known.
    pub length: usize,
}

impl At {
    /// The place of a value made in code, not read from a file.
    #[must_use]
    pub fn nowhere() -> Self {
        Self { file: Arc::from(""), line: 0, column: 0, offset: 0, length: 0 }
    }
    /// The first character of a file.
    #[must_use]
    pub fn start_of(file: &str) -> Self {
        Self { file: Arc::from(file), line: 1, column: 1, offset: 0, length: 0 }
    }
    /// The place of a byte of a one-line value written here; where the file writes the value otherwise, its start.
    #[must_use]
    pub fn inside(&self, source: &str, value: &str, offset: usize) -> Self {
        let written = source.get(self.offset..self.offset + self.length).unwrap_or_default();
        let Some(start) = written.find(value).filter(|_| !written.contains('\n')) else { return self.clone() };
        let Some(before) = written.get(..start + offset) else { return self.clone() };
        let column = self.column.saturating_add(u32::try_from(before.chars().count()).unwrap_or(u32::MAX));
        Self { column, offset: self.offset + before.len(), length: self.length - before.len(), ..self.clone() }
    }
    /// Whether it names a real place in a file.
    #[must_use]
    pub fn is_real(&self) -> bool {
        self.line > 0
    }
}

impl fmt::Display for At {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", self.file, self.line, self.column)
    }
}

/// A value and where it was written. Equality looks at the value alone.
#[derive(Debug, Clone)]
pub struct Located<T> {
    /// The value.
    pub value: T,
    /// Where it was written.
    pub at: At,
}

impl<T> Located<T> {
    /// A value made in code.
    pub fn in_code(value: T) -> Self {
        Self { value, at: At::nowhere() }
    }
}

impl<T> std::ops::Deref for Located<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}

impl<T: PartialEq> PartialEq for Located<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl<T: schemars::JsonSchema> schemars::JsonSchema for Located<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        T::schema_name()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        T::json_schema(generator)
    }
}
