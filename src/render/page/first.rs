//! The first side: who and what, by which rule and why, each lamp, where, when, and what is open.

use super::{ticked, verdict, words};
use crate::judge::Verdict;
use crate::render::plot;
use crate::render::words::goals::counted;
use crate::report::{Documentation, GoalReport, LampRow, Report, RuleSetHead};
use crate::rules::RuleKind;
use maud::{Markup, html};

/// How many goals of one kind stand on this side: the more lamps, the fewer have room; the rest is on the pages behind.
fn most_lines(documentation: &Documentation) -> usize {
    match documentation.lamps.len() {
        0..=10 => 5,
        11..=14 => 3,
        _ => 2,
    }
}

pub(super) fn side(documentation: &Documentation) -> Markup {
    let report = &documentation.report;
    html! {
        section id="first" {
            (head(documentation))
            div class="columns" {
                (entry(documentation))
                (rules(report))
            }
            (lamps(&documentation.lamps))
            div class="columns pictures" {
                div {
                    figure {
                        h2 { (words::WHERE) }
                        (plot::views::draw_small("where", words::WHERE, &documentation.views, &[plot::views::View::Plan, plot::views::View::Side]))
                    }
                    (differences(documentation))
                }
                div {
                    figure {
                        h2 { (words::WHEN) }
                        @if documentation.timing.tracks.is_empty() {
                            p { (words::NOTHING_FLASHES) }
                        } @else {
                            (plot::timing::draw_small("when", words::WHEN, &documentation.timing))
                        }
                    }
                    (phases(report))
                }
            }
            div class="columns" {
                (missed(report, most_lines(documentation)))
                (open(report, most_lines(documentation)))
            }
            (method(documentation))
        }
    }
}

fn head(documentation: &Documentation) -> Markup {
    let report = &documentation.report;
    let craft = &report.aircraft;
    let t = &report.required;
    html! {
        header {
            div {
                p class="kicker" { (words::KICKER) }
                h1 { (craft.title) " " span class="scale" { "1:" (crate::units::short(craft.scale)) } }
                p { (words::STANDS_FOR) " " (craft.prototype) }
            }
            ul class="tally" {
                li { (words::REQUIRED) ":" }
                @for (of, count) in [(Verdict::Met, t.met), (Verdict::Missed, t.missed), (Verdict::CannotTell, t.cannot_tell)] {
                    li { b { (count) } " " (verdict(of)) }
                }
            }
        }
    }
}

fn entry(documentation: &Documentation) -> Markup {
    let lines = words::entry(&documentation.entry);
    html! {
        div {
            h2 { (words::WHO) }
            @if lines.is_empty() { p class="soft" { (words::NO_ENTRY) } }
            dl {
                @for (name, value) in lines { div { dt { (name) } dd { (value) } } }
                @if let Some(airframe) = &documentation.report.aircraft.airframe {
                    div { dt { (words::AIRFRAME) } dd { (airframe) } }
                }
            }
        }
    }
}

fn rules(report: &Report) -> Markup {
    html! {
        div {
            h2 { (words::RULES) }
            ul class="rules" {
                @for set in report.rule_sets.iter().filter(|set| judges(report, set)) {
                    li {
                        b { (set.id) } " " (set.document) ", " (words::AS_IT_STANDS) " " (set.standing_at) ": " (set.why)
                        @for beside in &set.beside { "; " (beside) }
                    }
                }
                @let own: Vec<&str> = report.rule_sets.iter().filter(|s| !judges(report, s)).map(|s| s.id.as_str()).collect();
                @if !own.is_empty() { li { (words::BESIDES) " " (own.join(", ")) } }
            }
        }
    }
}

/// Whether a rule set decides if the model passes: it has goals that do.
fn judges(report: &Report, set: &RuleSetHead) -> bool {
    set.kind == RuleKind::Published || report.goals.iter().any(|g| g.binding && g.rule_set == set.id)
}

fn lamps(rows: &[LampRow]) -> Markup {
    html! {
        h2 { (words::LAMPS) }
        div class="table" tabindex="0" role="region" aria-label=(words::LAMPS) {
            table class="lamps" {
                thead { tr { @for head in words::LAMP_HEADS { th scope="col" { (head) } } } }
                tbody { @for row in rows { (lamp(row)) } }
            }
        }
    }
}

fn lamp(row: &LampRow) -> Markup {
    html! {
        tr {
            td class="number" { (row.number) }
            th scope="row" { (row.name) @if row.light != row.name { span class="soft" { ", " (row.light) } } }
            td {
                @match row.verdict {
                    Some(of) => (verdict(of)),
                    None if row.local => span class="soft" { (words::LOCAL_RULE) },
                    None => span class="soft" { (words::NOT_JUDGED) },
                }
            }
            td { b { (row.hue.letter) } " " span class="soft" { (row.emitter) } }
            td {
                @match &row.place {
                    Some((model, full)) => { (model) span class="soft" { "; " (full) } },
                    None => span class="soft" { (words::NO_PLACE) },
                }
            }
            td { (row.pattern) }
            td { @match &row.evidence { Some(evidence) => (evidence), None => span class="soft" { (words::NOT_DOCUMENTED) } } }
            td { (shortened(&row.cites)) }
        }
    }
}

/// A few paragraphs by name, the rest by number.
fn shortened(cites: &[String]) -> String {
    const SHOWN: usize = 3;
    let mut text = cites.iter().take(SHOWN).cloned().collect::<Vec<_>>().join("; ");
    if cites.len() > SHOWN {
        text.push_str(&format!("; {} more", cites.len() - SHOWN));
    }
    text
}

fn phases(report: &Report) -> Markup {
    html! {
        h2 { (words::PHASES) }
        @if report.phases.is_empty() {
            p class="soft" { (words::NO_PHASES) }
        } @else {
            table class="phases" {
                tbody {
                    @for (phases, lit) in lit_alike(report) {
                        tr {
                            th scope="row" { (phases.join(", ")) }
                            td { @if lit.is_empty() { span class="soft" { (words::NOTHING) } } @else { (lit.join(", ")) } }
                        }
                    }
                }
            }
        }
    }
}

/// The phases in which the same lights are lit, together.
fn lit_alike(report: &Report) -> Vec<(Vec<&'static str>, &[String])> {
    let mut alike: Vec<(Vec<&'static str>, &[String])> = Vec::new();
    for phase in &report.phases {
        match alike.iter_mut().find(|(_, lit)| *lit == phase.summary.as_slice()) {
            Some((phases, _)) => phases.push(phase.phase.as_str()),
            None => alike.push((vec![phase.phase.as_str()], &phase.summary)),
        }
    }
    alike
}

fn missed(report: &Report, most: usize) -> Markup {
    required(report, Verdict::Missed, [words::MISSED, words::NOTHING_MISSED], most, |goal| {
        html! {
            @if let Some(found) = &goal.found {
                ": " (found.text)
                @if let Some(required) = &goal.required { ", where " (required.text) " is asked" }
            }
        }
    })
}

fn open(report: &Report, most: usize) -> Markup {
    required(report, Verdict::CannotTell, [words::OPEN, words::NOTHING_OPEN], most, |goal| {
        html! {
            @if let Some(reason) = &goal.reason {
                @match reason.add.first() {
                    Some((key, what)) => { ": " code { (key) } ": " (ticked(what)) },
                    None => { ": " (ticked(goal.to_meet.as_deref().unwrap_or(&reason.text))) },
                }
            }
        }
    })
}

/// The first of the goals that decide and came out one way, each with what there is to say of it.
fn required(
    report: &Report,
    verdict: Verdict,
    [heading, none]: [&str; 2],
    most: usize,
    told: impl Fn(&GoalReport) -> Markup,
) -> Markup {
    let goals: Vec<&GoalReport> = report.goals.iter().filter(|g| g.binding && g.verdict == verdict).collect();
    html! {
        div {
            h2 { (heading) }
            @if goals.is_empty() { p { (none) } }
            ul {
                @for goal in goals.iter().take(most) {
                    li { b { (goal.title) } " (" (goal.citation) ")" (told(goal)) }
                }
                @if goals.len() > most {
                    li { a href="#goals" { "and " (counted(goals.len() - most, "more goal")) } }
                }
            }
        }
    }
}

fn differences(documentation: &Documentation) -> Markup {
    let local: Vec<&str> = documentation.report.local_rule_lamps.iter().map(String::as_str).collect();
    html! {
        h2 { (words::DIFFERENCES) }
        @if documentation.entry.differences.is_empty() { p { (words::NO_DIFFERENCES) } }
        ul {
            @for (what, why) in &documentation.entry.differences { li { b { (what) } ": " (why) } }
            @if !local.is_empty() { li { b { (words::LOCAL_LAMPS) } ": " (local.join(", ")) } }
        }
    }
}

fn method(documentation: &Documentation) -> Markup {
    let method = &documentation.method;
    let short = |hash: &str| hash.get(..12).unwrap_or(hash).to_string();
    html! {
        footer {
            p {
                b { (words::METHOD) ": " } (words::made_by(&method.day)) " " (words::DECLARED) " " a href="#method" { "SHA-256" } ":"
                @for (name, hash) in method.inputs.iter().chain(&method.rule_sets) { " " (name) " " code title=(hash) { (short(hash)) } ";" }
            }
            p { (documentation.report.notice) }
        }
    }
}
