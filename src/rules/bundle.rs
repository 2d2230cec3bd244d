//! Build script: every file of `rules/` goes into the program, and every authority listed there is a word files may use,
//! so that a new document needs no line of Rust.

// Cargo reads what a build script prints.
#![allow(clippy::print_stdout)]

use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    println!("cargo::rerun-if-changed=src/rules/bundle.rs");
    println!("cargo::rerun-if-changed=rules");
    println!("cargo::rerun-if-changed=rules/shared");
    println!("cargo::rerun-if-changed=rules/authorities.txt");
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    let text = format!("{}{}", list("SETS", &root, "rules")?, list("SHARED", &root, "rules/shared")?);
    fs::write(out.join("bundled.rs"), text)?;
    fs::write(out.join("authorities.rs"), authorities(&fs::read_to_string(root.join("rules/authorities.txt"))?)?)
}

/// The enum of authorities, from lines like `US: United States`: the word in files, and what it stands for.
fn authorities(text: &str) -> io::Result<String> {
    let mut variants = String::new();
    for line in text.lines().filter(|line| !line.trim().is_empty()) {
        let (word, about) = line.split_once(": ").ok_or_else(|| {
            io::Error::other(format!("rules/authorities.txt: `{line}` is not like `US: United States`"))
        })?;
        variants.push_str(&format!("        /// {about}.\n        {} = {word:?},\n", variant(word)));
    }
    Ok(format!(
        "words! {{\n    /// Whose rules the prototype was built to.\n    what \"an authority\";\n    \
         pub enum Authority {{\n{variants}    }}\n}}\n"
    ))
}

/// `US` as `Us`, `New Zealand` as `NewZealand`.
fn variant(word: &str) -> String {
    let mut name = String::new();
    for part in word.split(|c: char| !c.is_ascii_alphanumeric()) {
        let mut letters = part.chars();
        name.extend(letters.next().map(|c| c.to_ascii_uppercase()));
        name.push_str(&letters.as_str().to_ascii_lowercase());
    }
    name
}

/// A constant that holds the path and the text of every YAML file of a folder, by name.
fn list(name: &str, root: &Path, folder: &str) -> io::Result<String> {
    let mut files: Vec<String> = fs::read_dir(root.join(folder))?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|file| file.ends_with(".yaml"))
        .map(|file| format!("{folder}/{file}"))
        .collect();
    files.sort();
    let each = files.iter().map(|path| {
        let absolute = root.join(path);
        println!("cargo::rerun-if-changed={path}");
        format!("    Bundled {{ path: {path:?}, text: include_str!({:?}) }},\n", absolute.display().to_string())
    });
    Ok(format!("const {name}: &[Bundled] = &[\n{}];\n", each.collect::<String>()))
}
