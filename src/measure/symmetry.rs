//! Whether left and right lights mirror each other.

use super::zones::{declared, missing, plain_finding, takes_plain};
use super::{CannotTell, Finding, Quantity, Where};
use crate::aircraft::{Lamp, Place};
use crate::resolve::Goal;
use crate::rules::{Light, Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct Symmetry;

impl Quantity for Symmetry {
    fn id(&self) -> &'static str {
        "symmetry"
    }

    fn how(&self) -> &'static str {
        "The distance, on the model, from the first right lamp to the mirrored place of the first left lamp, over the axes \
         that are given for both."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Millimetre], "write `limit: {at_most: 1.5 mm}`")
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let first = |light: Light| declared(goal, scene).find(|l| l.light == light);
        let pair = first(Light::LeftPosition).zip(first(Light::RightPosition));
        let (left, right) = pair.ok_or_else(|| missing(goal, scene, "lamps", "a left and a right position light"))?;
        let place = |lamp: &Lamp| {
            lamp.place.filter(|p| p.right_mm.is_some()).ok_or_else(|| {
                missing(
                    goal,
                    scene,
                    &format!("lamps.{}.place", lamp.name),
                    "where it sits, like `left 680 mm, forward 40 mm`",
                )
            })
        };
        let (l, r) = (place(left)?, place(right)?);
        let one_sided = |a: Option<f64>, b: Option<f64>| a.is_some() != b.is_some();
        if one_sided(l.forward_mm, r.forward_mm) || one_sided(l.up_mm, r.up_mm) {
            let poorer = if l.forward_mm.is_none() || l.up_mm.is_none() { left } else { right };
            let key = format!("lamps.{}.place", poorer.name);
            return Err(missing(goal, scene, &key, "its place on an axis that is given for the other side"));
        }
        let error = mirror_error_mm(l, r);
        let at = Some(Where::Lamp(right.name.clone()));
        plain_finding(goal, Interval::exactly(error), Unit::Millimetre, at, &right.places.place)
    }
}

/// Distance between one place and the other's mirror image, over the axes given for both.
fn mirror_error_mm(left: Place, right: Place) -> f64 {
    let across = left.right_mm.zip(right.right_mm).map(|(l, r)| r + l);
    let along = left.forward_mm.zip(right.forward_mm).map(|(l, r)| r - l);
    let up = left.up_mm.zip(right.up_mm).map(|(l, r)| r - l);
    [across, along, up].into_iter().flatten().map(|d| d * d).sum::<f64>().sqrt()
}
