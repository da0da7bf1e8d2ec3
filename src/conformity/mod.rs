//! From a board and a table to findings.
//!
//! [`measure()`] computes what a limit asks for, [`decide()`] turns a value and
//! its uncertainty into a [`Verdict`], [band findings](BandFinding) compares free
//! areas with the nominal board's, and [`Judge`] puts it together. Everything
//! here is data; the report writers print it.

mod around;
mod bands;
mod beds;
mod board_probability;
mod budget;
mod decide;
mod doubt;
mod drivers;
mod error_source;
mod evidence;
mod extremes;
mod feasible;
mod finding;
mod judge;
mod lengths;
mod measure;
mod measured;
mod missing;
mod monte_carlo;
mod nominal;
mod plausible;
mod programme;
mod propagate;
mod slopes;
mod suspect;
mod vertex;

pub use bands::{BandFinding, BandOutcome, Bounds, BoundsOrigin, ComparedBand, Margin, Margins};
pub use beds::{Amount, BedFinding};
pub use budget::{BudgetLine, budget};
pub use decide::{Decidable, DecideError, Decided, Verdict, decide, deciding_uncertainty};
pub use drivers::Driver;
pub use feasible::unmeetable;
pub use finding::{
    Accepted, AgainstNominal, Assessment, Contradiction, LengthFinding, LimitFinding, Outcome,
    PlaceFinding, Tally,
};
pub use judge::Judge;
pub use measure::measure;
pub use measured::{Measured, Part, WirePart};
pub use missing::Missing;
pub use monte_carlo::{Drawn, MOST_DRAWS, Simulation, simulate};
pub use propagate::FreeArea;
pub use suspect::{Redeclared, Suspicion};

#[cfg(test)]
mod turn_checks;
