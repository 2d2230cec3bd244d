//! The house keeps itself: rooms in order, lists complete, every value of a bundled file at a real place.

use lampwright::aircraft::Aircraft;
use lampwright::rules::{Bundled, RuleSet, bundled, shared_text};
use lampwright::source::{Disk, Kind, Node, Sink, parse};
use lampwright::{Options, bundled_rule_sets, check, measure, render};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The rooms from left to right: a room may use what stands left of it.
const ROOMS: [&str; 20] = [
    "error",
    "units",
    "spread",
    "source",
    "geometry",
    "colorimetry",
    "timing",
    "photometry",
    "rules",
    "aircraft",
    "scene",
    "resolve",
    "measure",
    "judge",
    "report",
    "render",
    "check",
    "lint",
    "cli",
    "main",
];

fn files_below(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            found.extend(files_below(&path, ending));
        } else if path.extension().is_some_and(|e| e == ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

#[test]
fn rooms_use_only_what_stands_left_of_them() {
    let place = |room: &str| ROOMS.iter().position(|r| *r == room);
    let mut looked_at = 0;
    for file in files_below(Path::new("src"), "rs") {
        let first = file.components().nth(1).expect("a room").as_os_str().to_string_lossy().to_string();
        let room = first.trim_end_matches(".rs").to_string();
        if room == "lib" {
            continue;
        }
        let own = place(&room).unwrap_or_else(|| panic!("{room} is not in the list of rooms"));
        let text = std::fs::read_to_string(&file).expect("text");
        for line in text.lines().filter(|l| !l.trim_start().starts_with("//")) {
            for used in line.split("crate::").skip(1) {
                // `crate::{a, b}` names several rooms.
                let names: Vec<&str> = match used.strip_prefix('{') {
                    Some(list) => list.split('}').next().unwrap_or("").split(',').map(str::trim).collect(),
                    None => vec![used],
                };
                for name in names {
                    let name: String = name.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                    if let Some(other) = place(&name) {
                        looked_at += 1;
                        assert!(other <= own, "{} uses crate::{name}, which stands right of {room}", file.display());
                    }
                }
            }
        }
    }
    assert!(looked_at > 100, "only {looked_at} uses were found");
}

fn stems(folder: &str, without: &[&str]) -> BTreeSet<String> {
    let all = std::fs::read_dir(folder).expect("a folder").map(|e| e.expect("an entry").path());
    let files = all.filter(|p| p.extension().is_some_and(|e| e == "rs"));
    let stems = files.map(|p| p.file_stem().expect("a name").to_string_lossy().to_string());
    stems.filter(|s| !without.contains(&s.as_str())).collect()
}

#[test]
fn every_measure_is_listed_under_the_name_of_its_file() {
    let listed: BTreeSet<String> = measure::ALL.iter().map(|q| q.id().replace([' ', '-'], "_")).collect();
    assert_eq!(listed.len(), measure::ALL.len(), "two quantities of one name");
    assert_eq!(listed, stems("src/measure", &["mod", "clearing", "finding", "vet", "zones"]));
}

#[test]
fn every_format_is_listed_under_the_name_of_its_file() {
    let listed: BTreeSet<String> = render::ALL.iter().map(|r| r.name().to_string()).collect();
    assert_eq!(listed, stems("src/render", &["mod"]));
}

#[test]
fn every_rule_file_is_bundled() {
    let on_disk: BTreeSet<String> =
        files_below(Path::new("rules"), "yaml").iter().map(|p| p.display().to_string()).collect();
    let sets: BTreeSet<String> = bundled().iter().map(|b| b.path.to_string()).collect();
    let shared = on_disk.difference(&sets).cloned().collect::<Vec<_>>();
    for path in &shared {
        let name = path.strip_prefix("rules/shared/").and_then(|p| p.strip_suffix(".yaml"));
        let text = shared_text(name.unwrap_or_else(|| panic!("{path} is not bundled"))).expect("bundled");
        assert_eq!(text, std::fs::read_to_string(path).expect("text"));
    }
    for Bundled { path, text } in bundled() {
        assert_eq!(*text, std::fs::read_to_string(path).expect("text"));
    }
    assert!(sets.len() >= 3 && shared.len() >= 3);
}

fn sets() -> Vec<RuleSet> {
    bundled_rule_sets().expect("sound")
}

#[test]
fn ids_are_unique_and_every_quantity_is_known_and_used() {
    let mut ids = BTreeSet::new();
    let mut used = BTreeSet::new();
    for set in sets() {
        assert!(ids.insert((set.id.clone(), String::new())), "{}", set.id);
        // Documents of one authority that took each other's place call the same requirement the same.
        // What a craft and what a sequence is held against never stand in one report.
        let whose = set.basis.as_ref().map_or(set.judges.to_string(), |b| format!("{:?} {}", b.authorities, set.id));
        for requirement in &set.requirements {
            assert!(ids.insert((requirement.id.clone(), whose.clone())), "{}", requirement.id);
            used.extend(requirement.demand.goals().iter().map(|g| g.quantity.value.clone()));
        }
        assert_eq!(measure::vet(&set), Vec::new());
        assert_eq!(lampwright::rules::audit(&set), Vec::new());
    }
    let known: BTreeSet<String> = measure::ALL.iter().map(|q| q.id().to_string()).collect();
    assert_eq!(known, used);
}

#[test]
fn every_checked_paragraph_has_a_requirement_and_every_requirement_a_paragraph() {
    use lampwright::rules::ParagraphStatus::Checked;
    let section = |text: &str| text.split(['(', ' ']).next().unwrap_or_default().to_string();
    for set in sets().iter().filter(|s| !s.paragraphs.is_empty()) {
        let checked: BTreeSet<String> =
            set.paragraphs.iter().filter(|p| p.status == Checked).map(|p| section(&p.section)).collect();
        let cited: BTreeSet<String> =
            set.requirements.iter().flat_map(|r| r.cite.split(", ").map(section)).filter(|s| !s.is_empty()).collect();
        assert_eq!(cited, checked);
    }
}

#[test]
fn every_located_value_of_bundled_rules_has_a_real_place() {
    let mut count = 0;
    let mut real = |at: &lampwright::source::At, what: &str| {
        count += 1;
        assert!(at.is_real() && at.column > 0, "{what}: {at}");
    };
    for set in sets() {
        real(&set.at, &set.id);
        set.paragraphs.iter().for_each(|p| real(&p.at, &p.section));
        set.readings.iter().for_each(|(name, r)| real(&r.at, name));
        for requirement in &set.requirements {
            real(&requirement.at, &requirement.id);
            requirement.demand.goals().iter().for_each(|g| {
                real(&g.at, &requirement.id);
                real(&g.quantity.at, &requirement.id);
            });
        }
    }
    assert!(count > 150, "{count}");
}

/// A tree as plain text, for comparing readers.
fn plain(node: &Node) -> serde_json::Value {
    match node {
        Node::Scalar { kind: Kind::Null, .. } => serde_json::Value::Null,
        Node::Scalar { text, kind: Kind::Number, .. } => serde_json::json!(text.parse::<f64>().expect("a number")),
        Node::Scalar { text, kind: Kind::Truth, .. } => serde_json::json!(text == "true"),
        Node::Scalar { text, .. } => serde_json::json!(text),
        Node::List { items, .. } => items.iter().map(plain).collect(),
        Node::Map { entries, .. } => {
            let map: BTreeMap<String, serde_json::Value> =
                entries.iter().map(|(k, _, v)| (k.clone(), plain(v))).collect();
            serde_json::json!(map)
        }
    }
}

/// Numbers as floats and mappings sorted, so that only meaning is compared.
fn levelled(value: serde_json::Value) -> serde_json::Value {
    match value {
        serde_json::Value::Number(n) => serde_json::json!(n.as_f64()),
        serde_json::Value::Array(items) => items.into_iter().map(levelled).collect(),
        serde_json::Value::Object(map) => {
            let map: BTreeMap<String, serde_json::Value> = map.into_iter().map(|(k, v)| (k, levelled(v))).collect();
            serde_json::json!(map)
        }
        other => other,
    }
}

/// serde_yaml reads by the YAML 1.2 core schema; serde-saphyr without strict booleans reads words as YAML 1.1 does.
#[test]
fn yaml_1_1_and_1_2_readers_agree_on_every_shipped_file() {
    let mut files = files_below(Path::new("rules"), "yaml");
    files.extend(files_below(Path::new("examples"), "yaml"));
    files.extend(files_below(Path::new("src"), "yaml"));
    files.extend(files_below(Path::new("tests/worked"), "yaml"));
    assert!(files.len() >= 18, "{}", files.len());
    for file in files {
        let text = std::fs::read_to_string(&file).expect("text");
        let mut sink = Sink::new();
        let ours = plain(&parse("x", &text, &mut sink).expect("reads"));
        let core: serde_json::Value = serde_yaml::from_str(&text).expect("YAML 1.2");
        assert_eq!(ours, levelled(core), "{}", file.display());
        // YAML 1.1 readers take a bare day for a timestamp: days stand in quotes.
        let day = |word: &str| {
            word.len() == 10
                && word.chars().enumerate().all(|(n, c)| if n == 4 || n == 7 { c == '-' } else { c.is_ascii_digit() })
        };
        let bare = text.lines().map(|l| l.split('#').next().unwrap_or("")).any(|l| {
            let value =
                |part: &str| part.split_once(": ").is_some_and(|(_, v)| day(v.trim_end_matches(['}', ']', ' '])));
            !l.contains(" to ") && l.split(", ").any(value)
        });
        assert!(!bare, "{}: a day without quotes", file.display());
        let old: serde_json::Value = serde_saphyr::from_str(&text).expect("YAML 1.1");
        assert_eq!(ours, levelled(old), "{}", file.display());
    }
}

fn examples() -> Vec<(PathBuf, Aircraft)> {
    let files = files_below(Path::new("examples"), "yaml");
    let aircraft =
        files.into_iter().filter(|f| std::fs::read_to_string(f).expect("text").starts_with("lampwright: aircraft"));
    aircraft.map(|f| (f.clone(), lampwright::aircraft::read(&Disk, &f).expect("readable").expect("sound"))).collect()
}

#[test]
fn every_rule_set_judges_every_example() {
    let (sets, examples) = (sets(), examples());
    assert!(examples.len() >= 4);
    for (file, aircraft) in &examples {
        for set in &sets {
            let options = Options { rule_set: Some(set.id.clone()), only: vec![set.id.clone()] };
            let report = check(aircraft, &sets, &options).expect("judged");
            let goals: Vec<_> =
                report.goals.iter().chain(report.local_rules.iter().flat_map(|rule| &rule.goals)).collect();
            // A document without figures has paragraphs and nothing to judge.
            let silent = set.requirements.is_empty() && !set.paragraphs.is_empty();
            assert_eq!(goals.is_empty(), silent, "{} by {}", file.display(), set.id);
            for goal in goals {
                let decided =
                    matches!(goal.verdict, lampwright::judge::Verdict::Met | lampwright::judge::Verdict::Missed);
                assert!(!decided || goal.required.is_some() && goal.found.is_some(), "{}: {}", file.display(), goal.id);
                assert!(decided || goal.reason.is_some(), "{}: {} gives no reason", file.display(), goal.id);
            }
        }
    }
}
