//! Text in a drawing, which knows no fonts: how wide it may come out, and where it is broken.

use super::style::number;
use maud::{Markup, html};

/// How wide a character is, as a share of its height: a little over the mean of English text in common sans-serif
/// faces, so that text comes out narrower rather than wider than it is taken for.
const CHARACTER: f64 = 0.54;

/// A text in lines no wider than given; what does not fit into `most` of them ends in `…`.
pub(super) fn wrapped(text: &str, size: f64, wide: f64, most: usize) -> Vec<String> {
    let columns = ((wide / (CHARACTER * size)).max(1.0)) as usize;
    let options = textwrap::Options::new(columns).word_splitter(textwrap::WordSplitter::NoHyphenation);
    let mut lines: Vec<String> = textwrap::wrap(text, options).into_iter().map(String::from).collect();
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            while last.chars().count() + 1 > columns && last.pop().is_some() {}
            last.push('…');
        }
    }
    lines
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
    fn lines_are_no_wider_than_asked_and_say_when_they_leave_words_out() {
        let lines = wrapped("a light of some name that is rather long, and goes on", 10.0, 60.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines.iter().all(|l| l.chars().count() as f64 * 10.0 * CHARACTER <= 60.0), "{lines:?}");
        assert!(lines[1].ends_with('…'));
        assert_eq!(wrapped("short", 10.0, 600.0, 2), ["short"]);
    }

    #[test]
    fn no_width_is_too_small() {
        for wide in [0.0, -3.0, f64::NAN] {
            assert_eq!(wrapped("ab", 10.0, wide, 9), ["a", "b"]);
        }
    }
}
