//! Numbers written one after the other in a text, each with its place.

use crate::source::diagnostic::{Code, Sink};
use crate::source::place::At;

/// So many mistakes of one file are told one by one; more are the same mistake over and over.
const MOST_TOLD: usize = 20;
/// So many characters of a word are shown.
const SHOWN: usize = 40;

/// A word, or a line without what surrounds it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Word<'t> {
    pub text: &'t str,
    line: usize,
    offset: usize,
}

/// How a file parts its values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Parted {
    /// By blanks, ends of lines and commas.
    ByBlanks,
    /// One a line; a comma in a number is a decimal point.
    ByLines,
}

/// A file read value by value, and what is wrong in it.
pub(super) struct Values<'t> {
    file: &'t str,
    text: &'t str,
    parted: Parted,
    offset: usize,
    line: usize,
    last: Option<Word<'t>>,
    ended: bool,
    told: usize,
    sink: Sink,
}

impl<'t> Values<'t> {
    /// The values of a text from a line (from 1) that begins at a byte.
    pub(super) fn new(file: &'t str, text: &'t str, parted: Parted) -> Self {
        let mut sink = Sink::new();
        sink.sources.add(file, text);
        Self { file, text, parted, offset: 0, line: 1, last: None, ended: false, told: 0, sink }
    }

    /// What was said of the file.
    pub(super) fn into_sink(self) -> Sink {
        self.sink
    }

    /// Whether nothing was wrong so far.
    pub(super) fn is_well(&self) -> bool {
        self.told == 0
    }

    /// Says what is wrong with a word.
    pub(super) fn say(&mut self, word: &Word<'_>, code: Code, message: impl Into<String>, instead: &str) {
        self.told += 1;
        let at = self.at(word);
        if self.told <= MOST_TOLD {
            self.sink.say(code, &at, message, instead);
        } else if self.told == MOST_TOLD + 1 {
            self.sink.say(code, &at, "here and below is more that is wrong", "mend what is told above first");
        }
    }

    /// Says what stands after the candela, and where all of them are 0; `None` where anything before was wrong.
    pub(super) fn ends_lit(&mut self, candela: &[Vec<f64>]) -> Option<()> {
        self.nothing_more();
        if self.is_well() && !candela.iter().flatten().any(|cd| *cd > 0.0) {
            let message = "this file has no light in any direction";
            self.say_of_file(Code::OutOfRange, message, "name a file of a lamp that is lit");
            return Some(());
        }
        self.is_well().then_some(())
    }

    /// Says what is wrong with the file as a whole.
    pub(super) fn say_of_file(&mut self, code: Code, message: impl Into<String>, instead: &str) {
        self.told += 1;
        self.sink.say(code, &At::start_of(self.file), message, instead);
    }

    fn at(&self, word: &Word<'_>) -> At {
        let before = self.text.get(..word.offset).unwrap_or_default();
        let column = before.chars().rev().take_while(|c| *c != '\n').count() + 1;
        At {
            file: self.file.into(),
            line: u32::try_from(word.line).unwrap_or(u32::MAX),
            column: u32::try_from(column).unwrap_or(u32::MAX),
            offset: word.offset,
            length: word.text.len(),
        }
    }

    /// The next whole line, without the blanks about it.
    pub(super) fn next_line(&mut self) -> Option<Word<'t>> {
        let rest = self.text.get(self.offset..).filter(|r| !r.is_empty())?;
        let written = rest.split_inclusive('\n').next()?;
        let lead = written.len() - written.trim_start().len();
        let word =
            Word { text: written.trim(), line: self.line, offset: self.offset + lead.min(written.trim_end().len()) };
        self.offset += written.len();
        self.line += usize::from(written.ends_with('\n'));
        Some(word)
    }

    fn next_word(&mut self) -> Option<Word<'t>> {
        let rest = self.text.get(self.offset..)?;
        let lead = rest.find(|c| !parts(c)).unwrap_or(rest.len());
        let (skipped, rest) = rest.split_at(lead);
        self.line += skipped.matches('\n').count();
        self.offset += lead;
        let text = rest.split(parts).next().filter(|t| !t.is_empty())?;
        let word = Word { text, line: self.line, offset: self.offset };
        self.offset += text.len();
        Some(word)
    }

    /// The next value as it stands; after saying once that the file ends before it, `None`.
    pub(super) fn next(&mut self, what: &str) -> Option<Word<'t>> {
        let word = match self.parted {
            Parted::ByBlanks => self.next_word(),
            Parted::ByLines => self.next_line(),
        };
        if word.is_some() {
            self.last = word;
        } else if !self.ended {
            self.ended = true;
            let last = self.last.unwrap_or(Word { text: "", line: 1, offset: 0 });
            let message = format!("the file ends before {what}");
            self.say(&last, Code::MissingKey, message, "mend the counts in its head, or add what is missing");
        }
        word
    }

    /// The next value as a number, with the word; `None` after saying that it is none.
    pub(super) fn number(&mut self, what: &str) -> Option<(f64, Word<'t>)> {
        let word = self.next(what)?;
        let number = match self.parted {
            Parted::ByBlanks => word.text.parse::<f64>(),
            Parted::ByLines => word.text.replace(',', ".").parse::<f64>(),
        };
        match number.ok().filter(|n| n.is_finite()) {
            Some(number) => Some((number, word)),
            None => {
                let shown: String = word.text.chars().take(SHOWN).collect();
                let instead = match self.parted {
                    Parted::ByBlanks => "write a number, with a point and not a comma, like `62.5`",
                    Parted::ByLines => "write one number a line, like `62.5`",
                };
                self.say(
                    &word,
                    Code::WrongValue,
                    format!("`{shown}` is no number, and {what} is wanted here"),
                    instead,
                );
                None
            }
        }
    }

    /// The next value as a whole number within limits.
    pub(super) fn whole(&mut self, what: &str, (least, most): (usize, usize)) -> Option<usize> {
        let (number, word) = self.number(what)?;
        if number.fract() == 0.0 && number >= least as f64 && number <= most as f64 {
            return Some(number as usize);
        }
        let message = format!("`{}` cannot be {what}", word.text);
        self.say(&word, Code::OutOfRange, message, &format!("write a whole number from {least} to {most}"));
        None
    }

    /// The next value as a number above 0.
    pub(super) fn above_zero(&mut self, what: &str) -> Option<f64> {
        let (number, word) = self.number(what)?;
        if number > 0.0 {
            return Some(number);
        }
        self.say(&word, Code::OutOfRange, format!("`{}` cannot be {what}", word.text), "write a number above 0");
        None
    }

    /// So many angles in degrees that rise within limits.
    pub(super) fn angles(&mut self, count: usize, what: &str, (least, most): (f64, f64)) -> Option<Vec<f64>> {
        let mut angles: Vec<f64> = Vec::new();
        for n in 1..=count {
            let Some((angle, word)) = self.number(&format!("{what} {n} of {count}")) else {
                if self.ended { return None } else { continue }
            };
            if angle < least || angle > most {
                let message = format!("{what} of `{}` degrees lies outside {least} to {most}", word.text);
                self.say(&word, Code::OutOfRange, message, "write degrees within these limits");
            } else if angles.last().is_some_and(|last| angle <= *last) {
                let message = format!("{what} of `{}` degrees does not rise over the one before", word.text);
                self.say(&word, Code::Contradiction, message, "write each angle once, the lowest first");
            }
            angles.push(angle);
        }
        (angles.len() == count).then_some(angles)
    }

    /// So many planes of so many intensities of at most `most_cd`, each times a factor that gives candela.
    pub(super) fn planes(
        &mut self,
        (planes, values): (usize, usize),
        (factor, most_cd): (f64, f64),
    ) -> Option<Vec<Vec<f64>>> {
        let mut all = Vec::new();
        for plane in 0..planes {
            let mut of_plane = Vec::new();
            for n in 1..=values {
                let what = format_args!("intensity {} of {}", plane * values + n, planes * values).to_string();
                match self.number(&what) {
                    Some((number, word)) => of_plane.push(self.candela(number * factor, &word, most_cd)),
                    None if self.ended => return None,
                    None => {}
                }
            }
            all.push(of_plane);
        }
        Some(all)
    }

    fn candela(&mut self, candela: f64, word: &Word<'_>, most_cd: f64) -> f64 {
        if candela < 0.0 {
            self.say(word, Code::OutOfRange, format!("an intensity of `{}` cannot be", word.text), "write 0 or more");
        } else if candela > most_cd {
            let message = format!("`{}` makes {candela:.3e} cd, which no lamp of a model gives", word.text);
            self.say(word, Code::OutOfRange, message, "check the file's multipliers and its flux");
        }
        candela
    }

    /// Says that more stands here than the counts in the head tell of, where it does.
    pub(super) fn nothing_more(&mut self) {
        loop {
            let word = match self.parted {
                Parted::ByBlanks => self.next_word(),
                Parted::ByLines => self.next_line(),
            };
            match word {
                Some(word) if word.text.trim_matches('\u{1a}').is_empty() => {}
                Some(word) => {
                    let message = "the counts in the head of the file tell of fewer values than stand here";
                    return self.say(
                        &word,
                        Code::Contradiction,
                        message,
                        "mend the counts, or take what is too much away",
                    );
                }
                None => return,
            }
        }
    }
}

fn parts(c: char) -> bool {
    // Old files end with the sign for the end of a file.
    c.is_whitespace() || c == ',' || c == '\u{1a}'
}
