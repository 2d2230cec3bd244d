//! Printing a page to PDF by an installed browser of the Chromium family.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// The names under which it is looked for.
const NAMES: [&str; 6] =
    ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge", "chrome"];
/// A page that takes longer is not coming.
const PATIENCE: Duration = Duration::from_secs(60);

/// The page as PDF.
pub(super) fn print(html: &str, browser: Option<&Path>) -> Result<Vec<u8>, String> {
    let browser = browser.map(Path::to_path_buf).or_else(found).ok_or_else(|| {
        format!(
            "a `.pdf` is printed by a browser of the Chromium family, and none of {} is installed: install one, name it with \
             `--browser`, or write `.html` and print that",
            NAMES.join(", ")
        )
    })?;
    // Of a name nobody can guess, for this user alone.
    let folder = tempfile::Builder::new().prefix("lampwright-").tempdir();
    let folder = folder.map_err(|e| format!("no temporary folder: {e}"))?;
    let (page, pdf) = (folder.path().join("report.html"), folder.path().join("report.pdf"));
    std::fs::write(&page, html).map_err(|e| e.to_string())?;
    // For the superuser its sandbox does not run; the page is our own and asks for nothing.
    let more: &[&str] = if is_superuser(folder.path()) { &["--no-sandbox"] } else { &[] };
    attempt(&browser, folder.path(), &page, &pdf, more)
        .map_err(|why| format!("{} did not print: {why}", browser.display()))
}

fn found() -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    let names = NAMES.iter().flat_map(|name| [name.to_string(), format!("{name}.exe")]);
    names.flat_map(|name| folders.iter().map(move |f| f.join(&name))).find(|program| program.is_file())
}

fn attempt(browser: &Path, folder: &Path, page: &Path, pdf: &Path, more: &[&str]) -> Result<Vec<u8>, String> {
    let own = |name: &str, path: &Path| {
        let mut word = OsStr::new(name).to_os_string();
        word.push(path);
        word
    };
    let child = Command::new(browser)
        .args(["--headless", "--disable-gpu", "--no-first-run", "--no-pdf-header-footer"])
        .args(more)
        .arg(own("--user-data-dir=", &folder.join("profile")))
        .arg(own("--print-to-pdf=", pdf))
        .arg(address(page))
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .map_err(|e| e.to_string())?;
    wait(child)?;
    std::fs::read(pdf).map_err(|_| "it wrote no file".to_string())
}

fn wait(mut child: Child) -> Result<(), String> {
    let begun = Instant::now();
    loop {
        match child.try_wait().map_err(|e| e.to_string())? {
            Some(status) if status.success() => return Ok(()),
            Some(status) => return Err(format!("it ended with {status}")),
            None if begun.elapsed() > PATIENCE => {
                let _ = child.kill();
                let _ = child.wait();
                return Err("it did not end within a minute".to_string());
            }
            None => std::thread::sleep(Duration::from_millis(20)),
        }
    }
}

/// The page as a browser is told it: all but plain characters written as RFC 3986 says, with three slashes on Windows too.
fn address(page: &Path) -> String {
    let path = page.to_string_lossy().replace('\\', "/");
    let encoded = path.bytes().map(|byte| match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'-' | b'_' | b'.' | b'~' | b':' => {
            char::from(byte).to_string()
        }
        _ => format!("%{byte:02X}"),
    });
    format!("file:///{}", encoded.collect::<String>().trim_start_matches('/'))
}

/// Whether what we make belongs to the superuser.
#[cfg(unix)]
fn is_superuser(own: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    std::fs::metadata(own).is_ok_and(|made| made.uid() == 0)
}

#[cfg(not(unix))]
fn is_superuser(_: &Path) -> bool {
    false
}

#[cfg(test)]
mod tests {
    use super::address;
    use std::path::Path;

    #[test]
    fn an_address_is_written_as_the_standard_says() {
        // RFC 3986, section 2.1: a percent sign and two hexadecimal digits for each byte that is not plain.
        assert_eq!(address(Path::new("/made here/a#b/50%?.html")), "file:///made%20here/a%23b/50%25%3F.html");
        assert_eq!(address(Path::new("C:\\made\\x.html")), "file:///C:/made/x.html");
    }
}
