//! The short forms of a pattern: steady, flash, swell.

use super::waveform::{MOST_PIECES, checked_period, words};
use super::{TimingError, Waveform};
use crate::units::{Fraction, Micros};

/// A level must be a number from 0 to 1.
pub(super) fn check_level(level: f64) -> Result<f64, TimingError> {
    if (0.0..=1.0).contains(&level) {
        Ok(level)
    } else {
        Err(TimingError::new(
            format!("the level {level} is not from 0 to 1"),
            "write a share of full luminous intensity from 0 to 1, in a file like `40 %`",
        ))
    }
}

fn whole(time: Micros) -> Fraction {
    Fraction::new(i128::from(time.0), 1)
}

impl Waveform {
    /// A channel whose level (0 to 1) never changes.
    ///
    /// # Errors
    /// A level outside 0 to 1, or not a number.
    pub fn steady(level: f64) -> Result<Self, TimingError> {
        let level = check_level(level)?;
        // The period of a steady light has no meaning; one second is as good as any.
        Ok(Self::laid(Fraction::new(1_000_000, 1), std::iter::once((1_000_000, level, level))))
    }

    /// Rectangular pulses at full level, `lit` long with `gap` of dark between them, then dark for the rest of the
    /// period (microseconds, exact).
    ///
    /// # Errors
    /// A period not above 0 or over one day; no pulses, or more than 10 000; pulses or gaps of no length; a group
    /// that leaves no dark at the period's end.
    ///
    /// # Example
    /// ```
    /// use lampwright::timing::{FlashReading, Waveform};
    /// use lampwright::units::{Fraction, Micros};
    /// // 45 turns a minute with two lamps: 90 flashes a minute (60 / 45 / 2 s apart).
    /// let beacon = Waveform::flash(Fraction::new(2_000_000, 3), Micros(55_556), 1, Micros(0))?;
    /// assert_eq!(beacon.flash_rate(&FlashReading::default()).exact_per_minute(), Fraction::new(90, 1));
    /// # Ok::<(), lampwright::timing::TimingError>(())
    /// ```
    pub fn flash(period_us: Fraction, lit: Micros, pulses: u32, gap: Micros) -> Result<Self, TimingError> {
        let period_us = checked_period(period_us)?;
        check_pulses(lit, pulses, gap)?;
        let count = i128::from(pulses);
        let group = Fraction::new(i128::from(lit.0) * count + i128::from(gap.0) * (count - 1), 1);
        if group >= period_us {
            return Err(TimingError::new(
                format!(
                    "{pulses} pulse(s) of {lit} with gaps of {gap} take {} and leave no dark in a period of {}",
                    words(group),
                    words(period_us)
                ),
                "shorten the pulses or the gaps, or flash more slowly",
            ));
        }
        let parts = (0..pulses).flat_map(|i| {
            let dark = (i + 1 < pulses).then_some((gap.0, 0.0, 0.0));
            std::iter::once((lit.0, 1.0, 1.0)).chain(dark)
        });
        Ok(Self::laid(period_us, parts))
    }

    /// A straight rise from dark to full, a hold at full, a straight fall, then dark for the rest of the period
    /// (microseconds, exact); any of the three may be 0, not all.
    ///
    /// # Errors
    /// A period not above 0 or over one day; nothing lit; more than fits the period; a level that never changes.
    pub fn swell(period_us: Fraction, rise: Micros, hold: Micros, fall: Micros) -> Result<Self, TimingError> {
        let period_us = checked_period(period_us)?;
        let lit = whole(rise) + whole(hold) + whole(fall);
        if lit == Fraction::new(0, 1) {
            return Err(TimingError::new("the swell has no rise, no hold and no fall", "give one of them a time"));
        }
        if lit > period_us {
            return Err(TimingError::new(
                format!("rise, hold and fall take {} of a period of {}", words(lit), words(period_us)),
                "shorten them, or flash more slowly",
            ));
        }
        if rise.0 == 0 && fall.0 == 0 && lit == period_us {
            return Err(TimingError::new("the swell never changes its level", "write `steady`"));
        }
        let parts = [(rise.0, 0.0, 1.0), (hold.0, 1.0, 1.0), (fall.0, 1.0, 0.0)];
        Ok(Self::laid(period_us, parts.into_iter()))
    }
}

fn check_pulses(lit: Micros, pulses: u32, gap: Micros) -> Result<(), TimingError> {
    if pulses == 0 || pulses as usize > MOST_PIECES / 2 {
        return Err(TimingError::new(
            format!("a flash of {pulses} pulses cannot be made"),
            format!("write from 1 to {} pulses", MOST_PIECES / 2),
        ));
    }
    if lit.0 == 0 {
        return Err(TimingError::new("a pulse has no length", "give `lit` a time above 0, like `50 ms`"));
    }
    if pulses > 1 && gap.0 == 0 {
        return Err(TimingError::new("there is no gap between the pulses", "give `gap` a time above 0, like `100 ms`"));
    }
    Ok(())
}
