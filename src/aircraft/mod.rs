//! The model as its builder declares it: lamps, emitters, masks, covers and light sequences.
//!
//! [`Aircraft`] can be built in code, lamp by lamp, or read from an aircraft file with [`read`]; whatever is not known
//! stays unknown, and every figure says where it comes from.

mod aim;
mod airframe;
mod bag_words;
mod colour_family;
mod cover;
mod declared;
mod emitter;
mod entry;
mod lamp;
mod load;
mod mask;
mod pattern;
mod place;
mod scale;
mod sequence;
mod typical;
mod words;

pub use aim::Aim;
pub use airframe::Airframe;
pub use bag_words::{bag_word, bag_words};
pub use colour_family::Family;
pub use cover::{Cover, CoverEffect};
pub use declared::{AircraftFile, SequenceFile};
pub use emitter::{Emitter, Known, Output};
pub use entry::Entry;
pub use lamp::{Aircraft, Channel, Controller, Drive, Lamp, LampPlaces, LitLamp, PhaseLights};
pub use load::read;
pub use mask::{Hides, MaskSpec};
pub use place::Place;
pub use scale::Scale;
pub use sequence::{Sequence, SequenceChannel, read_sequence};
pub use typical::{TypicalEmitter, find as find_typical, typical_emitters};
pub use words::{CoverKind, FileAxis, FileSize, FileUnit, Half, Origin, RequiredBy};
