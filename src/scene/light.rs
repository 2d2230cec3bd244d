//! Several lamps seen as one light, summed by direction.

use super::cause::{Cause, Missing};
use super::lamp::{Hidden, SceneLamp};
use crate::aircraft::Origin;
use crate::geometry::{Cell, Direction, Ends, Extremum, IntervalExtreme, State, Zone};
use crate::units::Interval;

/// The lamps of a light together (far field: places do not enter).
#[derive(Debug)]
pub struct Sum<'a> {
    lamps: Vec<&'a SceneLamp>,
    /// Azimuths at which a mask begins or ends or a beam is aimed, in degrees.
    pub az_breaks: Vec<f64>,
    /// Elevations at which a mask begins or ends or a beam is aimed, in degrees.
    pub el_breaks: Vec<f64>,
    full_level: bool,
}

impl<'a> Sum<'a> {
    /// The lamps together.
    pub fn new(lamps: impl Iterator<Item = &'a SceneLamp>) -> Self {
        let lamps: Vec<&SceneLamp> = lamps.collect();
        let axes: Vec<_> = lamps.iter().filter_map(|l| l.beam.as_ref().ok()).map(|b| *b.axis()).collect();
        let az_breaks = lamps.iter().flat_map(|l| l.az_breaks()).chain(axes.iter().map(|a| a.azimuth_deg())).collect();
        let el_breaks =
            lamps.iter().flat_map(|l| l.el_breaks()).chain(axes.iter().map(|a| a.elevation_deg())).collect();
        Self { lamps, az_breaks, el_breaks, full_level: false }
    }

    /// The same lamps lit steadily at their full level, whatever their channels do.
    #[must_use]
    pub fn at_full_level(self) -> Self {
        Self { full_level: true, ..self }
    }

    /// The first thing missing to know the intensities.
    ///
    /// # Errors
    /// What is missing.
    pub fn known(&self) -> Result<(), Missing> {
        self.lamps.iter().find_map(|l| l.beam.as_ref().err()).map_or(Ok(()), |missing| Err(missing.clone()))
    }

    /// Intensity at the mean levels, at full-size equivalent.
    #[must_use]
    pub fn mean_cd(&self, d: &Direction) -> Interval {
        let each = |lamp: &SceneLamp| if self.full_level { lamp.full_cd(d) } else { lamp.mean_cd(d) };
        self.lamps.iter().fold(Interval::ZERO, |sum, lamp| sum + each(lamp))
    }

    /// What the ends of the intensity at the mean levels are over a cell cut at the breaks.
    #[must_use]
    pub fn mean_over(&self, cell: &Cell) -> Ends {
        let each = |lamp: &SceneLamp| if self.full_level { lamp.full_over(cell) } else { lamp.mean_over(cell) };
        self.lamps.iter().fold(Ends::of(Interval::ZERO), |sum, lamp| sum + each(lamp))
    }

    /// The azimuths and the elevations at which a mask begins or ends, in degrees, each once: where cells must be cut.
    #[must_use]
    pub fn edges(&self) -> (Vec<f64>, Vec<f64>) {
        let each = |of: fn(&SceneLamp) -> Vec<f64>| {
            let mut all: Vec<f64> = self.lamps.iter().flat_map(|l| of(l)).collect();
            all.sort_by(f64::total_cmp);
            all.dedup();
            all
        };
        (each(SceneLamp::az_breaks), each(SceneLamp::el_breaks))
    }

    /// The extremes of the mean intensity over a zone.
    #[must_use]
    pub fn extremes(&self, zone: &Zone, kind: Extremum) -> Option<IntervalExtreme> {
        let (azimuths, elevations) = self.edges();
        zone.extremes_of_interval(kind, (&azimuths, &elevations), |d| self.mean_cd(d), |cell| self.mean_over(cell))
    }

    /// The highest mean intensity over the whole sphere.
    pub(super) fn peak_cd(&self) -> Option<Interval> {
        if let Some(only) = self.single()
            && let Ok(beam) = &only.beam
        {
            // One lamp is brightest on its axis, unless a mask hides that or its table has another peak.
            let on_axis = only.mean_cd(beam.axis());
            if on_axis == beam.peak_cd().scaled(only.mean_level) {
                return Some(on_axis);
            }
        }
        let found = self.extremes(&Zone::sphere(), Extremum::Highest)?;
        Some(found.interval())
    }

    /// The only lamp, where there is just one.
    #[must_use]
    pub fn single(&self) -> Option<&'a SceneLamp> {
        match self.lamps.as_slice() {
            [only] => Some(only),
            _ => None,
        }
    }

    /// The first thing missing to know which directions the lamps show.
    ///
    /// # Errors
    /// What is missing.
    pub fn geometry(&self) -> Result<(), Missing> {
        self.lamps.iter().try_for_each(|l| l.geometry())
    }

    /// Azimuths and elevations along which any lamp begins to be hidden, in degrees.
    #[must_use]
    pub fn shadow_breaks(&self) -> (Vec<f64>, Vec<f64>) {
        let each: Vec<_> = self.lamps.iter().map(|l| l.shadow_breaks()).collect();
        (each.iter().flat_map(|(az, _)| az.clone()).collect(), each.iter().flat_map(|(_, el)| el.clone()).collect())
    }

    /// Whether every lamp is hidden over all of a cell: what no lamp shows is obstructed.
    #[must_use]
    pub fn hides_cell(&self, cell: &Cell) -> State {
        let mut whole = State::Inside;
        for lamp in &self.lamps {
            whole = match (whole, lamp.hides_cell(cell)) {
                (_, State::Outside) => return State::Outside,
                (State::Mixed, _) | (_, State::Mixed) => State::Mixed,
                (State::Unknown, _) | (_, State::Unknown) => State::Unknown,
                (State::Beyond(one), State::Beyond(other)) if one != other => State::Mixed,
                (State::Beyond(plane), _) | (_, State::Beyond(plane)) => State::Beyond(plane),
                _ => State::Inside,
            };
        }
        whole
    }

    /// In the middle of what the lamps do not show of a zone and the airframe hides of one: the direction, that lamp's name,
    /// where on the model it is hidden, in mm from the datum, and how far from the lamp.
    #[must_use]
    pub fn hidden_by_airframe(&self, zone: &Zone) -> Option<(Direction, &'a str, [f64; 3], f64)> {
        const STEP_DEG: usize = 2;
        let middles = |from: i32, to: i32| (from..to).step_by(STEP_DEG).map(|n| f64::from(n) + 1.0);
        let all = middles(-180, 180).flat_map(|az| middles(-90, 90).map(move |el| Direction::from_degrees(az, el)));
        let dark: Vec<Direction> = all
            .filter(|d| zone.contains(d) && self.lamps.iter().all(|l| l.hidden(d) == Hidden::Yes))
            .filter(|d| self.lamps.iter().any(|l| l.is_hidden_by_airframe(d)))
            .collect();
        // Middles of equal steps stand thicker near the poles.
        let weight = |d: &Direction| d.forward().hypot(d.right());
        let mean = dark.iter().fold([0.0; 3], |sum, d| {
            let w = weight(d);
            [sum[0] + w * d.forward(), sum[1] + w * d.right(), sum[2] + w * d.up()]
        });
        let toward = |d: &Direction| mean[0] * d.forward() + mean[1] * d.right() + mean[2] * d.up();
        let middle = dark.into_iter().max_by(|a, b| toward(a).total_cmp(&toward(b)))?;
        self.lamps.iter().find_map(|lamp| {
            let (place, far) = lamp.hidden_by_airframe(&middle)?;
            Some((middle, lamp.name.as_str(), place, far))
        })
    }

    /// Why the intensity in a direction is a range.
    #[must_use]
    pub fn causes(&self, d: &Direction) -> Vec<Cause> {
        self.lamps.iter().flat_map(|l| l.causes(d)).collect()
    }

    /// The least sure origin of the lamps' light.
    #[must_use]
    pub fn origin(&self) -> Origin {
        self.lamps.iter().map(|l| l.light_origin).max().unwrap_or(Origin::Guess)
    }
}
