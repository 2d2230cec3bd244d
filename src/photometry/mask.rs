//! What a shroud or the airframe hides of a lamp, with the penumbra of its edges.

use super::PhotometryError;
use super::shadow::{Reach, Shadow};
use crate::geometry::{AzimuthSpan, Cell, Direction, EDGE_DEG, Ends};
use crate::units::{Interval, Length};

/// With a penumbra of unknown width, how far into the shadow light may reach: half widths are atan(...) < 90 degrees.
pub const UNKNOWN_INTO_SHADOW_DEG: f64 = 90.0;
/// With a penumbra of unknown width, how far into the light a shadow may reach: past 45 degrees the source would be
/// wider than twice its distance from the edge.
pub const UNKNOWN_INTO_LIGHT_DEG: f64 = 45.0;

/// A rectangle of azimuth and elevation (low, high), in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sector {
    /// Its azimuths.
    pub azimuth: AzimuthSpan,
    /// Its lowest and its highest elevation, in degrees.
    pub elevation_deg: (f64, f64),
}

impl Sector {
    pub(super) fn is_empty(&self) -> bool {
        let (low, high) = self.elevation_deg;
        self.azimuth.width_deg <= EDGE_DEG || high - low <= EDGE_DEG
    }
    pub(super) fn covers(&self, azimuth_deg: f64, elevation_deg: f64) -> bool {
        let (low, high) = self.elevation_deg;
        self.azimuth.contains(azimuth_deg, false) && elevation_deg > low && elevation_deg < high
    }
    fn checked(&self) -> Result<Self, PhotometryError> {
        let (low, high) = self.elevation_deg;
        let az = self.azimuth;
        let well_formed = low >= -90.0 && low <= high && high <= 90.0 && az.from_deg.is_finite() && az.width_deg >= 0.0;
        let normal = AzimuthSpan::new(az.from_deg, az.width_deg);
        well_formed.then_some(Self { azimuth: normal, elevation_deg: (low, high) }).ok_or_else(|| {
            PhotometryError::new(
                format!("a sector of elevation {low} to {high} and azimuth {} over {}", az.from_deg, az.width_deg),
                "give finite azimuths, and elevations from -90 to 90 degrees, the lower first",
            )
        })
    }
}

/// How light passes in a direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pass {
    /// All of it.
    Open,
    /// None of it.
    Hidden,
    /// Some of it, from none to all: an edge hides a part of the source.
    Penumbra,
}

impl Pass {
    /// The share that passes, as the factor on an intensity.
    #[must_use]
    pub fn share(self) -> Interval {
        match self {
            Self::Open => Interval::exactly(1.0),
            Self::Hidden => Interval::ZERO,
            Self::Penumbra => Interval { low: 0.0, high: 1.0 },
        }
    }
}

/// Rectangles of azimuth and elevation about a lamp in which it is hidden, as one union with one boundary.
///
/// The sectors are open: light passes along the edge of their union. An edge shared by two sectors is inside the union
/// and hidden, as if they overlapped. A pole is hidden only if the sectors that reach it cover every azimuth.
///
/// ```
/// use lampwright::{geometry::{AzimuthSpan, Direction}, photometry::{Mask, Pass, Sector}};
/// let aft = Sector { azimuth: AzimuthSpan::between(175.0, -175.0), elevation_deg: (-90.0, 90.0) };
/// let mask = Mask::new(vec![aft], Some(0.0)).expect("well formed");
/// assert_eq!(mask.pass(&Direction::from_degrees(180.0, 0.0)), Pass::Hidden);
/// assert_eq!(mask.pass(&Direction::from_degrees(175.0, 0.0)), Pass::Open);
/// assert_eq!(mask.pass(&Direction::from_degrees(180.0, 90.0)), Pass::Open);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Mask {
    sectors: Vec<Sector>,
    half_penumbra_deg: Option<f64>,
    into_shadow: Reach,
    into_light: Reach,
    hides_sectors: bool,
    shadow: Shadow,
}

impl Mask {
    /// The mask that hides the sectors; `half_penumbra_deg` is the half width of the penumbra on either side of an
    /// edge in degrees, 0 for sharp edges, `None` where it is not known.
    ///
    /// # Errors
    /// A sector that is not well formed, or a half width that is not from 0 to 90 degrees.
    pub fn new(sectors: Vec<Sector>, half_penumbra_deg: Option<f64>) -> Result<Self, PhotometryError> {
        Self::made(sectors, half_penumbra_deg, true)
    }

    /// The mask that hides everything but the union of the sectors, their edges letting light out.
    ///
    /// # Errors
    /// As [`Mask::new`].
    pub fn all_but(sectors: Vec<Sector>, half_penumbra_deg: Option<f64>) -> Result<Self, PhotometryError> {
        Self::made(sectors, half_penumbra_deg, false)
    }

    /// The mask that hides nothing.
    #[must_use]
    pub fn open() -> Self {
        Self::with(Vec::new(), Some(0.0), true)
    }

    fn made(sectors: Vec<Sector>, half: Option<f64>, hides_sectors: bool) -> Result<Self, PhotometryError> {
        if let Some(width) = half
            && !(0.0..=90.0).contains(&width)
        {
            return Err(PhotometryError::new(
                format!("a penumbra of half width {width} degrees cannot be"),
                "give a half width from 0 to 90 degrees",
            ));
        }
        let sectors = sectors.iter().map(Sector::checked).collect::<Result<_, _>>()?;
        Ok(Self::with(sectors, half, hides_sectors))
    }

    fn with(sectors: Vec<Sector>, half_penumbra_deg: Option<f64>, hides_sectors: bool) -> Self {
        let shadow = Shadow::of(&sectors, |covered| covered == hides_sectors);
        let into_shadow = Reach::of_deg(half_penumbra_deg.unwrap_or(UNKNOWN_INTO_SHADOW_DEG));
        let into_light = Reach::of_deg(half_penumbra_deg.unwrap_or(UNKNOWN_INTO_LIGHT_DEG));
        Self { sectors, half_penumbra_deg, into_shadow, into_light, hides_sectors, shadow }
    }

    /// The same mask with other reaches for a penumbra of unknown width, in degrees (limited to 0..=180); a mask whose
    /// width is known stays as it is.
    #[must_use]
    pub fn with_unknown_reach(mut self, into_shadow_deg: f64, into_light_deg: f64) -> Self {
        let limited = |reach: f64| if reach.is_nan() { 180.0 } else { reach.clamp(0.0, 180.0) };
        if self.half_penumbra_deg.is_none() {
            self.into_shadow = Reach::of_deg(limited(into_shadow_deg));
            self.into_light = Reach::of_deg(limited(into_light_deg));
        }
        self
    }

    /// The sectors it was made from.
    #[must_use]
    pub fn sectors(&self) -> &[Sector] {
        &self.sectors
    }
    /// The half width of the penumbra in degrees; `None` where it is not known.
    #[must_use]
    pub fn half_penumbra_deg(&self) -> Option<f64> {
        self.half_penumbra_deg
    }
    /// The azimuths of its edges in degrees, to search and to cut cells at.
    #[must_use]
    pub fn az_breaks(&self) -> &[f64] {
        &self.shadow.azimuths_deg
    }
    /// The elevations of its edges in degrees, to search and to cut cells at; they include -90 and 90.
    #[must_use]
    pub fn el_breaks(&self) -> &[f64] {
        &self.shadow.elevations_deg
    }

    /// How light passes in a direction: penumbra within the half width of an edge, on either side; on a sharp edge open.
    #[must_use]
    pub fn pass(&self, d: &Direction) -> Pass {
        let hidden = self.shadow.hides(d);
        let (plain, reach) = self.plain_and_reach(hidden);
        if reach.rad > 0.0 && self.shadow.edge_within(d, &reach) { Pass::Penumbra } else { plain }
    }

    /// How light passes in all of a cell; `None` where parts of it differ. The cell must not cross an edge: it has to
    /// be cut at [`Mask::az_breaks`] and [`Mask::el_breaks`].
    #[must_use]
    pub fn pass_of_cell(&self, cell: &Cell) -> Option<Pass> {
        let (plain, reach) = self.plain_and_reach(self.shadow.hides(&cell.center));
        let reach = reach.rad;
        if reach <= 0.0 {
            return Some(plain);
        }
        match self.shadow.to_edge_rad(&cell.center) {
            Some(distance) if distance + cell.radius_rad <= reach => Some(Pass::Penumbra),
            Some(distance) if distance - cell.radius_rad <= reach => None,
            _ => Some(plain),
        }
    }

    /// What the ends of the share that passes are over a cell cut as for [`Mask::pass_of_cell`].
    #[must_use]
    pub fn share_over(&self, cell: &Cell) -> Ends {
        if let Some(pass) = self.pass_of_cell(cell) {
            return Ends::of(pass.share());
        }
        let some = Interval { low: 0.0, high: 1.0 };
        match self.plain_and_reach(self.shadow.hides(&cell.center)).0 {
            Pass::Hidden => Ends { low: Interval::ZERO, high: some },
            _ => Ends { low: some, high: Interval::exactly(1.0) },
        }
    }

    /// What it is away from edges, and how far from them the penumbra reaches on that side.
    fn plain_and_reach(&self, hidden: bool) -> (Pass, Reach) {
        if hidden { (Pass::Hidden, self.into_shadow) } else { (Pass::Open, self.into_light) }
    }

    /// The mirror image, left for right.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let sectors = self.sectors.iter().map(|s| Sector { azimuth: s.azimuth.mirrored(), ..*s }).collect();
        let shadow_of = Self::with(sectors, self.half_penumbra_deg, self.hides_sectors);
        Self { into_shadow: self.into_shadow, into_light: self.into_light, ..shadow_of }
    }
}

/// The half width in degrees of the penumbra of a source of a size behind an edge at a distance:
/// atan(size / (2 distance)); 90 at no distance, 0 for a source without size.
///
/// ```
/// use lampwright::{photometry::penumbra_half_width_deg, units::Length};
/// // A source as wide as twice its distance from the edge: atan 1 = 45 degrees.
/// assert!((penumbra_half_width_deg(Length::from_mm(10.0), Length::from_mm(5.0)) - 45.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn penumbra_half_width_deg(size: Length, distance: Length) -> f64 {
    // max() turns NaN into 0 too: nothing known of the distance is the widest penumbra.
    size.mm().max(0.0).atan2(2.0 * distance.mm().max(0.0)).to_degrees()
}
