//! Emitters: a typical class, overridden figure by figure by what is declared.

use super::Loader;
use crate::aircraft::colour_family::Family;
use crate::aircraft::declared::{ChromaticityDecl, EmitterDecl};
use crate::aircraft::emitter::{Emitter, Known, Output};
use crate::aircraft::typical;
use crate::aircraft::words::Origin;
use crate::colorimetry::{Chromaticity, ColourSet, Spectrum};
use crate::photometry::Shape;
use crate::source::{At, Code, Located, Named, Text};
use crate::units::{Angle, Flux, Intensity, Interval, Length, Range, Share, Temperature, Unspecified, Wavelength};
use std::collections::BTreeMap;

/// The most candela, lumens or millimetres a lamp of a model may have: far beyond any searchlight.
const MOST: f64 = 1e7;

/// From this flux or this current an emitter is of a watt or so, and heats itself when always lit.
const POWER_LM: f64 = 20.0;
const POWER_MA: f64 = 150.0;

type Ranged<Q> = Option<Located<Range<Q>>>;

impl Loader<'_> {
    pub(super) fn emitters(&mut self, declared: &Named<EmitterDecl>) -> BTreeMap<String, Option<Emitter>> {
        let unread = declared.1.iter().map(|name| (name.clone(), None));
        let read: Vec<_> =
            declared.0.iter().map(|(name, decl)| (name.value.clone(), self.emitter(name, decl))).collect();
        read.into_iter().chain(unread).collect()
    }

    /// The typical emitter of a class; `None` after saying that there is none.
    pub(super) fn typical(&mut self, class: &Located<Text>, or: &str) -> Option<Emitter> {
        match typical::find(&class.0) {
            Ok(found) => Some(found.emitter(&class.at)),
            Err(near) => {
                let instead = near.map_or_else(
                    || format!("`lampwright emitters` lists the typical ones{or}"),
                    |near| format!("did you mean `{near}`? `lampwright emitters` lists the typical ones{or}"),
                );
                self.sink.say(Code::UnknownName, &class.at, format!("no emitter is called `{}`", class.0), instead);
                None
            }
        }
    }

    fn emitter(&mut self, name: &Located<String>, declared: &EmitterDecl) -> Option<Emitter> {
        let origin = declared.from.as_ref().map_or(Origin::Guess, |f| f.value);
        let mut emitter = match &declared.class {
            Some(class) => self.typical(class, "")?,
            None => Emitter::unknown(&name.value, &name.at),
        };
        emitter.name.clone_from(&name.value);
        emitter.at = name.at.clone();
        if let Some((value, at)) = self.colour(declared, name)? {
            emitter.family = Family::of_colour(&value).or(emitter.family);
            emitter.colour = Some(Known { value, origin, at });
        }
        if let Some((value, at)) = self.output(declared)? {
            emitter.output = Some(Known { value, origin, at });
            // The class's current belongs to the class's light, not to this.
            emitter.reference_ma = None;
        }
        if let Some((value, at)) = self.shape(declared)? {
            emitter.shape = Some(Known { value, origin, at });
        }
        if let Some(file) = &declared.photometric_file {
            let own_light = declared.peak.is_none() && declared.flux.is_none();
            self.take_file(&mut emitter, file, (origin, own_light))?;
        }
        if let Some(size) = &declared.size {
            let value = self.at_least_zero(size, Length::mm, "a size")?;
            emitter.size_mm = Some(Known { value, origin, at: size.at.clone() });
        }
        if let Some(current) = &declared.stated_at {
            emitter.reference_ma = Some(current.ma());
            if current.ma() <= 0.0 {
                self.sink.say(
                    Code::OutOfRange,
                    &current.at,
                    "this current is not above 0",
                    "write the data sheet's test current, like `20 mA`",
                );
                return None;
            }
        }
        if declared.class.is_none() {
            let bright = match emitter.output.as_ref().map(|o| o.value) {
                Some(Output::FluxLm(flux)) => flux.low >= POWER_LM,
                Some(Output::PeakCd(peak)) if declared.photometric_file.is_some() => {
                    emitter.shape.as_ref().is_some_and(|s| peak.low * s.value.flux_per_peak().low >= POWER_LM)
                }
                _ => false,
            };
            emitter.runs_hot = bright || emitter.reference_ma.is_some_and(|ma| ma >= POWER_MA);
            emitter.per_kelvin = emitter.family.map_or(Interval::new(-0.01, 0.0), Family::per_kelvin);
        }
        Some(emitter)
    }

    /// The beam of a photometric file, and its own light where the emitter declares no other.
    fn take_file(
        &mut self,
        emitter: &mut Emitter,
        file: &Located<Text>,
        (origin, own_light): (Origin, bool),
    ) -> Option<()> {
        let (shape, peak_cd) = self.photometric(file)?;
        emitter.shape = Some(Known { value: shape, origin, at: file.at.clone() });
        // A class's light is that of another beam.
        if own_light {
            emitter.output = Some(Known { value: Output::PeakCd(peak_cd), origin, at: file.at.clone() });
            emitter.reference_ma = None;
        }
        Some(())
    }

    fn at_least_zero<Q: Copy>(&mut self, range: &Located<Range<Q>>, get: fn(Q) -> f64, what: &str) -> Option<Interval> {
        let interval = range.interval(get);
        if interval.high > MOST {
            self.sink.say(Code::OutOfRange, &range.at, format!("{what} this large is no lamp's"), "check the unit");
            return None;
        }
        if interval.low < 0.0 {
            self.sink.say(
                Code::OutOfRange,
                &range.at,
                format!("{what} cannot be below 0"),
                "write it without a minus sign",
            );
            return None;
        }
        Some(interval)
    }

    /// Says that two keys contradict each other.
    fn only_one(&mut self, given: &[(&str, Option<&At>)], what: &str) -> Option<()> {
        let there: Vec<(&str, &At)> = given.iter().filter_map(|(key, at)| at.map(|at| (*key, at))).collect();
        if let [(first, _), (second, at), ..] = there.as_slice() {
            let message = format!("both `{first}` and `{second}` say {what}");
            self.sink.say(Code::Contradiction, at, message, "keep the one you trust");
            return None;
        }
        Some(())
    }

    fn output(&mut self, declared: &EmitterDecl) -> Option<Option<(Output, At)>> {
        let (peak, flux): (&Ranged<Intensity>, &Ranged<Flux>) = (&declared.peak, &declared.flux);
        self.only_one(
            &[("peak", peak.as_ref().map(|p| &p.at)), ("flux", flux.as_ref().map(|f| &f.at))],
            "how much light it gives",
        )?;
        Some(match (peak, flux) {
            (Some(peak), _) => {
                Some((Output::PeakCd(self.at_least_zero(peak, Intensity::cd, "an intensity")?), peak.at.clone()))
            }
            (_, Some(flux)) => Some((Output::FluxLm(self.at_least_zero(flux, Flux::lm, "a flux")?), flux.at.clone())),
            _ => None,
        })
    }

    fn shape(&mut self, declared: &EmitterDecl) -> Option<Option<(Shape, At)>> {
        let table_at = declared.table.0.first().map(|(name, _)| &name.at);
        let (viewing, half) = (&declared.viewing_angle, &declared.half_angle);
        self.only_one(
            &[
                ("viewing_angle", viewing.as_ref().map(|a| &a.at)),
                ("half_angle", half.as_ref().map(|a| &a.at)),
                ("table", table_at),
                ("photometric_file", declared.photometric_file.as_ref().map(|f| &f.at)),
            ],
            "how wide the beam is",
        )?;
        match (viewing, half, table_at) {
            (Some(full), ..) => {
                let angle =
                    self.angle(full, 175.0, "a viewing angle is the full angle, over 0 and up to 175 deg")?.scaled(0.5);
                Some(Some((Shape::CosinePower { half_angle_deg: angle }, full.at.clone())))
            }
            (_, Some(half), _) => {
                // A "half angle" over 75 deg is nearly always the full one under the wrong name.
                let angle = self.angle(
                    half,
                    75.0,
                    "a half angle over 75 deg is most likely the full one: write it as `viewing_angle`",
                )?;
                Some(Some((Shape::CosinePower { half_angle_deg: angle }, half.at.clone())))
            }
            (_, _, Some(at)) => {
                let at = at.clone();
                self.table(&declared.table, &at).map(|shape| Some((shape, at)))
            }
            _ => Some(None),
        }
    }

    fn angle(&mut self, range: &Located<Range<Angle>>, most: f64, instead: &str) -> Option<Interval> {
        let degrees = range.interval(Angle::deg);
        if degrees.low <= 0.0 || degrees.high > most + 1e-9 {
            self.sink.say(Code::OutOfRange, &range.at, format!("`{}` cannot be this angle", range.value), instead);
            return None;
        }
        Some(degrees)
    }

    fn table(&mut self, rows: &Named<Located<Share>>, at: &At) -> Option<Shape> {
        if !rows.1.is_empty() {
            return None;
        }
        let mut angles = Vec::new();
        for (name, _) in &rows.0 {
            match name.value.parse::<Angle>() {
                Ok(angle) => angles.push((angle.deg() * 1e9).round() / 1e9),
                Err(error) => self.sink.say(Code::WrongValue, &name.at, error.what, error.instead),
            }
        }
        let shares: Vec<f64> = rows.0.iter().map(|(_, share)| share.one()).collect();
        if angles.len() != shares.len() {
            return None;
        }
        let falls = angles.windows(2).position(|pair| matches!(pair, [a, b] if b <= a)).map(|n| n + 1);
        match Shape::table(angles, shares) {
            Ok(shape) => Some(shape),
            Err(error) => {
                let at = falls.and_then(|n| rows.0.get(n)).map_or(at, |(name, _)| &name.at);
                self.sink.say(Code::OutOfRange, at, error.what, error.instead);
                None
            }
        }
    }

    fn colour(&mut self, declared: &EmitterDecl, name: &Located<String>) -> Option<Option<(ColourSet, At)>> {
        let at = |l: &Ranged<Wavelength>| l.as_ref().map(|l| l.at.clone());
        let xy_at = declared.chromaticity.as_ref().map(|c| c.x.at.clone());
        let temperature_at = declared.colour_temperature.as_ref().map(|t| t.at.clone());
        let spectrum_at = declared.spectrum.as_ref().map(|s| s.at.clone());
        let (dominant_at, peak_at) = (at(&declared.dominant_wavelength), at(&declared.peak_wavelength));
        self.only_one(
            &[
                ("chromaticity", xy_at.as_ref()),
                ("dominant_wavelength", dominant_at.as_ref()),
                ("peak_wavelength", peak_at.as_ref()),
                ("colour_temperature", temperature_at.as_ref()),
                ("spectrum", spectrum_at.as_ref()),
            ],
            "what colour it is",
        )?;
        if declared.spectral_width.is_some() && dominant_at.is_none() && peak_at.is_none() {
            self.sink.say(
                Code::MissingKey,
                &name.at,
                "a spectral width without a wavelength says nothing",
                "add `dominant_wavelength`",
            );
            return None;
        }
        if let Some(duv) = declared.duv.as_ref().filter(|_| temperature_at.is_none()) {
            self.sink.say(
                Code::MissingKey,
                &duv.at,
                "a duv without a colour temperature says nothing",
                "add `colour_temperature`",
            );
            return None;
        }
        Some(match (&declared.chromaticity, &declared.spectrum, &declared.colour_temperature) {
            (Some(xy), ..) => Some((ColourSet::Point(self.chromaticity(xy)?), xy.x.at.clone())),
            (_, Some(file), _) => Some((ColourSet::Point(self.spectrum(file)?), file.at.clone())),
            (.., Some(kelvin)) => Some((self.white(kelvin, &declared.duv)?, kelvin.at.clone())),
            _ => self.wavelength(declared)?,
        })
    }

    pub(super) fn chromaticity(&mut self, declared: &ChromaticityDecl) -> Option<Chromaticity> {
        let (x, y) = (declared.x.0, declared.y.0);
        if x < 0.0 || y <= 0.0 || x + y > 1.0 {
            let message = format!("({x}, {y}) is no colour: x and y are above 0 and together at most 1");
            self.sink.say(
                Code::OutOfRange,
                &declared.x.at,
                message,
                "write CIE 1931 x and y, like `{x: 0.700, y: 0.299}`",
            );
            return None;
        }
        Some(Chromaticity { x, y })
    }

    fn wavelength(&mut self, declared: &EmitterDecl) -> Option<Option<(ColourSet, At)>> {
        let (range, dominant) = match (&declared.dominant_wavelength, &declared.peak_wavelength) {
            (Some(range), _) => (range, true),
            (_, Some(range)) => (range, false),
            _ => return Some(None),
        };
        let wavelength_nm = range.interval(Wavelength::nm);
        if wavelength_nm.low < 400.0 || wavelength_nm.high > 700.0 {
            self.sink.say(
                Code::OutOfRange,
                &range.at,
                format!("`{}` is not visible light an LED gives", range.value),
                "write a wavelength from 400 nm to 700 nm",
            );
            return None;
        }
        let fwhm_nm = match &declared.spectral_width {
            None => usual_width(wavelength_nm.middle()),
            Some(width) => {
                let width_nm = width.interval(Wavelength::nm);
                if width_nm.low < 1.0 || width_nm.high > 100.0 {
                    self.sink.say(
                        Code::OutOfRange,
                        &width.at,
                        "a spectral width lies from 1 nm to 100 nm",
                        "write it like `30 nm`",
                    );
                    return None;
                }
                width_nm
            }
        };
        let set = if dominant {
            ColourSet::Dominant { wavelength_nm, fwhm_nm }
        } else {
            ColourSet::Peak { wavelength_nm, fwhm_nm }
        };
        Some(Some((set, range.at.clone())))
    }

    fn white(&mut self, kelvin: &Located<Range<Temperature>>, duv: &Ranged<Unspecified>) -> Option<ColourSet> {
        let range = kelvin.interval(Temperature::k);
        if range.low < 1000.0 || range.high > 50_000.0 {
            self.sink.say(
                Code::OutOfRange,
                &kelvin.at,
                format!("`{}` is no colour temperature of a white light", kelvin.value),
                "write it from 1000 K to 50000 K",
            );
            return None;
        }
        let Some(duv) = duv else { return Some(ColourSet::declared_temperature(range)) };
        let duv_range = duv.interval(|d| d.0);
        if duv_range.low < -0.05 || duv_range.high > 0.05 {
            self.sink.say(Code::OutOfRange, &duv.at, "a duv this large is no white", "write it from -0.05 to 0.05");
            return None;
        }
        Some(ColourSet::White { kelvin: range, duv: duv_range })
    }

    fn spectrum(&mut self, named: &Located<Text>) -> Option<Chromaticity> {
        let (file, text) = self.named_file(named)?;
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .comment(Some(b'#'))
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let mut points = Vec::new();
        for (n, record) in reader.records().enumerate() {
            let pair = record.ok().and_then(|r| Some((r.get(0)?.parse().ok()?, r.get(1)?.parse().ok()?)));
            match pair {
                Some(pair) => points.push(pair),
                // The first line may be a heading.
                None if n == 0 => {}
                None => {
                    let message = format!("line {} of `{file}` is not two numbers", n + 1);
                    self.sink.say(
                        Code::OtherFile,
                        &named.at,
                        message,
                        "write lines like `525, 0.93`: wavelength in nm, power",
                    );
                    return None;
                }
            }
        }
        match Spectrum::new(points) {
            Ok(spectrum) => Some(spectrum.chromaticity()),
            Err(why) => {
                self.sink.say(
                    Code::OtherFile,
                    &named.at,
                    format!("`{file}` is not a spectrum: {why}"),
                    "write lines like `525, 0.93`, rising in wavelength",
                );
                None
            }
        }
    }
}

/// The usual spectral width of an LED by its wavelength, in nm (trade figures, from memory).
fn usual_width(nm: f64) -> Interval {
    match nm {
        n if n < 490.0 => Interval::new(18.0, 30.0),
        n if n < 560.0 => Interval::new(28.0, 42.0),
        n if n < 600.0 => Interval::new(12.0, 35.0),
        _ => Interval::new(14.0, 25.0),
    }
}
