//! What an event file says: the facts of an inspection that no board file can
//! know, for the head and the foot of a report.
//!
//! Everything is optional. What nobody stated is printed as not stated, and
//! never made up.

mod file;
mod read;

pub use file::{EventFile, EventFormat, PersonEntry, PersonFile};
pub use read::{Event, Person, shape};
