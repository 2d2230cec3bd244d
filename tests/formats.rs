//! Every format carries the same goals with the same verdicts, read back by libraries that are not ours.

use lampwright::judge::Verdict;
use lampwright::report::{Baseline, Report};
use lampwright::source::Disk;
use lampwright::{Options, aircraft, check, render, rule_sets_for};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Verdict by rule set and goal; a requirement judged at several standings stands there as often.
type Verdicts = BTreeMap<(String, String), Vec<String>>;

fn examples() -> Vec<PathBuf> {
    let all = std::fs::read_dir("examples").expect("a folder").map(|e| e.expect("an entry").path());
    let text = |p: &PathBuf| std::fs::read_to_string(p).unwrap_or_default();
    all.filter(|p| text(p).lines().any(|l| l == "lampwright: aircraft 1")).collect()
}

fn report(path: &Path) -> Report {
    let model = aircraft::read(&Disk, path).expect("readable").expect("sound");
    check(&model, &rule_sets_for(&model.craft, None).expect("rule sets"), &Options::default()).expect("judged")
}

fn written(report: &Report, format: &str) -> String {
    let mut bytes = Vec::new();
    render::find(format).expect("a format").write(report, false, &mut bytes).expect("written");
    String::from_utf8(bytes).expect("text")
}

fn add(found: &mut Verdicts, set: &str, goal: &str, verdict: &str) {
    found.entry((set.to_string(), goal.to_string())).or_default().push(verdict.replace('_', " "));
}

fn from_json(text: &str) -> Verdicts {
    let value: serde_json::Value = serde_json::from_str(text).expect("JSON");
    let mut found = Verdicts::new();
    for goal in value["goals"].as_array().expect("goals") {
        let text = |key: &str| goal[key].as_str().expect("text");
        add(&mut found, text("rule_set"), text("id"), text("verdict"));
    }
    found
}

fn from_sarif(text: &str) -> Verdicts {
    let value: serde_json::Value = serde_json::from_str(text).expect("JSON");
    let run = &value["runs"][0];
    let mut found = Verdicts::new();
    for result in run["results"].as_array().expect("results") {
        // SARIF 2.1.0, sections 3.27.6 and 3.27.10: the rule by index is that of the id, and only a failure has a level.
        let index = usize::try_from(result["ruleIndex"].as_u64().expect("an index")).expect("small");
        assert_eq!(run["tool"]["driver"]["rules"][index]["id"], result["ruleId"]);
        let (kind, level) = (result["kind"].as_str().expect("a kind"), result["level"].as_str().expect("a level"));
        assert_eq!(kind == "fail", level != "none");
        let verdict = match kind {
            "fail" => "missed",
            "open" => "cannot tell",
            "pass" => "met",
            "notApplicable" => "not applicable",
            other => panic!("{other}"),
        };
        assert_eq!(result["properties"]["verdict"], verdict);
        let set = result["ruleId"].as_str().expect("an id").split('/').next().expect("a set");
        add(&mut found, set, result["properties"]["goal"].as_str().expect("a goal"), verdict);
    }
    found
}

fn from_junit(text: &str) -> Verdicts {
    let document = roxmltree::Document::parse(text).expect("XML");
    let mut found = Verdicts::new();
    for case in document.descendants().filter(|n| n.has_tag_name("testcase")) {
        let verdict = case
            .descendants()
            .find(|n| n.attribute("name") == Some("verdict"))
            .and_then(|n| n.attribute("value"))
            .expect("a verdict");
        let has = |tag: &str| case.children().any(|n| n.has_tag_name(tag));
        assert!(!has("failure") || verdict == "missed");
        assert_eq!(!has("failure") && !has("skipped"), verdict == "met");
        let name = |key: &str| case.attribute(key).expect("a name");
        add(&mut found, name("classname"), name("name"), verdict);
    }
    found
}

fn from_markdown(text: &str) -> Verdicts {
    let mut found = Verdicts::new();
    for row in text.lines().filter(|l| l.starts_with("| ") && !l.starts_with("| verdict") && !l.starts_with("| ---")) {
        // Cells end at bars that are not escaped.
        let cells: Vec<&str> = row.split(" | ").collect();
        assert_eq!(cells.len(), 6, "{row}");
        let verdict = cells[0].trim_start_matches("| ");
        let goal = cells[1].rsplit('`').nth(1).expect("a goal in code");
        let (set, goal) = goal.split_once('/').expect("set and goal");
        add(&mut found, set, goal, verdict);
    }
    found
}

#[test]
fn every_format_carries_the_same_verdicts() {
    let mut looked_at = 0;
    for path in examples() {
        let report = report(&path);
        let mut wanted = Verdicts::new();
        for goal in &report.goals {
            add(&mut wanted, &goal.rule_set, &goal.id, goal.verdict.as_str());
        }
        looked_at += report.goals.len();
        assert_eq!(from_json(&written(&report, "json")), wanted);
        assert_eq!(from_sarif(&written(&report, "sarif")), wanted, "{}", path.display());
        assert_eq!(from_junit(&written(&report, "junit")), wanted, "{}", path.display());
        assert_eq!(from_markdown(&written(&report, "markdown")), wanted, "{}", path.display());
        let text = written(&report, "text");
        for verdict in [Verdict::Missed, Verdict::CannotTell, Verdict::Met, Verdict::NotApplicable] {
            let count = report.goals.iter().filter(|g| g.verdict == verdict).count();
            let mut heading = format!("{verdict}: {count}");
            heading[..1].make_ascii_uppercase();
            assert!(count == 0 || text.lines().any(|l| l.starts_with(&heading)), "{heading}");
        }
    }
    assert!(looked_at > 300);
}

#[test]
fn what_decides_fails_in_junit_and_is_an_error_in_sarif() {
    for path in examples() {
        let report = report(&path);
        let missed = report.goals.iter().filter(|g| g.binding && g.verdict == Verdict::Missed).count();
        let sarif: serde_json::Value = serde_json::from_str(&written(&report, "sarif")).expect("JSON");
        let results = sarif["runs"][0]["results"].as_array().expect("results");
        assert_eq!(results.iter().filter(|r| r["level"] == "error").count(), missed);
        let junit = written(&report, "junit");
        let document = roxmltree::Document::parse(&junit).expect("XML");
        assert_eq!(document.root_element().attribute("failures"), Some(missed.to_string().as_str()));
        assert_eq!(document.descendants().filter(|n| n.has_tag_name("failure")).count(), missed);
    }
}

#[test]
fn only_what_failed_is_new_or_unchanged() {
    // SARIF 2.1.0, section 3.27.24: a baseline state says how a result compares with the earlier run, and of what did not
    // fail the earlier run is not asked.
    let mut report = report(Path::new("examples/merlewood-m20.yaml"));
    Baseline::read(&written(&report, "json")).expect("a baseline").mark(&mut report);
    let sarif: serde_json::Value = serde_json::from_str(&written(&report, "sarif")).expect("JSON");
    for result in sarif["runs"][0]["results"].as_array().expect("results") {
        let state = result.get("baselineState").and_then(|s| s.as_str());
        assert_eq!(state, (result["kind"] == "fail").then_some("unchanged"), "{result}");
    }
}

#[test]
fn a_strict_check_fails_in_junit_where_it_ends_with_1() {
    let mut report = report(Path::new("examples/oldbury-tern.yaml"));
    report.strict = true;
    let open = |g: &&lampwright::report::GoalReport| g.binding && g.fails(true);
    let failing = report.goals.iter().filter(open).count();
    assert!(failing > report.goals.iter().filter(|g| g.fails(false)).count());
    let junit = written(&report, "junit");
    let document = roxmltree::Document::parse(&junit).expect("XML");
    assert_eq!(document.root_element().attribute("failures"), Some(failing.to_string().as_str()));
}
