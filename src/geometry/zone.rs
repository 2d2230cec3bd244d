//! Regions of the sphere given meridian by meridian: rectangles, and areas bounded by line-to-plane angles.

use super::direction::{normalised_deg, sin_cos_deg, sin_line_to_plane};
use super::sphere::sine_rise;
use super::{AzimuthSpan, BESIDE_DEG, Cell, Direction, EDGE_DEG, Patch, State};
use crate::units::Interval;
use std::f64::consts::PI;

/// A region of the sphere: a closed span of azimuth, and for every azimuth in it some bands of elevation.
///
/// ```
/// use lampwright::geometry::{AzimuthSpan, Direction, Zone};
/// // Area A of red in R: between 10 and 20 degrees from the plane of azimuth 0 (14 CFR 25.1395).
/// let area_a = Zone::between_planes(AzimuthSpan::between(0.0, 110.0), 0.0, 10.0, 20.0);
/// assert!(area_a.contains(&Direction::from_degrees(25.0, 40.0)));
/// assert!(!area_a.contains(&Direction::from_degrees(15.0, 50.0)));
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Zone {
    span: AzimuthSpan,
    bands: Bands,
}

#[derive(Debug, Clone, PartialEq)]
enum Bands {
    /// The same closed bands (low, high) on every meridian, rising and apart.
    Constant(Vec<(f64, f64)>),
    /// Directions whose angle to the plane lies in the open interval; `None` is no limit on that side.
    Planes(Planes),
}

/// Limits on the angle to a vertical plane.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Planes {
    plane_deg: f64,
    /// Sine and cosine of the plane's azimuth.
    plane: (f64, f64),
    from: Option<Limit>,
    to: Option<Limit>,
}

/// An open limit of an angle.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Limit {
    deg: f64,
    sine: f64,
    /// The sine of the angle drawn in by 1e-7 degrees.
    sine_inside: f64,
}

impl Limit {
    fn new(deg: f64, inside_deg: f64) -> Self {
        Self { deg, sine: sin_cos_deg(deg).0, sine_inside: (deg + inside_deg).to_radians().sin() }
    }
}

impl Zone {
    /// The directions of a span whose elevation lies in one of the closed bands (low, high), in degrees.
    ///
    /// Bands are limited to -90..=90, put in order and joined where they touch; those not finite are left out.
    #[must_use]
    pub fn rectangle(span: AzimuthSpan, bands_deg: &[(f64, f64)]) -> Self {
        let mut bands: Vec<(f64, f64)> = bands_deg
            .iter()
            .filter(|(a, b)| !a.is_nan() && !b.is_nan())
            .map(|(a, b)| (a.min(*b).clamp(-90.0, 90.0), a.max(*b).clamp(-90.0, 90.0)))
            .collect();
        bands.sort_by(|a, b| a.0.total_cmp(&b.0));
        bands.dedup_by(|next, kept| {
            let joined = next.0 <= kept.1;
            kept.1 = if joined { kept.1.max(next.1) } else { kept.1 };
            joined
        });
        Self { span, bands: Bands::Constant(bands) }
    }

    /// The directions of a span whose angle to the vertical plane of an azimuth ([`super::line_to_plane_deg`]) lies in
    /// the open interval (from, to), in degrees; `to` of 90 or more is no upper limit, `from` under 0 no lower.
    ///
    /// On a meridian this is an exact condition on cos el; searches look 1e-7 degrees inside the open edges.
    #[must_use]
    pub fn between_planes(span: AzimuthSpan, plane_azimuth_deg: f64, from_deg: f64, to_deg: f64) -> Self {
        let plane_deg = normalised_deg(plane_azimuth_deg);
        let planes = Planes {
            plane_deg,
            plane: sin_cos_deg(plane_deg),
            from: (from_deg >= 0.0).then(|| Limit::new(from_deg.min(90.0), BESIDE_DEG)),
            to: (to_deg < 90.0).then(|| Limit::new(to_deg.max(0.0), -BESIDE_DEG)),
        };
        Self { span, bands: Bands::Planes(planes) }
    }

    /// The whole sphere.
    #[must_use]
    pub fn sphere() -> Self {
        Self::rectangle(AzimuthSpan::FULL, &[(-90.0, 90.0)])
    }

    /// Its azimuths.
    #[must_use]
    pub fn span(&self) -> AzimuthSpan {
        self.span
    }

    /// The bands of elevation (low, high) on a meridian, in degrees; open edges are drawn in by 1e-7 degrees.
    ///
    /// The azimuth is not tested against the span.
    #[must_use]
    pub fn bands_at(&self, azimuth_deg: f64) -> Vec<(f64, f64)> {
        match &self.bands {
            Bands::Constant(bands) => bands.clone(),
            Bands::Planes(planes) => planes.bands_at(azimuth_deg).into_iter().flatten().collect(),
        }
    }

    /// Whether a direction lies in it; a pole does where any band of any azimuth reaches it.
    #[must_use]
    pub fn contains(&self, d: &Direction) -> bool {
        (d.is_pole() || self.span.contains(d.azimuth_deg(), true)) && self.admits(d)
    }

    /// Azimuths in degrees between which |sin daz| of the limits between planes rises or falls all the way.
    pub(super) fn quarters(&self) -> Vec<f64> {
        match &self.bands {
            Bands::Constant(_) => Vec::new(),
            Bands::Planes(planes) => (0..4).map(|k| normalised_deg(planes.plane_deg + 90.0 * f64::from(k))).collect(),
        }
    }

    /// A cell within one of the [`Zone::quarters`], cut down to what of it may lie in the zone; `None` where nothing may.
    ///
    /// From sin from < cos el |sin daz| < sin to: the largest |sin daz| of the cell bounds the elevations, its largest
    /// cos el the azimuths, and the other way round for the upper limit.
    pub(super) fn shrunk(&self, cell: &Cell) -> Option<Cell> {
        let Bands::Planes(planes) = &self.bands else { return Some(*cell) };
        let (mut els, mut span) = (cell.elevation_deg, cell.azimuth);
        // The part of the quarter as |daz| from the nearer end of the plane, rising or falling with azimuth.
        let [first, last] = cell.azimuth_sines(planes.plane);
        let rising = last >= first;
        let (s_low, s_high) = (first.min(last), first.max(last));
        let Interval { low: c_low, high: c_high } = cell.elevation_cosines();
        let mut sines = Interval { low: s_low, high: s_high };
        if let Some(from) = planes.from.map(|limit| limit.sine) {
            if s_high * c_high < from {
                return None;
            }
            let reach = (from / s_high).min(1.0).acos().to_degrees();
            els = Interval { low: els.low.max(-reach), high: els.high.min(reach) };
            sines.low = sines.low.max((from / c_high).min(1.0));
        }
        if let Some(to) = planes.to.map(|limit| limit.sine) {
            if s_low * c_low > to {
                return None;
            }
            if s_low > to {
                let inner = (to / s_low).acos().to_degrees();
                match (els.low > -inner, els.high < inner) {
                    (true, true) => return None,
                    (true, false) => els.low = els.low.max(inner),
                    (false, true) => els.high = els.high.min(-inner),
                    (false, false) => {}
                }
            }
            if c_low > 0.0 {
                sines.high = sines.high.min(to / c_low);
            }
        }
        if els.low > els.high || sines.low > sines.high {
            return None;
        }
        // Back from sines to azimuths: asin falls short of a quarter by the same angle on either side of it.
        let angle = |s: f64| s.min(1.0).asin().to_degrees();
        let (near, far) = (angle(sines.low) - angle(s_low), angle(s_high) - angle(sines.high));
        let (cut_first, cut_last) = if rising { (near, far) } else { (far, near) };
        let width = (span.width_deg - cut_first.max(0.0) - cut_last.max(0.0)).max(0.0);
        if els == cell.elevation_deg && width >= span.width_deg {
            return Some(*cell);
        }
        span = AzimuthSpan::new(span.at(cut_first.max(0.0)), width);
        Some(Cell::new(span, els))
    }

    /// The elevation of a meridian's bands nearest to one, in degrees; `None` where the meridian has no band.
    pub(super) fn nearest_on_meridian(&self, azimuth_deg: f64, el_deg: f64) -> Option<f64> {
        let nearer = |best: Option<f64>, (low, high): &(f64, f64)| {
            let found = el_deg.clamp(*low, high.max(*low));
            best.filter(|b| (b - el_deg).abs() <= (found - el_deg).abs()).or(Some(found))
        };
        match &self.bands {
            Bands::Constant(bands) => bands.iter().fold(None, nearer),
            Bands::Planes(planes) => planes.bands_at(azimuth_deg).iter().flatten().fold(None, nearer),
        }
    }

    /// Whether a direction, its azimuth being in the span, lies in the bands.
    pub(super) fn admits(&self, d: &Direction) -> bool {
        match &self.bands {
            Bands::Constant(bands) => {
                let el = d.elevation_deg();
                bands.iter().any(|(low, high)| el >= low - EDGE_DEG && el <= high + EDGE_DEG)
            }
            Bands::Planes(planes) => {
                let s = sin_line_to_plane(d, planes.plane);
                planes.from.is_none_or(|a| s > a.sine) && planes.to.is_none_or(|b| s < b.sine)
            }
        }
    }

    /// The bands that hold every meridian's bands, for cutting into cells.
    pub(super) fn outer_bands(&self) -> Vec<(f64, f64)> {
        match &self.bands {
            Bands::Constant(bands) => bands.clone(),
            // phi > from needs cos el > sin from.
            Bands::Planes(planes) => {
                let reach = 90.0 - planes.from.map_or(0.0, |limit| limit.deg);
                vec![(-reach, reach)]
            }
        }
    }

    /// Whether a cell cut from the outer bands lies in it wholly, in part or not at all.
    pub(super) fn state_of(&self, cell: &Cell) -> State {
        let Bands::Planes(planes) = &self.bands else { return State::Inside };
        let (low, high) = planes.sine_range(cell);
        let from = planes.from.map_or(-1.0, |limit| limit.sine);
        let to = planes.to.map_or(2.0, |limit| limit.sine);
        if high <= from || low >= to {
            State::Outside
        } else if low >= from && high <= to {
            State::Inside
        } else {
            State::Mixed
        }
    }

    /// Its solid angle in steradian: exact for rectangles, to about 1e-9 for areas between planes.
    #[must_use]
    pub fn solid_angle_sr(&self) -> f64 {
        let whole = |(low, high): (f64, f64)| self.part_sr(&Cell::new(self.span, Interval { low, high }));
        self.outer_bands().into_iter().map(whole).sum()
    }

    /// The solid angle in steradian of the part of a cell, cut from the outer bands, that lies in it.
    pub(super) fn part_sr(&self, cell: &Cell) -> f64 {
        match self.state_of(cell) {
            State::Inside => return cell.solid_angle_sr(),
            State::Outside => return 0.0,
            _ => {}
        }
        let el = cell.elevation_deg;
        let rises = |offset: f64| {
            let bands = self.bands_at(cell.azimuth.at(offset));
            let clipped = bands.iter().map(|(low, high)| (low.max(el.low), high.min(el.high)));
            clipped.filter(|(low, high)| low < high).map(|(low, high)| sine_rise(low, high)).sum::<f64>()
        };
        // Between these azimuths no band begins, ends, or crosses an edge of the cell.
        let mut kinks = self.critical_azimuths();
        kinks.extend([el.low, el.high].into_iter().flat_map(|edge| self.azimuths_at(edge)));
        let cuts = cell.azimuth.cuts(&kinks);
        cuts.windows(2).map(|w| integral(w[0], w[1], rises)).sum::<f64>().to_radians()
    }

    /// The azimuths where the limits between planes pass through an elevation: |sin daz| = sin limit / cos el.
    pub(super) fn azimuths_at(&self, elevation_deg: f64) -> Vec<f64> {
        let Bands::Planes(Planes { plane_deg, from, to, .. }) = &self.bands else { return Vec::new() };
        let cos_el = sin_cos_deg(elevation_deg).1;
        [from, to]
            .into_iter()
            .flatten()
            .map(|limit| limit.sine / cos_el)
            .filter(|sine| *sine <= 1.0)
            .flat_map(|sine| {
                let a = sine.asin().to_degrees();
                [a, -a, 180.0 - a, a - 180.0].map(|offset| normalised_deg(plane_deg + offset))
            })
            .collect()
    }

    /// The azimuths where bands appear, split or vanish: those of the limits on the horizon.
    pub(super) fn critical_azimuths(&self) -> Vec<f64> {
        self.azimuths_at(0.0)
    }
}

impl From<Patch> for Zone {
    fn from(patch: Patch) -> Self {
        Self::rectangle(patch.azimuth, &[(patch.elevation_deg.low, patch.elevation_deg.high)])
    }
}

impl Planes {
    /// The bands of a meridian where from < asin(cos el |sin daz|) < to, rising; at most two.
    fn bands_at(&self, azimuth_deg: f64) -> [Option<(f64, f64)>; 2] {
        let s = sin_cos_deg(normalised_deg(azimuth_deg - self.plane_deg)).0.abs();
        // Solving at the drawn-in angle keeps every direction exactly that far inside.
        let low_sine = self.from.map_or(0.0, |limit| limit.sine_inside);
        let high_sine = self.to.map_or(f64::INFINITY, |limit| limit.sine_inside);
        if (self.from.is_some() && s < low_sine) || low_sine >= high_sine {
            return [None, None];
        }
        let outer = if self.from.is_none() { 90.0 } else { (low_sine / s).min(1.0).acos().to_degrees() };
        if s <= high_sine {
            return [Some((-outer, outer)), None];
        }
        let inner = (high_sine / s).acos().to_degrees();
        if inner > outer { [None, None] } else { [Some((-outer, -inner)), Some((inner, outer))] }
    }

    /// The lowest and highest sine of the angle to the plane within a cell: cos el and |sin daz| vary independently.
    fn sine_range(&self, cell: &Cell) -> (f64, f64) {
        let [first, last] = cell.azimuth_sines(self.plane);
        let holds = |turn: f64| cell.azimuth.contains(normalised_deg(self.plane_deg + turn), true);
        let sine_low = if holds(0.0) || holds(180.0) { 0.0 } else { first.min(last) };
        let sine_high = if holds(90.0) || holds(-90.0) { 1.0 } else { first.max(last) };
        let cosines = cell.elevation_cosines();
        (sine_low * cosines.low, sine_high * cosines.high)
    }
}

/// The integral over [a, b] by Sidi's sine transformation of order 2, t - sin(2 pi t) / 2 pi, which flattens the
/// square-root ends of the bands so that equal steps converge fast.
fn integral(a: f64, b: f64, f: impl Fn(f64) -> f64) -> f64 {
    const POINTS: u32 = 120;
    let step = 1.0 / f64::from(POINTS);
    (0..POINTS)
        .map(|k| {
            let (s, c) = (2.0 * PI * (f64::from(k) + 0.5) * step).sin_cos();
            let x = (f64::from(k) + 0.5) * step - s / (2.0 * PI);
            f(a + (b - a) * x) * (b - a) * (1.0 - c) * step
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::line_to_plane_deg;

    #[test]
    fn bands_keep_to_the_open_interval() {
        let zone = Zone::between_planes(AzimuthSpan::between(0.0, 110.0), 0.0, 10.0, 20.0);
        for az in [10.001, 15.0, 20.0, 25.0, 60.0, 90.0, 110.0] {
            for (low, high) in zone.bands_at(az) {
                for el in [low, high] {
                    let phi = line_to_plane_deg(&Direction::from_degrees(az, el), 0.0);
                    assert!(phi > 10.0 && phi < 20.0, "{az} {el} {phi}");
                }
            }
        }
        assert!(zone.bands_at(9.999).is_empty());
        assert_eq!(zone.bands_at(15.0).len(), 1);
        assert_eq!(zone.bands_at(60.0).len(), 2);
    }

    #[test]
    fn bands_are_joined_and_in_order() {
        let zone = Zone::rectangle(AzimuthSpan::FULL, &[(40.0, 90.0), (-90.0, 10.0), (5.0, 20.0), (f64::NAN, 1.0)]);
        assert_eq!(zone.bands_at(0.0), vec![(-90.0, 20.0), (40.0, 90.0)]);
    }
}
