//! Why a figure is not known exactly, and what would make it known.

use crate::source::At;
use std::fmt;

/// A figure that is not there at all.
#[derive(Debug, Clone, PartialEq)]
pub struct Missing {
    /// The key to add, as a path: `lamps.tail.place`.
    pub key: String,
    /// What it would tell.
    pub what: String,
    /// The place in the file nearest to where it belongs.
    pub at: At,
}

/// Why a figure is a range.
#[derive(Debug, Clone, PartialEq)]
pub enum Cause {
    /// The emitter's figures are those of its class.
    Typical {
        /// The lamp.
        lamp: String,
        /// The class.
        class: String,
    },
    /// The figure was declared as a range.
    Declared {
        /// The lamp.
        lamp: String,
    },
    /// The beam is not stated this far off its axis.
    BeyondBeam {
        /// The lamp.
        lamp: String,
        /// How far it is known, in degrees.
        known_to_deg: f64,
    },
    /// The direction lies in the penumbra of a mask's edge.
    Penumbra {
        /// The lamp.
        lamp: String,
        /// Half the penumbra's width, in degrees.
        half_width_deg: f64,
    },
    /// The direction lies in the half-shadow of an edge of the airframe.
    AirframeEdge {
        /// The lamp.
        lamp: String,
    },
    /// How far the mask's edge is from the emitter is not known.
    MaskEdge {
        /// The lamp.
        lamp: String,
    },
    /// The emitter is run, covered or heated in a way whose effect is only known as a range.
    Installation {
        /// The lamp.
        lamp: String,
    },
    /// The colour is known only as a range.
    Colour {
        /// The lamp.
        lamp: String,
        /// The class it is typical of, where it is.
        class: Option<String>,
    },
    /// The reckoning itself, at its resolution.
    Resolution,
}

impl Cause {
    /// Whether knowing the emitter better would not help, because something else hides the figure.
    #[must_use]
    pub fn outweighs(&self, other: &Self) -> bool {
        let lamp = |cause: &Self| match cause {
            Self::Typical { lamp, .. } | Self::Declared { lamp } | Self::Installation { lamp } => Some(lamp.clone()),
            _ => None,
        };
        match self {
            Self::BeyondBeam { lamp: own, .. }
            | Self::Penumbra { lamp: own, .. }
            | Self::AirframeEdge { lamp: own }
            | Self::MaskEdge { lamp: own } => lamp(other).as_ref() == Some(own),
            _ => false,
        }
    }

    /// The figure that would narrow it, as a path of keys and what to write.
    #[must_use]
    pub fn remedy(&self) -> Option<(String, String)> {
        let emitter = |what: &str| what.to_string();
        match self {
            Self::Typical { lamp, .. } | Self::Declared { lamp } => Some((
                format!("lamps.{lamp}.emitter"),
                emitter("give the part's own figure: `peak` or `flux`, and `viewing_angle`, under `emitters:`"),
            )),
            Self::BeyondBeam { lamp, known_to_deg } => Some((
                format!("lamps.{lamp}.emitter"),
                format!(
                    "its beam is stated only to {known_to_deg:.0} deg off its axis: give a `table` or `photometric_file` that reaches there, take a wider one, or aim a second lamp there"
                ),
            )),
            Self::Penumbra { lamp, half_width_deg } => Some((
                format!("lamps.{lamp}.mask.edge"),
                format!(
                    "the mask's edge is soft over {:.0} deg: move it farther from the emitter, or take a smaller one",
                    2.0 * half_width_deg
                ),
            )),
            Self::AirframeEdge { lamp } => Some((
                format!("lamps.{lamp}.place"),
                "an edge of the airframe is near: move the lamp away from it, or give the emitter's `size`".to_string(),
            )),
            Self::MaskEdge { lamp } => {
                Some((format!("lamps.{lamp}.mask.edge"), "say how far the mask's edge is from the emitter".to_string()))
            }
            Self::Installation { lamp } => {
                Some((format!("lamps.{lamp}"), "give a measured intensity of the lamp as installed".to_string()))
            }
            Self::Colour { lamp, .. } => Some((
                format!("lamps.{lamp}.emitter"),
                "give the part's own colour under `emitters:`: its `dominant_wavelength` bin, for a white `colour_temperature` and `duv`, or a measured `chromaticity`".to_string(),
            )),
            Self::Resolution => None,
        }
    }
}

impl fmt::Display for Cause {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Typical { lamp, class } => write!(f, "{lamp}: figures typical of {class}"),
            Self::Declared { lamp } => write!(f, "{lamp}: declared as a range"),
            Self::BeyondBeam { lamp, known_to_deg } => {
                write!(f, "{lamp}: beam not stated beyond {known_to_deg:.0} deg off its axis")
            }
            Self::Penumbra { lamp, half_width_deg } => {
                write!(f, "{lamp}: in the mask's penumbra, {:.0} deg wide", 2.0 * half_width_deg)
            }
            Self::AirframeEdge { lamp } => write!(f, "{lamp}: in the half-shadow of an edge of the airframe"),
            Self::MaskEdge { lamp } => write!(f, "{lamp}: distance of the mask's edge not given"),
            Self::Installation { lamp } => write!(f, "{lamp}: current, cover or heat known only as a range"),
            Self::Colour { lamp, class: Some(class) } => write!(f, "{lamp}: colour typical of {class}"),
            Self::Colour { lamp, class: None } => write!(f, "{lamp}: colour declared as a range"),
            Self::Resolution => write!(f, "resolution of the reckoning"),
        }
    }
}
