//! The printed report: one self-contained page, its first side for a judge in a hurry, the evidence behind it.

mod evidence;
mod first;
mod goals;
mod markdown;
mod night;

pub use markdown::write as write_markdown;

use super::words::page as words;
use crate::report::Documentation;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("page.css");

/// The size of the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// ISO 216.
    #[default]
    A4,
    /// ANSI/ASME Y14.1, size A.
    Letter,
}

/// The report as one HTML file that asks for nothing else; `paper` binds its printed size, else the printer chooses.
#[must_use]
pub fn html(documentation: &Documentation, paper: Option<Paper>) -> String {
    let craft = &documentation.report.aircraft;
    let size = paper.map(|paper| match paper {
        Paper::A4 => "@page{size:A4}",
        Paper::Letter => "@page{size:letter}",
    });
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (words::KICKER) ": " (craft.title) ", 1:" (crate::units::short(craft.scale)) }
                style { (PreEscaped(STYLE)) @if let Some(size) = size { (size) } }
            }
            body {
                main {
                    (first::side(documentation))
                    (evidence::section(documentation))
                    (night::section(&documentation.night))
                    (goals::section(&documentation.report))
                    (goals::cautions(documentation))
                }
            }
        }
    };
    page.into_string()
}

/// A text whose words between backticks are code.
fn ticked(text: &str) -> Markup {
    html! {
        @for (n, part) in text.split('`').enumerate() {
            @if n % 2 == 1 { code { (part) } } @else { (part) }
        }
    }
}

/// A verdict: its sign, and its word.
fn verdict(of: crate::judge::Verdict) -> Markup {
    let (sign, word) = words::verdict(of);
    html! { span class={ "verdict " (word.replace(' ', "-")) } { span aria-hidden="true" { (sign) } " " (word) } }
}
