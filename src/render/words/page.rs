//! The words of the printed report.

use crate::aircraft::Entry;
use crate::judge::Verdict;
use crate::measure::{Measured, SeenRate};
use crate::report::Tally;
use crate::report::evidence::{About, NightView};
use crate::units::{Azimuth, rounded};

pub(in crate::render) const KICKER: &str = "Documentation of lights";
pub(in crate::render) const WHO: &str = "Entry";
pub(in crate::render) const WHAT: &str = "Craft shown";
pub(in crate::render) const RULES: &str = "Judged by, and why";
pub(in crate::render) const LAMPS: &str = "Lamps";
pub(in crate::render) const WHERE: &str = "Where each lamp sits";
pub(in crate::render) const WHEN: &str = "When each lamp flashes";
pub(in crate::render) const PHASES: &str = "Lit when";
pub(in crate::render) const DIFFERENCES: &str = "Differences stated by the entrant";
pub(in crate::render) const NO_DIFFERENCES: &str = "None stated.";
pub(in crate::render) const LOCAL_LAMPS: &str = "Required where it is flown, and no light of the craft shown";
pub(in crate::render) const MISSED: &str = "Missed";
pub(in crate::render) const OPEN: &str = "Cannot be told, and what would tell it";
pub(in crate::render) const NOTHING_MISSED: &str = "Nothing required is missed.";
pub(in crate::render) const NOTHING_OPEN: &str = "Everything required can be told.";
pub(in crate::render) const METHOD: &str = "Method";
pub(in crate::render) const EVIDENCE: &str = "Evidence";
pub(in crate::render) const GOALS: &str = "Every goal";
pub(in crate::render) const CAUTIONS: &str = "Cautions";
pub(in crate::render) const NIGHT: &str = "At night";
pub(in crate::render) const NOT_DOCUMENTED: &str = "not documented";
pub(in crate::render) const NO_PLACE: &str = "place not given";
pub(in crate::render) const NO_PHASES: &str = "The file says of no phase which lights are lit.";
pub(in crate::render) const NOTHING_FLASHES: &str = "No lamp flashes.";
pub(in crate::render) const NOT_STATED: &str = "not stated";
pub(in crate::render) const PLAY: &str = "Play";
pub(in crate::render) const PAUSE: &str = "Pause";
pub(in crate::render) const NEXT: &str = "Next frame";
pub(in crate::render) const BACK: &str = "Frame back";
pub(in crate::render) const STILL: &str = "still: every lamp at its greatest level";
pub(in crate::render) const NO_MOTION: &str = "This device asks for reduced motion: frames can be stepped, not played.";
pub(in crate::render) const DECLARED: &str =
    "All figures of the model are declared by the entrant; the program measured nothing on the model itself.";
pub(in crate::render) const VIEWS_CAPTION: &str = "The model in its own proportions: each lamp with its number from the lamp table and \
the letter of its colour (R red, G green, W white, Y yellow, B blue), the sector it is asked to cover on the horizon, and hatched \
within it what masks, its own body or the airframe hide.";
pub(in crate::render) const REQUIRED: &str = "Required goals";
pub(in crate::render) const ALL_GOALS: &str = "All goals, the program's own and common practice too:";
pub(in crate::render) const BESIDES: &str = "Besides, and in no tally of what is required:";

pub(in crate::render) const LAMP_HEADS: [&str; 8] =
    ["No.", "Lamp and light", "Verdict", "Colour", "Place on the model; full size", "Lit", "Evidence", "Paragraph"];
pub(in crate::render) const GOAL_HEADS: [&str; 5] = ["Verdict", "Goal", "Paragraph", "Required and found", "Margin"];

pub(in crate::render) const TIMING_HEADS: [&str; 5] =
    ["Channel", "Lamps", "Flashes per minute", "Period", "Each flash"];
pub(in crate::render) const STANDS_FOR: &str = "stands for a";
pub(in crate::render) const NOT_JUDGED: &str = "not judged";
pub(in crate::render) const LOCAL_RULE: &str = "local rule";
pub(in crate::render) const LOCAL_VERDICTS: &str = "Local rule, judged on the model itself:";
pub(in crate::render) const NOTHING: &str = "nothing";
pub(in crate::render) const NO_ENTRY: &str = "No entry is stated.";
pub(in crate::render) const AIRFRAME: &str = "Airframe";
pub(in crate::render) const AS_IT_STANDS: &str = "as it stands for";

/// What the entrant says of the entry, name by name; nothing where nothing is said at all.
pub(in crate::render) fn entry(entry: &Entry) -> Vec<(&'static str, &str)> {
    let all = [
        ("Number", &entry.number),
        ("Entrant", &entry.entrant),
        ("Class", &entry.class),
        ("Event", &entry.event),
        ("Date", &entry.date),
        (WHAT, &entry.individual),
    ];
    if all.iter().all(|(_, value)| value.is_none()) {
        return Vec::new();
    }
    all.into_iter().map(|(name, value)| (name, value.as_deref().unwrap_or(NOT_STATED))).collect()
}

/// How many goals came out how.
pub(in crate::render) fn tally(t: &Tally) -> String {
    format!("{} missed, {} cannot be told, {} met, {} not applicable", t.missed, t.cannot_tell, t.met, t.not_applicable)
}

/// A verdict and the sign that stands for it in print.
pub(in crate::render) fn verdict(verdict: Verdict) -> (&'static str, &'static str) {
    match verdict {
        Verdict::Met => ("✓", "met"),
        Verdict::Missed => ("✗", "missed"),
        Verdict::CannotTell => ("?", "cannot tell"),
        Verdict::NotApplicable => ("–", "not applicable"),
    }
}

/// The question a figure answers, and what it shows.
pub(in crate::render) fn figure(about: &About) -> (String, String) {
    match about {
        About::Horizon { light, measured } => (
            format!("Is the {light} light bright enough around the horizon, and dark where it must be?"),
            format!(
                "{} of the {light} light on the horizon, at full-size equivalent, in candela on a scale of tens: the band is what the \
                 file's figures allow, the dashed line the least asked, the dash-dotted line the most allowed.",
                intensity(*measured)
            ),
        ),
        About::Upright { light, measured, azimuth_deg } => (
            format!("Is the {light} light bright enough above and below?"),
            format!(
                "{} of the {light} light in the upright plane through {}, drawn as on the horizon.",
                intensity(*measured),
                bearing(*azimuth_deg)
            ),
        ),
        About::Sphere { light } => (
            format!("Where is the {light} light seen, shaded, hidden or short?"),
            format!(
                "The whole sphere about the {light} light in equal areas, dead ahead in the middle; rings mark the worst directions of \
                 its goals."
            ),
        ),
        About::Colours => (
            "Are the colours those of the rules?".to_string(),
            "CIE 1931 chromaticities: each lamp as a point, or as all the colours its figures allow, beside the published regions."
                .to_string(),
        ),
        About::Timing => (
            "When does each lamp flash?".to_string(),
            "Pulses over one period of the slowest channel, with the flashes they count as, and flashes per minute as seen from around."
                .to_string(),
        ),
        About::Margins { part, parts } => (
            if *parts > 1 {
                format!("How far is each goal from its limit? Part {part} of {parts}")
            } else {
                "How far is each goal from its limit?".to_string()
            },
            "The margin of every goal: right of the line is met, left of it missed, across it not to be told.".to_string(),
        ),
    }
}

fn intensity(measured: Measured) -> &'static str {
    match measured {
        Measured::Mean => "Mean luminous intensity",
        Measured::FullLevel => "Luminous intensity, kept on,",
        Measured::Effective => "Effective intensity",
    }
}

/// An azimuth in words, to the degree.
fn bearing(azimuth_deg: f64) -> String {
    Azimuth::from_deg(azimuth_deg.round()).to_string()
}

/// Where the observer stands, and what is seen from there.
pub(in crate::render) fn night(view: &NightView) -> String {
    let height = match view.elevation_deg.round() {
        0.0 => format!("{} of the model, level with it", bearing(view.azimuth_deg)),
        90.0 => "straight above the model".to_string(),
        -90.0 => "straight below the model".to_string(),
        el if el < 0.0 => format!("{} of the model, {} deg below it", bearing(view.azimuth_deg), rounded(-el, 3)),
        el => format!("{} of the model, {} deg above it", bearing(view.azimuth_deg), rounded(el, 3)),
    };
    let unplaced = if view.unplaced.is_empty() {
        String::new()
    } else {
        format!(" Not shown, since their places are not given on all axes: {}.", view.unplaced.join(", "))
    };
    format!(
        "Seen from {height}, {} m away, which is {} m from the full-size craft: each lamp at its full level, as bright as its beam, \
         masks and airframe let it be that way. Dashed rings may be dark there.{unplaced}",
        rounded(view.distance_m.0, 3),
        rounded(view.distance_m.1, 3)
    )
}

/// What stands in place of the night view of a model whose lamps have no places.
pub(in crate::render) const NO_NIGHT: &str =
    "No lamp has its place on all axes: give `place:` to see the model by night.";

/// Flashes a minute as seen from somewhere.
pub(in crate::render) fn seen_rate(rate: SeenRate) -> String {
    let words = |rate| crate::rules::show_range(rate, crate::rules::Unit::PerMinute);
    match rate {
        SeenRate::Rate(rate) => words(rate),
        SeenRate::RateOrDark(rate) => format!("{}, or none seen", words(rate)),
        SeenRate::Dark => "none seen".to_string(),
        SeenRate::Unknown => "cannot be told".to_string(),
    }
}

/// By which program, and when.
pub(in crate::render) fn made_by(day: &str) -> String {
    format!("lampwright {}, {day}.", env!("CARGO_PKG_VERSION"))
}

/// What is said before anything may flash on a screen.
pub(in crate::render) fn flash_caution(view: &NightView) -> String {
    format!(
        "Caution: flashing light can set off seizures in photosensitive people (WCAG 2.2, success criterion 2.3.1). At their own speed \
         these lamps start {} in the worst second. Nothing here moves by itself.",
        super::goals::counted(view.flashes_in_a_second, "flash").replace("flashs", "flashes")
    )
}

/// At what speed the frames are played.
pub(in crate::render) fn speed(view: &NightView) -> String {
    let frame = format!(" Each frame shows the greatest level of its {} ms.", rounded(view.frame_ms, 3));
    let speed = if view.slowed > 1.0 {
        format!(
            "The frames play {} times slower than life, so that no more than three flashes begin in a second.",
            view.slowed
        )
    } else {
        "The frames play at life's own speed: no more than three flashes begin in a second.".to_string()
    };
    speed + &frame
}
