//! Goals of the examples worked by hand from the printed tables: the arithmetic stands beside each number.

use lampwright::judge::Verdict::{self, CannotTell, Met, Missed};
use lampwright::report::Report;
use lampwright::source::Disk;
use lampwright::{Options, check, rule_sets_for};
use rstest::rstest;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::LazyLock;

static REPORTS: LazyLock<BTreeMap<&str, Report>> = LazyLock::new(|| {
    let judged = |name: &'static str| {
        let file = format!("examples/{name}.yaml");
        let model = lampwright::aircraft::read(&Disk, Path::new(&file)).expect("readable").expect("sound");
        let sets = rule_sets_for(&model.craft, None).expect("rule sets");
        (name, check(&model, &sets, &Options::default()).expect("judged"))
    };
    ["penmoor-p2", "aldmere-r1", "calder-c4", "merlewood-m20", "wexcombe-sparrow", "oldbury-tern"]
        .into_iter()
        .map(judged)
        .collect()
});

/// A verdict and the least margin, or `None` where only the verdict is worked.
fn holds(example: &str, id: &str, verdict: Verdict, margin: Option<f64>) {
    let goals = &REPORTS[example].goals;
    let goal = goals.iter().find(|g| g.id == id).unwrap_or_else(|| panic!("{example} has no goal {id}"));
    assert_eq!(goal.verdict, verdict, "{id}: {:?}", goal.margin);
    if let Some(wanted) = margin {
        let found = goal.margin.expect("a margin").low;
        assert!((found - wanted).abs() < 1e-4 * wanted.abs().max(1.0), "{id}: {found}, by hand {wanted}");
    }
}

// 1:5, so 25 times; beams of 120 deg full angle have m = 1: I = I0 cos theta. Red and green 2 x 25 = 50 cd aimed 55 deg
// out, white 1.6 x 25 = 40 cd aft. Tables: 14 CFR 23.1391, 23.1393, 23.1395, 23.1397, 23.1401.
#[rstest]
// Dead ahead 50 cos 55 = 28.6788 cd of 40: 28.6788 / 40 - 1.
#[case("left-light-horizontal", Missed, Some(-0.28303))]
#[case("right-light-horizontal", Missed, Some(-0.28303))]
// At the edge of A, 70 deg off the stern: 40 cos 70 = 13.6808 of 20.
#[case("rear-light-horizontal", Missed, Some(-0.31596))]
// Ahead, 5 deg up: 50 cos 55 cos 5 = 28.5697 of 0.90 x 40 = 36.
#[case("left-light-vertical/0-5", Missed, Some(-0.20640))]
// Ahead, 30 deg up: 28.6788 cos 30 = 24.8366 of 0.30 x 40 = 12.
#[case("left-light-vertical/20-30", Met, Some(1.06972))]
// 10 deg past the plane: 50 cos 65 = 21.1309 where 10 are the most: 1 - 2.11309.
#[case("red-in-R/area A", Missed, Some(-1.11309))]
// 20 deg past it: 50 cos 75 = 12.9410 where 1 is the most; the peak is under 100 candles, so no relief.
#[case("red-in-R/area B", Missed, Some(-11.94095))]
// White 10 deg into L, 80 deg off the stern: 40 cos 80 = 6.94593 where 5 are the most.
#[case("white-in-L/area A", Missed, Some(-0.38919))]
// Red: y <= 0.335 leaves 0.036; z = 1 - 0.700 - 0.299 = 0.001 leaves 0.001, which is 0.001 / sqrt 2 in x, y.
#[case("left-light-colour/left tip", Met, Some(0.00070711))]
// 60 a minute between 40 and 100: the nearer limit is 1 - 60/100.
#[case("anti-collision-frequency-for-night/one source", Met, Some(0.4))]
// 40 x 25 = 1000 cd for 0.1 s is worth 1000 x 0.1 / (0.2 + 0.1) = 333.33 of 400.
#[case("anti-collision-intensity-for-night/0-5", Missed, Some(-0.16667))]
// 333.33 of 240.
#[case("anti-collision-intensity-for-night/5-10", Met, Some(0.38889))]
// Nothing hides the beacon: 0.5 sr are to spare.
#[case("anti-collision-field-for-night", Met, Some(0.5))]
fn a_light_aeroplane(#[case] id: &str, #[case] verdict: Verdict, #[case] margin: Option<f64>) {
    holds("penmoor-p2", id, verdict, margin);
}

// 1:10, so 100 times: sides 60 cd aimed 40 deg out, white 25 cd, beacon 200 cd all round. Tables: 14 CFR 27.1391 to
// 27.1401; the mask of the green light hides all but 0 to 110 deg right.
#[rstest]
// Dead ahead 60 cos 40 = 45.9627 of 40; at the far edge 60 cos 70 = 20.52 of 5.
#[case("left-light-horizontal", Met, Some(0.14907))]
// 25 cos 70 = 8.55050 of 20.
#[case("rear-light-horizontal", Missed, Some(-0.57247))]
// Ahead, 5 deg up: 45.9627 cos 5 = 45.7878 of 36.
#[case("left-light-vertical/0-5", Met, Some(0.27188))]
// 10 deg past the plane: 60 cos 50 = 38.5673 where 10 are the most.
#[case("red-in-R-without-relief/area A", Missed, Some(-2.85673))]
// 20 deg past it: 60 cos 60 = 30 where 1 is the most; Part 27 has no relief.
#[case("red-in-R-without-relief/area B", Missed, Some(-29.0))]
// The mask lets nothing through to the left, nor aft.
#[case("green-in-L-without-relief/area A", Met, Some(1.0))]
#[case("green-in-A/area B", Met, Some(1.0))]
// Green at (0.200, 0.700): x <= 0.440 - 0.320 y leaves 0.016, which is 0.016 / sqrt(1 + 0.32^2) = 0.015239.
#[case("right-light-colour/right side", Met, Some(0.015239))]
// 40 a minute is the lower limit itself.
#[case("anti-collision-frequency/one source", Met, Some(0.0))]
// 200 cd for 0.2 s is worth 200 x 0.2 / 0.4 = 100 of 150.
#[case("anti-collision-intensity/0-5", Missed, Some(-0.33333))]
// 100 of 90, of 30 and of 15.
#[case("anti-collision-intensity/5-10", Met, Some(0.11111))]
#[case("anti-collision-intensity/20-30", Met, Some(5.66667))]
#[case("anti-collision-colour/top", Met, Some(0.00070711))]
// In the landing phase the position lights are dark.
#[case("position-lights-lit-before-1990", Missed, None)]
fn a_helicopter(#[case] id: &str, #[case] verdict: Verdict, #[case] margin: Option<f64>) {
    holds("aldmere-r1", id, verdict, margin);
}

// 1:6, so 36 times: red 7.2, green 4.32, white 3.6 cd in every direction. Rules of the Air 2007 rules 46 to 55: 5, 5 and
// 3 cd over L, R and A at every elevation; under 5700 kg and certificated before 1 April 1988, so system (a), (b) or (d).
#[rstest]
#[case("left-light-fitted", Met, Some(0.0))]
#[case("right-light-fitted", Met, Some(0.0))]
#[case("rear-light-fitted", Met, Some(0.0))]
// 7.2 / 5 - 1, and 4.32 / 5 - 1.
#[case("left-light-intensity", Met, Some(0.44))]
#[case("right-light-intensity", Missed, Some(-0.136))]
// The mask reaches 20 deg too far aft on the right: dark from 110 to 130 deg.
#[case("rear-light-intensity", Missed, Some(-1.0))]
// That is 20 deg of azimuth at every elevation: 2 x 20 deg in radians = 0.698132 sr of the 0.001 that count as nothing.
#[case("rear-light-unbroken", Missed, Some(0.001 - 0.698132))]
// A bare lamp hides nothing of its own light.
#[case("left-light-unbroken", Met, Some(0.001))]
#[case("left-light-colour/left tip", Met, Some(0.00070711))]
#[case("right-light-colour/right tip", Met, Some(0.015239))]
// White at (0.370, 0.370): y <= x + 0.020 leaves 0.020, which is 0.020 / sqrt 2; y >= x - 0.040 leaves twice that.
#[case("rear-light-colour/tail", Met, Some(0.0141421))]
// Steady position lights alone are system (a).
#[case("system-before-1988", Met, None)]
// The red light is dark while the engine starts.
#[case("red-on-the-apron", Missed, None)]
fn a_light_aeroplane_of_the_united_kingdom(#[case] id: &str, #[case] verdict: Verdict, #[case] margin: Option<f64>) {
    holds("calder-c4", id, verdict, margin);
}

// 1:8, typical emitters, so that only geometry and time have one answer. 14 CFR 25.1385 to 25.1401.
#[rstest]
#[case("left-light-fitted", Met, Some(0.0))]
#[case("right-light-fitted", Met, Some(0.0))]
#[case("rear-light-fitted", Met, Some(0.0))]
#[case("left-light-side", Met, None)]
#[case("right-light-side", Met, None)]
// Aimed 55 deg out, no direction of a 110 deg angle is more than 90 deg off the axis: nothing hidden.
#[case("left-light-unbroken", Met, Some(0.001))]
#[case("right-light-unbroken", Met, Some(0.001))]
#[case("rear-light-unbroken", Met, Some(0.001))]
// 46 a minute of 40.
#[case("anti-collision-frequency/one source", Met, Some(0.15))]
// The belly beacon hides the upper half of the band of 75 deg: 2 pi sin 75 = 6.069091 sr of 0.03.
#[case("anti-collision-field", Missed, Some(0.03 - 6.069091))]
// And is dark there.
#[case("anti-collision-intensity/0-5", Missed, Some(-1.0))]
#[case("anti-collision-intensity/30-75", Missed, Some(-1.0))]
// Aft beams are known to a tenth of their peak and end 70 deg off the stern: at worst dark.
#[case("rear-light-horizontal", CannotTell, Some(-1.0))]
fn ten_lines(#[case] id: &str, #[case] verdict: Verdict, #[case] margin: Option<f64>) {
    holds("merlewood-m20", id, verdict, margin);
}

// 1:12, so 144 times: 40 cd are 5760 cd; a full angle of 130 deg gives m = ln 0.5 / ln cos 65 = 0.804738. Red and green
// are swapped, and the tail lamp of 0.3 x 144 = 43.2 cd points up.
#[rstest]
#[case("left-light-fitted", Met, Some(0.0))]
#[case("rear-light-fitted", Met, Some(0.0))]
#[case("left-light-side", Missed, Some(-690.0))]
#[case("right-light-side", Missed, Some(-690.0))]
// Aimed right 40, it faces away from more than 50 deg left: 60 deg of azimuth, 2 x 1.047198 = 2.094395 sr.
#[case("left-light-unbroken", Missed, Some(0.001 - 2.094395))]
// Aimed up, it faces away from the lower half of A: 4.886922 / 2 = 2.443461 sr where 0.04 are allowed.
#[case("rear-light-unbroken", Missed, Some(0.04 - 2.443461))]
// 20 deg off its axis 5760 cos(20)^0.804738 = 5478.76; the relief of 25.1389(b)(3) allows a tenth of 5760.
#[case("red-in-R/area A", Missed, Some(1.0 - 5478.76 / 576.0))]
// On its axis 5760, where a fortieth of it is allowed.
#[case("red-in-R/area B", Missed, Some(1.0 - 40.0))]
#[case("green-in-L/area B", Missed, Some(1.0 - 40.0))]
// 90 deg off its axis it may be dark.
#[case("rear-light-horizontal", Missed, Some(-1.0))]
// 2 Hz are 120 a minute of 100.
#[case("anti-collision-frequency/one source", Missed, Some(-0.2))]
// 690 mm of 700 mm half span, of nine tenths.
#[case("wing-tip-place/left", Met, Some(690.0 / 700.0 / 0.9 - 1.0))]
// In the taxi and landing phases the position lights are dark.
#[case("position-lights-lit", Missed, None)]
fn mistakes(#[case] id: &str, #[case] verdict: Verdict, #[case] margin: Option<f64>) {
    holds("wexcombe-sparrow", id, verdict, margin);
}

// 1:6, so 36 times: a red of 36 to 432 cd, 20 to 120 deg of full angle, first flown in 1976.
#[rstest]
#[case("left-light-fitted", Met, Some(0.0))]
#[case("right-light-fitted", Met, Some(0.0))]
#[case("left-light-side", Met, None)]
#[case("right-light-side", Met, None)]
#[case("left-light-unbroken", Met, Some(0.001))]
// A narrow beam is dark at the ends of L.
#[case("left-light-horizontal", CannotTell, Some(-1.0))]
#[case("left-light-vertical/0-5", CannotTell, Some(-1.0))]
// The widest and brightest shows 432 cos 60 = 216 cd at 10 deg past the plane, and may show a tenth of 432 there.
#[case("red-in-R/area A", CannotTell, Some(1.0 - 216.0 / 43.2))]
// The beacon on top hides the lower half of the band of 30 deg: pi sr; whether 0.03 was the limit depends on the date.
#[case("anti-collision-field-30", CannotTell, Some(0.03 - std::f64::consts::PI))]
// The white of before August 1971 is not at hand, the green has no wavelength, the beacon no pattern.
#[case("rear-light-colour-before-1971/rear", CannotTell, None)]
#[case("right-light-colour/right", CannotTell, None)]
#[case("anti-collision-frequency-before-1957/top", CannotTell, None)]
fn little_is_known(#[case] id: &str, #[case] verdict: Verdict, #[case] margin: Option<f64>) {
    holds("oldbury-tern", id, verdict, margin);
}
