//! Colour against tables computed elsewhere (see the first line of each file in `published/`).

use lampwright::colorimetry::{
    Chromaticity, ColourSet, Condition, ILLUMINANT_D65, ILLUMINANT_E, Region, Spectrum, daylight, dominant_wavelength,
    gaussian, gaussian_of_dominant, monochromatic, planckian, planckian_y0, white,
};
use lampwright::units::Interval;
use proptest::prelude::*;
use std::collections::HashMap;

type Row = HashMap<String, String>;

fn table(text: &str) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader.deserialize().collect::<Result<Vec<Row>, _>>().expect("a table")
}

fn number(row: &Row, column: &str) -> f64 {
    row[column].parse().unwrap_or_else(|_| panic!("{column} of {row:?}"))
}

fn close(a: f64, b: f64, tolerance: f64, what: &str) {
    assert!((a - b).abs() <= tolerance, "{what}: {a} is not {b} within {tolerance}");
}

fn region(name: &str, conditions: &[&str]) -> Region {
    Region::new(name, conditions.iter().map(|t| t.parse().expect(t)).collect())
}

/// 14 CFR 25.1397.
fn aviation() -> [Region; 3] {
    [
        region("red", &["y <= 0.335", "z <= 0.002"]),
        region("green", &["x <= 0.440 - 0.320 y", "x <= y - 0.170", "y >= 0.390 - 0.170 x"]),
        region(
            "white",
            &["x >= 0.300", "x <= 0.540", "y >= min(x - 0.040, y0 - 0.010)", "y <= x + 0.020", "y <= 0.636 - 0.400 x"],
        ),
    ]
}

/// The smallest residual of the published inequalities.
fn residual(region: &Region, c: Chromaticity) -> f64 {
    region.conditions().iter().map(|condition| condition.slack(c)).fold(f64::INFINITY, f64::min)
}

fn check_membership(row: &Row, c: Chromaticity) {
    for region in aviation() {
        let expected = &row[&format!("aviation_{}", region.name())] == "yes";
        assert_eq!(region.contains(c), expected, "{} {row:?}", region.name());
        assert_eq!(region.margin(c).distance >= 0.0, expected, "{} {row:?}", region.name());
    }
}

#[test]
fn monochromatic_light() {
    let rows = table(include_str!("published/monochromatic_xy.csv"));
    assert_eq!(rows.len(), 65);
    for row in rows {
        let c = monochromatic(number(&row, "nm")).expect("in the table");
        close(c.x, number(&row, "x"), 1e-6, "x");
        close(c.y, number(&row, "y"), 1e-6, "y");
        close(c.z(), number(&row, "z"), 1e-6, "z");
        check_membership(&row, c);
    }
}

/// The wavelength between two at which monochromatic light enters or leaves a region.
fn limit_nm(region: &Region, mut inside_nm: f64, mut outside_nm: f64) -> f64 {
    let holds = |nm: f64| region.contains(monochromatic(nm).expect("in the table"));
    assert!(holds(inside_nm) && !holds(outside_nm));
    for _ in 0..50 {
        let middle = 0.5 * (inside_nm + outside_nm);
        *(if holds(middle) { &mut inside_nm } else { &mut outside_nm }) = middle;
    }
    inside_nm
}

#[test]
fn monochromatic_limits_of_aviation_red_and_green() {
    let geometry: serde_json::Value =
        serde_json::from_str(include_str!("published/aviation_region_geometry.json")).expect("JSON");
    let published = |key: &str, i: usize| geometry[key][i]["nm"].as_f64().expect(key);
    let [red, green, white] = aviation();
    close(limit_nm(&red, 640.0, 590.0), published("locus crosses y=0.335 (red limit)", 0), 1e-6, "red");
    let long = published("locus crosses x=0.440-0.320y (green, long side)", 0);
    let short = published("locus crosses y=0.390-0.170x (green, short side)", 0);
    close(limit_nm(&green, 520.0, 560.0), long, 1e-6, "green, long side");
    close(limit_nm(&green, 520.0, 480.0), short, 1e-6, "green, short side");
    // The same file: corners of white and of green lie on two lines each.
    for (region, x, y, first, second) in [
        (&white, 0.432_505_103_7, 0.392_505_103_7, 2, 2),
        (&white, 0.44, 0.46, 3, 4),
        (&white, 0.54, 0.400_690_242_2, 1, 2),
        (&white, 0.30, 0.26, 0, 2),
        (&green, 0.292_121_212_1, 0.462_121_212_1, 0, 1),
        (&green, 0.188_034_188_0, 0.358_034_188_0, 1, 2),
    ] {
        for index in [first, second] {
            close(region.conditions()[index].slack(Chromaticity { x, y }), 0.0, 2e-6, "a corner");
        }
        close(region.margin(Chromaticity { x, y }).distance, 0.0, 2e-6, "a corner");
    }
}

#[test]
fn gaussian_leds() {
    let rows = table(include_str!("published/led_gaussian_xy.csv"));
    assert_eq!(rows.len(), 129);
    let [red, green, _] = aviation();
    for row in rows {
        let c = gaussian(number(&row, "peak_nm"), number(&row, "fwhm_nm")).expect("visible");
        close(c.x, number(&row, "x"), 2e-5, "x");
        close(c.y, number(&row, "y"), 2e-5, "y");
        check_membership(&row, c);
        close(residual(&red, c), number(&row, "red_worst_margin"), 2e-5, "red residual");
        close(residual(&green, c), number(&row, "green_worst_margin"), 2e-5, "green residual");
        for (white, column) in [(ILLUMINANT_E, "dom_wl_E_nm"), (ILLUMINANT_D65, "dom_wl_D65_nm")] {
            let dominant = dominant_wavelength(c, white).expect("coloured");
            close(dominant.wavelength_nm, number(&row, column), 0.02, column);
        }
        let dominant = dominant_wavelength(c, ILLUMINANT_E).expect("coloured");
        close(dominant.purity, number(&row, "excitation_purity_E"), 2e-4, "purity");
        let back = gaussian_of_dominant(dominant.wavelength_nm, number(&row, "fwhm_nm")).expect("exists");
        assert!(back.distance_to(c) < 1e-6, "{row:?}");
    }
}

#[test]
fn the_worst_rule_is_named() {
    let rows = table(include_str!("published/led_gaussian_xy.csv"));
    let [red, green, _] = aviation();
    let rules = ["y<=0.335", "z<=0.002", "x<=0.440-0.320y", "x<=y-0.170", "y>=0.390-0.170x"];
    // The table ranks by residual, so rank residuals here; distances rank otherwise where gradients differ.
    for row in rows {
        let c = gaussian(number(&row, "peak_nm"), number(&row, "fwhm_nm")).expect("visible");
        for (region, offset, column) in [(&red, 0, "red_worst_rule"), (&green, 2, "green_worst_rule")] {
            let worst = residual(region, c);
            let index = region.conditions().iter().position(|k| k.slack(c) == worst).expect("one is worst");
            assert_eq!(rules[offset + index], row[column], "{row:?}");
        }
    }
}

#[test]
fn led_peak_windows() {
    // aviation_region_geometry.json, "led_peak_windows_by_fwhm (0.5 nm grid)", peaks from 450 to 699.5 nm.
    let geometry: serde_json::Value =
        serde_json::from_str(include_str!("published/aviation_region_geometry.json")).expect("JSON");
    let windows = geometry["led_peak_windows_by_fwhm (0.5 nm grid)"].as_object().expect("an object");
    assert_eq!(windows.len(), 6);
    let [red, green, _] = aviation();
    for (fwhm, window) in windows {
        let fwhm_nm: f64 = fwhm.parse().expect("a width");
        for (region, low, high) in [
            (&red, "red_peak_min_nm", "red_peak_max_nm(grid<=699.5)"),
            (&green, "green_peak_min_nm", "green_peak_max_nm"),
        ] {
            let peaks = (900..1400).map(|i| f64::from(i) / 2.0);
            let inside: Vec<f64> =
                peaks.filter(|&nm| region.contains(gaussian(nm, fwhm_nm).expect("visible"))).collect();
            assert_eq!(inside.first().copied(), window[low].as_f64(), "{fwhm} {low}");
            assert_eq!(inside.last().copied(), window[high].as_f64(), "{fwhm} {high}");
        }
    }
}

#[test]
fn measured_spectra() {
    // A gaussian of 525/30 nm given as points; its own chromaticity is (0.142361, 0.775626), by colour-science.
    // Straight lines between points h apart add h²/6 to the variance, so 5 nm points are 1 % wider: within 2e-3 in (x, y).
    for (step, tolerance) in [(1, 2e-5), (2, 3e-4), (5, 2e-3)] {
        let power = |nm: f64| (-4.0 * 2.0_f64.ln() * ((nm - 525.0) / 30.0).powi(2)).exp();
        let points = (365..=825).step_by(step).map(|nm| (f64::from(nm), power(f64::from(nm)))).collect();
        let c = Spectrum::new(points).expect("a spectrum").chromaticity();
        close(c.x, 0.142361, tolerance, "x");
        close(c.y, 0.775626, tolerance, "y");
    }
    // CIE illuminant A: formula of CIE 15 (from memory) with c2 = 1.435e-2 m K at 2848 K; xy of the published table.
    let a = |nm: f64| (560.0 / nm).powi(5) / ((1.435e7 / (2848.0 * nm)).exp() - 1.0);
    let points = (300..=830).step_by(5).map(|nm| (f64::from(nm), a(f64::from(nm)))).collect();
    let c = Spectrum::new(points).expect("a spectrum").chromaticity();
    close(c.x, 0.44756, 5e-5, "illuminant A x");
    close(c.y, 0.40743, 5e-5, "illuminant A y");
}

#[test]
fn planckian_locus() {
    let rows = table(include_str!("published/planckian_xy.csv"));
    assert_eq!(rows.len(), 94);
    for row in rows {
        let c = planckian(number(&row, "T_K")).expect("in range");
        close(c.x, number(&row, "x_c2_1.438776877e-2"), 1e-6, "x");
        close(c.y, number(&row, "y_c2_1.438776877e-2"), 1e-6, "y");
        check_membership(&row, c);
    }
}

#[test]
fn y0_of_x() {
    let rows = table(include_str!("published/planckian_y0_of_x.csv"));
    assert_eq!(rows.len(), 79);
    for row in rows {
        let y0 = planckian_y0(number(&row, "x")).expect("on the locus");
        close(y0, number(&row, "y0"), 2e-6, "y0");
    }
}

#[test]
fn illuminants() {
    let rows = table(include_str!("published/illuminants_membership.csv"));
    assert_eq!(rows.len(), 28);
    let [_, _, white] = aviation();
    for row in rows {
        let c = Chromaticity { x: number(&row, "x_from_spd"), y: number(&row, "y_from_spd") };
        check_membership(&row, c);
        close(residual(&white, c), number(&row, "white_worst_margin"), 2.5e-5, &row["name"]);
    }
}

#[test]
fn whites_by_temperature() {
    let rows = table(include_str!("published/white_cct_membership.csv"));
    assert_eq!(rows.len(), 60);
    let [_, _, white] = aviation();
    let (mut on_the_line, mut outside_x) = (0, 0);
    for row in rows {
        let kelvin = number(&row, "CCT_K");
        let locus = if &row["locus"] == "Planckian" { planckian(kelvin) } else { daylight(kelvin) };
        let mut c = locus.expect("in range");
        c.y += number(&row, "y_offset");
        close(c.x, number(&row, "x"), 1e-5, "x");
        close(c.y, number(&row, "y"), 1e-5, "y");
        let margin = number(&row, "worst_margin");
        if (0.300..=0.540).contains(&c.x) {
            close(residual(&white, c), margin, 1.5e-5, "residual");
        } else {
            // The table states only the limits of x there.
            outside_x += 1;
            close(white.conditions()[0].slack(c), margin, 1.5e-5, "residual of x");
        }
        if margin.abs() <= 1e-9 {
            on_the_line += 1;
        } else {
            assert_eq!(white.contains(c), &row["aviation_white"] == "yes", "{row:?}");
        }
    }
    // Two Planckian points 0.010 below the locus lie on y0 - 0.010; 8000 K and 10 000 K have x below 0.300.
    assert_eq!((on_the_line, outside_x), (2, 10));
}

#[test]
fn whites_beside_the_locus() {
    // colour-science 0.4.7: UCS_uv_to_xy(CCT_to_uv_Ohno2013([T, Duv])).
    for (kelvin, duv, x, y) in [
        (2200.0, -0.004, 0.497133, 0.402929),
        (2700.0, 0.006, 0.470524, 0.429740),
        (3000.0, -0.006, 0.428428, 0.386522),
        (3000.0, 0.010, 0.452241, 0.435672),
        (4000.0, 0.010, 0.387719, 0.403583),
        (4000.0, -0.012, 0.372503, 0.347476),
        (5000.0, 0.006, 0.346276, 0.364733),
        (6500.0, 0.005, 0.312340, 0.332161),
        (6500.0, -0.020, 0.317910, 0.292142),
        (10_000.0, 0.012, 0.273148, 0.302776),
        (20_000.0, -0.012, 0.265861, 0.248096),
    ] {
        let c = white(kelvin, duv).expect("in range");
        close(c.x, x, 1e-5, "x");
        close(c.y, y, 1e-5, "y");
    }
}

#[test]
fn the_duv_aviation_white_allows() {
    // Computed with numpy on a grid of 0.0002 (and printed to 0.001 from -0.021 on).
    let [_, _, region] = aviation();
    for (kelvin, from, to) in [
        (2200.0, -0.0032, 0.0044),
        (2500.0, -0.0034, 0.0076),
        (2700.0, -0.0036, 0.0102),
        (3000.0, -0.0046, 0.0146),
        (3500.0, -0.0154, 0.018),
        (4000.0, -0.021, 0.0120),
        (4500.0, -0.024, 0.0086),
        (5000.0, -0.026, 0.0066),
        (5700.0, -0.028, 0.0054),
        (6500.0, -0.029, 0.0050),
        (7000.0, -0.029, 0.0050),
        (7500.0, -0.029, 0.0008),
        (8000.0, -0.029, -0.011),
    ] {
        let tolerance = 8e-4;
        let holds = |duv: f64| region.contains(white(kelvin, duv).expect("in range"));
        assert!(holds(from + tolerance) && !holds(from - tolerance), "{kelvin} from");
        assert!(holds(to - tolerance) && !holds(to + tolerance), "{kelvin} to");
    }
}

#[test]
fn dominant_wavelengths() {
    let rows = table(include_str!("published/dominant_wavelength_checks.csv"));
    assert_eq!(rows.len(), 19);
    let mut apart = Vec::new();
    for row in rows {
        let colour = Chromaticity { x: number(&row, "x"), y: number(&row, "y") };
        let white = if &row["xw"] == "0.33333" { ILLUMINANT_E } else { ILLUMINANT_D65 };
        let found = dominant_wavelength(colour, white).expect("coloured");
        let signed_nm = if found.complementary { -found.wavelength_nm } else { found.wavelength_nm };
        close(signed_nm, number(&row, "dom_wl_1nm_polyline_nm"), 0.002, &row["case"]);
        close(found.purity, number(&row, "purity_1nm_polyline"), 2e-4, &row["case"]);
        if (signed_nm - number(&row, "dom_wl_luxpy_nm")).abs() > 0.02 {
            apart.push((row["case"].clone(), row["xw"].clone(), signed_nm));
        }
    }
    // luxpy gives 611.121 nm for the red primary of sRGB against D65. By hand, the ray's cross product with the
    // CIE points is +2.7177e-4 at 611 nm and -7.0378e-4 at 612 nm, so the hit is at 611.279 nm.
    assert_eq!(apart.len(), 1, "{apart:?}");
    assert_eq!((apart[0].0.as_str(), apart[0].1.as_str()), ("sRGB red primary", "0.31270"));
    close(apart[0].2, 611.0 + 2.7177 / (2.7177 + 7.0378), 0.001, "by hand");
}

#[test]
fn residuals_are_not_distances() {
    let c = Chromaticity { x: 0.35, y: 0.30 };
    // The gradient of a x + b y + e is the root of a² + b².
    for (text, gradient) in [
        ("y <= 0.335", 1.0),
        ("z <= 0.002", 2.0_f64.sqrt()),
        ("x <= 0.440 - 0.320 y", (1.0 + 0.320_f64.powi(2)).sqrt()),
        ("x <= y - 0.170", 2.0_f64.sqrt()),
        ("y >= 0.390 - 0.170*x", (1.0 + 0.170_f64.powi(2)).sqrt()),
        ("0.300 <= x", 1.0),
        ("y <= 0.636 - 0.400 x", (1.0 + 0.400_f64.powi(2)).sqrt()),
    ] {
        let condition: Condition = text.parse().expect(text);
        close(condition.distance(c), condition.slack(c) / gradient, 1e-15, text);
    }
}

#[test]
fn the_distance_to_a_curve_is_that_to_its_nearest_point() {
    let condition: Condition = "y >= y0 - 0.010".parse().expect("a condition");
    // Points of the curve, every 0.02 mired, from Planck's law itself.
    let curve: Vec<Chromaticity> = (1250..=50_000)
        .filter_map(|i| planckian(1e6 / (f64::from(i) * 0.02)))
        .map(|c| Chromaticity { y: c.y - 0.010, ..c })
        .collect();
    for (x, y, above) in [
        (0.46, 0.4106, true),
        (0.46, 0.395, false),
        (0.30, 0.25, false),
        (0.50, 0.30, false),
        (0.35, 0.36, true),
        (0.70, 0.29, false),
        (0.10, 0.70, false),
    ] {
        let c = Chromaticity { x, y };
        let nearest = curve.iter().map(|p| p.distance_to(c)).fold(f64::INFINITY, f64::min);
        close(condition.distance(c), if above { nearest } else { -nearest }, 1e-6, &c.to_string());
    }
}

fn interval(row: &Row, low: &str, high: &str) -> Interval {
    Interval::new(number(row, low), number(row, high))
}

/// Three channels mixed by luminous intensity, at their dominant wavelengths and the widths 18, 34 and 22 nm.
fn mix(intensities: [f64; 3], dominant_nm: [f64; 3]) -> Chromaticity {
    let mut sum = [0.0; 3];
    for ((intensity, nm), fwhm_nm) in intensities.into_iter().zip(dominant_nm).zip([18.0, 34.0, 22.0]) {
        let c = gaussian_of_dominant(nm, fwhm_nm).expect("exists");
        for (total, value) in sum.iter_mut().zip([c.x / c.y, 1.0, c.z() / c.y]) {
            *total += intensity * value;
        }
    }
    Chromaticity::of_tristimulus(sum).expect("light")
}

/// The colours of "three channels all full": five printed sets of intensities (mcd), red and blue off by 30 %.
fn three_channels() -> ColourSet {
    let sets = [
        [480.0, 1500.0, 320.0],
        [360.0, 1150.0, 220.0],
        [120.0, 540.0, 130.0],
        [100.0, 420.0, 110.0],
        [405.0, 690.0, 190.0],
    ];
    let mut samples = Vec::new();
    for [r, g, b] in sets {
        for red in [0.7, 1.0, 1.3] {
            for blue in [0.7, 1.0, 1.3] {
                for nm in [[618.0, 520.0, 465.0], [621.0, 523.0, 468.0], [626.0, 528.0, 471.0]] {
                    samples.push(mix([r * red, g, b * blue], nm));
                }
            }
        }
    }
    ColourSet::Samples(samples)
}

fn emitter(row: &Row) -> ColourSet {
    match (row["wavelength_kind"].as_str(), row["colour"].as_str()) {
        ("dominant", _) => ColourSet::Dominant {
            wavelength_nm: interval(row, "wavelength_low_nm", "wavelength_high_nm"),
            fwhm_nm: interval(row, "fwhm_low_nm", "fwhm_high_nm"),
        },
        (_, "RGB white") => three_channels(),
        _ => ColourSet::White {
            kelvin: interval(row, "cct_low_K", "cct_high_K"),
            duv: interval(row, "duv_low", "duv_high"),
        },
    }
}

#[test]
fn typical_emitters() {
    let rows = table(include_str!("published/typical_emitters.csv"));
    assert_eq!(rows.len(), 335);
    assert_eq!(rows.iter().filter(|r| &r["colour"] == "RGB white").count(), 2);
    let mut known: HashMap<String, [&str; 3]> = HashMap::new();
    for row in rows {
        let set = emitter(&row);
        let verdicts = known.entry(format!("{set:?}")).or_insert_with(|| {
            aviation().map(|region| {
                let margin = set.against(&region).expect("computable");
                match (margin.is_inside(), margin.is_outside()) {
                    (true, _) => "inside",
                    (_, true) => "outside",
                    _ => "straddles",
                }
            })
        });
        let expected = ["aviation_red", "aviation_green", "aviation_white"].map(|column| row[column].as_str());
        assert_eq!(*verdicts, expected, "{} {}", row["class"], row["colour"]);
    }
    // Thirteen ranges of dominant wavelength, six of white, and the mixes.
    assert_eq!(known.len(), 20);
}

#[test]
fn limits_of_dominant_wavelength() {
    // Computed with numpy over widths of 14 to 45 nm and skews of 0.7 to 1.4: red from 609.7 nm, green 494 to 534.4 nm.
    let [red, green, white_region] = aviation();
    let set =
        |low, high| ColourSet::Dominant { wavelength_nm: Interval::new(low, high), fwhm_nm: Interval::new(14.0, 45.0) };
    let against = |low, high, region| set(low, high).against(region).expect("computable");
    assert!(against(609.72, 640.0, &red).is_inside());
    assert!(against(600.0, 609.65, &red).is_outside());
    let straddling = against(604.0, 620.0, &red);
    assert!(straddling.low < 0.0 && straddling.high > 0.0);
    assert!(against(494.0, 534.4, &green).is_inside());
    assert!(against(534.6, 560.0, &green).is_outside());
    assert!(against(470.0, 493.8, &green).is_outside());
    // "True green" 517 to 530 nm, 28 to 40 nm wide: the worst is 530/40, residual 0.0236663, computed with numpy.
    let lamp = |low, high, narrow, wide| ColourSet::Dominant {
        wavelength_nm: Interval::new(low, high),
        fwhm_nm: Interval::new(narrow, wide),
    };
    let margin = lamp(517.0, 530.0, 28.0, 40.0).against(&green).expect("computable");
    close(residual(&green, margin.worst), 0.023_666_3, 1e-6, "true green");
    assert_eq!(margin.nearest, 0);
    // Amber 583 to 597 nm, 12 to 20 nm wide: the nearest to white on a grid of 0.025 nm by numpy is 588.025/20, 0.0234519 away.
    let margin = lamp(583.0, 597.0, 12.0, 20.0).against(&white_region).expect("computable");
    close(margin.high, -0.023_451_9, 1e-4, "amber");
}

#[test]
fn declared_temperatures() {
    // From the Duv table above: 3500 and 4000 K allow +-0.006 about Planck to daylight; 3000 K spills below,
    // 5000 and 6500 K above, and 10 000 K has x below 0.300 throughout.
    let [_, _, region] = aviation();
    let against =
        |low, high| ColourSet::declared_temperature(Interval::new(low, high)).against(&region).expect("computable");
    assert!(against(3500.0, 4000.0).is_inside());
    for kelvin in [3000.0, 5000.0, 6500.0] {
        let margin = against(kelvin, kelvin);
        assert!(margin.low < 0.0 && margin.high > 0.0, "{kelvin}");
    }
    assert!(against(10_000.0, 12_000.0).is_outside());
    let hull = ColourSet::Hull(vec![
        ColourSet::declared_temperature(Interval::exactly(4000.0)),
        ColourSet::declared_temperature(Interval::exactly(10_000.0)),
    ]);
    let margin = hull.against(&region).expect("computable");
    assert!(margin.low < 0.0 && margin.high > 0.0);
    assert!((margin.low - against(10_000.0, 10_000.0).low).abs() < 1e-4);
}

#[test]
fn parse_errors_say_what_and_where() {
    for (text, what, offset) in [
        ("", "the condition is empty", 0),
        ("   ", "the condition is empty", 0),
        ("w <= 0.3", "`w` is not a variable", 0),
        ("x <= NaN", "`NaN` is not a variable", 5),
        ("x <= inf", "`inf` is not a variable", 5),
        ("X <= 0.3", "`X` is not a variable", 0),
        ("x < 0.3", "`<` has no meaning in a condition", 2),
        ("x = 0.3", "`=` has no meaning in a condition", 2),
        ("x == 0.3", "`=` has no meaning in a condition", 2),
        ("x \u{2264} 0.3", "`\u{2264}` has no meaning in a condition", 2),
        ("x <= 0.5 \u{2212} y", "`\u{2212}` has no meaning in a condition", 9),
        ("x / 2 <= 0.3", "`/` has no meaning in a condition", 2),
        ("x y <= 0.3", "a variable is multiplied or followed by something", 2),
        ("x*y <= 0.3", "a variable is multiplied or followed by something", 1),
        ("0.3*x*y <= 0.3", "a variable is multiplied or followed by something", 5),
        ("x 0.3 <= y", "a variable is multiplied or followed by something", 2),
        ("0.3 0.4 <= y", "two numbers stand side by side", 4),
        ("0.3 * 0.4 <= y", "`0.4` does not belong here", 6),
        ("y <= 0.320y", "`0.320y` is not a number", 5),
        ("y <= 1e-3", "`1e` is not a number", 5),
        ("y <= .5", "`.5` is not a plain decimal number", 5),
        ("y <= 5.", "`5.` is not a plain decimal number", 5),
        ("y <= 0.1.2", "`0.1.2` is not a plain decimal number", 5),
        ("y <= 10000000", "`10000000` is too large", 5),
        ("y", "there is no comparison", 1),
        ("y <=", "the condition ends too early", 4),
        ("<= 0.3", "`<=` does not belong here", 0),
        ("0.300 <= x <= 0.540", "there are two comparisons", 11),
        ("y >= min(x, y0) - max(x, y0)", "there is more beside the `min` or `max`", 16),
        ("min(x, 0.3) <= max(y, 0.4)", "there is a `min` or `max` on both sides", 15),
        ("y >= min(x, min(y0, 0.3))", "`min` stands inside a sum or another `min` or `max`", 12),
        ("y >= 0.1 + min(x, y0)", "`min` stands inside a sum or another `min` or `max`", 11),
        ("y >= min(x)", "`min` or `max` of a single term", 5),
        ("y >= min x, y0", "after `min` or `max` comes a bracket", 9),
        ("y >= min(x, y0", "the bracket is not closed", 14),
        ("y >= (x)", "`(` does not belong here", 5),
        ("y >= --x", "`-` does not belong here", 6),
        ("x <= y0", "y0 is not compared with y", 0),
        ("0.1 <= 0.2", "the condition does not depend on the colour", 0),
        ("x + y <= 0.5 - z", "the condition does not depend on the colour", 0),
        ("0.1 x + 0.2 x <= 0.3 x", "the condition does not depend on the colour", 0),
    ] {
        let error = text.parse::<Condition>().expect_err(text);
        assert_eq!((error.what.as_str(), error.offset), (what, offset), "{text}");
        assert!(!error.instead.is_empty() && text.is_char_boundary(error.offset), "{text}");
    }
}

#[test]
fn spellings_of_one_condition() {
    let c = Chromaticity { x: 0.31, y: 0.33 };
    for text in [
        "x <= 0.440 - 0.320 y",
        "x<=0.440-0.320*y",
        "  0.440 - 0.320 * y >= x ",
        "x + 0.320 y <= 0.440",
        "-0.440 <= - x - 0.320 y",
    ] {
        let condition: Condition = text.parse().expect(text);
        close(condition.slack(c), 0.440 - 0.320 * 0.33 - 0.31, 1e-15, text);
        assert_eq!(condition.to_string(), text.trim());
    }
}

#[test]
fn a_chromaticity_reads_and_writes() {
    let text = serde_json::to_string(&ILLUMINANT_D65).expect("JSON");
    assert_eq!(text, r#"{"x":0.3127,"y":0.329}"#);
    assert_eq!(serde_json::from_str::<Chromaticity>(&text).expect("JSON"), ILLUMINANT_D65);
    assert!(serde_json::from_str::<Chromaticity>(r#"{"x":0.3,"y":0.3,"Y":1}"#).is_err());
}

fn coefficient() -> impl Strategy<Value = String> {
    (0..2000_u32).prop_map(|n| format!("{:.3}", f64::from(n) / 1000.0))
}

/// Well-formed conditions, lines and curves, with and without alternatives.
fn condition_text() -> impl Strategy<Value = String> {
    let side = (coefficient(), coefficient(), prop_oneof![Just("x"), Just("z"), Just("y0")], any::<bool>())
        .prop_map(|(a, b, name, minus)| format!("{a} {} {b} {name}", if minus { '-' } else { '+' }));
    let comparison = prop_oneof![Just("<="), Just(">=")];
    let pick = prop_oneof![Just("min"), Just("max")];
    (comparison, pick, prop::collection::vec(side, 1..4)).prop_map(|(comparison, pick, sides)| match sides.as_slice() {
        [one] => format!("y {comparison} {one}"),
        several => format!("y {comparison} {pick}({})", several.join(", ")),
    })
}

proptest! {
    #[test]
    fn no_text_makes_the_parser_panic(text in ".{0,60}") {
        if let Err(error) = text.parse::<Condition>() {
            prop_assert!(text.is_char_boundary(error.offset));
        }
    }

    #[test]
    fn no_words_make_the_parser_panic(words in prop::collection::vec(prop::sample::select(vec![
        "x", "y", "z", "y0", "min", "max", "(", ")", ",", "<=", ">=", "+", "-", "*", "0.3", "1", " ", "\u{2264}", "e9", ".",
    ]), 0..14)) {
        let text = words.concat();
        match text.parse::<Condition>() {
            Ok(condition) => prop_assert!(!condition.slack(ILLUMINANT_D65).is_nan()),
            Err(error) => prop_assert!(text.is_char_boundary(error.offset)),
        }
    }

    #[test]
    fn distance_has_the_sign_of_slack(text in condition_text(), x in -0.2..1.2_f64, y in -0.2..1.2_f64) {
        if let Ok(condition) = text.parse::<Condition>() {
            let c = Chromaticity { x, y };
            let (slack, distance) = (condition.slack(c), condition.distance(c));
            prop_assert!(!distance.is_nan());
            prop_assert_eq!(slack > 0.0, distance > 0.0, "{} {} {}", text, slack, distance);
            prop_assert_eq!(slack < 0.0, distance < 0.0, "{} {} {}", text, slack, distance);
        }
    }

    #[test]
    fn a_margin_changes_no_faster_than_the_colour(
        x in 0.26..0.64_f64, y in 0.1..0.6_f64, dx in -0.01..0.01_f64, dy in -0.01..0.01_f64,
    ) {
        let (a, b) = (Chromaticity { x, y }, Chromaticity { x: x + dx, y: y + dy });
        for region in aviation() {
            let change = region.margin(a).distance - region.margin(b).distance;
            prop_assert!(change.abs() <= a.distance_to(b) + 1e-5, "{} {change}", region.name());
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn no_white_is_beyond_the_extremes(
        kelvin in 1900.0..15_000.0_f64, wide in 1.0..1.6_f64, low in -0.012..0.006_f64, high in 0.0..0.012_f64,
        s in 0.0..1.0_f64, t in 0.0..1.0_f64,
    ) {
        let (kelvin, duv) = (Interval::new(kelvin, kelvin * wide), Interval::new(low, low + high));
        let [_, _, region] = aviation();
        let margin = ColourSet::White { kelvin, duv }.against(&region).expect("computable");
        let c = white(kelvin.low + s * kelvin.width(), duv.low + t * duv.width()).expect("in range");
        let here = region.margin(c).distance;
        prop_assert!(margin.low - 1e-4 <= here && here <= margin.high + 1e-4, "{margin:?} {here}");
    }

    #[test]
    fn no_led_is_beyond_the_extremes(
        nm in 470.0..640.0_f64, wide in 0.0..25.0_f64, fwhm in 12.0..35.0_f64, wider in 0.0..15.0_f64,
        s in 0.0..1.0_f64, t in 0.0..1.0_f64,
    ) {
        let (wavelength_nm, fwhm_nm) = (Interval::new(nm, nm + wide), Interval::new(fwhm, fwhm + wider));
        let set = ColourSet::Dominant { wavelength_nm, fwhm_nm };
        let (nm, fwhm) = (nm + s * wide, fwhm + t * wider);
        let c = gaussian_of_dominant(nm, fwhm).expect("exists");
        for region in aviation() {
            let margin = set.against(&region).expect("computable");
            let here = region.margin(c).distance;
            prop_assert!(margin.low - 1e-4 <= here && here <= margin.high + 1e-4, "{} {margin:?} {here}", region.name());
        }
    }
}
