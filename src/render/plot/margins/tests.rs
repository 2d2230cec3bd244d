use super::*;
use crate::units::Interval;

fn row(id: &str, verdict: Verdict, margin: Option<(f64, f64)>, unit: Option<&str>) -> MarginRow {
    MarginRow {
        goal: ("a set".into(), id.into()),
        title: format!("the title of {id} & more"),
        cite: "1(a)".into(),
        verdict,
        margin: margin.map(|(low, high)| Interval { low, high }),
        unit: unit.map(String::from),
    }
}

const VALUES: [f64; 9] =
    [0.0, -0.1, 0.1 + 0.2, 1e-300, -12.345_678_901_234_567, 7e22, f64::INFINITY, f64::NEG_INFINITY, f64::MAX];

fn drawn(rows: &[MarginRow]) -> String {
    let svg = draw("m", "A title", rows).into_string();
    let tree = roxmltree::Document::parse(&svg).expect("well-formed");
    for node in tree.descendants() {
        let id = node.attribute("id").unwrap_or("m");
        assert!(id == "m" || id.starts_with("m-"), "{id}");
        for attribute in node.attributes().filter(|a| !a.name().starts_with("data-")) {
            assert!(!attribute.value().contains("NaN") && !attribute.value().contains("inf"), "{attribute:?}");
        }
    }
    svg
}

/// The rows of a drawing as (goal, verdict, low, high).
fn read(svg: &str) -> Vec<(String, String, Option<f64>, Option<f64>)> {
    let tree = roxmltree::Document::parse(svg).expect("well-formed");
    let rows = tree.descendants().filter(|n| n.has_attribute("data-goal"));
    rows.map(|n| {
        let text = |name| n.attribute(name).map(String::from);
        let number = |name| text(name).map(|t| t.parse::<f64>().expect("a number"));
        assert_eq!(text("data-rule-set").as_deref(), Some("a set"));
        let word = |name| text(name).expect("said");
        (word("data-goal"), word("data-verdict"), number("data-low"), number("data-high"))
    })
    .collect()
}

#[test]
fn no_goals_are_said() {
    let svg = drawn(&[]);
    assert!(svg.contains("No goals."));
    assert!(read(&svg).is_empty());
}

#[test]
fn the_figures_in_the_drawing_are_those_given() {
    for unit in [None, Some("deg")] {
        for low in VALUES {
            for high in VALUES {
                let svg = drawn(&[row("g", Verdict::CannotTell, Some((low, high)), unit)]);
                assert_eq!(read(&svg), [("g".into(), "cannot tell".into(), Some(low), Some(high))]);
            }
        }
    }
}

#[test]
fn what_is_no_number_has_no_bar() {
    for margin in [(f64::NAN, f64::NAN), (0.0, f64::NAN), (f64::NAN, 1.0)] {
        for unit in [None, Some("sr")] {
            let svg = drawn(&[row("g", Verdict::CannotTell, Some(margin), unit)]);
            let (_, _, low, high) = read(&svg).remove(0);
            assert_eq!(
                (low.map(f64::is_nan), high.map(f64::is_nan)),
                (Some(margin.0.is_nan()), Some(margin.1.is_nan()))
            );
        }
    }
}

#[test]
fn shares_come_first_and_what_is_missed_comes_first_in_them() {
    let rows = [
        row("deg", Verdict::Missed, Some((-3.0, -2.0)), Some("deg")),
        row("none", Verdict::NotApplicable, None, None),
        row("met", Verdict::Met, Some((0.5, 0.5)), None),
        row("unsure", Verdict::CannotTell, Some((-0.5, 0.5)), None),
        row("missed", Verdict::Missed, Some((-0.5, -0.5)), None),
    ];
    let read = read(&drawn(&rows));
    let order: Vec<_> = read.iter().map(|(goal, ..)| goal.as_str()).collect();
    assert_eq!(order, ["missed", "unsure", "met", "deg", "none"]);
    assert_eq!((read[4].1.as_str(), read[4].2, read[4].3), ("not applicable", None, None));
}
