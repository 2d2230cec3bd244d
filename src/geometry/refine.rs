//! Refinement of the best directions of a grid by pattern search.

use super::{Direction, Zone};

/// How many separate places are refined.
const PLACES: usize = 6;
/// Where a search stops, in degrees.
const FINEST_DEG: f64 = 5e-7;
/// Looks at the function per place before a search stops.
const MOST_LOOKS: usize = 1500;
/// The golden angle in degrees: turned by it, the trial directions never repeat and no ridge lies between them.
const TURN_DEG: f64 = 137.507_764_050_037_85;

/// A direction of a zone, by its offset in the zone's span too, with the value to be made low.
#[derive(Debug, Clone, Copy)]
pub(super) struct Start {
    pub value: f64,
    pub offset_deg: f64,
    pub el_deg: f64,
    pub at: Direction,
}

/// The lowest few values offered that lie apart from each other.
#[derive(Debug)]
pub(super) struct Starts {
    kept: Vec<Start>,
    cos_apart: f64,
}

impl Starts {
    pub fn apart_by(angle_deg: f64) -> Self {
        Self { kept: Vec::with_capacity(PLACES + 1), cos_apart: angle_deg.to_radians().cos() }
    }

    /// Takes a start in if it is among the lowest; a lower one close by shuts it out.
    pub fn offer(&mut self, start: Start) {
        let full = self.kept.len() >= PLACES;
        let beaten = full && self.kept.last().is_some_and(|last| start.value >= last.value);
        if start.value.is_nan() || beaten {
            return;
        }
        let close = |kept: &Start| kept.at.cos_to(&start.at) > self.cos_apart;
        if self.kept.iter().any(|kept| kept.value <= start.value && close(kept)) {
            return;
        }
        let cos_apart = self.cos_apart;
        self.kept.retain(|kept| kept.at.cos_to(&start.at) <= cos_apart);
        let place = self.kept.partition_point(|kept| kept.value <= start.value);
        self.kept.insert(place, start);
        self.kept.truncate(PLACES);
    }
}

/// The lowest place found from any of the starts; `None` for no start.
pub(super) fn refined(
    zone: &Zone,
    starts: &Starts,
    step_deg: f64,
    f: &mut impl FnMut(&Direction) -> f64,
) -> Option<Start> {
    starts
        .kept
        .iter()
        .map(|start| descend(zone, *start, step_deg, f))
        // The first of equals: the start that was best on the grid.
        .reduce(|best, next| if next.value < best.value { next } else { best })
}

fn descend(zone: &Zone, start: Start, step_deg: f64, f: &mut impl FnMut(&Direction) -> f64) -> Start {
    let (mut best, mut step, mut turn, mut looks) = (start, step_deg, 0.0_f64, 0);
    while step > FINEST_DEG && looks < MOST_LOOKS {
        let mut moved = false;
        for k in 0..8 {
            let (s, c) = (turn + 45.0 * f64::from(k)).to_radians().sin_cos();
            let Some((offset_deg, el_deg)) = stepped(zone, &best, step * c, step * s) else { continue };
            let at = Direction::from_degrees(zone.span().at(offset_deg), el_deg);
            looks += 1;
            let value = f(&at);
            if value < best.value - 1e-13 * best.value.abs() {
                best = Start { value, offset_deg, el_deg, at };
                moved = true;
                break;
            }
        }
        if moved {
            step = (1.5 * step).min(step_deg);
        } else {
            step *= 0.6;
            turn = (turn + TURN_DEG) % 360.0;
        }
    }
    best
}

/// A step of so many degrees across and up, brought back into the zone; `None` where its meridian has no band.
fn stepped(zone: &Zone, from: &Start, across_deg: f64, up_deg: f64) -> Option<(f64, f64)> {
    let span = zone.span();
    // Degrees of azimuth shrink with cos el; the floor keeps a step near a pole from going round it.
    let moved = from.offset_deg + across_deg / from.el_deg.to_radians().cos().max(0.01);
    let offset = if span.is_full() { moved.rem_euclid(360.0) } else { moved.clamp(0.0, span.width_deg) };
    let el = from.el_deg + up_deg;
    zone.bands_at(span.at(offset))
        .into_iter()
        .map(|(low, high)| (offset, el.clamp(low, high.max(low))))
        .min_by(|a, b| (a.1 - el).abs().total_cmp(&(b.1 - el).abs()))
}
