//! Verdicts that must not be given: what cannot be told is never met, and nothing asked is lost.

use lampwright::aircraft::Aircraft;
use lampwright::judge::Verdict;
use lampwright::report::Report;
use lampwright::rules::{RuleSet, read, shared_text};
use lampwright::source::Memory;
use lampwright::{Options, bundled_rule_sets, check};
use std::path::Path;

const HEAD: &str = "lampwright: aircraft 1\nmodel: {title: x, scale: \"1:8\"}\nprototype: {category: transport aeroplane, authority: US, applied: APPLIED}\n";

fn model(applied: &str, rest: &str) -> Aircraft {
    let text = format!("{}{rest}", HEAD.replace("APPLIED", applied));
    let aircraft = lampwright::aircraft::read(&Memory::new().with("x.yaml", text), Path::new("x.yaml"));
    aircraft.expect("readable").unwrap_or_else(|r| panic!("{r}"))
}

fn judged(applied: &str, rest: &str, sets: &[RuleSet], rule_set: Option<&str>) -> Report {
    check(&model(applied, rest), sets, &Options { rule_set: rule_set.map(str::to_string), ..Options::default() })
        .expect("judged")
}

fn part_25(applied: &str, rest: &str) -> Report {
    judged(applied, rest, &bundled_rule_sets().expect("sound"), None)
}

fn verdict(report: &Report, id: &str) -> Verdict {
    report.goals.iter().find(|g| g.id == id).unwrap_or_else(|| panic!("no goal {id}")).verdict
}

#[test]
fn a_frequency_nobody_can_see_is_not_met() {
    // 300 a minute from 0.2 cd: x 64 = 12.8 cd peak, a twentieth of 400 cd effective is never reached.
    let lamps = "emitters:\n  dim: {from: measured, peak: 200 mcd, viewing_angle: 120 deg, chromaticity: {x: 0.7, y: 0.2995}}\n\
        lamps:\n  top: {light: beacon, emitter: dim, aim: up, flash: {rate: 300 per min, lit: 5 ms}}\n";
    let report = part_25("1980", lamps);
    for name in ["one source", "overlap"] {
        assert_eq!(verdict(&report, &format!("anti-collision-frequency/{name}")), Verdict::CannotTell, "{name}");
    }
}

#[test]
fn two_beacons_of_their_own_time_may_drift_to_190_a_minute() {
    // 95 + 95 = 190 a minute, over 180; each by itself 95, under 100. Both are seen all round.
    let lamps = "emitters:\n  all round: {from: measured, peak: 20 cd, table: {0 deg: 100 %, 180 deg: 100 %}}\n\
        lamps:\n  a: {light: beacon, emitter: all round, aim: up, flash: {rate: 95 per min, lit: 100 ms}}\n  \
        b: {light: beacon, emitter: all round, aim: up, flash: {rate: 95 per min, lit: 100 ms}}\n";
    let report = part_25("1980", lamps);
    assert_ne!(verdict(&report, "anti-collision-frequency/overlap"), Verdict::Met);
}

const OWN: &str = "lampwright: rules 1\nid: own\ntitle: own\njudges: full-size appearance\nkind: own\nsource: {document: notes}\nrequirements:\n  - id: first\n    cite: notes\n    title: first\n    asks: Something.\n    standing: own reading\n";

fn own(demand: &str) -> Report {
    let set = read("own.yaml", &format!("{OWN}{demand}"), &shared_text).unwrap_or_else(|r| panic!("{r}"));
    let lamps = "lamps:\n  tip: {light: left position, emitter: red 3 W star, aim: left 55 deg}\n";
    judged("1980", lamps, &[set], Some("own"))
}

#[test]
fn a_way_that_does_not_apply_is_no_way_to_meet_a_requirement() {
    // Two lamps are asked for and one is there; the other way speaks of a light the model does not have.
    let report = own(
        "    any_of:\n      - goal: {light: left position, quantity: lamps fitted, limit: {at_least: 2 lamps}}\n      - goal: {light: landing, each: channel, quantity: on-time, limit: {at_most: 1 s}}\n",
    );
    assert_eq!(verdict(&report, "first"), Verdict::Missed);
}

#[test]
fn every_choice_within_a_requirement_is_judged() {
    let choice = |lamps: u32| {
        format!(
            "      - any_of:\n          - goal: {{light: left position, quantity: lamps fitted, limit: {{at_least: {lamps} lamps}}}}\n"
        )
    };
    let report = own(&format!("    all_of:\n{}{}", choice(1), choice(3)));
    let verdicts: Vec<Verdict> = report.goals.iter().map(|g| g.verdict).collect();
    assert_eq!(verdicts, [Verdict::Met, Verdict::Missed]);
}

#[test]
fn dates_that_straddle_a_change_decide_only_what_both_standings_agree_on() {
    let lamps = "emitters:\n  white: {from: measured, chromaticity: {x: 0.34, y: 0.35}, peak: 200 cd, table: {0 deg: 100 %, 180 deg: 100 %}}\n\
        lamps:\n  top: {light: strobe, emitter: white, aim: up, flash: {rate: 60 per min, lit: 50 ms}}\n";
    let (before, both, after) = (part_25("1970", lamps), part_25("1970 to 1972", lamps), part_25("1972", lamps));
    // White was admitted on 11 August 1971 (recalled; the date read): missed before, met after.
    assert_eq!(verdict(&before, "anti-collision-colour-before-1971/top"), Verdict::Missed);
    assert_eq!(verdict(&after, "anti-collision-colour/top"), Verdict::Met);
    // One question under two ids: told once.
    let colour = both.goals.iter().filter(|g| g.id.starts_with("anti-collision-colour")).collect::<Vec<_>>();
    let [only] = colour.as_slice() else { panic!("{} goals about the colour", colour.len()) };
    assert_eq!(only.verdict, Verdict::CannotTell);
    assert!(only.reason.as_ref().is_some_and(|r| r.kind == "which rule"));
    assert_eq!(verdict(&both, "anti-collision-fitted"), Verdict::Met);
}

#[test]
fn what_every_standing_misses_is_missed_whatever_its_id() {
    // No rear light, and the day its requirement changed its id within the dates.
    let lamps = "lamps:\n  tip: {light: left position, emitter: red 3 W star, aim: left 55 deg}\n";
    let report = part_25("1976-12 to 1977-03", lamps);
    let rear: Vec<_> = report.goals.iter().filter(|g| g.id.starts_with("rear-light-fitted")).collect();
    assert!(matches!(rear.as_slice(), [only] if only.verdict == Verdict::Missed), "{rear:?}");
}

#[test]
fn what_is_older_than_every_document_at_hand_is_said() {
    let lamps = "lamps:\n  tip: {light: left position, emitter: red 3 W star, aim: left 55 deg}\n";
    let sets: Vec<_> =
        lampwright::bundled_rule_sets().expect("sound").into_iter().filter(|s| s.id != "us-car4b").collect();
    let report = check(&model("1950 to 1966", lamps), &sets, &Options::default()).expect("judged");
    let said = &report.rule_sets[0].beside;
    assert!(said.iter().any(|b| b.contains("what held before 1965-02-01 is not at hand")), "{said:?}");
}

#[test]
fn many_emitters_and_milky_covers_have_no_sharp_shadow() {
    let lamp = |more: &str| {
        format!(
            "emitters:\n  red: {{from: measured, peak: 1 cd, viewing_angle: 120 deg, size: 1 mm}}\nlamps:\n  tip: {{light: left \
             position, emitter: red, aim: left 55 deg, mask: {{hides: inboard, edge: 6 mm}}{more}}}\n"
        )
    };
    // atan(1 / 12) = 4.8 deg, within the 10 deg that have no ceiling: met.
    assert_eq!(verdict(&part_25("1980", &lamp("")), "red-in-R/area A"), Verdict::Met);
    for more in [", count: 20", ", cover: opal"] {
        assert_eq!(verdict(&part_25("1980", &lamp(more)), "red-in-R/area A"), Verdict::CannotTell, "{more}");
    }
    // A size given for the whole decides again: atan(2 / 12) = 9.5 deg.
    assert_eq!(verdict(&part_25("1980", &lamp(", count: 4, size: 2 mm")), "red-in-R/area A"), Verdict::Met);
}

#[test]
fn an_overdriven_green_may_leave_its_colour() {
    // Aviation green begins at 493.9 nm; three times the current moves 3 to 8 nm x log10 3 to shorter waves (from memory).
    let lamp = |drive: &str| {
        format!(
            "emitters:\n  green: {{from: data sheet, dominant_wavelength: 496 nm, peak: 2 cd, viewing_angle: 120 deg, stated_at: 20 \
             mA}}\nlamps:\n  tip: {{light: right position, emitter: green, aim: right 55 deg{drive}}}\n"
        )
    };
    assert_eq!(verdict(&part_25("1980", &lamp("")), "right-light-colour/tip"), Verdict::Met);
    let driven = part_25("1980", &lamp(", drive: {current: 60 mA}"));
    assert_eq!(verdict(&driven, "right-light-colour/tip"), Verdict::CannotTell);
}

#[test]
fn a_height_given_on_one_side_only_tells_no_symmetry() {
    let lamps = "lamps:\n  l: {light: left position, emitter: red 3 W star, aim: left, place: [left 490 mm]}\n  \
        r: {light: right position, emitter: green 3 W star, aim: right, place: [right 490 mm, up 300 mm]}\n";
    assert_eq!(verdict(&part_25("1980", lamps), "symmetry"), Verdict::CannotTell);
}

/// A craft of the US with phases, shown in 2000.
fn with_phases(lamps: &str, phases: &str) -> Report {
    let text = format!(
        "lampwright: aircraft 1\nmodel: {{title: x, scale: \"1:8\"}}\nprototype: {{category: small aeroplane, authority: US, \
         applied: 1980, depicted: 2000}}\nlamps:\n{lamps}phases:\n{phases}"
    );
    let read = lampwright::aircraft::read(&Memory::new().with("x.yaml", text), Path::new("x.yaml"));
    let aircraft = read.expect("readable").unwrap_or_else(|r| panic!("{r}"));
    check(&aircraft, &bundled_rule_sets().expect("sound"), &Options::default()).expect("judged")
}

const SIDES: &str = "  left: {light: left position, emitter: red 3 W star, aim: left 55 deg}\n  \
    right: {light: right position, emitter: green 3 W star, aim: right 55 deg}\n";

#[test]
fn what_is_wrong_in_one_phase_no_unsaid_phase_hides() {
    // 91.209(a): dark while taxiing is a miss, whatever the other phases would say.
    let report = with_phases(SIDES, "  taxi: nothing\n");
    assert_eq!(verdict(&report, "position-lights-lit"), Verdict::Missed);
}

#[test]
fn a_lamp_on_a_dark_channel_is_not_lit() {
    let rest = "  taxi: [{lights: position, channel: gone}]\n  lined up: any\n  take-off: any\n  climb: any\n  \
                cruise: any\n  approach: any\n  landing: any\nchannels:\n  gone: {steady: 0 %}\n";
    assert_eq!(verdict(&with_phases(SIDES, rest), "position-lights-lit"), Verdict::Missed);
}

#[test]
fn a_lamp_for_a_local_rule_makes_no_light_of_the_craft() {
    // 91.209(b) speaks of craft that have an anti-collision system; a strobe for the flying site is none of the craft.
    let lamps = format!(
        "{SIDES}  site: {{light: strobe, emitter: cool white 3 W star, aim: up, flash: {{rate: 60 per min, lit: 50 ms}}, \
         required_by: local rule}}\n"
    );
    let report = with_phases(&lamps, "  taxi: any\n");
    assert_eq!(verdict(&report, "anti-collision-lit"), Verdict::NotApplicable);
}

#[test]
fn a_table_that_runs_past_its_angle_asks_nothing_there() {
    // 4 cd from 0 to 180 deg over L is 4 cd from 0 to 110: a mask that hides the right side takes nothing away.
    let table = "tables:\n  all round:\n    over: azimuth\n    cite: notes\n    rows:\n      - {from: 0 deg, to: 180 deg, is: 4 cd}\n";
    let demand = "    goal: {light: left position, quantity: horizontal intensity, region: {dihedral: L}, limit: {floor: {by_azimuth: all round}}}\n";
    let text = format!("{}{demand}", OWN.replace("requirements:", &format!("{table}requirements:")));
    let set = read("own.yaml", &text, &shared_text).unwrap_or_else(|r| panic!("{r}"));
    let lamps = "emitters:\n  round: {from: measured, peak: 0.1 cd, size: 0 mm, table: {0 deg: 100 %, 180 deg: 100 %}}\n\
        lamps:\n  tip: {light: left position, emitter: round, aim: left 55 deg, mask: {hides: {from: right 1 deg, through: right, to: right 179 deg}, edge: 10 mm}}\n";
    // 0.1 cd x 64 = 6.4 cd against 4.
    assert_eq!(verdict(&judged("1980", lamps, &[set], Some("own")), "first"), Verdict::Met);
}

#[test]
fn half_of_a_way_is_no_way() {
    // A beacon beside strobes that are white: without a strobe that way is not gone.
    let report = own(
        "    any_of:\n      - all_of:\n          - goal: {light: left position, quantity: lamps fitted, limit: {at_least: 1 lamp}}\n          - goal: {light: strobe, each: channel, quantity: on-time, limit: {at_most: 1 s}}\n      - goal: {light: left position, quantity: lamps fitted, limit: {at_least: 2 lamps}}\n",
    );
    assert_eq!(verdict(&report, "first"), Verdict::Missed);
}

#[test]
fn what_does_not_apply_at_one_standing_and_is_open_at_another_cannot_be_told() {
    // From 1980 on asked of craft for night flight, which is not said; before, not asked of them.
    let rules = "lampwright: rules 1\nid: own\ntitle: own\njudges: full-size appearance\nkind: own\nbasis:\n  authority: US\n  \
        categories: transport aeroplane\n  chosen_by: application for the type certificate\nsource: {document: notes}\n\
        requirements:\n  - id: first\n    cite: notes\n    title: first\n    asks: Something.\n    standing: own reading\n    \
        in_force: {until: \"1980-01-01\", standing: own reading}\n    when: {night: false, seaplane: true}\n    \
        goal: {light: left position, quantity: lamps fitted, limit: {at_least: 1 lamp}}\n  - id: second\n    cite: notes\n    \
        title: second\n    asks: Something.\n    standing: own reading\n    in_force: {from: \"1980-01-01\", standing: own reading}\n    \
        when: {night: true}\n    goal: {light: left position, quantity: lamps fitted, limit: {at_least: 1 lamp}}\n";
    let set = read("own.yaml", rules, &shared_text).unwrap_or_else(|r| panic!("{r}"));
    let lamps = "lamps:\n  tip: {light: left position, emitter: red 3 W star, aim: left 55 deg}\n";
    let report = judged("1979 to 1981", lamps, &[set], Some("own"));
    assert!(report.goals.iter().all(|g| g.verdict == Verdict::CannotTell), "{:?}", report.goals);
}

#[test]
fn a_set_for_every_craft_goes_by_the_date_of_application() {
    let demand = "    in_force: {from: 1970, standing: own reading}\n    goal: {light: left position, quantity: lamps fitted, limit: {at_least: 1 lamp}}\n";
    let set = read("own.yaml", &format!("{OWN}{demand}"), &shared_text).unwrap_or_else(|r| panic!("{r}"));
    let lamps = "lamps:\n  tip: {light: left position, emitter: red 3 W star, aim: left 55 deg}\n";
    assert_eq!(verdict(&judged("1980", lamps, &[set], Some("own")), "first"), Verdict::Met);
}
