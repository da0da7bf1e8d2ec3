//! All of it together.

use super::CompareError;
use super::areas::{board_areas, differences};
use super::average_slopes::AverageSide;
use super::averages::{Pair, Prepared, table};
use super::by_area::Figure;
use super::curves::{self, Curves};
use super::data::TREBLE;
use super::legs::leg;
use super::log_odds::LogOdds;
use super::map::map;
use super::odds::{Side, Thrower, route_odds, routes, target_odds};
use super::player::Known;
use super::slopes::Slopes;
use super::{
    Assumptions, AverageTable, BandDifference, BestAim, BoardAreas, ByMetal, Certainty,
    CompareOptions, DEFAULT_AVERAGES, DEFAULT_START, RouteOdds, ScoreMap, StartLegs, Subject,
    TargetOdds,
};
use crate::board::Band;
use crate::play::band_harder_by_area;

/// Boards set against the first of them. Lengths in mm, areas in mm²,
/// differences in percent, probabilities from 0 to 1.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Comparison {
    /// The boards, in the order of the run.
    pub boards: Vec<BoardAreas>,
    /// What every figure under the spread rule assumes.
    pub assumptions: Assumptions,
    /// This player's own three-dart average on each board, in the order of the boards:
    /// scoring darts, each board's own best aim, with the spread as it is, which need not
    /// be equal in all directions.
    pub player_averages: Vec<ByMetal<f64>>,
    /// How sure each of them is in the chosen setting.
    pub player_average_certainties: Vec<Certainty>,
    /// Where the player aims for it on each board in the chosen setting: the best aim, and
    /// others only where they score as much.
    pub player_aims: Vec<Vec<BestAim>>,
    /// Every board but the first against the first.
    pub differences: Vec<Difference>,
    /// The shortest legs, and the easiest of them on each board.
    pub legs: Vec<StartLegs>,
    /// The expected score over each board; empty unless it was asked for.
    pub maps: Vec<ScoreMap>,
}

/// One board against the first.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Difference {
    /// The board's place in the list of boards, from 0.
    pub board: usize,
    /// Its bands, from the bull outwards.
    pub bands: Vec<BandDifference>,
    /// Each kind of target.
    pub targets: Vec<TargetOdds>,
    /// Routes.
    pub routes: Vec<RouteOdds>,
    /// Averages.
    pub averages: AverageTable,
    /// The same over the whole range of players.
    pub curves: Curves,
}

/// Sets every board against the first.
///
/// ```
/// use ringrule::board::Mounting;
/// use ringrule::comparison::{CompareOptions, Subject, compare};
/// use ringrule::document::Source;
/// use ringrule::table::{Table, shelf_of};
///
/// let path = std::path::Path::new("tolerances/wdf.yaml");
/// let source = Source::new("wdf.yaml", std::fs::read_to_string(path)?);
/// let table = Table::read(source, &shelf_of(path))?;
/// let boards = Mounting::ALL.map(|mounting| Subject::of_nominal(&table, mounting));
/// let [staples, embedded] = boards;
/// let comparison = compare(&[staples?, embedded?], &CompareOptions::default())?;
/// // Strips leave more of a treble free than round wires do.
/// let [difference] = comparison.differences.as_slice() else { panic!("two boards") };
/// let treble = &difference.targets[0];
/// assert!(treble.harder_by_area.is_some_and(|ratio| ratio < 1.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn compare(subjects: &[Subject], options: &CompareOptions) -> Result<Comparison, CompareError> {
    let [first, others @ ..] = subjects else {
        return Err(CompareError::TooFew);
    };
    if others.is_empty() {
        return Err(CompareError::TooFew);
    }
    let known = Known::of(&options.spread, first)?;
    let (spread, aim) = (known.spread, options.aim);
    let averages = or_default(&options.averages, &DEFAULT_AVERAGES);
    let prepared: Vec<Prepared<'_>> = subjects.iter().map(Prepared::of).collect();
    let slopes: Vec<Slopes<'_>> = subjects.iter().map(Slopes::of).collect();
    let side = |board: usize| {
        Some(AverageSide {
            subject: subjects.get(board)?,
            averages: prepared.get(board)?.with(None),
            slopes: slopes.get(board)?,
        })
    };
    let (Some(prepared_first), Some(on_first)) = (prepared.first(), side(0)) else {
        return Err(CompareError::TooFew);
    };
    for average in averages {
        // An average that nobody can have must not silently become a gap.
        if !options.averages.is_empty() {
            on_first.averages.spread_of(*average)?;
        }
    }
    let starts = or_default(&options.starts, &[DEFAULT_START]).iter();
    let legs: Vec<_> = starts
        .map(|start| leg(*start, subjects, spread, aim))
        .collect::<Result<_, _>>()?;
    let perfect = legs
        .iter()
        .filter_map(|leg| Some((leg.start, leg.on_first()?)));
    let routes = routes(perfect.collect(), &options.routes);
    let follows = on_first.follows(&known);
    let own = |prepared: &Prepared<'_>| ByMetal::of(|metal| prepared.with(metal).of(spread).0);
    let logs: Vec<LogOdds<'_>> = subjects
        .iter()
        .zip(&slopes)
        .map(|(subject, slopes)| LogOdds::of(subject, slopes, &known, aim, &routes))
        .collect();
    let pairs = subjects.iter().zip(&logs).enumerate();
    let mut pairs = pairs.map(|(board, (subject, logs))| (board, Side { subject, logs }));
    let Some((_, than)) = pairs.next() else {
        return Err(CompareError::TooFew);
    };
    let thrower = Thrower {
        spread,
        aim,
        follows: &follows,
    };
    let mut differences_found = Vec::with_capacity(others.len());
    for (index, here) in pairs {
        let (Some(prepared_here), Some(on_this)) = (prepared.get(index), side(index)) else {
            continue;
        };
        let subject = here.subject;
        let ratio = band_harder_by_area(subject.face(), first.face(), Band::Treble);
        let ratio = ratio.ok_or_else(|| CompareError::NoTreble(subject.label.clone()))?;
        let (spreads_mm, targets) = curves::targets(subject, first);
        let pair = Pair {
            board: (prepared_here, on_this),
            first: (prepared_first, on_first),
            treble: Figure {
                value: ratio,
                certainty: here.logs.by_area(than.logs, TREBLE),
            },
        };
        differences_found.push(Difference {
            board: index,
            bands: differences(subject, first),
            targets: target_odds(here, than, thrower),
            routes: route_odds(here, than, thrower, &routes),
            averages: table(&pair, averages),
            curves: Curves {
                spreads_mm,
                targets,
                averages: curves::averages(prepared_here, prepared_first, ratio),
            },
        });
    }
    let sides = (0..subjects.len()).filter_map(side);
    let certainties = sides.map(|side| side.own_certainty(&known, &on_first, &follows));
    let numbered = subjects.iter().enumerate().filter(|_| options.maps);
    Ok(Comparison {
        boards: subjects.iter().map(board_areas).collect(),
        assumptions: known.assumptions(aim, on_first.averages.of(spread).0),
        player_averages: prepared.iter().map(own).collect(),
        player_average_certainties: certainties.collect(),
        player_aims: subjects
            .iter()
            .map(|subject| BestAim::all(subject, spread))
            .collect(),
        differences: differences_found,
        legs,
        maps: numbered
            .map(|(board, subject)| map(board, subject, spread))
            .collect(),
    })
}

fn or_default<'a, T>(given: &'a [T], default: &'a [T]) -> &'a [T] {
    if given.is_empty() { default } else { given }
}
