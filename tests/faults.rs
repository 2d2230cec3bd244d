//! Every file of `tests/faults` has one fault, and its first line says where a reader must look, which code the fault
//! has, and words that what is said of it must hold. The places are worked out from the files, not from any output.

use lampwright::aircraft::{read, read_sequence};
use lampwright::measure;
use lampwright::rules::{self, shared_text};
use lampwright::source::{Diagnostic, Disk};
use std::path::{Path, PathBuf};

/// The fewest files of each kind: a folder that was not found or was emptied must not pass.
const KINDS: [(&str, usize); 3] = [("aircraft", 40), ("sequence", 10), ("rules", 20)];

/// What the first line of a file says: `# expect: LINE:COLUMN CODE | words of the message | words of the advice`.
struct Expected {
    place: String,
    code: String,
    message: String,
    instead: String,
}

fn expected(text: &str) -> Option<Expected> {
    let line = text.lines().next()?.strip_prefix("# expect: ")?;
    let mut parts = line.split('|').map(str::trim);
    let (place, code) = parts.next()?.split_once(' ')?;
    let (message, instead) = (parts.next()?, parts.next()?);
    let whole = parts.next().is_none() && !message.is_empty() && !instead.is_empty();
    let own = |s: &str| s.to_string();
    whole.then(|| Expected { place: own(place), code: own(code), message: own(message), instead: own(instead) })
}

fn files(kind: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults").join(kind);
    let entries = std::fs::read_dir(&folder).expect("the folder of broken files is there");
    let mut files: Vec<PathBuf> = entries.map(|e| e.expect("an entry").path()).collect();
    files.sort();
    files
}

/// Everything the library finds wrong in a file, and the file's name in the diagnostics.
fn found(kind: &str, path: &Path, text: &str) -> Vec<Diagnostic> {
    let name = path.display().to_string();
    let rejected = match kind {
        "aircraft" => read(&Disk, path).expect("the file can be read").err(),
        "sequence" => read_sequence(&name, text).err(),
        _ => match rules::read(&name, text, &shared_text) {
            Ok(set) => return measure::vet(&set),
            Err(rejected) => Some(rejected),
        },
    };
    rejected.map(|r| r.diagnostics).unwrap_or_default()
}

/// What is amiss with what is said of one file; empty where all is as it should be.
fn amiss(kind: &str, path: &Path) -> Vec<String> {
    let text = std::fs::read_to_string(path).expect("text");
    let Some(want) = expected(&text) else { return vec!["has no whole `# expect:` line".to_string()] };
    let all = found(kind, path, &text);
    let [said] = all.as_slice() else {
        let list: Vec<String> = all.iter().map(ToString::to_string).collect();
        return vec![format!("{} mistakes are told, not one: {list:#?}", all.len())];
    };
    let place = format!("{}:{}", said.at.line, said.at.column);
    let checks = [
        ("file", said.at.file.to_string(), path.display().to_string(), *said.at.file == *path.display().to_string()),
        ("code", said.code.to_string(), want.code.clone(), said.code.as_str() == want.code),
        ("place", place.clone(), want.place.clone(), place == want.place),
        ("message", said.message.clone(), want.message.clone(), said.message.contains(&want.message)),
        ("advice", said.instead.clone(), want.instead.clone(), said.instead.contains(&want.instead)),
    ];
    let bad = checks.iter().filter(|(.., right)| !right);
    bad.map(|(what, is, should, _)| format!("{what} is `{is}`, should be `{should}`")).collect()
}

#[test]
fn every_broken_file_is_told_once_at_its_place() {
    let mut wrong = Vec::new();
    for (kind, fewest) in KINDS {
        let files = files(kind);
        assert!(files.len() >= fewest, "only {} broken {kind} files", files.len());
        for path in &files {
            let name = path.file_name().map(|n| n.to_string_lossy().to_string()).unwrap_or_default();
            wrong.extend(amiss(kind, path).into_iter().map(|why| format!("{kind}/{name}: {why}")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_file_without_an_expectation_is_not_passed_over() {
    for text in ["", "lampwright: aircraft 1\n", "# expect: 1:1 not-yaml | empty", "# expect: 1:1 not-yaml | | x"] {
        assert!(expected(text).is_none(), "{text}");
    }
    assert!(expected("# expect: 1:1 not-yaml | empty | new aircraft\n").is_some());
}
