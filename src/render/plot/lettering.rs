//! Words in a drawing, which knows no fonts: how wide they may come out, where they are broken, and how they are set.

use super::style::number;
use super::words;
use maud::{Markup, html};
use textwrap::{Options, WordSplitter};

/// The mean advance of a sans-serif letter, in ems; a little wide, so that words do not run out of their room.
const EM: f64 = 0.58;
/// No name is drawn with more characters.
const LONGEST_NAME: usize = 60;

/// About how wide a text is.
pub(super) fn width(text: &str, size: f64) -> f64 {
    textwrap::core::display_width(text) as f64 * EM * size
}

/// The text in lines of a width, the last cut where there are more than so many.
pub(super) fn lines(text: &str, room: f64, size: f64, most: usize) -> Vec<String> {
    let columns = columns(room, size);
    let options = Options::new(columns).word_splitter(WordSplitter::NoHyphenation);
    let mut lines: Vec<String> = textwrap::wrap(text, options).into_iter().map(|l| l.trim_end().to_string()).collect();
    if lines.len() > most {
        lines.truncate(most.max(1));
        if let Some(last) = lines.last_mut() {
            *last = shortened(last, columns);
        }
    }
    lines
}

/// A name, cut where it is longer than any name need be.
pub(super) fn name(text: &str) -> String {
    if text.chars().count() <= LONGEST_NAME {
        return text.to_string();
    }
    let kept: String = text.chars().take(LONGEST_NAME - 1).collect();
    format!("{}\u{2026}", kept.trim_end())
}

/// Names in one line, each cut where it is too long.
pub(super) fn listed(names: &[String]) -> String {
    names.iter().map(|n| name(n)).collect::<Vec<_>>().join(", ")
}

/// Names in lines of a width, broken between them; those for whom there is no room are counted.
pub(super) fn names(names: &[String], room: f64, size: f64, most: usize) -> Vec<String> {
    let whole: Vec<String> = names.iter().map(|n| name(n).replace(' ', "\u{a0}")).collect();
    for told in (1..=whole.len()).rev() {
        let text = match whole.len() - told {
            0 => whole.join(", "),
            more => format!("{}, {}", whole[..told].join(", "), words::and_more(more).replace(' ', "\u{a0}")),
        };
        let found = lines(&text, room, size, usize::MAX);
        if found.len() <= most {
            return found;
        }
    }
    lines(&listed(names), room, size, most)
}

/// The text on one line, cut where it is too long.
pub(super) fn cut(text: &str, room: f64, size: f64) -> String {
    let columns = columns(room, size);
    if textwrap::core::display_width(text) <= columns { text.to_string() } else { shortened(text, columns) }
}

fn columns(room: f64, size: f64) -> usize {
    (room / (EM * size)).floor().max(2.0) as usize
}

fn shortened(text: &str, columns: usize) -> String {
    let mut kept = String::new();
    for letter in text.chars() {
        kept.push(letter);
        // The sign for more counts as two columns.
        if textwrap::core::display_width(&kept) + 2 > columns {
            kept.pop();
            break;
        }
    }
    format!("{}\u{2026}", kept.trim_end_matches([' ', ',']))
}

/// Lines of text below each other.
pub(super) fn below([x, y]: [f64; 2], size: f64, step: f64, lines: &[String]) -> Markup {
    html! {
        text font-size=(number(size)) {
            @for (n, line) in lines.iter().enumerate() {
                tspan x=(number(x)) y=(number(y + n as f64 * step)) { (line) }
            }
        }
    }
}

/// Text that stays readable on what it lies on.
pub(super) fn on_top([x, y]: [f64; 2], size: f64, anchor: &str, fill: &str, lines: &[String]) -> Markup {
    html! {
        text font-size=(number(size)) text-anchor=(anchor) fill=(fill)
            stroke="#fff" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke" {
            @for (n, line) in lines.iter().enumerate() {
                tspan x=(number(x)) y=(number(y + n as f64 * (size + 2.0))) { (line) }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_fits_stays() {
        assert_eq!(cut("left tip", 100.0, 14.0), "left tip");
        assert_eq!(lines("left tip", 100.0, 14.0, 1), ["left tip"]);
        assert!(lines("", 100.0, 14.0, 1).len() <= 1);
    }

    #[test]
    fn names_are_told_or_counted() {
        let given = ["left tip", "right tip", "tail"].map(String::from);
        assert_eq!(names(&given, 400.0, 14.0, 1), ["left\u{a0}tip, right\u{a0}tip, tail"]);
        assert_eq!(names(&given, 100.0, 14.0, 2), ["left\u{a0}tip,", "and\u{a0}2\u{a0}more"]);
        assert!(names(&["x".repeat(99)], 100.0, 14.0, 2).len() <= 2 && names(&[], 100.0, 14.0, 2).len() <= 1);
    }

    #[test]
    fn what_does_not_fit_says_so() {
        let long = "one two three four five six seven eight";
        assert!(cut(long, 100.0, 14.0).ends_with('\u{2026}') && width(&cut(long, 100.0, 14.0), 14.0) <= 100.0);
        let two = lines(long, 100.0, 14.0, 2);
        assert!(two.len() == 2 && two[1].ends_with('\u{2026}') && two.iter().all(|l| width(l, 14.0) <= 100.0));
        assert!(!cut(long, f64::NAN, 14.0).is_empty() && !cut(long, -5.0, 14.0).is_empty());
    }

    #[test]
    fn long_names_are_cut() {
        assert_eq!(name(&"n".repeat(60)), "n".repeat(60));
        let cut = name(&"\u{e4}".repeat(61));
        assert!(cut.chars().count() == 60 && cut.ends_with('\u{2026}'));
        assert_eq!(listed(&["a".into(), "b".into()]), "a, b");
    }

    #[test]
    fn words_are_not_hyphenated_at_their_hyphens() {
        assert_eq!(lines("an anti-collision", 70.0, 10.0, 9), ["an", "anti-collisi", "on"]);
    }
}
