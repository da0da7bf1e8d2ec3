//! What judging a board brings to light, as data.

use std::borrow::Cow;

use super::{
    BandFinding, BandOutcome, BedFinding, Decided, Missing, Simulation, Suspicion, Verdict,
    WirePart,
};
use crate::board::{Bearing, Board, Construction, Contribution, InputId, Linear, Mounting};
use crate::table::{Interval, Limit, Table};
use crate::units::{Length, Uncertainty};

/// Everything that a table says of a board.
///
/// ```
/// use ringrule::board::Board;
/// use ringrule::conformity::{Judge, Missing, Outcome};
/// use ringrule::document::Source;
/// use ringrule::table::Table;
///
/// # let table = "format: ringrule/table/1
/// # title: House rules
/// # source: { document: House rules, provenance: invented }
/// # limits:
/// #   treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }
/// #   bull: { measurand: inner_bull.diameter, edge: inside, nominal: 12.7 mm, tolerance: 0.2 mm }
/// # ";
/// # let board = "format: ringrule/board/1
/// # board: { id: FL-99 }
/// # mounting: staples
/// # units: mm
/// # widths: { treble: { width: 7.7, edge: inside } }
/// # ";
/// let table = Table::read(Source::new("house.yaml", table), &())?;
/// let board = Board::read(Source::new("fl-99.yaml", board))?;
/// let judge = Judge::new(&table);
/// let assessment = judge.judge(&board);
/// assert_eq!(assessment.limit_tally().not_checked, 1);
/// let missing = assessment.limits.iter().filter_map(|finding| match &finding.outcome {
///     Outcome::NotChecked(missing) => Some(missing),
///     _ => None,
/// });
/// // One length is missing: the radius of the wire around the inner bull.
/// assert!(matches!(missing.flatten().next(), Some(Missing::Measured(_))));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Assessment<'a> {
    /// The board.
    pub board: &'a Board,
    /// How it is built, its gauges as good as the table says.
    pub construction: Cow<'a, Construction>,
    /// The table.
    pub table: &'a Table,
    /// The verdict on the whole board.
    pub verdict: Verdict,
    /// Every limit that is for this kind of board, in the order of the table.
    pub limits: Vec<LimitFinding<'a>>,
    /// The six bands, from the bull outwards.
    pub bands: Vec<BandFinding<'a>>,
    /// The bands against the nominal board of a mounting that was asked for.
    pub against: Option<AgainstNominal<'a>>,
    /// An edge that seems to have been declared wrongly.
    pub suspicion: Option<Suspicion>,
    /// The same uncertainties by Monte Carlo, where that was asked for.
    pub simulation: Option<Simulation>,
}

/// The bands against another nominal board: a comparison, without a verdict.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AgainstNominal<'a> {
    /// Whose nominal board.
    pub mounting: Mounting,
    /// The six bands, from the bull outwards.
    pub bands: Vec<BandFinding<'a>>,
}

/// One limit and one part of the board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct LimitFinding<'a> {
    /// The limit.
    pub limit: &'a Limit,
    /// Which wires, where the limit is for several.
    pub part: Option<WirePart>,
    /// What came of it.
    pub outcome: Outcome,
}

/// What came of checking a limit.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Outcome {
    /// A length was judged.
    Length(Box<LengthFinding>),
    /// A mounting was looked up.
    Mounting {
        /// What the board has.
        found: Mounting,
        /// Whether that is allowed.
        verdict: Verdict,
    },
    /// Every sector or bed was judged; the one that decides.
    Bed(Box<BedFinding>),
    /// The file lacks measurements; what would be needed.
    NotChecked(Vec<Missing>),
}

/// A measured length against its limit.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LengthFinding {
    /// The length at the edge that the limit asks for.
    pub value: Length,
    /// The same in terms of measured lengths.
    pub form: Linear,
    /// Its standard uncertainty (k = 1) in mm, if the file states one.
    pub uncertainty: Option<Uncertainty>,
    /// Which measured lengths the uncertainty comes from.
    pub contributions: Vec<Contribution>,
    /// The lengths that conform.
    pub interval: Interval,
    /// How far the value lies beyond the limit that it breaks: negative below
    /// the lower one, positive above the upper one, zero within.
    pub excess: Length,
    /// The verdict, and the probability of conformity.
    pub decided: Decided,
    /// The measured lengths that it was computed from.
    pub inputs: Vec<InputId>,
    /// Other measurements in the file that say otherwise.
    pub contradiction: Option<Contradiction>,
    /// Where the worst place is, of a limit that speaks of every place.
    pub at: Option<Bearing>,
    /// Every place where it was taken, each judged by itself; they decide only
    /// where the limit speaks of every place.
    pub places: Vec<PlaceFinding>,
}

/// A length at one place.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PlaceFinding {
    /// Where.
    pub at: Bearing,
    /// The length there.
    pub value: Length,
    /// The same in terms of measured lengths.
    pub form: Linear,
    /// Its standard uncertainty in mm, if the file states one.
    pub uncertainty: Option<Uncertainty>,
    /// The verdict on this place.
    pub decided: Decided,
}

/// Recorded lengths that differ by more than their uncertainties from what
/// follows from others.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Contradiction {
    /// The length that makes the largest difference if it is left out.
    pub without: InputId,
    /// What this length is without it.
    pub other: Length,
    /// By how much the recorded lengths miss one another.
    pub misfit: Length,
    /// By how much they may.
    pub allowed: Length,
    /// The measured lengths that remain.
    pub inputs: Vec<InputId>,
}

impl Outcome {
    /// The verdict; `None` if the limit could not be checked.
    pub fn verdict(&self) -> Option<Verdict> {
        match self {
            Self::Length(finding) => Some(finding.decided.verdict),
            Self::Mounting { verdict, .. } => Some(*verdict),
            Self::Bed(finding) => Some(finding.decided.verdict),
            Self::NotChecked(_) => None,
        }
    }

    /// Whether a length lies beyond its limit as measured, whatever the rule
    /// says of it.
    pub(super) fn is_beyond_its_limit(&self) -> bool {
        matches!(self, Self::Length(finding) if finding.excess.as_mm() != 0.0)
    }

    /// Whether other measurements in the file say otherwise.
    pub fn is_contradicted(&self) -> bool {
        matches!(self, Self::Length(finding) if finding.contradiction.is_some())
    }
}

/// How many checks came out which way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub struct Tally {
    /// Checks that conform.
    pub conform: usize,
    /// Checks that do not conform.
    pub do_not_conform: usize,
    /// Checks whose verdict is inconclusive.
    pub inconclusive: usize,
    /// Checks that the file does not let us make.
    pub not_checked: usize,
}

impl Tally {
    /// Counts one check; `None` is one that could not be made.
    pub fn count(&mut self, verdict: Option<Verdict>) {
        *match verdict {
            Some(Verdict::Conforms) => &mut self.conform,
            Some(Verdict::DoesNotConform) => &mut self.do_not_conform,
            Some(Verdict::Inconclusive) => &mut self.inconclusive,
            None => &mut self.not_checked,
        } += 1;
    }

    /// All checks.
    pub const fn total(&self) -> usize {
        self.conform + self.do_not_conform + self.inconclusive + self.not_checked
    }

    /// What the checks amount to: one failure condemns; any doubt, or nothing
    /// checked at all, leaves the whole inconclusive.
    pub const fn verdict(&self) -> Verdict {
        if self.do_not_conform > 0 {
            Verdict::DoesNotConform
        } else if self.inconclusive > 0 || self.not_checked > 0 || self.conform == 0 {
            Verdict::Inconclusive
        } else {
            Verdict::Conforms
        }
    }
}

impl Assessment<'_> {
    /// The limits, counted.
    pub fn limit_tally(&self) -> Tally {
        let mut tally = Tally::default();
        for finding in &self.limits {
            tally.count(finding.outcome.verdict());
        }
        tally
    }

    /// The bands that were compared against bounds, or should have been,
    /// counted.
    pub fn band_tally(&self) -> Tally {
        let mut tally = Tally::default();
        for finding in &self.bands {
            match &finding.outcome {
                BandOutcome::Compared(compared) => {
                    if let Some(verdict) = compared.verdict {
                        tally.count(Some(verdict));
                    }
                }
                BandOutcome::NotChecked(_) => tally.count(None),
                BandOutcome::NoNominal(_) | BandOutcome::NotComputable(_) => {}
            }
        }
        tally
    }

    /// Everything counted: what decides the board's verdict.
    pub fn tally(&self) -> Tally {
        let (limits, bands) = (self.limit_tally(), self.band_tally());
        Tally {
            conform: limits.conform + bands.conform,
            do_not_conform: limits.do_not_conform + bands.do_not_conform,
            inconclusive: limits.inconclusive + bands.inconclusive,
            not_checked: limits.not_checked + bands.not_checked,
        }
    }
    /// Whether the board conforms, or nothing but doubts that are accepted keeps it
    /// from that. A board of which nothing is known to conform passes in no run.
    pub fn passes(&self, accepted: Accepted) -> bool {
        let tally = self.tally();
        let decided = tally.inconclusive == 0 || accepted.inconclusive;
        let checked = tally.not_checked == 0 || accepted.unchecked;
        match self.verdict {
            Verdict::Conforms => true,
            Verdict::DoesNotConform => false,
            Verdict::Inconclusive => decided && checked && tally.conform > 0,
        }
    }
}

/// Doubts that a run accepts. A verdict stays what it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Accepted {
    /// Verdicts that the measurement is too uncertain to decide.
    pub inconclusive: bool,
    /// Limits for which the file lacks a measurement.
    pub unchecked: bool,
}
