//! All mistakes of a file in one run, and files that are hostile rather than mistaken.

use lampwright::aircraft;
use lampwright::source::{Diagnostic, Memory};
use rstest::rstest;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const MANY: &str = r#"lampwright: aircraft 1
model: {title: Many, scale: "1:8", span: 2300 mm}
prototype: {category: transport aeroplane, authority: US, applied: 1980}
emitters:
  tip red: {from: data sheet, peak: 40, viewing_angle: 120 deg}
  tip green: {from: data sheet, peak: 20 cd, flux: 60 lm}
channels:
  beacon: {drives: beacon, colour: red}
  strobe: {drives: strobe, flash: {rate: 46 per min, lit: 50 ms}}
lamps:
  left tip: {light: left position, emitter: tip red, aim: left -55 deg}
  right tip: {light: right position, emitter: tip gren, aim: right 55 deg}
  tail: {light: tail, emitter: neutral white 1 W star, aim: aft}
  top: {light: beacon, emitter: red 1 W star, aim: up, channel: beacon}
  belly: {light: beacon, emitter: red 1 W star, aim: down, channel: becon}
  left strobe: {light: beacon, emitter: red 1 W star, aim: left, channel: strobe}
  right strobe: {light: strobe, emitter: red 1 W star, aim: right, flash: {rate: 100 per min, lit: 700 ms}}
  nose: {light: landing, emitter: cool white 3 W star, aim: ahead, plaice: [centre]}
  logo: {light: logo, emitter: cool white 3 W star, aim: up, place: [left 4000 mm]}
  logo: {light: logo, emitter: cool white 3 W star, aim: up, mask: {hides: above, edge: 0 mm}}
  fin: {light: logo, emitter: cool white 3 W star}
"#;

/// Line of each mistake, what it is, and the word it stands at.
const TOLD: [(u32, &str, &str); 14] = [
    (5, "wrong-value", "40,"),
    (6, "contradiction", "60 lm"),
    (8, "missing-key", "beacon: {drives"),
    (11, "wrong-value", "left -55 deg"),
    (12, "unknown-name", "tip gren"),
    (13, "wrong-value", "tail, emitter"),
    (15, "unknown-name", "becon"),
    (16, "contradiction", "beacon, emitter"),
    (17, "out-of-range", "{rate"),
    (18, "unknown-key", "plaice"),
    (19, "contradiction", "[left 4000"),
    (20, "duplicate-key", "logo: {light"),
    (20, "out-of-range", "0 mm"),
    (21, "missing-key", "{light"),
];

fn mistakes(text: &str) -> Vec<Diagnostic> {
    let files = Memory::new().with("many.yaml", text);
    aircraft::read(&files, Path::new("many.yaml")).expect("readable").expect_err("mistakes").diagnostics
}

fn wanted() -> Vec<(u32, u32, &'static str)> {
    let column = |line: u32, word: &str| {
        let text = MANY.lines().nth(line as usize - 1).expect("a line");
        text.find(word).expect("the word") as u32 + 1
    };
    TOLD.iter().map(|(line, code, word)| (*line, column(*line, word), *code)).collect()
}

fn told(diagnostics: &[Diagnostic]) -> Vec<(u32, u32, &'static str)> {
    diagnostics.iter().map(|d| (d.at.line, d.at.column, d.code.as_str())).collect()
}

#[test]
fn all_mistakes_are_told_in_one_run_in_the_order_of_their_places() {
    assert_eq!(told(&mistakes(MANY)), wanted());
}

#[test]
fn line_ends_and_a_byte_order_mark_move_no_place() {
    assert_eq!(told(&mistakes(&MANY.replace('\n', "\r\n"))), wanted());
    assert_eq!(told(&mistakes(&format!("\u{feff}{MANY}"))), wanted());
}

#[test]
fn columns_count_characters() {
    let text = MANY.replace("title: Many, scale: \"1:8\"", "title: Größe Ωmega, scale: \"1:0\"");
    let first = &mistakes(&text)[0];
    // `model: {title: Größe Ωmega, scale: ` is 35 characters and 38 bytes.
    assert_eq!((first.at.line, first.at.column), (2, 36));
}

/// Each is shown by its own line: looked for in the whole file, the time would grow with the square of their number.
#[test]
fn a_file_of_mistakes_alone_is_shown_at_once() {
    let lights: String = (0..10_000).map(|n| format!("  l{n}: {{steady: 5}}\n")).collect();
    let text = format!("lampwright: sequence 1\nchannels:\n{lights}");
    let begun = std::time::Instant::now();
    let shown = aircraft::read_sequence("lights.yaml", &text).expect_err("mistakes").show(false);
    assert!(shown.contains("lights.yaml:10002:19\n") && shown.contains("10002 |   l9999: {steady: 5}"), "{shown:.300}");
    assert!(shown.ends_with("10000 mistakes to mend first\n"));
    assert!(begun.elapsed().as_secs() < 30, "{:?}", begun.elapsed());
}

#[test]
fn a_line_too_long_to_show_is_named() {
    let text = format!("lampwright: sequence 1\nchannels: {{a: {{steady: 5, {}}}}}\n", " ".repeat(10_000));
    let shown = aircraft::read_sequence("lights.yaml", &text).expect_err("a mistake").show(false);
    assert!(shown.contains("lights.yaml:2:24\n") && !shown.contains("steady"), "{shown:.300}");
}

/// A mistake in a sequence file is told there, and those of the lamps in the same run.
#[test]
fn a_broken_sequence_file_hides_no_mistake_of_a_lamp() {
    let lights = "lampwright: sequence 1\nchannels:\n  beacon: {flash: {rate: 46 per min, lit: 50}}\n";
    let model = "lampwright: aircraft 1\nmodel: {title: Two files, scale: \"1:8\"}\nprototype: {}\nsequence: lights.yaml\n\
        lamps:\n  top: {light: beacon, emitter: red 1 W star, aim: up, channel: beacon}\n\
        \x20 tail: {light: rear position, emitter: neutral white 1 W stra, aim: aft}\n";
    let files = Memory::new().with("model.yaml", model).with("lights.yaml", lights);
    let told = aircraft::read(&files, Path::new("model.yaml")).expect("readable").expect_err("mistakes").diagnostics;
    let places: Vec<String> = told.iter().map(|d| format!("{} {}", d.at, d.code)).collect();
    assert_eq!(places, ["lights.yaml:3:43 wrong-value", "model.yaml:7:41 unknown-name"]);
    let files = Memory::new().with("model.yaml", model);
    let told = aircraft::read(&files, Path::new("model.yaml")).expect("readable").expect_err("mistakes").diagnostics;
    let places: Vec<String> = told.iter().map(|d| format!("{} {}", d.at, d.code)).collect();
    assert_eq!(places, ["model.yaml:4:11 other-file", "model.yaml:7:41 unknown-name"]);
}

fn check(path: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lampwright")).arg("check").arg(path).output().expect("runs")
}

fn written(name: &str, bytes: &[u8]) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("hostile");
    std::fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join(name);
    std::fs::write(&path, bytes).expect("written");
    path
}

fn complains(path: &Path, words: &str) {
    let run = check(path);
    let said = String::from_utf8(run.stderr).expect("UTF-8");
    assert_eq!(run.status.code(), Some(2), "{said:.300}");
    assert!(said.contains(words), "wanted `{words}`: {said:.300}");
    assert!(!said.contains("panicked") && !said.contains(|c: char| c.is_control() && c != '\n'), "{said:.300}");
    assert!(run.stdout.is_empty());
}

#[rstest]
#[case("empty.yaml", vec![], "the file is empty")]
#[case("blank.yaml", b" \n\n".to_vec(), "the file is empty")]
#[case("only-a-mark.yaml", b"\xef\xbb\xbf".to_vec(), "the file is empty")]
#[case("not-utf8.yaml", b"lampwright: aircraft 1\nmodel: \xff\n".to_vec(), "not text in UTF-8 (byte 30)")]
#[case("utf16.yaml", b"\xff\xfel\0a\0m\0p\0".to_vec(), "save it as UTF-8")]
#[case("five-megabytes.yaml", vec![b'#'; 5_000_000], "larger than 4194304 bytes")]
#[case("nul.yaml", b"lampwright: aircraft 1\nmodel: \0\n".to_vec(), "nul.yaml")]
#[case("escape.yaml", b"lampwright: \x1b[31maircraft 1\n".to_vec(), "escape.yaml")]
#[case("quoted-escape.yaml", b"lampwright: \"\\e[31maircraft 1\"\n".to_vec(), "lampwright: aircraft 1")]
#[case("quoted-escape-in-a-key.yaml", b"lampwright: aircraft 1\n\"\\e[31mmodel\": {}\nlamps: {}\nprototype: {}\n".to_vec(), "is not a key")]
#[case("quoted-escape-in-a-word.yaml", b"lampwright: aircraft 1\nmodel: {title: A, scale: \"\\e[31m\"}\nprototype: {}\nlamps: {}\n".to_vec(), "is not a scale")]
#[case("begin-of-a-command-in-one-character.yaml", "lampwright: \u{9b}31maircraft 1\n".into(), "\u{fffd}31m")]
#[case("brackets.yaml", vec![b'['; 1_000_000], "32 levels")]
#[case("braces.yaml", b"{a: ".repeat(100_000), "32 levels")]
#[case("self.yaml", b"a: &a [*a]\n".to_vec(), "self.yaml")]
#[case("a-list.yaml", b"- lampwright: aircraft 1\n".to_vec(), "a list stands here")]
#[case("a-word.yaml", b"lampwright".to_vec(), "lampwright: aircraft 1")]
#[case("keys-that-are-lists.yaml", b"? [a, b]\n: c\n".to_vec(), "keys-that-are-lists.yaml")]
#[case("a-sequence.yaml", b"lampwright: sequence 1\nchannels: {a: {steady: 100 %}}\n".to_vec(), "`aircraft`")]
#[case("merge.yaml", b"lampwright: aircraft 1\nmodel: &m {title: A, scale: \"1:8\"}\nprototype: {}\nlamps: {}\n<<: *m\n".to_vec(), "`<<` is not a key")]
fn a_hostile_file_has_its_message(#[case] name: &str, #[case] bytes: Vec<u8>, #[case] words: &str) {
    complains(&written(name, &bytes), words);
}

#[test]
fn what_is_no_file_has_its_message() {
    complains(Path::new("examples"), "name a file");
    complains(Path::new("examples/no-such.yaml"), "examples/no-such.yaml");
}

#[test]
fn windows_files_are_read() {
    let good = std::fs::read_to_string("examples/oldbury-tern.yaml").expect("text");
    let plain = check(&written("plain.yaml", good.as_bytes()));
    for (name, text) in [("crlf.yaml", good.replace('\n', "\r\n")), ("bom.yaml", format!("\u{feff}{good}"))] {
        let path = written(name, text.as_bytes());
        let run = check(&path);
        let same = String::from_utf8(run.stdout).expect("UTF-8").replace(name, "plain.yaml");
        let words = |t: &str| t.split_whitespace().map(str::to_string).collect::<Vec<_>>();
        assert_eq!(run.status.code(), plain.status.code(), "{name}");
        assert_eq!(words(&same), words(&String::from_utf8_lossy(&plain.stdout)), "{name}");
    }
}

/// Every file cut off anywhere, and every file with a byte gone, is read or refused, never a panic.
#[test]
fn cut_files_never_panic() {
    let whole = std::fs::read("examples/harrowgate-h4.yaml").expect("bytes");
    for end in (0..whole.len()).step_by(7) {
        let mut gone = whole.clone();
        gone.remove(end);
        for bytes in [whole[..end].to_vec(), gone] {
            let files = Memory::new().with("x.yaml", bytes);
            if let Ok(Err(rejected)) = aircraft::read(&files, Path::new("x.yaml")) {
                assert!(!rejected.diagnostics.is_empty());
                assert!(!rejected.show(false).contains("failed to say why"), "cut at {end}");
            }
        }
    }
}
