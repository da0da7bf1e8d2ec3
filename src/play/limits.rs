//! How far what is asked about throws may go.

/// The largest start total that is accepted: ten times the longest leg that is
/// commonly played, and small enough for tables over every total below it.
pub const LARGEST_START: u32 = 10_001;

/// The most darts a route may have: far more than any leg that is played, and
/// a bound on what `999999999xT20` can ask for.
pub const MOST_DARTS: usize = 1000;

/// The smallest spread that is accepted, in mm: a thousandth of a millimetre
/// is finer than any board can be measured.
pub(super) const SMALLEST_SPREAD: f64 = 1e-3;

/// The largest spread that is accepted, in mm: beyond a kilometre there is no
/// board to hit.
pub(super) const LARGEST_SPREAD: f64 = 1e6;
