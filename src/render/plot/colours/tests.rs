use super::*;
use crate::colorimetry::{monochromatic, planckian};
use crate::report::evidence::{ColourMark, ColourRegion, Hue};

const RED: Hue = Hue { letter: 'R', rgb: [214, 39, 40] };

fn chart(lamps: Vec<ColourMark>) -> ColourChart {
    let xy = |c: crate::colorimetry::Chromaticity| [c.x, c.y];
    let locus = (380..=700).filter_map(|nm| Some((f64::from(nm), xy(monochromatic(f64::from(nm))?)))).collect();
    let planck =
        (1..=20).filter_map(|n| Some((1000.0 * f64::from(n), xy(planckian(1000.0 * f64::from(n))?)))).collect();
    ColourChart { locus, planck, regions: Vec::new(), lamps }
}

fn mark(points: Vec<[f64; 2]>) -> ColourMark {
    ColourMark { lamps: vec!["tip".into(), "tail".into()], points, hue: RED, verdict: None }
}

fn read(svg: &str) -> roxmltree::Document<'_> {
    roxmltree::Document::parse(svg).expect("well-formed")
}

fn classed<'a>(svg: &'a roxmltree::Document, class: &str) -> Vec<roxmltree::Node<'a, 'a>> {
    svg.descendants().filter(|n| n.attribute("class") == Some(class)).collect()
}

/// The points of a path.
fn points(node: &roxmltree::Node) -> Vec<[f64; 2]> {
    let d = node.attribute("d").expect("a path").trim_end_matches('Z');
    let point = |text: &str| {
        let (x, y) = text.split_once(' ').expect("two numbers");
        [x.parse().expect("x"), y.parse().expect("y")]
    };
    d.split(['M', 'L']).filter(|t| !t.is_empty()).map(point).collect()
}

/// Reads a chromaticity off the printed axes: two numbers of each axis give the scale.
fn read_off(svg: &roxmltree::Document, [x, y]: [f64; 2]) -> [f64; 2] {
    let tick = |class: &str, text: &str, of: &str, shift: f64| {
        let node = classed(svg, class).into_iter().find(|n| n.text() == Some(text)).expect("a tick");
        node.attribute(of).and_then(|v| v.parse::<f64>().ok()).expect("a number") + shift
    };
    let (x2, x4) = (tick("tick-x", "0.2", "x", 0.0), tick("tick-x", "0.4", "x", 0.0));
    // Figures of the upright axis stand 5 units below their lines.
    let (y2, y4) = (tick("tick-y", "0.2", "y", -5.0), tick("tick-y", "0.4", "y", -5.0));
    [0.2 + 0.2 * (x - x2) / (x4 - x2), 0.2 + 0.2 * (y - y2) / (y4 - y2)]
}

fn close(found: [f64; 2], published: [f64; 2]) {
    assert!(found.iter().zip(published).all(|(f, p)| (f - p).abs() < 1e-4), "{found:?} is not {published:?}");
}

/// Illuminant E has x = y = 1/3 by definition (CIE 15); D65 has 0.3127, 0.3290 (ISO 11664-2, to four places).
#[test]
fn lamps_stand_where_the_axes_say() {
    for xy in [[1.0 / 3.0, 1.0 / 3.0], [0.3127, 0.3290]] {
        let svg = draw("c", "t", &chart(vec![mark(vec![xy])])).into_string();
        let svg = read(&svg);
        let corners = points(&classed(&svg, "mark")[0]);
        let mean = |n: usize| corners.iter().map(|p| p[n]).sum::<f64>() / corners.len() as f64;
        close(read_off(&svg, [mean(0), mean(1)]), xy);
    }
}

/// CIE 015, table of the 2 degree observer: 520 nm has x = 0.0743, y = 0.8338; 580 nm has x = 0.5125, y = 0.4866.
#[test]
fn wavelengths_stand_where_the_axes_say() {
    let svg = draw("c", "t", &chart(Vec::new())).into_string();
    let svg = read(&svg);
    for (nm, xy) in [("520", [0.0743, 0.8338]), ("580", [0.5125, 0.4866])] {
        let tick = classed(&svg, "wave").into_iter().find(|n| n.attribute("data-value") == Some(nm)).expect("a tick");
        close(read_off(&svg, points(&tick)[0]), xy);
    }
}

#[test]
fn data_is_what_was_given() {
    let given = vec![[0.680_000_000_1, 0.31], [0.7, 0.299_999_999_999_9]];
    let svg = draw("c", "t", &chart(vec![mark(given.clone())])).into_string();
    let svg = read(&svg);
    let group = classed(&svg, "lamp-colour")[0];
    let number = |t: &str| t.parse::<f64>().expect("a number");
    let point = |t: &str| t.split_once(',').map(|(x, y)| [number(x), number(y)]).expect("a pair");
    let read: Vec<[f64; 2]> = group.attribute("data-points").expect("points").split(' ').map(point).collect();
    assert_eq!(read, given);
    assert_eq!(group.attribute("data-lamps"), Some("tip, tail"));
}

#[test]
fn nothing_and_nonsense_are_drawn_without_harm() {
    let (nan, inf) = (f64::NAN, f64::INFINITY);
    let odd = vec![
        mark(vec![]),
        mark(vec![[nan, 0.3]]),
        mark(vec![[inf, -inf], [0.3, 0.3]]),
        mark(vec![[0.3, 0.3]; 4]),
        mark(vec![[0.3, 0.3], [0.31, 0.3], [0.3, 0.31], [0.305, 0.305]]),
    ];
    let mut chart = chart([odd.clone(), odd.clone(), odd].concat());
    chart.locus.extend([(nan, [nan, nan]), (inf, [inf, 0.0])]);
    chart.regions.push(ColourRegion { name: "<&\u{201c}".into(), outline: vec![[nan, inf]] });
    chart.regions.push(ColourRegion { name: "a long name".repeat(9), outline: vec![[0.3, 0.3]] });
    chart.regions.push(ColourRegion { name: String::new(), outline: Vec::new() });
    for chart in [chart, ColourChart { locus: vec![], planck: vec![], regions: vec![], lamps: vec![] }] {
        let svg = draw("c", "t", &chart).into_string();
        crate::render::plot::sound::check(&svg, "c");
    }
}
