//! Rule sets as data: what a published document asks, paragraph by paragraph, with the standing of every figure.
//!
//! A rule-set file is read with every mistake reported at its place; names of tables, colours and readings are
//! replaced by what they stand for (from the file itself or from the shared files it `uses`), and a document's
//! candle is turned into candela. What comes out, [`RuleSet`], needs no file any more.

mod audit;
mod basis;
mod bundled;
mod candle;
mod catalogue;
mod corners;
mod dates;
mod declared;
mod figure;
mod load;
mod names;
mod set;
mod taken;
mod words;

pub use audit::audit;
pub use basis::{Craft, Holds, InForce, When};
pub use bundled::{Bundled, bundled, default_readings, shared_names, shared_text};
pub use catalogue::{CatalogueLine, catalogue};
pub use dates::Dates;
pub use declared::{RuleSetFile, SharedFile};
pub use figure::{Figure, Scalar, Standing, Unit, show, show_range, show_range_to};
pub use load::{SharedFiles, read, read_head};
pub use set::{
    Allowance, Basis, ChosenBy, Demand, DihedralAngle, Document, Each, GoalSpec, Limit, NamedColour, Paragraph,
    Reading, Region, Relief, Requirement, Row, RuleHead, RuleSet, Sources, Table,
};
pub use words::{Authority, Category, Judges, Light, LightGroup, Lit, ParagraphStatus, Phase, RuleKind, Side};
