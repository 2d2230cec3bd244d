//! The radial scale: decades of luminous intensity.

use crate::report::evidence::PolarPoint;

/// More decades than these stand too close for their labels.
const MOST: i32 = 8;
const FEWEST: i32 = 2;

/// Luminous intensity from the centre to the rim, equal steps for equal ratios.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    /// The power of ten at the centre, in cd.
    pub(super) centre: i32,
    /// The power of ten at the rim, in cd.
    pub(super) rim: i32,
}

impl Scale {
    /// From a tenth of the least that is asked, or under it, to above the most of all.
    pub(super) fn of(points: &[PolarPoint]) -> Self {
        let shown = |cd: &f64| cd.is_finite() && *cd > 0.0;
        let asked = || points.iter().flat_map(|p| [p.floor, p.ceiling]).flatten().filter(shown);
        let found = points.iter().flat_map(|p| [p.found.low, p.found.high]).filter(shown);
        let Some(most) = asked().chain(found).reduce(f64::max) else { return Self { centre: 0, rim: FEWEST } };
        let rim = decade(most) + 1;
        let centre = asked().reduce(f64::min).map_or(rim - 3, |least| decade(least) - 1);
        Self { centre: centre.clamp(rim - MOST, rim - FEWEST), rim }
    }

    /// How far out a luminous intensity is drawn, 0 at the centre to 1 at the rim.
    pub(super) fn share(&self, cd: f64) -> f64 {
        if cd.is_nan() || cd <= 0.0 {
            return 0.0;
        }
        ((cd.log10() - f64::from(self.centre)) / f64::from(self.rim - self.centre)).clamp(0.0, 1.0)
    }

    /// The decades that have rings, in cd.
    pub(super) fn rings(&self) -> impl Iterator<Item = f64> + use<> {
        (self.centre + 1..=self.rim).map(|n| 10_f64.powi(n))
    }
}

fn decade(cd: f64) -> i32 {
    // Powers past these are not finite or not exact enough to be labelled.
    cd.log10().floor().clamp(-300.0, 300.0) as i32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Interval;

    fn point(low: f64, high: f64, floor: Option<f64>) -> PolarPoint {
        PolarPoint { angle_deg: 0.0, found: Interval { low, high }, floor, ceiling: None }
    }

    #[test]
    fn decades_hold_a_tenth_of_what_is_asked_and_all_that_was_found() {
        let scale = Scale::of(&[point(0.0, 350.0, Some(40.0)), point(3.0, f64::INFINITY, Some(5.0))]);
        assert!(scale.share(0.5) >= 0.0 && 10_f64.powi(scale.centre) <= 0.5);
        assert!(scale.share(350.0) < 1.0);
        assert_eq!((scale.share(0.0), scale.share(f64::INFINITY), scale.share(f64::NAN)), (0.0, 1.0, 0.0));
        let middle = 10_f64.powf(0.5 * f64::from(scale.centre + scale.rim));
        assert!((scale.share(middle) - 0.5).abs() < 1e-12);
    }

    #[test]
    fn any_figures_have_a_scale() {
        for cd in [0.0, 1e-300, 1e300, f64::MAX, f64::MIN_POSITIVE, f64::NAN, f64::INFINITY] {
            let scale = Scale::of(&[point(cd, cd, Some(cd)), point(1.0, 1.0, None)]);
            assert!(scale.rim - scale.centre >= FEWEST && scale.rim - scale.centre <= MOST, "{cd}: {scale:?}");
            assert!(scale.rings().all(f64::is_finite), "{cd}: {scale:?}");
        }
    }
}
