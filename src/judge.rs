//! From what was found to a verdict.

use crate::measure::{CannotTell, Finding};
use std::fmt;

/// A margin this little under 0 is rounding.
const ROUNDING: f64 = 1e-9;

/// Whether a goal is reached.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Verdict {
    /// None of what it may be satisfies the limit.
    Missed,
    /// It cannot be told.
    CannotTell,
    /// All of what it may be satisfies the limit.
    Met,
    /// It does not apply.
    NotApplicable,
}

impl Verdict {
    /// The word reports print.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Missed => "missed",
            Self::CannotTell => "cannot tell",
            Self::Met => "met",
            Self::NotApplicable => "not applicable",
        }
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// A verdict with its reason, where it has one, and what else should be said.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// The verdict.
    pub verdict: Verdict,
    /// Why it cannot be told.
    pub reason: Option<CannotTell>,
    /// What else a reader should know.
    pub notes: Vec<String>,
}

/// Judges a finding.
#[must_use]
pub fn judge(found: &Result<Finding, CannotTell>) -> Judgement {
    let finding = match found {
        Ok(finding) => finding,
        Err(reason @ CannotTell::NotAsked(_)) => {
            return Judgement { verdict: Verdict::NotApplicable, reason: Some(reason.clone()), notes: Vec::new() };
        }
        Err(reason) => {
            return Judgement { verdict: Verdict::CannotTell, reason: Some(reason.clone()), notes: Vec::new() };
        }
    };
    let margin = finding.margin;
    // NaN margins satisfy nothing: they cannot be told.
    let (mut met, mut missed) = (margin.low >= -ROUNDING, margin.high < -ROUNDING);
    let mut notes = Vec::new();
    if let Some(let_off) = &finding.let_off {
        let small = |sr: f64| sr < let_off.under_sr;
        if !met && small(let_off.shortfall_sr.high) {
            met = true;
            notes.push(format!(
                "falls short over {} or less, and only {:.2e} sr would decide",
                shortfall(crate::units::Interval::exactly(let_off.shortfall_sr.high.max(1e-5))),
                let_off.under_sr
            ));
        } else if !met {
            notes.push(format!("falls short over {}", shortfall(let_off.shortfall_sr)));
        }
        missed = missed && !met && !small(let_off.shortfall_sr.low);
    }
    let (verdict, reason) = match (met, missed) {
        (true, _) => (Verdict::Met, None),
        (_, true) => (Verdict::Missed, None),
        _ => (Verdict::CannotTell, Some(CannotTell::WithinBounds)),
    };
    Judgement { verdict, reason, notes }
}

fn shortfall(sr: crate::units::Interval) -> String {
    let show = |v: f64| format!("{} sr", crate::units::short((v * 1e5).round() / 1e5));
    if sr.width() < 1e-5 { show(sr.high) } else { format!("{} to {}", show(sr.low), show(sr.high)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{LetOff, Required};
    use crate::rules::Unit;
    use crate::source::At;
    use crate::units::Interval;

    fn verdict(low: f64, high: f64, let_off: Option<(f64, f64)>) -> Verdict {
        let margin = Interval { low, high };
        let mut finding = Finding::new(margin, Unit::Times, Required::words(""), margin, &At::nowhere());
        finding.let_off = let_off.map(|(a, b)| LetOff { shortfall_sr: Interval::new(a, b), under_sr: 9.57e-4 });
        judge(&Ok(finding)).verdict
    }

    #[test]
    fn the_whole_interval_decides() {
        assert_eq!(verdict(0.0, 0.0, None), Verdict::Met);
        assert_eq!(verdict(-0.1, 0.1, None), Verdict::CannotTell);
        assert_eq!(verdict(-0.2, -0.1, None), Verdict::Missed);
        assert_eq!(verdict(f64::NAN, f64::NAN, None), Verdict::CannotTell);
    }

    #[test]
    fn a_shortfall_under_a_cap_of_one_degree_does_not_decide() {
        assert_eq!(verdict(-1.0, -1.0, Some((3.5e-4, 3.5e-4))), Verdict::Met);
        assert_eq!(verdict(-1.0, -1.0, Some((0.03, 0.03))), Verdict::Missed);
        assert_eq!(verdict(-1.0, -0.5, Some((3.5e-4, 0.03))), Verdict::CannotTell);
    }
}
