//! Which side of the craft a light is on.

use super::zones::{blame, declared};
use super::{CannotTell, Finding, Quantity, Required, Where};
use crate::aircraft::Origin;
use crate::resolve::Goal;
use crate::rules::{Limit, Side as WhichSide, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct Side;

impl Quantity for Side {
    fn id(&self) -> &'static str {
        "side"
    }

    fn how(&self) -> &'static str {
        "The place of every lamp of the light, left or right of the plane of symmetry seen from the pilot's seat; where no \
         place is given, the side it is aimed to."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        if matches!(limit, Limit::Side(_)) { Ok(()) } else { Err("write `limit: {side: left}`") }
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let Limit::Side(wanted) = &goal.spec.limit else {
            return Err(CannotTell::Beyond("no side".to_string()));
        };
        let sign = if *wanted == WhichSide::Left { -1.0 } else { 1.0 };
        let mut worst: Option<(f64, bool, String)> = None;
        for lamp in declared(goal, scene) {
            let right = lamp.place.and_then(|p| p.right_mm);
            let by_place = right.is_some();
            // By aim alone only the side is known: one millimetre stands for it.
            let out = right.unwrap_or_else(|| lamp.aim.direction().right().signum()) * sign;
            let out = if !by_place && lamp.aim.direction().right().abs() < 1e-9 { 0.0 } else { out };
            if worst.as_ref().is_none_or(|(old, ..)| out < *old) {
                worst = Some((out, by_place, lamp.name.clone()));
            }
        }
        let (out, by_place, name) = worst.ok_or_else(|| CannotTell::Beyond("no lamp".to_string()))?;
        let blame = blame(goal, scene, |l| if l.place.is_some() { &l.places.place } else { &l.places.aim });
        let margin = Interval::exactly(if out == 0.0 { -1.0 } else { out });
        let mut finding = Finding::new(
            Interval::exactly(out * sign),
            Unit::Millimetre,
            Required::words(format!("on the {wanted}")),
            margin,
            &blame,
        );
        finding.margin_unit = Some(Unit::Millimetre);
        let other = if *wanted == WhichSide::Left { WhichSide::Right } else { WhichSide::Left };
        let found = match out {
            o if o > 0.0 => wanted.as_str(),
            o if o < 0.0 => other.as_str(),
            _ => "in the plane of symmetry",
        };
        finding.found_text = Some(if by_place {
            format!("{found}, {} mm out", crate::units::short(out.abs()))
        } else {
            format!("{found}, by its aim")
        });
        if !by_place {
            finding.found = None;
            finding.notes.push("no place is given: the side is taken from the aim".to_string());
            finding.origin = Origin::Guess;
        }
        finding.at = Some(Where::Lamp(name));
        if out <= 0.0 {
            finding.to_meet =
                Some("sides swapped? left is the pilot's left, not the left of somebody in front".to_string());
        }
        Ok(finding)
    }
}
