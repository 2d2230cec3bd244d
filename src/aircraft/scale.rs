//! The scale of a model.

use crate::source::text_decode;
use crate::units::UnitError;
use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

/// A scale of 1 to N: a length on the model is a full-size length divided by N, an intensity by N squared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale(f64);

impl Scale {
    /// 1:1.
    pub const FULL_SIZE: Self = Self(1.0);

    /// A scale of 1 to `n`; `None` unless `n` is from 1 to 1000.
    #[must_use]
    pub fn one_to(n: f64) -> Option<Self> {
        (1.0..=1000.0).contains(&n).then_some(Self(n))
    }
    /// N of 1 to N.
    #[must_use]
    pub fn n(self) -> f64 {
        self.0
    }
    /// N squared: what an intensity is multiplied by to be that of the full-size craft.
    ///
    /// # Example
    /// ```
    /// // A 1:8 model's lamp stands for one 64 times as bright: 400 cd at 1:8 is 6.25 cd (inverse square law).
    /// let scale = lampwright::aircraft::Scale::one_to(8.0).expect("a scale");
    /// assert_eq!(400.0 / scale.intensity(), 6.25);
    /// ```
    #[must_use]
    pub fn intensity(self) -> f64 {
        self.0 * self.0
    }
}

impl FromStr for Scale {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let text = text.trim();
        let wrong = || {
            UnitError {
            what: format!("`{text}` is not a scale"),
            instead: "write it in quotes as `\"1:8\"`: one, a colon, and how many times larger the full-size craft is (1 to 1000)".into(),
        }
        };
        let (one, n) = text.split_once([':', '/']).ok_or_else(wrong)?;
        if one.trim() != "1" {
            return Err(wrong());
        }
        n.trim().parse::<f64>().ok().and_then(Self::one_to).ok_or_else(wrong)
    }
}

impl fmt::Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "1:{}", crate::units::short(self.0))
    }
}

impl schemars::JsonSchema for Scale {
    fn schema_name() -> Cow<'static, str> {
        "Scale".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "pattern": "^\\s*1\\s*[:/]\\s*[0-9.]+\\s*$", "examples": ["1:8"] })
    }
}
text_decode!(Scale);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_true_scale_is_one() {
        assert_eq!("1:8".parse::<Scale>().expect("reads").n(), 8.0);
        assert_eq!("1 : 4.5".parse::<Scale>().expect("reads").to_string(), "1:4.5");
        for bad in ["1:0", "8", "0.125", "1:-8", "8:1", "1:NaN", "1:inf", "1:0.5", "1:1e9", "68"] {
            assert!(bad.parse::<Scale>().is_err(), "{bad}");
        }
    }
}
