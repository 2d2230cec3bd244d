//! The standings of the US rules by application date, on the day before each change and on the day.
//!
//! Days: 1 Apr 1957 (AC 43.13-2A, chapter 4, paragraph 51: read), 1 Feb 1965 (recalled), 11 Aug 1971 (FAA Historical
//! Chronology: read), 5 Nov 1971 (36 FR 21278: citation read, content recalled), 1 Feb 1977 (41 FR 55468: recalled),
//! 18 Jul to 1 Sep 1977 (42 FR 36970: recalled; sources differ between the day published and the day in effect).

use lampwright::bundled_rule_sets;
use lampwright::error::Error;
use lampwright::resolve::{Candidate, choose};
use lampwright::rules::{Authority, Category, ChosenBy, Craft, Dates, Holds, RuleSet};
use rstest::rstest;
use std::process::Command;

fn dates(text: &str) -> Dates {
    text.parse().expect("dates")
}

fn airliner(applied: &str) -> Craft {
    Craft {
        category: Some(Category::TransportAeroplane),
        authority: Some(Authority::Us),
        applied: Some(dates(applied)),
        ..Craft::default()
    }
}

/// The candidates whose documents are chosen by the application: what the craft was built to.
fn published<'a>(craft: &Craft, sets: &'a [RuleSet]) -> Vec<Candidate<'a>> {
    let built_to = |c: &Candidate<'_>| c.set.basis.as_ref().is_some_and(|b| b.chosen_by == ChosenBy::Application);
    choose(craft, sets, None).expect("a rule set").into_iter().filter(built_to).collect()
}

/// The requirements in force, of those whose id begins so.
fn in_force<'a>(candidate: &Candidate<'a>, start: &str) -> Vec<&'a str> {
    let all = candidate.set.requirements.iter().filter(|r| r.in_force.on(candidate.days) == Holds::Yes);
    all.map(|r| r.id.as_str()).filter(|id| id.starts_with(start)).collect()
}

#[rstest]
// The first column of section 10.1 of the AC's table and its successors: which minimum, which colours, which field.
#[case("1956", "us-car4b", &[], &["anti-collision-colour-before-1957"], &[])]
#[case("1957-03-31", "us-car4b", &[], &["anti-collision-colour-before-1957"], &[])]
#[case("1957-04-01", "us-car4b", &["anti-collision-intensity-1957"], &["anti-collision-colour-before-1971"], &["anti-collision-field-30"])]
#[case("1963", "us-car4b", &["anti-collision-intensity-1957"], &["anti-collision-colour-before-1971"], &["anti-collision-field-30"])]
#[case("1965-01-31", "us-car4b", &["anti-collision-intensity-1957"], &["anti-collision-colour-before-1971"], &["anti-collision-field-30"])]
#[case("1965-02-01", "us-14cfr25", &["anti-collision-intensity-1957"], &["anti-collision-colour-before-1971"], &["anti-collision-field-30"])]
#[case("1971-08-10", "us-14cfr25", &["anti-collision-intensity-1957"], &["anti-collision-colour-before-1971"], &["anti-collision-field-30"])]
#[case("1971-08-11", "us-14cfr25", &["anti-collision-intensity-1971"], &["anti-collision-colour"], &["anti-collision-field-30"])]
#[case("1972", "us-14cfr25", &["anti-collision-intensity-1971"], &["anti-collision-colour"], &["anti-collision-field-30"])]
#[case("1974", "us-14cfr25", &["anti-collision-intensity-1971"], &["anti-collision-colour"], &["anti-collision-field-30"])]
#[case("1977-07-17", "us-14cfr25", &["anti-collision-intensity-1971"], &["anti-collision-colour"], &["anti-collision-field-30"])]
#[case("1977-09-01", "us-14cfr25", &["anti-collision-intensity"], &["anti-collision-colour"], &["anti-collision-field"])]
#[case("1990", "us-14cfr25", &["anti-collision-intensity"], &["anti-collision-colour"], &["anti-collision-field"])]
fn the_standing_of_its_day(
    #[case] applied: &str,
    #[case] set: &str,
    #[case] intensity: &[&str],
    #[case] colour: &[&str],
    #[case] field: &[&str],
) {
    let sets = bundled_rule_sets().expect("sound");
    let found = published(&airliner(applied), &sets);
    let [only] = found.as_slice() else { panic!("{} standings for {applied}", found.len()) };
    assert_eq!(only.set.id, set);
    assert_eq!(in_force(only, "anti-collision-intensity"), intensity);
    assert_eq!(in_force(only, "anti-collision-colour"), colour);
    assert_eq!(in_force(only, "anti-collision-field"), field);
    assert!(only.why.contains(applied), "{}", only.why);
    assert!(!only.beside.is_empty());
}

#[rstest]
// 25.1387(e) came on 5 Nov 1971; wing-tip rear lights on 1 Feb 1977.
#[case("1971-11-04", "rear-light-unbroken", "rear-light-unbroken-before-1971")]
#[case("1971-11-05", "rear-light-unbroken", "rear-light-unbroken")]
#[case("1977-01-31", "rear-light-fitted", "rear-light-fitted-before-1977")]
#[case("1977-02-01", "rear-light-fitted", "rear-light-fitted")]
#[case("1971-08-10", "rear-light-colour", "rear-light-colour-before-1971")]
#[case("1971-08-11", "rear-light-colour", "rear-light-colour")]
fn the_day_before_and_the_day(#[case] applied: &str, #[case] start: &str, #[case] wanted: &str) {
    let sets = bundled_rule_sets().expect("sound");
    let found = published(&airliner(applied), &sets);
    assert_eq!(in_force(&found[0], start), [wanted]);
}

#[test]
fn neighbours_are_named_with_what_changed() {
    let sets = bundled_rule_sets().expect("sound");
    let found = published(&airliner("1974"), &sets);
    let said = found[0].beside.join("\n");
    assert!(said.contains("until 1971-11-04") && said.contains("25.1387"), "{said}");
    assert!(said.contains("from 1977-02-01") && said.contains("25.1385(c)"), "{said}");
}

#[test]
fn what_was_not_read_is_said_in_every_line_that_rests_on_it() {
    let sets = bundled_rule_sets().expect("sound");
    let text = "lampwright: aircraft 1\nmodel: {title: x, scale: \"1:8\"}\nprototype: {category: transport aeroplane, authority: US, applied: 1956}\n\
        lamps:\n  tip: {light: left position, emitter: red 3 W star, aim: left 55 deg}\n  top: {light: beacon, emitter: red 1 W star, aim: up, flash: {rate: 46 per min, lit: 120 ms}}\n";
    let files = lampwright::source::Memory::new().with("x.yaml", text.to_string());
    let model = lampwright::aircraft::read(&files, std::path::Path::new("x.yaml")).expect("readable").expect("sound");
    let report = lampwright::check(&model, &sets, &lampwright::Options::default()).expect("judged");
    let ours: Vec<_> = report.goals.iter().filter(|g| g.rule_set == "us-car4b").collect();
    assert!(ours.len() > 8);
    for goal in ours {
        assert_eq!(goal.rests_on.unverified.as_deref(), Some("era rule not verified"), "{}", goal.id);
    }
}

#[test]
fn a_first_flight_is_an_upper_bound() {
    let sets = bundled_rule_sets().expect("sound");
    let craft = Craft { applied: None, first_flight: Some(dates("1964")), ..airliner("1964") };
    let found = published(&craft, &sets);
    assert!(found.iter().all(|c| c.set.id == "us-car4b"), "Part 25 is later than its first flight");
    assert_eq!(found.len(), 2, "before and after 1 April 1957");
}

#[test]
fn a_craft_shown_later_may_have_been_refitted() {
    let sets = bundled_rule_sets().expect("sound");
    let craft = Craft { depicted: Some(dates("1985")), ..airliner("1963") };
    let found = published(&craft, &sets);
    let which: Vec<(&str, bool)> = found.iter().map(|c| (c.set.id.as_str(), c.why.contains("refitted"))).collect();
    assert_eq!(which, [("us-car4b", false), ("us-14cfr25", true)]);
    // Shown as it was built: nothing to refit.
    let craft = Craft { depicted: Some(dates("1963")), ..airliner("1963") };
    assert_eq!(published(&craft, &sets).len(), 1);
}

#[test]
fn an_authority_without_documents_is_no_rule_set() {
    let sets = bundled_rule_sets().expect("sound");
    let craft = Craft { category: Some(Category::Balloon), authority: Some(Authority::Australia), ..airliner("1980") };
    assert!(matches!(choose(&craft, &sets, None), Err(Error::NoRuleSet { .. })));
}

#[test]
fn the_command_says_which_and_why_not() {
    let run = |more: &[&str]| {
        let words = [&["rules", "for", "--category", "transport aeroplane", "--authority", "US"], more].concat();
        let ran = Command::new(env!("CARGO_BIN_EXE_lampwright")).args(words).output().expect("starts");
        (ran.status.code(), String::from_utf8(ran.stdout).expect("UTF-8"))
    };
    let (status, said) = run(&["--applied", "1963"]);
    assert_eq!(status, Some(0));
    assert!(said.starts_with("us-car4b") && said.contains("era rule not verified"), "{said}");
    assert!(said.contains("Not chosen") && said.contains("not in force before 1965-02-01"), "{said}");
    let (_, said) = run(&["--applied", "1990"]);
    assert!(said.starts_with("us-14cfr25") && said.contains("no longer in force from 1965-02-01"), "{said}");
    assert!(said.lines().all(|l| l.chars().count() <= 80), "{said}");
    assert_eq!(run(&["--applied", "yesterday"]).0, Some(2));
}
