//! One lamp as physics.

use super::cause::{Cause, Missing};
use super::readings::Readings;
use super::shadow::Shadow;
use crate::aircraft::{Aircraft, Family, Known, Lamp, Origin, Output};
use crate::colorimetry::ColourSet;
use crate::geometry::{Cell, Direction, Ends, State};
use crate::photometry::{Beam, Body, BodyState, Mask, Pass, Shape};
use crate::source::At;
use crate::units::Interval;

/// How much warmer than cold a power emitter may run when always lit, in kelvin (trade figure, from memory).
const STEADY_HEAT_K: f64 = 60.0;

/// A channel lit on the average more than this heats its emitter as one that is always lit.
const MOSTLY_LIT: f64 = 0.5;

/// Whether mask and body hide a lamp; the less hidden comes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hidden {
    /// It shows.
    No,
    /// It is not known: its body is not.
    Unknown,
    /// It is hidden.
    Yes,
}

/// A lamp at full-size equivalent.
#[derive(Debug, Clone)]
pub struct SceneLamp {
    /// Its name.
    pub name: String,
    /// Its beam, all emitters together, through the cover; or what is missing to know it.
    pub beam: Result<Beam, Missing>,
    /// The colour seen, or what is missing to know it.
    pub colour: Result<ColourSet, Missing>,
    /// Where the light's figures come from, the least sure of them.
    pub light_origin: Origin,
    /// Where the colour comes from.
    pub colour_origin: Origin,
    /// Its mean level over its channel's period; 1 when always lit.
    pub mean_level: f64,
    /// The typical class it starts from.
    pub class: Option<String>,
    /// Where its emitter was written.
    pub emitter_at: At,
    mask: Option<Mask>,
    sharp: Option<Mask>,
    body: Result<Body, Missing>,
    airframe: Option<Shadow>,
    known_to_deg: f64,
    vague_installation: bool,
}

impl SceneLamp {
    /// Whether a mask hides part of what it would show.
    #[must_use]
    pub fn is_masked(&self) -> bool {
        self.mask.is_some()
    }

    /// The lamp of a model.
    #[must_use]
    pub fn new(lamp: &Lamp, aircraft: &Aircraft, readings: &Readings) -> Self {
        let channel = lamp.channel.and_then(|n| aircraft.channels.get(n));
        let steady = channel.is_none_or(|c| c.waveform.is_steady() || c.waveform.mean_level() > MOSTLY_LIT);
        let installed = Installed::new(lamp, steady);
        let beam = installed.beam(aircraft.scale.intensity(), readings);
        // Several emitters side by side, or a cover that spreads light, are larger than one emitter.
        let one = lamp.emitter.size_mm.as_ref().map(|s| s.value);
        let alone = (lamp.count == 1 && !installed.spread) || one.is_some_and(|s| s.high == 0.0);
        let size = lamp.size_mm.or(one.filter(|_| alone));
        let sectors = lamp.mask.as_ref().and_then(|m| m.sectors(lamp.side()));
        let half = lamp.mask.as_ref().and_then(|m| m.half_penumbra_deg(size));
        let body = installed.shape.as_ref().map(|s| Body::of(&lamp.aim.direction(), s));
        let body = body.ok_or_else(|| installed.missing("viewing_angle", "how wide its beam is"));
        let mask = sectors.clone().and_then(|s| Mask::new(s, half).ok());
        // A mask that cannot be made must not count as none: what the lamp shows is then not known.
        let unmade = (lamp.mask.is_some() && mask.is_none()).then(|| Missing {
            key: format!("lamps.{}.mask.hides", lamp.name),
            what: "what its mask hides; `inboard` needs a lamp on a side".to_string(),
            at: lamp.places.mask.clone(),
        });
        let airframe = Shadow::of(lamp, aircraft, size);
        let unmade = unmade.or_else(|| airframe.as_ref().err().cloned());
        let beam = unmade.clone().map_or(beam, Err);
        let body = unmade.map_or(body, Err);
        Self {
            name: lamp.name.clone(),
            known_to_deg: beam.as_ref().map_or(0.0, |b| known_to_deg(b, readings)),
            beam,
            colour: installed.colour(),
            light_origin: installed.light_origin(),
            colour_origin: lamp.emitter.colour.as_ref().map_or(Origin::Guess, |c| c.origin),
            mean_level: channel.map_or(1.0, |c| c.waveform.mean_level()),
            class: lamp.emitter.class.clone(),
            emitter_at: lamp.places.emitter.clone(),
            mask,
            sharp: sectors.and_then(|s| Mask::new(s, Some(0.0)).ok()),
            body,
            airframe: airframe.unwrap_or(None),
            vague_installation: !installed.factor.is_exact(),
        }
    }

    /// The azimuths at which its mask begins or ends, in degrees.
    #[must_use]
    pub fn az_breaks(&self) -> Vec<f64> {
        self.mask.as_ref().map_or_else(Vec::new, |m| m.az_breaks().to_vec())
    }

    /// The elevations at which its mask begins or ends, in degrees.
    #[must_use]
    pub fn el_breaks(&self) -> Vec<f64> {
        self.mask.as_ref().map_or_else(Vec::new, |m| m.el_breaks().to_vec())
    }

    /// What is missing to know which directions it shows at all.
    ///
    /// # Errors
    /// What is missing.
    pub fn geometry(&self) -> Result<(), Missing> {
        self.body.as_ref().map(|_| ()).map_err(Clone::clone)
    }

    /// Azimuths and elevations along which mask or body begin to hide, in degrees.
    #[must_use]
    pub fn shadow_breaks(&self) -> (Vec<f64>, Vec<f64>) {
        let (mut azimuths, mut elevations) = self.body.as_ref().map_or_else(|_| Default::default(), Body::breaks_deg);
        azimuths.extend(self.az_breaks());
        elevations.extend(self.el_breaks());
        (azimuths, elevations)
    }

    /// Its intensity at full level, at full-size equivalent; nothing known where its beam is not.
    #[must_use]
    pub fn full_cd(&self, d: &Direction) -> Interval {
        let Ok(beam) = &self.beam else { return Interval { low: 0.0, high: f64::INFINITY } };
        match self.pass(d) {
            Pass::Open => beam.intensity_cd(d),
            Pass::Hidden => Interval::ZERO,
            Pass::Penumbra => Interval { low: 0.0, high: beam.intensity_cd(d).high },
        }
    }

    /// How much of its light mask and airframe let pass in a direction.
    fn pass(&self, d: &Direction) -> Pass {
        let by_mask = self.mask.as_ref().map_or(Pass::Open, |mask| mask.pass(d));
        match (by_mask, self.airframe.as_ref().map_or(Pass::Open, |shadow| shadow.pass(d))) {
            (Pass::Hidden, _) | (_, Pass::Hidden) => Pass::Hidden,
            (Pass::Penumbra, _) | (_, Pass::Penumbra) => Pass::Penumbra,
            _ => Pass::Open,
        }
    }

    /// What the ends of its intensity at full level are over a cell that was cut at the edges of its mask.
    #[must_use]
    pub fn full_over(&self, cell: &Cell) -> Ends {
        let Ok(beam) = &self.beam else {
            let high = Interval { low: 0.0, high: f64::INFINITY };
            return Ends { low: Interval::ZERO, high };
        };
        let mut ends = beam.intensity_over(cell);
        let shares = [
            self.mask.as_ref().map(|mask| mask.share_over(cell)),
            self.airframe.as_ref().map(|shadow| shadow.share_over(cell)),
        ];
        for share in shares.into_iter().flatten() {
            ends = Ends { low: ends.low * share.low, high: ends.high * share.high };
        }
        ends
    }

    /// What the ends of its intensity at its mean level are over a cell.
    #[must_use]
    pub fn mean_over(&self, cell: &Cell) -> Ends {
        self.full_over(cell).scaled(self.mean_level)
    }

    /// Its intensity at its mean level.
    #[must_use]
    pub fn mean_cd(&self, d: &Direction) -> Interval {
        self.full_cd(d).scaled(self.mean_level)
    }

    /// Whether mask and body hide all of a cell, as seen from the middle of the emitter.
    #[must_use]
    pub fn hides_cell(&self, cell: &Cell) -> State {
        if self.sharp.as_ref().is_some_and(|m| m.pass_of_cell(cell) == Some(Pass::Hidden)) {
            return State::Inside;
        }
        let by_mask = self.sharp.as_ref().map_or(State::Outside, |m| match m.pass_of_cell(cell) {
            Some(Pass::Open | Pass::Penumbra) => State::Outside,
            Some(Pass::Hidden) => State::Inside,
            None => State::Mixed,
        });
        let by_body = match &self.body {
            Err(_) => State::Unknown,
            Ok(body) => match body.body_state_of_cell(cell) {
                Some(BodyState::Clear) => State::Outside,
                Some(BodyState::Hidden) => State::Inside,
                Some(BodyState::Unknown) => State::Unknown,
                None => State::Mixed,
            },
        };
        let by_airframe = self.airframe.as_ref().map_or(State::Outside, |shadow| shadow.coverage.state_of(cell));
        either(by_airframe, either(by_mask, by_body))
    }

    /// Whether mask and body hide it in a direction, as seen from the middle of the emitter.
    #[must_use]
    pub fn hidden(&self, d: &Direction) -> Hidden {
        let by_airframe = self.airframe.as_ref().is_some_and(|shadow| shadow.coverage.hides(d));
        if by_airframe || self.sharp.as_ref().is_some_and(|m| m.pass(d) == Pass::Hidden) {
            return Hidden::Yes;
        }
        match self.body.as_ref().map(|b| b.body_state(d)) {
            Ok(BodyState::Clear) => Hidden::No,
            Ok(BodyState::Hidden) => Hidden::Yes,
            Ok(BodyState::Unknown) | Err(_) => Hidden::Unknown,
        }
    }

    /// Whether the airframe hides a direction.
    #[must_use]
    pub fn is_hidden_by_airframe(&self, d: &Direction) -> bool {
        self.airframe.as_ref().is_some_and(|shadow| shadow.coverage.hides(d))
    }

    /// Where on the model the airframe first hides a direction, in mm from the datum, and how far from the lamp that is.
    #[must_use]
    pub fn hidden_by_airframe(&self, d: &Direction) -> Option<([f64; 3], f64)> {
        self.airframe.as_ref()?.hidden_by(d)
    }

    /// Why its intensity in a direction is a range.
    #[must_use]
    pub fn causes(&self, d: &Direction) -> Vec<Cause> {
        let lamp = self.name.clone();
        let mut causes = Vec::new();
        let Ok(beam) = &self.beam else { return causes };
        let by_mask = self.mask.as_ref().map_or(Pass::Open, |m| m.pass(d));
        let pass = self.pass(d);
        if pass == Pass::Penumbra && by_mask != Pass::Penumbra {
            causes.push(Cause::AirframeEdge { lamp: lamp.clone() });
        }
        if pass == Pass::Penumbra && by_mask == Pass::Penumbra {
            causes.push(match self.mask.as_ref().and_then(Mask::half_penumbra_deg) {
                Some(half_width_deg) => Cause::Penumbra { lamp: lamp.clone(), half_width_deg },
                None => Cause::MaskEdge { lamp: lamp.clone() },
            });
        }
        if pass != Pass::Hidden && beam.is_beyond(d, self.known_to_deg) {
            causes.push(Cause::BeyondBeam { lamp: lamp.clone(), known_to_deg: self.known_to_deg });
        }
        if pass != Pass::Hidden && !beam.peak_cd().is_exact() {
            causes.push(match (&self.class, self.light_origin, self.vague_installation) {
                (Some(class), Origin::Typical, _) => Cause::Typical { lamp, class: class.clone() },
                (.., true) => Cause::Installation { lamp },
                _ => Cause::Declared { lamp },
            });
        }
        causes
    }
}

/// What is hidden by one or by another.
fn either(one: State, other: State) -> State {
    match (one, other) {
        (State::Inside, _) | (_, State::Inside) => State::Inside,
        (State::Mixed, _) | (_, State::Mixed) => State::Mixed,
        (State::Unknown, State::Outside) | (State::Outside, State::Unknown) => State::Unknown,
        (State::Unknown, State::Unknown) => State::Unknown,
        (State::Beyond(a), State::Beyond(b)) if a == b => State::Beyond(a),
        (State::Beyond(a), State::Outside) | (State::Outside, State::Beyond(a)) => State::Beyond(a),
        (State::Outside, State::Outside) => State::Outside,
        _ => State::Mixed,
    }
}

/// How far off its axis a beam is known, in degrees.
fn known_to_deg(beam: &Beam, readings: &Readings) -> f64 {
    match beam.shape() {
        Shape::CosinePower { half_angle_deg } => {
            let m = 0.5_f64.ln() / half_angle_deg.low.to_radians().cos().ln();
            readings.beam_known_to.powf(1.0 / m).acos().to_degrees()
        }
        Shape::Isotropic { blocked_behind_deg, .. } => blocked_behind_deg.unwrap_or(180.0),
        Shape::Table { off_axis_deg, .. } => off_axis_deg.last().copied().unwrap_or(0.0),
        Shape::Grid { grid, .. } => grid.known_to_deg(),
    }
}

/// A lamp's emitter as it is run, covered and heated.
struct Installed<'a> {
    lamp: &'a Lamp,
    shape: Option<Shape>,
    spread: bool,
    factor: Interval,
    keeps_colour: bool,
    typical_cover: bool,
    heated: bool,
}

impl<'a> Installed<'a> {
    fn new(lamp: &'a Lamp, steady: bool) -> Self {
        let emitter = &lamp.emitter;
        let own = emitter.shape.as_ref().map(|s| &s.value);
        let effect = lamp.cover.effect(own, emitter.family);
        let mut factor = effect.transmittance.scaled(f64::from(lamp.count));
        if let Some(current) = lamp.drive.current_ma {
            // Without a stated current or a family nothing is known but that the light is not negative.
            factor = factor * emitter.drive_factor(current).unwrap_or(Interval { low: 0.0, high: 30.0 });
        }
        if let Some(level) = lamp.drive.level {
            factor = factor * level;
        }
        // Flashing emitters stay cold; always lit ones of a watt or more lose light to heat, unless measured so.
        let measured = emitter.output.as_ref().is_some_and(|o| o.origin == Origin::Measured);
        let heated = steady && emitter.runs_hot && !measured;
        if heated {
            factor = factor * Interval { low: (emitter.per_kelvin.low * STEADY_HEAT_K).exp(), high: 1.0 };
        }
        Self {
            lamp,
            spread: effect.shape.is_some(),
            shape: effect.shape.or_else(|| own.cloned()),
            factor,
            keeps_colour: effect.keeps_colour,
            typical_cover: effect.typical,
            heated,
        }
    }

    fn missing(&self, key: &str, what: &str) -> Missing {
        let lamp = self.lamp;
        Missing {
            key: format!("emitters.{}.{key}", lamp.emitter.name),
            what: what.to_string(),
            at: lamp.places.emitter.clone(),
        }
    }

    fn beam(&self, scale: f64, readings: &Readings) -> Result<Beam, Missing> {
        let output =
            self.lamp.emitter.output.as_ref().ok_or_else(|| self.missing("peak", "how much light it gives"))?;
        let shape = self.shape.as_ref().ok_or_else(|| self.missing("viewing_angle", "how wide its beam is"))?;
        let own = self.lamp.emitter.shape.as_ref().map_or(shape, |s| &s.value);
        let unusable = || self.missing("viewing_angle", "a beam whose light can be reckoned");
        let peak = match output.value {
            Output::PeakCd(peak) if !self.spread => peak,
            // A cover that spreads the light keeps the flux, not the peak.
            Output::PeakCd(peak) => shape.peak_from_flux(peak * own.flux_per_peak()).ok_or_else(unusable)?,
            Output::FluxLm(flux) => shape.peak_from_flux(flux).ok_or_else(unusable)?,
        };
        let full = peak * self.factor.scaled(scale);
        // Light that leaves backwards, spread over the rear half of the sphere, where that is more than the reading's share.
        let backwards =
            (full * shape.flux_per_peak()).high * self.lamp.emitter.behind_share.high / std::f64::consts::TAU;
        Beam::new(self.lamp.aim.direction(), full, shape.clone())
            .and_then(|b| b.with_known_to(readings.beam_known_to))
            .and_then(|b| b.with_behind_high_cd(backwards.max(readings.behind * full.high)))
            .map_err(|_| unusable())
    }

    fn colour(&self) -> Result<ColourSet, Missing> {
        if let Some(seen) = &self.lamp.cover.seen_as {
            return Ok(seen.clone());
        }
        let colour =
            self.lamp.emitter.colour.as_ref().ok_or_else(|| self.missing("chromaticity", "what colour it is"))?;
        if !self.keeps_colour {
            return Err(Missing {
                key: format!("lamps.{}.cover.chromaticity", self.lamp.name),
                what: "the colour seen through a tinted cover, which only a measurement tells".to_string(),
                at: self.lamp.cover.at.clone().unwrap_or_else(|| self.lamp.places.emitter.clone()),
            });
        }
        Ok(self.shifted(colour))
    }

    /// A green or blue chip run below its stated current moves 3 to 8 nm to longer waves by a tenth (from memory).
    fn shifted(&self, colour: &Known<ColourSet>) -> ColourSet {
        if !matches!(self.lamp.emitter.family, Some(Family::Green | Family::Blue)) {
            return colour.value.clone();
        }
        let mut shift = Interval::ZERO;
        if let (Some(current), Some(reference)) = (self.lamp.drive.current_ma, self.lamp.emitter.reference_ma) {
            // Above the stated current it moves the other way.
            let at = |ma: f64| Interval::new(3.0, 8.0) * Interval::exactly((reference / ma).log10());
            shift = at(current.low).hull(at(current.high));
        }
        if self.heated && colour.origin != Origin::Measured {
            // Heat moves green 0.03 to 0.04 nm per kelvin to longer waves (from memory).
            shift = shift + Interval::new(0.0, 0.04 * STEADY_HEAT_K);
        }
        match colour.value.clone() {
            ColourSet::Dominant { wavelength_nm, fwhm_nm } => {
                ColourSet::Dominant { wavelength_nm: wavelength_nm + shift, fwhm_nm }
            }
            ColourSet::Peak { wavelength_nm, fwhm_nm } => {
                ColourSet::Peak { wavelength_nm: wavelength_nm + shift, fwhm_nm }
            }
            other => other,
        }
    }

    /// The least sure of the figures the light rests on.
    fn light_origin(&self) -> Origin {
        let emitter = &self.lamp.emitter;
        let parts = [emitter.output.as_ref().map(|o| o.origin), emitter.shape.as_ref().map(|s| s.origin)];
        let cover = self.typical_cover.then_some(Origin::Typical);
        parts.into_iter().flatten().chain(cover).max().unwrap_or(Origin::Guess)
    }
}
