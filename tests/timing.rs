//! Waveforms, flashes and frequencies against values worked by hand.

use lampwright::timing::{
    Clock, FlashReading, JointLimits, JointRate, Step, Waveform, coincide_every, common_pieces, flash_frequency,
    joint_flashes, slip_between, time_to_slip, worst_second,
};
use lampwright::units::{Fraction, Micros, Rate};
use proptest::prelude::*;
use rstest::rstest;

fn whole(us: i128) -> Fraction {
    Fraction::new(us, 1)
}
fn per_min(numer: i128, denom: i128) -> Rate {
    Rate::per_minute(Fraction::new(numer, denom))
}
fn at_rate(rate: i128, lit_us: u64, pulses: u32, gap_us: u64) -> Waveform {
    Waveform::flash(Fraction::new(60_000_000, rate), Micros(lit_us), pulses, Micros(gap_us)).expect("fits")
}
fn every_us(period: i128, lit_us: u64) -> Waveform {
    Waveform::flash(whole(period), Micros(lit_us), 1, Micros(0)).expect("fits")
}
fn lit_dark(times_ms: &[u64]) -> Waveform {
    let step = |(i, ms): (usize, &u64)| {
        let time = Micros(ms * 1000);
        if i % 2 == 0 { Step::Lit(time) } else { Step::Dark(time) }
    };
    Waveform::from_steps(&times_ms.iter().enumerate().map(step).collect::<Vec<_>>()).expect("a waveform")
}
fn rate(waveform: &Waveform) -> Rate {
    waveform.flash_rate(&FlashReading::default())
}
fn together(waveforms: &[&Waveform]) -> JointRate {
    joint_flashes(waveforms, &FlashReading::default(), &JointLimits::default())
}
fn worst(clocks: &[Clock<'_>]) -> (u64, u64) {
    let found = worst_second(clocks, &FlashReading::default(), &JointLimits::default());
    assert!(found.exact);
    (found.all, found.some)
}

#[rstest]
#[case(1_500_000, 40.000, true)]
#[case(1_501_000, 39.973, false)]
#[case(600_000, 100.000, true)]
#[case(599_000, 100.167, false)]
#[case(32 * 50_000, 37.5, false)]
#[case(30 * 50_000, 40.0, true)]
#[case(24 * 50_000, 50.0, true)]
#[case(64 * 20_000, 46.875, true)]
fn periods_and_the_band_of_40_to_100(#[case] period_us: i128, #[case] expected: f64, #[case] inside: bool) {
    let found = rate(&every_us(period_us, 50_000));
    // 60 s / period; the values are given to three decimals.
    assert!((found.per_min() - expected).abs() < 5e-4, "{found}");
    assert_eq!(found >= per_min(40, 1) && found <= per_min(100, 1), inside);
}

#[test]
fn a_double_flash_counts_once_its_pulses_twice() {
    // 100 / 150 / 100 / 1500 ms: 1.85 s, 60 / 1.85 = 32.43 groups and 64.86 pulses a minute.
    let waveform = lit_dark(&[100, 150, 100, 1500]);
    let reading = FlashReading::default();
    assert_eq!(waveform.flash_rate(&reading), per_min(6000, 185));
    assert_eq!(waveform.pulse_rate(&reading), per_min(12_000, 185));
    assert_eq!(waveform.flash_rate(&reading.every_pulse()), per_min(12_000, 185));
}

#[test]
fn clocks_that_drift_are_added() {
    // Two lamps at 50 a minute: up to 100; four: up to 200; at least the 50 of one.
    let lamp = every_us(1_200_000, 50_000);
    for (count, upper) in [(2, 100), (4, 200)] {
        let clocks: Vec<Clock<'_>> = (0..count).map(|_| Clock::new([&lamp])).collect();
        let found = flash_frequency(&clocks, &FlashReading::default(), &JointLimits::default());
        assert_eq!(found, JointRate::Drifting { upper: per_min(upper, 1), lower: per_min(50, 1) });
    }
}

#[test]
fn two_lamps_turning_at_45() {
    // 45 turns a minute, two lamps back to back: 90 a minute.
    let one = at_rate(45, 55_556, 1, 0);
    let other = one.clone().with_start(Micros(666_667));
    assert_eq!(together(&[&one, &other]), JointRate::Exact(per_min(90, 1)));
}

#[test]
fn alternating_beacons_add_up_on_one_clock() {
    let one = at_rate(90, 50_000, 1, 0);
    let other = one.clone().with_start(Micros(333_333));
    assert_eq!(together(&[&one, &other]), JointRate::Exact(per_min(180, 1)));
    assert_eq!(together(&[&one, &one]), JointRate::Exact(per_min(90, 1)));
}

#[test]
fn a_long_lamp_at_the_upper_limit_is_no_group() {
    // 420 ms lit at 100 a minute leaves a dark of 180 ms: under 0.2 s, but it is the longest there is.
    let lamp = at_rate(100, 420_000, 1, 0);
    assert_eq!(rate(&lamp), per_min(100, 1));
    // Written as two flashes of one pattern, evenly spaced, it is the same light.
    assert_eq!(rate(&lit_dark(&[420, 180, 420, 180])), per_min(100, 1));
    assert_eq!(together(&[&lamp]), JointRate::Exact(per_min(100, 1)));
}

#[rstest]
// Just under 0.2 s joins, 0.2 s does not.
#[case(&[50, 199, 50, 1000], 1)]
#[case(&[50, 200, 50, 1000], 2)]
// Half the longest dark does not join.
#[case(&[50, 150, 50, 300], 2)]
#[case(&[50, 149, 50, 300], 1)]
// Three pulses, two of them a group.
#[case(&[50, 100, 50, 400, 50, 1000], 2)]
fn joining_is_strict(#[case] times_ms: &[u64], #[case] flashes: usize) {
    let waveform = lit_dark(times_ms);
    assert_eq!(waveform.flashes(&FlashReading::default()).flashes.len(), flashes);
}

#[test]
fn groups_and_pulses_wrap_the_end_of_the_period() {
    // The period is cut inside the second pulse of a double flash of 50 / 100 / 50 ms.
    let steps = [20, 1000, 50, 100, 30];
    let found = lit_dark(&steps).flashes(&FlashReading::default());
    assert_eq!(found.flashes.len(), 1);
    let flash = found.flashes[0];
    assert_eq!((flash.pulses, flash.onset_us, flash.end_us), (2, whole(1_020_000), whole(1_220_000)));
    // Cut inside the dark between the two.
    let found = lit_dark(&steps[..4]).flashes(&FlashReading::default());
    assert_eq!(found.flashes.len(), 1);
    assert_eq!((found.flashes[0].onset_us, found.flashes[0].end_us), (whole(1_020_000), whole(1_190_000)));
}

#[test]
fn a_ramp_is_lit_from_a_tenth() {
    // 60 ms up, 80 ms, 60 ms down: above a tenth from 6 to 194 ms, above nothing for 200 ms. Mean (30 + 80 + 30) / 1200.
    let ramp = |from, to| Step::Ramp { from, to, time: Micros(60_000) };
    let steps = [ramp(0.0, 1.0), Step::Lit(Micros(80_000)), ramp(1.0, 0.0), Step::Dark(Micros(1_000_000))];
    let beacon = Waveform::from_steps(&steps).expect("a waveform");
    let reading = FlashReading::default();
    let pulse = beacon.pulses(&reading)[0];
    assert_eq!((pulse.onset_us, pulse.end_us), (whole(6_000), whole(194_000)));
    assert_eq!(beacon.lit_time(&reading).longest_pulse_us, whole(188_000));
    let all = FlashReading { pulse_above: 0.0, ..reading };
    assert_eq!(beacon.lit_time(&all).total_us, whole(200_000));
    assert!((beacon.duty(&all) - 1.0 / 6.0).abs() < 1e-15);
    assert!((beacon.mean_level() - 0.14 / 1.2).abs() < 1e-15);
    assert_eq!((beacon.rise_time(), beacon.fall_time()), (Micros(60_000), Micros(60_000)));
    let swell = Waveform::swell(whole(1_200_000), Micros(60_000), Micros(80_000), Micros(60_000)).expect("fits");
    assert_eq!(swell, beacon);
}

#[test]
fn ramps_are_measured_whole() {
    let ramp = |from, to, ms: u64| Step::Ramp { from, to, time: Micros(ms * 1000) };
    // The climb goes on over two pieces and over the period's end.
    let steps =
        [ramp(0.5, 1.0, 30), ramp(1.0, 0.2, 80), Step::Level { level: 0.2, time: Micros(7) }, ramp(0.2, 0.5, 20)];
    let waveform = Waveform::from_steps(&steps).expect("a waveform");
    assert_eq!((waveform.rise_time(), waveform.fall_time()), (Micros(50_000), Micros(80_000)));
    assert_eq!((waveform.lowest_level(), waveform.peak_level()), (0.2, 1.0));
    let sudden = every_us(1_000_000, 50_000);
    assert_eq!((sudden.rise_time(), sudden.fall_time()), (Micros(0), Micros(0)));
}

#[test]
fn steady_light_does_not_flash() {
    for level in [0.0, 0.3, 1.0] {
        let steady = Waveform::steady(level).expect("a level");
        assert!(steady.is_steady());
        assert_eq!(rate(&steady), per_min(0, 1));
        assert_eq!((steady.mean_level(), steady.lowest_level(), steady.peak_level()), (level, level, level));
        assert_eq!(steady.duty(&FlashReading::default()), if level > 0.0 { 1.0 } else { 0.0 });
        assert_eq!(together(&[&steady]), JointRate::Exact(per_min(0, 1)));
    }
    // A light that dips to a half is not steady, yet never dark.
    let dips = Waveform::from_steps(&[Step::Lit(Micros(5)), Step::Level { level: 0.5, time: Micros(5) }]);
    let dips = dips.expect("a waveform");
    assert!(!dips.is_steady());
    assert_eq!(rate(&dips), per_min(0, 1));
}

#[test]
fn a_worked_strobe() {
    // 50 on, 50 off, 50 on, 850 off: 60 flashes, 120 pulses a minute, 2 in the worst second, mean level 0.1.
    let strobe = lit_dark(&[50, 50, 50, 850]);
    let reading = FlashReading::default();
    assert_eq!(strobe.flash_rate(&reading), per_min(60, 1));
    assert_eq!(strobe.pulse_rate(&reading), per_min(120, 1));
    assert_eq!(worst(&[Clock::new([&strobe])]), (2, 2));
    assert!((strobe.mean_level() - 0.1).abs() < 1e-15);
    assert_eq!(strobe.lit_time(&reading).total_us, whole(100_000));
    assert_eq!(strobe.lit_time(&reading).longest_pulse_us, whole(50_000));
}

#[test]
fn a_worked_aircraft_with_two_clocks() {
    // 60 / 1.28 = 46.875 and 60 / 1.2 = 50 a minute; together 50 to 96.875; pulses 93.75 to 143.75.
    let strobe = lit_dark(&[50, 70, 50, 1110]);
    let beacon = Waveform::swell(whole(1_200_000), Micros(60_000), Micros(80_000), Micros(60_000)).expect("fits");
    let clocks = [Clock::new([&strobe]), Clock::new([&beacon])];
    let reading = FlashReading::default();
    assert_eq!(rate(&strobe).per_min(), 46.875);
    assert!((strobe.mean_level() - 0.078_125).abs() < 1e-15);
    let flashes = flash_frequency(&clocks, &reading, &JointLimits::default());
    assert_eq!((flashes.lower().per_min(), flashes.upper().per_min()), (50.0, 96.875));
    let pulses = flash_frequency(&clocks, &reading.every_pulse(), &JointLimits::default());
    assert_eq!((pulses.lower().per_min(), pulses.upper().per_min()), (93.75, 143.75));
    assert_eq!(worst(&clocks), (3, 3));
}

#[test]
fn the_worst_second() {
    // 60 / 50 = 1.2 s between groups: 3 of a triple flash, 4 of a quadruple flash, 100 ms apart.
    assert_eq!(worst(&[Clock::new([&at_rate(50, 50_000, 3, 50_000)])]), (3, 3));
    assert_eq!(worst(&[Clock::new([&at_rate(50, 50_000, 4, 50_000)])]), (4, 4));
    assert_eq!(worst(&[Clock::new([&at_rate(180, 50_000, 1, 0)])]), (3, 3));
    // Triple flashes at 70 a minute, 60 ms apart: 60 / 70 + 0.12 = 0.977 s holds 6; 100 ms apart it is 1.057 s, so 5.
    assert_eq!(worst(&[Clock::new([&at_rate(70, 30_000, 3, 30_000)])]), (6, 6));
    assert_eq!(worst(&[Clock::new([&at_rate(70, 30_000, 3, 70_000)])]), (5, 5));
    // Half-open: at exactly one a second the next does not count. A period much shorter than a second fits it 25 times.
    assert_eq!(worst(&[Clock::new([&every_us(1_000_000, 50_000)])]), (1, 1));
    assert_eq!(worst(&[Clock::new([&every_us(40_000, 20_000)])]), (25, 25));
}

#[test]
fn one_lamp_can_fill_the_dark_of_another() {
    let strobe = lit_dark(&[50, 50, 50, 850]);
    let long = lit_dark(&[200, 800]);
    assert_eq!(worst(&[Clock::new([&strobe, &long])]), (1, 2));
}

#[test]
fn spans_that_chain_count_once_and_may_wrap() {
    let spans = |onset: u64, length: u64| every_us(1_000_000, length).with_start(Micros(onset));
    let (a, b, c) = (spans(900_000, 200_000), spans(50_000, 200_000), spans(240_000, 100_000));
    assert_eq!(together(&[&a, &b, &c]), JointRate::Exact(per_min(60, 1)));
    // Touching is not overlapping.
    assert_eq!(together(&[&a, &spans(100_000, 100_000)]), JointRate::Exact(per_min(120, 1)));
    assert_eq!(together(&[&spans(50_000, 200_000), &spans(250_000, 9)]), JointRate::Exact(per_min(120, 1)));
    // Never dark together.
    let third = |onset| spans(onset, 400_000);
    let ring = [third(0), third(333_333), third(666_667)];
    assert_eq!(together(&[&ring[0], &ring[1], &ring[2]]), JointRate::Exact(per_min(0, 1)));
}

#[test]
fn inner_gaps_belong_to_the_flash() {
    // A single flash inside the dark of a double flash is the same flash.
    let double = lit_dark(&[50, 100, 50, 800]);
    let inside = every_us(1_000_000, 20_000).with_start(Micros(90_000));
    assert_eq!(together(&[&double, &inside]), JointRate::Exact(per_min(60, 1)));
    let every = joint_flashes(&[&double, &inside], &FlashReading::default().every_pulse(), &JointLimits::default());
    assert_eq!(every, JointRate::Exact(per_min(180, 1)));
}

#[test]
fn different_periods_of_one_clock_are_counted_exactly() {
    // 1.0 s and 1.5 s: over 3 s 3 + 2 flashes, of which those at 0 fall together: 4 in 3 s.
    let (one, other) = (every_us(1_000_000, 50_000), every_us(1_500_000, 50_000));
    assert_eq!(together(&[&one, &other]), JointRate::Exact(per_min(80, 1)));
    // 45 and 46 a minute: over a minute 45 + 46 of 50 ms; those less than 50 ms apart overlap. Onsets differ by
    // multiples of 60 / (45 x 46) s = 28.99 ms, each once: 0 and +-1 of them are under 50 ms, so 91 - 3.
    let (one, other) = (at_rate(45, 50_000, 1, 0), at_rate(46, 50_000, 1, 0));
    assert_eq!(together(&[&one, &other]), JointRate::Exact(per_min(88, 1)));
}

#[test]
fn a_pattern_too_long_to_count_drifts() {
    let (one, other) = (every_us(1_200_000, 50_000), every_us(1_200_001, 50_000));
    let JointRate::Drifting { upper, lower } = together(&[&one, &other]) else { panic!("not counted as drifting") };
    assert_eq!(lower, per_min(50, 1));
    assert_eq!(upper.exact_per_minute(), whole(50) + Fraction::new(60_000_000, 1_200_001));
    let few = JointLimits { events: 3, ..JointLimits::default() };
    let found = joint_flashes(&[&every_us(1_000_000, 1), &every_us(1_500_000, 1)], &FlashReading::default(), &few);
    assert_eq!(found, JointRate::Drifting { upper: per_min(100, 1), lower: per_min(60, 1) });
    let counted = worst_second(&[Clock::new([&one, &other])], &FlashReading::default(), &JointLimits::default());
    assert_eq!((counted.all, counted.exact), (2, false));
}

#[test]
fn slipping() {
    let (at_45, at_46) = (Fraction::new(60_000_000, 45), Fraction::new(60_000_000, 46));
    let half = at_45 / 2;
    let near = |found: Option<f64>, expected: f64, tolerance: f64| {
        let found = found.expect("they slip");
        assert!((found - expected).abs() <= tolerance, "{found} is not {expected}");
    };
    // Relative 1 % at 45 a minute: half a period after 66.7 s, 20 ms after 2 s; 100 ppm: 6667 s and 200 s.
    near(time_to_slip(0.01, half), 66.7, 0.05);
    near(time_to_slip(0.01, whole(20_000)), 2.0, 1e-12);
    near(time_to_slip(1e-4, half), 6667.0, 0.5);
    near(time_to_slip(1e-4, whole(20_000)), 200.0, 1e-9);
    near(slip_between(at_45, at_45 * Fraction::new(101, 100), half), 66.7, 0.05);
    // 1.000 s and 1.050 s begin together every 21.0 s, 45 and 46 a minute every 60.0 s.
    assert_eq!(coincide_every(whole(1_000_000), whole(1_050_000)), Some(whole(21_000_000)));
    assert_eq!(coincide_every(at_45, at_46), Some(whole(60_000_000)));
    for never in [0.0, f64::NAN] {
        assert_eq!(time_to_slip(never, half), None);
    }
    assert_eq!(time_to_slip(f64::INFINITY, half), Some(0.0));
    assert_eq!(coincide_every(whole(0), half), None);
    assert_eq!(coincide_every(Fraction::new(i128::MAX, 2), Fraction::new(i128::MAX - 1, 3)), None);
}

#[test]
fn repeats_are_laid_out_and_equal_levels_merge() {
    let pulse = vec![Step::Lit(Micros(20_000)), Step::Dark(Micros(80_000))];
    let steps = [
        Step::Repeat { times: 2, steps: vec![Step::Repeat { times: 3, steps: pulse }, Step::Dark(Micros(300_000))] },
        Step::Dark(Micros(1_000_000)),
    ];
    let waveform = Waveform::from_steps(&steps).expect("a waveform");
    assert_eq!(waveform.period_us(), whole(2_200_000));
    assert_eq!(waveform.pieces().len(), 12);
    assert_eq!(waveform.pulses(&FlashReading::default()).len(), 6);
    assert_eq!(waveform.flashes(&FlashReading::default()).flashes.len(), 2);
}

#[test]
fn what_cannot_be_made_is_said() {
    let time = Micros(50_000);
    let said = |steps: &[Step]| Waveform::from_steps(steps).expect_err("an error").to_string();
    assert_eq!(said(&[Step::Lit(Micros(0))]), "a step takes no time; leave it out, or give it a time above 0");
    assert!(said(&[]).contains("no steps"));
    assert!(said(&[Step::Level { level: f64::NAN, time }]).contains("not from 0 to 1"));
    assert!(said(&[Step::Ramp { from: 0.0, to: 1.5, time }]).contains("not from 0 to 1"));
    assert!(said(&[Step::Lit(Micros(u64::MAX)), Step::Lit(Micros(u64::MAX))]).contains("longer than one day"));
    assert!(said(&[Step::Repeat { times: 0, steps: vec![Step::Lit(time)] }]).contains("0 times"));
    assert!(said(&[Step::Repeat { times: u32::MAX, steps: vec![] }]).contains("no steps"));
    assert!(said(&[Step::Repeat { times: 20_001, steps: vec![Step::Lit(Micros(1))] }]).contains("20000 steps"));
    let mut deep = vec![Step::Lit(time)];
    for _ in 0..40 {
        deep = vec![Step::Repeat { times: u32::MAX, steps: deep }];
    }
    assert!(said(&deep).contains("deep"));
    let full = Waveform::flash(whole(300_000), Micros(100_000), 2, Micros(100_000)).expect_err("no dark");
    assert!(full.what.contains("take 300 ms and leave no dark in a period of 300 ms"), "{full}");
    assert!(Waveform::steady(1.1).is_err());
    assert!(Waveform::swell(whole(1_000_000), Micros(0), Micros(0), Micros(0)).is_err());
}

#[test]
fn extremes_do_not_panic() {
    let times = [0, 1, 2, 86_400_000_000, u64::MAX];
    let periods = [
        whole(0),
        whole(-1),
        whole(1),
        whole(2),
        whole(3),
        whole(i128::MAX),
        whole(i128::MIN),
        Fraction::new_raw(1, 0),
        Fraction::new_raw(6, -4),
        Fraction::new_raw(i128::MIN, i128::MIN),
        Fraction::new(30_000_000, 23),
        Fraction::new(86_400_000_000_000_000_000_000_000_001, 1_000_000_000_000_000_000),
        Fraction::new(7, 1_000_000_000_000_000_000),
        whole(86_400_000_000),
    ];
    let mut made = Vec::new();
    for period in periods {
        for a in times {
            for b in times {
                made.extend(Waveform::flash(period, Micros(a), 2, Micros(b)));
                made.extend(Waveform::flash(period, Micros(a), u32::MAX, Micros(b)));
                made.extend(Waveform::flash(period, Micros(a), 1, Micros(b)).map(|w| w.with_start(Micros(u64::MAX))));
                made.extend(Waveform::swell(period, Micros(a), Micros(b), Micros(a)));
            }
        }
    }
    made.dedup();
    assert!(made.len() > 20);
    let (reading, limits) = (FlashReading::default(), JointLimits::default());
    for one in &made {
        let _ = (one.flash_rate(&reading), one.lit_time(&reading), one.phase_us(), one.rise_time(), one.mean_level());
        for other in &made {
            let _ = joint_flashes(&[one, other], &reading, &limits);
            let _ = common_pieces(&[one, other], &limits);
            let _ = worst_second(&[Clock::new([one, other])], &reading, &limits);
        }
    }
}

fn pattern() -> impl Strategy<Value = Vec<(u64, u64)>> {
    prop::collection::vec((1..30_u64, 1..60_u64), 1..5)
}

/// Lit and dark times in tens of milliseconds; the period is brought to a whole number of half seconds.
fn of_pattern(pattern: &[(u64, u64)]) -> Waveform {
    let used: u64 = pattern.iter().map(|(lit, dark)| lit + dark).sum();
    let rest = 50 - used % 50;
    let mut times: Vec<u64> = pattern.iter().flat_map(|(lit, dark)| [lit * 10, dark * 10]).collect();
    if let Some(last) = times.last_mut() {
        *last += rest * 10;
    }
    lit_dark(&times)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn shifting_a_whole_clock_changes_no_frequency(
        patterns in prop::collection::vec((pattern(), 0..9_000_000_u64), 1..4),
        shift in 0..u64::from(u32::MAX),
    ) {
        let before: Vec<Waveform> = patterns.iter().map(|(p, start)| of_pattern(p).with_start(Micros(*start))).collect();
        let after: Vec<Waveform> =
            patterns.iter().map(|(p, start)| of_pattern(p).with_start(Micros(start + shift))).collect();
        let (before, after) = (Clock::new(&before), Clock::new(&after));
        let (reading, limits) = (FlashReading::default(), JointLimits::default());
        for reading in [reading, reading.every_pulse()] {
            prop_assert_eq!(
                joint_flashes(&before.channels, &reading, &limits),
                joint_flashes(&after.channels, &reading, &limits)
            );
        }
        prop_assert_eq!(worst_second(&[before], &reading, &limits), worst_second(&[after], &reading, &limits));
    }

    #[test]
    fn cutting_the_cycle_elsewhere_changes_no_count(pattern in pattern(), turn in 0..5_usize) {
        let whole_steps: Vec<(u64, u64)> = pattern.clone();
        let mut turned = pattern;
        let at = turn % turned.len();
        turned.rotate_left(at);
        let waveform = |steps: &[(u64, u64)]| {
            lit_dark(&steps.iter().flat_map(|(lit, dark)| [lit * 10, dark * 10]).collect::<Vec<_>>())
        };
        prop_assert_eq!(rate(&waveform(&whole_steps)), rate(&waveform(&turned)));
    }

    #[test]
    fn a_joint_rate_is_at_most_the_sum(patterns in prop::collection::vec((pattern(), 0..9_000_000_u64), 1..4)) {
        let waveforms: Vec<Waveform> = patterns.iter().map(|(p, start)| of_pattern(p).with_start(Micros(*start))).collect();
        let clock = Clock::new(&waveforms);
        let sum = waveforms.iter().fold(whole(0), |sum, w| sum + rate(w).exact_per_minute());
        prop_assert!(together(&clock.channels).upper().exact_per_minute() <= sum);
    }
}
