//! A whole leg, `ringrule/leg/1`.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;

use super::beside::FilledLengthRecord;
use super::certainty::CertaintyRecord;
use super::comparison::{AssumptionsRecord, MetalRecord};
use super::match_averages::MatchAveragesRecord;
use super::wires::WireRecord;
use super::{Of, to_text};
use crate::comparison::{LegOnBoard, WholeLegs};
use crate::document::Shape;
use crate::play::{Against, Choice, FinishRow, LegDifference, Spread};

/// The shape of the record, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of_report::<LegReport>("A whole leg, from Ringrule"));
    &SHAPE
}

/// One player's leg on each board, as an exact decision programme has it.
/// Probabilities from 0 to 1, lengths in mm.
#[serde_with::skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LegReport {
    /// `ringrule/leg/1`.
    format: String,
    /// That this is a calculation.
    notice: String,
    /// The start total.
    start: u32,
    /// `darts`: for the fewest expected darts; `visits`: for the fewest visits.
    objective: String,
    /// `middles`: of beds; `continuous`: anywhere on the board.
    aims: String,
    /// `straight`, or `double in`.
    entry: String,
    /// What every figure assumes.
    assumptions: AssumptionsRecord,
    /// The other player's spread.
    against: Option<SpreadRecord>,
    /// The boards, in the order of the run.
    boards: Vec<LegOnBoardRecord>,
    /// What match averages on the first board are worth on the others, where that was
    /// asked for.
    match_averages: Option<MatchAveragesRecord>,
}

/// A spread: standard deviations in mm, and their correlation.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct SpreadRecord {
    x_mm: f64,
    y_mm: f64,
    correlation: f64,
}

impl SpreadRecord {
    const fn of(spread: Spread) -> Self {
        Self {
            x_mm: spread.sigma_x(),
            y_mm: spread.sigma_y(),
            correlation: spread.rho(),
        }
    }
}

/// The leg on one board.
#[serde_with::skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct LegOnBoardRecord {
    /// Its id, or which nominal board it is.
    label: String,
    /// Where it hangs, or whose nominal board it is.
    name: Option<String>,
    /// The file that it was described in.
    file: String,
    /// What its metal does.
    metal: MetalRecord,
    /// Lengths that were not measured, but taken from a nominal board.
    filled: Vec<FilledLengthRecord>,
    /// The three-dart average of scoring darts alone, at the aim that scores most.
    scoring_average: f64,
    /// How sure that is.
    scoring_average_certainty: CertaintyRecord,
    /// Expected darts: a void visit counts three, the winning one what it took.
    expected_darts: f64,
    /// Expected visits.
    expected_visits: f64,
    /// How sure the expected number of what is played for is: of darts, or of visits.
    expected_certainty: CertaintyRecord,
    /// Three times the start over the expected darts.
    match_average: f64,
    /// How sure that is; not stated where visits are played for.
    match_average_certainty: CertaintyRecord,
    /// Expected darts aimed at a double that would have won.
    darts_at_double: f64,
    /// How sure that is, for a player who keeps to the aims.
    darts_at_double_certainty: CertaintyRecord,
    /// One won leg over these; left out where they are less than one.
    checkout_rate: Option<f64>,
    /// How sure that is; left out with it.
    checkout_rate_certainty: Option<CertaintyRecord>,
    /// The perfect leg.
    perfect: PerfectRecord,
    /// The probability of winning against the other player.
    against: Option<AgainstRecord>,
    /// The probability of each number of darts, from one dart up.
    darts: Vec<f64>,
    /// The probability of more darts than are listed.
    tail: f64,
    /// What is best for every total and every number of darts in hand.
    finishes: Vec<FinishRecord>,
    /// Where that differs from what is best on the first board.
    differences: Vec<DifferenceRecord>,
    /// What a tenth of a millimetre more of each wire does.
    wires: Vec<WireRecord>,
}

/// A leg in the fewest darts that it can take.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct PerfectRecord {
    /// How many darts.
    darts: usize,
    /// Its probability for a player who plays for nothing else.
    chance: f64,
    /// How sure that is.
    certainty: CertaintyRecord,
    /// Its probability for one who plays for the objective.
    chance_by_the_way: f64,
    /// Where the first dart of it is aimed.
    bed: String,
}

/// Against another player.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct AgainstRecord {
    /// If this player throws first.
    throwing_first: f64,
    /// If the other one does.
    throwing_second: f64,
    /// The most by which either may be too small.
    tail: f64,
}

impl AgainstRecord {
    const fn of(against: &Against) -> Self {
        Self {
            throwing_first: against.throwing_first,
            throwing_second: against.throwing_second,
            tail: against.tail,
        }
    }
}

/// What is best with some total left and some darts in hand.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct FinishRecord {
    /// What is left to score.
    left: u32,
    /// How many darts are in hand.
    darts_in_hand: usize,
    /// What is best, by where the visit began.
    choices: Vec<BestRecord>,
}

impl FinishRecord {
    fn of(row: &FinishRow) -> Self {
        Self {
            left: row.left,
            darts_in_hand: row.darts,
            choices: alike(row).iter().map(BestRecord::of).collect(),
        }
    }
}

/// Visits that begin next to each other and want one aim: the first and the last total
/// that they begin at, and the first's choice.
pub(super) fn alike(row: &FinishRow) -> Vec<(u32, u32, Choice)> {
    let mut runs: Vec<(u32, u32, Choice)> = Vec::new();
    for chosen in &row.choices {
        match runs.last_mut() {
            Some((_, last, choice)) if choice.aim == chosen.choice.aim => *last = chosen.begun,
            _ => runs.push((chosen.begun, chosen.begun, chosen.choice)),
        }
    }
    runs
}

/// What is best in visits that began between two totals.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct BestRecord {
    /// The lowest total at which they began.
    begun_from: u32,
    /// The highest one; not every total between can lead here.
    begun_to: u32,
    /// What is best, and what is still expected where the visit began at the lowest.
    aim: AimRecord,
}

impl BestRecord {
    fn of(&(begun_from, begun_to, ref choice): &(u32, u32, Choice)) -> Self {
        Self {
            begun_from,
            begun_to,
            aim: AimRecord::of(choice),
        }
    }
}

/// Where to aim.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "LegAimRecord")]
struct AimRecord {
    /// The bed whose middle is aimed at, or is nearest to the place.
    bed: String,
    /// Where to aim, right of the bull's centre.
    x_mm: f64,
    /// The same, above it.
    y_mm: f64,
    /// What is still expected, in darts or visits.
    expected: f64,
}

impl AimRecord {
    fn of(choice: &Choice) -> Self {
        Self {
            bed: choice.bed.to_string(),
            x_mm: choice.aim.x,
            y_mm: choice.aim.y,
            expected: choice.expected,
        }
    }
}

/// A position in which two boards want different aims.
#[serde_with::skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct DifferenceRecord {
    /// Where the visit began.
    begun: u32,
    /// What is left to score.
    left: u32,
    /// How many darts are in hand.
    darts_in_hand: usize,
    /// What is best on the first board.
    first: AimRecord,
    /// What is best on this one.
    here: AimRecord,
    /// What it costs to take the other board's aim: on the first board, on this one.
    losses: Option<[f64; 2]>,
}

impl DifferenceRecord {
    fn of(found: &LegDifference) -> Self {
        let [first, here] = &found.choices;
        Self {
            begun: found.begun,
            left: found.left,
            darts_in_hand: found.darts,
            first: AimRecord::of(first),
            here: AimRecord::of(here),
            losses: found.losses,
        }
    }
}

impl LegOnBoardRecord {
    fn of(board: &LegOnBoard) -> Self {
        Self {
            label: board.label.clone(),
            name: board.name.clone(),
            file: board.file.clone(),
            metal: MetalRecord::of(&board.metal),
            filled: Of::of(&board.filled),
            scoring_average: board.scoring_average,
            scoring_average_certainty: Of::of(&board.scoring_average_certainty),
            expected_darts: board.expected_darts,
            expected_visits: board.expected_visits,
            expected_certainty: Of::of(&board.expected_certainty),
            match_average: board.match_average,
            match_average_certainty: Of::of(&board.match_average_certainty),
            darts_at_double: board.darts_at_double,
            darts_at_double_certainty: Of::of(&board.darts_at_double_certainty),
            checkout_rate: board.checkout_rate,
            checkout_rate_certainty: board
                .checkout_rate
                .map(|_| Of::of(&board.checkout_rate_certainty)),
            perfect: PerfectRecord {
                darts: board.perfect.darts,
                chance: board.perfect.chance,
                certainty: Of::of(&board.perfect_certainty),
                chance_by_the_way: board.perfect_by_the_way,
                bed: board.perfect.bed.to_string(),
            },
            against: board.against.as_ref().map(AgainstRecord::of),
            darts: board
                .distribution
                .iter()
                .map(|(_, chance)| chance)
                .collect(),
            tail: board.distribution.tail(),
            finishes: board.finishes.iter().map(FinishRecord::of).collect(),
            differences: board.differences.iter().map(DifferenceRecord::of).collect(),
            wires: Of::of(&board.wires),
        }
    }
}

impl LegReport {
    /// From the data.
    pub fn new(legs: &WholeLegs) -> Self {
        Self {
            format: "ringrule/leg/1".to_owned(),
            notice: "A calculation, not an official approval.".to_owned(),
            start: legs.leg.start,
            objective: legs.leg.objective.to_string(),
            aims: legs.leg.aims.to_string(),
            entry: legs.leg.entry.to_string(),
            assumptions: AssumptionsRecord::of(&legs.assumptions),
            against: legs.against.map(SpreadRecord::of),
            boards: legs.boards.iter().map(LegOnBoardRecord::of).collect(),
            match_averages: Of::of(&legs.match_averages),
        }
    }

    /// As JSON with a final newline.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        to_text(self)
    }
}
