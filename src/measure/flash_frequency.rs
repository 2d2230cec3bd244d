//! How often a channel flashes.

use super::zones::{blame, channel, plain_finding, takes_plain};
use super::{CannotTell, Finding, Needs, Quantity, Where};
use crate::resolve::Goal;
use crate::rules::{Each, Limit, Unit};
use crate::scene::Scene;
use crate::timing::{FlashReading, Waveform, milliseconds};
use crate::units::{Fraction, Interval};

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
            let parted = parted(&channel.waveform, reading).unwrap_or_default();
            let mend = mend(channel.waveform.is_steady(), flashes, low.scalar.value, high.scalar.value);
            finding.to_meet = Some(format!("{mend}{parted}"));
        }
        Ok(finding)
    }
}

fn mend(steady: bool, rate: f64, low: f64, high: f64) -> String {
    if steady || rate <= 0.0 {
        return "it never flashes: give it a pattern with `flash:`".to_string();
    }
    period_asked(rate, low, high)
}

/// The periods that keep two limits of a frequency, and what to write.
pub(super) fn period_asked(rate: f64, low: f64, high: f64) -> String {
    let short = crate::units::short;
    let (shortest, longest, yours) = (60_000.0 / high, 60_000.0 / low, 60_000.0 / rate);
    format!(
        "period {shortest:.0} to {longest:.0} ms, yours {} ms: write `rate:` from {} to {} per min",
        short(yours),
        short(low),
        short(high)
    )
}

/// That pulses count as flashes of their own which a shorter dark would join; the longest of such darks is named.
fn parted(waveform: &Waveform, reading: &FlashReading) -> Option<String> {
    let under = Fraction::new(i128::from(reading.merge_under.0), 1);
    let darks = waveform.darks(reading);
    let longest = milliseconds(darks.iter().max().copied()?);
    let long = darks.iter().filter(|dark| **dark >= under && milliseconds(**dark) < reading.merge_share * longest);
    let (apart, under) = (crate::units::short(milliseconds(*long.max()?)), crate::units::short(milliseconds(under)));
    Some(format!("; pulses {apart} ms apart count as flashes of their own; under {under} ms they are one"))
}
