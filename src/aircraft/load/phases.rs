//! Lights by phase: names of lights turned into lamps.

use super::Loader;
use crate::aircraft::declared::{LampDecl, LitDecl};
use crate::aircraft::lamp::{Aircraft, LitLamp, PhaseLights};
use crate::rules::{Light, LightGroup, Phase};
use crate::source::{Code, Located, Many, Named, Text, nearest};

/// The word for a phase in which all is dark.
const NOTHING: &str = "nothing";

impl Loader<'_> {
    pub(super) fn phases(
        &mut self,
        declared: &Named<Many<LitDecl>>,
        aircraft: &Aircraft,
        lamps: &Named<LampDecl>,
    ) -> Vec<PhaseLights> {
        let mut phases: Vec<PhaseLights> = Vec::new();
        for (name, lights) in &declared.0 {
            let phase = match name.value.parse::<Phase>() {
                Ok(phase) => phase,
                Err(error) => {
                    self.sink.say(Code::UnknownName, &name.at, error.what, error.instead);
                    continue;
                }
            };
            let mut lit: Vec<LitLamp> = Vec::new();
            for item in &lights.0 {
                lit.extend(self.lit(item, aircraft, lamps));
            }
            phases.push(PhaseLights { phase, lit, at: name.at.clone() });
        }
        phases
    }

    fn lit(&mut self, item: &LitDecl, aircraft: &Aircraft, lamps: &Named<LampDecl>) -> Vec<LitLamp> {
        let (named, channel) = match item {
            LitDecl::As(named) => (named, None),
            LitDecl::On(on) => {
                let Some(channel) = self.channel_number(&on.channel, aircraft) else { return Vec::new() };
                (&on.lights, Some(channel))
            }
        };
        if named.0 == NOTHING {
            return Vec::new();
        }
        let found = lamps_called(&named.0, aircraft);
        // A lamp that could not be read was told already.
        if found.is_empty() && !lamps.1.contains(&named.0) && lamps.0.len() == aircraft.lamps.len() {
            self.sink.say(Code::UnknownName, &named.at, unknown(&named.0), instead(&named.0, aircraft));
        }
        found.into_iter().map(|lamp| LitLamp { lamp, channel }).collect()
    }

    fn channel_number(&mut self, named: &Located<Text>, aircraft: &Aircraft) -> Option<usize> {
        let found = aircraft.channels.iter().position(|c| c.name == named.0);
        if found.is_none() && !self.told.contains(&named.0) && !self.sequence_unread {
            let instead = nearest(&named.0, aircraft.channels.iter().map(|c| c.name.as_str()))
                .map_or_else(|| "define it under `channels:`".to_string(), |near| format!("did you mean `{near}`?"));
            self.sink.say(Code::UnknownName, &named.at, format!("there is no channel called `{}`", named.0), instead);
        }
        found
    }
}

/// The numbers of the lamps of a name: a lamp's own, a light's, or a group's.
fn lamps_called(name: &str, aircraft: &Aircraft) -> Vec<usize> {
    let numbers = |keep: &dyn Fn(&crate::aircraft::Lamp) -> bool| -> Vec<usize> {
        aircraft.lamps.iter().enumerate().filter(|(_, l)| keep(l)).map(|(n, _)| n).collect()
    };
    let own = numbers(&|l| l.name == name);
    if !own.is_empty() {
        return own;
    }
    match (name.parse::<LightGroup>(), name.parse::<Light>()) {
        (Ok(group), _) => numbers(&|l| group.holds(l.light)),
        (_, Ok(light)) => numbers(&|l| l.light == light),
        _ => Vec::new(),
    }
}

fn unknown(name: &str) -> String {
    if name.parse::<Light>().is_ok() || name.parse::<LightGroup>().is_ok() {
        format!("this model has no {name} light")
    } else {
        format!("there is no lamp and no light called `{name}`")
    }
}

fn instead(name: &str, aircraft: &Aircraft) -> String {
    let words = aircraft.lamps.iter().flat_map(|l| [l.name.as_str(), l.light.as_str()]);
    let groups = ["position", "anti-collision", "any", NOTHING];
    match nearest(name, words.chain(groups)) {
        Some(near) if near != name => format!("did you mean `{near}`?"),
        _ => "name a lamp of this file, a light like `beacon`, a group like `position`, or `nothing`".to_string(),
    }
}
