//! Photometric files: intensity by two angles, as laboratories and makers of lamps give it.

use super::{eulumdat, lm63};
use crate::source::diagnostic::Rejected;
use crate::units::Interval;

/// The most angles of one axis: every half degree of a circle and its end.
pub(super) const MOST_ANGLES: usize = 721;

/// An angle this little off the one wanted is rounding, in degrees.
const ROUNDING_DEG: f64 = 1e-6;

/// How the two angles of a photometric file turn (CIE 121, LM-63).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PhotometricType {
    /// Half-planes C about the vertical axis of a luminaire, and gamma from straight down.
    C,
    /// Horizontal angles are latitudes about a level axis across the beam, vertical ones turn about it.
    B,
    /// Vertical angles are latitudes about the upright axis, horizontal ones turn about it.
    A,
}

/// What a photometric file says, its symmetries written out.
///
/// ```
/// use lampwright::source::formats::{PhotometricType, lm63};
/// let text = "IESNA:LM-63-2002\nTILT=NONE\n1 -1 2 3 1 1 2 0 0 0\n1 1 4\n0 45 90\n0\n50 20 0\n";
/// let file = lm63("led.ies", text).expect("well formed");
/// // One half-plane stands for all; 50 at gamma 0 times the multiplier 2.
/// assert_eq!((file.kind, file.horizontal_deg.as_slice()), (PhotometricType::C, &[0.0, 360.0][..]));
/// assert_eq!((file.peak_cd().low, file.lamp_lm), (100.0, None));
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Photometry {
    /// How its angles turn.
    pub kind: PhotometricType,
    /// The vertical angles (V of types A and B, gamma of type C) in degrees, rising.
    pub vertical_deg: Vec<f64>,
    /// The horizontal angles (H of types A and B, C of type C) in degrees, rising.
    pub horizontal_deg: Vec<f64>,
    /// The intensities in cd: at all vertical angles of the first horizontal one, then of the next.
    pub candela: Vec<f64>,
    /// The factor the file leaves open: 1, but where the light depends on the lamp's tilt or on the set of lamps fitted.
    pub level: Interval,
    /// The flux of the bare lamps in lm; `None` where the file is absolute.
    pub lamp_lm: Option<Interval>,
}

impl Photometry {
    /// The highest intensity, in cd.
    #[must_use]
    pub fn peak_cd(&self) -> Interval {
        self.level.scaled(self.candela.iter().copied().fold(0.0, f64::max))
    }
}

/// Reads a photometric file by the ending of its name, `.ies` or `.ldt`; `None` for any other.
///
/// What is not UTF-8 is read as Latin-1, which many of these files are written in.
///
/// # Errors
/// Everything that is wrong in the file, each with its line.
///
/// ```
/// use lampwright::source::formats::photometric_file;
/// assert!(photometric_file("led.txt", b"").is_none());
/// let rejected = photometric_file("led.ies", b"no photometry").expect("an ending that is known").expect_err("no TILT");
/// assert!(rejected.diagnostics[0].instead.contains("TILT=NONE"));
/// ```
#[must_use]
pub fn photometric_file(file: &str, bytes: &[u8]) -> Option<Result<Photometry, Rejected>> {
    let ending = file.rsplit('.').next()?.to_ascii_lowercase();
    let read = match ending.as_str() {
        "ies" => lm63,
        "ldt" => eulumdat,
        _ => return None,
    };
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text.strip_prefix('\u{feff}').unwrap_or(text).to_string(),
        Err(_) => bytes.iter().map(|b| char::from(*b)).collect(),
    };
    Some(read(file, &text))
}

/// The intensities at one horizontal angle, which stands first.
pub(super) type Plane = (f64, Vec<f64>);

/// Whether two angles are the same but for rounding.
pub(super) fn same_deg(a: f64, b: f64) -> bool {
    (a - b).abs() <= ROUNDING_DEG
}

/// The planes and their mirror images about an angle, in order.
pub(super) fn mirrored(planes: Vec<Plane>, about_deg: f64) -> Vec<Plane> {
    let images: Vec<Plane> = planes
        .iter()
        .filter(|(angle, _)| !same_deg(*angle, about_deg))
        .map(|(angle, values)| (2.0 * about_deg - angle, values.clone()))
        .collect();
    let mut all: Vec<Plane> = planes.into_iter().chain(images).collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all
}

/// Planes from 0 on around, the first again at 360 where the last stands no farther from it than one step.
pub(super) fn closed(mut planes: Vec<Plane>) -> Vec<Plane> {
    let widest = planes.windows(2).map(|w| w[1].0 - w[0].0).fold(0.0, f64::max);
    let left = 360.0 - planes.last().map_or(0.0, |p| p.0);
    if planes.len() == 1 || (left > ROUNDING_DEG && left <= widest + ROUNDING_DEG) {
        planes.extend(planes.first().map(|(_, values)| (360.0, values.clone())));
    }
    planes
}

/// The angles and the intensities of planes, one list each.
pub(super) fn flattened(planes: Vec<Plane>) -> (Vec<f64>, Vec<f64>) {
    let angles = planes.iter().map(|p| p.0).collect();
    (angles, planes.into_iter().flat_map(|p| p.1).collect())
}
