//! The lamps' colours beside the published regions.

use super::lamps::{hue, worst};
use super::{cites, figure};
use crate::colorimetry::{Chromaticity, ColourSet, monochromatic, planckian};
use crate::report::Report;
use crate::report::evidence::{About, ColourChart, ColourMark, ColourRegion, Figure, Shape};
use crate::resolve::Goal;
use crate::rules::{Limit, NamedColour};
use crate::scene::Scene;

/// The figure; `None` where no goal asks for a colour or no lamp's colour is known.
pub(super) fn figure_of(scene: &Scene<'_>, asked: &[Goal<'_>], report: &Report) -> Option<Figure> {
    let goals: Vec<&Goal<'_>> = asked.iter().filter(|g| matches!(g.spec.limit, Limit::Inside(_))).collect();
    let mut named: Vec<&NamedColour> = Vec::new();
    for goal in &goals {
        let Limit::Inside(colours) = &goal.spec.limit else { continue };
        for colour in colours {
            if !named.iter().any(|n| n.name == colour.name) {
                named.push(colour);
            }
        }
    }
    let lamps = marks(scene, &goals, report);
    if named.is_empty() || lamps.is_empty() {
        return None;
    }
    let region = |n: &&NamedColour| ColourRegion { name: n.name.clone(), outline: pairs(&n.region.outline()) };
    let chart = ColourChart {
        locus: (380..=700).step_by(2).filter_map(|nm| at(f64::from(nm), monochromatic)).collect(),
        planck: (15..=100)
            .map(|k| 100.0 * f64::from(k))
            .chain([15_000.0, 25_000.0])
            .filter_map(|k| at(k, planckian))
            .collect(),
        regions: named.iter().map(region).collect(),
        lamps,
    };
    Some(figure("colours", About::Colours, &cites(&goals), Shape::Colours(chart)))
}

fn at(of: f64, colour: impl Fn(f64) -> Option<Chromaticity>) -> Option<(f64, [f64; 2])> {
    colour(of).map(|c| (of, [c.x, c.y]))
}

fn pairs(colours: &[Chromaticity]) -> Vec<[f64; 2]> {
    colours.iter().map(|c| [c.x, c.y]).collect()
}

/// The colours of the lamps that goals look at, equal ones together.
fn marks(scene: &Scene<'_>, goals: &[&Goal<'_>], report: &Report) -> Vec<ColourMark> {
    let mut marks: Vec<(&ColourSet, ColourMark)> = Vec::new();
    for (n, lamp) in scene.lamps.iter().enumerate() {
        let Ok(colour) = &lamp.colour else { continue };
        if !goals.iter().any(|g| g.lamps.contains(&n)) {
            continue;
        }
        let of_colour = |id: &str| goals.iter().any(|g| g.id == id && g.lamps.contains(&n));
        let verdict = worst(report.goals.iter().filter(|g| g.binding && of_colour(&g.id)).map(|g| g.verdict));
        match marks.iter_mut().find(|(known, mark)| *known == colour && mark.verdict == verdict) {
            Some((_, mark)) => mark.lamps.push(lamp.name.clone()),
            None => {
                let points = corners(&pairs(&colour.samples()));
                let lamps = vec![lamp.name.clone()];
                marks.push((colour, ColourMark { lamps, points, hue: hue(lamp), verdict }));
            }
        }
    }
    marks.into_iter().map(|(_, mark)| mark).filter(|mark| !mark.points.is_empty()).collect()
}

/// The corners about some points, turning one way (Andrew's monotone chain, 1979).
fn corners(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut sorted: Vec<[f64; 2]> = points.iter().copied().filter(|p| p.iter().all(|v| v.is_finite())).collect();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let chain = |points: &mut dyn Iterator<Item = &[f64; 2]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for p in points {
            while let [.., a, b] = chain.as_slice() {
                if (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(*p);
        }
        chain.pop();
        chain
    };
    let mut all = chain(&mut sorted.iter());
    all.extend(chain(&mut sorted.iter().rev()));
    all
}
