//! Laws that hold whatever the model: no expected number, only what must follow from what.
//!
//! Models are made close to the limits: intensities so that ratios are near 1, aims and mask edges near the boundary
//! planes at 0, 10, 20, 70 and 110 deg, rates near 40 and 100 a minute, wavelengths near 609.7, 494 and 534.4 nm, where
//! aviation red and green begin and end as dominant wavelengths.

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
use proptest::sample::select;
use proptest::test_runner::RngSeed;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::LazyLock;

static SETS: LazyLock<Vec<RuleSet>> = LazyLock::new(|| bundled_rule_sets().expect("sound"));

fn few(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        max_shrink_iters: 12,
        rng_seed: RngSeed::Fixed(20),
        ..ProptestConfig::default()
    }
}

// --- models near the limits ----------------------------------------------------------------------------------------

/// A mask in the frame of a light: degrees past the planes at its edges.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Masked {
    No,
    /// What lies outside the light's dihedral angle, but for so many degrees past either plane.
    Outside(f64, f64),
    Inboard,
    Below(f64),
    Above(f64),
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct LampPlan {
    /// Degrees from dead ahead outboard; of a rear light from dead astern to the right.
    aim_deg: f64,
    el_deg: f64,
    /// Half angle; `None` shines evenly.
    half_deg: Option<f64>,
    full_size_cd: f64,
    masked: Masked,
    size_mm: f64,
    edge_mm: f64,
    /// How far from its limit the colour lies, in nm, and whether at the short end of green.
    colour_nm: f64,
    short_end: bool,
    out_mm: f64,
}

#[derive(Debug, Clone, PartialEq)]
struct Plan {
    scale: f64,
    left: Vec<LampPlan>,
    right: Vec<LampPlan>,
    rear: Vec<LampPlan>,
    /// Aim from dead ahead to the right, elevation, mask, period in ms, whether it is a beacon.
    flashing: Vec<(f64, f64, Masked, u64, bool)>,
    /// How wide figures are: shares of peak, half angle and edge distance, and nm.
    width: Widths,
}

#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Widths {
    peak: f64,
    half: f64,
    edge: f64,
    nm: f64,
}

fn about(near: Vec<f64>, by: f64) -> impl Strategy<Value = f64> {
    (select(near), -by..by).prop_map(|(v, d)| v + d)
}

fn masks() -> impl Strategy<Value = Masked> {
    let edges = || about(vec![0.0, 4.0, 10.0, 15.0, 20.0], 1.0);
    prop_oneof![
        2 => Just(Masked::No),
        4 => (edges(), edges()).prop_map(|(a, b)| Masked::Outside(a, b)),
        1 => Just(Masked::Inboard),
        1 => about(vec![-80.0, -70.0, -40.0, 0.0], 1.0).prop_map(Masked::Below),
        1 => about(vec![80.0, 70.0, 40.0], 1.0).prop_map(Masked::Above),
    ]
}

/// The share of a cosine power at an angle off its axis, m = ln 0.5 / ln cos(half angle).
fn share(half_deg: f64, off_deg: f64) -> f64 {
    let m = 0.5_f64.ln() / half_deg.to_radians().cos().ln();
    off_deg.to_radians().cos().max(0.05).powf(m)
}

/// A lamp whose intensity at one of the joints of its table is close to the figure there; 49 cd at most.
fn lamps(aims: Vec<f64>, joints: Vec<(f64, f64)>) -> impl Strategy<Value = LampPlan> {
    let beam = (about(aims, 1.0), about(vec![0.0, 0.0, 5.0, -10.0], 0.5));
    let width = prop_oneof![1 => Just(None), 4 => about(vec![20.0, 35.0, 60.0, 65.0, 70.0], 1.0).prop_map(Some)];
    let light = (width, select(joints), 0.9..1.1_f64);
    let mask = (masks(), select(vec![0.0, 0.0, 3.0]), 5.0..30.0_f64);
    let colour = (0.7..3.0_f64, any::<bool>(), any::<bool>());
    (beam, light, mask, colour, about(vec![450.0, 680.0, 0.5], 0.4)).prop_map(
        |(
            (aim_deg, el_deg),
            (half_deg, (joint, cd), ratio),
            (masked, size_mm, edge_mm),
            (nm, outside, short_end),
            out_mm,
        )| {
            let at_joint = half_deg.map_or(1.0, |h| share(h, joint - aim_deg));
            let full_size_cd = (cd * ratio / at_joint).min(49.0);
            let colour_nm = if outside { -nm } else { nm };
            LampPlan { aim_deg, el_deg, half_deg, full_size_cd, masked, size_mm, edge_mm, colour_nm, short_end, out_mm }
        },
    )
}

fn side() -> impl Strategy<Value = Vec<LampPlan>> {
    let joints = vec![(0.0, 40.0), (10.0, 40.0), (20.0, 30.0), (110.0, 5.0), (30.0, 5.0)];
    prop::collection::vec(lamps(vec![1.5, 10.0, 20.0, 55.0, 70.0, 110.0], joints), 1..=2)
}

fn rear() -> impl Strategy<Value = Vec<LampPlan>> {
    prop::collection::vec(lamps(vec![0.0, -70.0, 70.0, 10.0], vec![(0.0, 20.0), (70.0, 20.0), (-70.0, 20.0)]), 1..=2)
}

fn flashing() -> impl Strategy<Value = Vec<(f64, f64, Masked, u64, bool)>> {
    let one = (
        about(vec![-110.0, -90.0, 0.0, 70.0, 90.0, 180.0], 1.0),
        select(vec![0.0, 0.0, 90.0, -90.0, 30.0]),
        masks(),
        select(vec![598_u64, 599, 600, 601, 1000, 1499, 1500, 1501, 1502]),
        any::<bool>(),
    );
    prop::collection::vec(one, 0..=3)
}

fn plans() -> impl Strategy<Value = Plan> {
    (select(vec![1.0, 4.0, 8.0, 10.0, 48.0]), side(), side(), rear(), flashing()).prop_map(
        |(scale, left, right, rear, flashing)| Plan { scale, left, right, rear, flashing, width: Widths::default() },
    )
}

fn spread(value: f64, share: f64) -> Interval {
    Interval::new(value * (1.0 - share), value * (1.0 + share))
}

fn colour(light: Light, plan: &LampPlan, width_nm: f64) -> ColourSet {
    let nm = match (light, plan.short_end) {
        (Light::LeftPosition, _) => 609.7 + plan.colour_nm,
        // The short end depends a little on the width of the spectrum: twice as far keeps clear of that.
        (Light::RightPosition, true) => 494.0 + 2.0 * plan.colour_nm,
        (Light::RightPosition, false) => 534.4 - plan.colour_nm,
        _ => {
            let kelvin = spread(5000.0 + 700.0 * plan.colour_nm, 0.02 + 0.01 * width_nm);
            return ColourSet::White { kelvin, duv: Interval::new(-0.001, 0.003) };
        }
    };
    let fwhm = if light == Light::LeftPosition { 18.0 } else { 34.0 };
    ColourSet::Dominant { wavelength_nm: Interval::new(nm - width_nm, nm + width_nm), fwhm_nm: Interval::exactly(fwhm) }
}

/// The sectors of a mask: `side` is -1 for left, 1 for right, 0 for the middle.
fn hides(masked: Masked, light: Light, side: f64) -> Vec<Hides> {
    let sector = |azimuth| vec![Hides::Sector { azimuth, elevation_deg: Interval::new(-90.0, 90.0) }];
    match (masked, light) {
        (Masked::No, _) => Vec::new(),
        (Masked::Outside(a, b), Light::LeftPosition) => sector(AzimuthSpan::between(a, -110.0 - b)),
        (Masked::Outside(a, b), Light::RightPosition) => sector(AzimuthSpan::between(110.0 + b, -a)),
        (Masked::Outside(a, b), _) => sector(AzimuthSpan::between(-110.0 + a, 110.0 - b)),
        (Masked::Inboard, _) if side == 0.0 => Vec::new(),
        (Masked::Inboard, _) => vec![Hides::Inboard],
        (Masked::Below(el), _) => vec![Hides::Below(el)],
        (Masked::Above(el), _) => vec![Hides::Above(el)],
    }
}

fn lamp(name: String, light: Light, plan: &LampPlan, scale: f64, width: Widths) -> Lamp {
    let side = match light {
        Light::LeftPosition => -1.0,
        Light::RightPosition => 1.0,
        _ => 0.0,
    };
    let azimuth_deg = if side == 0.0 { 180.0 + plan.aim_deg } else { side * plan.aim_deg };
    let shape = match plan.half_deg {
        Some(half) => Shape::CosinePower { half_angle_deg: spread(half, width.half) },
        None => Shape::Isotropic { blocked_behind_deg: None, unevenness: Interval::exactly(1.0) },
    };
    let peak_cd = spread(plan.full_size_cd / (scale * scale), width.peak);
    let emitter = Emitter {
        colour: Some(Known::in_code(colour(light, plan, width.nm), Origin::Measured)),
        output: Some(Known::in_code(Output::PeakCd(peak_cd), Origin::Measured)),
        shape: Some(Known::in_code(shape, Origin::Measured)),
        size_mm: Some(Known::in_code(Interval::exactly(plan.size_mm), Origin::Measured)),
        ..Emitter::unknown("made", &At::nowhere())
    };
    let mut lamp = Lamp::new(&name, light, Aim::from_degrees(azimuth_deg, plan.el_deg), emitter);
    lamp.place = Some(Place::from_mm(10.0, side * plan.out_mm, 0.0));
    let hides = hides(plan.masked, light, side);
    if !hides.is_empty() {
        lamp.mask = Some(MaskSpec { hides, edge_mm: Some(spread(plan.edge_mm, width.edge)) });
    }
    lamp
}

fn craft(scale: f64) -> Aircraft {
    let mut model = Aircraft::new("made", Scale::one_to(scale).expect("a scale"));
    model.craft.category = Some(Category::TransportAeroplane);
    model.craft.authority = Some(Authority::Us);
    model.craft.applied = Some("1991".parse().expect("dates"));
    model.span = Some(Length::from_mm(1400.0));
    model.length = Some(Length::from_mm(1250.0));
    model.nose_forward_mm = Some(420.0);
    model
}

fn flash(period_ms: u64) -> Waveform {
    let period_us = Fraction::new(i128::from(period_ms) * 1000, 1);
    Waveform::flash(period_us, Micros(100_000), 1, Micros(0)).expect("a flash")
}

fn build(plan: &Plan) -> Aircraft {
    let mut model = craft(plan.scale);
    let groups = [
        ("left", Light::LeftPosition, &plan.left),
        ("right", Light::RightPosition, &plan.right),
        ("rear", Light::RearPosition, &plan.rear),
    ];
    for (name, light, lamps) in groups {
        for (n, one) in lamps.iter().enumerate() {
            model.lamps.push(lamp(format!("{name} {n}"), light, one, plan.scale, plan.width));
        }
    }
    for (n, (az, el, masked, period_ms, is_beacon)) in plan.flashing.iter().enumerate() {
        let light = if *is_beacon { Light::Beacon } else { Light::Strobe };
        let shape = Shape::CosinePower { half_angle_deg: Interval::exactly(60.0) };
        let emitter = Emitter {
            colour: Some(Known::in_code(
                ColourSet::White { kelvin: Interval::exactly(5000.0), duv: Interval::exactly(0.002) },
                Origin::Measured,
            )),
            output: Some(Known::in_code(Output::PeakCd(Interval::exactly(1.0)), Origin::Measured)),
            shape: Some(Known::in_code(shape, Origin::Measured)),
            size_mm: Some(Known::in_code(Interval::ZERO, Origin::Measured)),
            ..Emitter::unknown("made", &At::nowhere())
        };
        let channel = model.add_channel(Channel::in_code(&format!("flash {n}"), flash(*period_ms)));
        let mut one = Lamp::new(&format!("flash {n}"), light, Aim::from_degrees(*az, *el), emitter);
        one.channel = Some(channel);
        let side = if az.rem_euclid(180.0) == 0.0 { 0.0 } else { az.to_radians().sin().signum() };
        one.place = Some(Place::from_mm(0.0, side * 690.0, 0.0));
        let hides = hides(*masked, light, side);
        one.mask = (!hides.is_empty()).then_some(MaskSpec { hides, edge_mm: None });
        model.lamps.push(one);
    }
    model.craft.fitted = model.fitted();
    model
}

// --- reports as tables ---------------------------------------------------------------------------------------------

type Verdicts = BTreeMap<String, (Verdict, Option<Interval>)>;

fn judged(model: &Aircraft, only: &[&str]) -> Report {
    let only = only.iter().map(ToString::to_string).collect();
    check(model, &SETS, &Options { only, ..Options::default() }).expect("judged")
}

fn table(report: &Report) -> Verdicts {
    let rows = report.goals.iter().map(|g| (format!("{}: {}", g.rule_set, g.id), (g.verdict, g.margin)));
    let table: Verdicts = rows.collect();
    assert_eq!(table.len(), report.goals.len(), "goals of the same id");
    table
}

fn verdicts(plan: &Plan, only: &[&str]) -> Verdicts {
    table(&judged(&build(plan), only))
}

/// Goals that cost little; the others bound or estimate solid angles.
const QUICK: &[&str] = &[
    "horizontal",
    "-in-",
    "cut-off",
    "bright",
    "colour",
    "frequency",
    "duty",
    "on-time",
    "steady",
    "fitted",
    "side",
    "place",
    "symmetry",
];
const AREAS: &[&str] = &["unbroken", "field", "vertical"];

/// Which goals of a plan are looked at: now and then those of solid angles, with every lamp level, which bounds them fast.
fn part(plan: Plan, areas: bool) -> (Plan, &'static [&'static str]) {
    if !areas {
        return (plan, QUICK);
    }
    let level = |lamps: &[LampPlan]| lamps.iter().map(|l| LampPlan { el_deg: 0.0, ..*l }).collect::<Vec<_>>();
    let upright = |el: f64| if el.abs() == 90.0 { el } else { 0.0 };
    let flashing = plan.flashing.iter().map(|(az, el, m, p, b)| (*az, upright(*el), *m, *p, *b)).collect();
    let (left, right, rear) = (level(&plan.left), level(&plan.right), level(&plan.rear));
    (Plan { left, right, rear, flashing, ..plan }, AREAS)
}

/// A plan and the goals looked at.
fn parts() -> impl Strategy<Value = (Plan, &'static [&'static str])> {
    (plans(), prop::bool::weighted(0.25)).prop_map(|(plan, areas)| part(plan, areas))
}

fn close(a: f64, b: f64, tolerance: f64) -> bool {
    a == b || (a - b).abs() <= tolerance * (1.0 + a.abs().max(b.abs()))
}

/// Same goals, same verdicts, same margins to a tolerance (relative, over 1 absolute).
fn same(a: &Verdicts, b: &Verdicts, tolerance: f64) -> Result<(), TestCaseError> {
    prop_assert_eq!(a.keys().collect::<Vec<_>>(), b.keys().collect::<Vec<_>>());
    for (id, (verdict, margin)) in a {
        let (other, other_margin) = b[id];
        prop_assert_eq!(*verdict, other, "{}: {:?} {:?}", id, margin, other_margin);
        match (margin, other_margin) {
            (Some(m), Some(o)) => {
                let equal = close(m.low, o.low, tolerance) && close(m.high, o.high, tolerance);
                prop_assert!(equal, "{id}: {m:?} {o:?}");
            }
            (m, o) => prop_assert_eq!(m.is_some(), o.is_some(), "{}", id),
        }
    }
    Ok(())
}

// --- mirror --------------------------------------------------------------------------------------------------------

/// Left for right: the left lamps' plan is the right lamps' and the other way round; what is in the middle is turned.
fn mirrored(plan: &Plan) -> Plan {
    let turned = |m: Masked| match m {
        Masked::Outside(a, b) => Masked::Outside(b, a),
        other => other,
    };
    let rear = plan.rear.iter().map(|l| LampPlan { aim_deg: -l.aim_deg, masked: turned(l.masked), ..*l });
    let flashing = plan.flashing.iter().map(|(az, el, m, period, beacon)| (-az, *el, turned(*m), *period, *beacon));
    Plan {
        left: plan.right.clone(),
        right: plan.left.clone(),
        rear: rear.collect(),
        flashing: flashing.collect(),
        ..plan.clone()
    }
}

/// A goal's id as the mirror shows it.
fn mirrored_id(id: &str) -> String {
    let pairs =
        [("left", "right"), ("green-in-L", "red-in-R"), ("green-in-A", "red-in-A"), ("white-in-L", "white-in-R")];
    let mut id = id.replace("bright", "\u{2}");
    for (a, b) in pairs {
        id = id.replace(a, "\u{1}").replace(b, a).replace('\u{1}', b);
    }
    id.replace('\u{2}', "bright")
}

proptest! {
    #![proptest_config(few(8))]

    #[test]
    fn a_mirror_swaps_left_and_right((plan, only) in parts()) {
        let plain = verdicts(&plan, only);
        let seen = verdicts(&mirrored(&plan), only);
        let back: Verdicts = seen.into_iter().map(|(id, v)| (mirrored_id(&id), v)).collect();
        // Colour margins are distances from other lines: only their verdicts mirror.
        let strip = |v: Verdicts| -> Verdicts {
            v.into_iter().map(|(id, (w, m))| if id.contains("colour") { (id, (w, None)) } else { (id, (w, m)) }).collect()
        };
        // A search along a curved edge of an overlap may stop some 1e-4 short on one side of the mirror.
        same(&strip(plain), &strip(back), 1e-3)?;
    }
}

// --- dimming and brightening ---------------------------------------------------------------------------------------

fn with_factor(plan: &Plan, which: usize, factor: f64) -> Plan {
    let mut plan = plan.clone();
    let (a, b) = (plan.left.len(), plan.right.len());
    let lamp = match which % (a + b + plan.rear.len()) {
        n if n < a => &mut plan.left[n],
        n if n < a + b => &mut plan.right[n - a],
        n => &mut plan.rear[n - a - b],
    };
    lamp.full_size_cd *= factor;
    plan
}

const FLOORS: &[&str] = &["horizontal", "vertical"];

proptest! {
    #![proptest_config(few(8))]

    #[test]
    fn dimming_mends_no_floor_and_breaks_no_ceiling((plan, only) in parts(), which in 0..6_usize, factor in 0.3..0.999_f64) {
        let dimmed = with_factor(&plan, which, factor);
        let (before, after) = (verdicts(&plan, only), verdicts(&dimmed, only));
        for (id, (verdict, margin)) in before.iter().filter(|(id, _)| FLOORS.iter().any(|f| id.contains(f))) {
            let (then, then_margin) = after[id];
            prop_assert!(*verdict != Verdict::Missed || then == Verdict::Missed, "{id}: {margin:?} then {then} {then_margin:?}");
            prop_assert!(then != Verdict::Met || *verdict == Verdict::Met, "{id}: {verdict} {margin:?} then {then_margin:?}");
        }
        // Under 100 cd there is no relief, so a ceiling stands still.
        for (id, (verdict, margin)) in before.iter().filter(|(id, _)| id.contains("-in-")) {
            let (then, then_margin) = after[id];
            prop_assert!(*verdict != Verdict::Met || then == Verdict::Met, "{id}: {margin:?} then {then} {then_margin:?}");
            prop_assert!(then != Verdict::Missed || *verdict == Verdict::Missed, "{id}: {margin:?} then {then_margin:?}");
        }
    }
}

// --- wider figures -------------------------------------------------------------------------------------------------

proptest! {
    #![proptest_config(few(8))]

    #[test]
    fn wider_figures_decide_nothing((plan, only) in parts(), base in 0.0..0.05_f64, more in 0.01..0.3_f64, what in 0..4_usize) {
        let narrow = Widths { peak: base, half: 0.5 * base, edge: base, nm: 10.0 * base };
        let mut wide = narrow;
        match what {
            0 => wide.peak += more,
            1 => wide.half += 0.5 * more,
            2 => wide.edge += more,
            _ => wide.nm += 20.0 * more,
        }
        let before = verdicts(&Plan { width: narrow, ..plan.clone() }, only);
        let after = verdicts(&Plan { width: wide, ..plan.clone() }, only);
        for (id, (verdict, margin)) in &before {
            let (then, then_margin) = after[id];
            let undecided = then == Verdict::CannotTell && *verdict != Verdict::NotApplicable;
            prop_assert!(then == *verdict || undecided, "{id}: {verdict} {margin:?} then {then} {then_margin:?}");
            if let (Some(m), Some(t)) = (margin, then_margin) {
                let slack = 1e-6 * (1.0 + m.low.abs().max(m.high.abs()));
                prop_assert!(t.low <= m.low + slack && m.high <= t.high + slack, "{id}: {m:?} not in {t:?}");
            }
        }
    }
}

// --- scale, splitting, hidden nothings -----------------------------------------------------------------------------

fn halved(plan: &Plan) -> (Plan, BTreeMap<String, String>) {
    let mut names = BTreeMap::new();
    let mut split = |lamps: &[LampPlan], light: &str| -> Vec<LampPlan> {
        lamps
            .iter()
            .enumerate()
            .flat_map(|(n, l)| {
                names.insert(format!("{light} {}", 2 * n), format!("{light} {n}"));
                names.insert(format!("{light} {}", 2 * n + 1), format!("{light} {n}"));
                let half = LampPlan { full_size_cd: 0.5 * l.full_size_cd, ..*l };
                [half, half]
            })
            .collect()
    };
    let (left, right, rear) = (split(&plan.left, "left"), split(&plan.right, "right"), split(&plan.rear, "rear"));
    (Plan { left, right, rear, ..plan.clone() }, names)
}

/// A sharp mask inside the first 10 deg past the planes, where nothing is judged of a position light.
fn unjudged(light: Light) -> Vec<Hides> {
    let sector =
        |from, to| Hides::Sector { azimuth: AzimuthSpan::between(from, to), elevation_deg: Interval::new(-90.0, 90.0) };
    match light {
        Light::LeftPosition => vec![sector(3.0, 9.5), sector(-119.5, -111.0)],
        Light::RightPosition => vec![sector(-9.5, -3.0), sector(111.0, 119.5)],
        Light::RearPosition => vec![sector(100.5, 109.0), sector(-109.0, -100.5)],
        // The band ends at 75 deg.
        _ => vec![Hides::Above(76.0), Hides::Below(-76.0)],
    }
}

proptest! {
    #![proptest_config(few(8))]

    #[test]
    fn twice_the_scale_at_a_quarter_of_the_light((plan, only) in parts()) {
        let smaller = Plan { scale: 2.0 * plan.scale, ..plan.clone() };
        // Which sources count as seen is a comparison at a limit: rounding may tip it either way.
        let only: Vec<&str> = only.iter().copied().filter(|w| *w != "frequency").collect();
        same(&verdicts(&plan, &only), &verdicts(&smaller, &only), 1e-12)?;
    }

    #[test]
    fn two_half_bright_lamps_are_one((plan, only) in parts()) {
        let (split, names) = halved(&plan);
        let before = verdicts(&plan, only);
        for (id, (verdict, margin)) in verdicts(&split, only) {
            // Goals of each lamp are named by it.
            let old = match id.rsplit_once('/') {
                Some((goal, lamp)) => names.get(lamp).map_or(id.clone(), |n| format!("{goal}/{n}")),
                None => id.clone(),
            };
            let (was, was_margin) = before[&old];
            prop_assert_eq!(verdict, was, "{} {:?} was {:?}", id, margin, was_margin);
        }
    }

    #[test]
    fn a_mask_where_nothing_is_judged_changes_nothing((plan, only) in parts()) {
        // Without other masks: two masks of one lamp share their edges.
        let bare = |l: &LampPlan| LampPlan { masked: Masked::No, size_mm: 0.0, aim_deg: l.aim_deg.clamp(-65.0, 105.0), ..*l };
        let all = |lamps: &[LampPlan]| lamps.iter().map(bare).collect::<Vec<_>>();
        let flashing = plan.flashing.iter().map(|(az, el, _, p, b)| (*az, *el, Masked::No, *p, *b)).collect();
        let plan = Plan { left: all(&plan.left), right: all(&plan.right), rear: all(&plan.rear), flashing, ..plan };
        let plain = build(&plan);
        let mut hidden = plain.clone();
        for lamp in &mut hidden.lamps {
            lamp.mask = Some(MaskSpec { hides: unjudged(lamp.light), edge_mm: None });
        }
        // Unbroken light is judged over the whole dihedral angle, and none of these masks reaches into it.
        same(&table(&judged(&plain, only)), &table(&judged(&hidden, only)), 1e-6)?;
    }

    #[test]
    fn lamps_of_a_local_rule_change_no_goal((plan, only) in parts(), extra in side(), light in select(vec![
        Light::LeftPosition, Light::RightPosition, Light::RearPosition, Light::Beacon, Light::Strobe, Light::Riding,
    ])) {
        let plain = build(&plan);
        let mut more = plain.clone();
        for (n, one) in extra.iter().enumerate() {
            let mut local = lamp(format!("local {n}"), light, one, plan.scale, Widths::default());
            local.required_by = Some(RequiredBy::LocalRule);
            local.channel = (n == 0).then(|| more.add_channel(Channel::in_code("local", flash(400))));
            // First in the list, where a rule that looks at the first lamp would see it.
            more.lamps.insert(0, local);
        }
        let (before, after) = (judged(&plain, only), judged(&more, only));
        same(&table(&before), &table(&after), 0.0)?;
        prop_assert_eq!((before.required, before.all), (after.required, after.all));
        prop_assert_eq!(after.local_rule_lamps.len(), extra.len());
        prop_assert!(after.goals.iter().all(|g| g.lamps.iter().all(|l| !l.starts_with("local"))));
    }
}

// --- totals and names ----------------------------------------------------------------------------------------------

fn count(report: &Report, keep: impl Fn(&lampwright::report::GoalReport) -> bool) -> Tally {
    let of = |v: Verdict| report.goals.iter().filter(|g| keep(g) && g.verdict == v).count();
    Tally {
        met: of(Verdict::Met),
        missed: of(Verdict::Missed),
        cannot_tell: of(Verdict::CannotTell),
        not_applicable: of(Verdict::NotApplicable),
    }
}

proptest! {
    #![proptest_config(few(32))]

    /// Names are drawn from few words, so that lamps and channels share them.
    #[test]
    fn totals_are_those_of_the_goals(
        plan in plans(),
        names in prop::collection::vec(select(vec!["a", "b", "a (2)"]), 9),
        drop in 0..4_usize,
    ) {
        let mut model = build(&plan);
        let no_longer = [None, Some(Light::LeftPosition), Some(Light::RearPosition), Some(Light::RightPosition)][drop];
        model.lamps.retain(|l| Some(l.light) != no_longer);
        for (lamp, name) in model.lamps.iter_mut().zip(&names) {
            lamp.name = (*name).to_string();
        }
        for (channel, name) in model.channels.iter_mut().zip(names.iter().rev()) {
            channel.name = (*name).to_string();
        }
        // The search for intensities has no part in this.
        let only = ["colour", "steady", "duty", "frequency", "on-time", "fitted", "side", "place", "symmetry"];
        let report = judged(&model, &only);
        prop_assert_eq!(report.all, count(&report, |_| true));
        prop_assert_eq!(report.required, count(&report, |g| g.binding));
        for head in &report.rule_sets {
            prop_assert_eq!(head.tally, count(&report, |g| g.rule_set == head.id), "{}", &head.id);
        }
        let ids: BTreeSet<(&str, &str)> = report.goals.iter().map(|g| (g.rule_set.as_str(), g.id.as_str())).collect();
        prop_assert_eq!(ids.len(), report.goals.len(), "goals of the same id");
        // Every flashing lamp has a channel of its own here, and every position light a colour: one goal each.
        let each = |quantity: &str, set: &str| {
            report.goals.iter().filter(|g| g.quantity == quantity && g.rule_set == set && !g.lamps.is_empty()).count()
        };
        prop_assert_eq!(each("flash frequency", "practice"), plan.flashing.len());
        prop_assert_eq!(each("chromaticity", "us-14cfr25"), model.lamps.len());
        prop_assert_eq!(each("steadiness", "practice"), model.lamps.len() - plan.flashing.len());
    }
}

// --- spelling ------------------------------------------------------------------------------------------------------

/// A whole number of thousandths, written without rounding.
fn thousandths(value: u64) -> String {
    format!("{}.{:03}", value / 1000, value % 1000)
}

/// Every figure of one aircraft file, in whole small units.
#[derive(Debug, Clone)]
struct Figures {
    peak_mcd: u64,
    half_mdeg: u64,
    aim_mdeg: u64,
    out_um: u64,
    edge_um: u64,
    nm: u64,
    lit_ms: u64,
    rate_mhz: u64,
    kelvin: u64,
}

fn figures() -> impl Strategy<Value = Figures> {
    (
        (500..1500_u64, 20_000..70_000_u64, 0..110_000_u64, 400_000..690_000_u64, 5000..40_000_u64),
        (
            select(vec![606_u64, 609, 610, 613, 620]),
            20..300_u64,
            select(vec![660_u64, 667, 1000, 1666, 1667]),
            2700..7000_u64,
        ),
    )
        .prop_map(|((peak_mcd, half_mdeg, aim_mdeg, out_um, edge_um), (nm, lit_ms, rate_mhz, kelvin))| Figures {
            peak_mcd,
            half_mdeg,
            aim_mdeg,
            out_um,
            edge_um,
            nm,
            lit_ms,
            rate_mhz,
            kelvin,
        })
}

/// The file with each figure in one of two spellings.
fn spelled(f: &Figures, other: bool) -> String {
    let pick = |a: String, b: String| if other { b } else { a };
    let peak = pick(format!("{} cd", thousandths(f.peak_mcd)), format!("{} mcd", f.peak_mcd));
    let (half, full) = (thousandths(f.half_mdeg), thousandths(2 * f.half_mdeg));
    let width = pick(format!("half_angle: {half} deg"), format!("viewing_angle: {full} degrees"));
    let aim = thousandths(f.aim_mdeg);
    let aim = pick(format!("left {aim} deg"), format!("left {aim} \u{b0}"));
    let out = pick(
        format!("{} mm", thousandths(f.out_um)),
        format!("{}.{:06} m", f.out_um / 1_000_000, f.out_um % 1_000_000),
    );
    let edge =
        pick(format!("{} mm", thousandths(f.edge_um)), format!("{}.{:04} cm", f.edge_um / 10_000, f.edge_um % 10_000));
    let lit = pick(format!("{} ms", f.lit_ms), format!("{} s", thousandths(f.lit_ms)));
    let rate = pick(format!("{} Hz", thousandths(f.rate_mhz)), format!("{} per min", thousandths(60 * f.rate_mhz)));
    let nm = pick(format!("{} nm", f.nm), format!("{} to {} nm", f.nm, f.nm));
    let kelvin = pick(format!("{} K", f.kelvin), format!("{} K to {} K", f.kelvin, f.kelvin));
    let span = pick("1400 mm".into(), "1.4 m".into());
    let share = pick("92 %".into(), "0.92".into());
    let share = if other { "92.0 %".to_string() } else { share };
    format!(
        "lampwright: aircraft 1
model: {{title: Made, scale: \"{}\", span: {span}, length: {}, nose: {}}}
prototype: {{category: transport aeroplane, authority: US, applied: {}}}
emitters:
  part: {{from: measured, peak: {peak}, {width}, dominant_wavelength: {nm}, size: {}}}
  tail part: {{from: measured, peak: {peak}, {width}, colour_temperature: {kelvin}, size: 0 mm}}
lamps:
  left: {{light: left position, emitter: part, aim: {aim}, place: \"left {out}, forward 40 mm\", cover: {{transmittance: {share}}}, mask: {{hides: inboard, edge: {edge}}}}}
  tail: {{light: rear position, emitter: tail part, aim: {}, place: \"centre, aft 800 mm\"}}
  top: {{light: beacon, emitter: part, aim: up, flash: {{rate: {rate}, lit: {lit}}}}}
",
        pick("1:8".into(), "1 / 8.0".into()),
        pick("1250 mm".into(), "125 cm".into()),
        pick("forward 420 mm".into(), "forward 0.42 m".into()),
        pick("1991".into(), "1991-01-01 to 1991-12-31".into()),
        pick("3 mm".into(), "0.3 cm".into()),
        pick("aft".into(), "left 180 deg level".into()),
    )
}

fn from_file(text: &str) -> Aircraft {
    let files = Memory::new().with("made.yaml", text);
    lampwright::aircraft::read(&files, Path::new("made.yaml"))
        .expect("readable")
        .unwrap_or_else(|e| panic!("{e:?}\n{text}"))
}

proptest! {
    #![proptest_config(few(6))]

    #[test]
    fn spelling_changes_nothing(f in figures()) {
        let (one, other) = (from_file(&spelled(&f, false)), from_file(&spelled(&f, true)));
        same(&table(&judged(&one, &[])), &table(&judged(&other, &[])), 1e-9)?;
    }
}

/// A ceiling's highest light often lies on the curved edge of a penumbra: a lamp and its mirror image, whose highest
/// lies near 28 deg down, must both find it (mirror law; 4.6 % were once missed on one side).
#[test]
fn the_edge_of_a_penumbra_is_searched_on_both_sides() {
    let lamp = |name: &str, side: &str, other: &str| {
        format!(
            "  {name}: {{light: {side} position, emitter: e, aim: {side} 1 deg down 0.8 deg, mask: {{hides: {{from: {side} \
             119.82 deg, through: aft, to: {other} 11.07 deg}}, edge: 28.13 mm}}}}\n"
        )
    };
    let text = format!(
        "lampwright: aircraft 1\nmodel: {{title: x, scale: \"1:1\"}}\nprototype: {{category: transport aeroplane, authority: \
         US, applied: 1980}}\nemitters:\n  e: {{from: measured, peak: 38.535 cd, size: 1.308 mm, table: {{0 deg: 100 %, 18.0555 \
         deg: 85 %, 36.111 deg: 50 %, 72.222 deg: 3 %, 180 deg: 0 %}}}}\nlamps:\n{}{}",
        lamp("r", "right", "left"),
        lamp("l", "left", "right")
    );
    let report = judged(&from_file(&text), &["in-A"]);
    let margin = |id: &str| report.goals.iter().find(|g| g.id == id).and_then(|g| g.margin).expect("a margin").low;
    let (green, red) = (margin("green-in-A/area A"), margin("red-in-A/area A"));
    assert!((green - red).abs() < 1e-4, "{green} {red}");
}
