//! Broken files: one fault a file, named by it, told at its place with what to write instead.

use lampwright::source::{Diagnostic, Disk, Rejected, Sources};
use lampwright::{aircraft, measure, rules};
use std::path::Path;

fn mistakes(path: &Path, text: &str) -> Vec<Diagnostic> {
    let name = path.display().to_string();
    let told = |rejected: Rejected| rejected.diagnostics;
    if path.file_stem().is_some_and(|s| s.to_string_lossy().starts_with("rules-")) {
        return match rules::read(&name, text, &rules::shared_text) {
            Ok(set) => Rejected::new(measure::vet(&set), Sources::default()).diagnostics,
            Err(rejected) => told(rejected),
        };
    }
    match aircraft::read(&Disk, path).expect("readable") {
        Ok(_) => Vec::new(),
        Err(rejected) => told(rejected),
    }
}

#[test]
fn each_fault_is_told_at_its_place() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for entry in std::fs::read_dir("tests/broken").expect("a folder") {
        let path = entry.expect("an entry").path();
        let text = std::fs::read_to_string(&path).expect("text");
        let expect = text.lines().last().and_then(|l| l.strip_prefix("# expect: ")).expect("an expect line");
        let parts: Vec<&str> = expect.split(" | ").map(str::trim).collect();
        let [place, message, instead] = parts.as_slice() else { panic!("{}: three parts are wanted", path.display()) };
        let found = mistakes(&path, &text);
        count += 1;
        let [only] = found.as_slice() else {
            wrong.push(format!("{}: {} mistakes told: {found:#?}", path.display(), found.len()));
            continue;
        };
        let told = format!("{}:{} {}", only.at.line, only.at.column, only.code);
        if told != *place || !only.message.contains(message) || !only.instead.contains(instead) {
            wrong.push(format!(
                "{}: wanted {expect}\n    told {told} | {} | {}",
                path.display(),
                only.message,
                only.instead
            ));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    assert!(count >= 40, "only {count} files");
}

/// All mistakes of a file in one run, in the order of their places.
#[test]
fn all_mistakes_in_one_run() {
    let text = "\
lampwright: aircraft 1
model: {title: Many, scale: \"8\"}
prototype: {category: transport airplane, authority: US}
emitters:
  a: {peak: 40, viewing_angle: 120 deg}
  b: {flux: 40 cd}
lamps:
  one: {light: left position, emitter: a, aim: -5 deg}
  two: {light: tail, emitter: b, aim: aft}
  three: {light: beacon, emitter: red 1 W star, aim: up, flash: {rate: 46, lit: 50 ms}}
  four: {lihgt: strobe, light: strobe, emitter: red 1 W star, aim: up}
";
    let files = lampwright::source::Memory::new().with("many.yaml", text);
    let rejected = aircraft::read(&files, Path::new("many.yaml")).expect("readable").expect_err("mistakes");
    let lines: Vec<u32> = rejected.diagnostics.iter().map(|d| d.at.line).collect();
    assert_eq!(lines, [2, 3, 5, 6, 8, 9, 10, 11]);
}

#[test]
fn hostile_files_have_their_message() {
    use lampwright::error::Error;
    use lampwright::source::Memory;
    let read = |bytes: Vec<u8>| aircraft::read(&Memory::new().with("x.yaml", bytes), Path::new("x.yaml"));
    assert!(matches!(read(vec![b' '; 5 << 20]), Err(Error::TooLarge { .. })));
    assert!(matches!(read(vec![b'a', 0xff, 0xfe]), Err(Error::NotText { byte: 1, .. })));
    let good = std::fs::read_to_string("examples/merlewood-m20.yaml").expect("text");
    for text in [format!("\u{feff}{good}"), good.replace('\n', "\r\n")] {
        assert!(read(text.into_bytes()).expect("readable").is_ok());
    }
    for text in
        ["[".repeat(50_000), "a: &a [*a]".to_string(), "\u{0}".to_string(), "- - - -".to_string(), "? ? :".to_string()]
    {
        assert!(read(text.into_bytes()).expect("readable").is_err());
    }
}
