//! Refinement of a direction by pattern search.

use super::{BESIDE_DEG, Direction, Zone};

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

/// The lowest place a pattern search reaches from a start, with steps from the first size down to the second.
pub(super) fn descend(
    zone: &Zone,
    start: Start,
    (step_deg, finest_deg): (f64, f64),
    f: &mut impl FnMut(&Direction) -> f64,
) -> Start {
    let (mut best, mut step, mut turn, mut looks) = (start, step_deg, 0.0_f64, 0);
    while step > finest_deg && looks < MOST_LOOKS {
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

/// A step of so many degrees across and up, brought back into the zone; `None` where nothing of the zone is near.
fn stepped(zone: &Zone, from: &Start, across_deg: f64, up_deg: f64) -> Option<(f64, f64)> {
    let span = zone.span();
    // Degrees of azimuth shrink with cos el; the floor keeps a step near a pole from going round it.
    let moved = from.offset_deg + across_deg / from.el_deg.to_radians().cos().max(0.01);
    let within =
        |offset: f64| if span.is_full() { offset.rem_euclid(360.0) } else { offset.clamp(0.0, span.width_deg) };
    let (offset, el) = (within(moved), from.el_deg + up_deg);
    if let Some(inside) = zone.nearest_on_meridian(span.at(offset), el).filter(|found| (found - el).abs() < 1e-9) {
        return Some((offset, inside));
    }
    // Outside: along the meridian, or along the parallel where an edge runs nearly along meridians.
    let beside = zone.azimuths_at(el).into_iter().flat_map(|a| [a - 2.0 * BESIDE_DEG, a + 2.0 * BESIDE_DEG]);
    std::iter::once(offset)
        .chain(beside.map(|a| span.offset_deg(a)).filter(|o| span.is_full() || *o <= span.width_deg))
        .filter_map(|o| zone.nearest_on_meridian(span.at(o), el).map(|found| (o, found)))
        .min_by(|a, b| {
            let far = |(o, e): &(f64, f64)| (o - offset).hypot(e - el);
            far(a).total_cmp(&far(b))
        })
}
