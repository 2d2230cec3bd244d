//! `lampwright explain`: what a requirement, a quantity, an emitter or a word on the bag means.

use super::check::{load_aircraft, load_rules, rule_sets};
use super::rules::{para, requirement_text};
use super::{Ended, explain_for, explain_words, output};
use crate::aircraft::{TypicalEmitter, bag_word, bag_words, find_typical, typical_emitters};
use crate::bundled_rule_sets;
use crate::lint::{OWN_CODES, own_code};
use crate::measure;
use crate::rules::{Requirement, RuleSet};
use crate::source::{Code, nearest};
use std::path::PathBuf;

#[derive(clap::Args)]
pub(super) struct Args {
    /// A requirement, a rule set, a paragraph like 25.1391, a quantity, a code of lint or of a mistake, what `convert` reads,
    /// an emitter, or a word on the bag; `quantities` and `lint` list theirs.
    #[arg(required = true)]
    word: Vec<String>,
    /// For a requirement: the reckoning for the lamps of this aircraft file.
    #[arg(long = "for", value_name = "FILE")]
    aircraft: Option<PathBuf>,
    /// Look in this rule-set file instead of the published ones that come with the program.
    #[arg(long, value_name = "FILE")]
    rules: Option<PathBuf>,
}

pub(super) fn run(args: &Args) -> Ended {
    let word = args.word.join(" ");
    let own = match args.rules.as_deref().map(load_rules).transpose() {
        Ok(own) => own,
        Err(why) => return Ended::Failed(why),
    };
    let asked_set = own.as_ref().map(|set| set.id.clone());
    let aircraft = match args.aircraft.as_deref().map(load_aircraft).transpose() {
        Ok(aircraft) => aircraft,
        Err(why) => return Ended::Failed(why),
    };
    // For a model only the sets that answer it; else all of them.
    let sets = match (&aircraft, own) {
        (Some(aircraft), own) => rule_sets(aircraft, own),
        (None, Some(own)) => Ok(vec![own]),
        (None, None) => bundled_rule_sets().map_err(|e| e.to_string()),
    };
    let sets = match sets {
        Ok(sets) => sets,
        Err(why) => return Ended::Failed(why),
    };
    let requirements = requirements(&sets, &word);
    if let Some(aircraft) = &aircraft {
        let asked = if requirements.is_empty() { using(&sets, &word) } else { requirements };
        return match asked.as_slice() {
            [] => Ended::Failed(format!("no requirement is called `{word}`; {}", near(&sets, &word))),
            some => explain_for::run(aircraft, &sets, some, asked_set.as_deref()),
        };
    }
    let text = if requirements.is_empty() {
        listed(&word)
            .or_else(|| lint_code(&word))
            .or_else(|| explain_words::mistake(&word))
            .or_else(|| explain_words::rule_set(&sets, &word))
            .or_else(|| explain_words::format(&word))
            .or_else(|| quantity(&word))
            .or_else(|| bag_word(&word).map(|m| meaning(&word, m)))
            .or_else(|| emitters(&word))
    } else {
        Some(explained_all(&requirements))
    };
    match text {
        Some(text) => output::print(text.as_bytes(), Ended::Well),
        None => Ended::Failed(format!("nothing is known by the name `{word}`; {}", near(&sets, &word))),
    }
}

/// The requirements of an id, or of a paragraph; `SET/REQUIREMENT` is that of one rule set.
fn requirements<'a>(sets: &'a [RuleSet], word: &str) -> Vec<(&'a RuleSet, &'a Requirement)> {
    let mut parts = word.split('/');
    let first = parts.next().unwrap_or(word);
    let of_set = sets.iter().any(|set| set.id == first).then(|| parts.next()).flatten();
    let id = of_set.unwrap_or(first);
    let all = || sets.iter().flat_map(|s| s.requirements.iter().map(move |r| (s, r)));
    let by_id: Vec<_> = all().filter(|(s, r)| r.id == id && (of_set.is_none() || s.id == first)).collect();
    if !by_id.is_empty() || !word.contains('.') {
        return by_id;
    }
    all().filter(|(_, r)| r.cite.split(", ").any(|c| c.starts_with(word))).collect()
}

/// The requirements that ask for a quantity.
fn using<'a>(sets: &'a [RuleSet], quantity: &str) -> Vec<(&'a RuleSet, &'a Requirement)> {
    let all = sets.iter().flat_map(|s| s.requirements.iter().map(move |r| (s, r)));
    all.filter(|(_, r)| r.demand.goals().iter().any(|g| g.quantity.value == quantity)).collect()
}

/// The first of each id whole, and where else the same is asked.
fn explained_all(requirements: &[(&RuleSet, &Requirement)]) -> String {
    let mut texts = Vec::new();
    for (n, (set, requirement)) in requirements.iter().enumerate() {
        let same = |(_, r): &&(&RuleSet, &Requirement)| r.id == requirement.id && r.asks == requirement.asks;
        if requirements.iter().take(n).any(|r| same(&r)) {
            continue;
        }
        let mut text = explained(set, requirement);
        let also: Vec<String> =
            requirements.iter().skip(n + 1).filter(same).map(|(s, r)| format!("{} ({})", s.id, r.cite)).collect();
        if !also.is_empty() {
            para(&mut text, 4, "also in", &also.join(", "));
        }
        texts.push(text);
    }
    texts.join("\n")
}

fn explained(set: &RuleSet, requirement: &Requirement) -> String {
    let mut out = requirement_text(requirement);
    let mut told: Vec<&str> = Vec::new();
    for spec in requirement.demand.goals() {
        let id = spec.quantity.value.as_str();
        if let Some(quantity) = measure::find(id).filter(|_| !told.contains(&id)) {
            told.push(id);
            para(&mut out, 4, "measured", quantity.how());
        }
    }
    para(&mut out, 4, "rule set", &set.id);
    para(&mut out, 4, "written in", &requirement.at.to_string());
    out
}

/// The lists a word stands for: every quantity, or every code that lint tells.
fn listed(word: &str) -> Option<String> {
    let mut out = String::new();
    match word {
        "quantities" => measure::ALL.iter().for_each(|q| para(&mut out, 0, q.id(), q.how())),
        "lint" => {
            for code in OWN_CODES {
                para(&mut out, 0, code.code, &format!("{}: {}", code.severity, code.about));
            }
            for code in Code::ALL {
                para(&mut out, 0, code.as_str(), &format!("a mistake: {}", code.help().about));
            }
            para(&mut out, 0, "besides", "the ids of requirements a sequence can answer by itself");
        }
        _ => return None,
    }
    Some(out)
}

fn lint_code(word: &str) -> Option<String> {
    let code = own_code(word)?;
    let mut out = String::new();
    para(&mut out, 0, "code", code.code);
    para(&mut out, 0, "weighs", code.severity.as_str());
    para(&mut out, 0, "told when", code.about);
    para(&mut out, 0, "because", code.why);
    para(&mut out, 0, "to mend", code.to_mend);
    para(&mut out, 0, "let pass", &format!("`# let pass {}: why`, on its line or the one above", code.code));
    Some(out)
}

fn quantity(word: &str) -> Option<String> {
    let quantity = measure::find(word)?;
    let mut out = String::new();
    para(&mut out, 0, "quantity", quantity.id());
    para(&mut out, 0, "measured", quantity.how());
    Some(out)
}

fn meaning(word: &str, meaning: &str) -> String {
    let mut out = String::new();
    para(&mut out, 0, "word", word);
    para(
        &mut out,
        0,
        "means",
        meaning.strip_prefix("See ").and_then(|w| bag_word(w.trim_end_matches('.'))).unwrap_or(meaning),
    );
    out
}

fn emitters(word: &str) -> Option<String> {
    let one = find_typical(word).ok();
    let found: Vec<&TypicalEmitter> = match one {
        Some(one) => vec![one],
        None => typical_emitters().iter().filter(|t| t.class.eq_ignore_ascii_case(word)).collect(),
    };
    let texts: Vec<String> = found.iter().map(|t| emitter(t)).collect();
    (!texts.is_empty()).then(|| texts.join("\n"))
}

fn emitter(t: &TypicalEmitter) -> String {
    use super::emitters::{colour, range};
    let mut out = String::new();
    let use_pair = if t.by_peak { "peak and angle" } else { "flux and angle" };
    let rows = [
        ("emitter", t.phrase()),
        ("stated at", format!("{} mA, cold, new, without a cover", crate::units::short(t.current_ma))),
        ("peak", format!("{} cd", range(t.peak_cd))),
        ("flux", format!("{} lm", range(t.flux_lm))),
        ("angle", format!("{} deg, the full one", range(t.viewing_angle_deg))),
        ("colour", colour(t)),
        ("size", format!("{} mm", range(t.diameter_mm))),
        ("heat", format!("{} % of its light per kelvin", range(t.per_kelvin.scaled(100.0)))),
        ("backwards", format!("{} % of its light leaves behind it", range(t.behind.scaled(100.0)))),
        ("reckoned by", format!("{use_pair}; the third figure is a check")),
        ("standing", format!("typical: {}; a range that holds about nine tenths of the parts sold", t.standing)),
    ];
    for (label, value) in rows {
        para(&mut out, 0, label, &value);
    }
    out
}

fn near(sets: &[RuleSet], word: &str) -> String {
    let ids = sets.iter().flat_map(|s| s.requirements.iter().map(|r| r.id.as_str()));
    let quantities = measure::ALL.iter().map(|q| q.id());
    let words = bag_words().iter().map(|(w, _)| w.as_str());
    let codes = OWN_CODES.iter().map(|c| c.code).chain(Code::ALL.iter().map(|c| c.as_str()));
    let sets = sets.iter().map(|s| s.id.as_str()).chain(explain_words::formats());
    match nearest(word, ids.chain(quantities).chain(words).chain(codes).chain(sets)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`lampwright rules show ID` lists requirements, `lampwright emitters` emitters".to_string(),
    }
}
