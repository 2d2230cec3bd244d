//! The directions the rules speak of, and searches over them.

use super::finding::{CannotTell, Finding, Measured, Required, Where, margin_at_least, margin_at_most};
use crate::aircraft::{Channel, Lamp};
use crate::geometry::{AzimuthSpan, Extremum, IntervalExtreme, Zone};
use crate::resolve::Goal;
use crate::rules::{DihedralAngle, Figure, Limit, Region, Table, Unit, show_range};
use crate::scene::{Cause, Missing, Scene, Sum};
use crate::source::At;
use crate::units::Interval;

/// The azimuths of a dihedral angle: L and R 110 deg from dead ahead, A 70 deg either side of dead astern.
pub(super) fn dihedral(angle: DihedralAngle) -> AzimuthSpan {
    match angle {
        DihedralAngle::L => AzimuthSpan::new(-110.0, 110.0),
        DihedralAngle::R => AzimuthSpan::new(0.0, 110.0),
        DihedralAngle::A => AzimuthSpan::new(110.0, 140.0),
        DihedralAngle::Round => AzimuthSpan::FULL,
    }
}

/// The azimuths of a dihedral angle that a table row (angle right or left of dead ahead) speaks of.
pub(super) fn row_spans(angle: DihedralAngle, from_deg: f64, to_deg: f64) -> Vec<AzimuthSpan> {
    // A table may run on where the angle ends: what lies beyond is asked of another light.
    let (first, last) = match angle {
        DihedralAngle::L | DihedralAngle::R => (0.0, 110.0),
        DihedralAngle::A => (110.0, 180.0),
        DihedralAngle::Round => (0.0, 180.0),
    };
    let (from_deg, to_deg) = (from_deg.max(first), to_deg.min(last));
    if from_deg > to_deg {
        return Vec::new();
    }
    let width = to_deg - from_deg;
    match angle {
        DihedralAngle::L => vec![AzimuthSpan::new(-to_deg, width)],
        DihedralAngle::R => vec![AzimuthSpan::new(from_deg, width)],
        DihedralAngle::Round if from_deg <= 0.0 && to_deg >= 180.0 => vec![AzimuthSpan::FULL],
        DihedralAngle::A if to_deg >= 180.0 => vec![AzimuthSpan::new(from_deg, 2.0 * (180.0 - from_deg))],
        DihedralAngle::A | DihedralAngle::Round => {
            vec![AzimuthSpan::new(from_deg, width), AzimuthSpan::new(-to_deg, width)]
        }
    }
}

/// The dihedral angle of a goal.
pub(super) fn dihedral_of(goal: &Goal<'_>) -> Result<DihedralAngle, CannotTell> {
    match &goal.spec.region {
        Some(Region::Dihedral(angle)) => Ok(*angle),
        _ => Err(CannotTell::Beyond("the rule set gives this goal no dihedral angle".to_string())),
    }
}

/// The directions of a goal, whatever they are.
pub(super) fn zone_of(goal: &Goal<'_>) -> Result<Zone, CannotTell> {
    match &goal.spec.region {
        Some(Region::Dihedral(angle)) => Ok(Zone::rectangle(dihedral(*angle), &[(-90.0, 90.0)])),
        Some(Region::Band(band)) => Ok(Zone::rectangle(AzimuthSpan::FULL, &[(band.low, band.high)])),
        Some(Region::Sector(patch)) => Ok(Zone::from(*patch)),
        Some(Region::Overlap { .. }) => overlap_of(goal).map(|(zone, ..)| zone),
        None => Err(CannotTell::Beyond("the rule set gives this goal no region".to_string())),
    }
}

/// The overlap of a goal: zone, boundary plane and the angle it starts at.
pub(super) fn overlap_of(goal: &Goal<'_>) -> Result<(Zone, f64, f64), CannotTell> {
    match &goal.spec.region {
        Some(Region::Overlap { into, plane_deg, angles_deg }) => Ok((
            Zone::between_planes(dihedral(*into), *plane_deg, angles_deg.low, angles_deg.high),
            *plane_deg,
            angles_deg.low,
        )),
        _ => Err(CannotTell::Beyond("the rule set gives this goal no overlap".to_string())),
    }
}

/// The lamps of a goal as one light whose beams are all known, at their mean level; at full level where the goal says
/// `with: {level: 100 %}`, as a document does that measures a flashing lamp lit steadily.
pub(super) fn light<'s>(goal: &Goal<'_>, scene: &'s Scene<'_>) -> Result<Sum<'s>, CannotTell> {
    let sum = Sum::new(scene.lamps(&goal.lamps));
    sum.known()?;
    Ok(if goal.spec.with.contains_key("level") { sum.at_full_level() } else { sum })
}

/// Which intensity [`light`] takes.
pub(super) fn measured(goal: &Goal<'_>) -> Measured {
    if goal.spec.with.contains_key("level") { Measured::FullLevel } else { Measured::Mean }
}

/// The lamps of a goal as declared.
pub(super) fn declared<'s>(goal: &Goal<'_>, scene: &'s Scene<'_>) -> impl Iterator<Item = &'s Lamp> {
    let lamps = &scene.aircraft.lamps;
    goal.lamps.clone().into_iter().filter_map(|n| lamps.get(n))
}

/// A place of the goal's first lamp.
pub(super) fn blame(goal: &Goal<'_>, scene: &Scene<'_>, place: impl Fn(&Lamp) -> &At) -> At {
    declared(goal, scene).next().map_or_else(At::nowhere, |l| place(l).clone())
}

/// A missing figure of the goal's first lamp.
pub(super) fn missing(goal: &Goal<'_>, scene: &Scene<'_>, key: &str, what: &str) -> CannotTell {
    let lamp = declared(goal, scene).next();
    let name = lamp.map_or("", |l| l.name.as_str());
    CannotTell::MissingInput(Missing {
        key: key.replace("{lamp}", name),
        what: what.to_string(),
        at: lamp.map_or_else(|| scene.aircraft.at.clone(), |l| l.places.name.clone()),
    })
}

/// The channels of a goal's lamps, each once.
pub(super) fn channels<'s>(goal: &Goal<'_>, scene: &'s Scene<'_>) -> Result<Vec<&'s Channel>, CannotTell> {
    let mut channels: Vec<&Channel> = Vec::new();
    for lamp in &goal.lamps {
        let channel = scene.channel(*lamp).ok_or_else(|| {
            missing(goal, scene, "lamps.{lamp}.flash", "how it flashes: a `channel`, or `flash:`, `swell:` or `steps:`")
        })?;
        if !channels.iter().any(|c| c.name == channel.name) {
            channels.push(channel);
        }
    }
    Ok(channels)
}

/// The channel of a goal that looks at one.
pub(super) fn channel<'s>(goal: &Goal<'_>, scene: &'s Scene<'_>) -> Result<&'s Channel, CannotTell> {
    channels(goal, scene)?.first().copied().ok_or_else(|| CannotTell::Beyond("no channel lights it".to_string()))
}

/// The worst ratio of a light to its floor over table rows: (lowest low, lowest high), and the floor at each.
pub(super) struct Worst {
    pub extreme: IntervalExtreme,
    pub floors_cd: (f64, f64),
}

/// The lowest ratio of mean intensity to `table(azimuth) x factor`, over elevation bands.
pub(super) fn worst_ratio(
    light: &Sum<'_>,
    angle: DihedralAngle,
    table: &Table,
    factor: f64,
    bands: &[(f64, f64)],
) -> Option<Worst> {
    let mut worst: Option<Worst> = None;
    for row in &table.rows {
        let floor = row.is.scalar.value * factor;
        for span in row_spans(angle, row.from_deg, row.to_deg) {
            let zone = Zone::rectangle(span, bands);
            let mut found = light.extremes(&zone, Extremum::Lowest)?;
            found.low.value /= floor;
            found.high.value /= floor;
            let old = worst.take();
            worst = Some(match old {
                None => Worst { extreme: found, floors_cd: (floor, floor) },
                Some(mut old) => {
                    if found.low.value < old.extreme.low.value {
                        old.extreme.low = found.low;
                        old.floors_cd.0 = floor;
                    }
                    if found.high.value < old.extreme.high.value {
                        old.extreme.high = found.high;
                        old.floors_cd.1 = floor;
                    }
                    old
                }
            });
        }
    }
    worst
}

/// The finding of a floor from its worst ratio.
pub(super) fn floor_finding(worst: &Worst, light: &Sum<'_>, blame: &At) -> Finding {
    let ratio = worst.extreme.interval();
    // What is printed is the direction that decides: the best the light may be if that misses, else the worst.
    let (at, floor) = if ratio.high < 1.0 {
        (worst.extreme.high.at, worst.floors_cd.1)
    } else {
        (worst.extreme.low.at, worst.floors_cd.0)
    };
    let found = light.mean_cd(&at);
    let required = Required::figure("at least", crate::rules::Scalar::new(floor, Unit::Candela));
    let margin = ratio.rising(|r| r - 1.0);
    let mut finding = Finding::new(found, Unit::Candela, required, margin, blame);
    finding.causes = light.causes(&at);
    finding.at = Some(at.into());
    finding.origin = light.origin();
    if ratio.high < 1.0 {
        finding.to_meet = Some(lighten(ratio));
    }
    finding
}

/// What would bring a light up to its floor.
pub(super) fn lighten(ratio: Interval) -> String {
    match ratio.high {
        r if r <= 0.0 => "dark there: open the mask, turn the lamp, or add one that reaches it".to_string(),
        _ => needs(ratio),
    }
}

/// How much more light would do: to be possible, and to be sure.
pub(super) fn needs(ratio: Interval) -> String {
    let times = |r: f64| crate::units::rounded(1.0 / r, 3);
    match ratio {
        r if r.is_exact() => format!("needs x {} there", times(r.high)),
        r if r.low <= 0.0 => {
            format!("needs x {} there at the least; to be sure, know its light there better", times(r.high))
        }
        r => format!("needs x {} there to be possible, x {} to be sure", times(r.high), times(r.low)),
    }
}

/// A plain limit as words and margin, for a figure of its unit.
pub(super) fn plain(limit: &Limit, found: Interval) -> Option<(Required, Interval)> {
    match limit {
        Limit::AtLeast(figure) => Some((Required::figure("at least", figure.scalar), margin_at_least(found, figure))),
        Limit::AtMost(figure) => Some((Required::figure("at most", figure.scalar), margin_at_most(found, figure))),
        Limit::Between(low, high) => {
            let required = Required {
                text: show_range(Interval::new(low.scalar.value, high.scalar.value), low.scalar.unit),
                full_size: None,
                scales: false,
            };
            Some((required, margin_at_least(found, low).min(margin_at_most(found, high))))
        }
        _ => None,
    }
}

/// What to write in a rule set for a quantity with a plain limit.
pub(super) fn takes_plain(limit: &Limit, units: &[Unit], instead: &'static str) -> Result<(), &'static str> {
    let right = |figure: &Figure| units.contains(&figure.scalar.unit);
    let sound = match limit {
        Limit::AtLeast(figure) | Limit::AtMost(figure) => right(figure),
        Limit::Between(low, high) => right(low) && right(high),
        _ => false,
    };
    if sound { Ok(()) } else { Err(instead) }
}

/// Whether a limit is a floor, for what has one worst side only.
pub(super) fn takes_floor(limit: &Limit, units: &[Unit], instead: &'static str) -> Result<(), &'static str> {
    if matches!(limit, Limit::AtLeast(_)) { takes_plain(limit, units, instead) } else { Err(instead) }
}

/// A finding held against a plain limit.
pub(super) fn plain_finding(
    goal: &Goal<'_>,
    found: Interval,
    unit: Unit,
    at: Option<Where>,
    blame: &At,
) -> Result<Finding, CannotTell> {
    let (required, margin) = plain(&goal.spec.limit, found)
        .ok_or_else(|| CannotTell::Beyond("the rule set gives this goal no limit of the right form".to_string()))?;
    let mut finding = Finding::new(found, unit, required, margin, blame);
    finding.at = at;
    Ok(finding)
}

/// The causes of width without those told twice.
pub(super) fn distinct(mut causes: Vec<Cause>) -> Vec<Cause> {
    let mut seen: Vec<Cause> = Vec::new();
    causes.retain(|c| {
        let new = !seen.contains(c);
        if new {
            seen.push(c.clone());
        }
        new
    });
    causes
}
