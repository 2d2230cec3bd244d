//! The main job: a model, rule sets, a report.

use crate::aircraft::Aircraft;
use crate::error::Error;
use crate::report::{self, Documentation, Method, Observer, Report, build};
use crate::resolve::{choose, wanted};
use crate::rules::{Bundled, Craft, RuleHead, RuleSet, bundled};
use crate::source::Rejected;
use crate::spread::spread;

/// How a check is done.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Judge by the rule set of this id, whatever craft it is for, instead of the published one that fits; all its goals
    /// then decide whether the model passes.
    pub rule_set: Option<String>,
    /// Keep only goals whose id, rule set or citation holds one of these words; empty: all.
    pub only: Vec<String>,
}

/// Holds a model against rule sets.
///
/// # Errors
/// No published rule set answers the craft; the error names what is missing or nearest.
///
/// # Example
/// ```
/// use lampwright::{Options, aircraft::{Aim, Aircraft, Lamp, Scale, find_typical}, check, rule_sets_for};
/// use lampwright::{judge::Verdict, rules::{Authority, Category, Light}, source::At};
///
/// let mut model = Aircraft::new("Merlewood M20", Scale::one_to(8.0).expect("a scale"));
/// model.craft.category = Some(Category::TransportAeroplane);
/// model.craft.authority = Some(Authority::Us);
/// let red = find_typical("red 3 W star").expect("a class").emitter(&At::nowhere());
/// model.lamps.push(Lamp::new("left tip", Light::LeftPosition, Aim::from_degrees(-55.0, 0.0), red));
///
/// let report = check(&model, &rule_sets_for(&model.craft, None)?, &Options::default())?;
/// let colour = report.goals.iter().find(|g| g.id == "left-light-colour/left tip").expect("judged");
/// // A red of 615 to 640 nm dominant wavelength is aviation red: its limit is 609.7 nm (14 CFR 25.1397(a)).
/// assert_eq!(colour.verdict, Verdict::Met);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check(aircraft: &Aircraft, sets: &[RuleSet], options: &Options) -> Result<Report, Error> {
    let candidates = choose(&aircraft.craft, sets, options.rule_set.as_deref())?;
    Ok(build(aircraft, &candidates, &options.only))
}

/// Holds a model against rule sets, and gathers the evidence behind the report.
///
/// # Errors
/// As [`check`].
pub fn document(
    aircraft: &Aircraft,
    sets: &[RuleSet],
    options: &Options,
    observer: Observer,
    method: Method,
) -> Result<Documentation, Error> {
    let candidates = choose(&aircraft.craft, sets, options.rule_set.as_deref())?;
    Ok(report::document(aircraft, &candidates, &options.only, observer, method))
}

/// The rule sets that come with the program and that a craft may be judged by; of the others only the heads are read.
///
/// # Errors
/// No published rule set answers the craft; the error names what is missing or nearest. A mistake in a bundled file,
/// which a test keeps free of any.
pub fn rule_sets_for(craft: &Craft, asked: Option<&str>) -> Result<Vec<RuleSet>, Error> {
    let mistake = |rejected: Rejected| Error::Bundled(rejected.show(false));
    let wanted = wanted(craft, &bundled_heads().map_err(mistake)?, asked)?;
    let files: Vec<&Bundled> =
        bundled().iter().zip(wanted).filter_map(|(file, wanted)| wanted.then_some(file)).collect();
    spread(&files, |file| file.read()).into_iter().collect::<Result<_, _>>().map_err(mistake)
}

/// What the rule sets that come with the program say of themselves.
///
/// # Errors
/// As [`bundled_rule_sets`].
pub fn bundled_heads() -> Result<Vec<RuleHead>, Rejected> {
    spread(bundled(), |file| file.read_head()).into_iter().collect()
}

/// The rule sets that come with the program.
///
/// # Errors
/// A mistake in a bundled file; a test keeps them free of any.
pub fn bundled_rule_sets() -> Result<Vec<RuleSet>, Rejected> {
    spread(bundled(), |file| file.read()).into_iter().collect()
}
