//! What was found: a band from the least to the most it may be.

use super::super::style::{FOUND, path};
use super::limits::runs;
use super::paper::Paper;
use crate::report::evidence::PolarPoint;
use maud::{Markup, html};

/// The band with its two edges; it runs to the rim where nothing bounds it, and has no outer edge there.
pub(super) fn draw(paper: &Paper, points: &[PolarPoint]) -> Markup {
    let low: Vec<_> = points.iter().map(|p| paper.at(p.angle_deg, p.found.low)).collect();
    let high: Vec<_> = points.iter().map(|p| paper.at(p.angle_deg, p.found.high)).collect();
    html! {
        @if !points.is_empty() {
            path d={ (path(&high, true)) (path(&low, true)) } fill=(FOUND) fill-opacity="0.2" fill-rule="evenodd" {}
            g fill="none" stroke=(FOUND) stroke-width="1.75" stroke-linejoin="round" {
                path d=(path(&low, true)) {}
                @for edge in outer(points, &high) { path d=(edge) {} }
            }
        }
    }
}

fn outer(points: &[PolarPoint], high: &[[f64; 2]]) -> Vec<String> {
    let bounded: Vec<bool> = points.iter().map(|p| p.found.high.is_finite()).collect();
    let runs = runs(&bounded).into_iter().filter(|run| run.first().is_some_and(|n| bounded[*n]));
    runs.map(|run| {
        let edge: Vec<_> = run.iter().map(|n| high[*n]).collect();
        path(&edge, edge.len() == high.len())
    })
    .collect()
}
