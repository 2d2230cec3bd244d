//! Outlines of meshes and of regions: closed forms of their areas, holes and reach.

use lampwright::geometry::{Mesh, Point, outline_of};
use proptest::prelude::*;
use rstest::rstest;
use std::f64::consts::{PI, TAU};

type Ring = Vec<[f64; 2]>;

const FORWARD: Point = [1.0, 0.0, 0.0];
const RIGHT: Point = [0.0, 1.0, 0.0];
const UP: Point = [0.0, 0.0, 1.0];

/// The area within a ring, above 0 about outer borders (the shoelace formula).
fn area(ring: &Ring) -> f64 {
    (0..ring.len())
        .map(|n| {
            let (p, q) = (ring[n], ring[(n + 1) % ring.len()]);
            (p[0] * q[1] - p[1] * q[0]) / 2.0
        })
        .sum()
}

fn total(rings: &[Ring]) -> f64 {
    rings.iter().map(area).sum()
}

/// The least and greatest of both coordinates.
fn reach(rings: &[Ring]) -> [f64; 4] {
    rings.iter().flatten().fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |r, [x, y]| {
        [r[0].min(*x), r[1].min(*y), r[2].max(*x), r[3].max(*y)]
    })
}

fn near(found: f64, truth: f64, within: f64) {
    assert!((found - truth).abs() <= within, "{found}, not {truth} within {within}");
}

/// How much of a level line lies within rings.
fn cut(rings: &[Ring], level: f64) -> f64 {
    let sides = rings.iter().flat_map(|ring| (0..ring.len()).map(|n| (ring[n], ring[(n + 1) % ring.len()])));
    let crossing = sides.filter(|(p, q)| (p[1] > level) != (q[1] > level));
    let mut at: Vec<f64> = crossing.map(|(p, q)| p[0] + (level - p[1]) / (q[1] - p[1]) * (q[0] - p[0])).collect();
    at.sort_by(f64::total_cmp);
    at.chunks_exact(2).map(|pair| pair[1] - pair[0]).sum()
}

/// How far places on a ring lie from an exact outline at most, by a function that tells how far a place lies from that.
fn worst_off(ring: &Ring, off: impl Fn([f64; 2]) -> f64) -> f64 {
    let along = |n: usize, part: f64| {
        let (p, q) = (ring[n], ring[(n + 1) % ring.len()]);
        [p[0] + part * (q[0] - p[0]), p[1] + part * (q[1] - p[1])]
    };
    let places = (0..ring.len()).flat_map(|n| (0..10).map(move |part| (n, f64::from(part) / 10.0)));
    places.map(|(n, part)| off(along(n, part)).abs()).fold(0.0, f64::max)
}

fn block(low: Point, high: Point) -> Vec<[Point; 3]> {
    let corner = |n: usize| [0, 1, 2].map(|k| if n >> k & 1 == 1 { high[k] } else { low[k] });
    let sides = [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]];
    sides
        .iter()
        .flat_map(|s| {
            let [a, b, c, d] = s.map(corner);
            [[a, b, c], [a, c, d]]
        })
        .collect()
}

/// A grid over two numbers from 0 to 1, bent by a function.
fn bent(cuts: [usize; 2], at: impl Fn(f64, f64) -> Point) -> Vec<[Point; 3]> {
    let place = |i: usize, j: usize| at(i as f64 / cuts[0] as f64, j as f64 / cuts[1] as f64);
    let cell = |i: usize, j: usize| {
        let [a, b, c, d] = [place(i, j), place(i + 1, j), place(i + 1, j + 1), place(i, j + 1)];
        [[a, b, c], [a, c, d]]
    };
    (0..cuts[0]).flat_map(|i| (0..cuts[1]).flat_map(move |j| cell(i, j))).collect()
}

fn ball(centre: Point, radius: f64, cuts: usize) -> Vec<[Point; 3]> {
    bent([2 * cuts, cuts], |s, t| {
        let (turn, tilt) = (TAU * s, PI * t);
        let unit = [tilt.sin() * turn.cos(), tilt.sin() * turn.sin(), tilt.cos()];
        [0, 1, 2].map(|k| centre[k] + radius * unit[k])
    })
}

/// A rod of a width between two places, square in section.
fn rod(from: Point, to: Point, width: f64) -> Vec<[Point; 3]> {
    let way = [0, 1, 2].map(|k| to[k] - from[k]);
    let length = (way[0] * way[0] + way[1] * way[1]).sqrt();
    let beside = [-way[1] / length * width / 2.0, way[0] / length * width / 2.0];
    let corners = block([0.0, -1.0, -1.0], [1.0, 1.0, 1.0]);
    let place = |p: Point| {
        [from[0] + p[0] * way[0] + p[1] * beside[0], from[1] + p[0] * way[1] + p[1] * beside[1], p[2] * width / 2.0]
    };
    corners.into_iter().map(|t| t.map(place)).collect()
}

#[rstest]
#[case::from_above(RIGHT, FORWARD, [-50.0, -100.0, 250.0, 900.0])]
#[case::from_the_left(FORWARD, UP, [-100.0, 20.0, 900.0, 60.0])]
#[case::from_ahead([0.0, -1.0, 0.0], UP, [-250.0, 20.0, 50.0, 60.0])]
fn a_box_shows_its_sides(#[case] across: Point, #[case] up: Point, #[case] sides: [f64; 4]) {
    let rings = Mesh::new(block([-100.0, -50.0, 20.0], [900.0, 250.0, 60.0])).silhouette(across, up);
    assert_eq!((rings.len(), rings[0].len()), (1, 4), "a rectangle: {rings:?}");
    let size = (sides[2] - sides[0]).max(sides[3] - sides[1]);
    reach(&rings).iter().zip(sides).for_each(|(found, truth)| near(*found, truth, size / 600.0));
    // The area of a rectangle.
    near(area(&rings[0]), (sides[2] - sides[0]) * (sides[3] - sides[1]), size * size / 600.0);
}

#[test]
fn a_turned_box_reaches_to_its_corners() {
    // A square of side a seen turned by 30 degrees: its reach is a (cos 30 + sin 30), its area a^2.
    let (sin, cos) = 30_f64.to_radians().sin_cos();
    let (across, up) = ([cos, sin, 0.0], [-sin, cos, 0.0]);
    let rings = Mesh::new(block([0.0; 3], [400.0, 400.0, 50.0])).silhouette(across, up);
    let [left, low, right, high] = reach(&rings);
    let truth = 400.0 * (cos + sin);
    near(right - left, truth, truth / 600.0);
    near(high - low, truth, truth / 600.0);
    near(total(&rings), 160_000.0, 400.0);
    assert!(rings[0].len() <= 8, "no steps: {rings:?}");
}

#[rstest]
#[case(40.0, 60)]
#[case(1500.0, 200)]
fn a_ball_shows_a_circle(#[case] radius: f64, #[case] cuts: usize) {
    let rings = Mesh::new(ball([300.0, -20.0, 70.0], radius, cuts)).silhouette(RIGHT, UP);
    assert_eq!(rings.len(), 1);
    let off = worst_off(&rings[0], |[x, y]| (x + 20.0).hypot(y - 70.0) - radius);
    // A polygon in a circle lies r (1 - cos(pi / (2 cuts))) inside it.
    assert!(off <= 2.0 * radius / 600.0 + radius * (1.0 - (PI / (2.0 * cuts as f64)).cos()), "{off}");
    near(area(&rings[0]), PI * radius * radius, 0.01 * PI * radius * radius);
    assert!(rings[0].len() <= 200, "{} points", rings[0].len());
}

#[test]
fn a_ring_has_a_hole() {
    // A torus along its axis: pi ((R + r)^2 - (R - r)^2) = 4 pi R r.
    let (large, small) = (200.0, 30.0);
    let torus = bent([120, 60], |s, t| {
        let (turn, tilt) = (TAU * s, TAU * t);
        let out = large + small * tilt.cos();
        [out * turn.cos(), out * turn.sin(), small * tilt.sin()]
    });
    let rings = Mesh::new(torus).silhouette(RIGHT, FORWARD);
    assert_eq!(rings.len(), 2, "an outer ring and a hole");
    assert!(area(&rings[0]) * area(&rings[1]) < 0.0, "they turn against each other");
    near(total(&rings), 4.0 * PI * large * small, 0.01 * 4.0 * PI * large * small);
}

#[test]
fn a_frame_of_rods_has_a_hole() {
    // A square of side 300 with a square hole of side 280, in four bars that overlap at the corners.
    let bars = [
        ([0.0, 0.0], [300.0, 10.0]),
        ([0.0, 290.0], [300.0, 300.0]),
        ([0.0, 0.0], [10.0, 300.0]),
        ([290.0, 0.0], [300.0, 300.0]),
    ];
    let blocks = bars.iter().flat_map(|([x, y], [to_x, to_y])| block([*x, *y, -4.0], [*to_x, *to_y, 4.0]));
    let rings = Mesh::new(blocks).silhouette(FORWARD, RIGHT);
    assert_eq!(rings.iter().map(Vec::len).collect::<Vec<_>>(), [4, 4]);
    near(total(&rings), 300.0 * 300.0 - 280.0 * 280.0, 300.0);
}

#[test]
fn two_blocks_make_a_cross() {
    // A wing 600 by 80 across a body 400 by 50: the areas less the overlap, 80 by 50; twelve corners.
    let mut blocks = block([-200.0, -25.0, -30.0], [200.0, 25.0, 30.0]);
    blocks.extend(block([-40.0, -300.0, -5.0], [40.0, 300.0, 5.0]));
    let rings = Mesh::new(blocks).silhouette(RIGHT, FORWARD);
    assert_eq!((rings.len(), rings[0].len()), (1, 12), "{rings:?}");
    near(total(&rings), 600.0 * 80.0 + 400.0 * 50.0 - 80.0 * 50.0, 600.0);
}

#[test]
fn blocks_apart_are_rings_apart_and_specks_are_none() {
    let mut blocks = block([0.0, 0.0, 0.0], [100.0, 100.0, 100.0]);
    blocks.extend(block([400.0, 0.0, 0.0], [500.0, 50.0, 100.0]));
    blocks.extend(block([200.0, 0.0, 0.0], [200.2, 0.2, 0.2]));
    let rings = Mesh::new(blocks).silhouette(FORWARD, RIGHT);
    assert_eq!(rings.len(), 2, "{rings:?}");
    near(total(&rings), 100.0 * 100.0 + 100.0 * 50.0, 150.0);
}

#[rstest]
#[case::along_the_grid(0.0)]
#[case::a_little_off(0.7)]
#[case::slanted(20.0)]
#[case::diagonal(45.0)]
#[case::steep(80.0)]
fn a_sheet_edge_on_stays(#[case] tilt_deg: f64) {
    let (sin, cos) = f64::to_radians(tilt_deg).sin_cos();
    let sheet = bent([7, 40], |s, t| [500.0 * s, (800.0 * t - 400.0) * cos, (800.0 * t - 400.0) * sin]);
    let rings = Mesh::new(sheet).silhouette(RIGHT, UP);
    assert_eq!(rings.len(), 1, "one piece: {rings:?}");
    let size = 800.0 * cos.max(sin);
    let [left, low, right, high] = reach(&rings);
    near(right - left, 800.0 * cos, size / 400.0);
    near(high - low, 800.0 * sin, size / 400.0);
    // Two squares wide, and the wider the more it slants against them.
    let width = area(&rings[0]) / 800.0;
    assert!((size / 1600.0..size / 500.0).contains(&width), "{width} of {size}");
}

#[rstest]
#[case(0.3)]
#[case(0.8)]
#[case(2.5)]
fn a_thin_leg_stays_at_its_body(#[case] width: f64) {
    let mut blocks = block([0.0, 0.0, -50.0], [1000.0, 200.0, 50.0]);
    blocks.extend(rod([300.0, 100.0, 0.0], [420.0, -300.0, 0.0], width));
    let rings = Mesh::new(blocks).silhouette(FORWARD, RIGHT);
    assert_eq!(rings.len(), 1, "one piece");
    near(reach(&rings)[1], -300.0, 1000.0 / 600.0);
    // Below the body a level line cuts it over its width by its slant, or over two squares at least.
    for level in [-40.3, -150.0, -260.7] {
        let found = cut(&rings, level);
        let truth = width * 120_f64.hypot(400.0) / 400.0;
        let square = 1000.0 / 1600.0;
        assert!(
            found >= square && (truth - 1.5 * square..truth + 3.0 * square).contains(&found),
            "{found}, not {truth}"
        );
    }
}

#[test]
fn a_wire_bent_round_stays_in_one_piece() {
    // A loop of wire thinner than a square: as far round as a circle, with a hole of its area.
    let wire = bent([4000, 6], |s, t| {
        let (turn, tilt) = (TAU * s, TAU * t);
        let out = 500.0 + 0.2 * tilt.cos();
        [out * turn.cos(), out * turn.sin(), 0.2 * tilt.sin()]
    });
    let rings = Mesh::new(wire).silhouette(FORWARD, RIGHT);
    assert_eq!(rings.len(), 2, "{}", rings.len());
    let areas: Vec<f64> = rings.iter().map(|ring| area(ring).abs()).collect();
    areas.iter().for_each(|found| near(*found, PI * 500.0 * 500.0, 0.01 * PI * 500.0 * 500.0));
}

#[test]
fn nothing_has_no_outline() {
    assert_eq!(Mesh::new([]).silhouette(RIGHT, UP), Vec::<Ring>::new());
    let flat = Mesh::new([[[0.0; 3], [1.0, 0.0, 0.0], [2.0, 0.0, 0.0]]]);
    assert_eq!(flat.silhouette(RIGHT, FORWARD), Vec::<Ring>::new());
    let one = Mesh::new(block([0.0; 3], [1.0; 3]));
    for axis in [[0.0; 3], [f64::NAN; 3], [f64::INFINITY; 3]] {
        assert_eq!(one.silhouette(axis, axis), Vec::<Ring>::new());
    }
}

#[test]
fn a_disc_is_traced_by_its_middles() {
    for radius in [20.0, 100.0, 400.0] {
        let size = 2 * radius as usize + 6;
        let centre = size as f64 / 2.0;
        let inside = |x: usize, y: usize| (x as f64 + 0.5 - centre).hypot(y as f64 + 0.5 - centre) <= radius;
        let rings = outline_of([size, size], inside);
        assert_eq!(rings.len(), 1);
        near(area(&rings[0]), PI * radius * radius, 0.01 * PI * radius * radius);
        let off = worst_off(&rings[0], |[x, y]| (x - centre).hypot(y - centre) - radius);
        assert!(off <= 1.3, "{off} squares");
    }
}

#[test]
fn a_region_that_fills_its_grid_is_a_rectangle() {
    let rings = outline_of([30, 20], |_, _| true);
    assert_eq!((rings.len(), rings[0].len()), (1, 4));
    near(area(&rings[0]), 600.0, 0.5 * 50.0);
    assert!(outline_of([30, 20], |_, _| false).is_empty());
    assert!(outline_of([0, 5], |_, _| true).is_empty());
}

/// Whether a place lies within an odd number of rings.
fn even_odd(rings: &[Ring], [x, y]: [f64; 2]) -> bool {
    let crossed = |ring: &Ring| {
        let sides = (0..ring.len()).map(|n| (ring[n], ring[(n + 1) % ring.len()]));
        sides.filter(|(p, q)| (p[1] > y) != (q[1] > y) && x < p[0] + (y - p[1]) / (q[1] - p[1]) * (q[0] - p[0])).count()
    };
    rings.iter().map(crossed).sum::<usize>() % 2 == 1
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn whole_fields_come_back_by_even_odd_fill(fields in prop::collection::vec(any::<bool>(), 36)) {
        // Fields of 8 squares a side, touching at corners as they may: their middles are inside as they were.
        let inside = |x: usize, y: usize| fields[y / 8 * 6 + x / 8];
        let rings = outline_of([48, 48], inside);
        for (n, truth) in fields.iter().enumerate() {
            let middle = [(n % 6 * 8) as f64 + 4.0, (n / 6 * 8) as f64 + 4.0];
            prop_assert_eq!(even_odd(&rings, middle), *truth, "field {}", n);
        }
        // Each ring's corners are cut by less than half a square.
        let set = 64.0 * fields.iter().filter(|f| **f).count() as f64;
        let corners: usize = rings.iter().map(Vec::len).sum();
        prop_assert!((total(&rings) - set).abs() <= 4.0 * corners as f64, "{} of {}", total(&rings), set);
    }

    #[test]
    fn any_soup_is_traced(soup in prop::collection::vec(prop::array::uniform3(prop::array::uniform3(-9.0..9.0_f64)), 1..30)) {
        let mesh = Mesh::new(soup);
        let rings = mesh.silhouette(RIGHT, UP);
        let (low, high) = mesh.bounds().expect("triangles");
        let slack = (high[1] - low[1]).max(high[2] - low[2]) / 600.0;
        let found = reach(&rings);
        for (found, truth) in found.iter().zip([low[1], low[2], high[1], high[2]]) {
            prop_assert!((found - truth).abs() <= 3.0 * slack, "{} {}", found, truth);
        }
    }
}
