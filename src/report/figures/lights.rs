//! The lights of a model: lamps that the rules take together.

use crate::aircraft::Aircraft;
use crate::rules::LightGroup;

/// A light and its lamps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shown {
    /// Its name.
    pub name: &'static str,
    /// The numbers of its lamps.
    pub lamps: Vec<usize>,
}

impl Shown {
    /// Its name as a word of letters and hyphens.
    #[must_use]
    pub fn slug(&self) -> String {
        self.name.replace(' ', "-")
    }
}

/// The lights of a model: each by itself, but the anti-collision lights together, as the rules take them. What a local rule
/// alone requires is no light of the craft.
#[must_use]
pub fn lights(aircraft: &Aircraft) -> Vec<Shown> {
    let mut lights: Vec<Shown> = Vec::new();
    for (n, lamp) in aircraft.lamps.iter().enumerate().filter(|(_, lamp)| lamp.required_by.is_none()) {
        let together = LightGroup::AntiCollision;
        let name = if together.holds(lamp.light) { together.as_str() } else { lamp.light.as_str() };
        match lights.iter_mut().find(|light| light.name == name) {
            Some(light) => light.lamps.push(n),
            None => lights.push(Shown { name, lamps: vec![n] }),
        }
    }
    lights
}
