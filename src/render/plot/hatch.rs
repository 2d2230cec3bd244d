//! Lines on a fill, as strokes: printed, a pattern becomes an image, coarse and large.

use super::style::number;

/// What the strokes are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::render::plot) enum Hatch {
    /// Dots, for strokes with round ends.
    Dots,
    /// Lines that rise to the right.
    Rising,
    /// Lines that fall to the right.
    Falling,
    /// Small crosses.
    Crosses,
    /// Level and upright lines.
    Checks,
}

impl Hatch {
    /// The strokes over a box of left, top, right and bottom, so far apart.
    pub(in crate::render::plot) fn over(self, [left, top, right, bottom]: [f64; 4], apart: f64) -> String {
        // From multiples of the distance on, so that boxes side by side go on in each other.
        let from = |low: f64| (low / apart).ceil().max(-1e6) as i64;
        let steps = |low: f64, high: f64| (from(low)..).map(|n| n as f64 * apart).take_while(move |v| *v <= high);
        let spots = || steps(top, bottom).flat_map(move |y| steps(left, right).map(move |x| (x, y)));
        match self {
            Self::Dots => spots().map(|(x, y)| format!("M{} {}h0", number(x), number(y))).collect(),
            Self::Crosses => spots()
                .filter(|(x, y)| x + 4.0 <= right && y + 4.0 <= bottom)
                .map(|(x, y)| format!("M{} {}l4 4m-4 0l4 -4", number(x), number(y)))
                .collect(),
            Self::Checks => {
                let level = steps(top, bottom).map(|y| line([left, y], [right, y]));
                level.chain(steps(left, right).map(|x| line([x, top], [x, bottom]))).collect()
            }
            // x + y = c, and x - y = c, cut off at the box.
            Self::Rising => steps(left + top, right + bottom)
                .map(|c| ((c - bottom).max(left), (c - top).min(right), c))
                .map(|(a, b, c)| line([a, c - a], [b, c - b]))
                .collect(),
            Self::Falling => steps(left - bottom, right - top)
                .map(|c| ((c + top).max(left), (c + bottom).min(right), c))
                .map(|(a, b, c)| line([a, a - c], [b, b - c]))
                .collect(),
        }
    }
}

fn line(from: [f64; 2], to: [f64; 2]) -> String {
    format!("M{} {}L{} {}", number(from[0]), number(from[1]), number(to[0]), number(to[1]))
}

#[cfg(test)]
mod tests {
    use super::Hatch::{Checks, Crosses, Dots, Falling, Rising};

    #[test]
    fn strokes_stay_in_their_box() {
        let bounds = [3.0, 4.0, 31.0, 17.0];
        for hatch in [Rising, Falling, Checks, Dots] {
            let d = hatch.over(bounds, 6.0);
            assert!(!d.is_empty());
            for point in d.split(['M', 'L']).filter(|p| !p.is_empty()) {
                let [x, y] = point
                    .trim_end_matches("h0")
                    .split(' ')
                    .map(|v| v.parse::<f64>().expect("a number"))
                    .collect::<Vec<_>>()[..]
                else {
                    panic!("{point}")
                };
                assert!((3.0..=31.0).contains(&x) && (4.0..=17.0).contains(&y), "{hatch:?}: {point}");
            }
        }
        // In a box of 10 there are 2 x 2 whole crosses of 4 from multiples of 5 on: at 0 and 5.
        assert_eq!(Crosses.over([0.0, 0.0, 9.0, 9.0], 5.0).matches('M').count(), 4);
    }

    #[test]
    fn no_box_has_no_end() {
        for bounds in [[f64::NAN; 4], [0.0, 0.0, -1.0, -1.0]] {
            assert_eq!(Checks.over(bounds, 6.0), "");
        }
    }
}
