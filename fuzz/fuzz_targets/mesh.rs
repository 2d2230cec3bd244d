//! Any bytes are triangles or a sentence that says why not; triangles hide some of the sphere from any place, within bounds.
#![no_main]

use lampwright::geometry::{AzimuthSpan, Cell, Coverage, Mesh, Point, State, Zone, area_where};
use lampwright::source::formats::{Corners, MOST_TRIANGLES, soup};
use lampwright::units::Interval;
use std::f64::consts::PI;
use std::sync::Arc;

/// The fewest squares a face has: what is looked for does not lie in their number.
const SQUARES: usize = 64;
/// A wide tolerance, so that a run takes milliseconds.
const TOLERANCE_SR: f64 = 0.3;
const HOUSING_MM: f64 = 5.0;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    for name in ["mesh.stl", "mesh.obj"] {
        match soup(name, bytes.to_vec()) {
            Ok(triangles) => hides(&triangles, bytes.len()),
            Err(why) => assert!(!why.is_empty()),
        }
    }
});

/// Builds the mesh and looks at it from the datum, and from beside its middle within a housing.
fn hides(triangles: &[Corners], bytes: usize) {
    // The shortest triangle of any form is the face of an OBJ; a longer face makes one more for each corner.
    assert!(!triangles.is_empty() && triangles.len() <= MOST_TRIANGLES.min(bytes));
    let mesh = Arc::new(Mesh::new(triangles.iter().map(|t| t.map(|p| p.map(f64::from)))));
    let state = mesh.state();
    assert!(state.degenerate + state.doubled <= triangles.len());
    assert!(mesh.triangle_count() <= triangles.len() + state.t_joints, "{state:?}");
    let Some((low, high)) = mesh.bounds() else { return assert_eq!(mesh.triangle_count(), 0) };
    assert!(low.iter().zip(&high).all(|(l, h)| l <= h && l.is_finite() && h.is_finite()));
    let beside = [0, 1, 2].map(|n| 0.5 * (low[n] + high[n]) + [1.0, -2.0, 3.0][n]);
    for (place, housing_mm) in [([0.0; 3], 0.0), (beside, HOUSING_MM)] {
        if let Some(coverage) = Coverage::new(mesh.clone(), place, housing_mm, SQUARES) {
            shadow(&coverage, place);
            // A half-shadow takes ten times as long as all else.
            if bytes.is_multiple_of(16) {
                half_shadow(&coverage);
            }
        }
    }
}

/// Some of the sphere is hidden, never more than all, and what is said of a cell is said of its middle.
fn shadow(coverage: &Coverage, place: Point) {
    let found = area_where(&Zone::sphere(), &[], &[], TOLERANCE_SR, |cell| said(coverage, cell));
    assert!(found.inside_sr >= 0.0 && found.undecided_sr >= 0.0, "{found:?}");
    assert!(found.interval().high <= 4.0 * PI + 1e-9, "{found:?}");
    for n in 0..64_u32 {
        let (az, el) = (f64::from(n) * 137.508, f64::from(n % 9) * 19.0 - 85.0);
        let width = 60.0 * 0.5_f64.powi((n % 20) as i32);
        let cell = Cell::new(AzimuthSpan::new(az, width), Interval::new(el, (el + width).min(90.0)));
        said(coverage, &cell);
        if let Some((met, far_mm)) = coverage.hidden_by(&cell.center) {
            assert!(far_mm >= 0.0 && met.iter().all(|x| x.is_finite()), "{met:?} from {place:?}");
        }
    }
}

/// What is said of a cell of the half-shadow is said of its middle.
fn half_shadow(coverage: &Coverage) {
    let soft = coverage.penumbra(HOUSING_MM);
    for n in 0..64_u32 {
        let cell = Cell::new(AzimuthSpan::new(f64::from(n) * 137.508, 3.0), Interval::new(-2.0, 1.0));
        match soft.state_of(&cell) {
            State::Inside => assert!(soft.holds(&cell.center), "{cell:?}"),
            State::Outside => assert!(!soft.holds(&cell.center), "{cell:?}"),
            _ => {}
        }
    }
}

fn said(coverage: &Coverage, cell: &Cell) -> State {
    let state = coverage.state_of(cell);
    match state {
        State::Inside => assert!(coverage.hides(&cell.center), "{cell:?}"),
        State::Outside => assert!(!coverage.hides(&cell.center), "{cell:?}"),
        State::Beyond(side) => {
            assert!((side.axis.iter().map(|x| x * x).sum::<f64>() - 1.0).abs() < 1e-9 && side.at_least.abs() <= 1.0);
            let part = cell.part_on_side_sr(&side);
            assert!(part >= -1e-9 && part <= cell.solid_angle_sr() + 1e-9, "{part} of {cell:?}");
        }
        State::Mixed | State::Unknown => {}
    }
    state
}
