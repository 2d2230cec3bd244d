//! What would clear a lamp of the airframe: where it could stand instead.

use crate::aircraft::Airframe;
use crate::geometry::{Bounds, Cell, Direction, Point, Zone, area_where};
use crate::resolve::Goal;
use crate::rules::Region;
use crate::scene::Scene;

/// Moves longer than this share of the airframe's length are no remedy: they lead into free air.
const FARTHEST: f64 = 0.02;
/// Tenths of a millimetre are said, rounded up.
const STEP_MM: f64 = 0.1;
/// The ways to move, in the words of a place, by azimuth.
const WAYS: [(&str, f64); 4] = [("forward", 0.0), ("right", 90.0), ("aft", 180.0), ("left", -90.0)];

/// How to move the one lamp of a goal so that the airframe hides nothing of its dihedral angle: the least of the moves that
/// clear it, each looked at again from where it leads; `None` where none does.
pub(super) fn move_that_clears(goal: &Goal<'_>, scene: &Scene<'_>, zone: &Zone) -> Option<String> {
    let (Some(Region::Dihedral(_)), [lamp]) = (&goal.spec.region, goal.lamps.as_slice()) else { return None };
    let airframe = scene.aircraft.airframe.as_ref()?;
    let place = scene.aircraft.lamps.get(*lamp)?.place?;
    let place = [place.forward_mm?, place.right_mm?, place.up_mm?];
    let (low, high) = airframe.mesh().bounds()?;
    let farthest = FARTHEST * (high[0] - low[0]);
    let mut moves: Vec<(f64, &str, Direction)> = WAYS
        .iter()
        .filter_map(|(word, azimuth_deg)| {
            let way = Direction::from_degrees(*azimuth_deg, 0.0);
            let mm = airframe.mesh().clear_by_moving_mm(place, airframe.housing_mm, zone.span(), &way)?;
            Some(((mm / STEP_MM).ceil() * STEP_MM, *word, way)).filter(|(mm, ..)| *mm <= farthest)
        })
        .collect();
    moves.sort_by(|a, b| a.0.total_cmp(&b.0));
    let let_off = scene.readings.obstruction_sr;
    let (mm, word, _) = moves.into_iter().find(|(mm, _, way)| {
        hidden_from(airframe, moved(place, way, *mm), zone, let_off).is_some_and(|sr| sr.interval().high <= let_off)
    })?;
    Some(format!("move it {mm:.1} mm {word}, or cut back by as much what hides it: the airframe then clears the angle"))
}

/// Whether the airframe hides a lamp all round: its place lies within the skin.
pub(super) fn is_buried(scene: &Scene<'_>, lamp: usize) -> bool {
    let Some(lamp) = scene.lamps.get(lamp) else { return false };
    let all =
        (-180..180).step_by(10).flat_map(|az| (-80..=80).step_by(10).map(move |el| (f64::from(az), f64::from(el))));
    all.map(|(az, el)| Direction::from_degrees(az, el)).all(|d| lamp.is_hidden_by_airframe(&d))
}

fn moved(place: Point, way: &Direction, mm: f64) -> Point {
    [place[0] + mm * way.forward(), place[1] + mm * way.right(), place[2] + mm * way.up()]
}

fn hidden_from(airframe: &Airframe, place: Point, zone: &Zone, tolerance_sr: f64) -> Option<Bounds> {
    let seen = airframe.seen_from(place)?;
    Some(area_where(zone, &[], &[], 0.1 * tolerance_sr, |cell: &Cell| seen.state_of(cell)))
}
