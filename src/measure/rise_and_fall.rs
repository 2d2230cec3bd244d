//! How suddenly a channel comes and goes.

use super::zones::{blame, channels, plain_finding, takes_plain};
use super::{CannotTell, Finding, Quantity, Where};
use crate::resolve::Goal;
use crate::rules::{Limit, Unit};
use crate::scene::Scene;
use crate::units::Interval;

/// See [`Quantity`].
pub struct RiseAndFall;

impl Quantity for RiseAndFall {
    fn id(&self) -> &'static str {
        "rise and fall"
    }

    fn how(&self) -> &'static str {
        "The longest ramp of each channel up to its peak and the longest down from it, from end to end; both must keep the \
         limit. A step of the pattern rises in no time, whatever the emitter adds."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Millisecond], "write `limit: {at_most: 10 ms}`")
    }

    fn is_of_channels(&self) -> bool {
        true
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let blame = blame(goal, scene, |l| &l.places.pattern);
        let mut worst: Option<Finding> = None;
        for channel in channels(goal, scene)? {
            let (rise, fall) = (channel.waveform.rise_time().ms(), channel.waveform.fall_time().ms());
            let at = Some(Where::Channel(channel.name.clone()));
            // Two exact figures, not a range: the one that decides is printed.
            for ms in [rise, fall] {
                let mut found = plain_finding(goal, Interval::exactly(ms), Unit::Millisecond, at.clone(), &blame)?;
                let (rise, fall) = (crate::units::short(rise), crate::units::short(fall));
                found.notes.push(format!("channel {}: rise {rise} ms, fall {fall} ms", channel.name));
                if worst.as_ref().is_none_or(|w| found.margin.low < w.margin.low) {
                    worst = Some(found);
                }
            }
        }
        if let (Limit::AtMost(_), Some(worst)) = (&goal.spec.limit, worst.as_mut().filter(|w| w.margin.high < 0.0)) {
            worst.to_meet = Some(format!("rise and fall {}: write `flash:` in place of `swell:`", worst.required.text));
        }
        worst.ok_or_else(|| CannotTell::Beyond("no channel lights it".to_string()))
    }
}
