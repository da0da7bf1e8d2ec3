//! The figures of a process that its indices follow from.

/// What a capability is worked out from, in the unit of the limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Process {
    /// How many values.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation on n − 1.
    pub deviation: f64,
    /// The part of its square that is the measurement's, independent from board to
    /// board.
    pub noise: f64,
}
