//! Photometric files: LM-63 and EULUMDAT read, turned and measured, and everything that can be wrong in one.
//!
//! The files of `published/photometric/` are one beam, I = 100 cd cos^m of the angle to its axis, half angle 15 degrees,
//! m = 19.993727, 2 pi 100 / (m + 1) = 29.92887 lm, written by `make_photometric_files.py` beside them.

use lampwright::aircraft::{Aircraft, read};
use lampwright::geometry::{AzimuthSpan, Cell, Direction, Ends, Extremum, State, Zone, area_where};
use lampwright::judge::Verdict;
use lampwright::photometry::{Beam, BodyState, Shape};

use lampwright::scene::{Hidden, Readings, Scene};
use lampwright::source::formats::{PhotometricType, Photometry, eulumdat, lm63, photometric_file};
use lampwright::source::{Memory, Rejected};
use lampwright::units::Interval;
use lampwright::{Options, bundled_rule_sets, check};
use proptest::prelude::*;
use std::path::Path;

const SYMMETRIC: &str = include_str!("published/photometric/cosm15_typeC_sym.ies");
const TIPPED: &str = include_str!("published/photometric/cosm15_typeC_tipped_gamma60_C30.ies");
const TYPE_B: &str = include_str!("published/photometric/cosm15_typeB_H20_V10.ies");
const ISYM_1: &str = include_str!("published/photometric/cosm15_isym1.ldt");

fn ies(text: &str) -> Photometry {
    lm63("led.ies", text).unwrap_or_else(|r| panic!("{}", r.show(false)))
}

fn ldt(text: &str) -> Photometry {
    eulumdat("led.ldt", text).unwrap_or_else(|r| panic!("{}", r.show(false)))
}

fn aimed(file: &Photometry, azimuth_deg: f64, elevation_deg: f64, roll_deg: f64) -> Beam {
    let shape = Shape::grid(file).and_then(|s| s.with_roll_deg(roll_deg)).expect("well formed");
    Beam::new(Direction::from_degrees(azimuth_deg, elevation_deg), file.peak_cd(), shape).expect("well formed")
}

fn exactly(beam: &Beam, d: &Direction) -> f64 {
    let found = beam.intensity_cd(d);
    assert!(found.is_exact(), "{found:?}");
    found.low
}

fn vector(forward: f64, right: f64, up: f64) -> Direction {
    Direction::from_vector(forward, right, up).expect("a direction")
}

/// The peaks are those the script wrote; luxpy 1.12.5 (numpy 2.2.6), `luxpy.toolboxes.iolidfiles.read_lamp_data(file)`,
/// reads 100.0 as the highest of `candela_values` of the three LM-63 files and 3341.255 per 1000 lm of the EULUMDAT one.
#[test]
fn the_published_beam_is_read_from_every_form() {
    for (file, kind) in
        [(ies(SYMMETRIC), PhotometricType::C), (ies(TIPPED), PhotometricType::C), (ies(TYPE_B), PhotometricType::B)]
    {
        assert_eq!((file.kind, file.peak_cd()), (kind, Interval::exactly(100.0)));
        assert_eq!(file.lamp_lm, Some(Interval::exactly(29.92887)));
    }
    let file = ldt(ISYM_1);
    // 3341.255 x 29.92887 / 1000 by hand.
    assert!((file.peak_cd().low - 3341.255 * 29.92887 / 1000.0).abs() < 1e-9 && file.peak_cd().is_exact());
    // The script wrote both round files from one cosine power, to 4 and to 3 places of cd per 1000 lm.
    let of_the_same = ies(SYMMETRIC);
    for (a, b) in of_the_same.candela.iter().zip(&file.candela).take(37) {
        assert!((a - b).abs() < 1e-4, "{a} {b}");
    }
}

/// What the grids hold between straight lines: midpoint sums with numpy 2.2.6 (`numpy.interp` along each axis, every
/// step of the files in 40 parts). The stated flux lies as near as straight lines over steps of 2.5, of 5 and 10 degrees
/// allow.
#[test]
fn the_flux_is_that_of_the_grid_and_near_the_stated_one() {
    for (file, summed, near) in [
        (ies(SYMMETRIC), 30.02366, 0.0035),
        (ldt(ISYM_1), 30.02367, 0.0035),
        (ies(TIPPED), 29.90988, 0.001),
        (ies(TYPE_B), 29.90987, 0.001),
    ] {
        let flux = Shape::grid(&file).expect("well formed").flux_per_peak() * file.peak_cd();
        assert!(flux.is_exact() && (flux.low / summed - 1.0).abs() < 1e-5, "{flux:?} {summed}");
        assert!((flux.low / 29.92887 - 1.0).abs() < near, "{flux:?}");
    }
}

/// Over the whole sphere 10 cd make 40 pi lm, over half of it 20 pi (closed form).
#[test]
fn an_even_file_has_the_flux_of_its_sphere() {
    let whole = ies("TILT=NONE\n1 -1 1 3 1 1 2 0 0 0\n1 1 4\n0 77 180\n0\n10 10 10\n");
    let half = ies("TILT=NONE\n1 -1 1 3 2 2 2 0 0 0\n1 1 4\n-90 5 90\n-90 90\n10 10 10\n10 10 10\n");
    let a = ies("TILT=NONE\n1 -1 1 3 3 3 2 0 0 0\n1 1 4\n-90 5 90\n-180 0 180\n10 10 10\n10 10 10\n10 10 10\n");
    for (file, parts) in [(whole, 4.0), (half, 2.0), (a, 4.0)] {
        let flux = Shape::grid(&file).expect("well formed").flux_per_peak().low;
        assert!((flux / (parts * std::f64::consts::PI) - 1.0).abs() < 1e-12, "{flux}");
    }
}

/// The peaks of the tipped files about a lamp aimed ahead, by hand: right for C 0 and H, up for C 90 and V.
#[test]
fn the_tipped_beams_point_where_their_angles_say() {
    let (sin60, cos60) = (60_f64.to_radians().sin(), 0.5);
    let (across, along) = (sin60 * 30_f64.to_radians().cos(), sin60 * 0.5);
    let tipped = ies(TIPPED);
    assert!((exactly(&aimed(&tipped, 0.0, 0.0, 0.0), &vector(cos60, across, along)) - 100.0).abs() < 1e-6);
    // A quarter clockwise as seen from behind: what lay to the right lies below, what lay above to the right.
    assert!((exactly(&aimed(&tipped, 0.0, 0.0, 90.0), &vector(cos60, along, -across)) - 100.0).abs() < 1e-6);
    // Aimed to the right, the lamp's own right is aft.
    assert!((exactly(&aimed(&tipped, 90.0, 0.0, 0.0), &vector(-across, cos60, along)) - 100.0).abs() < 1e-6);
    // Straight up and straight down as tipped from ahead: its upward side is aft, or ahead.
    assert!((exactly(&aimed(&tipped, 0.0, 90.0, 0.0), &vector(-along, across, cos60)) - 100.0).abs() < 1e-6);
    assert!((exactly(&aimed(&tipped, 0.0, -90.0, 0.0), &vector(along, across, -cos60)) - 100.0).abs() < 1e-6);
    let (h, v) = (20_f64.to_radians(), 10_f64.to_radians());
    let type_b = aimed(&ies(TYPE_B), 0.0, 0.0, 0.0);
    assert!((exactly(&type_b, &vector(h.cos() * v.cos(), h.sin(), h.cos() * v.sin())) - 100.0).abs() < 1e-6);
    // Half of it 15 degrees off, all around. Straight lines over a step h are off by up to h^2 / 8 times the second
    // derivative, which is here 363 cd per rad^2 away from the axis and -1000 across (by hand): over 5 degrees of gamma and
    // 10 degrees of C at gamma 75 and its curve 4.2 cd, over 5 and 5 degrees 1.4 cd.
    let peak = vector(cos60, across, along);
    let peak_b = vector(h.cos() * v.cos(), h.sin(), h.cos() * v.sin());
    for (beam, peak, within) in [(aimed(&tipped, 0.0, 0.0, 0.0), peak, 4.2), (type_b, peak_b, 1.4)] {
        for around in 0..24 {
            let found = exactly(&beam, &off(&peak, 15.0, 15.0 * f64::from(around)));
            assert!((found - 50.0).abs() < within, "{around}: {found}");
        }
    }
}

/// A direction so many degrees off another, towards a bearing about it.
fn off(from: &Direction, angle_deg: f64, bearing_deg: f64) -> Direction {
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    let level = from.forward().hypot(from.right());
    let side = [-from.right() / level, from.forward() / level, 0.0];
    let up = [-from.up() * from.forward() / level, -from.up() * from.right() / level, level];
    let (s, c) = bearing_deg.to_radians().sin_cos();
    let at = |n: usize, of: f64| cos * of + sin * (c * side[n] + s * up[n]);
    vector(at(0, from.forward()), at(1, from.right()), at(2, from.up()))
}

#[test]
fn the_round_files_are_half_as_bright_15_degrees_off() {
    for (file, within) in [(ies(SYMMETRIC), 1e-6), (ldt(ISYM_1), 1e-4)] {
        let beam = aimed(&file, -40.0, 12.0, 33.0);
        for around in 0..12 {
            let found = exactly(&beam, &off(beam.axis(), 15.0, 30.0 * f64::from(around)));
            assert!((found - 50.0).abs() < within, "{found}");
        }
    }
}

/// H 30 V 20 lies 35.53135 degrees off the axis, 59.35766 degrees from upward towards the side in type B and 53.94761 in
/// type A; H 30 V 30 41.40962, 49.10661 and 40.89339 (with numpy from the two formulas of direction).
#[test]
fn types_a_and_b_differ_off_their_axes() {
    let even =
        |kind: char| ies(&format!("TILT=NONE\n1 -1 1 2 2 {kind} 2 0 0 0\n1 1 4\n-90 90\n-90 90\n10 10\n10 10\n"));
    for (kind, at, off_deg, from_up_deg) in [
        ('2', (30.0, 20.0), 35.53135, 59.35766),
        ('3', (30.0, 20.0), 35.53135, 53.94761),
        ('2', (30.0, 30.0), 41.40962, 49.10661),
        ('3', (30.0, 30.0), 41.40962, 40.89339),
    ] {
        let d = off(&Direction::from_degrees(0.0, 0.0), off_deg, 90.0 - from_up_deg);
        let (h, v) = aimed(&even(kind), 0.0, 0.0, 0.0).file_angles_deg(&d).expect("a file");
        assert!((h - at.0).abs() < 1e-4 && (v - at.1).abs() < 1e-4, "{kind}: {h} {v}");
    }
}

/// An LM-63 file of type C, even along gamma, with these intensities at these half-planes.
fn around_c(angles: &str, candela: &[&str]) -> Shape {
    let count = candela.len();
    let values: String = candela.iter().map(|cd| format!("{cd} {cd}\n")).collect();
    let text = format!("TILT=NONE\n1 -1 1 2 {count} 1 2 0 0 0\n1 1 4\n0 180\n{angles}\n{values}");
    Shape::grid(&ies(&text)).expect("well formed")
}

/// The same as EULUMDAT with 1000 lm: its candela are those per 1000 lm.
fn around_isym(symmetry: usize, candela: &[&str]) -> Shape {
    let head = format!("x\n1\n{symmetry}\n4\n90\n2\n180\n{}", "\n".repeat(5));
    let sizes = "0\n".repeat(9);
    let lamps = "100\n100\n1\n0\n1\n1\nLED\n1000\n-\n-\n1\n";
    let values: String = candela.iter().map(|cd| format!("{cd}\n{cd}\n")).collect();
    let text = format!("{head}{sizes}{lamps}{}0\n90\n180\n270\n0\n180\n{values}", "0\n".repeat(10));
    Shape::grid(&ldt(&text)).expect("well formed")
}

/// Each symmetry by its definition (LM-63-2002 for the horizontal angles, EULUMDAT for Isym), values by hand.
#[test]
fn symmetries_are_written_out() {
    let expected = [
        (around_c("0 45 90", &["10", "20", "30"]), [10.0, 20.0, 30.0, 20.0, 10.0, 20.0, 30.0, 20.0]),
        (around_c("0 90 180", &["10", "20", "30"]), [10.0, 15.0, 20.0, 25.0, 30.0, 25.0, 20.0, 15.0]),
        (around_c("90 180 270", &["10", "20", "30"]), [20.0, 15.0, 10.0, 15.0, 20.0, 25.0, 30.0, 25.0]),
        (
            around_c("0 90 180 270 360", &["10", "20", "30", "40", "10"]),
            [10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 25.0],
        ),
        // As seen: the first half-plane is not written again at 360.
        (around_c("0 90 180 270", &["10", "20", "30", "40"]), [10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 25.0]),
        (around_isym(0, &["10", "20", "30", "40"]), [10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 25.0]),
        (around_isym(1, &["10"]), [10.0; 8]),
        (around_isym(2, &["10", "20", "30"]), [10.0, 15.0, 20.0, 25.0, 30.0, 25.0, 20.0, 15.0]),
        // From C 270 over 0 to 90.
        (around_isym(3, &["10", "20", "30"]), [20.0, 25.0, 30.0, 25.0, 20.0, 15.0, 10.0, 15.0]),
        (around_isym(4, &["10,0", "30"]), [10.0, 20.0, 30.0, 20.0, 10.0, 20.0, 30.0, 20.0]),
    ];
    for (n, (shape, candela)) in expected.into_iter().enumerate() {
        let highest = candela.iter().copied().fold(0.0, f64::max);
        let beam = Beam::new(Direction::from_degrees(0.0, 0.0), Interval::exactly(highest), shape).expect("ok");
        for (eighth, wanted) in (0_u8..).zip(candela) {
            let c = (45.0 * f64::from(eighth)).to_radians();
            let found = exactly(&beam, &vector(0.0, c.cos(), c.sin()));
            assert!((found - wanted).abs() < 1e-9, "{n}: C {} {found}", 45 * eighth);
        }
    }
}

#[test]
fn horizontal_angles_from_0_are_mirrored_in_types_a_and_b_and_vertical_ones_are_not() {
    for kind in ["2", "3"] {
        let file = ies(&format!("TILT=NONE\n1 -1 1 2 2 {kind} 2 0 0 0\n1 1 4\n0 60\n0 60\n10 10\n40 40\n"));
        assert_eq!(file.horizontal_deg, [-60.0, 0.0, 60.0]);
        assert_eq!((file.candela[0], file.candela[4]), (40.0, 40.0));
        let beam = aimed(&file, 0.0, 0.0, 0.0);
        assert!(exactly(&beam, &Direction::from_degrees(-20.0, 1.0)) > 10.0);
        assert_eq!(beam.intensity_cd(&Direction::from_degrees(-20.0, -1.0)), Interval { low: 0.0, high: 40.0 });
    }
}

/// Candela are multiplied by the multiplier and the ballast factor, before 2002 by the ballast-lamp factor too; the
/// multipliers of `TILT=INCLUDE` may each hold (LM-63-1995 and LM-63-2002).
#[test]
fn factors_of_the_editions() {
    let body = "TILT=NONE\n2 500 3 2 1 1 2 0 0 0\n0.5 0.8 4\n0 90\n0\n10 0\n";
    for (head, peak) in [
        ("", 12.0),
        ("IESNA91\n", 12.0),
        ("IESNA:LM-63-1995\n", 12.0),
        ("IESNA:LM-63-2002\n", 15.0),
        ("IES:LM-63-2019\n", 15.0),
        ("A lamp of its own\n", 12.0),
    ] {
        let file = ies(&format!("{head}{body}"));
        assert!((file.peak_cd().low - peak).abs() < 1e-12 && file.peak_cd().is_exact(), "{head}");
        assert_eq!(file.lamp_lm, Some(Interval::exactly(1000.0)));
    }
    let tilted = body.replace("TILT=NONE", "TILT=INCLUDE\n1\n3\n0 45 90\n1 0.9, 1.05");
    let found = ies(&tilted).peak_cd();
    assert!((found.low - 10.8).abs() < 1e-9 && (found.high - 12.6).abs() < 1e-9, "{found:?}");
}

/// Two sets of 400 and 500 lm, 20 cd per 1000 lm: 8 to 10 cd (by hand).
#[test]
fn sets_of_lamps_leave_the_light_open() {
    let two = ISYM_1.replace(
        "\r\n1\r\n1\r\nLED\r\n29.92887\r\n-\r\n-\r\n0.1\r\n",
        "\r\n2\r\n1\r\nLED\r\n400\r\n-\r\n-\r\n5\r\n-1\r\nLED\r\n500\r\n-\r\n-\r\n6\r\n",
    );
    let file = ldt(&two);
    let (low, high) = (3341.255 * 0.4, 3341.255 * 0.5);
    assert!((file.peak_cd().low - low).abs() < 1e-6 && (file.peak_cd().high - high).abs() < 1e-6);
    assert_eq!(file.lamp_lm, None);
}

const SOUND: &str =
    "IESNA:LM-63-2002\n[TEST] x\nTILT=NONE\n1 -1 1 3 2 1 2 0 0 0\n1 1 4\n0 45 90\n0 90\n50 20 0\n40 10 0\n";

/// What is told of a broken text: `LINE:COLUMN CODE MESSAGE; INSTEAD`, one a line.
fn told(read: Result<Photometry, Rejected>) -> String {
    let rejected = read.expect_err("broken");
    rejected
        .diagnostics
        .iter()
        .map(|d| format!("{}:{} {} {}; {}\n", d.at.line, d.at.column, d.code, d.message, d.instead))
        .collect()
}

#[test]
fn each_fault_of_an_lm63_file_is_told_at_its_place() {
    assert_eq!(ies(SOUND).peak_cd().low, 50.0);
    for (from, to, wanted) in [
        ("40 10", "40 NaN", "9:4 wrong-value `NaN` is no number, and intensity 5 of 6 is wanted here; write a number"),
        ("40 10", "40 inf", "9:4 wrong-value `inf` is no number"),
        ("40 10", "40 1e400", "9:4 wrong-value `1e400` is no number"),
        ("40 10", "40 1O", "9:4 wrong-value `1O` is no number"),
        ("50 20", "50 -20", "8:4 out-of-range an intensity of `-20` cannot be; write 0 or more"),
        (
            "50 20",
            "5e8 20",
            "8:1 out-of-range `5e8` makes 5.000e8 cd, which no lamp of a model gives; check the file's",
        ),
        ("\n40 10 0\n", "\n", "8:7 missing-key the file ends before intensity 4 of 6; mend the counts"),
        ("40 10 0\n", "40 10 0\n7\n", "10:1 contradiction the counts in the head of the file tell of fewer values"),
        ("50 20", "50,5 20", "9:7 contradiction the counts in the head"),
        (
            "1 -1 1 3",
            "1 -1 1 99999999999",
            "4:8 out-of-range `99999999999` cannot be the number of vertical angles; write a whole number from 2 to 721",
        ),
        ("1 -1 1 3", "1 -1 1 722", "4:8 out-of-range `722` cannot be the number of vertical angles"),
        ("1 -1 1 3 2", "1 -1 1 3 2.5", "4:10 out-of-range `2.5` cannot be the number of horizontal angles"),
        ("1 -1 1 3 2", "1 -1 1 3 -2", "4:10 out-of-range `-2` cannot be the number of horizontal angles"),
        ("1 -1 1 3 2 1", "1 -1 1 3 2 4", "4:12 out-of-range `4` cannot be the photometric type"),
        ("2 1 2 0 0 0", "2 1 3 0 0 0", "4:14 out-of-range `3` cannot be the type of units"),
        ("1 -1 1 3", "0 -1 1 3", "4:1 out-of-range `0` cannot be the number of lamps"),
        ("1 -1 1 3", "1 0 1 3", "4:3 out-of-range a lamp of `0` lm cannot be; write its lumens, or -1"),
        ("1 -1 1 3", "1 -1 0 3", "4:6 out-of-range `0` cannot be the candela multiplier; write a number above 0"),
        ("1 1 4", "0 1 4", "5:1 out-of-range `0` cannot be the ballast factor"),
        (
            "0 45 90",
            "0 45 45",
            "6:6 contradiction vertical angle of `45` degrees does not rise over the one before; write each",
        ),
        ("0 45 90", "0 45 190", "6:6 out-of-range vertical angle of `190` degrees lies outside 0 to 180; write"),
        (
            "\n0 90\n",
            "\n0 75\n",
            "1:1 out-of-range horizontal angles from 0 to 75 degrees are no part of a circle LM-63 knows; give 0 alone",
        ),
        ("TILT=NONE", "NONE", "1:1 wrong-header this file has no line that begins with `TILT=`; write `TILT=NONE`"),
        (
            "TILT=NONE",
            "TILT=lamp.tlt",
            "3:1 wrong-value the multipliers by tilt stand in another file; write `TILT=NONE`",
        ),
        ("TILT=NONE", "TILT=INCLUDE", "4:3 out-of-range `-1` cannot be the number of tilts"),
        ("TILT=NONE", "TILT=INCLUDE\n1\n2\n0 90\n1 -1", "7:3 out-of-range an intensity of `-1` cannot be"),
        (
            "LM-63-2002",
            "LM-63-2050",
            "1:1 newer-version this is no edition of LM-63 that is known here; let the first line",
        ),
        ("50 20 0\n40 10 0", "0 0 0 0 0 0", "1:1 out-of-range this file has no light in any direction; name a file"),
    ] {
        let text = SOUND.replacen(from, to, 1);
        assert_ne!(text, SOUND, "{from}");
        let told = told(lm63("led.ies", &text));
        assert!(told.starts_with(wanted) && told.lines().count() == 1, "wanted {wanted}\ntold {told}");
    }
}

#[test]
fn all_faults_are_told_at_once_and_endless_ones_are_cut_short() {
    let text = SOUND.replace("1 -1 1 3", "x -1 0 3").replace("1 1 4", "1 1 y");
    assert_eq!(told(lm63("led.ies", &text)).lines().count(), 3);
    let words = "x ".repeat(721 * 721);
    let text = format!("TILT=NONE\n1 -1 1 721 721 1 2 0 0 0\n1 1 4\n{words}");
    assert_eq!(told(lm63("led.ies", &text)).lines().count(), 21);
}

/// Line 1 to 12 head, 13 to 21 sizes, 24 conversion factor, 25 tilt, 26 sets, 29 flux, 33 to 42 direct ratios.
fn sound_ldt() -> Vec<String> {
    ISYM_1.lines().map(str::to_string).collect()
}

#[test]
fn each_fault_of_a_eulumdat_file_is_told_at_its_place() {
    for (line, to, wanted) in [
        (3, "5", "3:1 out-of-range `5` cannot be the symmetry Isym; write a whole number from 0 to 4"),
        (3, "4", "1:1 contradiction 1 C planes do not go with Isym 4; give Mc as the number of planes"),
        (4, "722", "4:1 out-of-range `722` cannot be the number of C planes Mc"),
        (4, "2", "44:1 contradiction C angle of `0` degrees"),
        (6, "74", "117:1 out-of-range gamma angle of `3341.255` degrees lies outside 0 to 180"),
        (6, "72", "188:1 contradiction the counts in the head"),
        (6, "1e18", "6:1 out-of-range `1e18` cannot be the number of gamma angles Ng"),
        (24, "0", "24:1 out-of-range `0` cannot be the conversion factor of intensities"),
        (
            25,
            "15",
            "25:1 out-of-range this luminaire was measured tilted by `15` degrees; name a file measured without tilt",
        ),
        (26, "0", "26:1 out-of-range `0` cannot be the number of sets of lamps"),
        (
            29,
            "dark",
            "29:1 wrong-value `dark` is no number, and the flux of the lamps is wanted here; write one number a line",
        ),
        (29, "-3", "29:1 out-of-range `-3` cannot be the flux of the lamps"),
        (50, "1", "50:1 contradiction gamma angle of `1` degrees does not rise"),
        (120, "NaN", "120:1 wrong-value `NaN` is no number, and intensity 4 of 73 is wanted here"),
        (120, "-1,5", "120:1 out-of-range an intensity of `-1,5` cannot be"),
        (120, "10 20", "120:1 wrong-value `10 20` is no number"),
        (120, "", "120:1 wrong-value `` is no number"),
    ] {
        let mut lines = sound_ldt();
        lines[line - 1] = to.to_string();
        let told = told(eulumdat("led.ldt", &lines.join("\n")));
        assert!(told.lines().any(|t| t.starts_with(wanted)), "wanted {wanted}\ntold {told}");
    }
    let cut = sound_ldt()[..100].join("\n");
    assert!(told(eulumdat("led.ldt", &cut)).starts_with("100:1 missing-key the file ends before gamma angle 58 of 73"));
    let longer = format!("{ISYM_1}\r\n\r\n3\r\n");
    assert!(told(eulumdat("led.ldt", &longer)).starts_with("192:1 contradiction the counts in the head"));
}

#[test]
fn letters_of_another_code_page_do_not_matter() {
    let bytes = [b"[TEST] 15\xb0 full\r\n", SYMMETRIC.as_bytes()].concat();
    let file = photometric_file("led.IES", &bytes).expect("an ending that is known").expect("well formed");
    assert_eq!(file.peak_cd().low, 100.0);
    let marked = ["\u{feff}".as_bytes(), ISYM_1.as_bytes()].concat();
    assert!(photometric_file("a.b/led.ldt", &marked).expect("an ending that is known").is_ok());
}

const HEAD: &str = "lampwright: aircraft 1\nmodel: {title: x, scale: \"1:8\"}\nprototype: {category: transport aeroplane, authority: US, applied: 1980}\n";

fn loaded(rest: &str) -> Result<Aircraft, Rejected> {
    let files = Memory::new()
        .with("fleet/x.yaml", format!("{HEAD}{rest}"))
        .with("fleet/leds/round.ies", SYMMETRIC)
        .with("fleet/leds/tipped.ies", TIPPED)
        .with("fleet/leds/round.ldt", ISYM_1)
        .with("fleet/leds/broken.ies", SYMMETRIC.replace("98.1141", "NaN"))
        .with("fleet/leds/front.ies", "TILT=NONE\n1 -1 1 2 2 2 2 0 0 0\n1 1 4\n-60 60\n-60 60\n10 10\n10 10\n")
        .with("fleet/leds/around.ies", "TILT=NONE\n1 -1 1 3 1 1 2 0 0 0\n1 1 4\n0 90 180\n0\n10 10 0\n");
    read(&files, Path::new("fleet/x.yaml")).expect("readable")
}

fn model(rest: &str) -> Aircraft {
    loaded(rest).unwrap_or_else(|r| panic!("{}", r.show(false)))
}

fn readings() -> Readings {
    let sets = bundled_rule_sets().expect("sound");
    Readings::of(sets.iter().find(|s| s.id == "us-14cfr25").unwrap_or(&sets[0]))
}

/// 100 cd on the model at 1:8 are 6400 at full size; a file scaled to a peak or a flux keeps its shape.
#[test]
fn a_file_counts_as_it_is_or_scaled() {
    for (keys, peak_cd, origin) in [
        ("photometric_file: leds/round.ies", 100.0, "the file's own"),
        ("photometric_file: leds/round.ldt", 100.0, "the file's own"),
        ("photometric_file: leds/round.ies, peak: 5 cd", 5.0, "declared"),
        // 60 lm over the 30.02366 lm of the grid (numpy, as above).
        ("photometric_file: leds/round.ies, flux: 60 lm", 100.0 * 60.0 / 30.02366, "declared"),
        ("class: red 3 W star, photometric_file: leds/round.ies", 100.0, "the file's own, not the class's"),
    ] {
        let aircraft = model(&format!(
            "emitters: {{led: {{from: measured, {keys}, chromaticity: {{x: 0.7, y: 0.2995}}}}}}\nlamps: {{tip: {{light: left position, emitter: led, aim: left 55 deg}}}}\n"
        ));
        let scene = Scene::new(&aircraft, readings());
        let lamp = &scene.lamps[0];
        let at = lamp.full_cd(&Direction::from_degrees(-55.0, 0.0));
        // A red 3 W star always lit gets hot, which a measured figure already shows.
        assert!((at.high / (64.0 * peak_cd) - 1.0).abs() < 1e-5 && at.is_exact(), "{keys}: {at:?} ({origin})");
        let half = lamp.full_cd(&Direction::from_degrees(-40.0, 0.0));
        assert!((half.high / at.high - 0.5).abs() < 1e-6, "{keys}: {half:?}");
    }
}

/// A roll of a quarter turns the tipped beam of a lamp aimed ahead from right and above to right and below (by hand).
#[test]
fn a_lamp_turns_its_file() {
    let aircraft = model(
        "emitters: {led: {from: measured, photometric_file: leds/tipped.ies}}\n\
        lamps:\n  a: {light: landing, emitter: led, aim: ahead}\n  b: {light: landing, emitter: led, aim: ahead, roll: 90 deg}\n",
    );
    let scene = Scene::new(&aircraft, readings());
    let peak = |n: usize, d: Direction| scene.lamps[n].full_cd(&d).low / 6400.0;
    assert!((peak(0, vector(0.5, 0.75, 0.75_f64.sqrt() * 0.5)) - 1.0).abs() < 1e-6);
    assert!((peak(1, vector(0.5, 0.75_f64.sqrt() * 0.5, -0.75)) - 1.0).abs() < 1e-6);
}

#[test]
fn what_a_file_does_not_say_is_not_known_and_what_it_says_behind_is_shown() {
    let aircraft = model(
        "emitters:\n  front: {from: measured, photometric_file: leds/front.ies}\n  around: {from: measured, photometric_file: leds/around.ies}\n\
        lamps:\n  a: {light: landing, emitter: front, aim: ahead}\n  b: {light: landing, emitter: around, aim: ahead}\n",
    );
    let scene = Scene::new(&aircraft, readings());
    let (front, around) = (&scene.lamps[0], &scene.lamps[1]);
    let at = |azimuth: f64| Direction::from_degrees(azimuth, 0.0);
    assert!((front.full_cd(&at(59.0)).low - 640.0).abs() < 1e-9 && front.hidden(&at(59.0)) == Hidden::No);
    let beyond = front.full_cd(&at(61.0));
    assert!(beyond.low == 0.0 && (beyond.high - 640.0).abs() < 1e-9);
    assert!(front.hidden(&at(61.0)) == Hidden::Unknown && front.causes(&at(61.0)).len() == 1);
    assert!(front.causes(&at(59.0)).is_empty());
    // 45 degrees past abeam half of 10 cd, and dark dead astern: shown as far as the body goes, as a table is.
    assert!((around.full_cd(&at(135.0)).low - 320.0).abs() < 1e-6 && around.hidden(&at(135.0)) == Hidden::No);
    assert!(around.full_cd(&at(180.0)).high < 1e-6 && around.hidden(&at(180.0)) == Hidden::No);
}

/// The solid angle within H and V of 60 degrees, type B: 2 x 60 degrees x 2 sin 60 (closed form).
#[test]
fn the_body_of_a_file_is_known_where_it_has_data() {
    let file = ies("TILT=NONE\n1 -1 1 2 2 2 2 0 0 0\n1 1 4\n-60 60\n-60 60\n10 10\n10 10\n");
    let beam = aimed(&file, 30.0, 20.0, 15.0);
    let clear = area_where(&Zone::sphere(), &[], &[], 2e-3, |c| match beam.body().body_state_of_cell(c) {
        Some(BodyState::Clear) => State::Inside,
        Some(_) => State::Outside,
        None => State::Mixed,
    });
    let wanted = 120_f64.to_radians() * 2.0 * 60_f64.to_radians().sin();
    assert!(clear.interval().contains(wanted) && clear.undecided_sr < 5e-3, "{clear:?} {wanted}");
}

#[test]
fn mistakes_of_a_file_are_told_in_the_file() {
    let rejected = loaded(
        "emitters:\n  a: {photometric_file: leds/broken.ies}\n  b: {photometric_file: leds/broken.ies}\n\
        lamps:\n  tip: {light: left position, emitter: a, aim: left}\n  tail: {light: rear position, emitter: b, aim: aft}\n",
    )
    .expect_err("broken");
    let told: Vec<String> = rejected.diagnostics.iter().map(ToString::to_string).collect();
    let wanted = "fleet/leds/broken.ies:15:10: `NaN` is no number";
    assert!(told.len() == 1 && told[0].starts_with(wanted), "{told:?}");
    assert!(rejected.show(false).contains("100.0000 NaN 92.6606"));
}

/// An example use: a beacon of a photometric file all round, its goals judged as those of any emitter.
///
/// 10 cd from above and from below at 1:8 is 640 cd steady, lit 20 % of the time; 25.1401(b) asks for the field alone.
#[test]
fn a_beacon_by_a_photometric_file_is_judged() {
    let lamps = "emitters: {led: {from: measured, photometric_file: leds/around.ies, chromaticity: {x: 0.7, y: 0.2995}}}\nlamps:\n  \
        top: {light: beacon, emitter: led, aim: up, flash: {rate: 60 per min, lit: 200 ms}}\n";
    let report = check(&model(lamps), &bundled_rule_sets().expect("sound"), &Options::default()).expect("judged");
    let verdict = |id: &str| report.goals.iter().find(|g| g.id == id).unwrap_or_else(|| panic!("no goal {id}")).verdict;
    assert_eq!(verdict("anti-collision-field"), Verdict::Met);
}

#[test]
fn the_schema_knows_the_keys() {
    let schema = serde_json::to_value(schemars::schema_for!(lampwright::aircraft::AircraftFile)).expect("JSON");
    let validator = jsonschema::validator_for(&schema).expect("a schema");
    let valid = |keys: &str, roll: &str| {
        let rest = format!(
            "emitters: {{led: {{{keys}}}}}\nlamps: {{tip: {{light: left position, emitter: led, aim: left, roll: {roll}}}}}\n"
        );
        validator.is_valid(&serde_yaml::from_str(&format!("{HEAD}{rest}")).expect("YAML"))
    };
    assert!(valid("photometric_file: led.ies, flux: 60 lm", "-90 deg"));
    assert!(!valid("photometric_file: [led.ies]", "90 deg") && !valid("photometric_file: led.ies", "90"));
}

prop_compose! {
    /// A file of any type over a part of the sphere, in steps that are not all alike.
    fn any_file()(
        kind in 1..4_u8,
        v_steps in prop::collection::vec(1.0..60.0_f64, 1..8),
        h_steps in prop::collection::vec(1.0..60.0_f64, 1..8),
        v_part in 0.2..1.0_f64,
        h_part in prop_oneof![Just(1.0), 0.2..1.0_f64],
        values in prop::collection::vec(0.0..50.0_f64, 64),
    ) -> Photometry {
        let (v_all, h_all, v_from, h_from) = match kind { 1 => (180.0, 360.0, 0.0, 0.0), 2 => (360.0, 180.0, -180.0, -90.0), _ => (180.0, 360.0, -90.0, -180.0) };
        let spread = |steps: &[f64], from: f64, all: f64| {
            let sum: f64 = steps.iter().sum();
            let mut at = 0.0;
            let inner: Vec<f64> = steps.iter().map(|s| { at += s; from + (all * at / sum).min(all) }).collect();
            std::iter::once(from).chain(inner).collect::<Vec<f64>>()
        };
        let vertical_deg = spread(&v_steps, v_from, v_all * v_part);
        let horizontal_deg = spread(&h_steps, h_from, h_all * h_part);
        let count = vertical_deg.len() * horizontal_deg.len();
        let candela = values.iter().cycle().take(count - 1).copied().chain([50.0]).collect();
        let kind = match kind { 1 => PhotometricType::C, 2 => PhotometricType::B, _ => PhotometricType::A };
        Photometry { kind, vertical_deg, horizontal_deg, candela, level: Interval::exactly(1.0), lamp_lm: None }
    }
}

prop_compose! {
    fn any_beam()(file in any_file(), az in -180.0..180.0_f64, el in prop_oneof![Just(90.0), Just(-90.0), Just(0.0), -90.0..90.0_f64], roll in -360.0..360.0_f64, mirrored in any::<bool>()) -> Beam {
        let beam = aimed(&file, az, el, roll);
        if mirrored { beam.mirrored() } else { beam }
    }
}

fn holds(ends: &Ends, found: Interval) -> bool {
    let near = |range: Interval, x: f64| x >= range.low - 1e-6 && x <= range.high + 1e-6;
    near(ends.low, found.low) && near(ends.high, found.high)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_cell_holds_what_its_points_give(beam in any_beam(), az in -180.0..180.0_f64, w in 0.0..60.0_f64, a in -90.0..90.0_f64, h in 0.0..60.0_f64, s in 0.0..=1.0_f64, t in 0.0..=1.0_f64) {
        let cell = Cell::new(AzimuthSpan::new(az, w), Interval::new(a, (a + h).min(90.0)));
        let el = cell.elevation_deg;
        let d = Direction::from_degrees(cell.azimuth.at(s * w), el.low + t * el.width());
        prop_assert!(holds(&beam.intensity_over(&cell), beam.intensity_cd(&d)), "{:?} {:?}", beam.intensity_over(&cell), beam.intensity_cd(&d));
        if let Some(state) = beam.body().body_state_of_cell(&cell) {
            prop_assert_eq!(state, beam.body().body_state(&d));
        }
    }

    #[test]
    fn a_cell_that_shrinks_tells_one_intensity(beam in any_beam(), az in -180.0..180.0_f64, el in -80.0..80.0_f64) {
        let d = Direction::from_degrees(az, el);
        let (h, v) = beam.file_angles_deg(&d).expect("a file");
        let Shape::Grid { grid, .. } = beam.shape() else { unreachable!() };
        // Away from the poles of the file and from where its data end, both of which are edges.
        let pole = match grid.kind() { PhotometricType::B => h, PhotometricType::A => v, PhotometricType::C => v - 90.0 };
        let near = |x: f64, y: f64| grid.relative(h + x, v + y).is_some();
        prop_assume!(pole.abs() < 85.0 && near(0.5, 0.5) && near(-0.5, -0.5) && near(0.5, -0.5) && near(-0.5, 0.5) && near(0.0, 0.0));
        prop_assume!((h.abs() - 180.0).abs() > 1.0 && h > 1.0 || grid.kind() != PhotometricType::C);
        let cell = Cell::new(AzimuthSpan::new(az - 5e-7, 1e-6), Interval::new(el - 5e-7, el + 5e-7));
        let ends = beam.intensity_over(&cell);
        // 50 cd over the narrowest step, 1 / 420 of 180 degrees, make 117 cd per degree; the cell is 2e-5 wide as seen by the file.
        prop_assert!(ends.high.width() < 1e-2 && ends.low.width() < 1e-2, "{ends:?}");
    }

    #[test]
    fn a_mirrored_file_shines_in_the_mirror(beam in any_beam(), az in -180.0..180.0_f64, el in -90.0..=90.0_f64) {
        let d = Direction::from_degrees(az, el);
        prop_assert_eq!(beam.mirrored().intensity_cd(&d.mirrored()), beam.intensity_cd(&d));
        prop_assert_eq!(beam.mirrored().body().body_state(&d.mirrored()), beam.body().body_state(&d));
        prop_assert_eq!(&beam.mirrored().mirrored(), &beam);
    }

    #[test]
    fn the_highest_of_a_file_is_found(beam in any_beam()) {
        let found = Zone::sphere().extremes_of_interval(Extremum::Highest, (&[], &[]), |d| beam.intensity_cd(d), |c| beam.intensity_over(c)).expect("not empty");
        prop_assert!((found.high.value / 50.0 - 1.0).abs() < 2e-3, "{found:?}");
    }

    #[test]
    fn no_bytes_end_in_a_panic(bytes in prop::collection::vec(any::<u8>(), 0..600), ending in prop_oneof![Just("x.ies"), Just("x.ldt")]) {
        let _ = photometric_file(ending, &bytes);
        let _ = photometric_file("x.ies", &[b"TILT=NONE\n1 -1 1 3 ".as_slice(), &bytes].concat());
    }

    #[test]
    fn no_change_of_a_file_ends_in_a_panic_or_a_beam_that_is_none(which in 0..4_usize, at in 0.0..1.0_f64, cut in 0..40_usize, put in prop_oneof!["[-0-9., eNa\n]{0,12}", "\\PC{0,6}"]) {
        let text = [SYMMETRIC, TIPPED, TYPE_B, ISYM_1][which];
        let from = (at * text.len() as f64) as usize;
        let to = (from + cut).min(text.len());
        let changed = format!("{}{put}{}", &text[..from], &text[to..]);
        let name = if which == 3 { "x.ldt" } else { "x.ies" };
        if let Some(Ok(file)) = photometric_file(name, changed.as_bytes()) {
            prop_assert!(file.candela.iter().all(|cd| cd.is_finite() && *cd >= 0.0));
            prop_assert_eq!(file.candela.len(), file.vertical_deg.len() * file.horizontal_deg.len());
            let shape = Shape::grid(&file).expect("what was read is well formed");
            prop_assert!(shape.flux_per_peak().low.is_finite());
        }
    }

    #[test]
    fn no_nan_gets_into_a_grid(a in prop::num::f64::ANY, b in prop::num::f64::ANY, c in prop::num::f64::ANY) {
        let file = Photometry { kind: PhotometricType::C, vertical_deg: vec![0.0, a], horizontal_deg: vec![0.0, b], candela: vec![c, 1.0, 1.0, a], level: Interval::new(1.0, 1.0), lamp_lm: None };
        if let Ok(shape) = Shape::grid(&file) {
            let beam = Beam::new(Direction::from_degrees(10.0, 20.0), Interval::exactly(1.0), shape).expect("well formed");
            let found = beam.intensity_cd(&Direction::from_degrees(30.0, 40.0));
            prop_assert!(found.low.is_finite() && found.high.is_finite());
        }
        prop_assert!(Shape::grid(&ies(SOUND)).expect("well formed").with_roll_deg(f64::NAN).is_err());
    }
}
