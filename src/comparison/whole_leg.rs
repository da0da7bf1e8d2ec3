//! A whole leg on one board or several, for one player.

use super::average_slopes::AverageSide;
use super::player::Known;
use super::slopes::Slopes;
use super::sure_leg::SureLeg;
use super::wires::OnWires;
use super::{
    Assumptions, Certainty, CompareError, MatchAverages, MetalSetting, SpreadSource, Subject,
    WireEffect, match_averages,
};
use crate::board::FilledLength;
use crate::play::{
    Against, AimRule, Aims, Averages, Distribution, FinishRow, Leg, LegDifference, LegOptions,
    LegSlopes, PerfectLeg, Setup, Spread, leg_differences,
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
    /// Match averages on the first board to translate to the others, or none;
    /// [`DEFAULT_MATCH_AVERAGES`](super::DEFAULT_MATCH_AVERAGES) if the list is empty.
    pub match_averages: Option<Vec<f64>>,
}

impl Default for WholeLegOptions {
    fn default() -> Self {
        Self {
            spread: SpreadSource::default(),
            leg: LegOptions::default(),
            against: None,
            highest: HIGHEST_FINISH,
            match_averages: None,
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
    /// What match averages on the first board are worth on the others, where that was
    /// asked for.
    pub match_averages: Option<MatchAverages>,
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
    /// Lengths that were not measured, but taken from a nominal board.
    pub filled: Vec<FilledLength>,
    /// The three-dart average of scoring darts alone, at the aim that scores most.
    pub scoring_average: f64,
    /// How sure that is.
    pub scoring_average_certainty: Certainty,
    /// Expected darts: a void visit counts three, the winning one what it took.
    pub expected_darts: f64,
    /// Expected visits.
    pub expected_visits: f64,
    /// How sure the expected number of what is played for is: of darts, or of visits.
    pub expected_certainty: Certainty,
    /// Three times the start over the expected darts.
    pub match_average: f64,
    /// How sure that is; not stated where visits are played for.
    pub match_average_certainty: Certainty,
    /// Expected darts aimed at a double that would have won.
    pub darts_at_double: f64,
    /// How sure that is, for a player who keeps to the aims.
    pub darts_at_double_certainty: Certainty,
    /// One won leg over these; `None` where they are less than one.
    pub checkout_rate: Option<f64>,
    /// How sure that is.
    pub checkout_rate_certainty: Certainty,
    /// How many darts the leg takes.
    pub distribution: Distribution,
    /// The perfect leg, for a player who plays for nothing else.
    pub perfect: PerfectLeg,
    /// How sure its probability is, aimed at middles.
    pub perfect_certainty: Certainty,
    /// The probability of a perfect leg for one who plays for the objective.
    pub perfect_by_the_way: f64,
    /// The probability of winning against the other player.
    pub against: Option<Against>,
    /// What is best for every total up to the highest.
    pub finishes: Vec<FinishRow>,
    /// Where it differs from what is best on the first board; of that one, nothing.
    pub differences: Vec<LegDifference>,
    /// What a little more of each wire does.
    pub wires: Vec<WireEffect>,
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
    let slopes: Vec<Slopes<'_>> = subjects.iter().map(Slopes::of).collect();
    let averages: Vec<Averages<'_>> = subjects
        .iter()
        .map(|subject| Averages::on(subject.face(), subject.metal))
        .collect();
    let sides = subjects.iter().zip(slopes.iter().zip(&averages));
    let sides: Vec<AverageSide<'_>> = sides
        .map(|(subject, (slopes, averages))| AverageSide {
            subject,
            averages,
            slopes,
        })
        .collect();
    let Some(on_first) = sides.first() else {
        return Err(CompareError::TooFew);
    };
    let follows = on_first.follows(&known);
    let mut legs: Vec<Leg> = Vec::with_capacity(subjects.len());
    let mut boards = Vec::with_capacity(subjects.len());
    for side in &sides {
        let subject = side.subject;
        let setup = subject.setup(None);
        let (leg, perfect) = rayon::join(
            || Leg::solve(setup, spread, options.leg),
            || PerfectLeg::solve(setup, spread, options.leg),
        );
        let (leg, perfect) = (leg?, perfect?);
        let distribution = leg.distribution();
        let against = options.against.map(|other| {
            let other = Leg::solve(setup, other, options.leg)?;
            Ok::<_, CompareError>(Against::of(&distribution, &other.distribution()))
        });
        let differences = legs.first().map_or_else(Vec::new, |first| {
            leg_differences(first, &leg, options.highest, NEGLIGIBLE)
        });
        let (scoring_average, aim) = side.averages.of(spread);
        let weights = slopes_of(&leg, setup, spread)?;
        let sure = SureLeg {
            side,
            first: on_first,
            known: &known,
            follows: &follows,
            leg: &leg,
            weights: &weights,
        };
        let counts = sure.counts()?;
        boards.push(LegOnBoard {
            label: subject.label.clone(),
            name: subject.name.clone(),
            file: subject.file.clone(),
            metal: MetalSetting::of(subject),
            filled: subject.filled.clone(),
            scoring_average,
            scoring_average_certainty: side.own_certainty(&known, on_first, &follows),
            expected_darts: leg.expected_darts(),
            expected_visits: leg.expected_visits(),
            match_average: leg.match_average(),
            match_average_certainty: sure.match_average(&counts.expected),
            expected_certainty: counts.expected,
            darts_at_double: leg.darts_at_double(),
            darts_at_double_certainty: counts.at_double,
            checkout_rate: leg.checkout_rate(),
            checkout_rate_certainty: counts.at_double.map(|darts| 1.0 / darts),
            perfect_by_the_way: distribution.chance_of(perfect.darts),
            perfect_certainty: sure.perfect(perfect.chance),
            perfect,
            distribution,
            against: against.transpose()?,
            finishes: leg.finish_table(options.highest),
            differences,
            wires: OnWires {
                subject,
                spread,
                aim,
                slopes: &weights,
            }
            .effects(),
        });
        legs.push(leg);
    }
    let asked = options
        .match_averages
        .as_deref()
        .filter(|_| subjects.len() > 1);
    let match_averages = asked
        .map(|averages| match_averages(subjects, averages, options.leg))
        .transpose()?;
    let average_on_first = boards.first().map_or(0.0, |board| board.scoring_average);
    Ok(WholeLegs {
        assumptions: known.assumptions(AimRule::default(), average_on_first),
        leg: options.leg,
        against: options.against,
        boards,
        match_averages,
    })
}

/// How the expected cost changes. Aims anywhere are thousands, and change it as aims at
/// middles do but for a little: those stand for them.
fn slopes_of(leg: &Leg, setup: Setup<'_>, spread: Spread) -> Result<LegSlopes, CompareError> {
    let options = leg.options();
    if options.aims == Aims::Middles {
        return Ok(leg.slopes());
    }
    let middles = LegOptions {
        aims: Aims::Middles,
        ..options
    };
    Ok(Leg::solve(setup, spread, middles)?.slopes())
}
