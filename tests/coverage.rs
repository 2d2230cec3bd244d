//! What a mesh hides: closed forms of solid angles, cut into triangles of many sizes, lie within the bounds.
//!
//! Solid angles: a rectangle seen square-on from its middle's axis, 4 atan(a b / (2 d sqrt(4 d^2 + a^2 + b^2))); a cap,
//! 2 pi (1 - cos half angle); a triangle, Van Oosterom and Strackee, IEEE Trans. Biomed. Eng. BME-30 (1983) 125-126,
//! equation 8.

mod meshes;

use lampwright::geometry::{Bounds, Coverage, Direction, Mesh, Point, Zone, area_where};
use rstest::rstest;
use std::f64::consts::{PI, TAU};
use std::sync::Arc;

fn hidden(coverage: &Coverage, tolerance_sr: f64) -> Bounds {
    area_where(&Zone::sphere(), &[], &[], tolerance_sr, |cell| coverage.state_of(cell))
}

fn coverage(triangles: impl IntoIterator<Item = [Point; 3]>, housing_mm: f64) -> Coverage {
    Coverage::new(Arc::new(Mesh::new(triangles)), [0.0; 3], housing_mm, 256).expect("few edges")
}

/// The truth lies within the bounds, and they are tight.
fn holds(coverage: &Coverage, truth_sr: f64, tolerance_sr: f64) {
    let found = hidden(coverage, tolerance_sr);
    let slack = 1e-9;
    assert!(
        found.inside_sr - slack <= truth_sr && truth_sr <= found.inside_sr + found.undecided_sr + slack,
        "{found:?} without {truth_sr}"
    );
    assert!(found.undecided_sr <= tolerance_sr, "{found:?} is wider than {tolerance_sr}");
}

/// A flat grid of triangles over a rectangle given by a corner and two sides.
fn sheet(corner: Point, side: Point, other: Point, cuts: usize) -> Vec<[Point; 3]> {
    let at = |i: usize, j: usize| {
        let (s, t) = (i as f64 / cuts as f64, j as f64 / cuts as f64);
        [0, 1, 2].map(|k| corner[k] + s * side[k] + t * other[k])
    };
    let cell = |i, j| [[at(i, j), at(i + 1, j), at(i + 1, j + 1)], [at(i, j), at(i + 1, j + 1), at(i, j + 1)]];
    (0..cuts).flat_map(|i| (0..cuts).flat_map(move |j| cell(i, j))).collect()
}

fn rectangle_sr(a: f64, b: f64, d: f64) -> f64 {
    4.0 * (a * b / (2.0 * d * (4.0 * d * d + a * a + b * b).sqrt())).atan()
}

#[rstest]
// Practice figures: a flat blocker 6 x 60 mm at 40 mm is 0.1796 sr (CV32), one of 4 x 40 mm at 50 mm 0.0594 sr (CV33).
#[case(6.0, 60.0, 40.0, Some(0.1796))]
#[case(4.0, 40.0, 50.0, Some(0.0594))]
#[case(500.0, 500.0, 10.0, None)]
#[case(1.0, 1.0, 300.0, None)]
fn a_rectangle_seen_square_on(#[case] a: f64, #[case] b: f64, #[case] d: f64, #[case] printed: Option<f64>) {
    let truth = rectangle_sr(a, b, d);
    if let Some(printed) = printed {
        assert!((truth - printed).abs() < 1e-4, "{truth}");
    }
    for cuts in [1, 3, 60] {
        for turned in [0, 1, 2] {
            let turn = |p: Point| [p[turned % 3], p[(turned + 1) % 3], p[(turned + 2) % 3]];
            let triangles = sheet([d, -a / 2.0, -b / 2.0], [0.0, a, 0.0], [0.0, 0.0, b], cuts);
            holds(&coverage(triangles.into_iter().map(|t| t.map(turn)), 0.0), truth, 3e-4);
        }
    }
}

/// A ball of triangles about a place, cut from an octahedron; its truth is that of the triangles that face the lamp.
fn ball(middle: Point, radius: f64, cuts: usize) -> Vec<[Point; 3]> {
    meshes::round(cuts, |out| [0, 1, 2].map(|n| middle[n] + radius * out[n]))
}

fn dot(a: Point, b: Point) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// Van Oosterom and Strackee: tan(omega / 2) = a . (b x c) / (abc + (a.b) c + (a.c) b + (b.c) a).
fn triangle_sr([a, b, c]: [Point; 3]) -> f64 {
    let cross = [b[1] * c[2] - b[2] * c[1], b[2] * c[0] - b[0] * c[2], b[0] * c[1] - b[1] * c[0]];
    let (la, lb, lc) = (dot(a, a).sqrt(), dot(b, b).sqrt(), dot(c, c).sqrt());
    2.0 * dot(a, cross).atan2(la * lb * lc + dot(a, b) * lc + dot(a, c) * lb + dot(b, c) * la)
}

#[rstest]
#[case([300.0, 40.0, -20.0], 80.0)]
#[case([-60.0, 10.0, 90.0], 100.0)]
#[case([5.0, 200.0, 3.0], 199.0)]
fn a_ball_of_triangles(#[case] middle: Point, #[case] radius: f64) {
    for cuts in [2, 9, 100] {
        let triangles = ball(middle, radius, cuts);
        // Each direction is covered twice, by the near side and the far side of the ball.
        let truth = triangles.iter().map(|t| triangle_sr(*t).abs()).sum::<f64>() / 2.0;
        if cuts >= 60 {
            // 2 pi (1 - cos asin(r / d)), the faceted ball a little less.
            let d = dot(middle, middle).sqrt();
            let cap = TAU * (1.0 - (1.0 - (radius / d).powi(2)).sqrt());
            assert!((truth / cap - 1.0).abs() < 4e-3, "{truth} {cap}");
        }
        holds(&coverage(triangles, 0.0), truth, 5e-4);
    }
}

#[test]
fn from_inside_a_ball_all_is_hidden_and_nothing_of_nothing() {
    holds(&coverage(ball([3.0, 1.0, 2.0], 50.0, 20), 0.0), 4.0 * PI, 1e-6);
    holds(&coverage([], 0.0), 0.0, 1e-6);
    let up = Direction::from_degrees(12.0, 80.0);
    assert!(!coverage([], 0.0).hides(&up) && coverage(ball([0.0; 3], 5.0, 3), 0.0).hides(&up));
}

#[rstest]
#[case(1)]
#[case(40)]
#[case(120)]
fn a_lamp_a_hair_off_its_skin(#[case] cuts: usize) {
    // 0.1 mm above a plane of 2 m, housed within 2.5 mm: what is nearer is cut away, so the skin hides from acos(0.1 / 2.5)
    // off its normal to near 90 degrees, where the plane ends: 2 pi (0.04 - cos of its rim), the rim a square's.
    let (h, r, side) = (0.1, 2.5, 2000.0);
    let whole = rectangle_sr(side, side, h);
    let truth = whole - TAU * (1.0 - h / r);
    let triangles = sheet([-side / 2.0, -side / 2.0, -h], [side, 0.0, 0.0], [0.0, side, 0.0], cuts);
    let coverage = coverage(triangles, r);
    holds(&coverage, truth, 2e-3);
    assert!(
        !coverage.hides(&Direction::from_degrees(30.0, -80.0)) && coverage.hides(&Direction::from_degrees(30.0, -1.0))
    );
}

#[test]
fn a_lamp_right_on_a_sloping_skin() {
    // A plane through the lamp is seen from its edge and hides nothing, whatever rounding makes of its corners.
    for slope_deg in [3.0_f64, 17.0, 30.0, 41.0, 60.0, 77.0] {
        let (sin, cos) = slope_deg.to_radians().sin_cos();
        let (down, across) = ([cos, 0.3 * sin, sin], [-0.3 * cos, 1.0, -0.3 * sin]);
        for cuts in [1, 3, 8] {
            let corner = [0, 1, 2].map(|k| -41.0 * down[k] - 37.0 * across[k]);
            let skin = sheet(corner, down.map(|x| 97.0 * x), across.map(|x| 89.0 * x), cuts);
            for housing_mm in [0.0, 0.5, 5.0] {
                holds(&coverage(skin.iter().copied(), housing_mm), 0.0, 1e-3);
            }
        }
    }
}

/// Whether a lamp at the origin is hidden so many degrees right of dead ahead, or left of it, at the height of a wall.
fn hidden_at(coverage: &Coverage, azimuth_deg: f64) -> bool {
    coverage.hides(&Direction::from_degrees(azimuth_deg, 0.3))
}

#[test]
fn a_fin_beside_the_tail_lamp_and_a_skin_at_the_tip() {
    // Practice figures. CV34: a lamp 8 mm right of a fin's plane, which reaches 10 mm aft of it, is hidden on the far side
    // beyond atan(8 / 10) = 38.7 degrees off the stern. CV35: one that reaches 8 / tan 70 = 2.91 mm clears 70.
    let fin = |aft: f64| coverage(sheet([200.0, -8.0, -60.0], [-200.0 - aft, 0.0, 0.0], [0.0, 0.0, 160.0], 12), 0.0);
    let far_side = |off_stern: f64| -(180.0 - off_stern);
    assert!(!hidden_at(&fin(10.0), far_side(38.6)) && hidden_at(&fin(10.0), far_side(38.8)));
    assert!(!hidden_at(&fin(2.91), far_side(69.9)) && hidden_at(&fin(2.91), far_side(70.2)));
    // CV36: with a skin 5 mm outboard of a tip lamp its edge must lie 5 tan 20 = 1.82 mm aft to clear 110 degrees.
    let skin = |edge: f64| coverage(sheet([-edge, 5.0, -60.0], [-100.0, 0.0, 0.0], [0.0, 0.0, 120.0], 9), 0.0);
    assert!(!hidden_at(&skin(1.82), 109.9) && hidden_at(&skin(1.82), 110.2));
}

#[test]
fn half_shadows_reach_where_a_point_of_the_source_sees() {
    // A plate 20 mm ahead hides all to the left, one 400 mm ahead all right of 3 degrees left: from the middle nothing shows,
    // and from 2.4 mm to the left 7 degrees of gap (atan 2.4 / 20) do, 3 less that the far one moves (atan 2.4 / 400).
    let near = sheet([20.0, -60.0, -60.0], [0.0, 60.0, 0.0], [0.0, 0.0, 120.0], 9);
    let far = sheet([400.0, 400.0 * (-3_f64).to_radians().tan(), -400.0], [0.0, 421.0, 0.0], [0.0, 0.0, 800.0], 9);
    let both = coverage([near, far].concat(), 0.0);
    let (ahead, soft) = (Direction::from_degrees(-2.0, 0.0), both.penumbra(5.0));
    assert!(both.hides(&ahead) && soft.holds(&ahead) && soft.holds(&Direction::from_degrees(-5.0, 0.0)));
    assert!(
        !soft.holds(&Direction::from_degrees(-40.0, 0.0)),
        "deep behind the near plate all of the source is hidden"
    );
    // A skin under the lamp, cut away within 5 mm: from 2.5 mm aside it is met a little over 5 mm away.
    let skin = coverage(sheet([-500.0, -500.0, -0.1], [1000.0, 0.0, 0.0], [0.0, 1000.0, 0.0], 9), 5.0);
    let (low, high) = (Direction::from_degrees(70.0, -2.0), Direction::from_degrees(70.0, 45.0));
    assert!(skin.penumbra(5.0).holds(&low) && !skin.penumbra(5.0).holds(&high));
}

#[test]
fn outlines_behind_a_wall_cost_nothing() {
    // A wall in small triangles, and behind it a hundred loose strips whose every edge is an outline.
    let mut triangles = sheet([100.0, -60.0, -60.0], [0.0, 120.0, 0.0], [0.0, 0.0, 120.0], 90);
    for n in 0..100 {
        let y = -50.0 + n as f64;
        triangles.push([[150.0, y, -50.0], [150.0, y + 0.4, -50.0], [150.0, y, 50.0]]);
    }
    holds(&coverage(triangles, 0.0), rectangle_sr(120.0, 120.0, 100.0), 3e-4);
}

#[test]
fn soups_with_seams_that_do_not_meet() {
    // Two halves of a sheet cut differently, so that corners of one lie on edges of the other.
    let mut triangles = sheet([80.0, -50.0, -40.0], [0.0, 50.0, 0.0], [0.0, 0.0, 80.0], 7);
    triangles.extend(sheet([80.0, 0.0, -40.0], [0.0, 50.0, 0.0], [0.0, 0.0, 80.0], 11));
    // Every other triangle turned the other way.
    let turned = triangles.into_iter().enumerate().map(|(n, [a, b, c])| if n % 2 == 0 { [a, b, c] } else { [a, c, b] });
    holds(&coverage(turned, 0.0), rectangle_sr(100.0, 80.0, 80.0), 3e-4);
}

/// A triangle cut through its longest edge again and again, until its parts are small, the two of every cut each for
/// themselves: of two parts that meet along a cut, hardly any share a corner.
fn shattered(triangle: [Point; 3], most_mm2: f64, parts: &mut Vec<[Point; 3]>) {
    let minus = |a: Point, b: Point| [0, 1, 2].map(|k| a[k] - b[k]);
    let sides = [0, 1, 2].map(|n| minus(triangle[(n + 1) % 3], triangle[n]));
    let squares = sides.map(|s| dot(s, s));
    let area = 0.5 * (squares[0] * squares[1] - dot(sides[0], sides[1]).powi(2)).max(0.0).sqrt();
    if area <= most_mm2 {
        return parts.push(triangle);
    }
    let longest = (0..3).max_by(|a, b| squares[*a].total_cmp(&squares[*b])).expect("three");
    let [a, b, c] = [0, 1, 2].map(|k| triangle[(longest + k) % 3]);
    // 0.35 to 0.65, another for every triangle.
    let share = 0.35 + 0.3 * (12.9898 * a[0] + 78.233 * b[1] + 37.719 * c[2] + 4.581 * area).sin().abs();
    let cut = [0, 1, 2].map(|k| a[k] + share * (b[k] - a[k]));
    shattered([a, cut, c], most_mm2, parts);
    shattered([cut, b, c], most_mm2, parts);
}

/// Turned so that what was ahead lies about a corner of the cube.
fn askew([x, y, z]: Point) -> Point {
    let ((s, c), (sin, cos)) = (0.7_f64.sin_cos(), 0.6_f64.sin_cos());
    let (x, y) = (x * c - y * s, x * s + y * c);
    [x * cos - z * sin, y, x * sin + z * cos]
}

/// The triangles of 512 squares a face that a blocker 100 mm ahead is shattered into, and how many squares each takes.
fn loose(whole: &[[Point; 3]], squares_each: f64) -> Vec<[Point; 3]> {
    let square_mm2 = (2.0 * 100.0 / 512.0_f64).powi(2);
    let mut parts = Vec::new();
    // A cut halves on average, so parts have some 0.7 of the most.
    whole.iter().for_each(|t| shattered(*t, 1.4 * squares_each * square_mm2, &mut parts));
    let of_all = whole.iter().map(|t| triangle_sr(*t).abs()).sum::<f64>() * 1e4 / square_mm2;
    let each = of_all / parts.len() as f64;
    assert!((0.7..1.3).contains(&(each / squares_each)), "{each} squares each, not {squares_each}");
    parts
}

#[rstest]
#[case(0.2)]
#[case(1.0)]
#[case(5.0)]
#[case(50.0)]
fn triangles_that_share_no_corners_hide_what_the_whole_does(#[case] squares_each: f64) {
    let at = |y: f64, z: f64| [100.0, y, z];
    let rectangle =
        [[at(-30.0, -22.5), at(30.0, -22.5), at(30.0, 22.5)], [at(-30.0, -22.5), at(30.0, 22.5), at(-30.0, 22.5)]];
    let rim = |n: u32| (f64::from(n % 90) * TAU / 90.0).sin_cos();
    let disc: Vec<_> = (0..90)
        .map(|n| (rim(n), rim(n + 1)))
        .map(|((y, z), (v, w))| [at(0.0, 0.0), at(25.0 * y, 25.0 * z), at(25.0 * v, 25.0 * w)])
        .collect();
    // A disc of 90 corners is 90 triangles like its first (Van Oosterom and Strackee).
    let disc_sr = 90.0 * triangle_sr(disc[0]).abs();
    for (whole, truth) in [(&rectangle[..], rectangle_sr(60.0, 45.0, 100.0)), (&disc, disc_sr)] {
        let parts = loose(whole, squares_each);
        // As they are, and about a corner of the cube as an STL holds them: the corners beside a cut lie off it by rounding.
        let rounded = |p: Point| askew(p).map(|x| f64::from(x as f32));
        for parts in [parts.clone(), parts.into_iter().map(|t| t.map(rounded)).collect()] {
            let coverage = Coverage::new(Arc::new(Mesh::new(parts)), [0.0; 3], 0.0, 512).expect("few edges");
            holds(&coverage, truth, 1e-3);
        }
    }
}

#[rstest]
// The file's six figures hold 1e-6 of the greatest coordinate, 2 mm.
#[case(0.0, true)]
#[case(1.5e-6, true)]
#[case(1e-4, false)]
fn a_corner_on_an_edge_of_another_triangle_is_joined(#[case] off_mm: f64, #[case] joined: bool) {
    let (a, b, above, below) = ([0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [1.0, 1.0, 0.0], [1.0, -1.0, 0.0]);
    let on_it = [0.7, off_mm, 0.0];
    let state = Mesh::new([[a, b, above], [a, on_it, below], [on_it, b, below]]).state();
    // By hand: four edges about it all once they are joined; else the long edge and the two along it are open besides.
    let wanted = if joined { (1, 4) } else { (0, 7) };
    assert_eq!((state.t_joints, state.open_edges, state.crowded_edges), (wanted.0, wanted.1, 0));
}
