//! How many directions a second the airframe is looked at in, beside Embree: `cargo bench --bench shadow`.
//!
//! The peer wants `python -m venv target/embree && target/embree/bin/pip install embreex numpy`.

#![allow(clippy::print_stdout)]

use lampwright::geometry::{Coverage, Mesh};
use lampwright::source::formats::soup;
use std::hint::black_box;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

const RUNS: usize = 7;
/// Squares a side of a face: 6 x 1024 x 1024 directions.
const SIZE: usize = 1024;
/// Places on the example airframe: a wing tip, the tail, the belly.
const LAMPS: [(&str, [f64; 3]); 3] =
    [("wing tip", [-262.0, 1165.0, 50.0]), ("tail", [-1150.0, 4.0, 160.0]), ("belly", [-100.0, 0.0, -123.0])];

fn main() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("shadow");
    std::fs::create_dir_all(&folder).expect("made");
    let mut make = Command::new(env!("CARGO"));
    let made = make.args(["run", "--release", "--quiet", "--example", "airframe", "--"]).arg(&folder).arg("500000");
    assert!(made.status().is_ok_and(|s| s.success()), "the airframe is made");
    let file = folder.join("larkfield.stl");
    let corners = soup("larkfield.stl", std::fs::read(&file).expect("there")).expect("a mesh");
    let right = |p: [f32; 3]| [f64::from(p[0]), -f64::from(p[1]), f64::from(p[2])];
    let mesh = Mesh::new(corners.into_iter().map(|c| c.map(right)));
    println!(
        "\nwhich of {} directions {} triangles hide (target: 10 times Embree's any-hit)",
        6 * SIZE * SIZE,
        mesh.triangle_count()
    );
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
        let rates: Vec<f64> = peers.iter().map(|(_, rate)| *rate).collect();
        if let Some((count, _)) = peers.first() {
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
}

/// What Embree finds hidden, and its directions a second, where it is set up.
fn peer(mesh: &Path, place: [f64; 3]) -> Option<(u64, f64)> {
    let mut command = Command::new("target/embree/bin/python");
    let words = place.map(|x| x.to_string());
    let ran = command.arg("benches/shadow_peer.py").arg(mesh).args(words).arg(SIZE.to_string()).output().ok()?;
    let printed = String::from_utf8(ran.stdout).ok()?;
    let (count, rate) = printed.trim().split_once(' ')?;
    Some((count.parse().ok()?, rate.parse().ok()?))
}
