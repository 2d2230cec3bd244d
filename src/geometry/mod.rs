//! Directions, regions and solid angles on the sphere about one lamp.
//!
//! Axes: azimuth 0 is dead ahead and positive to the right, elevation is positive up; a direction is
//! the unit vector (forward, right, up) = (cos el cos az, cos el sin az, sin el).

mod area;
mod cell;
mod clearing;
mod coverage;
mod cut;
mod direction;
mod ends;
mod estimate;
mod mesh;
mod outline;
mod refine;
mod seams;
mod search;
mod silhouette;
mod sphere;
mod zone;

pub use area::{Bounds, State, area_where};
pub use cell::Cell;
pub use coverage::{Coverage, Penumbra};
pub use cut::Side;
pub use direction::{Direction, line_to_plane_deg};
pub use ends::Ends;
pub use estimate::area_below;
pub use mesh::{Mesh, MeshState, Point};
pub use outline::outline_of;
pub use search::{Extreme, Extremum, IntervalExtreme};
pub use sphere::{
    AzimuthSpan, Patch, band_solid_angle_sr, cap_half_angle_deg, cap_solid_angle_sr, wedge_solid_angle_sr,
};
pub use zone::Zone;

/// Two edges closer than this are one edge: far above rounding in degrees, far below any drawing.
pub(crate) const EDGE_DEG: f64 = 1e-9;

/// How far beside an edge a value is taken where the edge itself does not count.
pub(crate) const BESIDE_DEG: f64 = 1e-7;
