//! Paths as reports and baselines name them: one file is called the same however it was typed.

use std::ffi::OsString;
use std::path::{Component, Path, PathBuf};

/// A path seen from the working folder, without `.` and `a/..`, with forward slashes; as typed where that would be
/// another file.
pub(super) fn plain(path: &Path) -> PathBuf {
    let Ok(here) = std::env::current_dir() else { return path.to_path_buf() };
    let short = seen_from(&here, &without_turns(&here.join(path)));
    // Behind a link `a/..` may be another folder.
    let same = match (short.canonicalize(), path.canonicalize()) {
        (Ok(one), Ok(other)) => one == other,
        (one, other) => one.is_err() && other.is_err(),
    };
    if same { short } else { path.to_path_buf() }
}

/// Takes out `.` and `a/..`.
fn without_turns(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if plain.pop() => {}
            other => plain.push(other),
        }
    }
    plain
}

/// A whole path as it is reached from a folder; the path itself where they share no folder.
fn seen_from(here: &Path, path: &Path) -> PathBuf {
    let shared = here.components().zip(path.components()).take_while(|(a, b)| a == b).count();
    let shares = path.components().take(shared).any(|part| matches!(part, Component::Normal(_)));
    if !shares {
        return path.to_path_buf();
    }
    let up = here.components().skip(shared).map(|_| Component::ParentDir);
    let parts: Vec<Component<'_>> = up.chain(path.components().skip(shared)).collect();
    let mut text = OsString::new();
    for (n, part) in parts.iter().enumerate() {
        if n > 0 {
            text.push("/");
        }
        text.push(part);
    }
    if text.is_empty() { PathBuf::from(".") } else { PathBuf::from(text) }
}

#[cfg(test)]
mod tests {
    use super::{seen_from, without_turns};
    use std::path::Path;

    #[test]
    fn a_file_is_called_the_same_however_it_was_typed() {
        let here = Path::new("/fleet/lights");
        for typed in ["x.yaml", "./x.yaml", "a/../x.yaml", "../lights/x.yaml", "/fleet/lights/x.yaml"] {
            assert_eq!(seen_from(here, &without_turns(&here.join(typed))), Path::new("x.yaml"), "{typed}");
        }
        for (typed, wanted) in
            [("../y.yaml", "../y.yaml"), ("/fleet/y.yaml", "../y.yaml"), ("/other/y", "/other/y"), (".", ".")]
        {
            assert_eq!(seen_from(here, &without_turns(&here.join(typed))), Path::new(wanted), "{typed}");
        }
    }
}
