//! What a board file says: the recorded lengths, the edges they were taken to,
//! and what follows from them.
//!
//! [`BoardFile`] is the raw shape of the file, [`Board::read`] turns it into a
//! [`Board`], and a board's [`Construction`] expresses every wire's apex and
//! width as a [linear form](Linear) in the lengths that were measured, so that
//! values and uncertainties of anything derived follow from one definition.

mod adjustment;
mod apart;
mod areas_file;
mod bearing;
mod builder;
mod construction;
mod entries;
mod error_part;
mod evaluate;
mod evaluated;
mod everywhere;
mod file;
mod fill;
pub(crate) mod forms;
mod inputs;
mod instrument_file;
mod joined;
mod length_text;
mod lengths;
mod linear;
mod metal;
mod order;
mod parts;
mod read;
mod read_areas;
mod read_construction;
mod read_instruments;
mod read_shape;
mod read_taken;
mod read_temperature;
mod readings_file;
mod shape;
mod shape_file;
mod snippets;
mod spread;
mod taken;
mod taken_rows;
mod temperature;
mod temperature_file;
pub(crate) mod usual;
mod validity;

pub use adjustment::{Adjustment, Condition, Residual};
pub use apart::ReadingApart;
pub use areas_file::{AreasFile, BedAreaEntry};
pub(crate) use bearing::read_bearing;
pub use bearing::{Bearing, BearingText};
pub use builder::{BoardBuilder, BuildError, BuildFault};
pub(crate) use construction::between;
pub use construction::{Basis, Construction, DirectWidth, Input, Quantity, RingPlace, TURN_RADIUS};
pub use entries::{LengthEntry, StatedUncertainty, StatedWire, UncertaintyEntry, WireEntry};
pub(crate) use error_part::Assumption;
pub use error_part::{Cause, CommonError, Distribution, ErrorPart, GaugeGround, Sharing};
pub use file::{
    BoardFile, BoardFormat, Identity, InspectionFile, OverallEntry, RadiusEntry, RingsFile,
    WidthEntry, WidthsFile, WiresFile,
};
pub use fill::FilledLength;
pub use instrument_file::{CorrectionFile, InstrumentFile};
pub(crate) use joined::{Joined, shares_instruments};
pub(crate) use length_text::number_or_text;
pub use length_text::{AreaText, ExpansionText, LengthText, TemperatureText, WireText};
pub(crate) use lengths::Lengths;
pub use linear::{Contribution, InputId, Linear};
pub use metal::{BounceShare, BounceShareError, Metal, MetalError};
pub use parts::{Band, Edge, Mounting, PerBand, PerRing, Profile, RingWire, SECTOR_ORDER};
pub use read::{Board, Inspection, shape};
pub use read_areas::RecordedArea;
pub(crate) use read_construction::{ConstructionFile, read_construction};
pub use readings_file::{PlacedReading, ReadingsEntry, TakenEntry};
pub use shape::{Around, Axis, SectorPlaces, StaplePlace};
pub use shape_file::{SectorsFile, StaplesEntry, StaplesFile};
pub use spread::WideSpread;
pub use taken::{Taken, Taking};
pub use temperature::MeasuringTemperature;
pub use temperature_file::TemperatureFile;
pub use validity::{Due, DueState, Period, Validity, ValidityError};
