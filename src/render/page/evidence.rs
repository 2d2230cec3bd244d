//! The pages behind: one figure a question, each with what it shows and the paragraphs it speaks of.

use super::words;
use crate::render::plot;
use crate::report::Documentation;
use crate::report::evidence::{Figure, Shape};
use maud::{Markup, html};

pub(super) fn section(documentation: &Documentation) -> Markup {
    let views = &documentation.views;
    let all = [plot::views::View::Plan, plot::views::View::Side, plot::views::View::Front];
    html! {
        section id="evidence" {
            h2 { (words::EVIDENCE) }
            div class="figures" {
                figure {
                    h3 { (words::WHERE) }
                    (plot::views::draw("three-views", words::WHERE, views, &all))
                    figcaption { (words::VIEWS_CAPTION) }
                }
                @for figure in &documentation.figures { (drawn(figure)) }
            }
        }
    }
}

fn drawn(figure: &Figure) -> Markup {
    let (question, shows) = words::figure(&figure.about);
    let id = &figure.id;
    html! {
        figure {
            h3 { (question) }
            @match &figure.shape {
                Shape::Polar(polar) => (plot::polar::draw(id, &question, polar)),
                Shape::Sphere(map) => (plot::sphere::draw(id, &question, map)),
                Shape::Colours(chart) => (plot::colours::draw(id, &question, chart)),
                Shape::Timing(strip) => (plot::timing::draw(id, &question, strip)),
                Shape::Margins(rows) => (plot::margins::draw(id, &question, rows)),
            }
            figcaption {
                (shows)
                @if !figure.cites.is_empty() { " " cite { (figure.cites.join("; ")) } }
            }
        }
    }
}
