//! Many inspections of one board: which of them decides, what has changed since
//! the one before, and whether the change is beyond what can be measured.

mod change;
mod season;
mod standing;

pub use change::{Change, Changed, changes};
pub use season::{BoardHistory, Season, undecided};
pub use standing::{Standing, standings};
