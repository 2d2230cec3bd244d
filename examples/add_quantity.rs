//! A measured quantity of your own: how many channels light the lamps of a light, held against a rule set in YAML.
//!
//! Run it with `cargo run --example add_quantity`. In this repository a quantity is one file in `src/measure/` and its
//! line in the list there; outside, as here, it is measured on the goals that name it.

use lampwright::judge::judge;
use lampwright::measure::{CannotTell, Finding, Quantity, Required};
use lampwright::resolve::{Goal, Tree, choose, goals};
use lampwright::rules::{Limit, Unit, read, shared_text};
use lampwright::scene::{Readings, Scene};
use lampwright::source::{At, Disk};
use lampwright::units::Interval;
use std::collections::BTreeSet;
use std::error::Error;
use std::io::Write;
use std::path::Path;

struct ChannelsOfALight;

impl Quantity for ChannelsOfALight {
    fn id(&self) -> &'static str {
        "channels"
    }
    fn how(&self) -> &'static str {
        "The number of channels that light the lamps of the light."
    }
    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        if matches!(limit, Limit::AtMost(_)) { Ok(()) } else { Err("write `limit: {at_most: 1 lamp}`") }
    }
    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let Limit::AtMost(most) = &goal.spec.limit else { return Err(CannotTell::WithinBounds) };
        let channels: BTreeSet<&str> =
            goal.lamps.iter().filter_map(|n| scene.channel(*n)).map(|c| c.name.as_str()).collect();
        let found = Interval::exactly(channels.len() as f64);
        let margin = found.falling(|count| most.scalar.value - count);
        Ok(Finding::new(found, Unit::Lamps, Required::words("one channel for all strobes"), margin, &At::nowhere()))
    }
}

const RULES: &str = "\
lampwright: rules 1
id: my-club
title: My club
judges: full-size appearance
kind: own
source: {document: notes}
requirements:
  - id: one-strobe-channel
    cite: notes, line 1
    title: strobes together
    asks: All strobes are on one channel.
    standing: own reading
    goal: {light: strobe, quantity: channels, limit: {at_most: 1 lamp}}
";

fn main() -> Result<(), Box<dyn Error>> {
    let model = lampwright::aircraft::read(&Disk, Path::new("examples/harrowgate-h4.yaml"))??;
    let sets = [read("my-club.yaml", RULES, &shared_text)?];
    for candidate in choose(&model.craft, &sets, Some("my-club"))? {
        let scene = Scene::new(&model, Readings::of(candidate.set));
        for tree in goals(&candidate, &scene) {
            let Tree::One(goal) = tree else { continue };
            let verdict = judge(&ChannelsOfALight.measure(&goal, &scene)).verdict;
            writeln!(std::io::stdout(), "{}: {verdict}", goal.title)?;
        }
    }
    Ok(())
}
