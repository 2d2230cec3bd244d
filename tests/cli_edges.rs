//! The command line at its edges: closed pipes, hostile files, formats and files that cannot be written.

use rstest::rstest;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

const GOOD: &str = "examples/harrowgate-h4.yaml";
const TEN_LINES: &str = "examples/merlewood-m20.yaml";

fn command(words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lampwright"));
    command.args(words).current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

fn run(words: &[&str]) -> Output {
    command(words).output().expect("runs")
}

fn complaint(output: &Output) -> String {
    let text = String::from_utf8(output.stderr.clone()).expect("UTF-8");
    assert!(!text.contains("panicked"), "{text}");
    text
}

fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("edges").join(name);
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

/// A reader that takes one line and goes, as `| head -1` does, gets no panic and does not change the exit status.
#[rstest]
#[case(&["rules", "show", "us-14cfr25"], 0)]
#[case(&["schema", "rules"], 0)]
#[case(&["emitters"], 0)]
#[case(&["check", TEN_LINES, "--only", "anti-collision-field"], 1)]
fn a_reader_may_stop_early(#[case] words: &[&str], #[case] wanted: i32) {
    let mut child = command(words).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("runs");
    let mut line = String::new();
    BufReader::new(child.stdout.take().expect("a pipe")).read_line(&mut line).expect("a line");
    let mut said = String::new();
    child.stderr.take().expect("a pipe").read_to_string(&mut said).expect("UTF-8");
    let status = child.wait().expect("ends");
    assert!(!line.is_empty() && said.is_empty(), "{line}{said}");
    assert_eq!(status.code(), Some(wanted));
}

#[rstest]
#[case("bytes.yaml", b"lampwright: \xff\xfe".to_vec(), "not text in UTF-8 (byte 12)")]
#[case("large.yaml", vec![b'#'; 5 << 20], "larger than")]
#[case("empty.yaml", Vec::new(), "the file is empty")]
#[case("nul.yaml", b"lampwright: aircraft 1\nmodel: \0\n".to_vec(), "1 mistake")]
#[case("deep.yaml", b"[".repeat(50_000), "1 mistake")]
fn a_hostile_file_gets_its_message(#[case] name: &str, #[case] bytes: Vec<u8>, #[case] words: &str) {
    let path = scratch("hostile").join(name);
    std::fs::write(&path, bytes).expect("written");
    let output = run(&["check", &path.to_string_lossy()]);
    let said = complaint(&output);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains(words) && output.stdout.is_empty(), "{said}");
}

#[rstest]
#[case("examples", "it is a folder")]
#[case("examples/not-there.yaml", "cannot read")]
fn what_is_no_file_gets_its_message(#[case] path: &str, #[case] words: &str) {
    let output = run(&["check", path]);
    assert_eq!(output.status.code(), Some(2));
    assert!(complaint(&output).contains(words));
}

/// A byte order mark and the line ends of Windows change neither the verdicts nor the places told.
#[test]
fn windows_files_are_judged_alike() {
    let folder = scratch("windows");
    let good = std::fs::read_to_string(TEN_LINES).expect("text");
    let of = |name: &str, text: String| {
        let path = folder.join(name);
        std::fs::write(&path, text).expect("written");
        let output = run(&["check", &path.to_string_lossy(), "--only", "side"]);
        (output.status.code(), complaint(&output).replace(name, "FILE"))
    };
    for text in [good.clone(), good.replace("aim: aft", "aim: 180")] {
        let plain = of("plain.yaml", text.clone());
        assert_eq!(of("mark.yaml", format!("\u{feff}{text}")).0, plain.0);
        let windows = of("windows.yaml", format!("\u{feff}{}", text.replace('\n', "\r\n")));
        let places = |said: &str| said.lines().filter(|l| l.contains("-->")).map(str::to_string).collect::<Vec<_>>();
        assert_eq!((windows.0, places(&windows.1)), (plain.0, places(&plain.1)));
    }
}

#[rstest]
#[case(GOOD)]
#[case(TEN_LINES)]
fn the_format_never_changes_the_status(#[case] file: &str) {
    for strict in [&[][..], &["--strict"]] {
        let of = |format: &str| {
            let words = [&["check", file, "--only", "colour", "--format", format], strict].concat();
            run(&words).status.code()
        };
        let statuses: Vec<_> = lampwright::render::ALL.iter().map(|r| of(r.name())).collect();
        assert!(statuses.len() >= 2 && statuses.iter().all(|s| *s == statuses[0] && *s != Some(2)), "{statuses:?}");
    }
}

/// What stood in a file stays where the new report cannot take its place, and nothing is left beside it.
#[test]
fn a_path_that_cannot_be_written_is_left_alone() {
    let folder = scratch("unwritable");
    let taken = folder.join("taken");
    std::fs::create_dir_all(taken.join("inside")).expect("a folder");
    let output = run(&["check", TEN_LINES, "--only", "side", "--output", &taken.to_string_lossy()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(complaint(&output).contains("cannot write"));
    let left: Vec<_> = std::fs::read_dir(&folder).expect("a folder").map(|e| e.expect("entry").file_name()).collect();
    assert_eq!(left, ["taken"]);
    assert!(taken.join("inside").is_dir());
}

#[test]
fn a_broken_file_is_not_valid_against_its_schema() {
    for (kind, file) in [
        ("aircraft", "tests/broken/aircraft/misspelt-key.yaml"),
        ("aircraft", "tests/broken/aircraft/intensity-without-unit.yaml"),
        ("aircraft", "tests/broken/aircraft/lamp-without-aim.yaml"),
        ("sequence", "tests/broken/sequence/tick-without-unit.yaml"),
        ("sequence", "tests/broken/sequence/unknown-step.yaml"),
        ("rules", "tests/broken/rules/missing-citation.yaml"),
        ("rules", "tests/broken/rules/bare-number.yaml"),
        ("rules", "tests/broken/rules/limit-misspelt.yaml"),
    ] {
        let schema = serde_json::from_slice(&run(&["schema", kind]).stdout).expect("JSON");
        assert!(jsonschema::meta::is_valid(&schema), "{kind}");
        let text = std::fs::read_to_string(file).expect("text");
        let value: serde_json::Value = serde_yaml::from_str(&text).expect("YAML");
        assert!(!jsonschema::validator_for(&schema).expect("a schema").is_valid(&value), "{file}");
    }
}

#[test]
fn diff_tells_what_changed_and_ends_with_1_where_that_decides() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("diff");
    std::fs::create_dir_all(&folder).expect("made");
    let path = |name: &str| folder.join(name).display().to_string();
    let text = std::fs::read_to_string("examples/merlewood-m20.yaml").expect("text");
    std::fs::write(path("old.yaml"), &text).expect("written");
    std::fs::write(path("new.yaml"), text.replace("46 per min", "110 per min")).expect("written");
    let run = |words: &[&str]| {
        let ran = std::process::Command::new(env!("CARGO_BIN_EXE_lampwright")).args(words).output().expect("starts");
        (ran.status.code(), String::from_utf8(ran.stdout).expect("UTF-8"))
    };
    // 46 a minute lies between 40 and 100 (14 CFR 25.1401(c)), 110 does not.
    let (status, said) = run(&["diff", &path("old.yaml"), &path("new.yaml")]);
    assert_eq!(status, Some(1), "{said}");
    assert!(said.starts_with("Worse: 2\n") && said.contains("met: 46 per min"), "{said}");
    assert!(said.lines().all(|l| l.chars().count() <= 80 || l.contains("look at")), "{said}");
    let (status, said) = run(&["diff", &path("new.yaml"), &path("old.yaml"), "--format", "json"]);
    assert_eq!(status, Some(0));
    let said: serde_json::Value = serde_json::from_str(&said).expect("JSON");
    let first = &said["changes"][0];
    assert_eq!(
        (&first["change"], &first["old"]["verdict"], &first["new"]["verdict"]),
        (&"better".into(), &"missed".into(), &"met".into())
    );
    let (status, said) = run(&["diff", &path("old.yaml"), &path("old.yaml")]);
    assert_eq!((status, said.lines().count()), (Some(0), 1), "{said}");
    // Two versions of a rule set, held against one craft.
    let rules = |limit: &str| {
        format!(
            "lampwright: rules 1\nid: club\ntitle: club\njudges: full-size appearance\nkind: own\nsource: {{document: notes}}\n\
             requirements:\n  - id: rate\n    cite: notes\n    title: rate\n    asks: A rate.\n    standing: own reading\n    \
             goal: {{light: beacon, each: channel, quantity: flash frequency, limit: {{at_most: {limit}}}}}\n"
        )
    };
    std::fs::write(path("a.rules.yaml"), rules("60 per min")).expect("written");
    std::fs::write(path("b.rules.yaml"), rules("45 per min")).expect("written");
    let (status, said) = run(&["diff", &path("a.rules.yaml"), &path("b.rules.yaml"), "--for", &path("old.yaml")]);
    assert_eq!(status, Some(1), "{said}");
    assert!(said.starts_with("Worse: 1\n"), "{said}");
    assert_eq!(run(&["diff", &path("a.rules.yaml"), &path("b.rules.yaml")]).0, Some(2));
    // What did not apply, since the model has no strobe, is missed when its beacon is asked not to flash.
    let steady = |light: &str| {
        rules("60 per min")
            .replace(
                "light: beacon, each: channel, quantity: flash frequency",
                &format!("light: {light}, quantity: steadiness"),
            )
            .replace("at_most: 60 per min", "at_least: 100 %")
    };
    std::fs::write(path("c.rules.yaml"), steady("strobe")).expect("written");
    std::fs::write(path("d.rules.yaml"), steady("beacon")).expect("written");
    let (status, said) = run(&["diff", &path("c.rules.yaml"), &path("d.rules.yaml"), "--for", &path("old.yaml")]);
    assert!(said.starts_with("Applies otherwise: 1\n") && said.contains("is            missed"), "{said}");
    assert_eq!(status, Some(1), "{said}");
    assert_eq!(run(&["diff", &path("old.yaml"), "nowhere.yaml"]).0, Some(2));
}
