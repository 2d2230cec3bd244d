//! The shipped examples give the findings they were written for.

use lampwright::judge::Verdict::{self, CannotTell, Met, Missed};
use lampwright::report::Report;
use lampwright::source::Disk;
use lampwright::{Options, bundled_rule_sets, check, render};
use rstest::rstest;
use std::path::Path;

fn report(name: &str) -> Report {
    let path = format!("examples/{name}.yaml");
    let aircraft = lampwright::aircraft::read(&Disk, Path::new(&path)).expect("readable").expect("sound");
    check(&aircraft, &bundled_rule_sets().expect("sound"), &Options::default()).expect("judged")
}

fn verdict(report: &Report, id: &str) -> Verdict {
    report.goals.iter().find(|g| g.id == id).unwrap_or_else(|| panic!("no goal {id}")).verdict
}

/// What can be said of ten lines with LEDs known by their bags alone: reasoned from the trade's ranges, not from output.
#[rstest]
// Red and green sit on the sides they are aimed to (common practice, no source: red left, green right).
#[case("left-light-side", Met)]
#[case("right-light-side", Met)]
// Red power LEDs are 615 to 640 nm, all of it beyond the limit of 609.7 nm (14 CFR 25.1397(a) by dominant wavelength).
#[case("left-light-colour/left tip", Met)]
// Green ones are 515 to 537 nm, which straddles the limit of 534.4 nm.
#[case("right-light-colour/right tip", CannotTell)]
// 46 per minute lies between 40 and 100.
#[case("anti-collision-frequency/one source", Met)]
// 38 lm, hot: 5.4 cd x 64 x 0.48 at 55 deg off = 166 cd against 40.
#[case("left-light-horizontal", Met)]
// A 5 mm LED of 18 to 32 deg says nothing at 70 deg off the stern.
#[case("rear-light-horizontal", CannotTell)]
// A star that points down hides the upper half of the band, 6.07 sr.
#[case("anti-collision-field", Missed)]
// No mask: at 10 deg across the nose the lamp is only 65 deg off its axis.
#[case("red-in-R/area A", Missed)]
#[case("green-in-L/area A", Missed)]
fn the_ten_line_file(#[case] id: &str, #[case] wanted: Verdict) {
    assert_eq!(verdict(&report("merlewood-m20"), id), wanted);
}

#[test]
fn the_ten_line_file_is_told_what_would_help() {
    let report = report("merlewood-m20");
    let goal = |id: &str| report.goals.iter().find(|g| g.id == id).expect("a goal");
    let said = |id: &str| {
        let goal = goal(id);
        let adds = goal.reason.iter().flat_map(|r| r.add.iter().map(|(_, what)| what.clone()));
        goal.to_meet.iter().cloned().chain(adds).collect::<Vec<_>>().join(" ")
    };
    assert!(said("right-light-colour/right tip").contains("520-530 nm bin"));
    assert!(said("rear-light-horizontal").contains("beam is stated only to 16 deg"));
    assert!(said("anti-collision-field").contains("add a beacon on the other side"));
    assert!(said("red-in-R/area A").contains("fit a mask"));
    assert!(
        report.goals.iter().any(|g| g.readings.iter().any(|r| r.contains("no channel is given: taken as always lit")))
    );
}

#[test]
fn the_good_example_meets_every_required_goal() {
    let report = report("harrowgate-h4");
    let missing: Vec<&str> = report
        .goals
        .iter()
        .filter(|g| g.binding && !matches!(g.verdict, Met | Verdict::NotApplicable))
        .map(|g| g.id.as_str())
        .collect();
    assert_eq!(missing, Vec::<&str>::new());
    assert!(report.required.met >= 50);
    assert_eq!(report.lamps_unjudged, ["nose landing light"]);
}

/// Each of the mistakes people make, found by the goal it concerns.
#[rstest]
// Red and green swapped.
#[case("left-light-side")]
#[case("right-light-side")]
// A yellowish green LED.
#[case("right-light-colour/green tip")]
// A red rear lamp like a car's.
#[case("rear-light-colour/tail")]
// A rear lamp seen from ahead.
#[case("white-in-L/area B")]
#[case("rear-light-unbroken")]
// Full-size intensity on a small model.
#[case("forward-lights-bright-for-the-scale/left")]
// 2 Hz is 120 a minute.
#[case("anti-collision-frequency/one source")]
// A tail strobe on a flasher of its own.
#[case("strobes-together")]
#[case("strobes-stay-together")]
fn the_mistakes_people_make(#[case] id: &str) {
    assert_eq!(verdict(&report("wexcombe-sparrow"), id), Missed);
}

#[test]
fn a_model_of_which_little_is_known_mostly_cannot_be_told() {
    let report = report("oldbury-tern");
    assert!(report.required.cannot_tell > 4 * (report.required.met + report.required.missed));
    for goal in report.goals.iter().filter(|g| g.verdict == CannotTell) {
        let reason = goal.reason.as_ref().expect("a reason");
        let told = !reason.add.is_empty() || goal.to_meet.is_some() || reason.kind == "figure not at hand";
        assert!(told, "{} does not say what to add: {}", goal.id, reason.text);
    }
}

/// Text and JSON carry the same goals and the same verdicts.
#[rstest]
#[case("merlewood-m20")]
#[case("harrowgate-h4")]
#[case("wexcombe-sparrow")]
#[case("oldbury-tern")]
fn every_format_carries_the_same_verdicts(#[case] name: &str) {
    let report = report(name);
    let written = |format: &str| {
        let mut out = Vec::new();
        render::find(format).expect("a format").write(&report, false, &mut out).expect("written");
        String::from_utf8(out).expect("UTF-8")
    };
    let json: serde_json::Value = serde_json::from_str(&written("json")).expect("JSON");
    let text = written("text");
    let goals = json["goals"].as_array().expect("goals");
    assert_eq!(goals.len(), report.goals.len());
    for (key, heading, verdict) in
        [("missed", "Missed: ", Missed), ("cannot_tell", "Cannot tell: ", CannotTell), ("met", "Met: ", Met)]
    {
        let ours = report.goals.iter().filter(|g| g.verdict == verdict).count();
        let in_json = goals.iter().filter(|g| g["verdict"] == key).count();
        assert_eq!(in_json, ours);
        assert_eq!(json["tally_of_all"][key].as_u64(), Some(ours as u64));
        let line = text.lines().find(|l| l.starts_with(heading));
        let in_text: usize = line.map_or(0, |l| {
            l[heading.len()..].chars().take_while(char::is_ascii_digit).collect::<String>().parse().expect("a count")
        });
        assert_eq!(in_text, ours, "{heading}");
    }
    assert_eq!(text.matches("Model aircraft are governed by the rules where they are flown").count(), 1);
}

/// README shows the ten-line file as it is shipped, and output as it is printed.
#[test]
fn readme_shows_what_the_program_prints() {
    let readme = std::fs::read_to_string("README.md").expect("text");
    let file = std::fs::read_to_string("examples/merlewood-m20.yaml").expect("text");
    assert!(readme.contains(&format!("```yaml\n{file}```")), "the ten-line file differs");
    let shown = readme.split("```text\n").nth(1).and_then(|rest| rest.split("```").next()).expect("an output block");
    let mut out = Vec::new();
    render::find("text").expect("a format").write(&report("merlewood-m20"), false, &mut out).expect("written");
    let printed = String::from_utf8(out).expect("UTF-8");
    let blocks: Vec<&str> = shown.trim().split("\n\n").collect();
    assert!(blocks.len() >= 5);
    for block in blocks {
        assert!(printed.contains(block), "README shows what is not printed:\n{block}");
    }
}
