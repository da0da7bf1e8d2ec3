//! What the values of a run come to.

/// Mean, spread and extremes.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Summary {
    /// The mean.
    pub mean: f64,
    /// The standard deviation on n − 1; zero of a single value.
    pub deviation: f64,
    /// The smallest value.
    pub smallest: Extreme,
    /// The largest value.
    pub largest: Extreme,
    /// The step between values that are recorded, as far as they show it; `None`
    /// where all are alike.
    pub step: Option<f64>,
}

/// An extreme, and the board that has it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extreme {
    /// The value.
    pub value: f64,
    /// The board's place in the run, from 0.
    pub board: usize,
}

/// How many values are outside their limits.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Outside {
    /// How many.
    pub count: usize,
    /// Of all values, from 0 to 1.
    pub share: f64,
    /// What the share of the process may be, with 95 % confidence (Clopper and
    /// Pearson, Biometrika 26, 1934, from memory), from 0 to 1.
    pub interval: (f64, f64),
}
