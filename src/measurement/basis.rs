//! What a repeatability rests on, and what is set apart from it.

/// What a repeatability was estimated from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Everything on the sheet that is not set apart.
    Pooled,
    /// All rows of a person who scatters more than the others.
    Person(usize),
    /// Everybody's readings of a row that scatters more than the others.
    Row(usize),
    /// One person's readings of one row, which scatter more than the others.
    Cell {
        /// Which row.
        row: usize,
        /// Which person.
        person: usize,
    },
    /// Nobody repeated a reading: a house rule.
    House,
}

/// Something that scatters more than the rest of its sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apart {
    /// What.
    pub what: Basis,
    /// Its standard deviation.
    pub deviation: f64,
    /// That of the rest.
    pub rest: f64,
    /// The probability of a ratio that large, corrected for how many groups
    /// were looked at.
    pub probability: f64,
}
