//! Intensities on a grid of two angles, as photometric files give them.

use super::PhotometryError;
use super::frame::{Field, Place, Reach};
use super::shape::piece;
use crate::source::formats::{PhotometricType, Photometry};
use crate::units::Interval;

/// An angle this little off the end of a sphere is rounding, in degrees.
const ROUNDING_DEG: f64 = 1e-5;

/// Relative intensities, the highest 1, at the crossings of two lists of a file's angles; straight lines in degrees
/// between them along each angle.
///
/// ```
/// use lampwright::{photometry::Grid, source::formats::lm63};
/// let text = "TILT=NONE\n1 -1 1 3 1 1 2 0 0 0\n1 1 4\n0 45 90\n0\n50 20 0\n";
/// let grid = Grid::of(&lm63("led.ies", text).expect("well formed")).expect("well formed");
/// // Halfway between 50 and 20 cd it is 35 cd, 0.7 of the peak (by hand).
/// assert!((grid.relative(120.0, 22.5).expect("in the file") - 0.7).abs() < 1e-12);
/// assert_eq!(grid.relative(120.0, 91.0), None);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    kind: PhotometricType,
    /// Longitudes about the pole of the type, in degrees.
    lons: Vec<f64>,
    /// Latitudes from its equator, in degrees.
    lats: Vec<f64>,
    /// At all latitudes of the first longitude, then of the next.
    relative: Vec<f64>,
    flux_per_peak: f64,
}

impl Grid {
    /// The grid of a photometric file, relative to its highest intensity.
    ///
    /// # Errors
    /// Fewer than two angles of an axis, angles that do not rise within a sphere, another number of intensities than the
    /// angles ask for, one that is negative or not finite, or no light at all.
    pub fn of(file: &Photometry) -> Result<Self, PhotometryError> {
        check_angles(file)?;
        let (lons, lats) = match file.kind {
            PhotometricType::C => (file.horizontal_deg.clone(), file.vertical_deg.iter().map(|g| g - 90.0).collect()),
            PhotometricType::A => (file.horizontal_deg.clone(), file.vertical_deg.clone()),
            PhotometricType::B => (file.vertical_deg.clone(), file.horizontal_deg.clone()),
        };
        let peak = check_candela(file)?;
        let relative: Vec<f64> = match file.kind {
            PhotometricType::B => transposed(&file.candela, file.vertical_deg.len(), peak),
            _ => file.candela.iter().map(|cd| cd / peak).collect(),
        };
        let mut grid = Self { kind: file.kind, lons, lats, relative, flux_per_peak: 0.0 };
        grid.flux_per_peak = grid.integral();
        Ok(grid)
    }

    /// How the angles of its file turn.
    #[must_use]
    pub fn kind(&self) -> PhotometricType {
        self.kind
    }

    /// The relative intensity at a horizontal and a vertical angle of the file, in degrees; `None` where it has none.
    #[must_use]
    pub fn relative(&self, horizontal_deg: f64, vertical_deg: f64) -> Option<f64> {
        let (lon, lat) = match self.kind {
            PhotometricType::C => (horizontal_deg, vertical_deg - 90.0),
            PhotometricType::A => (horizontal_deg, vertical_deg),
            PhotometricType::B => (vertical_deg, horizontal_deg),
        };
        self.at(Place { lon, lat })
    }

    /// The horizontal and the vertical angle of the file at a longitude and a latitude.
    pub(super) fn file_angles(&self, place: Place) -> (f64, f64) {
        match self.kind {
            PhotometricType::C => (place.lon.rem_euclid(360.0), place.lat + 90.0),
            PhotometricType::A => (place.lon, place.lat),
            PhotometricType::B => (place.lat, place.lon),
        }
    }

    /// The luminous flux per peak intensity in lm per cd, exact for the straight lines; where there is no data it adds
    /// nothing.
    #[must_use]
    pub fn flux_per_peak(&self) -> f64 {
        self.flux_per_peak
    }

    /// How far about the aim it has data in every direction, in degrees.
    #[must_use]
    pub fn known_to_deg(&self) -> f64 {
        self.known_cone_deg().0
    }

    pub(super) fn field(&self) -> Field {
        let ends = |list: &[f64]| Interval {
            low: list.first().copied().unwrap_or(0.0),
            high: list.last().copied().unwrap_or(0.0),
        };
        Field { lon: ends(&self.lons), lat: ends(&self.lats) }
    }

    /// How far about the aim everything is known, in degrees; whether nothing is known beyond.
    pub(super) fn known_cone_deg(&self) -> (f64, bool) {
        let Field { lon, lat } = self.field();
        let round = self.field().is_round();
        if self.kind == PhotometricType::C {
            let from_aim = round && lat.low <= -90.0 + ROUNDING_DEG;
            return if from_aim { (lat.high + 90.0, true) } else { (0.0, false) };
        }
        let to = |span: Interval, all: f64| {
            let least = span.high.min(-span.low).max(0.0);
            if least >= all - ROUNDING_DEG { 180.0 } else { least }
        };
        let (lon_to, lat_to) = (to(lon, 180.0), to(lat, 90.0));
        let half = lat_to == 180.0 && (lon.low + 90.0).abs() < ROUNDING_DEG && (lon.high - 90.0).abs() < ROUNDING_DEG;
        (lon_to.min(lat_to), half || (lon_to == 180.0 && lat_to == 180.0))
    }

    pub(super) fn at(&self, place: Place) -> Option<f64> {
        let Place { lon, lat } = self.field().within(place)?;
        Some(self.between(bracket(&self.lons, lon), bracket(&self.lats, lat)))
    }

    /// The lowest and the highest relative intensity in a reach; whether it reaches beyond the data.
    pub(super) fn over(&self, reach: &Reach) -> (Option<Interval>, bool) {
        let field = self.field();
        let beyond = !field.holds(reach);
        let Some((lat, parts)) = field.parts(reach) else { return (None, beyond) };
        let lats = stations(&self.lats, lat);
        let lons: Vec<(usize, f64)> = parts.iter().flat_map(|part| stations(&self.lons, *part)).collect();
        // Within a patch the intensity is highest and lowest at a corner of what is cut out of it.
        let all = lons.iter().flat_map(|lon| lats.iter().map(|lat| Interval::exactly(self.between(*lon, *lat))));
        (all.reduce(Interval::hull), beyond)
    }

    /// The intensity at shares of the way from one longitude and one latitude to the next.
    fn between(&self, (i, t): (usize, f64), (j, s): (usize, f64)) -> f64 {
        let node = |i: usize, j: usize| self.relative.get(i * self.lats.len() + j).copied().unwrap_or(0.0);
        let along = |i: usize| if s == 0.0 { node(i, j) } else { node(i, j) * (1.0 - s) + node(i, j + 1) * s };
        if t == 0.0 { along(i) } else { along(i) * (1.0 - t) + along(i + 1) * t }
    }

    fn integral(&self) -> f64 {
        let rows = |i: usize| self.relative.chunks(self.lats.len()).nth(i).unwrap_or_default();
        let strip = |(i, w): (usize, &[f64])| {
            let means: Vec<f64> = rows(i).iter().zip(rows(i + 1)).map(|(a, b)| f64::midpoint(*a, *b)).collect();
            let polar: Vec<(f64, f64)> = self.lats.iter().map(|lat| lat + 90.0).zip(means).collect();
            (w[1] - w[0]).to_radians() * polar.windows(2).map(|p| piece(p[0], p[1])).sum::<f64>()
        };
        self.lons.windows(2).enumerate().map(strip).sum::<f64>().max(0.0)
    }
}

/// Which step of a list a value lies in, and how far along it.
fn bracket(list: &[f64], x: f64) -> (usize, f64) {
    let next = list.partition_point(|a| *a <= x).clamp(1, list.len().max(2) - 1);
    match list.get(next - 1..=next) {
        Some([a, b]) => (next - 1, ((x - a) / (b - a)).clamp(0.0, 1.0)),
        _ => (0, 0.0),
    }
}

/// The two ends of a span, and all of the list between.
fn stations(list: &[f64], span: Interval) -> Vec<(usize, f64)> {
    let first = list.partition_point(|a| *a <= span.low);
    let end = list.partition_point(|a| *a < span.high).max(first);
    let between = (first..end).map(|n| (n, 0.0));
    std::iter::once(bracket(list, span.low)).chain(between).chain([bracket(list, span.high)]).collect()
}

/// Intensities by horizontal angles as intensities by vertical ones, relative to the peak.
fn transposed(candela: &[f64], verticals: usize, peak: f64) -> Vec<f64> {
    (0..verticals).flat_map(|v| candela.iter().skip(v).step_by(verticals).map(move |cd| cd / peak)).collect()
}

fn check_angles(file: &Photometry) -> Result<(), PhotometryError> {
    let (vertical, horizontal) = match file.kind {
        PhotometricType::C => ((0.0, 180.0), (-360.0, 360.0)),
        PhotometricType::B => ((-180.0, 180.0), (-90.0, 90.0)),
        PhotometricType::A => ((-90.0, 90.0), (-180.0, 180.0)),
    };
    let sound = |list: &[f64], (least, most): (f64, f64)| {
        let (first, last) = (list.first().copied().unwrap_or(f64::NAN), list.last().copied().unwrap_or(f64::NAN));
        let within = first >= least && last <= most && last - first <= 360.0 + ROUNDING_DEG;
        list.len() >= 2 && within && list.windows(2).all(|w| w[0] < w[1])
    };
    if sound(&file.vertical_deg, vertical) && sound(&file.horizontal_deg, horizontal) {
        return Ok(());
    }
    Err(PhotometryError::new(
        "the angles of the photometric grid do not rise within a sphere",
        "give two or more degrees an axis, rising, within what the type of the file allows",
    ))
}

/// The highest intensity, if all are sound.
fn check_candela(file: &Photometry) -> Result<f64, PhotometryError> {
    let asked = file.vertical_deg.len() * file.horizontal_deg.len();
    let sound = |level: Interval| level.low >= 0.0 && level.low <= level.high && level.high.is_finite();
    let bad = file.candela.iter().any(|cd| !cd.is_finite() || *cd < 0.0);
    let peak = file.candela.iter().copied().fold(0.0, f64::max);
    if file.candela.len() == asked && !bad && peak > 0.0 && sound(file.level) {
        return Ok(peak);
    }
    Err(PhotometryError::new(
        "the intensities of the photometric grid cannot be",
        "give one of 0 cd or more for each pair of angles, and one above 0",
    ))
}
