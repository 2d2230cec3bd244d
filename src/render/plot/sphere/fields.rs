//! The fields of the map: neighbours of one cover in a row are one shape, and all shapes of a cover one path.

use super::covers::{ALL, look};
use super::mollweide::place;
use crate::report::evidence::Cover;
use maud::{Markup, html};

/// Fields of a cover that lie beside each other in a row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Run {
    pub(super) cover: Cover,
    /// Azimuths in degrees.
    pub(super) across: [f64; 2],
    /// Elevations in degrees.
    pub(super) up: [f64; 2],
}

/// All runs, from straight down to straight up.
pub(super) fn runs(fields: &[Vec<Cover>]) -> Vec<Run> {
    let high = 180.0 / fields.len().max(1) as f64;
    let mut runs: Vec<Run> = Vec::new();
    for (n, row) in fields.iter().enumerate() {
        let up = [n, n + 1].map(|edge| edge as f64 * high - 90.0);
        let wide = 360.0 / row.len().max(1) as f64;
        for (m, cover) in row.iter().enumerate() {
            let end = (m + 1) as f64 * wide - 180.0;
            match runs.last_mut() {
                Some(run) if m > 0 && run.cover == *cover => run.across[1] = end,
                _ => runs.push(Run { cover: *cover, across: [end - wide, end], up }),
            }
        }
    }
    runs
}

/// The fields.
pub(super) fn draw(id: &str, fields: &[Vec<Cover>]) -> Markup {
    let runs = runs(fields);
    let shapes = ALL.map(|cover| {
        let d: String = runs.iter().filter(|r| r.cover == cover).map(outline).collect();
        (look(cover), d)
    });
    html! {
        @for (look, d) in shapes.iter().filter(|(_, d)| !d.is_empty()) {
            @let shape = format!("{id}-{}-fields", look.key);
            defs { path id=(shape) d=(d) {} }
            // Lines in the fill's own colour close the seams that smoothing leaves between shapes.
            use href={ "#" (shape) } fill=(look.fill) stroke=(look.fill) stroke-width="0.7" {}
        }
        @for (look, d) in &shapes {
            @if let Some((hatch, apart, colour, thick)) = look.lines.filter(|_| !d.is_empty()) {
                @let clip = format!("{id}-{}-clip", look.key);
                clipPath id=(clip) { use href={ "#" (id) "-" (look.key) "-fields" } {} }
                path clip-path={ "url(#" (clip) ")" } d=(hatch.over(bounds(&runs, look.key), apart))
                    stroke=(colour) stroke-width=(thick) stroke-linecap="round" fill="none" {}
            }
        }
    }
}

/// The box about the fields of a cover: left, top, right, bottom.
fn bounds(runs: &[Run], key: &str) -> [f64; 4] {
    let own = runs.iter().filter(|r| look(r.cover).key == key);
    // The map is widest where a row is nearest to the horizon.
    let corners = own.flat_map(|r| {
        let level = r.up[0].max(-r.up[1]).max(0.0).copysign(r.up[0] + r.up[1]);
        r.across.into_iter().flat_map(move |az| [place(az, r.up[0]), place(az, r.up[1]), place(az, level)])
    });
    let none = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
    corners.fold(none, |b, [x, y]| [b[0].min(x), b[1].min(y), b[2].max(x), b[3].max(y)])
}

/// A run between two parallels; its ends are chords of meridians, which a row's height does not tell from the arcs.
fn outline(run: &Run) -> String {
    let [from, to] = run.across;
    let [low, high] = run.up;
    let short = |v: f64| format!("{}", (v * 10.0).round() / 10.0 + 0.0);
    let [a, b, c, d] = [place(from, low), place(to, low), place(to, high), place(from, high)];
    format!("M{} {}H{}L{} {}H{}Z", short(a[0]), short(a[1]), short(b[0]), short(c[0]), short(c[1]), short(d[0]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use Cover::{Masked, Seen};

    #[test]
    fn neighbours_of_one_cover_in_a_row_are_one_run() {
        let fields = vec![vec![Seen, Seen, Masked, Masked], vec![Masked, Seen, Seen, Seen]];
        let run = |cover, across, up| Run { cover, across, up };
        assert_eq!(
            runs(&fields),
            [
                run(Seen, [-180.0, 0.0], [-90.0, 0.0]),
                run(Masked, [0.0, 180.0], [-90.0, 0.0]),
                run(Masked, [-180.0, -90.0], [0.0, 90.0]),
                run(Seen, [-90.0, 180.0], [0.0, 90.0]),
            ]
        );
        assert_eq!(runs(&[vec![], vec![Seen]]), [run(Seen, [-180.0, 180.0], [0.0, 90.0])]);
    }
}
