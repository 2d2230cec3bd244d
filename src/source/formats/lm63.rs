//! IES LM-63: the photometric files of North America, by their editions from 1986 to 2019.

use super::numbers::{Parted, Values};
use super::photometry::{MOST_ANGLES, PhotometricType, Photometry, Plane, closed, flattened, mirrored, same_deg};
use crate::source::diagnostic::{Code, Rejected};
use crate::units::Interval;

/// More candela than this no lamp of a model gives: far beyond any searchlight.
pub(super) const MOST_CD: f64 = 1e7;

/// What the first line may say, and whether the second factor of that edition is one on the light.
const EDITIONS: [(&str, bool); 9] = [
    ("IESNA:LM-63-1986", true),
    ("IESNA86", true),
    ("IESNA:LM-63-1991", true),
    ("IESNA91", true),
    ("IESNA:LM-63-1995", true),
    ("IESNA95", true),
    ("IESNA:LM-63-2002", false),
    ("IES:LM-63-2019", false),
    ("IESNA:LM-63-2019", false),
];

/// Reads a photometric file of LM-63; one that does not begin with `IES` counts as of 1986.
///
/// Candela are the file's times its multiplier and ballast factor, before 2002 its ballast-lamp factor too. Where it
/// includes multipliers by tilt, the light may be any of them, since a model's lamps do not hang. Type C: one half-plane
/// stands for all, 0 to 90 for a quarter, 0 to 180 and 90 to 270 for a half. Types A and B: horizontal angles from 0 on
/// are mirrored.
///
/// # Errors
/// An edition that is not known; no `TILT=` line, or one that names another file; counts that are not those of the
/// lists; every word that is no number; angles that do not rise; intensities below 0; no light at all.
pub fn lm63(file: &str, text: &str) -> Result<Photometry, Rejected> {
    let mut values = Values::new(file, text, Parted::ByBlanks);
    let read = body(&mut values);
    let sound = read.filter(|_| values.is_well());
    values.into_sink().finish(sound)
}

fn body(values: &mut Values<'_>) -> Option<Photometry> {
    let (second_factor, tilt) = head(values)?;
    let level = if tilt { tilted(values)? } else { Interval::exactly(1.0) };
    let told = Told::read(values, second_factor)?;
    let ((v_least, v_most), (h_least, h_most)) = match told.kind {
        PhotometricType::C => ((0.0, 180.0), (0.0, 360.0)),
        PhotometricType::B => ((-180.0, 180.0), (-90.0, 90.0)),
        PhotometricType::A => ((-90.0, 90.0), (-180.0, 180.0)),
    };
    let vertical_deg = values.angles(told.verticals, "vertical angle", (v_least, v_most))?;
    let horizontal = values.angles(told.horizontals, "horizontal angle", (h_least, h_most))?;
    let candela = values.planes((told.horizontals, told.verticals), (told.factor, MOST_CD))?;
    values.ends_lit(&candela)?;
    let planes = whole(told.kind, horizontal.into_iter().zip(candela).collect(), values)?;
    let (horizontal_deg, candela) = flattened(planes);
    Some(Photometry { kind: told.kind, vertical_deg, horizontal_deg, candela, level, lamp_lm: told.lamp_lm })
}

/// Reads to the `TILT=` line: whether the second factor counts, and whether multipliers by tilt follow.
fn head(values: &mut Values<'_>) -> Option<(bool, bool)> {
    let mut second_factor = true;
    let mut first = true;
    while let Some(line) = values.next_line() {
        let said = line.text.to_ascii_uppercase();
        if first && said.starts_with("IES") {
            match EDITIONS.iter().find(|(edition, _)| said == *edition) {
                Some((_, factor)) => second_factor = *factor,
                None => {
                    let message = "this is no edition of LM-63 that is known here";
                    values.say(
                        &line,
                        Code::NewerVersion,
                        message,
                        "let the first line be like `IESNA:LM-63-2002` or `IES:LM-63-2019`",
                    );
                }
            }
        }
        first = false;
        let said: String = said.chars().filter(|c| !c.is_whitespace()).collect();
        match said.strip_prefix("TILT=") {
            None => {}
            Some("NONE") => return Some((second_factor, false)),
            Some("INCLUDE") => return Some((second_factor, true)),
            Some(_) => {
                let instead = "write `TILT=NONE`, or `TILT=INCLUDE` with the multipliers below it";
                values.say(&line, Code::WrongValue, "the multipliers by tilt stand in another file", instead);
                return None;
            }
        }
    }
    let instead = "write `TILT=NONE` on the line before the numbers, as LM-63 files have it";
    values.say_of_file(Code::WrongHeader, "this file has no line that begins with `TILT=`", instead);
    None
}

/// The lowest and the highest multiplier by tilt.
fn tilted(values: &mut Values<'_>) -> Option<Interval> {
    let geometry = values.whole("the lamp's place in the luminaire", (1, 3));
    let count = values.whole("the number of tilts", (1, MOST_ANGLES))?;
    values.angles(count, "tilt", (0.0, 180.0))?;
    let all = values.planes((1, count), (1.0, MOST_CD))?;
    geometry?;
    let each = all.iter().flatten().map(|m| Interval::exactly(*m));
    each.reduce(Interval::hull)
}

/// The thirteen numbers before the angles.
struct Told {
    lamp_lm: Option<Interval>,
    factor: f64,
    verticals: usize,
    horizontals: usize,
    kind: PhotometricType,
}

impl Told {
    fn read(values: &mut Values<'_>, second_factor: bool) -> Option<Self> {
        let lamps = values.whole("the number of lamps", (1, 10_000));
        let lamp_lm = lumens(values);
        let multiplier = values.above_zero("the candela multiplier");
        let verticals = values.whole("the number of vertical angles", (2, MOST_ANGLES));
        let horizontals = values.whole("the number of horizontal angles", (1, MOST_ANGLES));
        let kind = values.whole("the photometric type", (1, 3));
        values.whole("the type of units", (1, 2));
        for what in ["the width", "the length", "the height"] {
            values.number(what);
        }
        let ballast = values.above_zero("the ballast factor");
        let second = if second_factor {
            values.above_zero("the ballast-lamp factor")
        } else {
            values.number("the word for future use").map(|_| 1.0)
        };
        values.number("the input watts");
        let kind = match kind? {
            1 => PhotometricType::C,
            2 => PhotometricType::B,
            _ => PhotometricType::A,
        };
        let lamps = lamps? as f64;
        let lamp_lm = lamp_lm?.map(|lm| Interval::exactly(lm * lamps));
        let factor = multiplier? * ballast? * second?;
        Some(Self { lamp_lm, factor, verticals: verticals?, horizontals: horizontals?, kind })
    }
}

/// The lumens of a lamp; `Some(None)` for absolute photometry.
fn lumens(values: &mut Values<'_>) -> Option<Option<f64>> {
    let (lumens, word) = values.number("the lumens of a lamp")?;
    if lumens == -1.0 {
        return Some(None);
    }
    if lumens > 0.0 {
        return Some(Some(lumens));
    }
    let message = format!("a lamp of `{}` lm cannot be", word.text);
    values.say(&word, Code::OutOfRange, message, "write its lumens, or -1 where the candela are absolute");
    None
}

/// The planes with those their symmetry stands for.
fn whole(kind: PhotometricType, planes: Vec<Plane>, values: &mut Values<'_>) -> Option<Vec<Plane>> {
    let (first, last) = (planes.first()?.0, planes.last()?.0);
    let between = |from: f64, to: f64| same_deg(first, from) && same_deg(last, to);
    let all = match kind {
        PhotometricType::C if planes.len() == 1 && between(0.0, 0.0) => closed(planes),
        PhotometricType::C if between(0.0, 90.0) => mirrored(mirrored(planes, 90.0), 180.0),
        PhotometricType::C if between(0.0, 180.0) => mirrored(planes, 180.0),
        PhotometricType::C if between(90.0, 270.0) => mirrored(planes, 90.0),
        PhotometricType::C if same_deg(first, 0.0) && last > 180.0 => closed(planes),
        PhotometricType::A | PhotometricType::B if same_deg(first, 0.0) && last > 0.0 => mirrored(planes, 0.0),
        PhotometricType::A | PhotometricType::B if planes.len() > 1 => planes,
        _ => {
            let message =
                format!("horizontal angles from {first} to {last} degrees are no part of a circle LM-63 knows");
            let instead = match kind {
                PhotometricType::C => "give 0 alone, 0 to 90, 0 to 180, 90 to 270 or 0 to 360",
                _ => "give -90 to 90, or 0 to 90",
            };
            values.say_of_file(Code::OutOfRange, message, instead);
            return None;
        }
    };
    Some(all)
}
