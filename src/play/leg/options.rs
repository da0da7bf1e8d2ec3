//! What is asked of a leg.

words! {
    /// What the player plays for.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    #[non_exhaustive]
    pub enum Objective {
        /// The fewest expected darts: a void visit counts three, the winning one
        /// the darts that it took.
        #[default]
        Darts = "darts",
        /// The fewest expected visits: the winning one counts as one, whichever
        /// of its darts wins.
        Visits = "visits",
    }

    /// As one word.
    fn as_str;
    impl Display = as_str;
}

words! {
    /// Where the player may aim.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    #[non_exhaustive]
    pub enum Aims {
        /// At the middles of the beds: 81 places, since both bulls share one.
        /// The optimum among them is exact.
        #[default]
        Middles = "middles",
        /// Anywhere on the board. The optimum is climbed to from the best of
        /// many places, of which the middles are 81, so it is never worse than
        /// theirs; it is right to 1e-6 darts where the best hill is among those
        /// climbed, which is tested against a fine grid and not proven.
        Continuous = "continuous",
    }

    /// As one word.
    fn as_str;
    impl Display = as_str;
}

words! {
    /// How a leg begins.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    #[non_exhaustive]
    pub enum Entry {
        /// The first dart counts.
        #[default]
        Straight = "straight",
        /// No dart counts before the first double, which does. The inner bull
        /// is one. A void visit undoes it (house rule: a void visit leaves
        /// everything as it was).
        Double = "double in",
    }

    /// As words.
    fn as_str;
    impl Display = as_str;
}

/// Which leg is played, and how.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LegOptions {
    /// The start total, 2 to [`LARGEST_START`](crate::play::LARGEST_START).
    pub start: u32,
    /// What the player plays for.
    pub objective: Objective,
    /// Where the player may aim.
    pub aims: Aims,
    /// How the leg begins. It always ends on a double.
    pub entry: Entry,
}

impl LegOptions {
    /// A leg from this start for the fewest darts, aimed at the middles of
    /// beds, straight in.
    pub const fn from(start: u32) -> Self {
        Self {
            start,
            objective: Objective::Darts,
            aims: Aims::Middles,
            entry: Entry::Straight,
        }
    }
}

impl Default for LegOptions {
    fn default() -> Self {
        Self::from(501)
    }
}

/// What a visit costs in the objective's unit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Costs {
    /// A visit that does not win.
    pub(super) lost: f64,
    /// A visit that wins, by how many darts are left in it afterwards.
    pub(super) won: [f64; 3],
}

impl Costs {
    pub(super) const DARTS: Self = Self {
        lost: 3.0,
        won: [3.0, 2.0, 1.0],
    };
    pub(super) const VISITS: Self = Self {
        lost: 1.0,
        won: [1.0; 3],
    };

    pub(super) const fn of(objective: Objective) -> Self {
        match objective {
            Objective::Darts => Self::DARTS,
            Objective::Visits => Self::VISITS,
        }
    }
}
