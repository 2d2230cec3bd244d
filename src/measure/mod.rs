//! The measured quantities: one file each, and the list of them.
//!
//! A quantity looks at a goal and a scene and says what it found, as intervals, or what is missing to tell.

mod aft_placement;
mod brightness_for_the_scale;
mod chromaticity;
mod clearing;
mod cut_off;
mod duty;
mod effective_intensity;
mod field_of_coverage;
mod finding;
mod flash_frequency;
mod flash_frequency_seen;
mod horizontal_intensity;
mod lamps_fitted;
mod lateral_placement;
mod least_intensity;
mod lights_by_phase;
mod on_time;
mod onset_spread;
mod overlap_intensity;
mod rise_and_fall;
mod side;
mod slip_time;
mod steadiness;
mod symmetry;
mod unbroken_light;
mod vertical_intensity;
mod vertical_spacing;
mod vet;
mod visible_range;
mod zones;

pub use finding::{Asked, CannotTell, Finding, LetOff, Measured, Required, Where};
pub use flash_frequency_seen::{SeenRate, frequency_seen};

use crate::geometry::Direction;
use crate::resolve::Goal;
use crate::rules::{Each, Limit, RuleSet, Unit};
use crate::scene::Scene;
use crate::source::Diagnostic;
use crate::units::Interval;
use vet::{vet_goal, vet_readings};

/// A measured quantity.
pub trait Quantity: Sync {
    /// The word rule sets use.
    fn id(&self) -> &'static str;
    /// How it is measured, in plain words.
    fn how(&self) -> &'static str;
    /// Whether it can be held against a limit of this form; else what form it wants.
    ///
    /// # Errors
    /// What the rule set should say instead.
    fn takes(&self, limit: &Limit) -> Result<(), &'static str>;
    /// What a goal must give it besides the limit.
    fn needs(&self) -> Needs {
        Needs::default()
    }
    /// Whether channels alone tell it, without lamps: a sequence file can answer it by itself.
    fn is_of_channels(&self) -> bool {
        false
    }
    /// What a goal asks of the light in a direction; `None` where it asks nothing there, or not of intensity.
    fn asks(&self, _goal: &Goal<'_>, _scene: &Scene<'_>, _d: &Direction) -> Option<Asked> {
        None
    }
    /// What is found.
    ///
    /// # Errors
    /// What is missing to tell.
    fn measure(&self, goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell>;
}

/// What a goal must give a quantity besides the limit.
#[derive(Debug, Clone, Copy, Default)]
pub struct Needs {
    /// One of these regions; none where it is empty.
    pub regions: &'static [&'static str],
    /// Figures under `with:`, by name and unit.
    pub with: &'static [(&'static str, Unit)],
    /// Figures under `with:` that may be there.
    pub may_have: &'static [(&'static str, Unit)],
    /// Whether it wants `phases:`.
    pub phases: bool,
    /// What it is judged for, where not for the light as a whole.
    pub each: Option<Each>,
    /// Other keys it looks at, of `allow`, `relief`, `sources`, `seen_over` and `above`.
    pub keys: &'static [&'static str],
}

impl Needs {
    /// A region of one of these kinds.
    const fn region(regions: &'static [&'static str]) -> Self {
        Self { regions, with: &[], may_have: &[], phases: false, each: None, keys: &[] }
    }

    /// Judged for each lamp or channel by itself.
    const fn each(each: Each) -> Self {
        Self { each: Some(each), ..Self::region(&[]) }
    }
}

/// Every region a goal may name.
const ANY_REGION: &[&str] = &["dihedral", "band", "sector", "overlap"];
/// The level at which a document measures lamps, where that is not their mean.
const LEVEL: &[(&str, Unit)] = &[("level", Unit::Share)];

/// Every quantity, in the order of their files.
pub static ALL: &[&dyn Quantity] = &[
    &aft_placement::AftPlacement,
    &brightness_for_the_scale::BrightnessForTheScale,
    &chromaticity::Chromaticity,
    &cut_off::CutOff,
    &duty::Duty,
    &effective_intensity::EffectiveIntensity,
    &field_of_coverage::FieldOfCoverage,
    &flash_frequency::FlashFrequency,
    &flash_frequency_seen::FlashFrequencySeen,
    &horizontal_intensity::HorizontalIntensity,
    &lamps_fitted::LampsFitted,
    &lateral_placement::LateralPlacement,
    &least_intensity::LeastIntensity,
    &lights_by_phase::LightsByPhase,
    &on_time::OnTime,
    &onset_spread::OnsetSpread,
    &overlap_intensity::OverlapIntensity,
    &rise_and_fall::RiseAndFall,
    &side::Side,
    &slip_time::SlipTime,
    &steadiness::Steadiness,
    &symmetry::Symmetry,
    &unbroken_light::UnbrokenLight,
    &vertical_intensity::VerticalIntensity,
    &vertical_spacing::VerticalSpacing,
    &visible_range::VisibleRange,
];

/// The quantity a rule set names.
#[must_use]
pub fn find(id: &str) -> Option<&'static dyn Quantity> {
    ALL.iter().copied().find(|q| q.id() == id)
}

/// Measures a goal.
///
/// # Errors
/// What is missing to tell; a quantity nobody knows, which [`vet`] would have said of the rule set.
pub fn measure(goal: &Goal<'_>, scene: &Scene<'_>) -> Result<Finding, CannotTell> {
    if let Limit::NotAtHand(place) = &goal.spec.limit {
        return Err(CannotTell::NotAtHand(place.clone()));
    }
    let id = &goal.spec.quantity.value;
    find(id).ok_or_else(|| CannotTell::Beyond(format!("no quantity is called `{id}`")))?.measure(goal, scene)
}

/// What a goal asks of its light in a direction; `None` where it asks nothing there, or nothing of intensity.
#[must_use]
pub fn asks(goal: &Goal<'_>, scene: &Scene<'_>, d: &Direction) -> Option<Asked> {
    find(&goal.spec.quantity.value)?.asks(goal, scene, d)
}

/// What a plain limit asks, and how far on its right side a figure lies; `None` for limits of other forms.
#[must_use]
pub fn against(limit: &Limit, found: Interval) -> Option<(Required, Interval)> {
    zones::plain(limit, found)
}

/// What a rule set asks that no quantity can measure.
#[must_use]
pub fn vet(set: &RuleSet) -> Vec<Diagnostic> {
    let goals = set.requirements.iter().flat_map(|r| r.demand.goals()).flat_map(vet_goal);
    vet_readings(set).into_iter().chain(goals).collect()
}
