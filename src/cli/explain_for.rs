//! `lampwright explain REQUIREMENT --for FILE`: the reckoning for one model's lamps.

use super::rules::para;
use super::{Ended, output};
use crate::aircraft::Aircraft;
use crate::geometry::Direction;
use crate::measure::Where;
use crate::photometry::{Beam, Shape};
use crate::report::{GoalReport, build};
use crate::resolve::choose;
use crate::rules::{Demand, Limit, Requirement, RuleSet, Unit, show, show_range};
use crate::scene::{Readings, Scene};
use crate::source::formats::PhotometricType;

pub(super) fn run(
    aircraft: &Aircraft,
    sets: &[RuleSet],
    asked: &[(&RuleSet, &Requirement)],
    asked_set: Option<&str>,
) -> Ended {
    let candidates = match choose(&aircraft.craft, sets, asked_set) {
        Ok(candidates) => candidates,
        Err(error) => return Ended::Failed(error.to_string()),
    };
    let report = build(aircraft, &candidates, &[]);
    let mut out = String::new();
    for (set, requirement) in asked {
        let scene = Scene::new(aircraft, Readings::of(set));
        let mine = |g: &&GoalReport| g.rule_set == set.id && g.id.split('/').next() == Some(requirement.id.as_str());
        let goals: Vec<&GoalReport> = report.goals.iter().filter(mine).collect();
        para(&mut out, 0, "", &format!("{} ({}): {}", requirement.id, requirement.cite, requirement.asks));
        if goals.is_empty() {
            para(&mut out, 4, "", "not asked of this craft: another standing of the rule holds, or another rule set");
        }
        for goal in goals {
            out.push('\n');
            reckoning(&mut out, goal, &scene, requirement);
        }
        out.push('\n');
    }
    output::print(out.as_bytes(), Ended::Well)
}

fn reckoning(out: &mut String, goal: &GoalReport, scene: &Scene<'_>, requirement: &Requirement) {
    para(out, 2, "goal", &format!("{}: {}", goal.title, goal.verdict));
    if let Some(required) = &goal.required {
        para(out, 2, "required", &required.text);
    }
    if let Some(found) = &goal.found {
        para(out, 2, "found", &found.text);
        match &found.at {
            Some(Where::Direction { azimuth_deg, elevation_deg }) => {
                intensities(out, goal, scene, &Direction::from_degrees(*azimuth_deg, *elevation_deg));
            }
            Some(Where::Lamp(_)) => colours(out, goal, scene, &requirement.demand),
            Some(Where::Channel(name)) => channel(out, scene, name),
            None => {}
        }
    }
    if let Some(reason) = &goal.reason {
        para(out, 2, "because", &reason.text);
    }
    for note in &goal.readings {
        para(out, 2, "note", note);
    }
}

/// What each lamp gives in the direction that decides.
fn intensities(out: &mut String, goal: &GoalReport, scene: &Scene<'_>, d: &Direction) {
    let place = format!(
        "{} and {}",
        crate::units::Azimuth::from_deg(d.azimuth_deg()),
        crate::units::Elevation::from_deg(d.elevation_deg())
    );
    para(out, 2, "worst at", &place);
    let scale = scene.scale();
    for lamp in scene.lamps.iter().filter(|l| goal.lamps.contains(&l.name)) {
        let Ok(beam) = &lamp.beam else { continue };
        let model_peak = beam.peak_cd().scaled(1.0 / scale.intensity());
        let text = format!(
            "{}: {} at its peak on the model, x {} (1:{} squared) = {}; {:.1} deg off its axis there{}, through mask and cover {}; mean level {}",
            lamp.name,
            show_range(model_peak, Unit::Candela),
            crate::units::short(scale.intensity()),
            crate::units::short(scale.n()),
            show_range(beam.peak_cd(), Unit::Candela),
            beam.axis().angle_to_deg(d),
            in_its_file(beam, d),
            show_range(lamp.full_cd(d), Unit::Candela),
            show(lamp.mean_level, Unit::Share),
        );
        para(out, 2, "lamp", &text);
        for cause in lamp.causes(d) {
            para(out, 2, "", &format!("  {cause}"));
        }
    }
}

/// Where a direction stands in the lamp's photometric file, after a comma; nothing for a beam without one.
fn in_its_file(beam: &Beam, d: &Direction) -> String {
    let (Shape::Grid { grid, .. }, Some((horizontal, vertical))) = (beam.shape(), beam.file_angles_deg(d)) else {
        return String::new();
    };
    match grid.kind() {
        PhotometricType::C => format!(", at C {horizontal:.1} gamma {vertical:.1} of its photometric file"),
        PhotometricType::A | PhotometricType::B => {
            format!(", at H {horizontal:.1} V {vertical:.1} of its photometric file")
        }
    }
}

/// Every inequality of every colour asked for, and how far the lamp is inside each.
fn colours(out: &mut String, goal: &GoalReport, scene: &Scene<'_>, demand: &Demand) {
    let lamp = scene.lamps.iter().find(|l| goal.lamps.contains(&l.name));
    let Some(Ok(set)) = lamp.map(|l| &l.colour) else { return };
    for spec in demand.goals() {
        let Limit::Inside(colours) = &spec.limit else { continue };
        for colour in colours {
            for condition in colour.region.conditions() {
                let alone = crate::colorimetry::Region::new(colour.name.clone(), vec![condition.clone()]);
                if let Some(margin) = set.against(&alone) {
                    let text = format!("{:+.4} to {:+.4} inside {condition}", margin.low, margin.high);
                    para(out, 2, &colour.name, &format!(" {text}"));
                }
            }
        }
    }
}

/// The pattern of a channel in figures.
fn channel(out: &mut String, scene: &Scene<'_>, name: &str) {
    let Some(channel) = scene.aircraft.channels.iter().find(|c| c.name == name) else { return };
    let (waveform, reading) = (&channel.waveform, &scene.readings.flash);
    let ms = crate::timing::milliseconds;
    let flashes = waveform.flashes(reading);
    let lit = waveform.lit_time(reading);
    let text = format!(
        "period {} ms with {} flashes of {} pulses: 60000 / {} x {} = {} flashes a minute; lit {} ms of it, the longest pulse {} ms",
        crate::units::short(ms(waveform.period_us())),
        flashes.flashes.len(),
        flashes.flashes.iter().map(|f| f.pulses.to_string()).collect::<Vec<_>>().join(", "),
        crate::units::short(ms(waveform.period_us())),
        flashes.flashes.len(),
        crate::units::short(flashes.flash_rate().per_min()),
        crate::units::short(ms(lit.total_us)),
        crate::units::short(ms(lit.longest_pulse_us)),
    );
    para(out, 2, "channel", &format!("{name}: {text}"));
}
