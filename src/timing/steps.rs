//! A pattern written out step by step.

use super::build::check_level;
use super::waveform::MOST_PIECES;
use super::{TimingError, Waveform};
use crate::units::{Fraction, Micros};

/// How deep repeats may stand in each other.
const DEEPEST: usize = 16;

/// One step of a pattern.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// Full level for a time.
    Lit(Micros),
    /// Dark for a time.
    Dark(Micros),
    /// A level from 0 to 1 for a time.
    Level {
        /// The fraction of luminous intensity.
        level: f64,
        /// How long.
        time: Micros,
    },
    /// A straight ramp between two levels.
    Ramp {
        /// The level at its beginning, 0 to 1.
        from: f64,
        /// The level at its end, 0 to 1.
        to: f64,
        /// How long.
        time: Micros,
    },
    /// Steps done several times in a row.
    Repeat {
        /// How many times, at least 1.
        times: u32,
        /// The steps, at least one.
        steps: Vec<Step>,
    },
}

impl Waveform {
    /// The waveform of steps done one after the other and then again from the first; its period is their sum.
    ///
    /// # Errors
    /// No steps; a step of no time; a level outside 0 to 1; a repeat of nothing or done 0 times; repeats more than
    /// 16 deep; more than 20 000 pieces after repeats; more than one day.
    ///
    /// # Example
    /// ```
    /// use lampwright::timing::{FlashReading, Step, Waveform};
    /// use lampwright::units::{Fraction, Micros};
    /// // A double flash every 1.28 s: 60 / 1.28 = 46.875 flashes and 93.75 pulses a minute.
    /// let strobe = Waveform::from_steps(&[
    ///     Step::Lit(Micros(50_000)), Step::Dark(Micros(70_000)), Step::Lit(Micros(50_000)), Step::Dark(Micros(1_110_000)),
    /// ])?;
    /// let reading = FlashReading::default();
    /// assert_eq!(strobe.flash_rate(&reading).per_min(), 46.875);
    /// assert_eq!(strobe.pulse_rate(&reading).per_min(), 93.75);
    /// # Ok::<(), lampwright::timing::TimingError>(())
    /// ```
    pub fn from_steps(steps: &[Step]) -> Result<Self, TimingError> {
        let mut parts = Vec::new();
        let mut total = 0;
        lay(steps, 0, &mut parts, &mut total)?;
        if parts.is_empty() {
            return Err(TimingError::new("the pattern has no steps", "write at least one step, like `lit: 50 ms`"));
        }
        Ok(Self::laid(Fraction::new(i128::from(total), 1), parts.into_iter()))
    }
}

fn lay(steps: &[Step], depth: usize, parts: &mut Vec<(u64, f64, f64)>, total: &mut u64) -> Result<(), TimingError> {
    if depth > DEEPEST {
        return Err(TimingError::new(
            format!("repeats stand in each other more than {DEEPEST} deep"),
            "write the pattern with fewer nested repeats",
        ));
    }
    for step in steps {
        let (time, from, to) = match step {
            Step::Lit(time) => (*time, 1.0, 1.0),
            Step::Dark(time) => (*time, 0.0, 0.0),
            Step::Level { level, time } => (*time, *level, *level),
            Step::Ramp { from, to, time } => (*time, *from, *to),
            Step::Repeat { times, steps } => {
                check_repeat(*times, steps)?;
                for _ in 0..*times {
                    lay(steps, depth + 1, parts, total)?;
                }
                continue;
            }
        };
        *total = add_time(*total, time)?;
        if parts.len() == MOST_PIECES {
            return Err(TimingError::new(
                format!("the pattern has more than {MOST_PIECES} steps after its repeats"),
                "write a shorter pattern, or fewer repeats",
            ));
        }
        parts.push((time.0, check_level(from)?, check_level(to)?));
    }
    Ok(())
}

fn check_repeat(times: u32, steps: &[Step]) -> Result<(), TimingError> {
    if times == 0 {
        return Err(TimingError::new("a repeat is done 0 times", "leave it out, or repeat it at least once"));
    }
    if steps.is_empty() {
        return Err(TimingError::new("a repeat has no steps", "leave it out, or give it steps"));
    }
    Ok(())
}

fn add_time(total: u64, time: Micros) -> Result<u64, TimingError> {
    if time.0 == 0 {
        return Err(TimingError::new("a step takes no time", "leave it out, or give it a time above 0"));
    }
    total
        .checked_add(time.0)
        .filter(|sum| *sum <= Micros::LONGEST.0)
        .ok_or_else(|| TimingError::new("the pattern is longer than one day", "write a shorter one"))
}
