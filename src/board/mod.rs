//! What a board file says: the recorded lengths, the edges they were taken to,
//! and what follows from them.
//!
//! [`BoardFile`] is the raw shape of the file, [`Board::read`] turns it into a
//! [`Board`], and a board's [`Construction`] expresses every wire's apex and
//! width as a [linear form](Linear) in the lengths that were measured, so that
//! values and uncertainties of anything derived follow from one definition.

mod builder;
mod construction;
mod file;
mod lengths;
mod linear;
mod metal;
mod order;
mod parts;
mod read;
mod read_construction;
pub(crate) mod usual;

pub use builder::{BoardBuilder, BuildError, BuildFault};
pub use construction::{Basis, Construction, DirectWidth, Input, Quantity, RingPlace};
pub(crate) use file::number_or_text;
pub use file::{
    BoardFile, BoardFormat, Identity, InspectionFile, InstrumentFile, LengthEntry, LengthText,
    OverallEntry, RadiusEntry, ReadingsEntry, RingsFile, StatedUncertainty, StatedWire,
    UncertaintyEntry, WidthEntry, WidthsFile, WireEntry, WireText, WiresFile,
};
pub(crate) use lengths::Lengths;
pub use linear::{Contribution, InputId, Linear};
pub use metal::{BounceShare, BounceShareError, Metal, MetalError};
pub use parts::{Band, Edge, Mounting, PerBand, PerRing, Profile, RingWire, SECTOR_ORDER};
pub use read::{Board, Inspection, shape};
pub(crate) use read_construction::{ConstructionFile, read_construction};
