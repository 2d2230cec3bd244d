//! The airframe's mesh: read, turned into the model's axes and millimetres, and held against what is declared of the model.

use super::Loader;
use crate::aircraft::airframe::{Airframe, HOUSING_MM};
use crate::aircraft::declared::{AircraftFile, AirframeDecl, LampDecl};
use crate::aircraft::words::{FileAxis, FileSize, FileUnit, Half};
use crate::geometry::{Mesh, Point};
use crate::source::formats::{Corners, soup};
use crate::source::{Code, Diagnostic, Located, inside_folder};

/// The most bytes of a mesh.
const MOST_BYTES: u64 = 256 * 1024 * 1024;
/// No model reaches farther from its datum, in mm.
const MOST_MM: f64 = 1e5;
/// Own readings, as all figures here: a mesh may differ from the declared span or length by this share: tips of lamps, a probe, paint.
const ALIKE: f64 = 0.10;
/// A lamp may stand this far outside the box of its airframe, in mm and as a share of the box.
const OUTSIDE_MM: f64 = 10.0;
const OUTSIDE: f64 = 0.05;

impl Loader<'_> {
    /// The airframe; `None` after saying what is wrong with it.
    pub(super) fn airframe(&mut self, declared: &AircraftFile) -> Option<Option<Airframe>> {
        let Some(decl) = &declared.airframe else { return Some(None) };
        let axes = self.axes(decl)?;
        let corners = self.mesh_file(decl)?;
        let scale = match decl.size.as_ref().map(|s| s.value) {
            Some(FileSize::FullSize) => 1.0 / declared.model.scale.value.n(),
            _ => 1.0,
        };
        let origin = decl.origin.as_ref().map(|o| o.value).unwrap_or_default();
        let origin = [origin.forward_mm, origin.right_mm, origin.up_mm].map(|mm| mm.unwrap_or(0.0));
        let placed = Placed { axes, factor: decl.unit.value.mm() * scale, origin };
        let own = corners.iter().map(|c| c.map(|p| placed.point(p)));
        let half = decl.half.as_ref().map(|h| h.value);
        let mirrored = corners.iter().filter(|_| half.is_some()).map(|c| c.map(|p| mirror(placed.point(p))));
        let mesh = Mesh::new(own.chain(mirrored));
        self.is_that_half(decl, &corners, &placed)?;
        self.is_sound(decl, &mesh)?;
        self.is_alike(decl, declared, &mesh)?;
        let housing_mm = self.housing(decl)?;
        let airframe = Airframe::new(mesh, housing_mm, decl.mesh.at.clone());
        let place = |lamp: &LampDecl| {
            let place = lamp.place.as_ref()?.value;
            Some([place.forward_mm?, place.right_mm?, place.up_mm?])
        };
        let places: Vec<Point> = declared.lamps.0.iter().filter_map(|(_, lamp)| place(lamp)).collect();
        airframe.look_from(&places);
        let mut placed_well = true;
        for (name, lamp) in &declared.lamps.0 {
            placed_well &= self.stands_on(&airframe, name, lamp).is_some();
        }
        placed_well.then_some(Some(airframe))
    }

    fn housing(&mut self, decl: &AirframeDecl) -> Option<f64> {
        let Some(housing) = &decl.housing else { return Some(HOUSING_MM) };
        if !(0.0..=1000.0).contains(&housing.mm()) {
            let instead = "write how far from a lamp its own socket reaches";
            self.sink.say(Code::OutOfRange, &housing.at, "a housing is 0 to 1000 mm", instead);
            return None;
        }
        Some(housing.mm())
    }

    /// Forward, right and up as the file's own axes.
    fn axes(&mut self, decl: &AirframeDecl) -> Option<[Point; 3]> {
        let (nose, up) = (decl.nose.value.vector(), decl.up.value.vector());
        let across = nose.iter().zip(up).map(|(a, b)| a * b).sum::<f64>();
        if across != 0.0 {
            let message =
                format!("the nose points along {} and up is {}", decl.nose.value.as_str(), decl.up.value.as_str());
            let told = Diagnostic::new(
                Code::Contradiction,
                &decl.up.at,
                message,
                "name two axes that stand upright on each other",
            );
            self.sink.push(told.related(&decl.nose.at, "the nose"));
            return None;
        }
        // Right of forward, seen from above, where the file's axes turn as usual: x, y, z like thumb, fingers of the right hand.
        let right =
            [nose[1] * up[2] - nose[2] * up[1], nose[2] * up[0] - nose[0] * up[2], nose[0] * up[1] - nose[1] * up[0]];
        Some([nose, right, up])
    }

    fn mesh_file(&mut self, decl: &AirframeDecl) -> Option<Vec<Corners>> {
        let named = &decl.mesh;
        let read = inside_folder(self.path, &named.0).and_then(|path| {
            let bytes = self.files.read(&path, MOST_BYTES)?;
            Ok((path.display().to_string(), bytes))
        });
        let read = read.map_err(|e| e.to_string());
        match read.and_then(|(name, bytes)| soup(&name, bytes).map_err(|why| format!("{name}: {why}"))) {
            Ok(corners) => Some(corners),
            Err(why) => {
                let instead = "name an STL or OBJ file beside this one or in a folder below";
                self.sink.say(Code::OtherFile, &named.at, why, instead);
                None
            }
        }
    }

    /// Says where a mesh is the other half than is written.
    fn is_that_half(&mut self, decl: &AirframeDecl, corners: &[Corners], placed: &Placed) -> Option<()> {
        let Some(half) = &decl.half else { return Some(()) };
        let rights = corners.iter().flatten().map(|p| placed.point(*p)[1]);
        let (left, right) = rights.fold((0.0_f64, 0.0_f64), |(l, r), y| (l.min(y), r.max(y)));
        let (drawn, other) = match half.value {
            Half::Left => (-left, right),
            Half::Right => (right, -left),
        };
        if other > drawn {
            let message = format!("this is not the {} half: more of it lies on the other side", half.value.as_str());
            self.sink.say(Code::Contradiction, &half.at, message, "write the other half, or check `nose` and `up`");
            return None;
        }
        Some(())
    }

    /// Says where nothing of the mesh is left, or it is larger than any model.
    fn is_sound(&mut self, decl: &AirframeDecl, mesh: &Mesh) -> Option<()> {
        let told = match mesh.bounds() {
            None => Some(("its triangles have no area".to_string(), "name a mesh with a surface")),
            Some((low, high)) => {
                let most = low.iter().chain(&high).fold(0.0_f64, |m, x| m.max(x.abs()));
                let message = format!("it reaches {} m from the datum of the model", crate::units::short(most * 1e-3));
                (most > MOST_MM).then_some((message, "check `unit`, `size` and `origin`"))
            }
        };
        match told {
            Some((message, instead)) => {
                self.sink.say(Code::OutOfRange, &decl.mesh.at, message, instead);
                None
            }
            None => Some(()),
        }
    }

    /// Says where the mesh is not as large as the model is declared, and what would make it so.
    fn is_alike(&mut self, decl: &AirframeDecl, declared: &AircraftFile, mesh: &Mesh) -> Option<()> {
        let (low, high) = mesh.bounds()?;
        let model = &declared.model;
        let span = 2.0 * low[1].abs().max(high[1].abs());
        let mut alike = Some(());
        for (declared, found, what) in [(&model.span, span, "wide"), (&model.length, high[0] - low[0], "long")] {
            let Some(length) = declared else { continue };
            let ratio = length.mm() / found.max(f64::MIN_POSITIVE);
            if (ratio - 1.0).abs() > ALIKE {
                let message = format!(
                    "the mesh is {} mm {what} on the model, declared are {} mm",
                    crate::units::short(found),
                    crate::units::short(length.mm())
                );
                let told = Diagnostic::new(
                    Code::Contradiction,
                    &decl.unit.at,
                    message,
                    mended(ratio, model.scale.value.n(), decl),
                );
                self.sink.push(told.related(&length.at, "what is declared"));
                alike = None;
            }
        }
        alike
    }

    /// Says where a lamp has no place on the airframe.
    fn stands_on(&mut self, airframe: &Airframe, name: &Located<String>, lamp: &LampDecl) -> Option<()> {
        let place = lamp.place.as_ref().map(|p| p.value).unwrap_or_default();
        let (Some(forward), Some(right), Some(up)) = (place.forward_mm, place.right_mm, place.up_mm) else {
            let at = lamp.place.as_ref().map_or(&name.at, |p| &p.at);
            let message = format!("with an airframe, `{}` needs its place on all three axes", name.value);
            self.sink.say(Code::MissingKey, at, message, "write `place: left 680 mm, forward 40 mm, up 25 mm`");
            return None;
        };
        let (low, high) = airframe.mesh().bounds()?;
        let place = [forward, right, up];
        let is_outside = |n: usize| {
            let beyond = (low[n] - place[n]).max(place[n] - high[n]);
            beyond > OUTSIDE_MM.max(OUTSIDE * (high[n] - low[n]))
        };
        let (code, message, instead) = if (0..3).any(is_outside) {
            let message = format!("`{}` stands outside its airframe, which reaches {}", name.value, reach(low, high));
            (Code::Contradiction, message, "check the place, and `nose`, `up` and `origin` of the airframe")
        } else if airframe.seen_from(place).is_none() {
            let message =
                format!("seen from `{}` the mesh has more edges across each other than are looked at", name.value);
            (Code::OutOfRange, message, "take out what lies within the airframe, or make a smaller `housing`")
        } else {
            return Some(());
        };
        let at = lamp.place.as_ref().map_or(&name.at, |p| &p.at);
        self.sink.push(Diagnostic::new(code, at, message, instead).related(&airframe.at, "the airframe"));
        None
    }
}

/// How points of the file lie on the model.
struct Placed {
    axes: [Point; 3],
    factor: f64,
    origin: Point,
}

impl Placed {
    fn point(&self, p: [f32; 3]) -> Point {
        let along = |axis: Point| axis.iter().zip(p).map(|(a, x)| a * f64::from(x)).sum::<f64>() * self.factor;
        let [forward, right, up] = self.axes.map(along);
        [forward + self.origin[0], right + self.origin[1], up + self.origin[2]]
    }
}

/// The other half: left for right.
fn mirror([forward, right, up]: Point) -> Point {
    [forward, -right, up]
}

/// What to write where the mesh is off by a ratio.
fn mended(ratio: f64, n: f64, decl: &AirframeDecl) -> String {
    let near = |wanted: f64| (ratio / wanted - 1.0).abs() < ALIKE;
    let now = decl.unit.value.mm();
    let is_full = decl.size.as_ref().is_some_and(|s| s.value == FileSize::FullSize);
    let unit = FileUnit::ALL.iter().find(|unit| near(unit.mm() / now));
    match unit {
        Some(unit) => format!("write `unit: {}`", unit.as_str()),
        None if near(1.0 / n) && !is_full => "write `size: full size`".to_string(),
        None if near(n) && is_full => "write `size: model`, or leave `size` out".to_string(),
        None => "check `unit` and `size`, which way `nose` and `up` are, and whether it is one `half`".to_string(),
    }
}

fn reach(low: Point, high: Point) -> String {
    let axis = |n: usize| format!("{} to {}", crate::units::short(low[n]), crate::units::short(high[n]));
    format!("forward {} mm, right {} mm, up {} mm", axis(0), axis(1), axis(2))
}

impl FileUnit {
    const ALL: [Self; 5] = [Self::Millimetre, Self::Centimetre, Self::Metre, Self::Inch, Self::Foot];

    /// How long it is, in mm.
    fn mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Metre => 1000.0,
            Self::Inch => 25.4,
            Self::Foot => 304.8,
        }
    }
}

impl FileAxis {
    fn vector(self) -> Point {
        match self {
            Self::PlusX => [1.0, 0.0, 0.0],
            Self::MinusX => [-1.0, 0.0, 0.0],
            Self::PlusY => [0.0, 1.0, 0.0],
            Self::MinusY => [0.0, -1.0, 0.0],
            Self::PlusZ => [0.0, 0.0, 1.0],
            Self::MinusZ => [0.0, 0.0, -1.0],
        }
    }
}
