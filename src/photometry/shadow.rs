//! The hidden union of sectors as a grid between all their edges, and the edges that bound it.

use super::Sector;
use crate::geometry::{AzimuthSpan, Direction, EDGE_DEG};

/// Which fields of the az-el grid between all sector edges are hidden.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shadow {
    /// The azimuths between fields, rising; none for a grid that goes all round unbroken.
    pub azimuths_deg: Vec<f64>,
    /// The elevations between fields, rising, from -90 to 90.
    pub elevations_deg: Vec<f64>,
    hidden: Vec<bool>,
    edges: Vec<Edge>,
}

/// A stretch of the boundary of the hidden union.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Edge {
    /// A piece of a meridian.
    Meridian { azimuth_deg: f64, sin_cos: (f64, f64), low_deg: f64, high_deg: f64 },
    /// A piece of a circle of equal elevation.
    Circle { elevation_deg: f64, azimuth: AzimuthSpan },
}

impl Shadow {
    /// The grid of sectors, its fields hidden where `hides` says so of the sectors' cover.
    pub fn of(sectors: &[Sector], hides: impl Fn(bool) -> bool) -> Self {
        let solid: Vec<&Sector> = sectors.iter().filter(|s| !s.is_empty()).collect();
        let broken = solid.iter().filter(|s| !s.azimuth.is_full());
        let mut azimuths_deg: Vec<f64> = broken.flat_map(|s| [s.azimuth.at(0.0), s.azimuth.to_deg()]).collect();
        tidy(&mut azimuths_deg);
        let mut elevations_deg: Vec<f64> = solid.iter().flat_map(|s| [s.elevation_deg.0, s.elevation_deg.1]).collect();
        elevations_deg.extend([-90.0, 90.0]);
        tidy(&mut elevations_deg);
        let mut shadow = Self { azimuths_deg, elevations_deg, hidden: Vec::new(), edges: Vec::new() };
        for rows in shadow.elevations_deg.windows(2) {
            let middle = 0.5 * (rows[0] + rows[1]);
            for column in 0..shadow.columns() {
                let span = shadow.column(column);
                let azimuth = span.at(0.5 * span.width_deg);
                shadow.hidden.push(hides(solid.iter().any(|s| s.covers(azimuth, middle))));
            }
        }
        shadow.edges = shadow.boundary();
        shadow
    }

    fn columns(&self) -> usize {
        self.azimuths_deg.len().max(1)
    }
    fn rows(&self) -> usize {
        self.elevations_deg.len().saturating_sub(1)
    }
    fn field(&self, row: usize, column: usize) -> bool {
        self.hidden.get(row * self.columns() + column).copied().unwrap_or(false)
    }
    /// The span of a column; the last one passes 180.
    fn column(&self, column: usize) -> AzimuthSpan {
        let next = (column + 1) % self.columns();
        match (self.azimuths_deg.get(column), self.azimuths_deg.get(next)) {
            (Some(from), Some(to)) if from != to => AzimuthSpan::between(*from, *to),
            _ => AzimuthSpan::FULL,
        }
    }

    fn boundary(&self) -> Vec<Edge> {
        let (columns, rows) = (self.columns(), self.rows());
        let mut edges = Vec::new();
        for (row, els) in self.elevations_deg.windows(2).enumerate() {
            for (column, azimuth_deg) in self.azimuths_deg.iter().enumerate() {
                if self.field(row, column) != self.field(row, (column + columns - 1) % columns) {
                    let sin_cos = azimuth_deg.to_radians().sin_cos();
                    edges.push(Edge::Meridian {
                        azimuth_deg: *azimuth_deg,
                        sin_cos,
                        low_deg: els[0],
                        high_deg: els[1],
                    });
                }
            }
        }
        for row in 1..rows {
            let Some(elevation_deg) = self.elevations_deg.get(row).copied() else { continue };
            for column in (0..columns).filter(|c| self.field(row - 1, *c) != self.field(row, *c)) {
                edges.push(Edge::Circle { elevation_deg, azimuth: self.column(column) });
            }
        }
        edges
    }

    /// Whether a direction is hidden: every field it lies in or touches is. A pole touches all of its row.
    pub fn hides(&self, d: &Direction) -> bool {
        let rows = touched(&self.elevations_deg, d.elevation_deg(), self.rows());
        let columns = if d.elevation_deg().abs() > 90.0 - EDGE_DEG {
            [Some(0..self.columns()), None]
        } else {
            self.touched_columns(d.azimuth_deg())
        };
        rows.into_iter()
            .flatten()
            .flatten()
            .all(|row| columns.iter().flatten().cloned().flatten().all(|column| self.field(row, column)))
    }

    fn touched_columns(&self, azimuth_deg: f64) -> [Option<std::ops::Range<usize>>; 2] {
        let n = self.columns();
        let after = self.azimuths_deg.partition_point(|a| *a <= azimuth_deg);
        let own = (after + n - 1) % n;
        let at_edge = |index: usize| {
            self.azimuths_deg.get(index % n).is_some_and(|a| {
                let apart = (azimuth_deg - a).abs();
                apart <= EDGE_DEG || apart >= 360.0 - EDGE_DEG
            })
        };
        let other = if at_edge(own) {
            Some((own + n - 1) % n)
        } else if at_edge(own + 1) {
            Some((own + 1) % n)
        } else {
            None
        };
        [Some(own..own + 1), other.map(|column| column..column + 1)]
    }

    /// Whether any edge of the hidden union is within a reach of a direction.
    pub fn edge_within(&self, d: &Direction, reach: &Reach) -> bool {
        self.edges.iter().any(|edge| edge.is_within(d, reach))
    }

    /// The angle in radians to the nearest edge of the hidden union; `None` where it has no edge.
    pub fn to_edge_rad(&self, d: &Direction) -> Option<f64> {
        self.edges.iter().map(|edge| edge.distance_rad(d)).reduce(f64::min)
    }
}

/// The rows that hold an elevation: one, or two on the line between them.
fn touched(lines: &[f64], value: f64, rows: usize) -> [Option<std::ops::Range<usize>>; 2] {
    let own = lines.partition_point(|line| *line <= value).saturating_sub(1).min(rows.saturating_sub(1));
    let near = |index: usize| lines.get(index).is_some_and(|line| (line - value).abs() <= EDGE_DEG);
    let other = if own > 0 && near(own) {
        Some(own - 1)
    } else if own + 1 < rows && near(own + 1) {
        Some(own + 1)
    } else {
        None
    };
    [Some(own..own + 1), other.map(|row| row..row + 1)]
}

fn tidy(values: &mut Vec<f64>) {
    values.sort_by(f64::total_cmp);
    values.dedup_by(|b, a| *b - *a <= EDGE_DEG);
}

/// An angle with its sine and cosine, for comparing without inverse functions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Reach {
    pub rad: f64,
    sin: f64,
    cos: f64,
}

impl Reach {
    pub fn of_deg(degrees: f64) -> Self {
        let rad = degrees.to_radians();
        Self { rad, sin: rad.sin(), cos: rad.cos() }
    }
}

impl Edge {
    /// `distance_rad` compared with a reach of at most 90 degrees; most edges run from pole to pole, where no
    /// inverse function is needed.
    fn is_within(&self, d: &Direction, reach: &Reach) -> bool {
        match self {
            Self::Meridian { sin_cos: (sin, cos), low_deg, high_deg, .. }
                if *low_deg == -90.0 && *high_deg == 90.0 && reach.rad <= std::f64::consts::FRAC_PI_2 =>
            {
                let toward = d.forward() * cos + d.right() * sin;
                let beside = d.right() * cos - d.forward() * sin;
                // On the far side the nearest points are the poles.
                if toward >= 0.0 { beside.abs() <= reach.sin } else { d.up().abs() >= reach.cos }
            }
            _ => self.distance_rad(d) <= reach.rad,
        }
    }

    fn distance_rad(&self, d: &Direction) -> f64 {
        match self {
            Self::Meridian { azimuth_deg, low_deg, high_deg, .. } => {
                let turn = (d.azimuth_deg() - azimuth_deg).to_radians();
                let cos_el = d.forward().hypot(d.right());
                let (toward, beside) = (cos_el * turn.cos(), cos_el * turn.sin());
                // The foot of the perpendicular on the meridian's great circle; beyond 90 it is on the far side.
                let foot_deg = d.up().atan2(toward).to_degrees();
                if foot_deg >= *low_deg && foot_deg <= *high_deg {
                    beside.abs().min(1.0).asin()
                } else {
                    let corner = |el: f64| haversine_rad(d.elevation_deg(), el, turn);
                    corner(*low_deg).min(corner(*high_deg))
                }
            }
            Self::Circle { elevation_deg, azimuth } => {
                if azimuth.contains(d.azimuth_deg(), true) {
                    return (d.elevation_deg() - elevation_deg).abs().to_radians();
                }
                let corner =
                    |az: f64| haversine_rad(d.elevation_deg(), *elevation_deg, (d.azimuth_deg() - az).to_radians());
                corner(azimuth.from_deg).min(corner(azimuth.to_deg()))
            }
        }
    }
}

/// The angle between two directions from their elevations in degrees and their difference of azimuth in radians.
fn haversine_rad(el1_deg: f64, el2_deg: f64, turn_rad: f64) -> f64 {
    let (p, q) = (el1_deg.to_radians(), el2_deg.to_radians());
    let h = (0.5 * (p - q)).sin().powi(2) + p.cos() * q.cos() * (0.5 * turn_rad).sin().powi(2);
    2.0 * h.clamp(0.0, 1.0).sqrt().asin()
}
