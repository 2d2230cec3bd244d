//! Where an angle and a luminous intensity are drawn.

use super::scale::Scale;
use crate::report::evidence::Plane;
use crate::units::{Azimuth, Elevation};

/// The centre.
pub(super) const CENTRE: [f64; 2] = [280.0, 232.0];
/// The radius of the rim.
pub(super) const RIM: f64 = 200.0;
/// The angle between corners of an arc; the chord then lies 0.07 units inside a rim of 200.
const CHORD_DEG: f64 = 3.0;

/// A plane and its scale.
pub(super) struct Paper {
    pub(super) plane: Plane,
    pub(super) scale: Scale,
}

impl Paper {
    /// The place at an angle and a radius: ahead and up are up, right and the plane's azimuth are right.
    pub(super) fn place(&self, angle_deg: f64, radius: f64) -> [f64; 2] {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        let (across, up) = match self.plane {
            Plane::Horizontal => (sin, cos),
            Plane::Vertical { .. } => (cos, sin),
        };
        [CENTRE[0] + radius * across, CENTRE[1] - radius * up]
    }

    /// The place of a luminous intensity.
    pub(super) fn at(&self, angle_deg: f64, cd: f64) -> [f64; 2] {
        self.place(angle_deg, self.radius(cd))
    }

    /// The radius of a luminous intensity.
    pub(super) fn radius(&self, cd: f64) -> f64 {
        RIM * self.scale.share(cd)
    }

    /// An arc about the centre.
    pub(super) fn arc(&self, from_deg: f64, to_deg: f64, radius: f64) -> Vec<[f64; 2]> {
        let count = ((to_deg - from_deg).abs().min(360.0) / CHORD_DEG).ceil().max(1.0);
        let turned = (to_deg - from_deg) / count;
        (0..=count as usize).map(|n| self.place(from_deg + n as f64 * turned, radius)).collect()
    }

    /// An angle in words.
    pub(super) fn words(&self, angle_deg: f64) -> String {
        match self.plane {
            Plane::Horizontal => Azimuth::from_deg(angle_deg).to_string(),
            Plane::Vertical { azimuth_deg } => {
                let turned = Azimuth::from_deg(angle_deg).deg();
                let over = turned.abs() > 90.0;
                let elevation = if over { (180.0 - turned.abs()).copysign(turned) } else { turned };
                let azimuth = Azimuth::from_deg(if over { azimuth_deg + 180.0 } else { azimuth_deg });
                format!("{azimuth} and {}", Elevation::from_deg(elevation))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::evidence::Plane::{Horizontal, Vertical};

    fn at(plane: Plane, deg: f64) -> [f64; 2] {
        let [x, y] = Paper { plane, scale: Scale { centre: 0, rim: 2 } }.place(deg, 1.0);
        [(x - CENTRE[0]).round(), (CENTRE[1] - y).round()]
    }

    #[test]
    fn ahead_is_up_and_right_is_right() {
        assert_eq!(
            [0.0, 90.0, 180.0, -90.0].map(|deg| at(Horizontal, deg)),
            [[0.0, 1.0], [1.0, 0.0], [0.0, -1.0], [-1.0, 0.0]]
        );
        let upright = Vertical { azimuth_deg: 0.0 };
        assert_eq!(
            [0.0, 90.0, 180.0, -90.0].map(|deg| at(upright, deg)),
            [[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]]
        );
    }

    #[test]
    fn angles_past_overhead_are_on_the_other_side() {
        let paper = |plane| Paper { plane, scale: Scale { centre: 0, rim: 2 } };
        assert_eq!(paper(Horizontal).words(-55.0), "left 55 deg");
        let upright = paper(Vertical { azimuth_deg: 0.0 });
        assert_eq!(upright.words(120.0), "aft and up 60 deg");
        assert_eq!(upright.words(-100.0), "aft and down 80 deg");
        assert_eq!(upright.words(10.0), "ahead and up 10 deg");
    }
}
