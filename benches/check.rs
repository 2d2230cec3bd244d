//! How long the main job takes, and how it grows: `cargo bench`.
//!
//! Every figure is the least of seven runs, with the spread to the greatest; what is compared runs interleaved. Growth is
//! the slope of log time over log size: 1 is linear.

#![allow(clippy::print_stdout)]

use lampwright::aircraft::Aircraft;
use lampwright::geometry::Direction;
use lampwright::rules::{LightGroup, RuleHead, RuleSet, bundled};
use lampwright::scene::{Readings, Scene, System};
use lampwright::source::{Disk, Memory};
use lampwright::{Options, bundled_rule_sets, check};
use std::fmt::Write;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const RUNS: usize = 7;

fn main() {
    let sets = bundled_rule_sets().expect("sound");
    start_to_exit();
    reading(&sets);
    effective_intensity(&sets);
    growth(&sets);
    lint_of_a_folder();
}

fn timed(f: impl FnOnce()) -> Duration {
    let begin = Instant::now();
    f();
    begin.elapsed()
}

/// The least and the greatest of seven runs of each, taken in turn.
fn interleaved(jobs: &mut [(&str, &mut dyn FnMut())]) {
    let mut took: Vec<Vec<Duration>> = vec![Vec::new(); jobs.len()];
    for _ in 0..RUNS {
        for ((_, job), times) in jobs.iter_mut().zip(&mut took) {
            times.push(timed(&mut **job));
        }
    }
    for ((name, _), times) in jobs.iter().zip(&took) {
        println!("  {name:<44} {}", spread(times));
    }
}

fn spread(times: &[Duration]) -> String {
    let ms = |time: Option<&Duration>| time.map_or(0.0, |t| t.as_secs_f64() * 1e3);
    format!("{:9.2} ms  (to {:.2})", ms(times.iter().min()), ms(times.iter().max()))
}

fn start_to_exit() {
    println!("check, start to exit (target: under 50 ms)");
    let run = |words: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_lampwright"));
        let status = command.args(words).stdout(Stdio::null()).stderr(Stdio::null()).status();
        assert!(status.is_ok_and(|s| matches!(s.code(), Some(0 | 1))));
    };
    let one = |name: &'static str| move || run(&["check", name]);
    let (mut a, mut b) = (one("examples/harrowgate-h4.yaml"), one("examples/merlewood-m20.yaml"));
    let (mut c, mut d) = (one("examples/wexcombe-sparrow.yaml"), one("examples/oldbury-tern.yaml"));
    interleaved(&mut [
        ("harrowgate-h4: 10 lamps, two clocks", &mut a),
        ("merlewood-m20: 4 typical lamps", &mut b),
        ("wexcombe-sparrow: mistakes", &mut c),
        ("oldbury-tern: dates that straddle", &mut d),
        ("the list of rule sets, nothing judged", &mut || run(&["rules"])),
        ("the version: nothing read", &mut || run(&["--version"])),
    ]);
}

fn reading(sets: &[RuleSet]) {
    let bytes: usize = bundled().iter().map(|b| b.text.len()).sum();
    println!("\nreading {} rule sets, {} kB, against serde_yaml without places or checks", sets.len(), bytes / 1000);
    interleaved(&mut [
        ("this program", &mut || drop(black_box(bundled_rule_sets().expect("sound")))),
        ("serde_yaml::Value", &mut || {
            for file in bundled() {
                black_box(serde_yaml::from_str::<serde_yaml::Value>(file.text).expect("YAML"));
            }
        }),
    ]);
}

fn effective_intensity(sets: &[RuleSet]) {
    let model = read_file("examples/harrowgate-h4.yaml");
    let set = sets.iter().find(|s| s.id == "us-14cfr25").expect("bundled");
    let scene = Scene::new(&model, Readings::of(set));
    let system = System::new(&scene, &scene.of_light(LightGroup::AntiCollision)).expect("known");
    let directions: Vec<Direction> = (-75..=75)
        .flat_map(|el| (-180..180).map(move |az| Direction::from_degrees(f64::from(az), f64::from(el))))
        .collect();
    println!("\neffective intensity of the whole system, {} directions", directions.len());
    interleaved(&mut [("5 lamps, 2 channels, 2 clocks", &mut || {
        black_box(directions.iter().map(|d| system.effective_cd(d).low).fold(f64::INFINITY, f64::min));
    })]);
}

fn read_file(path: &str) -> Aircraft {
    lampwright::aircraft::read(&Disk, Path::new(path)).expect("readable").expect("sound")
}

fn read_text(text: String) -> Aircraft {
    let files = Memory::new().with("x.yaml", text);
    lampwright::aircraft::read(&files, Path::new("x.yaml")).expect("readable").expect("sound")
}

const HEAD: &str = "lampwright: aircraft 1\nmodel: {title: x, scale: \"1:8\"}\nprototype: {category: transport aeroplane, authority: US, applied: 1991}\nlamps:\n";

/// A craft of so many lamps that share the sides, each with a mask.
fn of_lamps(count: usize) -> String {
    let mut text = HEAD.to_string();
    for n in 0..count {
        let side = if n % 2 == 0 { "left" } else { "right" };
        let emitter = if n % 2 == 0 { "red 3 W star" } else { "green 3 W star" };
        let aim = 20 + (n * 7) % 80;
        let _ = writeln!(
            text,
            "  lamp {n}: {{light: {side} position, emitter: {emitter}, aim: {side} {aim} deg, mask: {{hides: inboard, edge: 14 mm}}}}"
        );
    }
    text
}

/// A strobe whose pattern has so many steps.
fn of_steps(count: usize) -> String {
    let steps: Vec<String> =
        (0..count / 2).map(|n| format!("{{lit: {} ms}}, {{dark: {} ms}}", 20 + n % 7, 500 + n % 11)).collect();
    format!("{HEAD}  top: {{light: strobe, emitter: cool white 3 W star, aim: up, steps: [{}]}}\n", steps.join(", "))
}

fn growth(sets: &[RuleSet]) {
    println!("\ngrowth: time over size, and the slope of their logarithms (1 is linear)");
    let judged = |model: &Aircraft, sets: &[RuleSet]| drop(black_box(check(model, sets, &Options::default())));
    sized("lamps", &[2, 4, 8, 16, 32], |n| {
        let model = read_text(of_lamps(n));
        move || judged(&model, sets)
    });
    sized("steps of a pattern", &[10, 30, 100, 300, 1000], |n| {
        let model = read_text(of_steps(n));
        move || judged(&model, sets)
    });
    let model = read_file("examples/merlewood-m20.yaml");
    sized("rule sets that answer", &[1, 2, 3, 4, 5], |n| {
        let part25 = sets.iter().find(|s| s.id == "us-14cfr25").expect("bundled");
        let many: Vec<RuleSet> = (0..n)
            .map(|k| {
                let head = RuleHead { id: format!("{} {k}", part25.id), ..part25.head.clone() };
                RuleSet { head, ..part25.clone() }
            })
            .collect();
        let model = &model;
        move || judged(model, &many)
    });
}

fn sized<J: FnMut()>(what: &str, sizes: &[usize], mut make: impl FnMut(usize) -> J) {
    let mut points = Vec::new();
    let mut line = String::new();
    for size in sizes {
        let mut job = make(*size);
        let least = (0..RUNS).map(|_| timed(&mut job)).min().unwrap_or_default().as_secs_f64();
        let _ = write!(line, "  {size}: {:.1} ms", least * 1e3);
        points.push(((*size as f64).ln(), least.ln()));
    }
    println!("  {what:<24} slope {:.2} {line}", slope(&points));
}

fn slope(points: &[(f64, f64)]) -> f64 {
    let n = points.len() as f64;
    let (mx, my) = (points.iter().map(|p| p.0).sum::<f64>() / n, points.iter().map(|p| p.1).sum::<f64>() / n);
    let over: f64 = points.iter().map(|p| (p.0 - mx) * (p.1 - my)).sum();
    over / points.iter().map(|p| (p.0 - mx).powi(2)).sum::<f64>()
}

/// Ten thousand clean sequences of four channels, 540 bytes each.
fn folder_of(count: usize) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("lint-{count}"));
    for n in 0..count {
        let below = folder.join(format!("{:03}", n / 100));
        if n % 100 == 0 {
            std::fs::create_dir_all(&below).expect("made");
        }
        let (period, rate, lit) = (1200 + 10 * (n % 20), 42 + 2 * (n % 7), 40 + 10 * (n % 4));
        let text = format!(
            "lampwright: sequence 1\ntitle: Pattern {n}\ntick: 10 ms\nloop_time: 10 ms\npwm: 400 Hz\nchannels:\n  position:\n    \
             drives: left position\n    steady: 100 %\n  tips:\n    drives: strobe\n    colour: white\n    flash: {{period: {period} \
             ms, lit: {lit} ms, pulses: 2, gap: 100 ms}}\n  beacon:\n    drives: beacon\n    colour: red\n    clock: flasher\n    \
             swell: {{rate: {rate} per min, rise: 100 ms, hold: 50 ms, fall: 150 ms}}\n  distress:\n    drives: landing\n    \
             steps:\n      - lit: 250 ms\n      - dark: 750 ms\n      - level: {{share: 50 %, time: 500 ms}}\n      - dark: 500 ms\n"
        );
        std::fs::write(below.join(format!("{n:05}.yaml")), text).expect("written");
    }
    folder
}

fn lint_once(folder: &Path) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lampwright"));
    let status = command.arg("lint").arg(folder).stdout(Stdio::null()).status();
    assert!(status.is_ok_and(|s| s.success()), "the files are clean");
}

/// Files a second of the peer, where `.ci/run full` has set it up.
fn peer(folder: &Path) -> Option<f64> {
    let python = Path::new("target/validator/bin/python");
    let schema = Path::new(env!("CARGO_TARGET_TMPDIR")).join("sequence.schema.json");
    let printed = Command::new(env!("CARGO_BIN_EXE_lampwright")).args(["schema", "sequence"]).output().ok()?;
    std::fs::write(&schema, printed.stdout).ok()?;
    let mut command = Command::new(python);
    let ran = command.arg("benches/lint_peer.py").arg(folder).arg("1000").arg(schema).output().ok()?;
    String::from_utf8(ran.stdout).ok()?.trim().parse().ok()
}

fn lint_of_a_folder() {
    const FILES: usize = 10_000;
    println!("\nlint of {FILES} sequence files, start to exit (target: 50 times a Python JSON Schema validator)");
    let folder = folder_of(FILES);
    let (mut own, mut others) = (Vec::new(), Vec::new());
    for _ in 0..RUNS {
        own.push(FILES as f64 / timed(|| lint_once(&folder)).as_secs_f64());
        others.extend(peer(&folder));
    }
    let best = |rates: &[f64]| rates.iter().copied().fold(0.0, f64::max);
    let worst = |rates: &[f64]| rates.iter().copied().fold(f64::INFINITY, f64::min);
    println!("  this program                     {:9.0} files a second  (down to {:.0})", best(&own), worst(&own));
    if others.is_empty() {
        println!("  the peer is not set up: `.ci/run full` does");
    } else {
        println!(
            "  jsonschema, PyYAML's C loader    {:9.0} files a second  (down to {:.0})",
            best(&others),
            worst(&others)
        );
        println!("  ratio {:.0}", best(&own) / best(&others));
    }
    sized("files", &[625, 1250, 2500, 5000, 10_000], |n| {
        let folder = folder_of(n);
        move || lint_once(&folder)
    });
}
