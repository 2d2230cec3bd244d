//! The command line: exit status, formats, schemas, and what it leaves behind.

use rstest::rstest;
use serde_json::Value;
use std::process::{Command, Output};

fn run(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lampwright")).args(words).output().expect("runs")
}

fn out(words: &[&str]) -> String {
    String::from_utf8(run(words).stdout).expect("UTF-8")
}

fn status(words: &[&str]) -> Option<i32> {
    run(words).status.code()
}

const GOOD: &str = "examples/harrowgate-h4.yaml";
const MISTAKEN: &str = "examples/wexcombe-sparrow.yaml";
const EXAMPLES: [&str; 4] = [GOOD, MISTAKEN, "examples/oldbury-tern.yaml", "examples/merlewood-m20.yaml"];

#[rstest]
#[case(&["check", GOOD], 0)]
#[case(&["check", GOOD, "--strict"], 0)]
#[case(&["check", GOOD, "--format", "json"], 0)]
#[case(&["check", MISTAKEN], 1)]
#[case(&["check", MISTAKEN, "--format", "json"], 1)]
#[case(&["check", MISTAKEN, "--only", "fitted"], 0)]
#[case(&["check", "examples/merlewood-m20.yaml", "--only", "right-light-colour"], 0)]
#[case(&["check", "examples/merlewood-m20.yaml", "--only", "right-light-colour", "--strict"], 1)]
#[case(&["check", "tests/broken/aircraft/scale-one-to-zero.yaml"], 2)]
#[case(&["check", "examples/not-there.yaml"], 2)]
#[case(&["check", "examples"], 2)]
#[case(&["check", GOOD, "--only", "no such goal"], 2)]
#[case(&["check", GOOD, "--rules", "tests/broken/rules/unknown-quantity.yaml"], 2)]
#[case(&["check", GOOD, "--output", "no/such/folder/report.txt"], 2)]
#[case(&["explain", "no such word at all"], 2)]
#[case(&["frobnicate"], 2)]
#[case(&["--help"], 0)]
fn exit_status(#[case] words: &[&str], #[case] wanted: i32) {
    assert_eq!(status(words), Some(wanted));
}

#[test]
fn what_new_prints_checks_at_once() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
    for kind in ["aircraft", "rules", "sequence"] {
        let path = folder.join(format!("new-{kind}.yaml"));
        std::fs::write(&path, run(&["new", kind]).stdout).expect("written");
        let path = path.to_string_lossy().to_string();
        match kind {
            "aircraft" => assert!(matches!(status(&["check", &path]), Some(0 | 1))),
            "rules" => assert!(matches!(status(&["check", GOOD, "--rules", &path]), Some(0 | 1))),
            _ => {
                let text = std::fs::read_to_string(&path).expect("text");
                assert_eq!(lampwright::aircraft::read_sequence(&path, &text).expect("sound").channels.len(), 3);
            }
        }
    }
}

fn valid(schema: &Value, instance: &Value) -> bool {
    jsonschema::validator_for(schema).expect("a schema").is_valid(instance)
}

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

#[test]
fn reports_are_valid_against_the_published_schema() {
    let schema = json(&out(&["schema", "report"]));
    for file in EXAMPLES {
        let report = json(&out(&["check", file, "--format", "json"]));
        assert!(valid(&schema, &report), "{file}");
    }
    assert!(!valid(&schema, &serde_json::json!({ "format": "lampwright report 1" })));
}

#[test]
fn shipped_files_are_valid_against_the_published_schemas() {
    let schema = |kind: &str| json(&out(&["schema", kind]));
    let schemas = [("aircraft", schema("aircraft")), ("sequence", schema("sequence")), ("rules", schema("rules"))];
    let mut texts: Vec<String> = ["aircraft", "sequence", "rules"].iter().map(|kind| out(&["new", kind])).collect();
    for folder in ["examples", "rules"] {
        for entry in std::fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.extension().is_some_and(|e| e == "yaml") {
                texts.push(std::fs::read_to_string(path).expect("text"));
            }
        }
    }
    assert!(texts.len() >= 11);
    for text in texts {
        let value: Value = serde_yaml::from_str(&text).expect("YAML");
        let kind = value["lampwright"].as_str().expect("a header").split(' ').next().expect("a kind").to_string();
        let (_, schema) = schemas.iter().find(|(k, _)| *k == kind).expect("a known kind");
        assert!(valid(schema, &value), "{text:.80}");
        let mut broken = value.clone();
        broken["no such key"] = Value::from(1);
        assert!(!valid(schema, &broken));
    }
}

#[test]
fn output_is_whole_and_leaves_nothing_beside_it() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("output");
    std::fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join("report.json");
    assert_eq!(status(&["check", GOOD, "--format", "json", "--output", &path.to_string_lossy()]), Some(0));
    json(&std::fs::read_to_string(&path).expect("written"));
    let left: Vec<_> =
        std::fs::read_dir(&folder).expect("a folder").map(|e| e.expect("an entry").file_name()).collect();
    assert_eq!(left, ["report.json"]);
}

#[test]
fn text_fits_80_columns_and_has_no_escapes_off_a_terminal() {
    for file in EXAMPLES {
        let text = out(&["check", file]);
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{file}: {line}");
        }
        assert!(!text.contains('\u{1b}'));
    }
}

/// What `explain` says of each requirement of a bundled set, asked once for those of one id.
static EXPLAINED: std::sync::LazyLock<std::collections::BTreeMap<String, String>> = std::sync::LazyLock::new(|| {
    let sets = lampwright::bundled_rule_sets().expect("sound");
    let ids: std::collections::BTreeSet<_> =
        sets.iter().flat_map(|s| s.requirements.iter().map(|r| r.id.clone())).collect();
    ids.into_iter().map(|id| (id.clone(), out(&["explain", &id]))).collect()
});

#[test]
fn everything_can_be_explained() {
    let sets = lampwright::bundled_rule_sets().expect("sound");
    for set in &sets {
        assert_eq!(status(&["rules", "show", &set.id]), Some(0));
        for requirement in &set.requirements {
            let text = EXPLAINED[&requirement.id].split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(text.contains(requirement.cite.split(", ").next().expect("a citation")), "{}", requirement.id);
            assert!(text.contains("standing") && text.contains("measured"), "{}", requirement.id);
        }
    }
    for quantity in lampwright::measure::ALL {
        assert_eq!(status(&["explain", quantity.id()]), Some(0), "{}", quantity.id());
    }
    for words in [
        &["explain", "viewing angle"][..],
        &["explain", "3", "W"],
        &["explain", "red 3 W star"],
        &["explain", "25.1391"],
    ] {
        assert_eq!(status(words), Some(0));
    }
    let error = String::from_utf8(run(&["explain", "left-light-colr"]).stderr).expect("UTF-8");
    assert!(error.contains("did you mean `left-light-colour`"), "{error}");
    let for_mine = out(&["explain", "left-light-horizontal", "--for", GOOD]);
    assert!(for_mine.contains("off its axis") && for_mine.contains("x 64"), "{for_mine}");
}

#[test]
fn a_report_never_takes_the_place_of_a_file_written_for_the_program() {
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("mine.yaml");
    let text = std::fs::read_to_string(GOOD).expect("text").replace("sequence: harrowgate-h4-lights.yaml\n", "");
    std::fs::write(&path, &text).expect("written");
    let mine = path.to_string_lossy().to_string();
    assert_eq!(status(&["check", "examples/merlewood-m20.yaml", "--output", &mine]), Some(2));
    assert_eq!(std::fs::read_to_string(&path).expect("text"), text);
}

/// A folder of this test's own, empty.
fn folder(name: &str) -> std::path::PathBuf {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    if folder.exists() {
        std::fs::remove_dir_all(&folder).expect("emptied");
    }
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

#[test]
fn what_cannot_be_written_leaves_nothing() {
    let folder = folder("unwritable");
    std::fs::create_dir(folder.join("taken")).expect("a folder");
    for name in ["taken", "missing/report.txt", "taken/", "."] {
        let path = folder.join(name);
        let run = run(&["check", GOOD, "--output", &path.to_string_lossy()]);
        assert_eq!(run.status.code(), Some(2), "{name}");
        assert!(String::from_utf8_lossy(&run.stderr).contains("cannot write"), "{name}");
        assert!(run.stdout.is_empty(), "{name}");
    }
    let left: Vec<_> =
        std::fs::read_dir(&folder).expect("a folder").map(|e| e.expect("an entry").file_name()).collect();
    assert_eq!(left, ["taken"]);
    assert_eq!(std::fs::read_dir(folder.join("taken")).expect("a folder").count(), 0);
}

#[test]
fn a_report_over_an_older_one_replaces_it_whole() {
    let folder = folder("replaced");
    let path = folder.join("report.txt");
    std::fs::write(&path, "old\n".repeat(100_000)).expect("written");
    assert_eq!(status(&["check", MISTAKEN, "--output", &path.to_string_lossy()]), Some(1));
    assert_eq!(std::fs::read_to_string(&path).expect("text"), out(&["check", MISTAKEN]));
    assert_eq!(std::fs::read_dir(&folder).expect("a folder").count(), 1);
    // A report that is refused leaves the older one as it was.
    let before = std::fs::read(&path).expect("bytes");
    assert_eq!(status(&["check", "tests/broken/aircraft/no-lamps.yaml", "--output", &path.to_string_lossy()]), Some(2));
    assert_eq!(std::fs::read(&path).expect("bytes"), before);
}

#[test]
fn the_format_never_changes_the_status() {
    for file in EXAMPLES.iter().copied().chain(["tests/broken/aircraft/no-lamps.yaml", "examples/not-there.yaml"]) {
        for more in [&[][..], &["--strict"], &["--only", "colour"]] {
            let of = |format: &str| status(&[&["check", file, "--format", format], more].concat());
            assert_eq!(of("text"), of("json"), "{file} {more:?}");
        }
    }
}

#[test]
fn only_keeps_goals_that_hold_the_word() {
    let report = json(&out(&["check", MISTAKEN, "--only", "25.1397", "--format", "json"]));
    let goals = report["goals"].as_array().expect("goals");
    assert!(!goals.is_empty());
    for goal in goals {
        assert!(goal["citation"].as_str().expect("a citation").contains("25.1397"), "{goal}");
    }
}

#[test]
fn broken_files_are_invalid_against_the_published_schemas() {
    for (kind, name) in [
        ("aircraft", "aircraft/no-scale"),
        ("aircraft", "aircraft/key-misspelt"),
        ("aircraft", "aircraft/scale-as-a-fraction"),
        ("aircraft", "aircraft/yes-for-true"),
        ("aircraft", "aircraft/intensity-without-unit"),
        ("aircraft", "aircraft/unknown-light"),
        ("aircraft", "aircraft/missing-aim"),
        ("sequence", "sequence/swell-without-fall"),
        ("sequence", "sequence/light-unknown"),
        ("sequence", "sequence/step-of-two"),
        ("sequence", "sequence/time-without-unit"),
        ("rules", "rules/limit-unknown"),
        ("rules", "rules/two-limits"),
        ("rules", "rules/kind-unknown"),
        ("rules", "rules/no-citation"),
        ("rules", "rules/bare-number"),
    ] {
        let text = std::fs::read_to_string(format!("tests/broken/{name}.yaml")).expect("text");
        let value: Value = serde_yaml::from_str(&text).expect("YAML");
        assert!(!valid(&json(&out(&["schema", kind])), &value), "{name}");
    }
}

#[test]
fn schemas_are_schemas() {
    for kind in ["aircraft", "sequence", "rules", "report"] {
        assert!(jsonschema::meta::is_valid(&json(&out(&["schema", kind]))), "{kind}");
    }
}

/// Every text this program prints by itself, but for paths that are longer than a line.
#[test]
fn all_text_fits_80_columns() {
    let sets = lampwright::bundled_rule_sets().expect("sound");
    let mut commands: Vec<Vec<String>> = vec![vec!["rules".into()], vec!["emitters".into()]];
    for set in &sets {
        commands.push(vec!["rules".into(), "show".into(), set.id.clone()]);
    }
    for (id, text) in EXPLAINED.iter() {
        assert!(!text.contains('\u{1b}') && !text.trim().is_empty(), "{id}");
        assert!(text.lines().all(|line| line.chars().count() <= 80), "{id}: {text}");
    }
    commands.extend(lampwright::measure::ALL.iter().map(|q| vec!["explain".into(), q.id().to_string()]));
    for command in commands {
        let words: Vec<&str> = command.iter().map(String::as_str).collect();
        let run = run(&words);
        assert_eq!(run.status.code(), Some(0), "{words:?}");
        let text = String::from_utf8(run.stdout).expect("UTF-8");
        assert!(!text.contains('\u{1b}') && !text.trim().is_empty(), "{words:?}");
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{words:?}: {line}");
        }
    }
}

#[test]
fn a_misspelt_word_is_told_what_was_meant() {
    for (word, meant) in [("chromatcity", "`chromaticity`"), ("flash frequncy", "`flash frequency`")] {
        let run = run(&["explain", word]);
        let said = String::from_utf8_lossy(&run.stderr);
        assert_eq!(run.status.code(), Some(2), "{word}");
        assert!(said.contains(meant), "{said}");
    }
}

#[test]
fn a_pipe_closed_early_is_no_failure() {
    for words in [&["rules", "show", "us-14cfr25"][..], &["check", MISTAKEN], &["schema", "rules"], &["--help"]] {
        let mut child = Command::new(env!("CARGO_BIN_EXE_lampwright"))
            .args(words)
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::piped())
            .spawn()
            .expect("starts");
        drop(child.stdout.take());
        let ended = child.wait_with_output().expect("ends");
        let said = String::from_utf8_lossy(&ended.stderr);
        assert!(said.is_empty(), "{words:?}: {said}");
        assert!(matches!(ended.status.code(), Some(0 | 1)), "{words:?}: {:?}", ended.status);
    }
}

/// Every code in the source of the codes, so that a new one cannot be left out.
fn every_code() -> Vec<String> {
    let text = std::fs::read_to_string("src/source/diagnostic.rs").expect("text");
    let mistakes =
        text.lines().filter_map(|l| l.trim().strip_prefix("Self::")?.split_once(" => \"")?.1.split('"').next());
    let own = lampwright::lint::OWN_CODES.iter().map(|c| c.code);
    mistakes.chain(own).map(str::to_string).collect()
}

#[test]
fn every_code_is_explained() {
    let codes = every_code();
    assert!(codes.len() >= 24 && codes.contains(&"wrong-value".to_string()), "{codes:?}");
    let listed = out(&["explain", "lint"]);
    for code in codes {
        assert!(out(&["explain", &code]).contains(&format!("{code}\n")), "{code}");
        assert!(listed.contains(&code), "{code}");
    }
}

#[test]
fn the_lines_of_an_explanation_are_wrong_and_right_as_it_says() {
    use lampwright::source::{Code, Memory};
    let whole = |line: &str| match line.split(':').next().expect("a key") {
        "lampwright" => format!("{line}\nchannels:\n  top: {{steady: 100 %}}\n"),
        "judge_by" => format!("lampwright: sequence 1\n{line}\nchannels:\n  top: {{steady: 100 %}}\n"),
        "sequence" => format!(
            "lampwright: aircraft 1\nmodel: {{title: x, scale: \"1:8\"}}\nprototype: {{}}\n{line}\nlamps:\n  \
             top: {{light: beacon, emitter: red 1 W star, aim: up, channel: top}}\n"
        ),
        _ => format!("lampwright: sequence 1\nchannels:\n  {line}\n"),
    };
    let rules = lampwright::lint::Rules::bundled().expect("sound");
    let told = |line: &str| -> Vec<String> {
        let lights =
            "lampwright: sequence 1\nchannels:\n  top: {drives: beacon, flash: {rate: 60 per min, lit: 60 ms}}\n";
        let files = Memory::new().with("fleet/x.yaml", whole(line)).with("fleet/lights.yaml", lights);
        let target = lampwright::lint::Target { path: "fleet/x.yaml".into(), named: true };
        let report = lampwright::lint::lint(&files, &[target], &rules, &Default::default());
        report.findings().filter(|f| f.unusable).map(|f| f.code.clone()).collect()
    };
    for code in Code::ALL {
        let help = code.help();
        assert!(told(help.wrong).contains(&code.to_string()), "{code}: {:?}", told(help.wrong));
        assert_eq!(told(help.right), Vec::<String>::new(), "{code}");
    }
}

#[test]
fn rule_sets_ids_of_results_and_forms_of_convert_are_explained() {
    let of_set = out(&["explain", "us-14cfr25/anti-collision-frequency"]);
    assert!(of_set.contains("us-14cfr25") && !of_set.contains("us-14cfr23"), "{of_set}");
    assert!(out(&["explain", "us-14cfr25"]).contains("lampwright rules show us-14cfr25"));
    // The double blink of 100/150/100/1500 ms is a period of 1850 ms (common practice, no source).
    for (form, words) in
        [("durations", "1850 ms"), ("masks", "lit 50 ms and dark 950 ms"), ("times", "lit 100 ms and dark 1100 ms")]
    {
        let said = out(&["explain", form]).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(words) && said.contains(&format!("--from {form}")), "{said}");
    }
}
