//! Effective intensity of the whole anti-collision system against a table over elevation.

use super::field_of_coverage::{allowed, let_off_hidden};
use super::zones::{blame, needs};
use super::{Asked, CannotTell, Finding, Measured, Needs, Quantity, Required};
use crate::geometry::{AzimuthSpan, Cell, Direction, Extremum, State, Zone};
use crate::resolve::Goal;
use crate::rules::{Limit, Scalar, Unit};
use crate::scene::{Hidden, Scene, Sum, System};
use crate::units::Interval;

/// See [`Quantity`].
pub struct EffectiveIntensity;

impl Quantity for EffectiveIntensity {
    fn id(&self) -> &'static str {
        "effective intensity"
    }

    fn how(&self) -> &'static str {
        "Per direction the light of all lamps on one clock is summed, and the integral over a stretch of time divided by \
         0.2 s and the length of the stretch is made as large as can be, over stretches within one group of light; of \
         several clocks the largest counts. One finding for each row of the table, at every azimuth, above and below."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        if matches!(limit, Limit::FloorByElevation(_)) {
            Ok(())
        } else {
            Err("write `limit: {floor: {by_elevation: TABLE}}`")
        }
    }

    fn needs(&self) -> Needs {
        Needs { keys: &["allow"], ..Needs::region(&["band"]) }
    }

    fn asks(&self, goal: &Goal<'_>, _: &Scene<'_>, d: &Direction) -> Option<Asked> {
        let row = goal.row.as_ref()?;
        let within = (row.from_deg..=row.to_deg).contains(&d.elevation_deg().abs());
        within.then_some(Asked { measured: Measured::Effective, floor_cd: Some(row.is.scalar.value), ceiling_cd: None })
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let row = goal.row.as_ref().ok_or_else(|| CannotTell::Beyond("the table has no rows".to_string()))?;
        let system = System::new(scene, &goal.lamps)?;
        let light = Sum::new(scene.lamps(&goal.lamps));
        let let_off = let_off_hidden(goal, scene, &light);
        let floor = row.is.scalar.value;
        let zone = Zone::rectangle(AzimuthSpan::FULL, &[(row.from_deg, row.to_deg), (-row.to_deg, -row.from_deg)]);
        let (azimuths, elevations) = light.shadow_breaks();
        // A direction hidden as the paragraph allows is not judged.
        let skipped = |d: &Direction| {
            let point = || Cell::new(AzimuthSpan::new(d.azimuth_deg(), 0.0), Interval::exactly(d.elevation_deg()));
            let dark = || system.sources.iter().all(|s| s.hidden(d) == Hidden::Yes);
            let_off.is_some_and(|allowance| dark() && allowed(allowance, &point()) == State::Inside)
        };
        let skipped_over = |cell: &Cell| {
            let dark = || light.hides_cell(cell) == State::Inside;
            let_off.is_some_and(|allowance| allowed(allowance, cell) == State::Inside && dark())
        };
        let lowest = |at: &dyn Fn(&Direction) -> f64, least_in: &dyn Fn(&Cell) -> f64| {
            let judged = |d: &Direction| if skipped(d) { f64::NAN } else { at(d) / floor };
            let judged_over = |cell: &Cell| {
                let least = if skipped_over(cell) { f64::INFINITY } else { least_in(cell) / floor };
                Interval { low: least, high: f64::INFINITY }
            };
            zone.extreme(Extremum::Lowest, (&azimuths, &elevations), judged, judged_over)
                .ok_or_else(|| CannotTell::Beyond("no direction is left to judge".to_string()))
        };
        let low = lowest(&|d| system.effective_end_cd(d, false), &|c| system.least_effective_cd(c, false))?;
        let high = lowest(&|d| system.effective_end_cd(d, true), &|c| system.least_effective_cd(c, true))?;
        let ratio = Interval { low: low.value, high: high.value };
        let at = if ratio.high < 1.0 { high.at } else { low.at };
        let required = Required::figure("at least", Scalar::new(floor, Unit::Candela));
        let found = system.effective_cd(&at);
        let blame = blame(goal, scene, |l| &l.places.emitter);
        let mut finding = Finding::new(found, Unit::Candela, required, ratio.rising(|r| r - 1.0), &blame);
        finding.at = Some(at.into());
        finding.causes = light.causes(&at);
        finding.origin = light.origin();
        if ratio.low >= 1.0 {
            let one = lowest(&|d| system.one_lamp_cd(d), &|c| system.least_one_lamp_cd(c))?;
            if one.value < 1.0 {
                finding.notes.push(format!(
                    "lamp by lamp the best one would give {} of the minimum: the verdict rests on the summed light",
                    crate::rules::show(one.value, Unit::Share)
                ));
            }
        }
        if system.drifting {
            finding
                .notes
                .push("channels of one clock share no pattern under 10 minutes: taken as drifting".to_string());
        }
        if ratio.high < 1.0 {
            finding.to_meet = Some(match ratio.high {
                r if r <= 0.0 => "dark there: add a lamp that reaches it".to_string(),
                _ => needs(ratio),
            });
        }
        Ok(finding)
    }
}
