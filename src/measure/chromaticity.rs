//! Chromaticity, as a set, against colour regions.

use super::zones::blame;
use super::{CannotTell, Finding, Needs, Quantity, Required, Where};
use crate::aircraft::Origin;
use crate::colorimetry::{ColourSet, SetMargin};
use crate::resolve::Goal;
use crate::rules::{Each, Limit, NamedColour, Unit};
use crate::scene::{Cause, Scene, SceneLamp};
use crate::units::Interval;

/// See [`Quantity`].
pub struct Chromaticity;

impl Quantity for Chromaticity {
    fn id(&self) -> &'static str {
        "chromaticity"
    }

    fn how(&self) -> &'static str {
        "The CIE 1931 x, y of the lamp through its cover, as the set of all it may be, against the published inequalities. \
         The margin is the signed distance in x, y to the nearest bounding line; where several colours will do, the better one."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        if matches!(limit, Limit::Inside(_)) { Ok(()) } else { Err("write `limit: {inside: COLOUR}`") }
    }

    fn needs(&self) -> Needs {
        Needs::each(Each::Lamp)
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let Limit::Inside(colours) = &goal.spec.limit else {
            return Err(CannotTell::Beyond("no colour".to_string()));
        };
        let lamp = scene.lamps(&goal.lamps).next().ok_or_else(|| CannotTell::Beyond("no lamp".to_string()))?;
        let set = lamp.colour.clone()?;
        let margins: Vec<(&NamedColour, SetMargin)> =
            colours.iter().filter_map(|c| Some((c, scene.colour_margin(&set, &c.region)?))).collect();
        let order = |a: f64, b: f64| a.partial_cmp(&b).unwrap_or(std::cmp::Ordering::Equal);
        let (colour, mut margin) =
            margins.iter().max_by(|a, b| order(a.1.low, b.1.low).then(order(a.1.high, b.1.high))).copied().ok_or_else(
                || CannotTell::Beyond("the set of colours the lamp may have cannot be reckoned".to_string()),
            )?;
        // One colour may be surely wrong and another possibly right.
        margin.high = margins.iter().map(|(_, m)| m.high).fold(margin.high, f64::max);
        Ok(finding(goal, scene, lamp, &set, colours, colour, &margin))
    }
}

fn finding(
    goal: &Goal<'_>,
    scene: &Scene<'_>,
    lamp: &SceneLamp,
    set: &ColourSet,
    colours: &[NamedColour],
    colour: &NamedColour,
    margin: &SetMargin,
) -> Finding {
    let names: Vec<&str> = colours.iter().map(|c| c.name.as_str()).collect();
    let distances = Interval { low: margin.low, high: margin.high };
    let blame = blame(goal, scene, |l| &l.places.emitter);
    let required = Required::words(format!("inside {}", names.join(" or ")));
    let mut finding = Finding::new(distances, Unit::Chromaticity, required, distances, &blame);
    finding.margin_unit = Some(Unit::Chromaticity);
    finding.found_text = Some(describe(set, margin));
    finding.at = Some(Where::Lamp(lamp.name.clone()));
    finding.origin = lamp.colour_origin;
    if let Some(condition) = colour.region.conditions().get(margin.nearest) {
        finding.notes.push(format!("nearest line of {}: {condition}", colour.name));
    }
    if !distances.is_exact() {
        let class = lamp.class.clone().filter(|_| lamp.colour_origin == Origin::Typical);
        finding.causes.push(Cause::Colour { lamp: lamp.name.clone(), class });
    }
    if distances.low < 0.0 {
        finding.to_meet = match set {
            // The temperature may be right already: what is not known is whether the white is greenish or pinkish.
            ColourSet::DeclaredTemperature { .. } if distances.high >= 0.0 => {
                Some("give its `duv` (the bin's limits from the data sheet), or its measured chromaticity".to_string())
            }
            _ => mend(names.as_slice(), goal),
        };
    }
    finding
}

/// What was found, in words.
fn describe(set: &ColourSet, margin: &SetMargin) -> String {
    let xy = |c: &crate::colorimetry::Chromaticity| format!("({:.4}, {:.4})", c.x, c.y);
    let range = |i: &Interval, unit: &str| {
        let (low, high) = (crate::units::short(i.low), crate::units::short(i.high));
        if i.is_exact() { format!("{low} {unit}") } else { format!("{low} to {high} {unit}") }
    };
    match set {
        ColourSet::Point(c) => xy(c),
        ColourSet::Dominant { wavelength_nm, .. } => format!("dominant wavelength {}", range(wavelength_nm, "nm")),
        ColourSet::Peak { wavelength_nm, .. } => format!("peak wavelength {}", range(wavelength_nm, "nm")),
        ColourSet::White { kelvin, duv } => {
            format!("{}, duv {}", range(kelvin, "K"), range(duv, "").trim_end())
        }
        ColourSet::DeclaredTemperature { kelvin } => format!("{}, its duv not given", range(kelvin, "K")),
        _ => format!("{} to {}", xy(&margin.worst), xy(&margin.best)),
    }
}

/// The bin that would be inside, for colours whose usual part is known.
fn mend(names: &[&str], goal: &Goal<'_>) -> Option<String> {
    let usual = names.iter().map(|name| match *name {
        "aviation red" => Some("a red sorted to 620-640 nm dominant wavelength"),
        "aviation green" => Some("a green sorted to a 520-530 nm bin"),
        "aviation white" => Some("a white sorted to 4000-4500 K"),
        _ => None,
    });
    let parts: Vec<&str> = usual.flatten().collect();
    match parts.as_slice() {
        [] => goal.requirement.to_mend.clone(),
        _ => Some(format!("take {}, or give its measured chromaticity", parts.join(" or "))),
    }
}
