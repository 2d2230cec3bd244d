//! What a mesh hides, direction by direction, against the rays of a library of its own: the ray cast of parry3d-f64 0.31
//! (`TriMesh` and its bounding volumes; dimforge, Apache-2.0). A ray begins where the lamp's housing ends, so that what it
//! meets lies beyond.

mod meshes;

use lampwright::geometry::{AzimuthSpan, Cell, Coverage, Direction, Mesh, Point, State};
use lampwright::units::Interval;
use parry3d_f64::math::Vector;
use parry3d_f64::query::{Ray, RayCast};
use parry3d_f64::shape::TriMesh;
use rstest::rstest;
use std::f64::consts::TAU;
use std::sync::Arc;

/// Directions a mesh is asked in: half of them anywhere, half beside its edges.
const DIRECTIONS: usize = 3000;
const CELLS: usize = 400;
const POINTS_OF_A_CELL: usize = 12;
/// No direction is asked nearer than this to a circle that parts a cell: rounding, in radians.
const ON_THE_CIRCLE: f64 = 1e-9;

/// Numbers from 0 to 1 by SplitMix64 (Steele, Lea and Flood, OOPSLA 2014): the same at every run.
struct Chance(u64);

impl Chance {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ self.0 >> 30).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ z >> 27).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ z >> 31) >> 11) as f64 / (1_u64 << 53) as f64
    }
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }
    /// A whole number from 0, less than so many.
    fn below(&mut self, many: usize) -> usize {
        (self.share() * many as f64) as usize
    }
    /// From low to high, each tenfold as often as the next.
    fn magnitude(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }
    fn point(&mut self, reach: f64) -> Point {
        [(); 3].map(|()| self.between(-reach, reach))
    }
    /// Even over the sphere: the height above its middle plane is even (Archimedes).
    fn unit(&mut self) -> Point {
        let (up, azimuth) = (self.between(-1.0, 1.0), self.between(0.0, TAU));
        let level = (1.0 - up * up).sqrt();
        [level * azimuth.cos(), level * azimuth.sin(), up]
    }
}

fn plus(a: Point, b: Point, times: f64) -> Point {
    [0, 1, 2].map(|k| a[k] + times * b[k])
}

fn dot(a: Point, b: Point) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

fn cross(a: Point, b: Point) -> Point {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn unit(a: Point) -> Point {
    a.map(|x| x / dot(a, a).sqrt())
}

/// Loose triangles of all sizes about the datum.
fn soup(chance: &mut Chance) -> Vec<[Point; 3]> {
    let count = 1 + chance.below(120);
    let loose = |_| {
        let (first, size) = (chance.point(100.0), chance.magnitude(2.0, 200.0));
        [first, plus(first, chance.point(1.0), size), plus(first, chance.point(1.0), size)]
    };
    (0..count).map(loose).collect()
}

/// Closed boxes, askew, some through each other.
fn boxes(chance: &mut Chance) -> Vec<[Point; 3]> {
    const FACES: [[usize; 4]; 6] = [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]];
    let mut triangles = Vec::new();
    for _ in 0..1 + chance.below(8) {
        let along = chance.unit();
        let across = unit(cross(along, chance.unit()));
        let axes = [along, across, cross(along, across)];
        let (low, sides) = (chance.point(80.0), [(); 3].map(|()| chance.magnitude(3.0, 120.0)));
        let corner = |n: usize| (0..3).filter(|k| n >> k & 1 == 1).fold(low, |p, k| plus(p, axes[k], sides[k]));
        let halves = FACES.iter().flat_map(|f| [[f[0], f[1], f[2]], [f[0], f[2], f[3]]]);
        triangles.extend(halves.map(|t| t.map(corner)));
    }
    triangles
}

/// A ball in fine triangles, cut from an octahedron, its radius dented by a wave, so that it hides parts of itself.
fn dented_ball(chance: &mut Chance) -> Vec<[Point; 3]> {
    let (middle, radius, cuts) = (chance.point(60.0), chance.magnitude(10.0, 80.0), 1 + chance.below(40));
    let (wave, depth) = (plus([0.0; 3], chance.unit(), 12.0), chance.between(0.0, 0.3));
    meshes::round(cuts, |out| plus(middle, out, radius * (1.0 + depth * dot(out, wave).sin())))
}

/// The same with every triangle cut to pieces for itself, so that corners of one lie on edges of another.
fn boxes_in_pieces(chance: &mut Chance) -> Vec<[Point; 3]> {
    let mut triangles = boxes(chance);
    for _ in 0..4 {
        let halves = |[a, b, c]: [Point; 3], chance: &mut Chance| {
            let cut = plus(b, plus(c, b, -1.0), chance.between(0.3, 0.7));
            // The next cut goes through another edge.
            [[cut, c, a], [cut, a, b]]
        };
        triangles = triangles.into_iter().flat_map(|t| halves(t, chance)).collect();
    }
    triangles
}

/// A lamp anywhere, one a hair off a triangle and one right on it, each with its housing in mm: without one, a lamp on a skin
/// stands on neither side of it.
fn lamps(triangles: &[[Point; 3]], chance: &mut Chance) -> [(Point, f64); 3] {
    let [a, b, c] = triangles[chance.below(triangles.len())];
    let on_it = [0, 1, 2].map(|k| 0.5 * a[k] + 0.3 * b[k] + 0.2 * c[k]);
    let normal = unit(cross(plus(b, a, -1.0), plus(c, a, -1.0)));
    let off_it = plus(on_it, normal, chance.magnitude(1e-3, 3.0));
    let mut housing = || chance.magnitude(0.5, 30.0);
    let (one, other) = (housing(), housing());
    let bare_or_housed = if chance.share() < 0.5 { 0.0 } else { chance.magnitude(0.5, 30.0) };
    [(chance.point(120.0), bare_or_housed), (off_it, one), (on_it, other)]
}

/// The rays of the other library from a place, from where its housing ends.
struct Rays {
    mesh: TriMesh,
    place: Point,
    housing_mm: f64,
}

impl Rays {
    fn new(triangles: &[[Point; 3]], place: Point, housing_mm: f64) -> Self {
        let corners = triangles.iter().flatten().map(|p| Vector::new(p[0], p[1], p[2])).collect();
        let numbers = (0..triangles.len() as u32).map(|n| [3 * n, 3 * n + 1, 3 * n + 2]).collect();
        Self { mesh: TriMesh::new(corners, numbers).expect("triangles"), place, housing_mm }
    }
    fn meet(&self, d: Point) -> bool {
        let [x, y, z] = plus(self.place, d, self.housing_mm);
        self.mesh.cast_local_ray(&Ray::new(Vector::new(x, y, z), Vector::new(d[0], d[1], d[2])), 1e9, false).is_some()
    }
}

fn vector(d: &Direction) -> Point {
    [d.forward(), d.right(), d.up()]
}

/// Beside an edge of a triangle by 1e-8 to 0.01 radians, on either side: nearer, rounding tells.
fn beside_an_edge(triangles: &[[Point; 3]], place: Point, chance: &mut Chance) -> Point {
    let triangle = triangles[chance.below(triangles.len())];
    let from = chance.below(3);
    let along = plus(triangle[(from + 1) % 3], triangle[from], -1.0);
    let on_it = unit(plus(plus(triangle[from], along, chance.share()), place, -1.0));
    let side = if chance.share() < 0.5 { -1.0 } else { 1.0 };
    plus(on_it, unit(cross(on_it, along)), side * chance.magnitude(1e-8, 1e-2))
}

/// Anywhere, or beside an edge, in turn.
fn asked(n: usize, triangles: &[[Point; 3]], place: Point, chance: &mut Chance) -> Direction {
    let [x, y, z] = if n.is_multiple_of(2) { chance.unit() } else { beside_an_edge(triangles, place, chance) };
    Direction::from_vector(x, y, z).expect("a direction")
}

/// How often something was told, so that a test of nothing fails.
#[derive(Debug, Default)]
struct Told {
    hidden: usize,
    seen: usize,
    cells_hidden: usize,
    cells_seen: usize,
    cells_parted: usize,
}

fn directions_agree(coverage: &Coverage, rays: &Rays, triangles: &[[Point; 3]], chance: &mut Chance, told: &mut Told) {
    for n in 0..DIRECTIONS {
        let d = asked(n, triangles, rays.place, chance);
        let met = rays.meet(vector(&d));
        assert_eq!(coverage.hides(&d), met, "{d:?} from {:?}, housed {} mm", rays.place, rays.housing_mm);
        *if met { &mut told.hidden } else { &mut told.seen } += 1;
    }
}

fn cells_agree(coverage: &Coverage, rays: &Rays, triangles: &[[Point; 3]], chance: &mut Chance, told: &mut Told) {
    for n in 0..CELLS {
        let d = asked(n, triangles, rays.place, chance);
        let width = chance.magnitude(1e-3, 40.0);
        // About that direction, not in the middle of it.
        let (az, el) = (d.azimuth_deg() - chance.share() * width, d.elevation_deg() - chance.share() * width);
        let el = el.max(-90.0);
        let cell = Cell::new(AzimuthSpan::new(az, width), Interval::new(el, (el + width).min(90.0)));
        let state = coverage.state_of(&cell);
        match state {
            State::Inside => told.cells_hidden += 1,
            State::Outside => told.cells_seen += 1,
            State::Beyond(_) => told.cells_parted += 1,
            State::Mixed | State::Unknown => continue,
        }
        for _ in 0..POINTS_OF_A_CELL {
            let (across, up) = (chance.share(), chance.share());
            let d = Direction::from_degrees(az + across * width, el + up * cell.elevation_deg.width());
            let hidden = match state {
                State::Beyond(side) if (dot(side.axis, vector(&d)) - side.at_least).abs() < ON_THE_CIRCLE => continue,
                State::Beyond(side) => side.holds(vector(&d)),
                state => state == State::Inside,
            };
            assert_eq!(hidden, rays.meet(vector(&d)), "{state:?} of {cell:?} from {:?}", rays.place);
        }
    }
}

#[rstest]
#[case::loose_triangles(soup, 1, 20)]
#[case::closed_boxes(boxes, 2, 20)]
#[case::boxes_in_pieces(boxes_in_pieces, 4, 15)]
#[case::dented_balls(dented_ball, 3, 15)]
fn what_is_hidden_is_what_rays_meet(
    #[case] made: fn(&mut Chance) -> Vec<[Point; 3]>,
    #[case] seed: u64,
    #[case] meshes: usize,
) {
    let (mut chance, mut told) = (Chance(seed), Told::default());
    for _ in 0..meshes {
        let triangles = made(&mut chance);
        let mesh = Arc::new(Mesh::new(triangles.iter().copied()));
        for (place, housing_mm) in lamps(&triangles, &mut chance) {
            let squares = 64 << chance.below(4);
            let coverage = Coverage::new(mesh.clone(), place, housing_mm, squares).expect("few edges");
            let rays = Rays::new(&triangles, place, housing_mm);
            directions_agree(&coverage, &rays, &triangles, &mut chance, &mut told);
            cells_agree(&coverage, &rays, &triangles, &mut chance, &mut told);
        }
    }
    let Told { hidden, seen, cells_hidden, cells_seen, cells_parted } = told;
    let enough = meshes * DIRECTIONS / 10;
    assert!(hidden > enough && seen > enough, "{told:?}");
    assert!(cells_hidden > 500 && cells_seen > 500 && cells_parted > 20, "{told:?}");
}
