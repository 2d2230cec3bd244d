//! Mollweide's equal-area map: parallels are straight, so that a row of fields is a straight band.

use std::f64::consts::{PI, SQRT_2};

/// The middle of the map.
pub(super) const CENTRE: [f64; 2] = [280.0, 152.0];
/// Half the map's width; it is half as high as wide.
pub(super) const HALF: f64 = 236.0;
/// The sphere's radius on the map's scale.
const RADIUS: f64 = HALF / (2.0 * SQRT_2);

/// Where a direction is drawn: ahead in the middle, right to the right, up up.
pub(super) fn place(azimuth_deg: f64, elevation_deg: f64) -> [f64; 2] {
    let [x, y] = mollweide(azimuth_deg.to_radians(), elevation_deg.to_radians());
    [CENTRE[0] + RADIUS * x, CENTRE[1] - RADIUS * y]
}

/// Equations 31-1 to 31-3 of Snyder, Map Projections: A Working Manual, USGS Professional Paper 1395 (1987), p. 251, for
/// a sphere of radius 1.
fn mollweide(longitude: f64, latitude: f64) -> [f64; 2] {
    let theta = parametric(latitude);
    [2.0 * SQRT_2 / PI * longitude * theta.cos(), SQRT_2 * theta.sin()]
}

/// The angle theta with `2 theta + sin 2 theta = pi sin latitude` by halving: Newton's steps stall at the poles.
fn parametric(latitude: f64) -> f64 {
    let wanted = PI * latitude.clamp(-PI / 2.0, PI / 2.0).sin();
    let (mut low, mut high) = (-PI / 2.0, PI / 2.0);
    for _ in 0..50 {
        let theta = 0.5 * (low + high);
        if 2.0 * theta + (2.0 * theta).sin() < wanted {
            low = theta;
        } else {
            high = theta;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Snyder (as above), appendix A, the numerical example of Mollweide's projection, p. 367: radius 1, central
    /// meridian 90 W, the point 50 S, 75 W.
    #[test]
    fn the_published_example_comes_out() {
        let [x, y] = mollweide(15_f64.to_radians(), (-50_f64).to_radians());
        assert!((x - 0.178_884_5).abs() < 1e-7 && (y + 0.920_875_8).abs() < 1e-7, "{x} {y}");
    }

    /// A zone of the sphere between two latitudes has the area 2 pi (sin b - sin a) (Archimedes); on the map it lies
    /// between straight parallels inside an ellipse, which Simpson's rule integrates.
    #[test]
    fn zones_keep_their_area_and_the_whole_is_four_pi() {
        let edge = |latitude: f64| mollweide(PI, latitude);
        for (a, b) in [(-90.0, 90.0), (0.0, 30.0), (30.0, 60.0), (60.0, 90.0), (-90.0, -87.0)] {
            let (a, b) = (f64::to_radians(a), f64::to_radians(b));
            let steps = 4000;
            let area: f64 = (0..steps)
                .map(|n| {
                    let at = |part: f64| edge(a + (b - a) * (f64::from(n) + part) / f64::from(steps));
                    let ([x0, y0], [x1, y1]) = (at(0.0), at(1.0));
                    (x0 + x1) * (y1 - y0)
                })
                .sum();
            let sphere = 2.0 * PI * (b.sin() - a.sin());
            assert!((area - sphere).abs() < 1e-4 * sphere, "{a} to {b}: {area} and {sphere}");
        }
    }

    #[test]
    fn right_is_right_and_up_is_up() {
        assert_eq!(place(0.0, 0.0).map(f64::round), CENTRE);
        assert!((place(180.0, 0.0)[0] - CENTRE[0] - HALF).abs() < 1e-6);
        assert!((CENTRE[1] - place(0.0, 90.0)[1] - HALF / 2.0).abs() < 1e-6);
        assert!(place(30.0, 0.0)[0] > CENTRE[0] && place(0.0, 30.0)[1] < CENTRE[1]);
    }
}
