//! Every goal with its verdict, and the cautions.

use super::{ticked, verdict, words};
use crate::judge::Verdict;
use crate::render::words::goals::{details, margin};
use crate::report::{Documentation, GoalReport, Report};
use maud::{Markup, html};

pub(super) fn section(report: &Report) -> Markup {
    html! {
        section id="goals" {
            h2 { (words::GOALS) }
            p { (words::ALL_GOALS) " " (words::tally(&report.all)) }
            div class="table" tabindex="0" role="region" aria-label=(words::GOALS) {
                table class="goals" {
                    thead { tr { @for head in words::GOAL_HEADS { th scope="col" { (head) } } } }
                    tbody {
                        @for of in [Verdict::Missed, Verdict::CannotTell, Verdict::Met, Verdict::NotApplicable] {
                            @for goal in report.goals.iter().filter(|g| g.verdict == of) { (row(goal)) }
                        }
                    }
                }
            }
            @for rule in &report.local_rules {
                h3 { (words::LOCAL_VERDICTS) " " (rule.head.title) }
                ul { @for goal in &rule.goals { li { (verdict(goal.verdict)) " " (goal.title) } } }
            }
        }
    }
}

fn row(goal: &GoalReport) -> Markup {
    let told = details(goal);
    let shown = |name: &str| !matches!(name, "margin" | "look at");
    html! {
        tr data-rule-set=(goal.rule_set) data-goal=(goal.id) {
            td { (verdict(goal.verdict)) }
            th scope="row" {
                (goal.title)
                @if !goal.lamps.is_empty() && !goal.lamps.iter().all(|l| goal.title.contains(l.as_str())) { span class="soft" { " " (goal.lamps.join(", ")) } }
            }
            td { (goal.citation) br; span class="soft" { (goal.rule_set) } }
            td {
                @for (name, text) in told.iter().filter(|(name, _)| shown(name)) {
                    div { span class="soft" { (name) } " " (ticked(text)) }
                }
            }
            td { (margin(goal)) }
        }
    }
}

pub(super) fn cautions(documentation: &Documentation) -> Markup {
    let (report, method) = (&documentation.report, &documentation.method);
    html! {
        section id="cautions" {
            h2 { (words::CAUTIONS) }
            ul { @for caution in &report.cautions { li { (caution.text) " " span class="soft" { "(" (caution.source) ")" } } } }
            p { (report.notice) }
        }
        section id="method" {
            h2 { (words::METHOD) }
            p { (words::made_by(&method.day)) " " (words::DECLARED) }
            ul { @for (name, hash) in method.inputs.iter().chain(&method.rule_sets) { li { (name) ": SHA-256 " code { (hash) } } } }
        }
    }
}
