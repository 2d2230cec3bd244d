//! Beams, masks and visual range against published tables, closed forms and pencil work.

use lampwright::geometry::{
    AzimuthSpan, Cell, Direction, Ends, Extremum, State, Zone, area_where, cap_half_angle_deg, cap_solid_angle_sr,
};
use lampwright::photometry::{
    Beam, BodyState, COLREG_TRANSMISSIVITY_PER_NMI, Mask, NIGHT_THRESHOLD_LX, NOMINAL_VISIBILITY_M, Pass, Sector,
    Shape, Transmission, full_size_equivalent, intensity_for_range, penumbra_half_width_deg, range_of_intensity,
};
use lampwright::units::{Illuminance, Intensity, Interval, Length};
use proptest::prelude::*;
use std::f64::consts::PI;

fn table(text: &str) -> Vec<csv::StringRecord> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader.records().map(|r| r.expect("a row")).collect()
}

fn number(row: &csv::StringRecord, column: usize) -> f64 {
    row[column].parse().expect("a number")
}

fn ahead() -> Direction {
    Direction::from_degrees(0.0, 0.0)
}

fn cosine(half_deg: f64) -> Shape {
    Shape::cosine_power(Interval::exactly(half_deg)).expect("well formed")
}

fn beam(shape: Shape, peak_cd: f64) -> Beam {
    Beam::new(ahead(), Interval::exactly(peak_cd), shape).expect("well formed")
}

#[test]
fn cosine_beams_are_the_closed_form() {
    let rows = table(include_str!("published/lambertian_power_beams.csv"));
    assert_eq!(rows.len(), 22);
    for row in rows {
        let (half, m, per_peak) = (number(&row, 0), number(&row, 2), number(&row, 3));
        let shape = cosine(half);
        assert!((shape.flux_per_peak().low - per_peak).abs() < 6e-7, "{half}");
        let peak = shape.peak_from_flux(Interval::exactly(1.0)).expect("light");
        assert!((peak.high - number(&row, 4)).abs() < 6e-6, "{half}");
        let lamp = beam(shape, 2.0);
        let at = |deg: f64| lamp.intensity_cd(&Direction::from_degrees(deg, 0.0));
        assert!((at(half).low - 1.0).abs() < 1e-9 && at(half).is_exact(), "{half}");
        let third = f64::to_radians(half / 3.0).cos().powf(m);
        assert!((at(half / 3.0).low - 2.0 * third).abs() < 1e-5, "{half}");
        // The printed tenth-peak angle is rounded to 0.001 degrees: known just inside, not just outside.
        let tenth = number(&row, 10);
        assert!(at(tenth - 0.001).is_exact() && (at(tenth - 0.001).low - 0.2).abs() < 1e-3, "{half}");
        assert_eq!(at(tenth + 0.001), Interval { low: 0.0, high: 0.2 }, "{half}");
    }
}

#[test]
fn a_full_angle_taken_for_a_half_angle_overstates_the_flux() {
    for row in table(include_str!("published/lambertian_power_beams.csv")) {
        if row[12].is_empty() {
            continue;
        }
        let flux = |half: f64| cosine(half).flux_per_peak().low;
        let factor = flux(number(&row, 1)) / flux(number(&row, 0));
        assert!((factor - number(&row, 12)).abs() < 1e-3, "{row:?}");
    }
    // 10 000 mcd at 15 degrees FULL angle: 0.769 lm, not 2.993 lm.
    assert!((10.0 * cosine(7.5).flux_per_peak().low - 0.769).abs() < 5e-4);
    assert!((10.0 * cosine(15.0).flux_per_peak().low - 2.993).abs() < 5e-4);
}

#[test]
fn a_range_of_half_angles_is_narrow_below_and_wide_above() {
    // m = 2 for 45 degrees and 1 for 60 (closed form). At 30 degrees: cos^2 30 = 0.75, cos 30 = 0.8660.
    let shape = Shape::cosine_power(Interval::new(45.0, 60.0)).expect("well formed");
    let lamp = Beam::new(ahead(), Interval::new(8.0, 10.0), shape).expect("well formed");
    let at = |deg: f64| lamp.intensity_cd(&Direction::from_degrees(0.0, deg));
    assert!((at(30.0).low - 6.0).abs() < 1e-9 && (at(30.0).high - 8.660254).abs() < 1e-6);
    // Tenth angles 71.565 and 84.261 degrees: between them the low end is dark, the high end cos 75 = 0.258819.
    assert!(at(75.0).low == 0.0 && (at(75.0).high - 2.588190).abs() < 1e-6);
    assert_eq!(at(86.0), Interval { low: 0.0, high: 1.0 });
    let leaky = lamp.with_behind_high_cd(0.3).expect("well formed");
    assert_eq!(leaky.intensity_cd(&Direction::from_degrees(180.0, 0.0)), Interval { low: 0.0, high: 0.3 });
    assert_eq!(leaky.intensity_cd(&Direction::from_degrees(90.0, 0.0)).high, 1.0);
}

#[test]
fn tables_are_straight_lines_and_unknown_beyond_their_end() {
    let shape = Shape::table(vec![0.0, 20.0, 25.0, 90.0], vec![1.0, 0.2883, 0.1399, 0.5]).expect("well formed");
    let lamp = beam(shape, 14.0);
    // acos(cos 5 cos 20) = 20.595 degrees off the axis: 0.2708 x 14 = 3.791 cd (by hand).
    let found = lamp.intensity_cd(&Direction::from_degrees(20.0, 5.0));
    assert!(found.is_exact() && (found.low - 3.791).abs() < 1e-3, "{found:?}");
    assert!((lamp.intensity_cd(&Direction::from_degrees(0.0, 90.0)).low - 7.0).abs() < 1e-9);
    assert_eq!(lamp.intensity_cd(&Direction::from_degrees(90.1, 0.0)), Interval { low: 0.0, high: 14.0 });
}

#[test]
fn table_flux_is_the_exact_integral() {
    // Constant over the sphere: 4 pi. 502.6548 lm / 4 pi = 40 cd.
    let even = Shape::table(vec![0.0, 180.0], vec![1.0, 1.0]).expect("well formed");
    assert!((even.flux_per_peak().low - 4.0 * PI).abs() < 1e-12);
    let peak = even.peak_from_flux(Interval::exactly(502.654824574)).expect("light");
    assert!((peak.low - 40.0).abs() < 1e-9 && peak.is_exact());
    // 2 pi x integral of (1 - theta / (pi/2)) sin theta over 0..pi/2 = 2 pi (1 - 2/pi) = 2 pi - 4.
    let ramp = Shape::table(vec![0.0, 90.0], vec![1.0, 0.0]).expect("well formed");
    assert!((ramp.flux_per_peak().low - (2.0 * PI - 4.0)).abs() < 1e-12);
    // Split pieces change nothing.
    let split = Shape::table(vec![0.0, 13.0, 45.0, 90.0], vec![1.0, 1.0 - 13.0 / 90.0, 0.5, 0.0]).expect("well formed");
    assert!((split.flux_per_peak().low - (2.0 * PI - 4.0)).abs() < 1e-12);
    let dark = Shape::table(vec![0.0, 90.0], vec![0.0, 0.0]).expect("well formed");
    assert!(dark.peak_from_flux(Interval::exactly(1.0)).is_none());
}

#[test]
fn isotropic_lamps_are_even_but_for_base_and_unevenness() {
    let lamp = Shape::isotropic(None, Interval::new(0.8, 1.2)).expect("well formed");
    let flux = lamp.flux_per_peak();
    assert!((flux.low - 0.8 * 4.0 * PI).abs() < 1e-12 && (flux.high - 1.2 * 4.0 * PI).abs() < 1e-12);
    let based = beam(Shape::isotropic(Some(120.0), Interval::exactly(1.0)).expect("well formed"), 3.0);
    assert!((based.shape().flux_per_peak().low - cap_solid_angle_sr(120.0)).abs() < 1e-12);
    assert_eq!(based.intensity_cd(&Direction::from_degrees(120.0, 0.0)), Interval::exactly(3.0));
    assert_eq!(based.intensity_cd(&Direction::from_degrees(121.0, 0.0)), Interval::ZERO);
    assert_eq!(based.body().body_state(&Direction::from_degrees(121.0, 0.0)), BodyState::Hidden);
    assert_eq!(based.body().body_state(&Direction::from_degrees(0.0, 90.0)), BodyState::Clear);
}

#[test]
fn a_body_hides_half_a_sphere_or_nothing_or_is_unknown() {
    let hidden_sr = |b: &Beam, state: BodyState| {
        area_where(&Zone::sphere(), &[], &[], 2e-3, |c| match b.body().body_state_of_cell(c) {
            Some(s) if s == state => State::Inside,
            Some(_) => State::Outside,
            None => State::Mixed,
        })
        .interval()
    };
    let aim = |shape: Shape| Beam::new(Direction::from_degrees(30.0, 20.0), Interval::exactly(1.0), shape).expect("ok");
    assert!(hidden_sr(&aim(cosine(10.0)), BodyState::Hidden).contains(2.0 * PI));
    let whole = aim(Shape::table(vec![0.0, 180.0], vec![1.0, 0.0]).expect("well formed"));
    assert_eq!(hidden_sr(&whole, BodyState::Clear).low, hidden_sr(&whole, BodyState::Clear).high);
    let short = aim(Shape::table(vec![0.0, 70.0], vec![1.0, 0.0]).expect("well formed"));
    assert!(hidden_sr(&short, BodyState::Unknown).contains(4.0 * PI - cap_solid_angle_sr(70.0)));
}

fn rear_beam() -> Beam {
    Beam::new(Direction::from_degrees(180.0, 0.0), Interval::exactly(5.0), cosine(60.0)).expect("well formed")
}

#[test]
fn the_rear_lamp_by_pencil() {
    // 5 cd, m = 1, on a 1:5 model: 125 cos(theta) at full size.
    let full = |d: &Direction| rear_beam().intensity_cd(d).scaled(25.0);
    let horizon = Zone::rectangle(AzimuthSpan::between(110.0, -110.0), &[(0.0, 0.0)]);
    let over = |c: &Cell| rear_beam().intensity_over(c).scaled(25.0);
    let floor = horizon.extremes_of_interval(Extremum::Lowest, (&[], &[]), full, over).expect("not empty");
    // 125 cos 70 / 20 = 2.137626.
    assert!((floor.low.value / 20.0 - 2.137626).abs() < 1e-6 && floor.interval().width() < 1e-9, "{floor:?}");
    let area_a = Zone::between_planes(AzimuthSpan::between(0.0, 110.0), 110.0, 10.0, 20.0);
    let ceiling = area_a.extremes_of_interval(Extremum::Highest, (&[], &[]), full, over).expect("not empty");
    // 125 cos 80 / 5 = 4.341204 at azimuth 100.
    assert!((ceiling.low.value / 5.0 - 4.341204).abs() < 1e-5, "{ceiling:?}");
    assert!((ceiling.high.value / 5.0 - 4.341204).abs() < 1e-5, "{ceiling:?}");
}

fn open_to(from: f64, to: f64) -> Mask {
    let sector = Sector { azimuth: AzimuthSpan::between(from, to), elevation_deg: (-90.0, 90.0) };
    Mask::all_but(vec![sector], Some(0.0)).expect("well formed")
}

#[test]
fn two_green_lamps_behind_a_shroud_meet_their_hand_figure() {
    // 1:8 commuter twin: main 1.1 cd aimed at azimuth 8, fill 2 x 0.07 cd at 60, cover 0.92, shroud open from -14 to 115.
    // In L's area A the highest is at azimuth -10, elevation 0. Main 18 degrees off, between 0.6796 (15) and 0.5 (20):
    // 0.57184; fill 70 off, between 0.9 (60) and 0.7 (90): 0.83333. 64 x 0.92 x (1.1 x 0.57184 + 0.14 x 0.83333) = 43.906 cd.
    let tabled = |axis_deg: f64, peak: f64, angles: &[f64], relative: &[f64]| {
        let shape = Shape::table(angles.to_vec(), relative.to_vec()).expect("well formed");
        Beam::new(Direction::from_degrees(axis_deg, 0.0), Interval::exactly(peak), shape).expect("well formed")
    };
    let angles: Vec<f64> = (0..=18).map(|k| f64::from(5 * k)).chain([180.0]).collect();
    let mut relative =
        vec![1.0, 0.9584, 0.8432, 0.6796, 0.5, 0.3341, 0.2013, 0.1083, 0.0513, 0.021, 0.0073, 0.002, 0.0004, 0.0001];
    relative.resize(20, 0.0);
    let main = tabled(8.0, 1.1, &angles, &relative);
    let fill =
        tabled(60.0, 0.14, &[0.0, 30.0, 60.0, 90.0, 120.0, 150.0, 180.0], &[1.0, 0.96, 0.9, 0.7, 0.4, 0.22, 0.15]);
    let mask = open_to(-14.0, 115.0);
    let f = |d: &Direction| ((main.intensity_cd(d) + fill.intensity_cd(d)) * mask.pass(d).share()).scaled(64.0 * 0.92);
    let l = AzimuthSpan::between(-110.0, 0.0);
    let a = Zone::between_planes(l, 0.0, 10.0, 20.0);
    let over = |c: &Cell| {
        let both = (main.intensity_over(c) + fill.intensity_over(c)).scaled(64.0 * 0.92);
        match mask.pass_of_cell(c) {
            Some(Pass::Open) => both,
            Some(Pass::Hidden) => Ends::of(Interval::ZERO),
            _ => both.hull(Ends::of(Interval::ZERO)),
        }
    };
    let breaks = (mask.az_breaks(), mask.el_breaks());
    let found = a.extremes_of_interval(Extremum::Highest, breaks, f, over).expect("not empty");
    assert!((found.high.value - 43.906).abs() < 2e-3 && found.interval().width() < 1e-9, "{found:?}");
    assert!((found.high.at.azimuth_deg() + 10.0).abs() < 0.01, "{found:?}");
    // Beyond 20 degrees the shroud is closed.
    let b = Zone::between_planes(l, 0.0, 20.0, 90.0);
    let found = b.extremes_of_interval(Extremum::Highest, breaks, f, over);
    assert_eq!(found.expect("not empty").high.value, 0.0);
}

fn hidden_area(mask: &Mask, zone: &Zone, also: impl Fn(&Cell) -> Option<bool>) -> Interval {
    area_where(zone, mask.az_breaks(), mask.el_breaks(), 2e-5, |c| match (mask.pass_of_cell(c), also(c)) {
        (Some(Pass::Open), _) | (_, Some(false)) => State::Outside,
        (Some(Pass::Hidden), Some(true)) => State::Inside,
        (Some(Pass::Penumbra), _) => State::Unknown,
        _ => State::Mixed,
    })
    .interval()
}

#[test]
fn a_cut_strobe_obstructs_what_pencil_says() {
    let mask = open_to(-175.0, 175.0);
    let band = Zone::rectangle(AzimuthSpan::FULL, &[(-75.0, 75.0)]);
    // (10 deg) x 2 sin 75.
    let whole = hidden_area(&mask, &band, |_| Some(true));
    assert!((whole.low - 0.3371717).abs() < 1e-7 && whole.width() < 1e-9, "{whole:?}");
    let cone_rad = cap_half_angle_deg(0.15).to_radians();
    let astern = Direction::from_degrees(180.0, 0.0);
    let in_cone = hidden_area(&mask, &band, |c| {
        let angle = c.center.angle_to_rad(&astern);
        if angle + c.radius_rad <= cone_rad {
            Some(true)
        } else if angle - c.radius_rad > cone_rad {
            Some(false)
        } else {
            None
        }
    });
    // Integral over -5..5 deg of 2 sqrt(1 - (cos 12.5447 / cos x)^2) dx = 0.0738203 sr.
    assert!(in_cone.low - 1e-7 <= 0.0738203 && 0.0738203 <= in_cone.high + 1e-7, "{in_cone:?}");
    assert!(in_cone.width() < 2.1e-5);
}

#[test]
fn a_cut_below_obstructs_what_pencil_says() {
    // Below elevation -80 nothing, in a wedge of 110 degrees: 1.9198622 x (1 - sin 80).
    let open = Sector { azimuth: AzimuthSpan::between(-112.0, 14.0), elevation_deg: (-80.0, 90.0) };
    let mask = Mask::all_but(vec![open], Some(0.0)).expect("well formed");
    let l = Zone::rectangle(AzimuthSpan::between(-110.0, 0.0), &[(-90.0, 90.0)]);
    let found = hidden_area(&mask, &l, |_| Some(true));
    assert!((found.low - 0.0291671).abs() < 1e-7 && found.width() < 1e-9, "{found:?}");
}

#[test]
fn sectors_act_as_one_union() {
    let sector = |from, to, low, high| Sector { azimuth: AzimuthSpan::between(from, to), elevation_deg: (low, high) };
    // Two adjoining sectors are one, and so are two that overlap.
    let one = Mask::new(vec![sector(10.0, 60.0, -20.0, 40.0)], Some(2.0)).expect("well formed");
    for parts in [
        vec![sector(10.0, 30.0, -20.0, 40.0), sector(30.0, 60.0, -20.0, 40.0)],
        vec![sector(10.0, 45.0, -20.0, 40.0), sector(30.0, 60.0, -20.0, 40.0)],
        vec![sector(10.0, 60.0, -20.0, 5.0), sector(10.0, 60.0, 5.0, 40.0)],
    ] {
        let many = Mask::new(parts, Some(2.0)).expect("well formed");
        for az in 0..80 {
            for el in -30..50 {
                let d = Direction::from_degrees(f64::from(az), f64::from(el));
                assert_eq!(one.pass(&d), many.pass(&d), "{d:?}");
            }
        }
    }
}

#[test]
fn poles_are_hidden_only_all_round() {
    let sector = |from, to| Sector { azimuth: AzimuthSpan::between(from, to), elevation_deg: (50.0, 90.0) };
    let up = Direction::from_degrees(0.0, 90.0);
    let half = Mask::new(vec![sector(-90.0, 90.0)], Some(0.0)).expect("well formed");
    assert_eq!(half.pass(&up), Pass::Open);
    let both = Mask::new(vec![sector(-90.0, 90.0), sector(90.0, -90.0)], Some(0.0)).expect("well formed");
    assert_eq!(both.pass(&up), Pass::Hidden);
    let round = Mask::new(vec![sector(-180.0, 180.0)], Some(0.0)).expect("well formed");
    assert_eq!(round.pass(&up), Pass::Hidden);
    assert_eq!(round.pass(&Direction::from_degrees(180.0, 60.0)), Pass::Hidden);
    assert_eq!(round.pass(&Direction::from_degrees(77.0, 50.0)), Pass::Open);
    assert_eq!(
        half.pass_of_cell(&Cell::new(AzimuthSpan::between(0.0, 5.0), Interval::new(85.0, 90.0))),
        Some(Pass::Hidden)
    );
}

#[test]
fn penumbrae_are_angular_distances() {
    // A hidden half space to the right of the meridian 0/180: the angle to its edge is asin(cos el sin az).
    let right = Sector { azimuth: AzimuthSpan::between(0.0, 180.0), elevation_deg: (-90.0, 90.0) };
    let mask = Mask::new(vec![right], Some(10.0)).expect("well formed");
    // At elevation 60: asin(cos 60 sin 19) = 9.37 degrees; asin(cos 60 sin 21) = 10.32.
    assert_eq!(mask.pass(&Direction::from_degrees(19.0, 60.0)), Pass::Penumbra);
    assert_eq!(mask.pass(&Direction::from_degrees(21.0, 60.0)), Pass::Hidden);
    assert_eq!(mask.pass(&Direction::from_degrees(-19.0, 60.0)), Pass::Penumbra);
    assert_eq!(mask.pass(&Direction::from_degrees(-21.0, 60.0)), Pass::Open);
    // Beyond a corner the nearest point is the corner: a sector of elevation 0..30, a direction at azimuth -6 and
    // elevation -6 is acos(cos^2 6) = 8.48 degrees from its corner (0, 0); at -8, -8 it is 11.30.
    let corner = Sector { azimuth: AzimuthSpan::between(0.0, 60.0), elevation_deg: (0.0, 30.0) };
    let mask = Mask::new(vec![corner], Some(10.0)).expect("well formed");
    assert_eq!(mask.pass(&Direction::from_degrees(-6.0, -6.0)), Pass::Penumbra);
    assert_eq!(mask.pass(&Direction::from_degrees(-8.0, -8.0)), Pass::Open);
    // Above an edge of constant elevation the angle is the difference of elevations.
    assert_eq!(mask.pass(&Direction::from_degrees(30.0, 39.9)), Pass::Penumbra);
    assert_eq!(mask.pass(&Direction::from_degrees(30.0, 40.1)), Pass::Open);
    // 5 mm source, 30 mm from the edge: atan(5 / 60) = 4.7636 degrees.
    let half = penumbra_half_width_deg(Length::from_mm(5.0), Length::from_mm(30.0));
    assert!((half - 4.7636).abs() < 1e-4);
    assert_eq!(penumbra_half_width_deg(Length::from_mm(0.0), Length::from_mm(30.0)), 0.0);
}

#[test]
fn an_unknown_penumbra_may_be_anywhere_near() {
    let right = Sector { azimuth: AzimuthSpan::between(0.0, 180.0), elevation_deg: (-90.0, 90.0) };
    let mask = Mask::new(vec![right], None).expect("well formed");
    assert_eq!(mask.pass(&Direction::from_degrees(89.0, 0.0)), Pass::Penumbra);
    assert_eq!(mask.pass(&Direction::from_degrees(-44.0, 0.0)), Pass::Penumbra);
    assert_eq!(mask.pass(&Direction::from_degrees(-46.0, 0.0)), Pass::Open);
    let narrower = mask.with_unknown_reach(30.0, 5.0);
    assert_eq!(narrower.pass(&Direction::from_degrees(31.0, 0.0)), Pass::Hidden);
    assert_eq!(narrower.pass(&Direction::from_degrees(-6.0, 0.0)), Pass::Open);
}

#[test]
fn colreg_prints_these_intensities() {
    let air = Transmission::from_transmissivity_per_nmi(COLREG_TRANSMISSIVITY_PER_NMI).expect("a share");
    let threshold = Illuminance::from_lx(NIGHT_THRESHOLD_LX);
    for row in table(include_str!("published/colreg_annex1_intensity.csv")) {
        let found = intensity_for_range(Length::from_m(number(&row, 0) * 1852.0), threshold, air).cd();
        assert!((found - number(&row, 3)).abs() < 6e-5, "{row:?} {found}");
        // The printed table rounds to two figures, 0.8575 up to 0.9.
        let unit = if number(&row, 1) < 10.0 { 0.1 } else { 1.0 };
        assert!((found - number(&row, 1)).abs() <= 0.5 * unit, "{row:?} {found}");
    }
    // K = 0.8 is a visibility of 13.425 nautical miles at 5 %.
    let visibility = -0.05_f64.ln() / air.extinction_per_m() / 1852.0;
    assert!((visibility - 13.425).abs() < 5e-4);
}

/// The air by the heading of the published table.
fn air(v: &str) -> Transmission {
    let visibility = |m: f64| Transmission::from_visibility(Length::from_m(m)).expect("a visibility");
    match v {
        "inf" => Transmission::CLEAR,
        "10nmi" => visibility(NOMINAL_VISIBILITY_M),
        "5SM" => visibility(5.0 * 1609.344),
        "3SM" => visibility(3.0 * 1609.344),
        "0.8/nmi" => Transmission::from_transmissivity_per_nmi(0.8).expect("a share"),
        other => panic!("no air {other}"),
    }
}

#[test]
fn intensities_needed_for_a_range_are_allards() {
    let rows = table(include_str!("published/visual_range_intensity.csv"));
    assert_eq!(rows.len(), 25);
    for row in rows {
        let (distance, threshold) = (Length::from_m(number(&row, 1)), Illuminance::from_lx(number(&row, 2)));
        for (column, v) in [(3, "inf"), (4, "10nmi"), (5, "0.8/nmi"), (6, "5SM"), (7, "3SM")] {
            let found = intensity_for_range(distance, threshold, air(v)).cd();
            assert!((found - number(&row, column)).abs() < 6e-5 + 1e-9 * found, "{row:?} {v} {found}");
        }
    }
    // A transmissivity of 0.74 per nautical mile is a visibility of 10 (IES nominal range).
    assert!((air("10nmi").share_over(Length::from_m(1852.0)) - 0.741134).abs() < 1e-6);
    assert!((air("10nmi").share_over(Length::from_m(1000.0)) - 0.850648).abs() < 1e-6);
}

#[test]
fn ranges_of_an_intensity_are_allards() {
    let text = include_str!("published/visual_range_of_intensity.csv");
    let header = text.lines().find(|l| l.starts_with("I_cd")).expect("a header");
    for (column, name) in header.split(',').enumerate().skip(1) {
        let (threshold, v) = name.trim_start_matches("range_km_E=").split_once("_V=").expect("a heading");
        let threshold = Illuminance::from_lx(threshold.parse().expect("lux"));
        for row in table(text) {
            let intensity = Intensity::from_cd(number(&row, 0));
            let found = range_of_intensity(intensity, threshold, air(v)).expect("a range");
            assert!((found.m() / 1000.0 - number(&row, column)).abs() < 6e-4, "{row:?} {name} {found:?}");
            let back = intensity_for_range(found, threshold, air(v)).cd();
            assert!((back / intensity.cd() - 1.0).abs() < 1e-9, "{back}");
        }
    }
    let night = Illuminance::from_lx(NIGHT_THRESHOLD_LX);
    assert!(range_of_intensity(Intensity::from_cd(0.0), night, Transmission::CLEAR).is_none());
    assert!(range_of_intensity(Intensity::from_cd(1.0), Illuminance::from_lx(0.0), Transmission::CLEAR).is_none());
    assert!(Transmission::from_visibility(Length::from_m(0.0)).is_none());
    assert!(Transmission::from_transmissivity_per_nmi(1.1).is_none());
}

#[test]
fn lamps_on_a_model_stand_for_full_size_ones() {
    for row in table(include_str!("published/scale_table.csv")) {
        let n = number(&row, 0);
        for (column, full) in [(2, 5.0), (3, 20.0), (4, 40.0), (5, 100.0), (6, 400.0)] {
            let found = full_size_equivalent(Intensity::from_cd(number(&row, column)), n).cd();
            assert!((found / full - 1.0).abs() < 6e-6, "{row:?} {found}");
            // From d / N the model's lamp gives the illuminance the full-size light gives from d, here 3 miles.
            let need = |m: f64, lx: f64| {
                intensity_for_range(Length::from_m(m), Illuminance::from_lx(lx), Transmission::CLEAR).cd()
            };
            let lx = full / 4828.032_f64.powi(2);
            assert!((need(number(&row, 8), lx) / number(&row, column) - 1.0).abs() < 1e-3, "{row:?}");
        }
    }
}

fn any_shape() -> impl Strategy<Value = Shape> {
    prop_oneof![
        (1.0..88.0_f64, 0.0..1.0_f64)
            .prop_map(|(half, more)| { Shape::cosine_power(Interval::new(half, half + more)).expect("well formed") }),
        (proptest::option::of(1.0..180.0_f64), 0.1..1.0_f64, 1.0..2.0_f64).prop_map(|(blocked, low, high)| {
            Shape::isotropic(blocked, Interval::new(low, high)).expect("well formed")
        }),
        (prop::collection::vec((0.5..20.0_f64, 0.0..1.0_f64), 1..9)).prop_map(|points| {
            let mut angles = vec![0.0];
            angles.extend(points.iter().scan(0.0, |sum, p| {
                *sum += p.0;
                Some(*sum)
            }));
            let relative = std::iter::once(1.0).chain(points.iter().map(|p| p.1)).collect();
            Shape::table(angles, relative).expect("well formed")
        }),
    ]
}

prop_compose! {
    fn any_direction()(az in -180.0..180.0_f64, el in -90.0..=90.0_f64) -> Direction { Direction::from_degrees(az, el) }
}

prop_compose! {
    fn any_beam()(axis in any_direction(), peak in 0.0..100.0_f64, more in 0.0..10.0_f64, shape in any_shape(), behind in 0.0..1.0_f64) -> Beam {
        Beam::new(axis, Interval::new(peak, peak + more), shape)
            .and_then(|b| b.with_behind_high_cd(behind))
            .expect("well formed")
    }
}

prop_compose! {
    fn any_sector()(from in -180.0..180.0_f64, width in 0.0..360.0_f64, a in -90.0..=90.0_f64, b in -90.0..=90.0_f64) -> Sector {
        Sector { azimuth: AzimuthSpan::new(from, width), elevation_deg: (a.min(b), a.max(b)) }
    }
}

prop_compose! {
    fn any_mask()(sectors in prop::collection::vec(any_sector(), 0..5), half in proptest::option::of(0.0..30.0_f64), hides in any::<bool>()) -> Mask {
        if hides { Mask::new(sectors, half) } else { Mask::all_but(sectors, half) }.expect("well formed")
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn intensities_are_intervals_of_numbers(beam in any_beam(), d in any_direction()) {
        let found = beam.intensity_cd(&d);
        prop_assert!(0.0 <= found.low && found.low <= found.high && found.high.is_finite(), "{found:?}");
        let flux = beam.shape().flux_per_peak();
        prop_assert!(flux.low <= flux.high && flux.low >= 0.0 && flux.high <= 2.0 * 4.0 * PI + 1e-9, "{flux:?}");
    }

    #[test]
    fn a_mirrored_beam_shines_in_the_mirror(beam in any_beam(), d in any_direction()) {
        prop_assert_eq!(beam.mirrored().intensity_cd(&d.mirrored()), beam.intensity_cd(&d));
        prop_assert_eq!(beam.mirrored().body().body_state(&d.mirrored()), beam.body().body_state(&d));
    }

    #[test]
    fn a_mirrored_mask_hides_in_the_mirror(mask in any_mask(), d in any_direction()) {
        prop_assert_eq!(mask.mirrored().pass(&d.mirrored()), mask.pass(&d));
    }

    #[test]
    fn a_mask_only_lowers(mask in any_mask(), beam in any_beam(), d in any_direction()) {
        let (free, masked) = (beam.intensity_cd(&d), beam.intensity_cd(&d) * mask.pass(&d).share());
        prop_assert!(masked.low <= free.low && masked.high <= free.high && masked.low <= masked.high && masked.low >= 0.0);
    }

    #[test]
    fn a_mask_and_its_complement_are_opposite(sectors in prop::collection::vec(any_sector(), 1..5), half in 0.0..10.0_f64, d in any_direction()) {
        let (hides, leaves) = (Mask::new(sectors.clone(), Some(half)).expect("ok"), Mask::all_but(sectors.clone(), Some(half)).expect("ok"));
        let opposite = match hides.pass(&d) { Pass::Open => Pass::Hidden, Pass::Hidden => Pass::Open, Pass::Penumbra => Pass::Penumbra };
        prop_assert_eq!(leaves.pass(&d), opposite);
        let inside = sectors.iter().any(|s| s.azimuth.contains(d.azimuth_deg(), false) && d.elevation_deg() > s.elevation_deg.0 && d.elevation_deg() < s.elevation_deg.1);
        if half == 0.0 || hides.pass(&d) != Pass::Penumbra {
            prop_assert_eq!(hides.pass(&d) == Pass::Hidden, inside);
        }
    }

    #[test]
    fn cells_pass_as_their_points_do(mask in any_mask(), s in 0.0..1.0_f64, t in 0.0..1.0_f64, i in 0..400_usize, size in 1.0..15.0_f64) {
        // A cell between breaks: a part of one of the fields the breaks cut.
        let els = mask.el_breaks();
        let row = i % (els.len() - 1);
        let (low, high) = (els[row], els[row + 1]);
        let high = high.min(low + size);
        let azs = mask.az_breaks();
        let span = if azs.is_empty() { AzimuthSpan::FULL } else {
            let column = (i / 7) % azs.len();
            AzimuthSpan::between(azs[column], azs[(column + 1) % azs.len()])
        };
        let cell = Cell::new(AzimuthSpan::new(span.from_deg, span.width_deg.min(size)), Interval::new(low, high));
        // Points on the rim of the cell may lie on an edge, which is open.
        let within = |x: f64| 0.001 + 0.998 * x;
        let point = Direction::from_degrees(cell.azimuth.at(within(s) * cell.azimuth.width_deg), low + within(t) * (high - low));
        if let Some(pass) = mask.pass_of_cell(&cell) {
            prop_assert_eq!(pass, mask.pass(&point), "{:?}", cell);
        }
    }

    #[test]
    fn no_nan_gets_in_or_out(a in prop::num::f64::ANY, b in prop::num::f64::ANY, c in prop::num::f64::ANY, d in any_direction()) {
        let (raw, at) = (Interval { low: a, high: b }, Direction::from_degrees(a, b));
        let shapes = [
            Shape::CosinePower { half_angle_deg: raw },
            Shape::Isotropic { blocked_behind_deg: Some(c), unevenness: raw },
            Shape::Table { off_axis_deg: vec![0.0, a], relative: vec![b, c] },
        ];
        for shape in shapes {
            if let Ok(beam) = Beam::new(at, Interval { low: c, high: c }, shape) {
                let found = beam.intensity_cd(&d);
                prop_assert!(!found.low.is_nan() && !found.high.is_nan(), "{beam:?}");
            }
        }
        let sector = Sector { azimuth: AzimuthSpan { from_deg: a, width_deg: b }, elevation_deg: (c, a) };
        if let Ok(mask) = Mask::new(vec![sector], Some(c)) {
            prop_assert!(mask.az_breaks().iter().chain(mask.el_breaks()).all(|x| x.is_finite()));
            let _ = mask.pass(&d);
        }
        if let Some(air) = Transmission::from_visibility(Length::from_m(a)) {
            let need = intensity_for_range(Length::from_m(b), Illuminance::from_lx(c), air);
            prop_assert!(!need.cd().is_nan());
            if let Some(range) = range_of_intensity(Intensity::from_cd(b), Illuminance::from_lx(c), air) {
                prop_assert!(range.m().is_finite());
            }
        }
        prop_assert!(!penumbra_half_width_deg(Length::from_mm(a), Length::from_mm(b)).is_nan());
    }
}

#[test]
fn kinks_of_summed_beams_are_found() {
    // Two ramps 1 - x/10: on the arc between their axes the angles add up to the axes' distance, beside it to more, so
    // the highest sum is 2 - distance / 10 (triangle inequality).
    let ramp = |az: f64| {
        let shape = Shape::table(vec![0.0, 10.0, 180.0], vec![1.0, 0.0, 0.0]).expect("well formed");
        Beam::new(Direction::from_degrees(az, 13.3), Interval::exactly(1.0), shape).expect("well formed")
    };
    let pair = [ramp(0.0), ramp(5.0)];
    let f = |d: &Direction| pair[0].intensity_cd(d).low + pair[1].intensity_cd(d).low;
    let over = |c: &Cell| (pair[0].intensity_over(c) + pair[1].intensity_over(c)).low;
    let apart = pair[0].axis().angle_to_deg(pair[1].axis());
    let found = Zone::sphere().extreme(Extremum::Highest, (&[], &[]), f, over).expect("not empty");
    assert!((found.value - (2.0 - apart / 10.0)).abs() < 1e-5, "{found:?}");
}
