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
    Planes { plane_deg: f64, from_deg: Option<f64>, to_deg: Option<f64> },
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
        let from_deg = (from_deg >= 0.0).then_some(from_deg.min(90.0));
        let to_deg = (to_deg < 90.0).then_some(to_deg.max(0.0));
        Self { span, bands: Bands::Planes { plane_deg: normalised_deg(plane_azimuth_deg), from_deg, to_deg } }
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
            Bands::Planes { plane_deg, from_deg, to_deg } => {
                plane_bands(sin_cos_deg(normalised_deg(azimuth_deg - plane_deg)).0.abs(), *from_deg, *to_deg)
            }
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
            Bands::Planes { plane_deg, .. } => {
                (0..4).map(|k| normalised_deg(plane_deg + 90.0 * f64::from(k))).collect()
            }
        }
    }

    /// A cell within one of the [`Zone::quarters`], cut down to what of it may lie in the zone; `None` where nothing may.
    ///
    /// From sin from < cos el |sin daz| < sin to: the largest |sin daz| of the cell bounds the elevations, its largest
    /// cos el the azimuths, and the other way round for the upper limit.
    pub(super) fn shrunk(&self, cell: &Cell) -> Option<Cell> {
        let Bands::Planes { plane_deg, from_deg, to_deg } = &self.bands else { return Some(*cell) };
        let (mut els, mut span) = (cell.elevation_deg, cell.azimuth);
        // The part of the quarter as |daz| from the nearer end of the plane, rising or falling with azimuth.
        let sine = |azimuth: f64| sin_cos_deg(normalised_deg(azimuth - plane_deg)).0.abs();
        let (first, last) = (sine(span.from_deg), sine(span.to_deg()));
        let rising = last >= first;
        let (s_low, s_high) = (first.min(last), first.max(last));
        let cos = |el: f64| sin_cos_deg(el).1;
        let c_high = if els.contains(0.0) { 1.0 } else { cos(els.low).max(cos(els.high)) };
        let c_low = cos(els.low).min(cos(els.high));
        let mut sines = Interval { low: s_low, high: s_high };
        if let Some(from) = from_deg.map(|a| sin_cos_deg(a).0) {
            if s_high * c_high < from {
                return None;
            }
            let reach = (from / s_high).min(1.0).acos().to_degrees();
            els = Interval { low: els.low.max(-reach), high: els.high.min(reach) };
            sines.low = sines.low.max((from / c_high).min(1.0));
        }
        if let Some(to) = to_deg.map(|b| sin_cos_deg(b).0) {
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
        span = AzimuthSpan::new(span.at(cut_first.max(0.0)), width);
        Some(Cell::new(span, els))
    }

    /// The elevation of a meridian's bands nearest to one, in degrees; `None` where the meridian has no band.
    pub(super) fn nearest_on_meridian(&self, azimuth_deg: f64, el_deg: f64) -> Option<f64> {
        let bands = self.bands_at(azimuth_deg);
        let nearest = bands.iter().map(|(low, high)| el_deg.clamp(*low, high.max(*low)));
        nearest.min_by(|a, b| (a - el_deg).abs().total_cmp(&(b - el_deg).abs()))
    }

    /// Whether a direction, its azimuth being in the span, lies in the bands.
    pub(super) fn admits(&self, d: &Direction) -> bool {
        match &self.bands {
            Bands::Constant(bands) => {
                let el = d.elevation_deg();
                bands.iter().any(|(low, high)| el >= low - EDGE_DEG && el <= high + EDGE_DEG)
            }
            Bands::Planes { plane_deg, from_deg, to_deg } => {
                let s = sin_line_to_plane(d, *plane_deg);
                from_deg.is_none_or(|a| s > sin_cos_deg(a).0) && to_deg.is_none_or(|b| s < sin_cos_deg(b).0)
            }
        }
    }

    /// The bands that hold every meridian's bands, for cutting into cells.
    pub(super) fn outer_bands(&self) -> Vec<(f64, f64)> {
        match &self.bands {
            Bands::Constant(bands) => bands.clone(),
            // phi > from needs cos el > sin from.
            Bands::Planes { from_deg, .. } => {
                let reach = 90.0 - from_deg.unwrap_or(0.0);
                vec![(-reach, reach)]
            }
        }
    }

    /// Whether a cell cut from the outer bands lies in it wholly, in part or not at all.
    pub(super) fn state_of(&self, cell: &Cell) -> State {
        let Bands::Planes { plane_deg, from_deg, to_deg } = &self.bands else { return State::Inside };
        let (low, high) = sine_range(cell, *plane_deg);
        let from = from_deg.map_or(-1.0, |a| sin_cos_deg(a).0);
        let to = to_deg.map_or(2.0, |b| sin_cos_deg(b).0);
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
        let Bands::Planes { plane_deg, from_deg, to_deg } = &self.bands else { return Vec::new() };
        [*from_deg, *to_deg]
            .into_iter()
            .flatten()
            .map(|limit| sin_cos_deg(limit).0 / sin_cos_deg(elevation_deg).1)
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

/// The bands where from < asin(cos el * s) < to, `s` the sine of the meridian's angle to the plane.
fn plane_bands(s: f64, from_deg: Option<f64>, to_deg: Option<f64>) -> Vec<(f64, f64)> {
    // Solving at the drawn-in angle keeps every direction exactly that far inside.
    let sine = |deg: f64| deg.to_radians().sin();
    let low_sine = from_deg.map_or(0.0, |a| sine(a + BESIDE_DEG));
    let high_sine = to_deg.map_or(f64::INFINITY, |b| sine(b - BESIDE_DEG));
    if (from_deg.is_some() && s < low_sine) || low_sine >= high_sine {
        return Vec::new();
    }
    let outer = if from_deg.is_none() { 90.0 } else { (low_sine / s).min(1.0).acos().to_degrees() };
    if s <= high_sine {
        return vec![(-outer, outer)];
    }
    let inner = (high_sine / s).acos().to_degrees();
    if inner > outer { Vec::new() } else { vec![(-outer, -inner), (inner, outer)] }
}

/// The lowest and highest sine of the angle to the plane within a cell: cos el and |sin daz| vary independently.
fn sine_range(cell: &Cell, plane_deg: f64) -> (f64, f64) {
    let az = cell.azimuth;
    let sines = [az.from_deg, az.to_deg()].map(|a| sin_cos_deg(normalised_deg(a - plane_deg)).0.abs());
    let holds = |turn: f64| az.contains(normalised_deg(plane_deg + turn), true);
    let sine_low = if holds(0.0) || holds(180.0) { 0.0 } else { sines[0].min(sines[1]) };
    let sine_high = if holds(90.0) || holds(-90.0) { 1.0 } else { sines[0].max(sines[1]) };
    let el = cell.elevation_deg;
    let cosines = [sin_cos_deg(el.low).1, sin_cos_deg(el.high).1];
    let cos_high = if el.contains(0.0) { 1.0 } else { cosines[0].max(cosines[1]) };
    (sine_low * cosines[0].min(cosines[1]), sine_high * cos_high)
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
