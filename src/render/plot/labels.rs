//! Where words go so that they do not stand on each other.

/// A box: left, top, right, bottom.
pub(super) type Area = [f64; 4];

/// How far from its thing a word is tried, the nearest first.
const GAPS: [f64; 8] = [3.0, 9.0, 16.0, 24.0, 34.0, 46.0, 60.0, 76.0];
/// The side of the boxes a line is made of.
const BEAD: f64 = 3.0;
/// How far round its thing a word is tried from the side it is wanted on, in degrees.
const TURNS: [f64; 16] =
    [0.0, 22.5, -22.5, 45.0, -45.0, 67.5, -67.5, 90.0, -90.0, 112.5, -112.5, 135.0, -135.0, 157.5, -157.5, 180.0];

/// A drawing's room and what stands in it already.
pub(super) struct Room {
    within: Area,
    taken: Vec<Area>,
}

impl Room {
    /// An empty room.
    pub(super) fn new(within: Area) -> Self {
        Self { within, taken: Vec::new() }
    }
    /// Marks a box as taken.
    pub(super) fn take(&mut self, area: Area) {
        self.taken.push(area);
    }
    /// Marks a line as taken, so that words stand on it only where there is no room beside it.
    pub(super) fn take_line(&mut self, points: &[[f64; 2]], closed: bool) {
        let last = points.first().copied().filter(|_| closed);
        let ends: Vec<[f64; 2]> = points.iter().copied().chain(last).collect();
        for pair in ends.windows(2) {
            let [[ax, ay], [bx, by]] = [pair[0], pair[1]];
            let steps = ((bx - ax).hypot(by - ay) / BEAD).ceil().clamp(1.0, 500.0);
            for n in 0..steps as u32 {
                let share = f64::from(n) / steps;
                self.take(about([ax + share * (bx - ax), ay + share * (by - ay)], [BEAD; 2]));
            }
        }
    }
    /// Takes the best place for a word of a size beside a box, wanted towards a direction, and gives its middle.
    pub(super) fn place(&mut self, beside: Area, size: [f64; 2], towards: [f64; 2]) -> [f64; 2] {
        let middle = self.best(beside, size, towards.map(|v| if v.is_finite() { v } else { 0.0 }));
        self.take(about(middle, size));
        middle
    }

    fn best(&self, beside: Area, size: [f64; 2], [right, down]: [f64; 2]) -> [f64; 2] {
        let wanted = down.atan2(right);
        let mut best = (f64::INFINITY, self.inside(centre(beside), size));
        for gap in GAPS {
            for turn in TURNS {
                let middle = beside_at(beside, size, gap, wanted + turn.to_radians());
                if middle != self.inside(middle, size) {
                    continue;
                }
                let cost: f64 = self.taken.iter().map(|t| shared(about(middle, size), *t)).sum();
                if cost <= 0.0 {
                    return middle;
                }
                if cost < best.0 {
                    best = (cost, middle);
                }
            }
        }
        best.1
    }

    /// The middle nearest to one asked for, so that the word stands inside.
    fn inside(&self, [x, y]: [f64; 2], [w, h]: [f64; 2]) -> [f64; 2] {
        let [left, top, right, bottom] = self.within;
        [x.min(right - w / 2.0).max(left + w / 2.0), y.min(bottom - h / 2.0).max(top + h / 2.0)]
    }
}

/// The box of a size about its middle.
pub(super) fn about([x, y]: [f64; 2], [w, h]: [f64; 2]) -> Area {
    [x - w / 2.0, y - h / 2.0, x + w / 2.0, y + h / 2.0]
}

/// The line from a thing to its word, where the word stands so far off that one is needed.
pub(super) fn leader([x, y]: [f64; 2], word: [f64; 2], size: [f64; 2], reach: f64) -> Option<[[f64; 2]; 2]> {
    let [left, top, right, bottom] = about(word, size);
    let end = [x.max(left).min(right), y.max(top).min(bottom)];
    ((end[0] - x).hypot(end[1] - y) > reach).then_some([[x, y], end])
}

fn centre([left, top, right, bottom]: Area) -> [f64; 2] {
    [(left + right) / 2.0, (top + bottom) / 2.0]
}

fn beside_at(beside: Area, size: [f64; 2], gap: f64, angle: f64) -> [f64; 2] {
    let [x, y] = centre(beside);
    // Along the sides of the box, not round it: a wide word would stand far off above and below.
    let along = |v: f64| (v * std::f64::consts::SQRT_2).clamp(-1.0, 1.0);
    let w = (beside[2] - beside[0] + size[0]) / 2.0 + gap;
    let h = (beside[3] - beside[1] + size[1]) / 2.0 + gap;
    [x + along(angle.cos()) * w, y + along(angle.sin()) * h]
}

fn shared(a: Area, b: Area) -> f64 {
    let wide = a[2].min(b[2]) - a[0].max(b[0]);
    let high = a[3].min(b[3]) - a[1].max(b[1]);
    if wide > 0.0 && high > 0.0 { wide * high } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twenty_words_at_one_place_stand_apart_and_inside() {
        let mut room = Room::new([0.0, 0.0, 400.0, 400.0]);
        let size = [28.0, 14.0];
        let thing = about([200.0, 200.0], [12.0, 12.0]);
        room.take(thing);
        let boxes: Vec<Area> = (0..20).map(|_| about(room.place(thing, size, [1.0, 0.0]), size)).collect();
        for (n, a) in boxes.iter().enumerate() {
            assert!(a[0] >= 0.0 && a[1] >= 0.0 && a[2] <= 400.0 && a[3] <= 400.0);
            assert!(boxes[n + 1..].iter().all(|b| shared(*a, *b) == 0.0), "{n}");
        }
    }

    #[test]
    fn no_room_and_no_number_do_no_harm() {
        let mut small = Room::new([0.0, 0.0, 10.0, 10.0]);
        small.take([0.0, 0.0, 10.0, 10.0]);
        let at = small.place([0.0; 4], [28.0, 14.0], [f64::NAN, f64::INFINITY]);
        assert!(at.iter().all(|v| v.is_finite()));
    }
}
