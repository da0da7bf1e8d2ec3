//! A whole leg on one board or several, for one player.

use super::player::Known;
use super::{Assumptions, CompareError, MetalSetting, SpreadSource, Subject};
use crate::play::{
    Against, AimRule, Averages, Distribution, FinishRow, Leg, LegDifference, LegOptions,
    PerfectLeg, Spread, leg_differences,
};

/// What is best for totals above this is not listed. House rule: from here on a visit
/// can finish the leg (the highest three-dart finish, recomputed).
pub const HIGHEST_FINISH: u32 = 170;

/// Other aims that cost no more darts than this on either board are not called
/// differences. House rule: a tenth of what changes an average by a hundredth.
const NEGLIGIBLE: f64 = 1e-4;

/// Which leg, and whose.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct WholeLegOptions {
    /// Where the player's spread comes from.
    pub spread: SpreadSource,
    /// The leg.
    pub leg: LegOptions,
    /// The spread of another player, against whom the leg is played on the same board.
    pub against: Option<Spread>,
    /// The highest total of the finish table.
    pub highest: u32,
}

impl Default for WholeLegOptions {
    fn default() -> Self {
        Self {
            spread: SpreadSource::default(),
            leg: LegOptions::default(),
            against: None,
            highest: HIGHEST_FINISH,
        }
    }
}

/// One player's leg on each board. Probabilities from 0 to 1.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct WholeLegs {
    /// What every figure assumes. Aims follow from the leg itself.
    pub assumptions: Assumptions,
    /// Which leg it is.
    pub leg: LegOptions,
    /// The spread of the other player, in mm sideways, and up and down.
    pub against: Option<Spread>,
    /// The boards, in the order of the run.
    pub boards: Vec<LegOnBoard>,
}

/// The leg on one board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct LegOnBoard {
    /// The board's id, or which nominal board it is.
    pub label: String,
    /// Where it hangs, or whose nominal board it is.
    pub name: Option<String>,
    /// The file that it was described in.
    pub file: String,
    /// What its metal does.
    pub metal: MetalSetting,
    /// The three-dart average of scoring darts alone, at the aim that scores most.
    pub scoring_average: f64,
    /// Expected darts: a void visit counts three, the winning one what it took.
    pub expected_darts: f64,
    /// Expected visits.
    pub expected_visits: f64,
    /// Three times the start over the expected darts.
    pub match_average: f64,
    /// Expected darts aimed at a double that would have won.
    pub darts_at_double: f64,
    /// One won leg over these.
    pub checkout_rate: f64,
    /// How many darts the leg takes.
    pub distribution: Distribution,
    /// The perfect leg, for a player who plays for nothing else.
    pub perfect: PerfectLeg,
    /// The probability of a perfect leg for one who plays for the objective.
    pub perfect_by_the_way: f64,
    /// The probability of winning against the other player.
    pub against: Option<Against>,
    /// What is best for every total up to the highest.
    pub finishes: Vec<FinishRow>,
    /// Where it differs from what is best on the first board; of that one, nothing.
    pub differences: Vec<LegDifference>,
}

/// Solves one player's leg on each board.
///
/// Refused: no board, a start that no leg has, and a player of whom nothing can be
/// said.
pub fn whole_legs(
    subjects: &[Subject],
    options: &WholeLegOptions,
) -> Result<WholeLegs, CompareError> {
    let Some(first) = subjects.first() else {
        return Err(CompareError::TooFew);
    };
    let known = Known::of(&options.spread, first)?;
    let spread = known.spread;
    let mut legs: Vec<Leg> = Vec::with_capacity(subjects.len());
    let mut boards = Vec::with_capacity(subjects.len());
    for subject in subjects {
        let setup = subject.setup(None);
        let leg = Leg::solve(setup, spread, options.leg)?;
        let perfect = PerfectLeg::solve(setup, spread, options.leg)?;
        let distribution = leg.distribution();
        let against = options.against.map(|other| {
            let other = Leg::solve(setup, other, options.leg)?;
            Ok::<_, CompareError>(Against::of(&distribution, &other.distribution()))
        });
        let differences = legs.first().map_or_else(Vec::new, |first| {
            leg_differences(first, &leg, options.highest, NEGLIGIBLE)
        });
        boards.push(LegOnBoard {
            label: subject.label.clone(),
            name: subject.name.clone(),
            file: subject.file.clone(),
            metal: MetalSetting::of(subject),
            scoring_average: Averages::on(subject.face(), subject.metal).of(spread).0,
            expected_darts: leg.expected_darts(),
            expected_visits: leg.expected_visits(),
            match_average: leg.match_average(),
            darts_at_double: leg.darts_at_double(),
            checkout_rate: leg.checkout_rate(),
            perfect_by_the_way: distribution.chance_of(perfect.darts),
            perfect,
            distribution,
            against: against.transpose()?,
            finishes: leg.finish_table(options.highest),
            differences,
        });
        legs.push(leg);
    }
    let average_on_first = boards.first().map_or(0.0, |board| board.scoring_average);
    Ok(WholeLegs {
        assumptions: Assumptions {
            spread_x_mm: spread.sigma_x(),
            spread_y_mm: spread.sigma_y(),
            correlation: spread.rho(),
            spread_from: known.origin,
            aim: AimRule::default(),
            average_on_first,
        },
        leg: options.leg,
        against: options.against,
        boards,
    })
}
