//! An airframe in triangles and the model it belongs to: fuselage, wing with winglets, tail and gear, lamps about them.
//!
//! `cargo run --release --example airframe -- FOLDER [TRIANGLES]` writes `larkfield.stl` and `larkfield-l2.yaml` there, to be
//! checked with `lampwright check FOLDER/larkfield-l2.yaml`.

use std::error::Error;
use std::f64::consts::TAU;
use std::io::Write;
use std::path::Path;

type Point = [f64; 3];

/// A surface over two parameters from 0 to 1, cut into a grid of so many fields.
fn sheet(across: usize, along: usize, at: impl Fn(f64, f64) -> Point) -> Vec<[Point; 3]> {
    let corner = |i: usize, j: usize| at(i as f64 / across as f64, j as f64 / along as f64);
    let field = |i, j| {
        let (a, b, c, d) = (corner(i, j), corner(i + 1, j), corner(i + 1, j + 1), corner(i, j + 1));
        [[a, b, c], [a, c, d]]
    };
    (0..along).flat_map(|j| (0..across).flat_map(move |i| field(i, j))).collect()
}

/// A body of round sections along x, forward of the datum: half-breadth and height of the middle by the share from nose to tail.
fn fuselage(fields: usize) -> Vec<[Point; 3]> {
    let section = |s: f64| {
        let radius =
            120.0 * (1.0 - (1.0 - s / 0.12).clamp(0.0, 1.0).powi(2)).sqrt() * ((1.0 - s) / 0.35).clamp(0.0, 1.0).sqrt();
        (900.0 - 2200.0 * s, radius, 60.0 * (s - 0.65).max(0.0))
    };
    sheet(fields, 2 * fields, |a, s| {
        let ((x, radius, up), angle) = (section(s), a * TAU);
        // The seam ends where it began, to the last bit.
        let (sin, cos) = if a == 1.0 { (0.0, 1.0) } else { angle.sin_cos() };
        [x, radius * cos, up + radius * sin]
    })
}

/// A flat body: thickness by the share of the chord (four parts in a hundred of an arc), leading edge, chord and normal by the
/// share of its length.
fn blade(fields: usize, station: impl Fn(f64) -> (Point, f64, Point)) -> Vec<[Point; 3]> {
    sheet(fields, fields / 2, |a, s| {
        let (lead, chord, normal) = station(s);
        let turn = if a == 1.0 { 0.0 } else { a * TAU };
        let (back, thick) = (0.5 * chord * (1.0 - turn.cos()), 0.04 * chord * turn.sin());
        [lead[0] - back, lead[1] + thick * normal[1], lead[2] + thick * normal[2]]
    })
}

fn wing(side: f64, fields: usize) -> Vec<[Point; 3]> {
    blade(fields, |s| {
        let (out, lift) = (1100.0 * s, 90.0 * s);
        ([150.0 - 420.0 * s, side * (60.0 + out), -40.0 + lift], 380.0 - 240.0 * s, [0.0, 0.0, 1.0])
    })
}

fn winglet(side: f64, fields: usize) -> Vec<[Point; 3]> {
    blade(fields, |s| {
        ([-290.0 - 90.0 * s, side * (1160.0 + 25.0 * s), 50.0 + 140.0 * s], 120.0 - 70.0 * s, [0.0, side, 0.0])
    })
}

fn tail(side: f64, fields: usize) -> Vec<[Point; 3]> {
    blade(fields, |s| ([-1040.0 - 130.0 * s, side * 380.0 * s, 40.0 + 20.0 * s], 200.0 - 90.0 * s, [0.0, 0.0, 1.0]))
}

fn fin(fields: usize) -> Vec<[Point; 3]> {
    blade(fields, |s| ([-930.0 - 220.0 * s, 0.0, 60.0 + 330.0 * s], 280.0 - 140.0 * s, [0.0, 1.0, 0.0]))
}

fn leg(forward: f64, right: f64, fields: usize) -> Vec<[Point; 3]> {
    sheet(fields / 4, fields / 4, |a, s| {
        let (sin, cos) = if a == 1.0 { (0.0, 1.0) } else { (a * TAU).sin_cos() };
        [forward + 12.0 * cos, right + 12.0 * sin, -60.0 - 170.0 * s]
    })
}

/// The whole airframe in about so many triangles.
fn airframe(triangles: usize) -> Vec<[Point; 3]> {
    // The fuselage has 4 n^2 of them, each of the six blades and the fin n^2, the legs little.
    let fields = ((triangles as f64 / 11.5).sqrt() as usize).max(8);
    let mut all = fuselage(fields);
    for side in [-1.0, 1.0] {
        all.extend([wing(side, fields), winglet(side, fields), tail(side, fields)].concat());
        all.extend(leg(-60.0, side * 170.0, fields));
    }
    all.extend([fin(fields), leg(620.0, 0.0, fields)].concat());
    all
}

/// Binary STL: 80 bytes, a count, and for each triangle a normal (left at nought), three corners and two bytes.
fn stl(triangles: &[[Point; 3]]) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut out = vec![0; 80];
    out.extend(u32::try_from(triangles.len())?.to_le_bytes());
    for triangle in triangles {
        out.extend([0; 12]);
        out.extend(triangle.iter().flatten().flat_map(|x| (*x as f32).to_le_bytes()));
        out.extend([0; 2]);
    }
    Ok(out)
}

const AIRCRAFT: &str = r#"lampwright: aircraft 1
model: {title: Larkfield L2, scale: "1:8", span: 2400 mm, length: 2200 mm, nose: forward 900 mm}
prototype: {category: transport aeroplane, authority: US, applied: 1990}
airframe: {mesh: larkfield.stl, unit: mm, nose: +x, up: +z}
lamps:
  left tip: {light: left position, emitter: red 3 W star, aim: left 55 deg, place: "left 1165 mm, aft 262 mm, up 50 mm"}
  right tip: {light: right position, emitter: green 3 W star, aim: right 55 deg, place: "right 1165 mm, aft 262 mm, up 50 mm"}
  tail: {light: rear position, emitter: cool white 5 mm clear medium, aim: aft, place: "centre, aft 1303 mm, up 21 mm"}
  top: {light: beacon, emitter: red 1 W star, aim: up, flash: {rate: 46 per min, lit: 120 ms}, place: "centre, aft 100 mm, up 123 mm"}
  belly: {light: beacon, emitter: red 1 W star, aim: down, flash: {rate: 46 per min, lit: 120 ms}, place: "centre, aft 100 mm, down 123 mm"}
  left strobe: {light: strobe, emitter: cool white 3 W star, aim: left, flash: {rate: 46 per min, lit: 50 ms}, place: "left 1166 mm, aft 272 mm, up 50 mm"}
  right strobe: {light: strobe, emitter: cool white 3 W star, aim: right, flash: {rate: 46 per min, lit: 50 ms}, place: "right 1166 mm, aft 272 mm, up 50 mm"}
  tail strobe: {light: strobe, emitter: cool white 3 W star, aim: aft, flash: {rate: 46 per min, lit: 50 ms}, place: "centre, aft 1303 mm, up 23 mm"}
  left landing: {light: landing, emitter: cool white 3 W star, aim: ahead, place: "left 200 mm, forward 60 mm, down 52 mm"}
  right landing: {light: landing, emitter: cool white 3 W star, aim: ahead, place: "right 200 mm, forward 60 mm, down 52 mm"}
  left logo: {light: logo, emitter: cool white 5 mm clear medium, aim: right, place: "left 300 mm, aft 1200 mm, up 68 mm"}
  right logo: {light: logo, emitter: cool white 5 mm clear medium, aim: left, place: "right 300 mm, aft 1200 mm, up 68 mm"}
"#;

fn main() -> Result<(), Box<dyn Error>> {
    let mut words = std::env::args().skip(1);
    let folder = words.next().ok_or("say into which folder to write")?;
    let triangles = airframe(words.next().map_or(Ok(120_000), |n| n.parse())?);
    let folder = Path::new(&folder);
    std::fs::write(folder.join("larkfield.stl"), stl(&triangles)?)?;
    std::fs::write(folder.join("larkfield-l2.yaml"), AIRCRAFT)?;
    writeln!(
        std::io::stdout(),
        "{} triangles; now: lampwright check {}",
        triangles.len(),
        folder.join("larkfield-l2.yaml").display()
    )?;
    Ok(())
}
