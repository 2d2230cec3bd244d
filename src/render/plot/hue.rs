//! The colour light is drawn in, always with the letter that stands for it in print.

use super::style::{INK, number, rgb};
use crate::report::evidence::Hue;
use maud::{Markup, html};

/// A square in the colour of a light with its letter, about a middle.
pub(super) fn chip(hue: Hue, [x, y]: [f64; 2]) -> Markup {
    html! {
        rect x=(number(x - 8.0)) y=(number(y - 8.0)) width="16" height="16" rx="2" fill=(rgb(hue.rgb)) stroke=(INK) {}
        text x=(number(x)) y=(number(y + 4.5)) font-size="12" font-weight="bold" text-anchor="middle" fill=(on(hue.rgb)) {
            (hue.letter)
        }
    }
}

/// How lines of a letter's light are dashed, so that they are told apart in black and white.
pub(super) fn dash(letter: char) -> &'static str {
    match letter {
        'R' => "7 3",
        'G' => "2 3",
        'W' => "none",
        'Y' => "9 3 2 3",
        _ => "12 4",
    }
}

/// Ink or white, whichever is the easier read on a colour (contrast by WCAG 2.2, relative luminance).
fn on(colour: [u8; 3]) -> &'static str {
    let linear = colour.map(|c| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    });
    let luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
    // Black and white contrast alike where (L + 0.05) squared is 1.05 times 0.05.
    if luminance > 0.179 { INK } else { "#ffffff" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_can_be_read() {
        assert_eq!(on([255, 255, 255]), INK);
        assert_eq!(on([0, 0, 0]), "#ffffff");
        assert_eq!(on([0, 0, 255]), "#ffffff");
    }
}
