//! The quantities held as floating point, on `uom`.

use super::{Quantity, UnitError, parse};
use std::borrow::Cow;
use std::fmt;
use uom::si;

/// Makes one quantity: newtype, constructor, accessor, text form, serde and JSON Schema.
macro_rules! quantity {
    (
        $(#[$doc:meta])*
        $name:ident: $uom:ty, $what:literal, $example:literal, $module:ident,
        $( $(#[$unit_doc:meta])* $from:ident / $get:ident = $main:ident ),+;
        { $( $word:literal => $unit:ident ),+ $(,)? }
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name($uom);

        impl $name {
            $(
                $(#[$unit_doc])*
                #[must_use]
                pub fn $from(value: f64) -> Self { Self(<$uom>::new::<si::$module::$main>(value)) }
                /// The value in the unit the name says.
                #[must_use]
                pub fn $get(self) -> f64 { self.0.get::<si::$module::$main>() }
            )+
            /// The value as the `uom` type beneath.
            #[must_use]
            pub fn uom(self) -> $uom { self.0 }
        }

        impl From<$uom> for $name {
            fn from(value: $uom) -> Self { Self(value) }
        }

        impl Quantity for $name {
            const NAME: &'static str = $what;
            const EXAMPLE: &'static str = $example;
            fn units() -> &'static [&'static str] { &[$($word),+] }
            fn from_parts(number: &str, unit: &str) -> Option<Result<Self, UnitError>> {
                let value: f64 = number.parse().ok()?;
                let made = match unit {
                    $( $word => Self(<$uom>::new::<si::$module::$unit>(value)), )+
                    _ => return None,
                };
                Some(if value.is_finite() { Ok(made) } else {
                    Err(UnitError {
                        what: format!("`{number}` is not a finite number"),
                        instead: format!("write {} like `{}`", $what, $example),
                    })
                })
            }
        }

        text_form!($name);
    };
}

/// `FromStr`, serde and JSON Schema for a [`Quantity`] that has `Display`.
macro_rules! text_form {
    ($name:ident) => {
        impl std::str::FromStr for $name {
            type Err = UnitError;
            fn from_str(text: &str) -> Result<Self, UnitError> { parse(text) }
        }
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
                out.collect_str(self)
            }
        }
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(input: D) -> Result<Self, D::Error> {
                let text = Cow::<'de, str>::deserialize(input)?;
                text.parse().map_err(serde::de::Error::custom)
            }
        }
        impl schemars::JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> { stringify!($name).into() }
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({
                    "type": "string",
                    "description": format!("{}, with its unit ({})", <Self as Quantity>::NAME, Self::units().join(", ")),
                    "pattern": crate::units::quantity::pattern(Self::units()),
                    "examples": [<Self as Quantity>::EXAMPLE],
                })
            }
        }
    };
}
pub(super) use text_form;

/// The regular expression of `number unit` for a list of unit words.
pub(super) fn pattern(units: &[&str]) -> String {
    let words: Vec<String> = units.iter().map(|u| u.replace('/', "\\/")).collect();
    format!("^\\s*[+-]?[0-9.]+([eE][+-]?[0-9]+)?\\s*({})\\s*$", words.join("|"))
}

/// Writes a number with four significant digits and no trailing zeros.
pub(crate) fn short(value: f64) -> String {
    rounded(value, 4)
}

/// Writes a number with so many significant digits and no trailing zeros.
pub(crate) fn rounded(value: f64, digits: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".into() } else { value.to_string() };
    }
    let magnitude = value.abs().log10().floor() as i32;
    if !(-5..7).contains(&magnitude) {
        return format!("{value:.2e}");
    }
    let decimals = (digits - 1 - magnitude).clamp(0, 8) as usize;
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text }
}

macro_rules! shown_as {
    ($name:ident, $get:ident, $unit:literal) => {
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, concat!("{} ", $unit), short(self.$get()))
            }
        }
    };
}

quantity! {
    /// Luminous intensity, in candela.
    Intensity: si::f64::LuminousIntensity, "a luminous intensity", "45 cd", luminous_intensity,
    /// An intensity of so many candela.
    from_cd / cd = candela;
    { "cd" => candela, "mcd" => millicandela, "kcd" => kilocandela }
}
shown_as!(Intensity, cd, "cd");

quantity! {
    /// Plane angle.
    Angle: si::f64::Angle, "an angle", "110 deg", angle,
    /// An angle of so many degrees.
    from_deg / deg = degree,
    /// An angle of so many radians.
    from_rad / rad = radian;
    { "deg" => degree, "degrees" => degree, "\u{b0}" => degree, "rad" => radian }
}
shown_as!(Angle, deg, "deg");

quantity! {
    /// Solid angle, in steradian.
    SolidAngle: si::f64::SolidAngle, "a solid angle", "0.03 sr", solid_angle,
    /// A solid angle of so many steradian.
    from_sr / sr = steradian;
    { "sr" => steradian }
}
shown_as!(SolidAngle, sr, "sr");

quantity! {
    /// Length: places, distances, ranges.
    Length: si::f64::Length, "a length", "120 mm", length,
    /// A length of so many metres.
    from_m / m = meter,
    /// A length of so many millimetres.
    from_mm / mm = millimeter;
    {
        "mm" => millimeter, "cm" => centimeter, "m" => meter, "km" => kilometer,
        "in" => inch, "ft" => foot, "mi" => mile, "nmi" => nautical_mile,
    }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.m().abs() {
            m if m >= 1000.0 => write!(f, "{} km", short(self.m() / 1000.0)),
            m if m >= 10.0 => write!(f, "{} m", short(self.m())),
            _ => write!(f, "{} mm", short(self.mm())),
        }
    }
}

quantity! {
    /// Wavelength, in nanometres.
    Wavelength: si::f64::Length, "a wavelength", "525 nm", length,
    /// A wavelength of so many nanometres.
    from_nm / nm = nanometer;
    { "nm" => nanometer }
}
shown_as!(Wavelength, nm, "nm");

quantity! {
    /// Colour temperature, in kelvin.
    Temperature: si::f64::ThermodynamicTemperature, "a colour temperature", "4000 K", thermodynamic_temperature,
    /// A temperature of so many kelvin.
    from_k / k = kelvin;
    { "K" => kelvin }
}
shown_as!(Temperature, k, "K");

quantity! {
    /// Illuminance, in lux.
    Illuminance: si::f64::Illuminance, "an illuminance", "2e-7 lx", illuminance,
    /// An illuminance of so many lux.
    from_lx / lx = lux;
    { "lx" => lux }
}
shown_as!(Illuminance, lx, "lx");

quantity! {
    /// Electric current.
    Current: si::f64::ElectricCurrent, "an electric current", "350 mA", electric_current,
    /// A current of so many milliampere.
    from_ma / ma = milliampere;
    { "mA" => milliampere, "A" => ampere }
}
shown_as!(Current, ma, "mA");

quantity! {
    /// Mass.
    Mass: si::f64::Mass, "a mass", "5700 kg", mass,
    /// A mass of so many kilograms.
    from_kg / kg = kilogram;
    { "kg" => kilogram, "t" => megagram, "lb" => pound, "g" => gram }
}
shown_as!(Mass, kg, "kg");

quantity! {
    /// A share of a whole, written in per cent.
    Share: si::f64::Ratio, "a share", "92 %", ratio,
    /// A share of so much of one.
    from_one / one = ratio;
    { "%" => percent }
}

impl fmt::Display for Share {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", short(self.one() * 100.0))
    }
}

/// Luminous flux, in lumen: a newtype because `uom` gives lumen and candela one dimension.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Flux(si::f64::LuminousIntensity);

impl Flux {
    /// A flux of so many lumens.
    #[must_use]
    pub fn from_lm(lumens: f64) -> Self {
        Self(si::f64::LuminousIntensity::new::<si::luminous_intensity::candela>(lumens))
    }
    /// The flux in lumens.
    #[must_use]
    pub fn lm(self) -> f64 {
        self.0.get::<si::luminous_intensity::candela>()
    }
}

impl Quantity for Flux {
    const NAME: &'static str = "a luminous flux";
    const EXAMPLE: &'static str = "80 lm";
    fn units() -> &'static [&'static str] {
        &["lm", "mlm"]
    }
    fn from_parts(number: &str, unit: &str) -> Option<Result<Self, UnitError>> {
        let factor = match unit {
            "lm" => 1.0,
            "mlm" => 1e-3,
            _ => return None,
        };
        let value: f64 = number.parse().ok()?;
        Some(if value.is_finite() {
            Ok(Self::from_lm(value * factor))
        } else {
            Err(UnitError {
                what: format!("`{number}` is not a finite number"),
                instead: format!("write {} like `{}`", Self::NAME, Self::EXAMPLE),
            })
        })
    }
}
shown_as!(Flux, lm, "lm");
text_form!(Flux);

/// A plain number: a chromaticity coordinate, a Duv, a factor that has no unit.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Unspecified(pub f64);

impl Quantity for Unspecified {
    const NAME: &'static str = "a plain number";
    const EXAMPLE: &'static str = "0.335";
    fn units() -> &'static [&'static str] {
        &[""]
    }
    fn from_parts(number: &str, unit: &str) -> Option<Result<Self, UnitError>> {
        let value: f64 = number.parse().ok()?;
        match (unit, value.is_finite()) {
            ("", true) => Some(Ok(Self(value))),
            ("", false) => Some(Err(UnitError {
                what: format!("`{number}` is not a finite number"),
                instead: "write a plain number like `0.335`".into(),
            })),
            _ => None,
        }
    }
}

impl fmt::Display for Unspecified {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&short(self.0))
    }
}

impl std::str::FromStr for Unspecified {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        let (number, unit) = super::split_number(text);
        let wrong = || UnitError {
            what: format!("`{}` is not a plain number", text.trim()),
            instead: "write a number without a unit, like `0.335`".into(),
        };
        if !unit.is_empty() {
            return Err(wrong());
        }
        Self::from_parts(number, "").unwrap_or_else(|| Err(wrong()))
    }
}

impl schemars::JsonSchema for Unspecified {
    fn schema_name() -> Cow<'static, str> {
        "Number".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "number", "description": "a plain number without a unit" })
    }
}
