//! Which wire matters.

use schemars::JsonSchema;
use serde::Serialize;

use super::Of;
use crate::comparison::{Wire, WireEffect};

records! {
    /// What a tenth of a millimetre more of one wire, its apex where it is, does to the
    /// player.
    WireRecord of WireEffect {
        /// A ring wire by its key in board files, `sectors` for all sector wires, `all`
        /// for every wire of the board.
        wire: String,
        /// How much harder a treble becomes, in percent.
        treble_percent: f64,
        /// How much harder a double becomes, in percent.
        double_percent: f64,
        /// What the scoring-dart average gains, in points.
        scoring_average: f64,
        /// How many more darts, or visits where those are played for, a leg takes.
        expected: f64,
    }
}

impl Of<Wire> for String {
    fn of(wire: &Wire) -> Self {
        match wire {
            Wire::Ring(ring) => ring.key(),
            Wire::Sectors => "sectors",
            Wire::All => "all",
        }
        .to_owned()
    }
}
