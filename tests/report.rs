//! The documentation of lights: the same verdicts as a check, figures whose numbers are the report's, pages that ask for nothing.

use lampwright::aircraft::{Aircraft, read};
use lampwright::judge::Verdict;
use lampwright::measure::Measured;
use lampwright::report::evidence::{About, Cover, Shape};
use lampwright::report::{Documentation, GoalReport, Method, Observer};
use lampwright::rules::Unit;
use lampwright::source::{Disk, Memory};
use lampwright::{Options, document, render, rule_sets_for};
use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::PI;
use std::path::{Path, PathBuf};

fn examples() -> Vec<PathBuf> {
    let all = std::fs::read_dir("examples").expect("a folder").map(|e| e.expect("an entry").path());
    let is_aircraft = |p: &PathBuf| std::fs::read_to_string(p).is_ok_and(|t| t.starts_with("lampwright: aircraft"));
    let mut found: Vec<PathBuf> = all.filter(is_aircraft).collect();
    found.sort();
    assert!(found.len() >= 6, "{found:?}");
    found
}

fn aircraft(path: &Path) -> Aircraft {
    read(&Disk, path).expect("there").unwrap_or_else(|r| panic!("{}", r.show(false)))
}

fn seen_from(path: &Path, observer: Observer) -> Option<Documentation> {
    let model = aircraft(path);
    let sets = rule_sets_for(&model.craft, None).ok()?;
    document(&model, &sets, &Options::default(), observer, Method::default()).ok()
}

fn documented(path: &str) -> Documentation {
    seen_from(Path::new(path), Observer::default()).expect("judged")
}

fn every() -> Vec<(PathBuf, Documentation)> {
    let all: Vec<_> =
        examples().into_iter().filter_map(|p| Some((p.clone(), seen_from(&p, Observer::default())?))).collect();
    assert!(all.len() >= 5, "most examples can be judged");
    all
}

fn drawings(page: &str) -> Vec<&str> {
    page.split("<svg").skip(1).map(|rest| &rest[..rest.find("</svg>").expect("closed")]).collect()
}

fn json(documentation: &Documentation) -> serde_json::Value {
    let mut bytes = Vec::new();
    render::find("json").expect("a format").write(&documentation.report, false, &mut bytes).expect("written");
    serde_json::from_slice(&bytes).expect("JSON")
}

/// A verdict, and the two ends of a margin.
type Row = (String, Option<f64>, Option<f64>);

/// A number as the report's JSON writes it, where infinity has a word of its own or none.
fn number(value: &serde_json::Value) -> Option<f64> {
    value.as_f64()
}

#[test]
fn the_numbers_of_the_margin_chart_are_those_of_the_report() {
    for (path, made) in every() {
        let page = render::page::html(&made, None);
        let report = json(&made);
        let mut rows: BTreeMap<(String, String), Row> = BTreeMap::new();
        for drawing in drawings(&page) {
            let svg = format!("<svg{drawing}</svg>");
            let tree = roxmltree::Document::parse(&svg).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
            for row in tree.descendants().filter(|n| n.has_attribute("data-goal")) {
                let word = |name: &str| row.attribute(name).unwrap_or_default().to_string();
                let value = |name: &str| row.attribute(name).map(|v| v.parse().expect("a number"));
                let of = (word("data-verdict"), value("data-low"), value("data-high"));
                assert!(rows.insert((word("data-rule-set"), word("data-goal")), of).is_none(), "twice");
            }
        }
        let goals = report["goals"].as_array().expect("goals");
        assert_eq!(rows.len(), goals.len(), "{}", path.display());
        for goal in goals {
            let word = |name: &str| goal[name].as_str().expect(name).to_string();
            let (verdict, low, high) = &rows[&(word("rule_set"), word("id"))];
            assert_eq!(verdict.replace(' ', "_"), word("verdict"));
            let margin = &goal["margin"];
            if let Some(told) = number(&margin["low"]) {
                assert_eq!(*low, Some(told), "{}", word("id"));
            }
            if let Some(told) = number(&margin["high"]) {
                assert_eq!(*high, Some(told), "{}", word("id"));
            }
        }
    }
}

#[test]
fn every_goal_stands_in_the_page_with_its_verdict() {
    for (path, made) in every() {
        let page = render::page::html(&made, None);
        for goal in &made.report.goals {
            let row = format!("data-rule-set=\"{}\" data-goal=\"{}\"", escaped(&goal.rule_set), escaped(&goal.id));
            assert!(page.contains(&row), "{}: {row}", path.display());
        }
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[test]
fn a_page_asks_for_nothing_and_is_small() {
    for (path, made) in every() {
        let page = render::page::html(&made, None);
        assert!(page.len() < 1_500_000, "{}: {} bytes", path.display(), page.len());
        for attribute in ["src=", "href=\"http", "url(http", "@import", "srcset", "<link", "<img", "<iframe"] {
            assert!(!page.contains(attribute), "{}: {attribute}", path.display());
        }
        // What is drawn is named for those who do not see it, and no name stands twice.
        let mut ids = BTreeSet::new();
        for id in page.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()) {
            assert!(ids.insert(id.to_string()), "{}: `{id}` stands twice", path.display());
        }
        for drawing in drawings(&page) {
            assert!(drawing.contains("role=\"img\"") && drawing.contains("<title") && drawing.contains("<desc"));
        }
    }
}

#[test]
fn the_fields_of_a_map_are_the_whole_sphere() {
    let made = documented("examples/harrowgate-h4.yaml");
    let mut maps = 0;
    for figure in &made.figures {
        let Shape::Sphere(map) = &figure.shape else { continue };
        maps += 1;
        let whole: f64 = map.areas.iter().map(|(_, sr)| sr).sum();
        assert!((whole - 4.0 * PI).abs() < 1e-9, "a sphere is 4 pi sr, and this {whole}");
    }
    assert_eq!(maps, 4, "left, right, rear, anti-collision");
}

#[test]
fn a_map_tells_what_the_checks_tell() {
    // The Merlewood has no top beacon: above the horizon its belly beacon is behind its own body (the shape of the example).
    let made = documented("examples/merlewood-m20.yaml");
    let map = made.figures.iter().find(|f| f.id == "anti-collision-sphere").expect("drawn");
    let Shape::Sphere(map) = &map.shape else { panic!("a map") };
    let masked: f64 = map.areas.iter().filter(|(cover, _)| *cover == Cover::Masked).map(|(_, sr)| sr).sum();
    assert!((masked - 2.0 * PI).abs() < 0.2, "half of the sphere is 2 pi sr: {masked}");
    assert!(map.fields.last().is_some_and(|row| row.iter().all(|c| *c == Cover::Masked)), "straight up");
}

fn made(lines: &str) -> Documentation {
    let files = Memory::new().with("x.yaml", lines);
    let model = read(&files, Path::new("x.yaml")).expect("there").unwrap_or_else(|r| panic!("{}", r.show(false)));
    let sets = rule_sets_for(&model.craft, None).expect("a rule set");
    document(&model, &sets, &Options::default(), Observer::default(), Method::default()).expect("judged")
}

#[test]
fn a_map_is_short_where_a_check_misses_and_nowhere_else() {
    let mut looked_at = (0, 0);
    for (path, made) in every() {
        for figure in &made.figures {
            let (Shape::Sphere(map), About::Sphere { light }) = (&figure.shape, &figure.about) else { continue };
            let own = |goal: &&GoalReport| {
                let of_light =
                    goal.light == *light || light == "anti-collision" && goal.light.contains("anti-collision");
                goal.binding && of_light && goal.found.as_ref().is_some_and(|f| f.unit == Unit::Candela)
            };
            let goals: Vec<&GoalReport> = made.report.goals.iter().filter(own).collect();
            let wrong: f64 =
                map.areas.iter().filter(|(c, _)| matches!(c, Cover::Short | Cover::Spill)).map(|(_, sr)| sr).sum();
            let hidden: f64 =
                map.areas.iter().filter(|(c, _)| matches!(c, Cover::Masked | Cover::Airframe)).map(|(_, sr)| sr).sum();
            if goals.iter().any(|g| g.verdict == Verdict::Missed) {
                looked_at.0 += 1;
                assert!(wrong + hidden > 0.0, "{}: {}", path.display(), figure.id);
            } else if !goals.is_empty() && goals.iter().all(|g| g.margin.is_some_and(|m| m.low >= 0.0)) {
                looked_at.1 += 1;
                assert!(wrong < 1e-12, "{}: {} has {wrong} sr of it", path.display(), figure.id);
            }
        }
    }
    assert!(looked_at.0 > 3 && looked_at.1 > 0, "{looked_at:?}");
}

const BALLOON: &str = "lampwright: aircraft 1
model: {title: Thistledown, scale: \"1:8\"}
prototype: {category: balloon, authority: US, applied: 1990, depicted: 1990, night: true}
emitters:
  lamp: {from: measured, chromaticity: {x: 0.7, y: 0.299}, peak: 1 cd, table: {0 deg: 100 %, 180 deg: 100 %}}
lamps:
  beacon: {light: beacon, emitter: lamp, aim: down, flash: {rate: 60 per min, lit: 100 ms}}
";

#[test]
fn a_figure_looks_at_the_intensity_that_its_goal_looks_at() {
    // 14 CFR 31.65 measures a flashing light kept on: 1 cd of a 1:8 model is 64 cd all round, ten times its mean of 6.4 cd.
    let made = made(BALLOON);
    let kept_on = made.figures.iter().find(|f| matches!(f.about, About::Horizon { measured: Measured::FullLevel, .. }));
    let Some(Shape::Polar(polar)) = kept_on.map(|f| &f.shape) else {
        panic!("{:?}", made.figures.iter().map(|f| &f.id).collect::<Vec<_>>())
    };
    assert!(polar.points.iter().all(|p| (p.found.low - 64.0).abs() < 1e-9 && (p.found.high - 64.0).abs() < 1e-9));
}

#[test]
fn frames_never_flash_more_than_three_times_in_a_second() {
    // The line of WCAG 2.2, success criterion 2.3.1; patterns that bunch their pulses, and two that fill each other's darks.
    let lamp = |name: &str, pattern: &str, at: &str| {
        format!(
            "  {name}: {{light: strobe, emitter: cool white 3 W star, aim: up, place: \"{at}, forward 0 mm, up 0 mm\", {pattern}}}\n"
        )
    };
    let head = "lampwright: aircraft 1\nmodel: {title: Burst, scale: \"1:8\"}\nprototype: {category: transport aeroplane, authority: US, applied: 1990}\nlamps:\n";
    let six = lamp(
        "six",
        "steps: [{repeat: {times: 6, steps: [{lit: 25 ms}, {dark: 50 ms}]}}, {dark: 1550 ms}]",
        "left 100 mm",
    );
    let slow = lamp("slow", "flash: {rate: 3 per min, lit: 40 ms}", "right 100 mm");
    let two = lamp("two", "flash: {rate: 170 per min, lit: 40 ms}", "right 50 mm");
    for lamps in [six.clone(), slow.clone(), format!("{six}{two}"), format!("{six}{slow}"), format!("{slow}{two}")] {
        let night = made(&format!("{head}{lamps}")).night;
        let frames = night.lamps.iter().map(|l| l.levels.len()).max().expect("lamps");
        let shown_ms = night.frame_ms * night.slowed;
        // Played by hand, three rounds of it: when any lamp that was dark in one frame is lit in the next.
        let lit = |n: usize| -> Vec<bool> { night.lamps.iter().map(|l| l.levels[n % frames] > 0.1).collect() };
        let begins: Vec<f64> = (1..3 * frames)
            .filter(|n| lit(n - 1).iter().zip(lit(*n)).any(|(before, now)| !before && now))
            .map(|n| n as f64 * shown_ms)
            .collect();
        assert!(!begins.is_empty());
        for from in &begins {
            let within = begins.iter().filter(|t| (*from..*from + 1000.0 - 1e-6).contains(*t)).count();
            assert!(within <= 3, "{within} flashes in a second, slowed {} times: {lamps}", night.slowed);
        }
    }
}

#[test]
fn channels_on_several_clocks_name_them() {
    let made = documented("examples/harrowgate-h4.yaml");
    assert!(made.timing.tracks.len() > 2 && made.timing.tracks.iter().all(|t| t.clock.is_some()));
    // The belly light has a pattern of its own, which shares no clock.
    let alone = made.timing.tracks.iter().find(|t| t.name == "dusk light").and_then(|t| t.clock.as_deref());
    assert_eq!(alone, Some("of its own"));
    // One channel has nothing to drift against.
    assert!(documented("examples/merlewood-m20.yaml").timing.tracks.iter().all(|t| t.clock.is_none()));
}

#[test]
fn an_observer_sees_left_and_right_as_they_are() {
    let at = |azimuth_deg: f64| {
        let observer = Observer { azimuth_deg, elevation_deg: 0.0, distance_m: 15.0 };
        seen_from(Path::new("examples/harrowgate-h4.yaml"), observer).expect("judged").night
    };
    let place = |azimuth_deg: f64, name: &str| {
        let night = at(azimuth_deg);
        night.lamps.iter().find(|l| l.name == name).map(|l| l.at).expect("a lamp")
    };
    // From ahead the left wing is on the right hand, from astern on the left; the lamp is 60 mm above the datum.
    let [across, up] = place(0.0, "left tip, main");
    assert!((across - 1140.0).abs() < 1e-9 && (up - 60.0).abs() < 1e-9);
    let [across, _] = place(180.0, "left tip, main");
    assert!((across + 1140.0).abs() < 1e-9);
    // From the right the tail, 1330 mm aft, is on the left hand.
    let [across, _] = place(90.0, "tail");
    assert!((across + 1330.0).abs() < 1e-9);
    // Illuminance is intensity over the squared distance: a 1:8 model 15 m away is a craft 120 m away.
    let night = at(0.0);
    assert_eq!(night.distance_m, (15.0, 120.0));
    for lamp in &night.lamps {
        assert!((lamp.lux.high * 120.0 * 120.0 - lamp.cd.high).abs() <= 1e-9 * lamp.cd.high.max(1.0), "{}", lamp.name);
    }
    // A position light of the left is hidden from the right by its mask.
    assert!(at(90.0).lamps.iter().any(|l| l.name == "left tip, main" && l.cd.high == 0.0));
}

#[test]
fn a_strip_shows_the_rates_of_the_file() {
    let made = documented("examples/harrowgate-h4.yaml");
    let track = |name: &str| made.timing.tracks.iter().find(|t| t.name == name).expect("a channel");
    // The file's own figures: a double flash each 1280 ms, one flash each 1200 ms, 60 a minute.
    assert_eq!((track("strobe").period_ms, track("strobe").pulses_per_flash), (1280.0, 2));
    assert_eq!((track("beacon").period_ms, track("beacon").pulses_per_flash), (1200.0, 1));
    assert!((track("dusk light").per_min - 60.0).abs() < 1e-12);
    assert_eq!(made.timing.length_ms, 1280.0);
    for track in &made.timing.tracks {
        let times: Vec<f64> = track.corners.iter().map(|[t, _]| *t).collect();
        assert!(
            times.is_sorted() && times.first() == Some(&0.0) && times.last() == Some(&made.timing.length_ms),
            "{}",
            track.name
        );
    }
}

#[test]
fn lamps_have_the_letters_of_their_colours() {
    let made = documented("examples/merlewood-m20.yaml");
    let letters: Vec<char> = made.lamps.iter().map(|l| l.hue.letter).collect();
    // As the file names its emitters: red, green, white, red.
    assert_eq!(letters, ['R', 'G', 'W', 'R']);
}

#[test]
fn the_entrants_words_stand_as_they_were_written() {
    let made = documented("examples/harrowgate-h4.yaml");
    let page = render::page::html(&made, None);
    let mut markdown = Vec::new();
    render::page::write_markdown(&made, &mut markdown).expect("written");
    let markdown = String::from_utf8(markdown).expect("UTF-8");
    for words in ["Fellbrook summer meeting", "works no. 31", "switched off for static judging"] {
        assert!(page.contains(words) && markdown.contains(words), "{words}");
    }
    assert!(markdown.contains("| 9 | top beacon, beacon |"), "{markdown}");
}
