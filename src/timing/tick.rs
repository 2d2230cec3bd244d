//! A pattern as a controller runs it that counts time in ticks.

use super::Waveform;
use crate::units::{Fraction, Micros};

impl Waveform {
    /// The pattern with every stretch rounded to whole ticks, the nearest and at least one; `None` where the tick is 0 or the
    /// pattern would be longer than a day.
    ///
    /// # Example
    /// ```
    /// use lampwright::timing::{FlashReading, Waveform};
    /// use lampwright::units::{Fraction, Micros};
    /// // 98 a minute is a period of 612.2 ms; in ticks of 50 ms that is 12 of them, 100 a minute.
    /// let paper = Waveform::flash(Fraction::new(60_000_000, 98), Micros(50_000), 1, Micros(0))?;
    /// let run = paper.in_ticks(Micros(50_000)).expect("ticks");
    /// assert_eq!(run.flash_rate(&FlashReading::default()).exact_per_minute(), Fraction::new(100, 1));
    /// # Ok::<(), lampwright::timing::TimingError>(())
    /// ```
    #[must_use]
    pub fn in_ticks(&self, tick: Micros) -> Option<Self> {
        if tick.0 == 0 || self.is_steady() {
            return (tick.0 > 0).then(|| self.clone());
        }
        let step = Fraction::new(i128::from(tick.0), 1);
        let whole = |length: Fraction| u64::try_from((length / step).round().to_integer().max(1)).ok();
        let lengths: Option<Vec<u64>> =
            self.pieces().iter().map(|p| whole(p.length_us())?.checked_mul(tick.0)).collect();
        let lengths = lengths?;
        let period = lengths.iter().try_fold(0_u64, |sum, length| sum.checked_add(*length))?;
        if period > Micros::LONGEST.0 {
            return None;
        }
        let parts = self.pieces().iter().zip(lengths).map(|(p, length)| (length, p.from_level, p.to_level));
        let start = u64::try_from((Fraction::new(i128::from(self.start().0), 1) / step).round().to_integer()).ok()?;
        Some(Self::laid(Fraction::new(i128::from(period), 1), parts).with_start(Micros(start.checked_mul(tick.0)?)))
    }
}
