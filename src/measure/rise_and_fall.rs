//! How suddenly a channel comes and goes.

use super::zones::{blame, missing, plain_finding, takes_plain};
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
        "The longest ramp of the channel up to its peak and the longest down from it, from end to end; both must keep the \
         limit. A step of the pattern rises in no time, whatever the emitter adds."
    }

    fn takes(&self, limit: &Limit) -> Result<(), &'static str> {
        takes_plain(limit, &[Unit::Millisecond], "write `limit: {at_most: 10 ms}`")
    }

    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
        let channel = goal.lamps.first().and_then(|n| scene.channel(*n)).ok_or_else(|| {
            missing(goal, scene, "lamps.{lamp}.flash", "how it flashes: a `channel`, or `flash:`, `swell:` or `steps:`")
        })?;
        let (rise, fall) = (channel.waveform.rise_time().ms(), channel.waveform.fall_time().ms());
        let at = Some(Where::Channel(channel.name.clone()));
        let blame = blame(goal, scene, |l| &l.places.pattern);
        // Two exact figures, not a range: the one that decides is printed.
        let one = |ms: f64| plain_finding(goal, Interval::exactly(ms), Unit::Millisecond, at.clone(), &blame);
        let (up, down) = (one(rise)?, one(fall)?);
        let mut worse = if up.margin.low <= down.margin.low { up } else { down };
        worse.notes.push(format!("rise {} ms, fall {} ms", crate::units::short(rise), crate::units::short(fall)));
        Ok(worse)
    }
}
