//! What hides a whole system of lamps inside a band of elevations.

use super::clearing::{is_buried, move_that_clears};
use super::zones::{blame, takes_plain};
use super::{CannotTell, Finding, Needs, Quantity, Required};
use crate::aircraft::{Aim, Place};
use crate::geometry::{AzimuthSpan, Bounds, Cell, Direction, State, Zone, area_where, cap_half_angle_deg};
use crate::resolve::Goal;
use crate::rules::{Allowance, Limit, Region, Unit};
use crate::scene::{Cause, Scene, Sum};
use crate::units::Interval;

/// How finely obstructed solid angles are bounded, in sr: well under what any goal lets off.
const TOLERANCE_SR: f64 = 1e-4;
/// How finely where more than [`FAR_OVER_SR`] is hidden, which no goal lets off.
const COARSE_SR: f64 = 1e-2;
/// See [`COARSE_SR`].
const FAR_OVER_SR: f64 = 1.0;

/// See [`Quantity`].
pub struct FieldOfCoverage;

impl Quantity for FieldOfCoverage {
    fn id(&self) -> &'static str {
        "field of coverage"
    }

    fn how(&self) -> &'static str {
        "The solid angle of the band in which masks, the emitters' own bodies and the airframe, where one is given, hide every \
         lamp of the system. Geometry only. What lies outside the band does not count."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        match limit {
            Limit::AtMost(_) => takes_plain(limit, &[Unit::Steradian], "give it in sr"),
            _ => Err("write `limit: {at_most: 0 sr}`"),
        }
    }

    fn needs(&self) -> Needs {
        Needs { keys: &["allow"], ..Needs::region(&["band"]) }
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let Some(Region::Band(band)) = &goal.spec.region else {
            return Err(CannotTell::Beyond("the rule set gives this goal no band".to_string()));
        };
        obstructed(goal, scene, &Zone::rectangle(AzimuthSpan::FULL, &[(band.low, band.high)]))
    }
}

/// The finding of an obstructed solid angle, with what the paragraph allows.
pub(super) fn obstructed(goal: &Goal<'_>, scene: &Scene<'_>, zone: &Zone) -> Result<Finding, CannotTell> {
    let system = Sum::new(scene.lamps(&goal.lamps));
    system.geometry()?;
    let Limit::AtMost(limit) = &goal.spec.limit else {
        return Err(CannotTell::Beyond("no limit".to_string()));
    };
    let total = hidden(goal, scene, &system, zone, None).interval();
    let let_off = scene.readings.obstruction_sr;
    let blame = blame(goal, scene, |l| if l.mask.is_some() { &l.places.mask } else { &l.places.aim });
    let (required, margin, notes) = match &goal.spec.allow {
        None if limit.scalar.value > 0.0 => {
            let text = format!("at most {} hidden, wherever it is", limit.scalar);
            (Required::words(text), total.falling(|sr| limit.scalar.value - sr), Vec::new())
        }
        None => {
            let text =
                format!("nothing hidden; {} or less counts as nothing", crate::rules::show(let_off, Unit::Steradian));
            (Required::words(text), total.falling(|sr| limit.scalar.value + let_off - sr), Vec::new())
        }
        Some(allowance) => {
            let outside = hidden(goal, scene, &system, zone, Some(allowance)).interval();
            let (most, place) = wording(allowance);
            let margin = total.falling(|sr| most - sr).min(outside.falling(|sr| let_off - sr));
            let text = format!("at most {} hidden, {place}", crate::rules::show(most, Unit::Steradian));
            let note = format!("outside that cone {}", range_sr(outside));
            (Required::words(text), margin, vec![note])
        }
    };
    let mut finding = Finding::new(total, Unit::Steradian, required, margin, &blame);
    finding.margin_unit = Some(Unit::Steradian);
    finding.notes = notes;
    finding.origin = system.origin();
    if margin.high < 0.0 {
        let whole = zone.solid_angle_sr();
        finding.notes.push(format!("{:.0} % of the whole is hidden", 100.0 * total.low / whole));
        let masked = scene.lamps(&goal.lamps).any(|l| l.is_masked());
        finding.to_meet = if masked || matches!(goal.spec.region, Some(Region::Band(_))) {
            goal.requirement.to_mend.clone()
        } else {
            Some("turn the lamp towards the middle of the angle, or add a second one: its own body hides what is behind it".into())
        };
    }
    if total.high > let_off
        && let Some((d, lamp, place, far)) = system.hidden_by_airframe(zone)
    {
        let [forward, right, up] = place.map(f64::round);
        finding.notes.push(format!(
            "around {} the airframe hides {lamp}, first at {} of the datum, {:.0} mm from the lamp",
            Aim::from_degrees(d.azimuth_deg().round(), d.elevation_deg().round()),
            Place::from_mm(forward, right, up),
            far
        ));
        if margin.high < 0.0 {
            finding.to_meet = Some(clear(goal, scene, zone));
        }
    }
    if total.width() > if total.low > FAR_OVER_SR { COARSE_SR } else { TOLERANCE_SR } {
        finding.causes.push(Cause::Resolution);
    }
    Ok(finding)
}

/// What clears the lamps of the airframe.
fn clear(goal: &Goal<'_>, scene: &Scene<'_>, zone: &Zone) -> String {
    if let Some(buried) = goal.lamps.iter().find(|lamp| is_buried(scene, **lamp)) {
        let name = scene.lamps.get(*buried).map_or("", |l| l.name.as_str());
        return format!(
            "{name} lies within the airframe, which hides it all round: mend its `place`, or give its `housing`"
        );
    }
    move_that_clears(goal, scene, zone)
        .unwrap_or_else(|| "move the lamp clear of that, or add one that is seen there".to_string())
}

fn range_sr(sr: Interval) -> String {
    if sr.width() < TOLERANCE_SR {
        crate::rules::show((sr.high * 1e6).round() / 1e6, Unit::Steradian)
    } else if sr.low > FAR_OVER_SR && sr.width() < COARSE_SR {
        format!("about {} sr", crate::units::rounded(sr.middle(), 2))
    } else {
        format!("{} to {}", crate::rules::show(sr.low, Unit::Steradian), crate::rules::show(sr.high, Unit::Steradian))
    }
}

/// The solid angle of a zone that every lamp has hidden, but for cells inside an allowance's cone.
fn hidden(goal: &Goal<'_>, scene: &Scene<'_>, system: &Sum<'_>, zone: &Zone, allowance: Option<&Allowance>) -> Bounds {
    let (azimuths, elevations) = system.shadow_breaks();
    let let_off = |cell: &Cell| allowance.map_or(State::Outside, |a| allowed(a, cell));
    let state = |cell: &Cell| match (system.hides_cell(cell), let_off(cell)) {
        (State::Outside, _) | (_, State::Inside) => State::Outside,
        (State::Mixed, _) | (_, State::Mixed) => State::Mixed,
        (State::Unknown, _) => State::Unknown,
        (State::Beyond(plane), _) => State::Beyond(plane),
        _ => State::Inside,
    };
    scene.area(format!("{:?} {zone:?} {allowance:?}", goal.lamps), || {
        let coarse = area_where(zone, &azimuths, &elevations, COARSE_SR, state);
        if coarse.inside_sr > FAR_OVER_SR {
            return coarse;
        }
        area_where(zone, &azimuths, &elevations, TOLERANCE_SR, state)
    })
}

/// The allowance of a goal, where what is hidden keeps within it; else nothing is let off.
pub(super) fn let_off_hidden<'g>(goal: &'g Goal<'_>, scene: &Scene<'_>, system: &Sum<'_>) -> Option<&'g Allowance> {
    let allowance = goal.spec.allow.as_ref()?;
    let top = goal.spec.region.as_ref().map_or(90.0, |r| match r {
        Region::Band(band) => band.high,
        _ => 90.0,
    });
    let zone = Zone::rectangle(AzimuthSpan::FULL, &[(-top, top)]);
    let total = hidden(goal, scene, system, &zone, None).interval();
    let outside = hidden(goal, scene, system, &zone, Some(allowance)).interval();
    (total.high > 0.0 && total.high <= wording(allowance).0 && outside.high < scene.readings.obstruction_sr)
        .then_some(allowance)
}

/// Whether a cell lies in the cone of an allowance.
pub(super) fn allowed(allowance: &Allowance, cell: &Cell) -> State {
    let cone = |axis: Direction, half_angle_deg: f64| {
        let (angles, half) = (cell.angles_to_rad(&axis), half_angle_deg.to_radians());
        match angles {
            a if a.high <= half + 1e-9 => State::Inside,
            a if a.low >= half - 1e-9 => State::Outside,
            _ => State::Mixed,
        }
    };
    match allowance {
        Allowance::AboutAft { cone_sr, .. } => cone(Direction::from_degrees(180.0, 0.0), cap_half_angle_deg(*cone_sr)),
        Allowance::AboutVertical { half_angle_deg, .. } => {
            let up = cone(Direction::from_degrees(0.0, 90.0), *half_angle_deg);
            let down = cone(Direction::from_degrees(0.0, -90.0), *half_angle_deg);
            if up == State::Outside { down } else { up }
        }
        Allowance::Anywhere { .. } => State::Inside,
    }
}

fn wording(allowance: &Allowance) -> (f64, String) {
    match allowance {
        Allowance::AboutAft { at_most, cone_sr } => (
            at_most.scalar.value,
            format!("and only inside {} dead astern", crate::rules::show(*cone_sr, Unit::Steradian)),
        ),
        Allowance::AboutVertical { at_most, half_angle_deg } => {
            (at_most.scalar.value, format!("and only within {half_angle_deg} deg of the vertical"))
        }
        Allowance::Anywhere { at_most } => (at_most.scalar.value, "wherever it is".to_string()),
    }
}
