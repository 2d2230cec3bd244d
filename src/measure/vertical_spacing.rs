//! How far lamps are apart up and down.

use super::zones::{blame, declared, missing, plain_finding, takes_floor};
use super::{CannotTell, Finding, Needs, Quantity};
use crate::aircraft::Lamp;
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct VerticalSpacing;

impl Quantity for VerticalSpacing {
    fn id(&self) -> &'static str {
        "vertical spacing"
    }

    fn how(&self) -> &'static str {
        "The least difference of height, at full size, between any two lamps of the light; where the goal names a light to \
         measure `above`, by how much the lowest lamp is above the highest of that light."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_floor(limit, &[Unit::Millimetre], "write `limit: {at_least: 1 m}`")
    }

    fn needs(&self) -> Needs {
        Needs { keys: &["above"], ..Needs::default() }
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let height = |lamp: &Lamp| {
            let up = lamp.place.and_then(|p| p.up_mm);
            let key = format!("lamps.{}.place", lamp.name);
            up.ok_or_else(|| missing(goal, scene, &key, "how high it sits, like `up 120 mm`"))
        };
        let mut heights = declared(goal, scene).map(height).collect::<Result<Vec<_>, _>>()?;
        heights.sort_by(f64::total_cmp);
        let apart = match goal.spec.above {
            None => heights.windows(2).map(|pair| pair[1] - pair[0]).reduce(f64::min),
            Some(other) => {
                let below = scene.of_light(other).into_iter().filter_map(|n| scene.aircraft.lamps.get(n));
                let below = below.map(height).collect::<Result<Vec<_>, _>>()?;
                below.into_iter().reduce(f64::max).zip(heights.first()).map(|(below, own)| own - below)
            }
        };
        let apart = apart.ok_or_else(|| CannotTell::NotAsked("there are no two lamps to compare".to_string()))?;
        let found = Interval::exactly(apart * scene.scale().n());
        plain_finding(goal, found, Unit::Millimetre, None, &blame(goal, scene, |l| &l.places.place))
    }
}
