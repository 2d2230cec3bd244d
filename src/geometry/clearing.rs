//! How far a place must move before an airframe leaves a dihedral angle free.

use super::direction::sin_cos_deg;
use super::mesh::{Mesh, Point, dot, minus};
use super::{AzimuthSpan, Direction};

impl Mesh {
    /// How far, in mm, a place must move along a direction until no corner of the mesh lies within a dihedral angle about it,
    /// corners nearer than a distance in mm left out; `None` where moving so does not clear it, or the angle is 180 degrees or
    /// more, or open to nothing.
    ///
    /// Each bounding plane, with inward unit normal n, is passed by a corner at q after q . n / a . n of travel along a. An edge
    /// may still cross where no corner lies, and corners may come in from the side: what is found is to be looked at again.
    ///
    /// # Example
    /// ```
    /// use lampwright::geometry::{AzimuthSpan, Direction, Mesh};
    /// // A fin's plane 8 mm beside a lamp that reaches 10 mm aft of it may reach 8 / tan 70 = 2.91 mm to clear 70 degrees.
    /// let fin = Mesh::new([[[-10.0, 0.0, -50.0], [-10.0, 0.0, 50.0], [90.0, 0.0, 0.0]]]);
    /// let (astern, aft) = (AzimuthSpan::between(110.0, -110.0), Direction::from_degrees(180.0, 0.0));
    /// let move_mm = fin.clear_by_moving_mm([0.0, 8.0, 0.0], 0.0, astern, &aft).expect("aft clears it");
    /// assert!((move_mm - (10.0 - 2.91)).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn clear_by_moving_mm(
        &self,
        place: Point,
        beyond_mm: f64,
        span: AzimuthSpan,
        along: &Direction,
    ) -> Option<f64> {
        if span.width_deg >= 180.0 || span.width_deg <= 0.0 {
            return None;
        }
        let inward = [span.from_deg + 90.0, span.from_deg + span.width_deg - 90.0].map(|azimuth_deg| {
            let (sin, cos) = sin_cos_deg(azimuth_deg);
            [cos, sin, 0.0]
        });
        let along = [along.forward(), along.right(), along.up()];
        let mut most = 0.0_f64;
        for triangle in &self.triangles {
            for q in self.corners(*triangle).map(|p| minus(p, place)) {
                let within = inward.iter().all(|n| dot(*n, q) > 0.0) && dot(q, q) > beyond_mm * beyond_mm;
                if within {
                    let passed = inward.iter().filter(|n| dot(**n, along) > 1e-6).map(|n| dot(*n, q) / dot(*n, along));
                    most = most.max(passed.reduce(f64::min)?);
                }
            }
        }
        (most > 0.0).then_some(most)
    }
}
