//! What each code of a mistake means, with a line that is wrong and the line to write.

use super::diagnostic::Code;

/// What a code means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CodeHelp {
    /// What is wrong when it is told.
    pub about: &'static str,
    /// A line that is wrong so.
    pub wrong: &'static str,
    /// The line to write instead.
    pub right: &'static str,
}

impl Code {
    /// Every code.
    pub const ALL: [Self; 12] = [
        Self::NotYaml,
        Self::WrongHeader,
        Self::NewerVersion,
        Self::WrongShape,
        Self::UnknownKey,
        Self::MissingKey,
        Self::DuplicateKey,
        Self::WrongValue,
        Self::UnknownName,
        Self::Contradiction,
        Self::OtherFile,
        Self::OutOfRange,
    ];

    /// The code of a text form.
    #[must_use]
    pub fn find(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|code| code.as_str() == text)
    }

    /// What it means, with an example.
    #[must_use]
    pub fn help(self) -> CodeHelp {
        let (about, wrong, right) = match self {
            Self::NotYaml => (
                "the file is not YAML that can be read, or passes a limit on its size, its depth or its aliases",
                "top: {steady: 100 %",
                "top: {steady: 100 %}",
            ),
            Self::WrongHeader => (
                "the first key does not say what the file is, or says another kind",
                "lampwright: sequences 1",
                "lampwright: sequence 1",
            ),
            Self::NewerVersion => (
                "the file says a version that this program does not know",
                "lampwright: sequence 2",
                "lampwright: sequence 1",
            ),
            Self::WrongShape => (
                "a mapping, a list or one value is wanted, and another of these stands there",
                "top: {flash: 50 ms}",
                "top: {flash: {rate: 60 per min, lit: 50 ms}}",
            ),
            Self::UnknownKey => (
                "a key that is not known here, mostly misspelt or written a level too high or too low",
                "top: {flash: {rate: 60 per min, list: 50 ms}}",
                "top: {flash: {rate: 60 per min, lit: 50 ms}}",
            ),
            Self::MissingKey => (
                "a key that must be there is not",
                "top: {flash: {lit: 50 ms}}",
                "top: {flash: {rate: 60 per min, lit: 50 ms}}",
            ),
            Self::DuplicateKey => (
                "a key stands twice in one mapping, so that one of its values would count for nothing",
                "top: {steady: 100 %, steady: 50 %}",
                "top: {steady: 50 %}",
            ),
            Self::WrongValue => (
                "a value cannot be read: it has no unit or a wrong one, or is a word that is not known",
                "top: {flash: {rate: 60 per min, lit: 50}}",
                "top: {flash: {rate: 60 per min, lit: 50 ms}}",
            ),
            Self::UnknownName => ("a name that nothing defines", "judge_by: us-14cfr26", "judge_by: us-14cfr25"),
            Self::Contradiction => (
                "two values that cannot both hold",
                "top: {steady: 100 %, flash: {rate: 60 per min, lit: 50 ms}}",
                "top: {flash: {rate: 60 per min, lit: 50 ms}}",
            ),
            Self::OtherFile => (
                "a file that is named here cannot be read, or lies outside the folder of this one",
                "sequence: ../lights.yaml",
                "sequence: lights.yaml",
            ),
            Self::OutOfRange => (
                "a value that can be read and cannot be, or is more than is allowed",
                "top: {steady: 120 %}",
                "top: {steady: 100 %}",
            ),
        };
        CodeHelp { about, wrong, right }
    }
}
