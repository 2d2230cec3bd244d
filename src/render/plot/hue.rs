//! The colour light is drawn in, always with the letter that stands for it in print.

use super::style::{INK, number, rgb};
use crate::report::evidence::Hue;
use maud::{Markup, html};

/// A square in the colour of a light with its letter, about a middle.
pub(super) fn chip(hue: Hue, at: [f64; 2]) -> Markup {
    chip_of(hue, at, 12.0)
}

/// The same with a letter of a height.
pub(super) fn chip_of(hue: Hue, [x, y]: [f64; 2], letter: f64) -> Markup {
    let side = letter * 4.0 / 3.0;
    html! {
        rect x=(number(x - side / 2.0)) y=(number(y - side / 2.0)) width=(number(side)) height=(number(side)) rx="2"
            fill=(rgb(hue.rgb)) stroke=(INK) {}
        text x=(number(x)) y=(number(y + 0.37 * letter)) font-size=(number(letter)) font-weight="bold" text-anchor="middle" fill=(on(hue.rgb)) {
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

/// Ink or white, whichever is the easier read on a colour in print, in colour and in grey alike.
fn on(colour: [u8; 3]) -> &'static str {
    // Printers that know no colour make grey of a picture's luma (ITU-R BT.601): of red, green and blue 0.299, 0.587, 0.114.
    let [r, g, b] = colour.map(f64::from);
    if 0.299 * r + 0.587 * g + 0.114 * b > 127.5 { INK } else { "#ffffff" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_can_be_read() {
        assert_eq!(on([255, 255, 255]), INK);
        assert_eq!(on([0, 0, 0]), "#ffffff");
        assert_eq!([[0, 0, 255], [255, 0, 0], [150, 20, 20]].map(on), ["#ffffff"; 3]);
        assert_eq!([[0, 255, 0], [255, 255, 0]].map(on), [INK; 2]);
    }
}
