//! How long lamps on clocks of their own stay together.

use super::zones::{blame, channels, plain_finding, takes_plain};
use super::{CannotTell, Finding, Needs, Quantity};
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::timing::{milliseconds, time_to_slip};
use crate::units::{Fraction, Interval};

/// See [`Quantity`].
pub struct SlipTime;

impl Quantity for SlipTime {
    fn id(&self) -> &'static str {
        "slip time"
    }

    fn how(&self) -> &'static str {
        "The time in which two channels on different clocks that began together slip by `slip`: `slip` divided by the \
         relative difference of their periods as written and `clocks differ` together, the worst case."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Millisecond], "write `limit: {at_least: 10 min}`")
    }

    fn needs(&self) -> Needs {
        Needs { with: &[("slip", Unit::Millisecond), ("clocks differ", Unit::Share)], ..Needs::default() }
    }

    fn is_of_channels(&self) -> bool {
        true
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let figure = |name: &str, unit: Unit| {
            let found = goal.spec.with.get(name).filter(|f| f.scalar.unit == unit).map(|f| f.scalar.value);
            found.ok_or_else(|| CannotTell::Beyond(format!("the rule set gives no `{name}`")))
        };
        let (slip_ms, differ) = (figure("slip", Unit::Millisecond)?, figure("clocks differ", Unit::Share)?);
        let channels = channels(goal, scene)?;
        let pairs = channels.iter().enumerate().flat_map(|(n, a)| channels.iter().skip(n + 1).map(move |b| (*a, *b)));
        let slips = pairs.filter(|(a, b)| a.clock != b.clock).filter_map(|(a, b)| {
            let (one, other) = (milliseconds(a.waveform.period_us()), milliseconds(b.waveform.period_us()));
            let relative = (other - one).abs() / one.min(other) + differ;
            Some((time_to_slip(relative, Fraction::new((slip_ms * 1e3).round() as i128, 1))?, a, b))
        });
        let soonest = slips.min_by(|a, b| a.0.total_cmp(&b.0));
        let (seconds, a, b) =
            soonest.ok_or_else(|| CannotTell::NotAsked("one clock drives them all, so they never slip".to_string()))?;
        let blame = blame(goal, scene, |l| &l.places.pattern);
        let mut finding = plain_finding(goal, Interval::exactly(seconds * 1e3), Unit::Millisecond, None, &blame)?;
        finding.notes.push(format!(
            "channels {} and {} slip {} in that time",
            a.name,
            b.name,
            crate::rules::show(slip_ms, Unit::Millisecond)
        ));
        if finding.margin.high < 0.0 {
            finding.to_meet = Some("put both channels on one clock: write the same `clock:` in both".to_string());
        }
        Ok(finding)
    }
}
