//! Typical emitters: what a word on the bag can honestly mean, every figure a range.

use super::colour_family::Family;
use super::emitter::{Emitter, Known, Output};
use super::words::Origin;
use crate::colorimetry::{Chromaticity, ColourSet, gaussian_of_dominant};
use crate::photometry::Shape;
use crate::source::{At, nearest};
use crate::units::Interval;
use std::sync::LazyLock;

/// A class of emitters of one colour: ranges that hold about nine tenths of the parts sold under its name.
///
/// Figures are at the reference current, cold, new and without a cover.
#[derive(Debug, Clone, PartialEq)]
pub struct TypicalEmitter {
    /// The class.
    pub class: String,
    /// The colour.
    pub colour: String,
    /// The reference current, in mA.
    pub current_ma: f64,
    /// Luminous flux, in lm.
    pub flux_lm: Interval,
    /// Peak luminous intensity, in cd.
    pub peak_cd: Interval,
    /// Full viewing angle, in degrees.
    pub viewing_angle_deg: Interval,
    /// What is known of its colour; `None` for three channels lit together, see [`TypicalEmitter::chromaticity`].
    single: Option<ColourSet>,
    /// The size of what shines, in mm.
    pub diameter_mm: Interval,
    /// Change of light per kelvin of junction temperature, as a share (negative).
    pub per_kelvin: Interval,
    /// Share of the flux that leaves behind the plane of the emitter.
    pub behind: Interval,
    /// Where the figures come from.
    pub standing: String,
    /// Whether peak and angle are the pair to use; else flux and angle.
    pub by_peak: bool,
    /// Whether it shines to all sides, as a bulb does.
    pub all_round: bool,
}

impl TypicalEmitter {
    /// The name to write in a file: colour, then class.
    #[must_use]
    pub fn phrase(&self) -> String {
        let plain: Vec<&str> = words(&self.class).collect();
        format!("{} {}", self.colour, plain.join(" "))
    }

    /// What is known of its colour.
    #[must_use]
    pub fn chromaticity(&self) -> ColourSet {
        self.single.clone().unwrap_or_else(|| ColourSet::Samples(three_channels()))
    }

    /// The emitter with this class's figures.
    #[must_use]
    pub fn emitter(&self, at: &At) -> Emitter {
        let known = |value| Known { value, origin: Origin::Typical, at: at.clone() };
        let shape = if self.all_round {
            // A bulb shines evenly within 0.8 to 1.5; its base blocks what lies beyond half its viewing angle.
            Shape::Isotropic {
                blocked_behind_deg: Some(0.5 * self.viewing_angle_deg.low),
                unevenness: Interval::new(0.8, 1.5),
            }
        } else {
            Shape::CosinePower { half_angle_deg: self.viewing_angle_deg.scaled(0.5) }
        };
        Emitter {
            name: self.phrase(),
            class: Some(self.phrase()),
            colour: Some(Known { value: self.chromaticity(), origin: Origin::Typical, at: at.clone() }),
            family: Family::of_word(&self.colour),
            output: Some(known_output(self, at)),
            shape: Some(Known { value: shape, origin: Origin::Typical, at: at.clone() }),
            size_mm: Some(known(self.diameter_mm)),
            behind_share: self.behind,
            reference_ma: Some(self.current_ma),
            per_kelvin: self.per_kelvin,
            runs_hot: self.current_ma >= 100.0,
            at: at.clone(),
        }
    }
}

fn known_output(class: &TypicalEmitter, at: &At) -> Known<Output> {
    let value = if class.by_peak { Output::PeakCd(class.peak_cd) } else { Output::FluxLm(class.flux_lm) };
    Known { value, origin: Origin::Typical, at: at.clone() }
}

/// The words of a class or of what a user writes, without those that say nothing.
fn words(text: &str) -> impl Iterator<Item = &str> {
    let text = text.split('(').next().unwrap_or(text);
    text.split([' ', ','])
        .filter(|w| !w.is_empty() && !["power", "bare", "with", "led", "LED", "a", "on", "the", "lens"].contains(w))
}

fn key(text: &str) -> Vec<String> {
    let mut key: Vec<String> = words(text).map(str::to_lowercase).collect();
    key.sort();
    key
}

/// Luminous intensities of red, green and blue of colour-mixing emitters at full, as five data sheets print them.
const CHANNELS: [[f64; 3]; 5] =
    [[480., 1500., 320.], [360., 1150., 220.], [120., 540., 130.], [100., 420., 110.], [405., 690., 190.]];
/// Dominant wavelengths of the three chips, in nm: low, middle and high of their bins.
const CHIPS_NM: [[f64; 3]; 3] = [[618., 520., 465.], [621., 523., 468.], [626., 528., 471.]];
/// Widths of the three chips, in nm.
const WIDTHS_NM: [f64; 3] = [18., 34., 22.];

/// All three channels at full: the printed sets, red and blue 30 % either way, over the bins of the chips.
fn three_channels() -> Vec<Chromaticity> {
    let mut mixed = Vec::new();
    for chips in CHIPS_NM {
        let colours: Vec<Chromaticity> =
            chips.iter().zip(WIDTHS_NM).filter_map(|(nm, width)| gaussian_of_dominant(*nm, width)).collect();
        for [red, green, blue] in CHANNELS {
            for more_red in [0.7, 1.0, 1.3] {
                for more_blue in [0.7, 1.0, 1.3] {
                    let luminous = [red * more_red, green, blue * more_blue];
                    let sum = colours
                        .iter()
                        .zip(luminous)
                        .fold([0.0; 3], |[x, y, z], (c, l)| [x + c.x / c.y * l, y + l, z + c.z() / c.y * l]);
                    mixed.extend(Chromaticity::of_tristimulus(sum));
                }
            }
        }
    }
    mixed
}

static TABLE: LazyLock<Vec<TypicalEmitter>> = LazyLock::new(|| {
    let mut reader = csv::Reader::from_reader(include_bytes!("typical_emitters.csv").as_slice());
    let Ok(headers) = reader.headers().cloned() else { return Vec::new() };
    reader.records().filter_map(|r| row(&headers, &r.ok()?)).collect()
});

fn row(headers: &csv::StringRecord, record: &csv::StringRecord) -> Option<TypicalEmitter> {
    let text = |name: &str| headers.iter().position(|h| h == name).and_then(|n| record.get(n)).unwrap_or("");
    let number = |name: &str| text(name).parse::<f64>().ok();
    let range = |stem: &str, unit: &str| {
        Some(Interval::new(number(&format!("{stem}_low{unit}"))?, number(&format!("{stem}_high{unit}"))?))
    };
    let single = match (range("wavelength", "_nm"), range("cct", "_K")) {
        (Some(wavelength_nm), _) => Some(ColourSet::Dominant { wavelength_nm, fwhm_nm: range("fwhm", "_nm")? }),
        (None, Some(kelvin)) => Some(ColourSet::White { kelvin, duv: range("duv", "")? }),
        (None, None) => None,
    };
    Some(TypicalEmitter {
        class: text("class").to_string(),
        colour: text("colour").to_string(),
        current_ma: number("drive_mA")?,
        flux_lm: range("flux", "_lm")?,
        peak_cd: range("peak", "_cd")?,
        viewing_angle_deg: range("angle", "_deg")?,
        single,
        diameter_mm: range("diameter", "_mm")?,
        per_kelvin: range("tempco", "_pct_per_K")?.scaled(0.01),
        behind: range("rear", "")?,
        standing: text("standing").trim_start_matches("typical: ").to_string(),
        by_peak: text("primary") == "peak+angle",
        all_round: text("beam_model") == "isotropic",
    })
}

/// Every typical emitter.
#[must_use]
pub fn typical_emitters() -> &'static [TypicalEmitter] {
    &TABLE
}

/// The typical emitter a user's words name, in any order: `red 3 W star`, `5 mm clear medium, cool white`.
///
/// # Errors
/// The nearest name, where there is one.
pub fn find(phrase: &str) -> Result<&'static TypicalEmitter, Option<String>> {
    let wanted = key(&phrase.replace("true green", "green"));
    if let Some(found) = TABLE.iter().find(|t| key(&format!("{} {}", t.colour, t.class)) == wanted) {
        return Ok(found);
    }
    let phrases: Vec<String> = TABLE.iter().map(TypicalEmitter::phrase).collect();
    Err(nearest(phrase, phrases.iter().map(String::as_str)).map(str::to_string))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_read_and_every_phrase_finds_its_row() {
        let rows = include_str!("typical_emitters.csv").lines().count() - 1;
        assert_eq!(TABLE.len(), rows);
        for class in typical_emitters() {
            assert_eq!(find(&class.phrase()).expect("found"), class, "{}", class.phrase());
        }
    }

    #[test]
    fn words_in_any_order() {
        assert_eq!(find("red 3 W star").expect("found").class, "power 3 W star bare");
        assert_eq!(find("3 w star, red").expect("found").colour, "red");
        assert_eq!(find("cool white 5 mm clear medium").expect("found").class, "5 mm clear medium");
        assert_eq!(find("green 3 W star with 30 deg lens").expect("found").class, "power 3 W star with 30 deg lens");
        assert_eq!(find("red 3 W stra"), Err(Some("red 3 W star".to_string())));
    }
}
