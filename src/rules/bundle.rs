//! Build script: every file of `rules/` goes into the program, so that a new document needs no line of Rust.

// Cargo reads what a build script prints.
#![allow(clippy::print_stdout)]

use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    println!("cargo::rerun-if-changed=src/rules/bundle.rs");
    println!("cargo::rerun-if-changed=rules");
    println!("cargo::rerun-if-changed=rules/shared");
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    let text = format!("{}{}", list("SETS", &root, "rules")?, list("SHARED", &root, "rules/shared")?);
    fs::write(out.join("bundled.rs"), text)
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
