//! Laws that hold whatever the model: no figure here comes from a table, the second reckoning is the check of the first.
//!
//! Models are drawn close to the limits of 14 CFR 25.1387 to 25.1401: ratios near 1, mask edges near the boundary
//! planes and 10 and 20 deg past them, periods near 600 and 1500 ms, wavelengths near 609.7, 494 and 534.4 nm.

use lampwright::aircraft::{
    Aim, Aircraft, Channel, Emitter, Hides, Known, Lamp, MaskSpec, Origin, Output, Place, RequiredBy, Scale,
};
use lampwright::colorimetry::ColourSet;
use lampwright::geometry::AzimuthSpan;
use lampwright::judge::Verdict;
use lampwright::photometry::Shape;
use lampwright::report::{Report, Tally};
use lampwright::rules::{Authority, Category, Light, RuleSet};
use lampwright::source::{At, Memory};
use lampwright::timing::Waveform;
use lampwright::units::{Fraction, Interval, Length, Micros};
use lampwright::{Options, bundled_rule_sets, check};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Verdict and margin of every goal, by rule set and id.
type Goals = BTreeMap<(String, String), (Verdict, Option<Interval>)>;

thread_local! {
    static SETS: Vec<RuleSet> = bundled_rule_sets().expect("sound");
}

fn report(aircraft: &Aircraft, only: &[&str]) -> Report {
    let only = only.iter().map(ToString::to_string).collect();
    SETS.with(|sets| check(aircraft, sets, &Options { only, ..Options::default() }).expect("judged"))
}

fn goals(aircraft: &Aircraft, only: &[&str]) -> Goals {
    let report = report(aircraft, only);
    let goals: Goals =
        report.goals.iter().map(|g| ((g.rule_set.clone(), g.id.clone()), (g.verdict, g.margin))).collect();
    assert_eq!(goals.len(), report.goals.len(), "two goals of one id");
    goals
}

/// Reds and the greens that mirror them: each pair on the same side of its limit, or both astride it.
const PAIRS: [((f64, f64), (f64, f64)); 7] = [
    ((625.0, 625.0), (525.0, 525.0)),
    ((610.0, 610.0), (534.1, 534.1)),
    ((609.4, 609.4), (534.7, 534.7)),
    ((609.9, 609.9), (494.5, 494.5)),
    ((609.5, 609.5), (493.5, 493.5)),
    ((609.0, 611.0), (534.0, 535.0)),
    ((600.0, 606.0), (540.0, 550.0)),
];

fn dominant(nm: (f64, f64)) -> ColourSet {
    ColourSet::Dominant { wavelength_nm: Interval::new(nm.0, nm.1), fwhm_nm: Interval::exactly(20.0) }
}

fn known<T>(value: T) -> Option<Known<T>> {
    Some(Known::in_code(value, Origin::Measured))
}

/// Shares of one, turned one after another into what is drawn.
struct Draw<'a>(&'a [f64], usize);

impl Draw<'_> {
    fn share(&mut self) -> f64 {
        self.1 += 1;
        self.0[(self.1 - 1) % self.0.len()]
    }
    fn from(&mut self, low: f64, high: f64) -> f64 {
        low + self.share() * (high - low)
    }
    fn index(&mut self, count: usize) -> usize {
        ((self.share() * count as f64) as usize).min(count - 1)
    }
    fn emitter(&mut self, name: &str, colour: ColourSet, full_size_cd: f64, shape: Shape) -> Emitter {
        let size = if self.share() < 0.4 { 0.0 } else { self.from(0.5, 3.0) };
        Emitter {
            colour: known(colour),
            output: known(Output::PeakCd(Interval::exactly(full_size_cd / (N * N)))),
            shape: known(shape),
            size_mm: known(Interval::exactly(size)),
            ..Emitter::unknown(name, &At::nowhere())
        }
    }
    fn hides(&mut self, from: f64, to: f64) -> Option<MaskSpec> {
        let azimuth = AzimuthSpan::between(from, to);
        let hides = Hides::Sector { azimuth, elevation_deg: Interval::new(-90.0, 90.0) };
        Some(MaskSpec { hides: vec![hides], edge_mm: Some(Interval::exactly(self.from(15.0, 60.0))) })
    }
}

const N: f64 = 8.0;

fn all_round() -> Shape {
    Shape::table(vec![0.0, 60.0, 120.0, 180.0], vec![1.0, 0.98, 0.96, 0.95]).expect("well formed")
}

/// Main beam and fill of a wing tip; `side` is -1 on the left, 1 on the right.
fn tip(draw: &mut Draw<'_>, side: f64) -> Vec<Lamp> {
    let (light, word) = if side < 0.0 { (Light::LeftPosition, "p") } else { (Light::RightPosition, "s") };
    let (red, green) = PAIRS[draw.index(PAIRS.len())];
    let colour = dominant(if side < 0.0 { red } else { green });
    let place = Place::from_mm(draw.from(-20.0, 20.0), side * draw.from(440.0, 500.0), 30.0);
    let (across, aft) = (draw.from(7.0, 23.0), draw.from(107.0, 133.0));
    let half = draw.from(28.0, 50.0);
    let shape = if draw.share() < 0.5 {
        Shape::cosine_power(Interval::exactly(half)).expect("well formed")
    } else {
        Shape::table(vec![0.0, 0.5 * half, half, 2.0 * half, 180.0], vec![1.0, 0.85, 0.5, 0.03, 0.0])
            .expect("well formed")
    };
    let main = draw.from(38.0, 56.0);
    let fill = draw.from(4.8, 6.2);
    let beams = [(shape, main, draw.from(-3.0, 14.0), draw.from(-2.0, 2.0)), (all_round(), fill, 60.0, 0.0)];
    let mut lamps = Vec::new();
    for (n, (shape, cd, azimuth, elevation)) in beams.into_iter().enumerate() {
        let emitter = draw.emitter(word, colour.clone(), cd, shape);
        let mut lamp = Lamp::new(&format!("{word}{n}"), light, Aim::from_degrees(side * azimuth, elevation), emitter);
        lamp.place = Some(place);
        // From across the nose, past the other side and aft, to behind the dihedral angle; azimuths grow to the right.
        lamp.mask = if side < 0.0 { draw.hides(across, -aft) } else { draw.hides(aft, -across) };
        if draw.share() < 0.15 {
            lamp.mask = Some(MaskSpec { hides: vec![Hides::Inboard, Hides::AftOf(aft)], edge_mm: None });
        }
        lamps.push(lamp);
    }
    lamps
}

fn flashing(draw: &mut Draw<'_>, name: &str) -> Channel {
    let near = if draw.share() < 0.5 { 600_000.0 } else { 1_500_000.0 };
    let period = (near + draw.from(-3000.0, 3000.0)).round() as i128;
    let lit = Micros((draw.from(30.0, 160.0) * 1e3) as u64);
    Channel::in_code(name, Waveform::flash(Fraction::new(period, 1), lit, 1, Micros(0)).expect("well formed"))
}

/// A model of two wing tips, a tail, a beacon and a strobe, near the limits.
fn model(shares: &[f64]) -> Aircraft {
    let draw = &mut Draw(shares, 0);
    let mut aircraft = Aircraft::new("drawn", Scale::one_to(N).expect("a scale"));
    aircraft.craft.category = Some(Category::TransportAeroplane);
    aircraft.craft.authority = Some(Authority::Us);
    aircraft.craft.applied = Some("1980".parse().expect("a date"));
    aircraft.span = Some(Length::from_mm(1000.0));
    aircraft.length = Some(Length::from_mm(900.0));
    aircraft.nose_forward_mm = Some(300.0);
    aircraft.lamps = tip(draw, -1.0);
    aircraft.lamps.extend(tip(draw, 1.0));
    let white = |draw: &mut Draw<'_>| ColourSet::White {
        kelvin: Interval::exactly(draw.from(4500.0, 7500.0)),
        duv: Interval::exactly(draw.from(-0.002, 0.006)),
    };
    let colour = white(draw);
    let cd = draw.from(19.5, 24.0);
    let emitter = draw.emitter("tail", colour, cd, all_round());
    let mut tail = Lamp::new("t", Light::RearPosition, Aim::from_degrees(180.0, 0.0), emitter);
    tail.place = Some(Place::from_mm(draw.from(-600.0, -480.0), 0.0, 80.0));
    let (left, right) = (draw.from(86.0, 112.0), draw.from(86.0, 112.0));
    tail.mask = draw.hides(-left, right);
    aircraft.lamps.push(tail);
    for (name, light, azimuth, elevation) in [("b", Light::Beacon, 0.0, 90.0), ("f", Light::Strobe, -70.0, 0.0)] {
        let colour = if light == Light::Beacon { dominant(PAIRS[draw.index(PAIRS.len())].0) } else { white(draw) };
        let beam = Shape::cosine_power(Interval::exactly(60.0)).expect("well formed");
        let emitter = draw.emitter(name, colour, 300.0, beam);
        let mut lamp = Lamp::new(name, light, Aim::from_degrees(azimuth, elevation), emitter);
        let channel = flashing(draw, &format!("{name} channel"));
        lamp.channel = Some(aircraft.add_channel(channel));
        aircraft.lamps.push(lamp);
    }
    aircraft
}

const SHARES: usize = 61;

fn drawn() -> impl Strategy<Value = Aircraft> {
    proptest::collection::vec(0.0..1.0_f64, SHARES).prop_map(|shares| model(&shares))
}

fn some_of(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, max_shrink_iters: 40, ..ProptestConfig::default() }
}

fn other(light: Light) -> Light {
    match light {
        Light::LeftPosition => Light::RightPosition,
        Light::RightPosition => Light::LeftPosition,
        same => same,
    }
}

fn mirrored_hides(hides: Hides) -> Hides {
    match hides {
        Hides::Sector { azimuth, elevation_deg } => {
            let mirrored = AzimuthSpan::between(-azimuth.to_deg(), -azimuth.from_deg);
            Hides::Sector { azimuth: mirrored, elevation_deg }
        }
        same => same,
    }
}

/// The colour that the other side's light must have for the same verdict.
fn mirrored_colour(set: &ColourSet) -> ColourSet {
    for (red, green) in PAIRS {
        if *set == dominant(red) {
            return dominant(green);
        }
        if *set == dominant(green) {
            return dominant(red);
        }
    }
    set.clone()
}

fn mirrored(aircraft: &Aircraft) -> Aircraft {
    let mut mirrored = aircraft.clone();
    for lamp in &mut mirrored.lamps {
        if lamp.light != other(lamp.light) {
            lamp.emitter.colour = lamp.emitter.colour.take().and_then(|c| known(mirrored_colour(&c.value)));
        }
        lamp.light = other(lamp.light);
        lamp.place = lamp.place.map(|p| Place { right_mm: p.right_mm.map(|mm| 0.0 - mm), ..p });
        lamp.aim = Aim::from_degrees(-lamp.aim.azimuth.deg(), lamp.aim.elevation.deg());
        for hides in lamp.mask.iter_mut().flat_map(|m| &mut m.hides) {
            *hides = mirrored_hides(*hides);
        }
    }
    mirrored
}

/// The id of the goal that becomes this one in the mirror.
fn mirrored_id(id: &str) -> String {
    let swaps = [
        ("left-light", "right-light"),
        ("green-in-L", "red-in-R"),
        ("green-in-A", "red-in-A"),
        ("white-in-L", "white-in-R"),
        ("/left", "/right"),
    ];
    for (a, b) in swaps {
        if id.contains(a) {
            return id.replacen(a, b, 1);
        }
        if id.contains(b) {
            return id.replacen(b, a, 1);
        }
    }
    id.to_string()
}

fn close(a: Option<Interval>, b: Option<Interval>, relative: f64) -> bool {
    let near = |a: f64, b: f64| a == b || (a - b).abs() <= relative * (1.0 + a.abs());
    match (a, b) {
        (Some(a), Some(b)) => near(a.low, b.low) && near(a.high, b.high),
        (a, b) => a == b,
    }
}

proptest! {
    #![proptest_config(some_of(10))]

    /// Left and right are told apart by nothing but their names (symmetry of 14 CFR 25.1387, 25.1391 to 25.1395).
    #[test]
    fn the_mirror_swaps_left_and_right(aircraft in drawn()) {
        let (before, after) = (goals(&aircraft, &[]), goals(&mirrored(&aircraft), &[]));
        prop_assert_eq!(before.len(), after.len());
        for ((set, id), (verdict, margin)) in &before {
            let key = (set.clone(), mirrored_id(id));
            let (other, other_margin) = after.get(&key).copied().unwrap_or_else(|| panic!("no {key:?}"));
            prop_assert_eq!(*verdict, other, "{} {:?} {:?}", id, margin, other_margin);
            // Mirrored colours are pairs of the same verdict, not of the same margin.
            prop_assert!(id.contains("colour") || close(*margin, other_margin, 1e-6), "{} {:?} {:?}", id, margin, other_margin);
        }
    }
}

fn times(lamp: &mut Lamp, factor: f64) {
    match lamp.emitter.output.as_mut().map(|o| &mut o.value) {
        Some(Output::PeakCd(cd) | Output::FluxLm(cd)) => *cd = cd.scaled(factor),
        None => {}
    }
}

/// Missed, cannot tell, met.
fn rank(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Missed => 0,
        Verdict::CannotTell => 1,
        _ => 2,
    }
}

/// No goal may come out better than before.
fn no_better(before: &Goals, after: &Goals) -> Result<(), TestCaseError> {
    for (key, (verdict, margin)) in before {
        let (later, later_margin) = after[key];
        prop_assert!(
            rank(later) <= rank(*verdict),
            "{:?}: {} {:?}, then {} {:?}",
            key,
            verdict,
            margin,
            later,
            later_margin
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(some_of(12))]

    /// Less light never reaches a floor that more light missed.
    #[test]
    fn dimming_never_mends_a_floor(aircraft in drawn(), which in 0_usize..5, factor in 0.5..1.0_f64) {
        let only = ["-horizontal", "-vertical"];
        let mut dimmed = aircraft.clone();
        times(&mut dimmed.lamps[which], factor);
        no_better(&goals(&aircraft, &only), &goals(&dimmed, &only))?;
    }

    /// More light never keeps a ceiling that less light broke; 56 cd at most become 90, under the 100 of 25.1389(b)(3).
    #[test]
    fn brightening_never_mends_a_ceiling(aircraft in drawn(), which in 0_usize..5, factor in 1.0..1.6_f64) {
        let only = ["-in-"];
        let mut brighter = aircraft.clone();
        times(&mut brighter.lamps[which], factor);
        no_better(&goals(&aircraft, &only), &goals(&brighter, &only))?;
    }
}

/// A range about a figure, `below` and `above` in shares of it.
fn around(figure: Interval, below: f64, above: f64) -> Interval {
    Interval::new(figure.low * (1.0 - below), figure.high * (1.0 + above))
}

fn widened(lamp: &mut Lamp, below: f64, above: f64, what: usize) {
    match what {
        0 => {
            if let Some(Output::PeakCd(cd)) = lamp.emitter.output.as_mut().map(|o| &mut o.value) {
                *cd = around(*cd, below, above);
            }
        }
        1 => {
            if let Some(Shape::CosinePower { half_angle_deg }) = lamp.emitter.shape.as_mut().map(|s| &mut s.value) {
                *half_angle_deg = around(*half_angle_deg, below, above);
            }
        }
        2 => {
            if let Some(ColourSet::Dominant { wavelength_nm, .. }) = lamp.emitter.colour.as_mut().map(|c| &mut c.value)
            {
                // A few nm about the limits.
                *wavelength_nm = around(*wavelength_nm, 0.01 * below, 0.01 * above);
            }
        }
        _ => {
            if let Some(edge) = lamp.mask.as_mut().and_then(|m| m.edge_mm.as_mut()) {
                *edge = around(*edge, below, above);
            }
        }
    }
}

proptest! {
    #![proptest_config(some_of(12))]

    /// Knowing less never turns a verdict round, nor makes one of a goal that could not be told.
    #[test]
    fn a_wider_range_only_blurs(aircraft in drawn(), what in 0_usize..5, below in 0.0..0.4_f64, above in 0.0..0.4_f64) {
        let only = ["-horizontal", "-vertical", "-in-", "-colour", "brightness", "cut-off"];
        let mut blurred = aircraft.clone();
        for lamp in &mut blurred.lamps {
            // The last draw widens all of them.
            let all = 0..4;
            all.filter(|w| what == 4 || *w == what).for_each(|w| widened(lamp, below, above, w));
        }
        let (before, after) = (goals(&aircraft, &only), goals(&blurred, &only));
        for (key, (verdict, margin)) in &before {
            let (later, later_margin) = after[key];
            prop_assert!(later == *verdict || later == Verdict::CannotTell, "{:?}: {} {:?}, then {} {:?}", key, verdict, margin, later, later_margin);
        }
    }
}

/// `thousandths / 1000` written out without rounding.
fn decimal(thousandths: u64) -> String {
    format!("{}.{:03}", thousandths / 1000, thousandths % 1000)
}

/// One model in large units or in small ones: candela or millicandela, seconds or milliseconds, metres or millimetres,
/// flashes a second or a minute.
#[derive(Debug, Clone, Copy)]
struct Figures {
    main_mcd: u64,
    fill_mcd: u64,
    lit_ms: u64,
    mhz: u64,
    out_mm: u64,
    edge_mm: u64,
}

fn spelled(f: Figures, large: bool) -> Aircraft {
    let cd = |mcd: u64| if large { format!("{} cd", decimal(mcd)) } else { format!("{mcd} mcd") };
    let s = |ms: u64| if large { format!("{} s", decimal(ms)) } else { format!("{ms} ms") };
    let m = |mm: u64| if large { format!("{} m", decimal(mm)) } else { format!("{mm} mm") };
    let rate = if large { format!("{} Hz", decimal(f.mhz)) } else { format!("{} per min", decimal(60 * f.mhz)) };
    let text = format!(
        "lampwright: aircraft 1
model: {{title: spelled, scale: \"1:8\", span: {span}, length: {length}, nose: forward {nose}}}
prototype: {{category: transport aeroplane, authority: US, applied: 1980}}
emitters:
  main: {{from: measured, dominant_wavelength: 625 nm, peak: {main}, viewing_angle: 90 deg, size: {size}}}
  fill: {{from: measured, dominant_wavelength: 625 nm, peak: {fill}, size: {size}, table: {{0 deg: 100 %, 180 deg: 95 %}}}}
lamps:
  main:
    light: left position
    place: [left {out}, forward {forward}]
    aim: left 5 deg
    emitter: main
    mask: {{hides: {{from: right 9 deg, through: aft, to: left 125 deg}}, edge: {edge}}}
  fill:
    light: left position
    place: [left {out}]
    aim: left 60 deg
    emitter: fill
    mask: {{hides: {{from: right 9 deg, through: aft, to: left 125 deg}}, edge: {edge}}}
  beacon: {{light: beacon, aim: up, emitter: fill, flash: {{rate: {rate}, lit: {lit}}}}}
  strobe: {{light: strobe, aim: left, emitter: fill, steps: [lit: {lit}, dark: {dark}]}}
",
        span = m(1500),
        length = m(1250),
        nose = m(420),
        main = cd(f.main_mcd),
        fill = cd(f.fill_mcd),
        size = m(1),
        out = m(f.out_mm),
        forward = m(40),
        edge = m(f.edge_mm),
        lit = s(f.lit_ms),
        dark = s(1280),
    );
    let files = Memory::new().with("model.yaml", text);
    lampwright::aircraft::read(&files, Path::new("model.yaml")).expect("readable").expect("sound")
}

prop_compose! {
    /// Full-size equivalents about 40 and 5 cd, periods about 600 and 1500 ms, places about nine tenths of the half-span.
    fn figures()(
        main_mcd in 560_u64..900,
        fill_mcd in 74_u64..100,
        lit_ms in 30_u64..310,
        fast in prop::bool::ANY,
        off in 0_u64..9,
        out_mm in 660_u64..700,
        edge_mm in 20_u64..80,
    ) -> Figures {
        let mhz = if fast { 1663 + off } else { 663 + off };
        Figures { main_mcd, fill_mcd, lit_ms, mhz, out_mm, edge_mm }
    }
}

fn same(before: &Goals, after: &Goals) -> Result<(), TestCaseError> {
    prop_assert_eq!(before.keys().collect::<Vec<_>>(), after.keys().collect::<Vec<_>>());
    for (key, (verdict, margin)) in before {
        let (later, later_margin) = after[key];
        prop_assert_eq!(*verdict, later, "{:?} {:?} {:?}", key, margin, later_margin);
        prop_assert!(close(*margin, later_margin, 1e-9), "{:?}: {:?}, then {:?}", key, margin, later_margin);
    }
    Ok(())
}

proptest! {
    #![proptest_config(some_of(8))]

    /// 45 cd are 45000 mcd, 0.12 s are 120 ms, 1 Hz is 60 a minute, 0.68 m are 680 mm (definitions of the SI).
    #[test]
    fn spelling_of_units_changes_nothing(figures in figures()) {
        same(&goals(&spelled(figures, true), &[]), &goals(&spelled(figures, false), &[]))?;
    }

    /// Twice as small a model with a quarter of the light stands for the same craft.
    #[test]
    fn only_intensity_times_scale_squared_counts(aircraft in drawn()) {
        let mut small = aircraft.clone();
        small.scale = Scale::one_to(2.0 * N).expect("a scale");
        small.lamps.iter_mut().for_each(|l| times(l, 0.25));
        same(&goals(&aircraft, &[]), &goals(&small, &[]))?;
    }

    /// Two lamps of half the light at one place are one lamp; so are two emitters of half the light.
    #[test]
    fn half_and_half_is_one(aircraft in drawn(), which in 0_usize..7) {
        let before = goals(&aircraft, &[]);
        let mut split = aircraft.clone();
        times(&mut split.lamps[which], 0.5);
        let mut counted = split.clone();
        counted.lamps[which].count = 2;
        same(&before, &goals(&counted, &[]))?;
        let name = split.lamps[which].name.clone();
        let mut twin = split.lamps[which].clone();
        twin.name = format!("{name} twin");
        split.lamps.insert(which + 1, twin);
        let after = goals(&split, &[]);
        for ((set, id), (verdict, margin)) in &after {
            // A goal of the twin alone comes out as that of the lamp it was made from.
            let key = (set.clone(), id.replace(" twin", ""));
            let (whole, whole_margin) = before[&key];
            prop_assert_eq!(*verdict, whole, "{} {:?} {:?}", id, margin, whole_margin);
        }
        prop_assert!(before.keys().all(|key| after.contains_key(key)));
    }

    /// A lamp the flying site asks for changes no goal; tallies count the goals; ids are unique in a rule set.
    #[test]
    fn local_lamps_change_nothing_and_tallies_agree(aircraft in drawn(), which in 0_usize..7, azimuth in -180.0..180.0_f64) {
        let report = report(&aircraft, &[]);
        let mut more = aircraft.clone();
        let mut lamp = more.lamps[which].clone();
        lamp.name = "site".to_string();
        lamp.aim = Aim::from_degrees(azimuth, 20.0);
        lamp.mask = None;
        lamp.place = Some(Place::from_mm(0.0, 10.0, 0.0));
        lamp.required_by = Some(RequiredBy::LocalRule);
        times(&mut lamp, 50.0);
        more.lamps.insert(which, lamp);
        same(&goals(&aircraft, &[]), &goals(&more, &[]))?;

        let tally = |keep: &dyn Fn(&lampwright::report::GoalReport) -> bool| {
            Tally::of(report.goals.iter().filter(|g| keep(g)).map(|g| g.verdict))
        };
        prop_assert_eq!(report.all, tally(&|_| true));
        prop_assert_eq!(report.required, tally(&|g| g.binding));
        for head in &report.rule_sets {
            prop_assert_eq!(head.tally, tally(&|g| g.rule_set == head.id), "{}", head.id);
        }
        let ids: BTreeSet<_> = report.goals.iter().map(|g| (&g.rule_set, &g.id)).collect();
        prop_assert_eq!(ids.len(), report.goals.len());
    }
}

/// A channel and a lamp of one name are still two things that flash: neither may hide the other's goal.
#[test]
fn a_channel_and_a_lamp_may_share_a_name() {
    let text = "lampwright: aircraft 1
model: {title: names, scale: \"1:8\"}
prototype: {category: transport aeroplane, authority: US, applied: 1980}
channels:
  top: {flash: {rate: 60 per min, lit: 100 ms}}
lamps:
  belly: {light: beacon, aim: down, emitter: red 1 W star, channel: top}
  top: {light: beacon, aim: up, emitter: red 1 W star, flash: {rate: 120 per min, lit: 100 ms}}
";
    let files = Memory::new().with("model.yaml", text);
    let aircraft = lampwright::aircraft::read(&files, Path::new("model.yaml")).expect("readable").expect("sound");
    let report = report(&aircraft, &["anti-collision-frequency"]);
    let verdicts: Vec<Verdict> = report.goals.iter().map(|g| g.verdict).collect();
    // 60 a minute lies in 40 to 100 (14 CFR 25.1401(c)), 120 does not.
    assert_eq!(verdicts.iter().filter(|v| **v == Verdict::Met).count(), 1, "{verdicts:?}");
    assert_eq!(verdicts.iter().filter(|v| **v == Verdict::Missed).count(), 1, "{verdicts:?}");
    let ids: BTreeSet<_> = report.goals.iter().map(|g| &g.id).collect();
    assert_eq!(ids.len(), 2);
}
