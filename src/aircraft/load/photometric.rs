//! Photometric files named by emitters, and how lamps turn them.

use super::Loader;
use crate::aircraft::emitter::Emitter;
use crate::photometry::Shape;
use crate::source::formats::photometric_file;
use crate::source::{Code, Located, MAX_BYTES, Rejected, Text};
use crate::units::{Angle, Interval};

/// A beam, and its own highest intensity in cd.
pub(super) type Beam = (Shape, Interval);

impl Loader<'_> {
    /// The beam of a photometric file, read once however many emitters name it; `None` after saying what is wrong.
    pub(super) fn photometric(&mut self, named: &Located<Text>) -> Option<Beam> {
        if let Some(read) = self.photometric.get(&named.0) {
            return read.clone();
        }
        let read = self.photometric_unread(named);
        self.photometric.insert(named.0.clone(), read.clone());
        read
    }

    fn photometric_unread(&mut self, named: &Located<Text>) -> Option<Beam> {
        let (file, bytes) = self.named_by(named, |files, path| files.read(path, MAX_BYTES))?;
        let Some(read) = photometric_file(&file, &bytes) else {
            let message = format!("`{}` is not named as a photometric file", named.0);
            self.sink.say(Code::OtherFile, &named.at, message, "name an LM-63 file `.ies` and an EULUMDAT file `.ldt`");
            return None;
        };
        let photometry = read.map_err(|rejected| self.take_over(rejected)).ok()?;
        match Shape::grid(&photometry) {
            Ok(shape) => Some((shape, photometry.peak_cd())),
            Err(error) => {
                self.sink.say(Code::OtherFile, &named.at, error.what, error.instead);
                None
            }
        }
    }

    /// Tells what is wrong in another file as if it stood in this one.
    fn take_over(&mut self, rejected: Rejected) {
        self.sink.sources.take(rejected.sources().clone());
        rejected.diagnostics.into_iter().for_each(|d| self.sink.push(d));
    }

    /// The emitter with its photometric file turned as a lamp says.
    pub(super) fn rolled(&mut self, emitter: Emitter, roll: &Option<Located<Angle>>) -> Option<Emitter> {
        let Some(roll) = roll else { return Some(emitter) };
        let Some(shape) = emitter.shape.as_ref().filter(|s| matches!(s.value, Shape::Grid { .. })) else {
            let message = "only a beam from a photometric file looks different when it is turned about its aim";
            let instead = "take `roll` out, or give the emitter a `photometric_file`";
            self.sink.say(Code::Contradiction, &roll.at, message, instead);
            return None;
        };
        match shape.value.clone().with_roll_deg(roll.deg()) {
            Ok(value) if roll.deg().abs() <= 360.0 => {
                let shape = crate::aircraft::emitter::Known { value, ..shape.clone() };
                Some(Emitter { shape: Some(shape), ..emitter })
            }
            _ => {
                let message = format!("`{}` is more than a whole turn about the aim", roll.value);
                let instead = "write it from -360 deg to 360 deg, clockwise as seen from behind the lamp";
                self.sink.say(Code::OutOfRange, &roll.at, message, instead);
                None
            }
        }
    }
}
