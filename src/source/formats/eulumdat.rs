//! EULUMDAT: the photometric files of Europe, one value a line (Stockmar 1990 and 1998).

use super::lm63::MOST_CD;
use super::numbers::{Parted, Values};
use super::photometry::{MOST_ANGLES, PhotometricType, Photometry, Plane, closed, flattened, mirrored, same_deg};
use crate::source::diagnostic::{Code, Rejected};
use crate::units::Interval;

/// The most sets of lamps of one luminaire.
const MOST_SETS: usize = 20;

/// Reads a photometric file of EULUMDAT, its candela per 1000 lm made candela by flux and conversion factor.
///
/// Isym 0 to 4 are written out; a comma in a number is a decimal point. Several sets of lamps leave the light open
/// between that of the weakest and of the strongest; a negative number of lamps says that the file is absolute.
///
/// # Errors
/// Counts that are not those of the lists, or do not go with Isym; every line that is no number; a luminaire measured
/// tilted; angles that do not rise; intensities below 0; no light at all.
///
/// ```
/// use lampwright::source::formats::eulumdat;
/// let head = ["own", "1", "1", "1", "0", "2", "90", "", "", "", "", "", "0", "0", "0", "0", "0", "0", "0", "0", "0"];
/// let lamps = ["100", "100", "1,0", "0", "1", "1", "LED", "500", "white", "80", "3"];
/// let text = [&head[..], &lamps[..], &["0"; 10][..], &["0", "0", "90", "20", "0"][..]].concat().join("\r\n");
/// // 20 cd per 1000 lm with 500 lm: 10 cd (by hand).
/// assert_eq!(eulumdat("led.ldt", &text).expect("well formed").peak_cd().low, 10.0);
/// ```
pub fn eulumdat(file: &str, text: &str) -> Result<Photometry, Rejected> {
    let mut values = Values::new(file, text, Parted::ByLines);
    let read = body(&mut values);
    let sound = read.filter(|_| values.is_well());
    values.into_sink().finish(sound)
}

fn body(values: &mut Values<'_>) -> Option<Photometry> {
    let told = Told::read(values)?;
    let c_deg = values.angles(told.half_planes, "C angle", (0.0, 360.0))?;
    let vertical_deg = values.angles(told.gammas, "gamma angle", (0.0, 180.0))?;
    let stored = told.stored();
    let candela = values.planes((stored.len(), told.gammas), (1e-3 * told.conversion * told.flux_lm.high, MOST_CD))?;
    values.ends_lit(&candela)?;
    let at = |n: usize| c_deg.get(n % told.half_planes).copied().unwrap_or(0.0);
    // What stands after 360 is written from 0 on again: it is counted back from there.
    let turns =
        |n: usize| if stored.first().is_some_and(|f| at(n) >= at(*f)) && told.symmetry == 3 { -360.0 } else { 0.0 };
    let angles: Vec<f64> = stored.iter().map(|n| at(*n) + turns(*n)).collect();
    let planes = told.whole(angles.into_iter().zip(candela).collect(), values)?;
    let (horizontal_deg, candela) = flattened(planes);
    let level = told.flux_lm.scaled(1.0 / told.flux_lm.high);
    let lamp_lm = (!told.absolute).then_some(told.flux_lm);
    Some(Photometry { kind: PhotometricType::C, vertical_deg, horizontal_deg, candela, level, lamp_lm })
}

/// What stands before the angles.
struct Told {
    symmetry: usize,
    half_planes: usize,
    gammas: usize,
    conversion: f64,
    flux_lm: Interval,
    absolute: bool,
}

impl Told {
    fn read(values: &mut Values<'_>) -> Option<Self> {
        passed(values, 2)?;
        let symmetry = values.whole("the symmetry Isym", (0, 4));
        let half_planes = values.whole("the number of C planes Mc", (1, MOST_ANGLES));
        passed(values, 1)?;
        let gammas = values.whole("the number of gamma angles Ng", (2, MOST_ANGLES));
        passed(values, 17)?;
        let conversion = values.above_zero("the conversion factor of intensities");
        upright(values);
        let sets = values.whole("the number of sets of lamps", (1, MOST_SETS))?;
        let read: Vec<Option<(f64, bool)>> = (0..sets).map(|_| set(values)).collect();
        passed(values, 10)?;
        let read: Vec<(f64, bool)> = read.into_iter().collect::<Option<_>>()?;
        let flux_lm = read.iter().map(|(lm, _)| Interval::exactly(*lm)).reduce(Interval::hull)?;
        let absolute = read.iter().any(|(_, absolute)| *absolute);
        let told = Self {
            symmetry: symmetry?,
            half_planes: half_planes?,
            gammas: gammas?,
            conversion: conversion?,
            flux_lm,
            absolute,
        };
        told.divides(values).then_some(told)
    }

    /// Whether the number of planes goes with the symmetry.
    fn divides(&self, values: &mut Values<'_>) -> bool {
        let by = match self.symmetry {
            2 => 2,
            3 | 4 => 4,
            _ => 1,
        };
        let divides = self.half_planes.is_multiple_of(by);
        if !divides {
            let message = format!("{} C planes do not go with Isym {}", self.half_planes, self.symmetry);
            values.say_of_file(Code::Contradiction, message, "give Mc as the number of planes around the whole circle");
        }
        divides
    }

    /// Which of the C planes have their intensities in the file, by number.
    fn stored(&self) -> Vec<usize> {
        let all = self.half_planes;
        match self.symmetry {
            0 => (0..all).collect(),
            1 => vec![0],
            2 => (0..=all / 2).collect(),
            // From C 270 over 0 to C 90.
            3 => (3 * all / 4..=3 * all / 4 + all / 2).collect(),
            _ => (0..=all / 4).collect(),
        }
    }

    /// The planes with those the symmetry stands for.
    fn whole(&self, planes: Vec<Plane>, values: &mut Values<'_>) -> Option<Vec<Plane>> {
        let (first, last) = (planes.first()?.0, planes.last()?.0);
        let (from, to) = match self.symmetry {
            0 | 1 => (0.0, last),
            2 => (0.0, 180.0),
            3 => (-90.0, 90.0),
            _ => (0.0, 90.0),
        };
        let as_said = self.symmetry == 1 || (same_deg(first, from) && same_deg(last, to));
        if !as_said {
            let message = format!(
                "with Isym {} the C planes run from {from} to {to} degrees, and these from {first} to {last}",
                self.symmetry
            );
            values.say_of_file(Code::Contradiction, message, "mend Isym, or list the C angles of the whole circle");
            return None;
        }
        Some(match self.symmetry {
            1 => closed(planes.into_iter().map(|(_, values)| (0.0, values)).collect()),
            0 => closed(planes),
            2 => mirrored(planes, 180.0),
            3 => mirrored(planes, 90.0),
            _ => mirrored(mirrored(planes, 90.0), 180.0),
        })
    }
}

/// Passes over lines that do not matter here.
fn passed(values: &mut Values<'_>, lines: usize) -> Option<()> {
    (0..lines).try_for_each(|_| values.next("the end of its head").map(|_| ()))
}

/// Says where the luminaire was measured tilted.
fn upright(values: &mut Values<'_>) {
    if let Some((tilt, word)) = values.number("the tilt of the luminaire")
        && tilt != 0.0
    {
        let message = format!("this luminaire was measured tilted by `{}` degrees", word.text);
        values.say(&word, Code::OutOfRange, message, "name a file measured without tilt, which says 0 here");
    }
}

/// One set of lamps: its flux, and whether the file is absolute.
fn set(values: &mut Values<'_>) -> Option<(f64, bool)> {
    let count = values.number("the number of lamps");
    passed(values, 1)?;
    let flux_lm = values.above_zero("the flux of the lamps");
    passed(values, 3)?;
    Some((flux_lm?, count?.0 < 0.0))
}
