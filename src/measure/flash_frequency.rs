//! How often a channel flashes.

use super::zones::{blame, channel, plain_finding, takes_plain};
use super::{CannotTell, Finding, Needs, Quantity, Where};
use crate::resolve::Goal;
use crate::rules::{Each, Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct FlashFrequency;

impl Quantity for FlashFrequency {
    fn id(&self) -> &'static str {
        "flash frequency"
    }

    fn how(&self) -> &'static str {
        "Flashes a minute of one channel, exact. A pulse is light above a tenth of the channel's peak; pulses join into one \
         flash when the dark between them is under 0.2 s and under half of the channel's longest dark. Where counting every \
         pulse would change the verdict, that is said."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::PerMinute], "write `limit: {between: [40 per min, 100 per min]}`")
    }

    fn needs(&self) -> Needs {
        Needs::each(Each::Channel)
    }

    fn is_of_channels(&self) -> bool {
        true
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let channel = channel(goal, scene)?;
        let reading = &scene.readings.flash;
        let flashes = channel.waveform.flashes(reading).flash_rate().per_min();
        let pulses = channel.waveform.pulse_rate(reading).per_min();
        let at = Some(Where::Channel(channel.name.clone()));
        let mut finding = plain_finding(
            goal,
            Interval::exactly(flashes),
            Unit::PerMinute,
            at,
            &blame(goal, scene, |l| &l.places.pattern),
        )?;
        if pulses != flashes {
            let if_pulses = super::zones::plain(&goal.spec.limit, Interval::exactly(pulses)).map(|(_, m)| m.low >= 0.0);
            let turned = if_pulses.is_some_and(|met| met != (finding.margin.low >= 0.0));
            finding.notes.push(format!(
                "{} pulses a minute in groups{}",
                crate::units::short(pulses),
                if turned { "; counting every pulse would turn the verdict" } else { "" }
            ));
        }
        if let (Limit::Between(low, high), true) = (&goal.spec.limit, finding.margin.high < 0.0) {
            finding.to_meet = Some(mend(channel.waveform.is_steady(), flashes, low.scalar.value, high.scalar.value));
        }
        Ok(finding)
    }
}

fn mend(steady: bool, rate: f64, low: f64, high: f64) -> String {
    if steady || rate <= 0.0 {
        return "it never flashes: give it a pattern with `flash:`".to_string();
    }
    let (shortest, longest) = (60_000.0 / high, 60_000.0 / low);
    format!("period {shortest:.0}-{longest:.0} ms, yours {}", crate::units::short(60_000.0 / rate))
}
