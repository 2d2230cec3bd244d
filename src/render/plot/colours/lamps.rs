//! Lamps in the diagram: a mark of a shape of its own, with the line or area it may lie in, and its number.

use super::super::labels::{Room, about, leader};
use super::super::lettering::{listed, width};
use super::super::style::{INK, SOFT, number, path, rgb};
use super::axes::{at, away};
use crate::report::evidence::ColourMark;
use maud::{Markup, html};

/// Sides of the marks and how far they are turned, in degrees: circle, square, triangle, diamond, ...
const SHAPES: [(u32, f64); 8] = [(24, 0.0), (4, 45.0), (3, -90.0), (4, 0.0), (3, 90.0), (5, -90.0), (3, 0.0), (6, 0.0)];

/// Chromaticities closer than this are written alike.
const ALIKE: f64 = 5e-5;

/// The path of a mark about a point.
pub(super) fn shape(n: usize, [x, y]: [f64; 2], radius: f64) -> String {
    let (sides, turned) = SHAPES[n % SHAPES.len()];
    // Shapes of few sides look smaller.
    let radius = if sides < 5 { radius * 1.2 } else { radius };
    let corner = |k: u32| (turned + 360.0 * f64::from(k) / f64::from(sides)).to_radians();
    let corners: Vec<[f64; 2]> =
        (0..sides).map(|k| [x + radius * corner(k).cos(), y + radius * corner(k).sin()]).collect();
    path(&corners, true)
}

/// Where a lamp's mark stands: at its colour, or amid all it may be; nowhere where one of them lies outside the axes.
pub(super) fn place(mark: &ColourMark) -> Option<[f64; 2]> {
    let points: Vec<[f64; 2]> = mark.points.iter().filter_map(|xy| at(*xy)).collect();
    if points.is_empty() || points.len() != mark.points.len() {
        return None;
    }
    let mean = |n: usize| points.iter().map(|p| p[n]).sum::<f64>() / points.len() as f64;
    Some([mean(0), mean(1)])
}

/// Whether all the colours are one, as far as four decimals tell.
pub(super) fn is_one(mark: &ColourMark) -> bool {
    mark.points.windows(2).all(|p| p[0] == p[1] || (0..2).all(|n| (p[0][n] - p[1][n]).abs() < ALIKE))
}

/// How a mark is filled: white light's own colour would look as hollow as a range.
pub(super) fn fill(mark: &ColourMark) -> &'static str {
    if is_one(mark) { INK } else { "#ffffff" }
}

/// Takes the marks' places, so that no word stands on them.
pub(super) fn take(marks: &[ColourMark], room: &mut Room) {
    marks.iter().filter_map(place).for_each(|p| room.take(about(p, [16.0, 16.0])));
}

/// Every mark, what it stands for outermost, then the marks, then their numbers.
pub(super) fn draw(marks: &[ColourMark], room: &mut Room) -> Markup {
    html! { @for (n, mark) in marks.iter().enumerate() { (one(n, mark, room)) } }
}

fn one(n: usize, mark: &ColourMark, room: &mut Room) -> Markup {
    let points: Vec<String> = mark.points.iter().map(|[x, y]| format!("{x},{y}")).collect();
    html! {
        g class="lamp-colour" data-lamps=(listed(&mark.lamps)) data-points=(points.join(" ")) {
            @if let Some(middle) = place(mark) {
                title { (listed(&mark.lamps)) }
                (spread(mark))
                path class="mark" d=(shape(n, middle, 6.0)) stroke=(INK) stroke-width="1.25"
                    fill=(fill(mark)) {}
                (numbered(n, middle, room))
            }
        }
    }
}

/// The line or area of the colours it may be, cased in ink so that pale lines show.
fn spread(mark: &ColourMark) -> Markup {
    let hull = hull(mark.points.iter().filter_map(|xy| at(*xy)).collect());
    html! {
        @if !is_one(mark) && hull.len() == 2 {
            path d=(path(&hull, false)) stroke=(INK) stroke-width="5" stroke-linecap="round" fill="none" {}
            path d=(path(&hull, false)) stroke=(rgb(mark.hue.rgb)) stroke-width="3" stroke-linecap="round" fill="none" {}
        } @else if !is_one(mark) {
            path d=(path(&hull, true)) fill=(rgb(mark.hue.rgb)) fill-opacity="0.5" stroke=(INK) stroke-width="1.25"
                stroke-linejoin="round" {}
        }
    }
}

fn numbered(n: usize, middle: [f64; 2], room: &mut Room) -> Markup {
    let text = (n + 1).to_string();
    let size = [width(&text, 14.0) + 4.0, 15.0];
    let word = room.place(about(middle, [16.0, 16.0]), size, away(middle));
    html! {
        @if let Some(line) = leader(middle, word, size, 15.0) {
            path d=(path(&line, false)) stroke=(SOFT) stroke-width="0.75" fill="none" {}
        }
        text x=(number(word[0])) y=(number(word[1] + 5.0)) text-anchor="middle" font-weight="bold" stroke="#ffffff"
            stroke-width="3" stroke-linejoin="round" paint-order="stroke" { (text) }
    }
}

/// The convex hull, by Andrew's monotone chain.
fn hull(mut points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let mut lower = chain(points.iter());
    let mut upper = chain(points.iter().rev());
    lower.pop();
    upper.pop();
    lower.extend(upper);
    lower
}

fn chain<'a>(points: impl Iterator<Item = &'a [f64; 2]>) -> Vec<[f64; 2]> {
    let mut kept: Vec<[f64; 2]> = Vec::new();
    for p in points {
        while let [.., a, b] = kept[..] {
            if (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0.0 {
                break;
            }
            kept.pop();
        }
        kept.push(*p);
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hull_of_a_square_and_its_inside_is_the_square() {
        let square = vec![[0.0, 0.0], [2.0, 0.0], [1.0, 1.0], [2.0, 2.0], [0.0, 2.0], [1.0, 0.0]];
        assert_eq!(hull(square), [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]);
        assert_eq!(hull(vec![[1.0, 1.0]; 5]), [[1.0, 1.0]]);
        assert_eq!(hull(vec![[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]]), [[0.0, 0.0], [2.0, 2.0]]);
    }
}
