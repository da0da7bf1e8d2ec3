//! A board in millimetres: wires, and the free region of every bed.
//!
//! Coordinates: x to the right, y up, origin where the sector wires' lines
//! meet; bearings clockwise from the top. A bed's region is a closed boundary
//! of arcs and straight edges, and that one representation serves areas (by
//! Green's theorem, exactly), their sensitivities (a moving edge changes the
//! area by its own length) and drawings. Rings may lie off-centre or be out of
//! round, sector wires may stand anywhere and have any width, and staples lie
//! on the ring wires.

mod areas;
mod bed;
mod curve;
mod forms;
mod outline;
mod region;
mod rim;
mod spider;
mod staple;

pub use areas::{BandArea, BedArea, EdgeRates, band_area, free_area};
pub use bed::Bed;
pub use curve::{Arc, Curve, Point, Segment, Turn};
pub(crate) use forms::Forms;
pub use outline::{Outline, OutlineError};
pub use region::{Boundary, Region, Side};
pub use spider::{RingShape, SectorShape, Spider};
pub use staple::Staple;
