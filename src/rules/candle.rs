//! A document's candles turned into candela, rounded where it rounds.

use super::declared::RuleSetFile;
use super::figure::{Scalar, Unit};
use crate::source::{At, Code, Sink};

/// What the document's candle is in candela, and where a rule set that does not say it is told so: once, in its own file.
pub(super) struct Candle {
    factor: Option<f64>,
    /// The document prints its candela rounded to a multiple of this.
    nearest: Option<f64>,
    own: At,
    told: bool,
}

impl Candle {
    pub fn of(file: &RuleSetFile, sink: &mut Sink) -> Self {
        if let Some(step) = &file.candle_to_the_nearest
            && (step.unit != Unit::Candela || step.value.value <= 0.0)
        {
            let message = format!("`{}` is not what candela can be rounded to", step.value);
            sink.say(Code::OutOfRange, &step.at, message, "write `candle_to_the_nearest: 1 cd`");
        }
        if let Some(candle) = file.candle.as_ref().map(|f| f.scalar)
            && (candle.unit != Unit::Candela || !(0.5..=2.0).contains(&candle.value))
        {
            let message = format!("a candle cannot be `{candle}`");
            sink.say(Code::OutOfRange, &file.id.at, message, "write what it is in candela, like `candle: 1.02 cd`");
        }
        Self {
            factor: file.candle.as_ref().map(|f| f.scalar.value),
            nearest: file.candle_to_the_nearest.as_ref().map(|step| step.value.value),
            own: file.id.at.clone(),
            told: false,
        }
    }

    pub fn convert(&mut self, scalar: &mut Scalar, at: &At, sink: &mut Sink) {
        if scalar.unit != Unit::Candle {
            return;
        }
        if let Some(factor) = self.factor {
            let exact = scalar.value * factor;
            let printed = self.nearest.filter(|s| *s > 0.0).map_or(exact, |step| (exact / step).round() * step);
            *scalar = Scalar::new(printed, Unit::Candela);
        } else if !self.told {
            self.told = true;
            let at = if at.file == self.own.file { at } else { &self.own };
            let message = "a figure is in candles, and the rule set does not say what its candle is";
            sink.say(Code::MissingKey, at, message, "add `candle: 1 cd` to the rule set");
        }
    }
}
