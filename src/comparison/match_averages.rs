//! What a match average on one board is worth on another: the same player, whole legs.

use std::sync::OnceLock;

use rayon::prelude::*;

use super::certainty::Causes;
use super::slopes::Slopes;
use super::{Certainty, CompareError, Subject};
use crate::board::{Band, Linear};
use crate::play::{
    Averages, Leg, LegOptions, LegSlopes, LegSums, Setup, Spread, band_harder_by_area,
    translate_simply,
};

/// The match averages that are translated where none is named: from a beginner's to the
/// best there are. House rule.
pub const DEFAULT_MATCH_AVERAGES: [f64; 10] = [
    30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 120.0,
];

/// The spreads of the curves, in mm: `FIRST`·`RATIO`ⁿ. House rule: match averages of 501
/// from about 160 to below 20.
const FIRST: f64 = 3.5;
const RATIO: f64 = 1.15;
const NODES: usize = 22;
/// Newton's method takes one more step, and no more, from a spread whose match average is
/// right to this: the step leaves an error of second order.
const CLOSE: f64 = 1e-3;
const MOST_STEPS: usize = 12;

/// What match averages on the first board are worth on every board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct MatchAverages {
    /// One row for each average.
    pub rows: Vec<MatchRow>,
    /// The same over the whole range of players, from narrow spreads to wide ones.
    pub curves: Vec<MatchNode>,
}

/// One match average on the first board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct MatchRow {
    /// The average on the first board.
    pub average: f64,
    /// The spread of a player who has it, the same in every direction, in mm; left out if
    /// no player of the curves has, as may be of the default ones alone.
    pub spread_mm: Option<f64>,
    /// What it is on each board, in the order of the run; of the first one, itself.
    pub boards: Vec<MatchWorth>,
}

/// What a player comes to on one board.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct MatchWorth {
    /// Three times the start over the expected darts.
    pub match_average: f64,
    /// How sure that is for a player of whom the first board's average is all that is
    /// known.
    pub certainty: Certainty,
    /// Expected darts of a leg.
    pub expected_darts: f64,
    /// Of the darts aimed at a double that would win, how many do, 0 to 1; `None` where
    /// less than one dart a leg is aimed so.
    pub checkout_rate: Option<f64>,
    /// How sure that is of the same player; on the first board too, whose lengths the
    /// spread follows from.
    pub checkout_rate_certainty: Certainty,
    /// The three-dart average of scoring darts alone.
    pub scoring_average: f64,
    /// What the simple rule makes of the first board's scoring average; left out where it
    /// does not hold.
    pub scoring_simply: Option<f64>,
}

/// A player by the spread, and the match average on each board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct MatchNode {
    /// The spread, in mm.
    pub spread_mm: f64,
    /// The match average on each board, in the order of the run.
    pub match_averages: Vec<f64>,
}

/// A board with what is reused from spread to spread.
pub(super) struct Side<'a> {
    subject: &'a Subject,
    pub(super) slopes: Slopes<'a>,
    averages: OnceLock<Averages<'a>>,
    /// How many times harder a treble is than on the first board, by area.
    ratio: Option<f64>,
}

/// Translates match averages from the first board to every other: those named, or
/// [`DEFAULT_MATCH_AVERAGES`], of which the ones that nobody has are left out.
///
/// Refused: no board, a leg that cannot be played, and a named average that no player of
/// the curves has.
pub fn match_averages(
    subjects: &[Subject],
    averages: &[f64],
    leg: LegOptions,
) -> Result<MatchAverages, CompareError> {
    let Some(first) = subjects.first() else {
        return Err(CompareError::TooFew);
    };
    let sides = subjects.iter().map(|subject| Side::of(subject, first));
    let sides: Vec<Side<'_>> = sides.collect();
    let spreads = (0..NODES).map(|step| FIRST * libm::pow(RATIO, step as f64));
    let spreads: Vec<f64> = spreads.collect();
    let jobs: Vec<(f64, &Side<'_>)> = spreads
        .iter()
        .flat_map(|spread| sides.iter().map(|side| (*spread, side)))
        .collect();
    let solved: Result<Vec<f64>, CompareError> = jobs
        .into_par_iter()
        .map(|(spread, side)| Ok(side.solve(spread, leg)?.match_average()))
        .collect();
    let solved = solved?;
    let curves: Vec<MatchNode> = spreads
        .iter()
        .zip(solved.chunks(sides.len()))
        .map(|(spread, averages)| MatchNode {
            spread_mm: *spread,
            match_averages: averages.to_vec(),
        })
        .collect();
    let named = if averages.is_empty() {
        &DEFAULT_MATCH_AVERAGES[..]
    } else {
        averages
    };
    for average in averages {
        if bracket(*average, &curves).is_none() {
            let ends = [curves.last(), curves.first()];
            let [lowest, highest] = ends.map(|node| {
                let average = node.and_then(|node| node.match_averages.first());
                average.copied().unwrap_or_default()
            });
            return Err(CompareError::NoMatchAverage {
                average: *average,
                lowest,
                highest,
            });
        }
    }
    let rows: Result<Vec<_>, CompareError> = named
        .par_iter()
        .map(|average| row(*average, &sides, &curves, leg))
        .collect();
    Ok(MatchAverages {
        rows: rows?,
        curves,
    })
}

fn row(
    average: f64,
    sides: &[Side<'_>],
    curves: &[MatchNode],
    leg: LegOptions,
) -> Result<MatchRow, CompareError> {
    let nothing = MatchRow {
        average,
        spread_mm: None,
        boards: Vec::new(),
    };
    let Some((first, spread)) = sides
        .first()
        .and_then(|first| Some((first, bracket(average, curves)?)))
    else {
        return Ok(nothing);
    };
    let on_first = first.with_average(average, spread, leg)?;
    let sigma = on_first.spread.sigma_x();
    let boards = sides.iter().enumerate().map(|(board, side)| {
        let here = match board {
            0 => on_first.clone(),
            _ => side.at(sigma, leg)?,
        };
        Ok(side.worth(board, &here, first, &on_first))
    });
    let boards: Result<Vec<_>, CompareError> = boards.collect();
    Ok(MatchRow {
        average,
        spread_mm: Some(sigma),
        boards: boards?,
    })
}

/// The spreads on both sides of an average on the first board, and a guess between.
fn bracket(average: f64, curves: &[MatchNode]) -> Option<[f64; 3]> {
    let on_first = |node: &MatchNode| node.match_averages.first().copied();
    let pair = curves.windows(2).find_map(|pair| {
        let [narrow, wide] = pair else { return None };
        let (high, low) = (on_first(narrow)?, on_first(wide)?);
        (low <= average && average <= high).then_some((narrow, wide, high, low))
    });
    let (narrow, wide, high, low) = pair?;
    // Averages fall about in proportion to the spread's logarithm.
    let share = (high - average) / (high - low);
    let guess = narrow.spread_mm * libm::pow(wide.spread_mm / narrow.spread_mm, share);
    Some([narrow.spread_mm, guess, wide.spread_mm])
}

/// A leg with its slopes.
#[derive(Clone)]
pub(super) struct Solved {
    pub(super) spread: Spread,
    pub(super) leg: Leg,
    match_average: Changes,
    checkout_rate: Changes,
}

/// How a figure of a leg changes.
#[derive(Clone)]
struct Changes {
    /// With the spread, per mm.
    rate: f64,
    /// With each of the board's lengths, per mm.
    lengths: Linear,
}

/// The spread is moved by this to both sides, in mm.
const STEP: f64 = 1e-3;

/// How fast the match average of a leg changes with its expected darts.
fn by_dart(leg: &Leg) -> f64 {
    -leg.match_average() / leg.expected_darts()
}

/// How fast the checkout rate changes with the expected darts at a double.
fn by_dart_at_double(leg: &Leg) -> f64 {
    let darts = leg.darts_at_double();
    if darts > 0.0 {
        -1.0 / (darts * darts)
    } else {
        0.0
    }
}

impl<'a> Side<'a> {
    pub(super) fn of(subject: &'a Subject, first: &Subject) -> Self {
        Self {
            subject,
            slopes: Slopes::of(subject),
            averages: OnceLock::new(),
            ratio: band_harder_by_area(subject.face(), first.face(), Band::Treble),
        }
    }

    fn scoring(&self, spread: Spread) -> f64 {
        let on = || Averages::on(self.subject.face(), self.subject.metal);
        self.averages.get_or_init(on).of(spread).0
    }

    fn solve(&self, sigma: f64, leg: LegOptions) -> Result<Leg, CompareError> {
        let spread = Spread::new(sigma)?;
        Ok(Leg::solve(self.subject.setup(None), spread, leg)?)
    }

    /// A leg, its slopes, and how fast its match average and checkout rate change with the
    /// spread, per mm.
    fn rated(
        &self,
        sigma: f64,
        leg: LegOptions,
    ) -> Result<(Leg, LegSlopes, [f64; 2]), CompareError> {
        let leg = self.solve(sigma, leg)?;
        let slopes = leg.slopes();
        let weigh = |sigma: f64| -> Result<LegSums, CompareError> {
            Ok(slopes.weigh(self.subject.setup(None), Spread::new(sigma)?))
        };
        let (more, less) = (weigh(sigma + STEP)?, weigh(sigma - STEP)?);
        let rates = [
            by_dart(&leg) * (more.cost - less.cost),
            by_dart_at_double(&leg) * (more.at_double - less.at_double),
        ];
        Ok((leg, slopes, rates.map(|change| change / (2.0 * STEP))))
    }

    pub(super) fn at(&self, sigma: f64, leg: LegOptions) -> Result<Solved, CompareError> {
        let (leg, slopes, rates) = self.rated(sigma, leg)?;
        let (spread, metal) = (Spread::new(sigma)?, self.subject.metal);
        let lengths = self.slopes.of_figures(2, |face| {
            let sums = slopes.weigh(Setup { face, metal }, spread);
            vec![
                by_dart(&leg) * sums.cost,
                by_dart_at_double(&leg) * sums.at_double,
            ]
        });
        let mut changes = rates.into_iter().zip(lengths);
        let mut next = || {
            let (rate, lengths) = changes.next().unwrap_or_default();
            Changes { rate, lengths }
        };
        Ok(Solved {
            spread,
            match_average: next(),
            checkout_rate: next(),
            leg,
        })
    }

    /// The leg of the player who has this match average here: Newton's method, kept
    /// between spreads that have more and less.
    pub(super) fn with_average(
        &self,
        average: f64,
        [mut narrow, mut sigma, mut wide]: [f64; 3],
        leg: LegOptions,
    ) -> Result<Solved, CompareError> {
        for _ in 0..MOST_STEPS {
            let (solved, _, [rate, _]) = self.rated(sigma, leg)?;
            let excess = solved.match_average() - average;
            if excess > 0.0 {
                narrow = sigma;
            } else {
                wide = sigma;
            }
            let next = sigma - excess / rate;
            sigma = if next > narrow && next < wide {
                next
            } else {
                0.5 * (narrow + wide)
            };
            if excess.abs() < CLOSE {
                break;
            }
        }
        self.at(sigma, leg)
    }

    /// How sure a match average here is of a player who has a certain one on the first
    /// board: its lengths change the spread that stands behind it.
    pub(super) fn certainty(&self, here: &Solved, first: &Side<'_>, there: &Solved) -> Certainty {
        let value = here.leg.match_average();
        self.certainty_of(value, &here.match_average, first, there)
    }

    fn certainty_of(
        &self,
        value: f64,
        here: &Changes,
        first: &Side<'_>,
        there: &Solved,
    ) -> Certainty {
        let there = &there.match_average;
        let follows = Linear::default().plus(-here.rate / there.rate, &there.lengths);
        let boards = if std::ptr::eq(self.subject, first.subject) {
            self.slopes.uncertainty(&follows.plus(1.0, &here.lengths))
        } else {
            self.slopes
                .uncertainty_with(&here.lengths, (&first.slopes, &follows))
        };
        let causes = Causes {
            value,
            boards,
            player: Vec::new(),
        };
        causes.certainty()
    }

    fn worth(&self, board: usize, here: &Solved, first: &Side<'_>, there: &Solved) -> MatchWorth {
        let simply = self
            .ratio
            .and_then(|ratio| translate_simply(first.scoring(there.spread), ratio).ok());
        MatchWorth {
            match_average: here.leg.match_average(),
            certainty: match board {
                0 => Certainty::Exact,
                _ => self.certainty(here, first, there),
            },
            expected_darts: here.leg.expected_darts(),
            checkout_rate: here.leg.checkout_rate(),
            checkout_rate_certainty: self.certainty_of(
                here.leg.checkout_rate().unwrap_or_default(),
                &here.checkout_rate,
                first,
                there,
            ),
            scoring_average: self.scoring(here.spread),
            scoring_simply: simply,
        }
    }
}
