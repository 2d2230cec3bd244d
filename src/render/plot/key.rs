//! The key below a figure: samples of lines and fields with what they mean.

use super::lettering::{below, lines};
use super::style::{WIDTH, number};
use maud::{Markup, html};

/// How wide a sample is.
pub(super) const SAMPLE: f64 = 34.0;
/// How high a sample is.
pub(super) const HIGH: f64 = 14.0;
/// How far apart the lines of a key are.
const LINE: f64 = 18.0;
const SIZE: f64 = 14.0;

/// What a key says: a sample that fills `SAMPLE` by `HIGH` from its origin, and words.
pub(super) type Entry = (Markup, String);

/// A key in columns below each other from `top` on, and where it ends.
pub(super) fn draw(top: f64, columns: usize, entries: &[Entry]) -> (Markup, f64) {
    let columns = columns.max(1);
    let wide = WIDTH / columns as f64;
    let mut y = top;
    let mut rows = Vec::new();
    for row in entries.chunks(columns) {
        let texts: Vec<_> = row.iter().map(|(_, words)| lines(words, wide - SAMPLE - 18.0, SIZE, usize::MAX)).collect();
        rows.push((y, row, texts.clone()));
        y += LINE * texts.iter().map(Vec::len).max().unwrap_or(1) as f64 + 4.0;
    }
    let markup = html! {
        @for (y, row, texts) in &rows {
            @for (n, ((sample, _), lines)) in row.iter().zip(texts).enumerate() {
                g transform={ "translate(" (number(4.0 + n as f64 * wide)) " " (number(*y)) ")" } {
                    (sample)
                    (below([SAMPLE + 8.0, 12.0], SIZE, LINE, lines))
                }
            }
        }
    };
    (markup, y)
}

/// Sentences below a figure from `top` on, and where they end.
pub(super) fn notes(top: f64, sentences: &[String]) -> (Markup, f64) {
    let said: Vec<String> = sentences.iter().flat_map(|s| lines(s, WIDTH - 8.0, SIZE, usize::MAX)).collect();
    let markup = below([4.0, top + 12.0], SIZE, LINE, &said);
    (markup, top + LINE * said.len() as f64 + 4.0)
}
