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
    let folder = Folder::new().map_err(|e| format!("no temporary folder: {e}"))?;
    let (page, pdf) = (folder.0.join("report.html"), folder.0.join("report.pdf"));
    std::fs::write(&page, html).map_err(|e| e.to_string())?;
    let first = attempt(&browser, &folder.0, &page, &pdf, &[]);
    // As the superuser its sandbox does not run; the page is our own and asks for nothing.
    let tried = first.or_else(|_| attempt(&browser, &folder.0, &page, &pdf, &["--no-sandbox"]));
    tried.map_err(|why| format!("{} did not print: {why}", browser.display()))
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
        .arg(own("file://", page))
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

/// A folder of our own that is gone when it is no longer needed.
struct Folder(PathBuf);

impl Folder {
    fn new() -> std::io::Result<Self> {
        let folder = std::env::temp_dir().join(format!("lampwright-{}", std::process::id()));
        std::fs::create_dir_all(&folder)?;
        Ok(Self(folder))
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}
