//! A model built in code, without any file, and what its lamps meet.
//!
//! Run it with `cargo run --example check_in_code`.

use lampwright::aircraft::{Aim, Aircraft, Channel, Lamp, Place, Scale, find_typical};
use lampwright::rules::{Authority, Category, Light};
use lampwright::source::At;
use lampwright::timing::Waveform;
use lampwright::units::{Micros, Rate};
use lampwright::{Options, check, rule_sets_for};
use std::error::Error;

fn main() -> Result<(), Box<dyn Error>> {
    let mut model = Aircraft::new("Ashcombe Plover", Scale::one_to(10.0).ok_or("a scale of 1:1 to 1:1000")?);
    model.craft.category = Some(Category::TransportAeroplane);
    model.craft.authority = Some(Authority::Us);
    model.craft.applied = Some("1995".parse()?);

    let typical = |name: &str| find_typical(name).map(|t| t.emitter(&At::nowhere())).map_err(|_| name.to_string());
    let mut left = Lamp::new("left", Light::LeftPosition, Aim::from_degrees(-55.0, 0.0), typical("red 3 W star")?);
    left.place = Some(Place::from_mm(20.0, -700.0, 30.0));
    model.lamps.push(left);

    let rate: Rate = "46 per min".parse()?;
    let flash = Waveform::flash(rate.period_us().ok_or("a rate")?, Micros(120_000), 1, Micros(0))?;
    let channel = model.add_channel(Channel::in_code("beacon", flash));
    let mut beacon = Lamp::new("beacon", Light::Beacon, "up".parse()?, typical("red 1 W star")?);
    beacon.channel = Some(channel);
    model.lamps.push(beacon);

    let report = check(&model, &rule_sets_for(&model.craft, None)?, &Options::default())?;
    for goal in report.goals.iter().filter(|g| g.rule_set == "us-14cfr25" && g.lamps.iter().any(|l| l == "beacon")) {
        let mut out = std::io::stdout();
        std::io::Write::write_fmt(&mut out, format_args!("{:<13} {} ({})\n", goal.verdict, goal.title, goal.citation))?;
    }
    Ok(())
}
