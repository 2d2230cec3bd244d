//! Effective intensity against closed forms and tables made outside this program.

use lampwright::photometry::effective::{
    EffectiveReading, IntensityPiece, Recurrence, effective_intensity, sum_common, sum_waveforms,
};
use lampwright::timing::{JointLimits, Step, Waveform, common_pieces};
use lampwright::units::{Fraction, Micros};
use proptest::prelude::*;

const SINGLE: &str = include_str!("published/effective_intensity_single_pulse.csv");
const GROUPS: &str = include_str!("published/effective_intensity_groups.csv");
const ROTATING: &str = include_str!("published/rotating_beam.csv");

fn rows(text: &str) -> Vec<csv::StringRecord> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader.records().map(|row| row.expect("a row")).collect()
}

fn number(row: &csv::StringRecord, column: usize) -> f64 {
    row.get(column).expect("a column").parse().expect("a number")
}

fn piece(duration_s: f64, from_cd: f64, to_cd: f64) -> IntensityPiece {
    IntensityPiece { duration_s, from_cd, to_cd }
}

fn once(pieces: &[IntensityPiece]) -> f64 {
    effective_intensity(pieces, Recurrence::Once, &EffectiveReading::default())
}

/// A smooth shape over a time, in straight pieces between its own values.
fn sampled(span_s: f64, count: usize, shape: impl Fn(f64) -> f64) -> Vec<IntensityPiece> {
    let step_s = span_s / count as f64;
    (0..count).map(|i| piece(step_s, shape(i as f64 * step_s), shape((i + 1) as f64 * step_s))).collect()
}

fn gaussian(fwhm_s: f64) -> Vec<IntensityPiece> {
    let sigma_s = fwhm_s / (2.0 * (2.0 * 2.0_f64.ln()).sqrt());
    sampled(12.0 * sigma_s, 4000, |t| (-0.5 * (t / sigma_s - 6.0).powi(2)).exp())
}

fn pulse(shape: &str, length_s: f64) -> (Vec<IntensityPiece>, f64) {
    let t = length_s;
    let half_turn = std::f64::consts::PI / t;
    match shape {
        "rect" => (vec![piece(t, 1.0, 1.0)], 1e-6),
        "tri_sym" => (vec![piece(t / 2.0, 0.0, 1.0), piece(t / 2.0, 1.0, 0.0)], 1e-6),
        "saw_fall" => (vec![piece(t, 1.0, 0.0)], 1e-6),
        "saw_rise" => (vec![piece(t, 0.0, 1.0)], 1e-6),
        "halfsine" => (sampled(t, 2000, |x| (half_turn * x).sin()), 5e-4),
        "sine2" => (sampled(t, 2000, |x| (half_turn * x).sin().powi(2)), 5e-4),
        "gauss" => (gaussian(t), 5e-4),
        "exp" => (sampled(12.0 * t, 8000, |x| (-x / t).exp()), 5e-4),
        other => panic!("no such shape: {other}"),
    }
}

#[test]
fn single_pulses_of_eight_shapes_and_fifteen_lengths() {
    let rows = rows(SINGLE);
    assert_eq!(rows.len(), 120);
    for row in rows {
        let shape = row.get(0).expect("a shape");
        let (pieces, tolerance) = pulse(shape, number(&row, 1));
        let found = once(&pieces);
        // The table has six decimals.
        assert!((found - number(&row, 4)).abs() <= tolerance, "{shape} {}: {found}", number(&row, 1));
    }
}

#[test]
fn triangles_by_their_closed_form() {
    // Base T: h = k - sqrt(k^2 - 1), k = 1 + a / T; T = 0.3 s gives 1/3, T = 0.8 s gives 1/2. Where the top stands
    // makes no difference.
    for (base_s, expected) in [(0.3, 1.0 / 3.0), (0.8, 0.5), (0.1, 3.0 - 2.0 * 2.0_f64.sqrt())] {
        for top in [0.0, 0.2, 0.5, 1.0] {
            let found = once(&[piece(base_s * top, 0.0, 1.0), piece(base_s * (1.0 - top), 1.0, 0.0)]);
            assert!((found - expected).abs() < 1e-12, "{base_s} {top}: {found}");
        }
    }
}

#[test]
fn groups_of_equal_rectangles() {
    let rows = rows(GROUPS);
    assert_eq!(rows.len(), 17);
    for row in rows {
        let (count, on_s, period_s) = (number(&row, 0) as usize, number(&row, 1), number(&row, 2));
        let mut pieces = Vec::new();
        for _ in 0..count {
            pieces.extend([piece(on_s, 1.0, 1.0), piece(period_s - on_s, 0.0, 0.0)]);
        }
        pieces.push(piece(3.0, 0.0, 0.0));
        let found = once(&pieces);
        let cyclic = effective_intensity(&pieces, Recurrence::Cyclic, &EffectiveReading::default());
        assert!((found - number(&row, 5)).abs() < 1e-6, "{row:?}: {found}");
        assert!((found - cyclic).abs() < 1e-12, "{row:?}: {cyclic}");
        // The closed form itself: the best of the first k pulses.
        let best = (1..=count).map(|k| k as f64 * on_s / (0.2 + (k - 1) as f64 * period_s + on_s));
        assert!((found - best.fold(0.0, f64::max)).abs() < 1e-12, "{row:?}: {found}");
    }
}

#[test]
fn rotating_beams() {
    let rows = rows(ROTATING);
    assert_eq!(rows.len(), 16);
    for row in rows {
        // FWHM in time = FWHM angle / (360 deg x turns per second).
        let fwhm_s = number(&row, 0) / (6.0 * number(&row, 3));
        let found = once(&gaussian(fwhm_s));
        assert!((found - number(&row, 5)).abs() < 5e-4, "{row:?}: {found}");
    }
}

#[test]
fn practice_values() {
    // 100 cd rectangles: T / (0.2 + T).
    for (length_s, expected_cd) in [(0.05, 20.0), (0.1, 100.0 / 3.0), (0.2, 50.0), (0.5, 500.0 / 7.0)] {
        assert!((once(&[piece(length_s, 100.0, 100.0)]) - expected_cd).abs() < 1e-9);
    }
    // The peaks that 6.25 cd need: 31.25 cd for 50 ms, 1256.25 cd for 1 ms.
    assert!((once(&[piece(0.05, 31.25, 31.25)]) - 6.25).abs() < 1e-9);
    assert!((once(&[piece(0.001, 1256.25, 1256.25)]) - 6.25).abs() < 1e-9);
    // Two 50 ms pulses: 0.1 / 0.4 with a gap of 100 ms, no gain with 200 ms.
    for (gap_s, expected) in [(0.1, 0.25), (0.2, 0.2)] {
        let found = once(&[piece(0.05, 1.0, 1.0), piece(gap_s, 0.0, 0.0), piece(0.05, 1.0, 1.0)]);
        assert!((found - expected).abs() < 1e-12, "{gap_s}: {found}");
    }
    // Blondel and Rey 1911: with their own 0.21 s, doubling a flash of 0.21 s gains a third.
    let own = EffectiveReading { constant_s: 0.21, ..EffectiveReading::default() };
    let of = |length_s| effective_intensity(&[piece(length_s, 1.0, 1.0)], Recurrence::Once, &own);
    assert!((of(0.42) / of(0.21) - 4.0 / 3.0).abs() < 1e-12);
}

fn of_waveforms(lamps: &[(f64, &Waveform)]) -> f64 {
    let pieces = sum_waveforms(lamps, &JointLimits::default()).expect("not drifting");
    effective_intensity(&pieces, Recurrence::Cyclic, &EffectiveReading::default())
}

#[test]
fn worked_lamps() {
    // By pencil: 40 cd, 50 on, 50 off, 50 on, 850 off: 0.1 / 0.35 beats 0.05 / 0.25, so 80/7 cd.
    let strobe = Waveform::flash(Fraction::new(1_000_000, 1), Micros(50_000), 2, Micros(50_000)).expect("fits");
    assert!((of_waveforms(&[(40.0, &strobe)]) - 80.0 / 7.0).abs() < 1e-9);
    // By pencil: 50 + 70 + 50 ms gives 0.1 / 0.37.
    let double = Waveform::flash(Fraction::new(1_280_000, 1), Micros(50_000), 2, Micros(70_000)).expect("fits");
    assert!((of_waveforms(&[(1.0, &double)]) - 0.1 / 0.37).abs() < 1e-12);
    // By pencil: a trapezoid 60 / 80 / 60 ms is the root of 0.06 h^2 - 0.4 h + 0.14.
    let ramp = |from, to| Step::Ramp { from, to, time: Micros(60_000) };
    let steps = [ramp(0.0, 1.0), Step::Lit(Micros(80_000)), ramp(1.0, 0.0), Step::Dark(Micros(1_000_000))];
    let beacon = Waveform::from_steps(&steps).expect("a waveform");
    let root = (0.4 - (0.16_f64 - 4.0 * 0.06 * 0.14).sqrt()) / 0.12;
    assert!((of_waveforms(&[(1.0, &beacon)]) - root).abs() < 1e-12);
    // A start changes nothing, even where the flash wraps the period's end.
    for start in [0, 1, 950_000, 975_000, 1_234_567] {
        let moved = strobe.clone().with_start(Micros(start));
        assert!((of_waveforms(&[(40.0, &moved)]) - 80.0 / 7.0).abs() < 1e-9, "{start}");
    }
}

#[test]
fn light_is_summed_before() {
    let lamp = Waveform::flash(Fraction::new(1_000_000, 1), Micros(50_000), 1, Micros(0)).expect("fits");
    let later = |us| lamp.clone().with_start(Micros(us));
    // Together they add: 2 x 0.2. 0.3 s apart they do not. 50 ms on, 50 off, 50 on: 0.1 / 0.35.
    assert!((of_waveforms(&[(1.0, &lamp), (1.0, &lamp)]) - 0.4).abs() < 1e-12);
    assert!((of_waveforms(&[(1.0, &lamp), (1.0, &later(300_000))]) - 0.2).abs() < 1e-12);
    assert!((of_waveforms(&[(1.0, &lamp), (1.0, &later(100_000))]) - 0.1 / 0.35).abs() < 1e-12);
}

#[test]
fn endless_light_has_its_mean() {
    // A steady light has its own level: T / (a + T) tends to 1.
    let dim = Waveform::steady(0.25).expect("a level");
    assert!((of_waveforms(&[(8.0, &dim)]) - 2.0).abs() < 1e-12);
    // Talbot-Plateau: a modulated one has its mean.
    let modulated = Waveform::from_steps(&[Step::Lit(Micros(500)), Step::Dark(Micros(500))]).expect("a waveform");
    assert!((of_waveforms(&[(8.0, &modulated)]) - 4.0).abs() < 1e-12);
    // A flash on a steady floor of 1 cd: the excess over h is (11 - h) 0.5 = 0.2 h, h = 5.5 / 0.7.
    let flash = Waveform::flash(Fraction::new(10_000_000, 1), Micros(500_000), 1, Micros(0)).expect("fits");
    let floor = Waveform::steady(1.0).expect("a level");
    for start in [0, 9_800_000] {
        let flash = flash.clone().with_start(Micros(start));
        assert!((of_waveforms(&[(10.0, &flash), (1.0, &floor)]) - 5.5 / 0.7).abs() < 1e-12, "{start}");
    }
}

#[test]
fn many_cycles_are_never_one_window() {
    // 60 flashes of 50 ms a minute: one alone, 0.05 / 0.25, whatever the count of cycles given.
    let cycle = [piece(0.05, 1.0, 1.0), piece(0.95, 0.0, 0.0)];
    let hour: Vec<IntensityPiece> = cycle.iter().copied().cycle().take(7200).collect();
    assert!((once(&hour) - 0.2).abs() < 1e-12);
    // 50 on, 50 off, 50 on would be 0.1 / 0.35 as one group; read as two it is one alone.
    let parted = EffectiveReading { constant_s: 0.2, group_gap_s: 0.01 };
    let pair = [piece(0.05, 1.0, 1.0), piece(0.05, 0.0, 0.0), piece(0.05, 1.0, 1.0), piece(0.85, 0.0, 0.0)];
    for recurrence in [Recurrence::Once, Recurrence::Cyclic] {
        assert!((effective_intensity(&pair, recurrence, &parted) - 0.2).abs() < 1e-12);
    }
}

#[test]
fn one_cut_serves_many_directions() {
    let fast = Waveform::flash(Fraction::new(30_000_000, 23), Micros(60_000), 2, Micros(100_000)).expect("fits");
    let slow = Waveform::swell(Fraction::new(60_000_000, 23), Micros(200_000), Micros(0), Micros(300_000));
    let slow = slow.expect("fits").with_start(Micros(40_000));
    let common = common_pieces(&[&fast, &slow], &JointLimits::default()).expect("not drifting");
    let total_s: f64 = common.durations_s().iter().sum();
    assert!((total_s - 60.0 / 23.0).abs() < 1e-12);
    let light: f64 = sum_common(&common, &[3.0, 5.0]).iter().map(|p| 0.5 * (p.from_cd + p.to_cd) * p.duration_s).sum();
    // Two groups of 2 x 60 ms at 3 cd, and a triangle of 500 ms at 5 cd.
    assert!((light - (3.0 * 0.24 + 5.0 * 0.25)).abs() < 1e-12);
}

#[test]
fn drifting_channels_have_no_sum() {
    let one = Waveform::flash(Fraction::new(1_000_000, 1), Micros(50_000), 1, Micros(0)).expect("fits");
    let other = Waveform::flash(Fraction::new(1_000_001, 1), Micros(50_000), 1, Micros(0)).expect("fits");
    assert!(sum_waveforms(&[(1.0, &one), (1.0, &other)], &JointLimits::default()).is_none());
}

#[test]
fn senseless_input_is_no_light() {
    let nan = f64::NAN;
    assert_eq!(once(&[]), 0.0);
    assert_eq!(once(&[piece(nan, 1.0, 1.0), piece(-1.0, 1.0, 1.0), piece(0.1, nan, f64::INFINITY)]), 0.0);
    assert!(once(&[piece(0.2, f64::MAX, f64::MAX)]).is_finite());
    for constant_s in [nan, 0.0, -1.0] {
        let reading = EffectiveReading { constant_s, group_gap_s: nan };
        assert_eq!(effective_intensity(&[piece(0.1, 0.0, 7.0)], Recurrence::Cyclic, &reading), 7.0);
    }
}

fn course() -> impl Strategy<Value = Vec<(f64, f64, f64)>> {
    let level = prop_oneof![Just(0.0), 0.0..50.0_f64];
    prop::collection::vec((0.001..0.4_f64, level.clone(), level), 1..12)
}

fn pieces_of(course: &[(f64, f64, f64)]) -> Vec<IntensityPiece> {
    course.iter().map(|(d, a, b)| piece(*d, *a, *b)).collect()
}

fn either() -> impl Strategy<Value = Recurrence> {
    prop_oneof![Just(Recurrence::Once), Just(Recurrence::Cyclic)]
}

/// The best window between any two of many evenly laid moments, each group apart: slow, and never too high.
fn brute_force(pieces: &[IntensityPiece]) -> f64 {
    let per_piece = 40;
    let mut moments = vec![(0.0, 0.0)];
    let (mut time, mut light) = (0.0, 0.0);
    for p in pieces {
        for i in 0..per_piece {
            let (s, e) = (f64::from(i) / f64::from(per_piece), f64::from(i + 1) / f64::from(per_piece));
            let at = |x: f64| p.from_cd + (p.to_cd - p.from_cd) * x;
            time += p.duration_s * (e - s);
            light += p.duration_s * (e - s) * 0.5 * (at(s) + at(e));
            moments.push((time, light));
        }
    }
    let mut best: f64 = 0.0;
    for (i, from) in moments.iter().enumerate() {
        for to in &moments[i + 1..] {
            best = best.max((to.1 - from.1) / (0.2 + to.0 - from.0));
        }
    }
    best
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn never_above_the_peak(course in course(), recurrence in either(), constant_s in 0.0..1.0_f64, group_gap_s in 0.0..1.0_f64) {
        let pieces = pieces_of(&course);
        let peak = course.iter().map(|(_, a, b)| a.max(*b)).fold(0.0, f64::max);
        let found = effective_intensity(&pieces, recurrence, &EffectiveReading { constant_s, group_gap_s });
        prop_assert!(found >= 0.0 && found <= peak);
    }

    #[test]
    fn more_light_never_lowers_it(course in course(), recurrence in either(), more in prop::collection::vec((0.0..9.0_f64, 0.0..9.0_f64), 12)) {
        let reading = EffectiveReading::default();
        let less = pieces_of(&course);
        let brighter: Vec<IntensityPiece> =
            less.iter().zip(&more).map(|(p, (a, b))| piece(p.duration_s, p.from_cd + a, p.to_cd + b)).collect();
        let (low, high) = (effective_intensity(&less, recurrence, &reading), effective_intensity(&brighter, recurrence, &reading));
        prop_assert!(low <= high * (1.0 + 1e-12), "{low} {high}");
    }

    #[test]
    fn as_a_slow_search_finds(course in course()) {
        let pieces = pieces_of(&course);
        let (found, slow) = (once(&pieces), brute_force(&pieces));
        // A dark of the constant's length never pays, so the search need not part groups.
        prop_assert!(slow <= found * (1.0 + 1e-9) + 1e-12, "{slow} {found}");
        prop_assert!(found <= slow * 1.02 + 1e-12, "{slow} {found}");
    }
}
