//! `lampwright rules for`: which rule set answers a full-size craft, and why the others do not.

use super::rules::para;
use super::{Ended, output};
use crate::resolve::{Candidate, choose, reasons};
use crate::rule_sets_for;
use crate::rules::{Authority, Category, Craft, Dates, Judges, RuleHead};
use std::fmt::Write;

#[derive(clap::Args)]
pub(super) struct Args {
    /// The category of the craft, like "transport aeroplane".
    #[arg(long, value_name = "CATEGORY", value_parser = parsed::<Category>)]
    category: Category,
    /// Whose rules it was built to, like US.
    #[arg(long, value_name = "AUTHORITY", value_parser = parsed::<Authority>)]
    authority: Authority,
    /// When its type certificate was applied for: 1980, 1980-05, 1980-05-12, or "1978 to 1980".
    #[arg(long, value_name = "DATES", value_parser = parsed::<Dates>)]
    applied: Option<Dates>,
    /// Its first flight, where the application is not known: it was not later.
    #[arg(long, value_name = "DATES", value_parser = parsed::<Dates>, conflicts_with = "applied")]
    first_flight: Option<Dates>,
    /// The date the craft is shown as of, where it may have been refitted since.
    #[arg(long, value_name = "DATES", value_parser = parsed::<Dates>)]
    depicted: Option<Dates>,
    /// When its type certificate was issued.
    #[arg(long, value_name = "DATES", value_parser = parsed::<Dates>)]
    certificated: Option<Dates>,
    /// It alights on water.
    #[arg(long)]
    seaplane: bool,
    /// Where the model is flown: whose rules for model aircraft hold there.
    #[arg(long, value_name = "PLACE", value_parser = parsed::<Authority>)]
    flown_in: Option<Authority>,
}

fn parsed<T: std::str::FromStr<Err = crate::units::UnitError>>(text: &str) -> Result<T, String> {
    text.parse().map_err(|e: crate::units::UnitError| format!("{}; {}", e.what, e.instead))
}

pub(super) fn run(args: &Args, heads: &[RuleHead]) -> Ended {
    let craft = Craft {
        category: Some(args.category),
        authority: Some(args.authority),
        applied: args.applied,
        first_flight: args.first_flight,
        depicted: args.depicted,
        certificated: args.certificated,
        seaplane: args.seaplane.then_some(true),
        flown_in: args.flown_in,
        ..Craft::default()
    };
    let sets = match rule_sets_for(&craft, None) {
        Ok(sets) => sets,
        Err(error) => return Ended::Failed(error.to_string()),
    };
    match choose(&craft, &sets, None) {
        Ok(candidates) => output::print(told(&craft, &candidates, heads).as_bytes(), Ended::Well),
        Err(error) => Ended::Failed(error.to_string()),
    }
}

fn told(craft: &Craft, candidates: &[Candidate<'_>], heads: &[RuleHead]) -> String {
    let mut out = String::new();
    let published: Vec<_> = candidates.iter().filter(|c| c.set.basis.is_some()).collect();
    for candidate in &published {
        let _ = writeln!(out, "{}  as it stands for {}", candidate.set.id, candidate.days);
        para(&mut out, 2, "document", &candidate.set.document.name);
        para(&mut out, 2, "because", &candidate.why);
        for beside in &candidate.beside {
            para(&mut out, 2, "besides", beside);
        }
        if let Some(unverified) = &candidate.set.unverified {
            para(&mut out, 2, "mind", unverified);
        }
    }
    if published.iter().enumerate().any(|(n, a)| published.iter().skip(n + 1).any(|b| a.is_rival_of(b))) {
        let settle = if published.iter().any(|c| c.refit) {
            "Leave --depicted out for the craft as certificated, or give its date as --applied for the craft as refitted."
        } else {
            "Give the date more exactly."
        };
        para(&mut out, 0, "", &format!("More than one may hold: a goal counts only where all agree. {settle}"));
    }
    let others: Vec<_> = reasons(craft, heads).into_iter().filter_map(|(set, why)| Some((set, why.err()?))).collect();
    if !others.is_empty() {
        out.push_str("\nNot chosen\n");
        let mut by_reason: Vec<(String, Vec<&str>)> = Vec::new();
        for (head, why) in &others {
            match by_reason.iter_mut().find(|(reason, _)| reason == why) {
                Some((_, ids)) => ids.push(&head.id),
                None => by_reason.push((why.clone(), vec![&head.id])),
            }
        }
        for (reason, ids) in by_reason {
            para(&mut out, 2, "", &format!("{}: {reason}", ids.join(", ")));
        }
    }
    let every: Vec<&str> =
        heads.iter().filter(|s| s.basis.is_none() && s.judges != Judges::Sequences).map(|s| s.id.as_str()).collect();
    let _ = writeln!(out, "\nThese hold for every craft: {}.", every.join(", "));
    para(&mut out, 0, "", crate::report::LOCAL_RULES);
    out
}
