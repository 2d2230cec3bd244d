//! The diagram's frame: axes, the spectrum's colours, and those of black bodies.

use super::super::labels::{Room, about};
use super::super::lettering::width;
use super::super::style::{FAINT, INK, SOFT, number, path};
use crate::report::evidence::ColourChart;
use maud::{Markup, html};

/// Where x = 0 is.
pub(super) const LEFT: f64 = 52.0;
/// Where y = 0.9 is.
pub(super) const TOP: f64 = 12.0;
/// Where x = 0.8 is.
pub(super) const RIGHT: f64 = LEFT + X_END * UNIT;
/// Where y = 0 is.
pub(super) const BOTTOM: f64 = TOP + Y_END * UNIT;
/// Units of the drawing to 1 of x or y.
const UNIT: f64 = 600.0;
const X_END: f64 = 0.8;
const Y_END: f64 = 0.9;
/// Wavelengths told, in nm.
const WAVES: [f64; 6] = [480.0, 500.0, 520.0, 540.0, 580.0, 620.0];
/// Temperatures told, in kelvin.
const KELVINS: [f64; 4] = [2000.0, 3000.0, 5000.0, 10000.0];

/// Where a chromaticity is drawn, where it lies within the axes.
pub(super) fn at([x, y]: [f64; 2]) -> Option<[f64; 2]> {
    let inside = (0.0..=X_END).contains(&x) && (0.0..=Y_END).contains(&y);
    inside.then_some([LEFT + x * UNIT, BOTTOM - y * UNIT])
}

/// Axes with a light grid.
pub(super) fn axes() -> Markup {
    let tick = |n: i32| format!("0.{n}").replace("0.0", "0");
    html! {
        g class="axes" fill=(SOFT) {
            @for n in 0..=8 {
                @let x = LEFT + f64::from(n) * UNIT / 10.0;
                path d=(path(&[[x, TOP], [x, BOTTOM + 5.0]], false)) stroke=(FAINT) fill="none" {}
                text class="tick-x" x=(number(x)) y=(number(BOTTOM + 20.0)) text-anchor="middle" { (tick(n)) }
            }
            @for n in 0..=9 {
                @let y = BOTTOM - f64::from(n) * UNIT / 10.0;
                path d=(path(&[[LEFT - 5.0, y], [RIGHT, y]], false)) stroke=(FAINT) fill="none" {}
                text class="tick-y" x=(number(LEFT - 9.0)) y=(number(y + 5.0)) text-anchor="end" { (tick(n)) }
            }
            path d=(path(&[[LEFT, TOP], [LEFT, BOTTOM], [RIGHT, BOTTOM]], false)) stroke=(SOFT) fill="none" {}
            text x=(number((LEFT + RIGHT) / 2.0)) y=(number(BOTTOM + 40.0)) font-style="italic" text-anchor="middle" { "x" }
            text x="10" y=(number((TOP + BOTTOM) / 2.0)) font-style="italic" { "y" }
        }
    }
}

/// The spectrum's colours, closed by the line of purples, with wavelengths.
pub(super) fn spectrum(locus: &[(f64, [f64; 2])], room: &mut Room) -> Markup {
    let points = drawn(locus);
    let told = WAVES.iter().filter_map(|nm| Some((*nm, on(locus, *nm, |w| w)?)));
    let told: Vec<_> = told.filter_map(|(nm, xy)| Some((nm, at(xy)?))).collect();
    html! {
        path class="locus" d=(path(&points, true)) fill="none" stroke=(INK) stroke-width="1.5" stroke-linejoin="round" {}
        @for (nm, foot) in told {
            // Away from equal energy, about which the locus runs.
            (tick("wave", nm, "nm", foot, away(foot), room))
        }
    }
}

/// The colours of black bodies, with temperatures.
pub(super) fn planck(planck: &[(f64, [f64; 2])], room: &mut Room) -> Markup {
    let points = drawn(planck);
    let told = KELVINS.iter().filter_map(|k| Some((*k, at(on(planck, *k, |kelvin| 1e6 / kelvin)?)?)));
    let told: Vec<_> = told.collect();
    html! {
        path class="planck" d=(path(&points, false)) fill="none" stroke=(SOFT) stroke-dasharray="8 3 1.5 3" {}
        @for (kelvin, foot) in told { (tick("kelvin", kelvin, "K", foot, [0.35, 1.0], room)) }
    }
}

/// Takes the curves' places, so that words stand beside them.
pub(super) fn take(chart: &ColourChart, room: &mut Room) {
    room.take_line(&drawn(&chart.locus), true);
    room.take_line(&drawn(&chart.planck), false);
}

fn drawn(curve: &[(f64, [f64; 2])]) -> Vec<[f64; 2]> {
    curve.iter().filter_map(|(_, xy)| at(*xy)).collect()
}

/// A direction from the colour of equal energy.
pub(super) fn away([x, y]: [f64; 2]) -> [f64; 2] {
    let [cx, cy] = [LEFT + UNIT / 3.0, BOTTOM - UNIT / 3.0];
    [x - cx, y - cy]
}

fn tick(class: &str, value: f64, unit: &str, foot: [f64; 2], [right, down]: [f64; 2], room: &mut Room) -> Markup {
    let long = right.hypot(down).max(1e-9);
    let text = format!("{value} {unit}");
    let size = [width(&text, 13.0), 14.0];
    let [x, y] = room.place(about(foot, [8.0, 8.0]), size, [right, down]);
    // Where there was no room on the wanted side, the tick turns to its words.
    let turn = if (x - foot[0]) * right + (y - foot[1]) * down < 0.0 { -7.0 } else { 7.0 };
    let head = [foot[0] + turn * right / long, foot[1] + turn * down / long];
    html! {
        path class=(class) data-value=(value) d=(path(&[foot, head], false)) stroke=(INK) fill="none" {}
        text x=(number(x)) y=(number(y + 4.5)) font-size="13" fill=(SOFT) text-anchor="middle" { (text) }
    }
}

/// The point of a value on a curve, straight between its neighbours on a measure of the value.
fn on(curve: &[(f64, [f64; 2])], value: f64, measure: impl Fn(f64) -> f64) -> Option<[f64; 2]> {
    let pair = curve.windows(2).find(|p| p[0].0.min(p[1].0) <= value && value <= p[0].0.max(p[1].0))?;
    let [(from, [ax, ay]), (to, [bx, by])] = [pair[0], pair[1]];
    let span = measure(to) - measure(from);
    let share = if span == 0.0 { 0.0 } else { (measure(value) - measure(from)) / span };
    Some([ax + share * (bx - ax), ay + share * (by - ay)])
}
