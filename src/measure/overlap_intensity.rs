//! Intensity in an overlap against its ceiling, with the relief of a bright light.

use super::zones::{blame, declared, distinct, light, measured, overlap_of, takes_plain};
use super::{Asked, CannotTell, Finding, Needs, Quantity, Required};
use crate::geometry::{Direction, Extremum};
use crate::resolve::Goal;
use crate::rules::{Limit, Relief, Scalar, Unit};
use crate::scene::{Cause, Scene, Sum};
use crate::units::Interval;

/// See [`Quantity`].
pub struct OverlapIntensity;

impl Quantity for OverlapIntensity {
    fn id(&self) -> &'static str {
        "overlap intensity"
    }

    fn how(&self) -> &'static str {
        "The highest intensity over the directions that meet the common boundary plane at more than the first and less \
         than the second angle, which is an angle between a line and a plane: asin(cos el |sin d_az|). Where the light's \
         own peak at full size is over the relief's limit, the ceiling is the greater of the table's and a share of that peak."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        match limit {
            Limit::AtMost(_) => takes_plain(limit, &[Unit::Candela], "give the ceiling in candles or cd"),
            _ => Err("write `limit: {at_most: 10 candles}`"),
        }
    }

    fn needs(&self) -> Needs {
        Needs { keys: &["relief"], ..Needs::region(&["overlap"]) }
    }

    fn asks(&self, goal: &Goal<'_>, scene: &Scene<'_>, d: &Direction) -> Option<Asked> {
        let Limit::AtMost(limit) = &goal.spec.limit else { return None };
        let (zone, ..) = overlap_of(goal).ok()?;
        if !zone.contains(d) {
            return None;
        }
        let table = limit.scalar.value;
        let relieved = goal.spec.relief.as_ref().and_then(|relief| {
            let peak = scene.peak_cd(&goal.lamps)?.low;
            (peak > relief.peak_over.scalar.value).then_some(relief.at_most.scalar.value * peak)
        });
        Some(Asked {
            measured: measured(goal),
            floor_cd: None,
            ceiling_cd: Some(relieved.map_or(table, |cd| cd.max(table))),
        })
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let light = light(goal, scene)?;
        let (zone, ..) = overlap_of(goal)?;
        let Limit::AtMost(limit) = &goal.spec.limit else {
            return Err(CannotTell::Beyond("no ceiling".to_string()));
        };
        let table = limit.scalar.value;
        let worst = light
            .extremes(&zone, Extremum::Highest)
            .ok_or_else(|| CannotTell::Beyond("the overlap is empty".to_string()))?;
        let found = worst.interval();
        let ceiling =
            goal.spec.relief.as_ref().map_or(Ceiling::plain(table, found), |r| {
                relieved(&light, r, scene.peak_cd(&goal.lamps), table, found)
            });
        let at = if ceiling.ratio.low > 1.0 { worst.low.at } else { worst.high.at };
        let blame = blame(goal, scene, |l| &l.places.mask);
        let required = Required::figure("at most", Scalar::new(ceiling.cd, Unit::Candela));
        let mut finding = Finding::new(found, Unit::Candela, required, ceiling.ratio.falling(|r| 1.0 - r), &blame);
        finding.causes = distinct(light.causes(&at));
        finding.at = Some(at.into());
        finding.origin = light.origin();
        finding.relieved = ceiling.note.is_some();
        finding.notes.extend(ceiling.note);
        if ceiling.ratio.high > 1.0 {
            finding.to_meet = remedy(goal, scene, &finding.causes, ceiling.ratio.low);
        }
        Ok(finding)
    }
}

/// The ceiling that holds, and the ratio to it.
struct Ceiling {
    cd: f64,
    ratio: Interval,
    note: Option<String>,
}

impl Ceiling {
    fn plain(table: f64, found: Interval) -> Self {
        Self { cd: table, ratio: found.scaled(1.0 / table), note: None }
    }
}

fn relieved(light: &Sum<'_>, relief: &Relief, peak: Option<Interval>, table: f64, found: Interval) -> Ceiling {
    let Some(peak) = peak else { return Ceiling::plain(table, found) };
    let (over, share) = (relief.peak_over.scalar.value, relief.at_most.scalar.value);
    let ceiling_at = |peak: f64| if peak > over { table.max(share * peak) } else { table };
    let ratio = if light.single().is_some() && peak.low > 0.0 {
        // One lamp's overlap and peak rise and fall together: only its beam's shape is free.
        let shape = Interval { low: found.low / peak.low, high: found.high / peak.high };
        let at = |p: f64| shape.scaled(p / ceiling_at(p));
        let mut whole = at(peak.low).hull(at(peak.high));
        if peak.contains(over) {
            whole = whole.hull(shape.scaled(over / table));
        }
        whole
    } else {
        Interval { low: found.low / ceiling_at(peak.high), high: found.high / ceiling_at(peak.low) }
    };
    let note = (peak.high > over).then(|| {
        let surely = if peak.low > over { "is" } else { "may be" };
        format!(
            "its peak {surely} over {}, so {} allows {} of it",
            relief.peak_over.scalar, relief.cite, relief.at_most.scalar
        )
    });
    Ceiling { cd: ceiling_at(peak.low), ratio, note }
}

/// What would bring the light under the ceiling.
fn remedy(goal: &Goal<'_>, scene: &Scene<'_>, causes: &[Cause], ratio_low: f64) -> Option<String> {
    let (_, plane_deg, from_deg) = overlap_of(goal).ok()?;
    let masked = declared(goal, scene).any(|l| l.mask.is_some());
    if !masked {
        return Some("fit a mask that hides this side, and give its edge's distance in the file".to_string());
    }
    let soft = causes.iter().any(|c| matches!(c, Cause::Penumbra { .. } | Cause::MaskEdge { .. }));
    let lamp = declared(goal, scene).find(|l| l.mask.is_some())?;
    let size = lamp.emitter.size_mm.as_ref()?.value.high;
    let edge_deg = scene
        .lamps(&goal.lamps)
        .flat_map(|l| l.az_breaks())
        .map(|b| (b - plane_deg + 540.0).rem_euclid(360.0) - 180.0)
        .map(f64::abs)
        .fold(f64::INFINITY, f64::min);
    if soft && edge_deg < from_deg {
        let edge_mm = size / (2.0 * (from_deg - edge_deg).to_radians().tan());
        return Some(format!("mask edge {edge_mm:.0} mm or more from the emitter"));
    }
    (ratio_low > 1.0).then(|| "let the mask hide more of this side".to_string())
}
