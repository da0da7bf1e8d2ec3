//! What a board file says: the recorded lengths, the edges they were taken to,
//! and what follows from them.
//!
//! [`BoardFile`] is the raw shape of the file, [`Board::read`] turns it into a
//! [`Board`], and a board's [`Construction`] expresses every wire's crest and
//! width as a [linear form](Linear) in the lengths that were measured, so that
//! values and uncertainties of anything derived follow from one definition.

mod construction;
mod file;
mod linear;
mod parts;
mod read;

pub use construction::{Construction, DirectWidth, Input, Quantity, RingPlace};
pub use file::{
    BoardFile, BoardFormat, Identity, LengthText, OverallEntry, RadiusEntry, RingsFile,
    UncertaintyEntry, WidthEntry, WidthsFile, WireEntry, WireText, WiresFile,
};
pub use linear::{InputId, Linear};
pub use parts::{Band, Edge, Mounting, PerBand, PerRing, Profile, RingWire, SECTOR_ORDER};
pub use read::{Board, shape};
pub(crate) use read::{ConstructionFile, Lengths, read_construction};
