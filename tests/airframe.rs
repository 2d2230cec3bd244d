//! Airframes in aircraft files: read, placed and held against what is declared, and what they hide in the goals.

use lampwright::aircraft::{Aircraft, read};
use lampwright::geometry::Direction;
use lampwright::judge::Verdict;
use lampwright::source::formats::soup;
use lampwright::source::{Memory, Rejected};
use lampwright::{Options, bundled_rule_sets, check};
use proptest::prelude::*;
use rstest::rstest;
use std::path::Path;

type Point = [f32; 3];

/// A box by two corners, twelve triangles.
fn block(low: Point, high: Point) -> Vec<[Point; 3]> {
    let corner = |n: usize| [0, 1, 2].map(|k| if n >> k & 1 == 1 { high[k] } else { low[k] });
    let faces = [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]];
    faces.iter().flat_map(|f| [[f[0], f[1], f[2]], [f[0], f[2], f[3]]]).map(|t| t.map(corner)).collect()
}

/// 80 bytes, a count, and for each triangle a normal, three corners, two bytes.
fn stl(triangles: &[[Point; 3]]) -> Vec<u8> {
    let mut out = b"solid by name only".to_vec();
    out.resize(80, b' ');
    out.extend(u32::try_from(triangles.len()).expect("few").to_le_bytes());
    for triangle in triangles {
        out.extend([0; 12]);
        out.extend(triangle.iter().flatten().flat_map(|x| x.to_le_bytes()));
        out.extend([0; 2]);
    }
    out
}

fn text_stl(triangles: &[[Point; 3]]) -> String {
    let corner = |p: &Point| format!("  vertex {} {} {}\n", p[0], p[1], p[2]);
    let facet = |t: &[Point; 3]| {
        format!("facet normal 0 0 0\n outer loop\n{} endloop\nendfacet\n", t.iter().map(corner).collect::<String>())
    };
    format!("solid block\n{}endsolid block\n", triangles.iter().map(facet).collect::<String>())
}

fn obj(triangles: &[[Point; 3]]) -> String {
    let corner = |p: &Point| format!("v {} {} {}\n", p[0], p[1], p[2]);
    let corners: String = triangles.iter().flatten().map(corner).collect();
    let faces = (0..triangles.len()).map(|n| format!("f {} {} {}\n", 3 * n + 1, 3 * n + 2, 3 * n + 3));
    corners + &faces.collect::<String>()
}

const HEAD: &str = "lampwright: aircraft 1\nmodel: {title: Larkfield, scale: \"1:8\", span: 2000 mm, length: 1000 mm}\nprototype: {category: transport aeroplane, authority: US, applied: 1990}\n";

/// The model's body: 1000 long, 2000 wide, 100 high about the datum, and a wall 50 mm right of the lamp.
fn body() -> Vec<[Point; 3]> {
    block([-500.0, -1000.0, -50.0], [500.0, 1000.0, 50.0])
}

fn loaded(airframe: &str, lamps: &str, mesh: Vec<u8>) -> Result<Aircraft, Rejected> {
    let text = format!("{HEAD}airframe: {{mesh: body.stl, {airframe}}}\nlamps:\n{lamps}");
    let files = Memory::new().with("x.yaml", text).with("body.stl", mesh);
    read(&files, Path::new("x.yaml")).expect("there")
}

const ON_TOP: &str = "  tail: {light: rear position, emitter: cool white 5 mm clear medium, aim: aft, place: \"centre, aft 100 mm, up 60 mm\"}\n";

#[test]
fn the_forms_of_a_mesh_are_one() {
    let triangles = body();
    let forms = [
        ("a.stl", stl(&triangles)),
        ("a.STL", text_stl(&triangles).into_bytes()),
        ("a.obj", obj(&triangles).into_bytes()),
    ];
    for (name, bytes) in forms {
        assert_eq!(soup(name, bytes).expect(name), triangles, "{name}");
    }
    // A face of four corners is two triangles.
    let quad = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nf 1 2 3 4\n";
    assert_eq!(soup("a.obj", quad.into()).expect("read").len(), 2);
}

#[rstest]
#[case("unit: mm, nose: +x, up: +z", 1.0, [0, 1, 2])]
#[case("unit: in, nose: +x, up: +z", 1.0 / 25.4, [0, 1, 2])]
#[case("unit: m, size: full size, nose: +x, up: +z", 8e-3, [0, 1, 2])]
// Nose along y, up along z: right is along x, as in most drawings seen from above.
#[case("unit: mm, nose: +y, up: +z", 1.0, [1, 0, 2])]
fn a_mesh_is_brought_to_the_model(#[case] airframe: &str, #[case] factor: f32, #[case] axes: [usize; 3]) {
    // Lopsided: a mast on the right, forward, upwards.
    let mast = block([200.0, 300.0, 50.0], [210.0, 310.0, 250.0]);
    let as_drawn = |p: Point| {
        let mut drawn = [0.0; 3];
        // The body is forward, right, up; right is against y where x is forward and z up.
        let own = if axes == [0, 1, 2] { [p[0], -p[1], p[2]] } else { p };
        for (k, axis) in axes.into_iter().enumerate() {
            drawn[axis] = own[k] * factor;
        }
        drawn
    };
    let triangles: Vec<[Point; 3]> = [body(), mast].concat().into_iter().map(|t| t.map(as_drawn)).collect();
    let aircraft = loaded(airframe, ON_TOP, stl(&triangles)).unwrap_or_else(|r| panic!("{}", r.show(false)));
    let seen = aircraft.airframe.expect("given").seen_from([-100.0, 0.0, 150.0]).expect("few edges");
    // The mast stands 305 right of and 305 forward of the lamp: 45 degrees right of ahead.
    assert!(seen.hides(&Direction::from_degrees(45.0, 0.0)) && !seen.hides(&Direction::from_degrees(-45.0, 0.0)));
}

#[test]
fn an_origin_moves_the_mesh() {
    // The file counts from the nose, 500 mm forward of the datum, and from the belly, 50 mm below it.
    let from_nose: Vec<[Point; 3]> = body().iter().map(|t| t.map(|[x, y, z]| [x - 500.0, y, z + 50.0])).collect();
    let airframe = "unit: mm, nose: +x, up: +z, origin: \"forward 500 mm, down 50 mm\"";
    let aircraft = loaded(airframe, ON_TOP, stl(&from_nose)).expect("sound");
    let (low, high) = aircraft.airframe.expect("given").mesh().bounds().expect("a mesh");
    assert_eq!((low, high), ([-500.0, -1000.0, -50.0], [500.0, 1000.0, 50.0]));
}

#[test]
fn a_half_is_mirrored() {
    let half = block([-500.0, 0.0, -50.0], [500.0, 1000.0, 50.0]);
    let left: Vec<[Point; 3]> = half;
    let aircraft = loaded("unit: mm, nose: +x, up: +z, half: left", ON_TOP, stl(&left)).expect("sound");
    let seen = aircraft.airframe.expect("given").seen_from([0.0, 0.0, 60.0]).expect("few edges");
    for azimuth in [-120.0, -60.0, 60.0, 120.0] {
        assert!(seen.hides(&Direction::from_degrees(azimuth, -5.0)), "{azimuth}");
    }
}

#[rstest]
#[case("unit: mm, nose: +x, up: +z", body().iter().map(|t| t.map(|p| p.map(|x| x / 25.4))).collect(), ON_TOP, "write `unit: in`")]
#[case("unit: mm, nose: +x, up: +z", body().iter().map(|t| t.map(|p| p.map(|x| x / 10.0))).collect(), ON_TOP, "write `unit: cm`")]
#[case("unit: mm, nose: +x, up: +z", body().iter().map(|t| t.map(|p| p.map(|x| x * 8.0))).collect(), ON_TOP, "write `size: full size`")]
#[case("unit: mm, nose: +y, up: +z", body(), ON_TOP, "which way `nose` and `up` are")]
#[case("unit: mm, nose: +x, up: -x", body(), ON_TOP, "upright on each other")]
#[case(
    "unit: mm, nose: +x, up: +z",
    body(),
    "  tail: {light: rear position, emitter: cool white 5 mm clear medium, aim: aft, place: centre}\n",
    "needs its place on all three axes"
)]
#[case(
    "unit: mm, nose: +x, up: +z",
    body(),
    "  tail: {light: rear position, emitter: cool white 5 mm clear medium, aim: aft, place: \"centre, aft 900 mm, up 60 mm\"}\n",
    "stands outside its airframe"
)]
#[case("unit: mm, nose: +x, up: +z, housing: 2000 mm", body(), ON_TOP, "0 to 1000 mm")]
#[case("nose: +x, up: +z", body(), ON_TOP, "`unit`")]
#[case("unit: mm, nose: forward, up: +z", body(), ON_TOP, "`forward`")]
fn what_does_not_fit_is_told(
    #[case] airframe: &str,
    #[case] mesh: Vec<[Point; 3]>,
    #[case] lamps: &str,
    #[case] wanted: &str,
) {
    let told = loaded(airframe, lamps, stl(&mesh)).expect_err("wrong").show(false);
    assert!(told.contains(wanted), "{told}");
}

/// Triangles about the lamp in all directions and sizes, no two alike.
fn tangle(count: u32) -> Vec<[Point; 3]> {
    let number = |n: u32| f64::from(n.wrapping_mul(2_654_435_761) >> 8) / f64::from(1 << 24);
    let corner = |n: u32| [0, 1, 2].map(|k| (2.0 * number(3 * n + k) - 1.0) as f32 * [500.0, 1000.0, 50.0][k as usize]);
    (0..count).map(|n| [corner(3 * n), corner(3 * n + 1), corner(3 * n + 2)]).chain(body()).collect()
}

#[test]
fn a_tangle_is_refused_and_not_looked_at_for_ever() {
    let told = loaded("unit: mm, nose: +x, up: +z", ON_TOP, stl(&tangle(3000))).expect_err("tangled").show(false);
    assert!(told.contains("more edges across each other"), "{told}");
}

#[test]
fn the_other_half_and_a_mesh_of_nothing_are_told() {
    let right = block([-500.0, -1000.0, -50.0], [500.0, 0.0, 50.0]);
    let told = loaded("unit: mm, nose: +x, up: +z, half: left", ON_TOP, stl(&right)).expect_err("other").show(false);
    assert!(told.contains("not the left half"), "{told}");
    let flat = vec![[[0.0; 3], [500.0, 1000.0, 0.0], [0.0; 3]]];
    let told = loaded("unit: mm, nose: +x, up: +z", ON_TOP, stl(&flat)).expect_err("nothing").show(false);
    assert!(told.contains("have no area"), "{told}");
    let far: Vec<[Point; 3]> = body().iter().map(|t| t.map(|p| p.map(|x| x * 1e4))).collect();
    let told = loaded("unit: mm, nose: +x, up: +z", ON_TOP, stl(&far)).expect_err("far").show(false);
    assert!(told.contains("10000 m from the datum") || told.contains("1.00e4 m from the datum"), "{told}");
}

#[rstest]
#[case(stl(&body())[..600].to_vec(), "is no STL")]
#[case({ let mut lying = stl(&body()); lying[80..84].copy_from_slice(&u32::MAX.to_le_bytes()); lying }, "is no STL")]
#[case(stl(&[]), "no triangles")]
#[case(Vec::new(), "is no STL")]
#[case(b"solid x\nfacet normal 0 0 0\n outer loop\n vertex 1 2\n".to_vec(), "after triangle 0")]
#[case(stl(&[[[0.0, 0.0, 0.0], [1.0, f32::NAN, 0.0], [0.0, 1.0, 0.0]]]), "no finite number")]
fn a_file_that_is_no_mesh_is_told(#[case] bytes: Vec<u8>, #[case] wanted: &str) {
    let told = loaded("unit: mm, nose: +x, up: +z", ON_TOP, bytes).expect_err("wrong").show(false);
    assert!(told.contains(wanted), "{told}");
}

/// 4 294 967 295 triangles of 50 bytes would take 215 GB, as many corners of an OBJ 52 GB: the program has 2 GB.
#[cfg(target_os = "linux")]
#[rstest]
#[case("stl", { let mut lying = stl(&body()); lying[80..84].copy_from_slice(&u32::MAX.to_le_bytes()); lying }, "is no STL")]
#[case("obj", b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4294967295\n".to_vec(), "body.obj")]
fn a_count_that_lies_is_an_error_and_no_memory(#[case] form: &str, #[case] mesh: Vec<u8>, #[case] wanted: &str) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("lying-{form}"));
    std::fs::create_dir_all(&folder).expect("made");
    std::fs::write(folder.join(format!("body.{form}")), mesh).expect("written");
    let text = format!("{HEAD}airframe: {{mesh: body.{form}, unit: mm, nose: +x, up: +z}}\nlamps:\n{ON_TOP}");
    let file = folder.join("x.yaml");
    std::fs::write(&file, text).expect("written");
    let mut limited = std::process::Command::new("sh");
    limited.args(["-c", "ulimit -v 2000000 && exec \"$@\"", "sh", env!("CARGO_BIN_EXE_lampwright"), "check"]);
    let ran = limited.arg(&file).output().expect("starts");
    let told = String::from_utf8_lossy(&ran.stderr);
    assert_eq!(ran.status.code(), Some(2), "{told}");
    assert!(told.contains(wanted) && told.contains("1 mistake"), "{told}");
}

#[test]
fn a_wall_astern_is_named_and_missed() {
    // A lamp 10 mm above the body's deck looks aft at a wall 200 mm wide and high, 100 mm behind it: atan(100 / 100) to each
    // side and up, and the deck below: the deck ends 400 mm behind and hides from atan(10 / 400) down.
    let wall = block([-210.0, -100.0, 50.0], [-200.0, 100.0, 160.0]);
    let aircraft = loaded("unit: mm, nose: +x, up: +z", ON_TOP, stl(&[body(), wall].concat())).expect("sound");
    let report = check(&aircraft, &bundled_rule_sets().expect("sound"), &Options::default()).expect("judged");
    let goal = report.goals.iter().find(|g| g.id.starts_with("rear-light-unbroken")).expect("asked");
    assert_eq!(goal.verdict, lampwright::judge::Verdict::Missed);
    let named = goal.readings.iter().find(|n| n.contains("the airframe hides tail")).expect("named");
    // "... first at right 0 mm, aft 126 mm, up 50 mm of the datum, 28 mm from the lamp": on the deck or the wall, and as far
    // from the lamp as those figures make it.
    let numbers = |text: &str| -> Vec<f64> { text.split_whitespace().filter_map(|w| w.parse().ok()).collect() };
    let [right, aft, up, far] = numbers(named.split("first at").nth(1).expect("a place"))[..] else {
        panic!("{named}")
    };
    assert!((up - 50.0).abs() <= 1.0 || (aft - 200.0).abs() <= 1.0, "{named}");
    assert!((far - (right * right + (aft - 100.0).powi(2) + (up - 60.0).powi(2)).sqrt()).abs() <= 1.5, "{named}");
    assert!(report.aircraft.airframe.as_ref().is_some_and(|a| a.starts_with("24 triangles")));
    // Without the airframe it is met.
    let bare = Aircraft { airframe: None, ..aircraft };
    let report = check(&bare, &bundled_rule_sets().expect("sound"), &Options::default()).expect("judged");
    let goal = report.goals.iter().find(|g| g.id.starts_with("rear-light-unbroken")).expect("asked");
    assert_eq!(goal.verdict, Verdict::Met);
}

fn remedy_for(goal: &str, lamp: &str, mesh: &[[Point; 3]]) -> String {
    let aircraft = loaded("unit: mm, nose: +x, up: +z, housing: 0 mm", lamp, stl(mesh))
        .unwrap_or_else(|r| panic!("{}", r.show(false)));
    let report = check(&aircraft, &bundled_rule_sets().expect("sound"), &Options::default()).expect("judged");
    let goal = report.goals.into_iter().find(|g| g.id.starts_with(goal)).expect("asked");
    assert_eq!(goal.verdict, Verdict::Missed);
    goal.to_meet.expect("something clears it")
}

#[test]
fn what_clears_a_fin_or_a_skin_is_said() {
    // The body lies far below, out of the way of all but the lowest directions; blades of no thickness stand beside the lamp.
    let plate = |x: [f64; 2], y: f64, z: [f64; 2]| {
        let corner = |x: f64, z: f64| [x as f32, y as f32, z as f32];
        let (a, b, c, d) = (corner(x[0], z[0]), corner(x[1], z[0]), corner(x[1], z[1]), corner(x[0], z[1]));
        vec![[a, b, c], [a, c, d]]
    };
    let far = [[-499.0, 1000.0, 0.0], [501.0, -1000.0, 0.0], [501.0, -999.0, 0.0]];
    let mesh = |plate: Vec<[Point; 3]>| [vec![far], plate].concat();
    // CV34, CV35 of the practice figures: a lamp 8 mm right of a fin's plane, which reaches 10 mm aft of it and may reach
    // 8 / tan 70 = 2.91 mm: 7.09 mm to go. A file's y is left where x is the nose and z is up.
    let tail = "  tail: {light: rear position, emitter: cool white 3 W star, aim: aft, place: \"right 8 mm, aft 480 mm, up 20 mm\"}\n";
    let clears = remedy_for("rear-light-unbroken", tail, &mesh(plate([-490.0, -400.0], 0.0, [15.0, 60.0])));
    assert!(clears.starts_with("move it 7.1 mm aft"), "{clears}");
    // CV36: a skin 5 mm outboard of a tip lamp must begin 5 tan 20 = 1.82 mm aft of it to clear 110 degrees.
    let tip = "  tip: {light: left position, emitter: red 3 W star, aim: left 55 deg, place: \"left 990 mm, aft 0 mm, up 20 mm\"}\n";
    let clears = remedy_for("left-light-unbroken", tip, &mesh(plate([-100.0, 0.0], 995.0, [15.0, 60.0])));
    assert!(clears.starts_with("move it 1.9 mm forward"), "{clears}");
    let within = "  tip: {light: left position, emitter: red 3 W star, aim: left 55 deg, place: \"left 500 mm, aft 0 mm, up 0 mm\"}\n";
    let clears = remedy_for("left-light-unbroken", within, &body());
    assert!(clears.contains("tip lies within the airframe"), "{clears}");
}

#[test]
fn what_is_out_of_order_in_a_mesh_is_said() {
    // By hand: the first triangle of the box runs +x then +y on its low face, so by the right hand it faces up, into the box.
    let mut triangles: Vec<[Point; 3]> = body().iter().map(|[a, b, c]| [*a, *c, *b]).collect();
    let described = |triangles: &[[Point; 3]]| {
        let aircraft = loaded("unit: mm, nose: +x, up: +z", ON_TOP, stl(triangles)).expect("sound");
        let report = check(&aircraft, &bundled_rule_sets().expect("sound"), &Options::default()).expect("judged");
        report.aircraft.airframe.expect("given")
    };
    assert_eq!(
        (described(&body()).as_str(), described(&triangles).as_str()),
        ("12 triangles, surface that faces inwards", "12 triangles")
    );
    // Twice one of its triangles, one of no area, and a loose one: three open edges.
    let first = triangles[0];
    triangles.extend([first, [first[0]; 3], [[0.0, 0.0, 50.0], [10.0, 0.0, 60.0], [0.0, 10.0, 60.0]]]);
    let told = described(&triangles);
    assert!(told.starts_with("13 triangles, 1 without area left out, 1 doubled left out"), "{told}");
    assert!(told.contains("3 open edges"), "{told}");
}

#[test]
fn the_sphere_is_shown_as_a_table() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("directions");
    std::fs::create_dir_all(&folder).expect("made");
    // A wall right of the lamp, 50 mm away and 400 mm long and high: hidden within atan(200 / 50) = 76 degrees of abeam.
    let wall = block([-300.0, 50.0, -140.0], [100.0, 60.0, 260.0]);
    std::fs::write(folder.join("body.stl"), stl(&[body(), wall].concat())).expect("written");
    let text = format!("{HEAD}airframe: {{mesh: body.stl, unit: mm, nose: +x, up: +z}}\nlamps:\n{ON_TOP}");
    // A light of another kind has rows of its own; one that a local rule alone requires has none.
    let more = "  tow: {light: towing, emitter: cool white 5 mm clear medium, aim: aft, place: \"centre, aft 100 mm, up 70 mm\"}\n  site: {light: conspicuity, required_by: local rule, emitter: cool white 5 mm clear medium, aim: aft, place: \"centre, aft 100 mm, up 70 mm\"}\n";
    std::fs::write(folder.join("x.yaml"), text + more).expect("written");
    let (file, table) = (folder.join("x.yaml"), folder.join("sphere.csv"));
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_lampwright"));
    let ran = command.arg("check").arg(&file).arg("--show-directions").arg(&table).output().expect("starts");
    assert!(matches!(ran.status.code(), Some(0 | 1)), "{}", String::from_utf8_lossy(&ran.stderr));
    let mut reader = csv::Reader::from_path(&table).expect("a table");
    let rows: Vec<csv::StringRecord> = reader.records().map(|r| r.expect("a row")).collect();
    assert_eq!(rows.len(), 2 * 180 * 90);
    assert_eq!(rows.iter().filter(|r| &r[0] == "towing").count(), 180 * 90);
    let row =
        |azimuth: &str, elevation: &str| rows.iter().find(|r| &r[1] == azimuth && &r[2] == elevation).expect("a row");
    // The file draws y to the left, so the wall stands left of the lamp; aft of 166 degrees it is past.
    assert_eq!((&row("-101", "1")[6], &row("101", "1")[6], &row("-169", "1")[6]), ("tail", "", ""));
    assert_eq!((&row("179", "1")[5], &row("-101", "1")[5]), ("tail", ""));
    assert!(rows.iter().any(|r| r[7].contains("us-14cfr25/rear-light")));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_bytes_end_in_a_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400), text in "[ -~\n]{0,300}", count in any::<u32>()) {
        let mut lying = vec![0; 80];
        lying.extend(count.to_le_bytes());
        lying.extend(&bytes);
        for bytes in [bytes, lying, format!("solid {text}").into_bytes(), text.into_bytes()] {
            for name in ["a.stl", "a.obj"] {
                let _ = soup(name, bytes.clone());
            }
        }
    }
}
