//! Steady intensity in vertical planes against a table over azimuth and its factors over elevation.

use super::zones::{blame, dihedral, dihedral_of, floor_finding, light, measured, row_spans, worst_ratio};
use super::{Asked, CannotTell, Finding, LEVEL, LetOff, Needs, Quantity};
use crate::geometry::{Cell, Direction, Ends, State, Zone, area_below};
use crate::resolve::Goal;
use crate::rules::{DihedralAngle, Limit, Table};
use crate::scene::{Scene, Sum};
use crate::units::Interval;

/// See [`Quantity`].
pub struct VerticalIntensity;

impl Quantity for VerticalIntensity {
    fn id(&self) -> &'static str {
        "vertical intensity"
    }

    fn how(&self) -> &'static str {
        "One finding for each row of the factor table, on its closed rectangles of azimuth and elevation above and below \
         the horizontal plane together. A shortfall smaller than a cap of 1 deg in all does not decide, and is printed."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        match limit {
            Limit::Floor { times_by_elevation: Some(_), .. } => Ok(()),
            _ => Err("write `limit: {floor: {by_azimuth: TABLE, times_by_elevation: TABLE}}`"),
        }
    }

    fn needs(&self) -> Needs {
        Needs { may_have: LEVEL, ..Needs::region(&["dihedral"]) }
    }

    fn asks(&self, goal: &Goal<'_>, _: &Scene<'_>, d: &Direction) -> Option<Asked> {
        let (Limit::Floor { by_azimuth, .. }, Some(row)) = (&goal.spec.limit, &goal.row) else { return None };
        let (azimuth, elevation) = (d.azimuth_deg(), d.elevation_deg().abs());
        let within = (row.from_deg..=row.to_deg).contains(&elevation);
        let angle = dihedral(dihedral_of(goal).ok()?);
        let level = by_azimuth.strictest(azimuth.abs()).filter(|_| within && angle.contains(azimuth, true))?;
        Some(Asked { measured: measured(goal), floor_cd: Some(level * row.is.scalar.value), ceiling_cd: None })
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let light = light(goal, scene)?;
        let angle = dihedral_of(goal)?;
        let (Limit::Floor { by_azimuth, .. }, Some(row)) = (&goal.spec.limit, &goal.row) else {
            return Err(CannotTell::Beyond("no table".to_string()));
        };
        let factor = row.is.scalar.value;
        let bands = [(row.from_deg, row.to_deg), (-row.to_deg, -row.from_deg)];
        let worst = worst_ratio(&light, angle, by_azimuth, factor, &bands)
            .ok_or_else(|| CannotTell::Beyond("the table has no rows".to_string()))?;
        let mut finding = floor_finding(&worst, &light, &blame(goal, scene, |l| &l.places.emitter));
        if finding.margin.low < 0.0 {
            let below = |high: bool| shortfall_sr(&light, angle, by_azimuth, factor, &bands, high);
            let least = if finding.margin.high < 0.0 { below(true).low } else { 0.0 };
            finding.let_off = Some(LetOff {
                shortfall_sr: Interval::new(least, below(false).high),
                under_sr: scene.readings.shortfall_sr,
            });
        }
        Ok(finding)
    }
}

/// The solid angle over all rows in which the light, as strong (or weak) as it may be, falls short of the floor.
fn shortfall_sr(
    light: &Sum<'_>,
    angle: DihedralAngle,
    table: &Table,
    factor: f64,
    bands: &[(f64, f64)],
    high: bool,
) -> Interval {
    let edges = light.edges();
    let mut whole = Interval::ZERO;
    for row in &table.rows {
        let floor = row.is.scalar.value * factor;
        for span in row_spans(angle, row.from_deg, row.to_deg) {
            let zone = Zone::rectangle(span, bands);
            let end = |ends: Ends| if high { ends.high } else { ends.low };
            let over = |cell: &Cell| match end(light.mean_over(cell)) {
                cd if cd.high < floor => State::Inside,
                cd if cd.low >= floor => State::Outside,
                _ => State::Mixed,
            };
            whole = whole
                + area_below(&zone, (&edges.0, &edges.1), over, |d| {
                    let cd = light.mean_cd(d);
                    (if high { cd.high } else { cd.low }) < floor
                });
        }
    }
    whole
}
