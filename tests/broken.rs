//! Broken files: one fault a file, named by it, told once, at the place where the user must look, with what to write
//! instead. A line `# expect: LINE:COLUMN CODE | words of the message | words of what to write instead` in each says
//! so, worked out by reading the file.

use lampwright::source::{Diagnostic, Disk, Rejected, Sources};
use lampwright::{aircraft, measure, rules};
use std::path::{Path, PathBuf};

/// Told by the folder.
fn kind(path: &Path) -> &str {
    path.parent().and_then(Path::file_name).and_then(|n| n.to_str()).expect("a folder")
}

fn mistakes(path: &Path, text: &str) -> Vec<Diagnostic> {
    let name = path.display().to_string();
    let rejected = match kind(path) {
        "rules" => match rules::read(&name, text, &rules::shared_text) {
            Ok(set) => {
                let wrong = measure::vet(&set).into_iter().chain(rules::audit(&set)).collect();
                Some(Rejected::new(wrong, Sources::default()))
            }
            Err(rejected) => Some(rejected),
        },
        "sequence" => aircraft::read_sequence(&name, text).err(),
        _ => aircraft::read(&Disk, path).expect("readable").err(),
    };
    rejected.map(|r| r.diagnostics).unwrap_or_default()
}

fn files_below(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() { found.extend(files_below(&path)) } else { found.push(path) }
    }
    found.sort();
    found
}

/// What is not as expected in one file, in words.
fn complaint(path: &Path) -> Option<String> {
    let text = std::fs::read_to_string(path).expect("text");
    let wanted: Vec<&str> = text.lines().filter_map(|l| l.strip_prefix("# expect: ")).collect();
    let [wanted] = wanted.as_slice() else { return Some("one expect line is wanted".to_string()) };
    let parts: Vec<&str> = wanted.split(" | ").map(str::trim).collect();
    let [place, message, instead] = parts.as_slice() else { return Some("three parts are wanted".to_string()) };
    if [place, message, instead].iter().any(|part| part.is_empty()) {
        return Some("an empty part expects nothing".to_string());
    }
    let found = mistakes(path, &text);
    let told = found.iter().map(|d| format!("\n    {d}")).collect::<String>();
    let [only] = found.as_slice() else { return Some(format!("wanted {wanted}, {} told:{told}", found.len())) };
    let as_wanted = format!("{}:{} {}", only.at.line, only.at.column, only.code) == *place
        && *only.at.file == *path.display().to_string()
        && only.message.contains(message)
        && only.instead.contains(instead);
    (!as_wanted).then(|| format!("wanted {wanted}, told:{told}"))
}

#[test]
fn each_fault_is_told_once_at_its_place() {
    let files = files_below(Path::new("tests/broken"));
    let wrong: Vec<String> =
        files.iter().filter_map(|path| complaint(path).map(|c| format!("{}: {c}", path.display()))).collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), files.len(), wrong.join("\n"));
    for (wanted, at_least) in [("aircraft", 110), ("sequence", 30), ("rules", 45)] {
        let count = files.iter().filter(|f| kind(f) == wanted).count();
        assert!(count >= at_least, "only {count} {wanted} files");
    }
}
