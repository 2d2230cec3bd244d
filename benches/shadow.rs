//! How many directions a second the airframe is looked at in, and how long a whole check takes, beside Embree:
//! `cargo bench --bench shadow`.
//!
//! The peer wants `python -m venv target/embree && target/embree/bin/pip install embreex numpy`.

#![allow(clippy::print_stdout)]

use lampwright::geometry::{Coverage, Mesh};
use lampwright::source::formats::soup;
use std::hint::black_box;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

const RUNS: usize = 7;
/// Squares a side of a face: 6 x 1024 x 1024 directions.
const SIZE: usize = 1024;
/// How far apart the bounds of a solid angle may be.
const TOLERANCE_SR: f64 = 1e-3;
/// Places on the example airframe: a wing tip, the tail, the belly.
const LAMPS: [(&str, [f64; 3]); 3] =
    [("wing tip", [-262.0, 1165.0, 50.0]), ("tail", [-1150.0, 4.0, 160.0]), ("belly", [-100.0, 0.0, -123.0])];

fn main() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("shadow");
    std::fs::create_dir_all(&folder).expect("made");
    made(&folder, 500_000);
    let file = folder.join("larkfield.stl");
    let corners = soup("larkfield.stl", std::fs::read(&file).expect("there")).expect("a mesh");
    let right = |p: [f32; 3]| [f64::from(p[0]), -f64::from(p[1]), f64::from(p[2])];
    let mesh = Mesh::new(corners.into_iter().map(|c| c.map(right)));
    println!(
        "\nwhich of {} directions {} triangles hide (target: 10 times Embree's any-hit)",
        6 * SIZE * SIZE,
        mesh.triangle_count()
    );
    let mut by_embree = Vec::new();
    for (name, place) in LAMPS {
        let (mut own, mut peers, mut hidden) = (Vec::new(), Vec::new(), 0);
        for _ in 0..RUNS {
            let begin = Instant::now();
            hidden = black_box(Coverage::middles_hidden(&mesh, place, SIZE));
            own.push((6 * SIZE * SIZE) as f64 / begin.elapsed().as_secs_f64());
            peers.extend(peer(&file, place));
        }
        let best = |rates: &[f64]| rates.iter().copied().fold(0.0, f64::max) / 1e6;
        let worst = |rates: &[f64]| rates.iter().copied().fold(f64::INFINITY, f64::min) / 1e6;
        println!("  {name:<10} {hidden} hidden; this program {:7.1} M/s (down to {:.1})", best(&own), worst(&own));
        let rates: Vec<f64> = peers.iter().map(|peer| peer.rate).collect();
        if let Some(Peer { hidden: count, undecided_sr, .. }) = peers.first() {
            let directions = 6.0 * (SIZE as f64 * undecided_sr / TOLERANCE_SR).powi(2);
            by_embree.push(directions / (1e6 * best(&rates)));
            println!(
                "  {:<10} {count} hidden; Embree {:13.1} M/s (down to {:.1}); ratio {:.1}",
                "",
                best(&rates),
                worst(&rates),
                best(&own) / best(&rates)
            );
        } else {
            println!("  the peer is not set up");
        }
    }
    whole_check(&folder, &by_embree);
    growth(&folder);
}

/// A check of twelve lamps from start to exit, and what Embree would take at the count of directions at which its sampling is
/// as sure, by the mean of the places above, on as many threads.
fn whole_check(folder: &Path, by_embree: &[f64]) {
    let times: Vec<f64> = (0..RUNS).map(|_| checked(folder)).collect();
    let (least, most) = least_and_most(&times);
    println!("\nwhole check, 12 lamps, solid angles within {TOLERANCE_SR} sr (target: under 1 s on two cores)");
    println!("  this program {:.0} ms (to {:.0})", 1e3 * least, 1e3 * most);
    if !by_embree.is_empty() {
        let threads = std::thread::available_parallelism().map_or(1.0, |n| n.get() as f64);
        let each = by_embree.iter().sum::<f64>() / by_embree.len() as f64;
        let all = 12.0 * each / threads;
        println!("  Embree       {all:.0} s reckoned at its own rate; ratio {:.0}", all / least);
    }
}

/// How the time of a whole check grows with the mesh: the slope of log time over log size, 1 being linear.
fn growth(folder: &Path) {
    let sizes = [31_250, 62_500, 125_000, 250_000, 500_000];
    let points: Vec<(f64, f64)> = sizes
        .iter()
        .map(|size| {
            made(folder, *size);
            let times: Vec<f64> = (0..RUNS).map(|_| checked(folder)).collect();
            (f64::from(*size).ln(), least_and_most(&times).0.ln())
        })
        .collect();
    let n = points.len() as f64;
    let (x, y) = (points.iter().map(|p| p.0).sum::<f64>() / n, points.iter().map(|p| p.1).sum::<f64>() / n);
    let (over, under) =
        points.iter().fold((0.0, 0.0), |(a, b), p| (a + (p.0 - x) * (p.1 - y), b + (p.0 - x) * (p.0 - x)));
    println!("\nwhole check over {sizes:?} triangles: slope {:.2} (target: 1 or less)", over / under);
    for (size, (_, time)) in sizes.iter().zip(&points) {
        println!("  {size:>7} triangles {:7.0} ms", 1e3 * time.exp());
    }
}

fn made(folder: &Path, triangles: u32) {
    let mut make = Command::new(env!("CARGO"));
    let made = make.args(["run", "--release", "--quiet", "--example", "airframe", "--"]).arg(folder);
    assert!(made.arg(triangles.to_string()).stdout(Stdio::null()).status().is_ok_and(|s| s.success()), "made");
}

fn checked(folder: &Path) -> f64 {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lampwright"));
    command.arg("check").arg(folder.join("larkfield-l2.yaml")).stdout(Stdio::null()).stderr(Stdio::null());
    let begin = Instant::now();
    assert!(command.status().is_ok_and(|s| matches!(s.code(), Some(0 | 1))), "checked");
    begin.elapsed().as_secs_f64()
}

fn least_and_most(times: &[f64]) -> (f64, f64) {
    times.iter().fold((f64::INFINITY, 0.0), |(low, high), t| (t.min(low), t.max(high)))
}

/// What Embree finds at a count of directions.
struct Peer {
    hidden: u64,
    /// Directions a second.
    rate: f64,
    /// What sampling of that fineness leaves open.
    undecided_sr: f64,
}

/// What Embree finds hidden, and how fast, where it is set up.
fn peer(mesh: &Path, place: [f64; 3]) -> Option<Peer> {
    let mut command = Command::new("target/embree/bin/python");
    let words = place.map(|x| x.to_string());
    let ran = command.arg("benches/shadow_peer.py").arg(mesh).args(words).arg(SIZE.to_string()).output().ok()?;
    let printed = String::from_utf8(ran.stdout).ok()?;
    let mut words = printed.split_whitespace();
    let mut next = || words.next().map(str::to_string);
    let (hidden, rate, undecided) = (next()?, next()?, next()?);
    Some(Peer { hidden: hidden.parse().ok()?, rate: rate.parse().ok()?, undecided_sr: undecided.parse().ok()? })
}
