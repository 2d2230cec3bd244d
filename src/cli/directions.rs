//! `lampwright check --show-directions FILE`: the sphere as a table, for those who plot it themselves.

use crate::aircraft::Aircraft;
use crate::geometry::Direction;
use crate::measure::Where;
use crate::report::{GoalReport, Report, lights};
use crate::scene::{Hidden, Readings, Scene, SceneLamp};
use crate::units::Interval;

/// Degrees from one direction to the next.
const STEP_DEG: i32 = 2;
/// A row a light and direction: azimuth (0 ahead, right positive) and elevation in degrees, the lowest and the highest
/// intensity at full level and full-size equivalent in cd, the lamps that are seen there, those the airframe hides, and the
/// goals of that light whose worst direction lies in the row's field.
pub(super) fn table(aircraft: &Aircraft, report: &Report, readings: Readings) -> Result<Vec<u8>, csv::Error> {
    let scene = Scene::new(aircraft, readings);
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record([
        "light",
        "azimuth_deg",
        "elevation_deg",
        "low_cd",
        "high_cd",
        "seen",
        "hidden_by_airframe",
        "worst_of",
    ])?;
    for light in lights(aircraft) {
        let lamps: Vec<&SceneLamp> = scene.lamps(&light.lamps).collect();
        let goals = worst_places(report, &lamps);
        for elevation in fields(-90, 90) {
            for azimuth in fields(-180, 180) {
                row(&mut out, light.name, &lamps, &goals, (azimuth, elevation))?;
            }
        }
    }
    out.into_inner().map_err(|e| e.into_error().into())
}

/// The middles of equal fields.
fn fields(from: i32, to: i32) -> impl Iterator<Item = f64> {
    let step = STEP_DEG as usize;
    (from..to).step_by(step).map(|n| f64::from(n) + 0.5 * f64::from(STEP_DEG))
}

/// The goals of some lamps with their worst directions.
fn worst_places<'r>(report: &'r Report, lamps: &[&SceneLamp]) -> Vec<(f64, f64, &'r GoalReport)> {
    let of_them = |goal: &&GoalReport| lamps.iter().any(|lamp| goal.lamps.contains(&lamp.name));
    let place = |goal: &'r GoalReport| match goal.found.as_ref()?.at.as_ref()? {
        Where::Direction { azimuth_deg, elevation_deg } => Some((*azimuth_deg, *elevation_deg, goal)),
        _ => None,
    };
    report.goals.iter().filter(of_them).filter_map(place).collect()
}

fn row(
    out: &mut csv::Writer<Vec<u8>>,
    light: &str,
    lamps: &[&SceneLamp],
    goals: &[(f64, f64, &GoalReport)],
    (azimuth, elevation): (f64, f64),
) -> Result<(), csv::Error> {
    let d = Direction::from_degrees(azimuth, elevation);
    let cd = lamps.iter().fold(Interval::ZERO, |sum, lamp| sum + lamp.full_cd(&d));
    let names = |keep: &dyn Fn(&SceneLamp) -> bool| -> String {
        let kept: Vec<&str> = lamps.iter().filter(|lamp| keep(lamp)).map(|lamp| lamp.name.as_str()).collect();
        kept.join("; ")
    };
    let half = 0.5 * f64::from(STEP_DEG);
    let here = |(az, el, _): &&(f64, f64, &GoalReport)| {
        let turn = (az - azimuth + 540.0).rem_euclid(360.0) - 180.0;
        // The end of the range belongs to its last field.
        let within = |off: f64, last: bool| -half <= off && (off < half || last && off <= half);
        within(turn, false) && within(el - elevation, elevation + half >= 90.0)
    };
    let worst: Vec<String> =
        goals.iter().filter(here).map(|(.., goal)| format!("{}/{}", goal.rule_set, goal.id)).collect();
    out.write_record([
        light,
        &azimuth.to_string(),
        &elevation.to_string(),
        &crate::units::rounded(cd.low, 5),
        &crate::units::rounded(cd.high, 5),
        &names(&|lamp| lamp.hidden(&d) != Hidden::Yes && lamp.full_cd(&d).high > 0.0),
        &names(&|lamp| lamp.is_hidden_by_airframe(&d)),
        &worst.join("; "),
    ])
}
