//! All of it together.

use super::super::data::TARGETS;
use super::super::odds::{NamedRoute, routes};
use super::super::{CompareError, CompareOptions};
use super::data::{
    AreaBoard, AreaComparison, AreaDifference, AreaOdds, AreaRoute, Described, RatioFrom,
};
use super::figure::Figure;
use super::ratio::GivenRatios;
use super::side::{Log, Side};
use super::{AreaSubject, averages, perfect};
use crate::board::{Band, PerBand};
use crate::geometry::Bed;
use crate::play::Target;

/// Sets boards against the first by their areas, or one that is given as `ratios` against
/// the only one, which need not be known. Of the options routes, averages and start
/// totals count.
///
/// ```
/// use ringrule::board::Band;
/// use ringrule::comparison::{CompareOptions, GivenRatios, compare_by_area};
///
/// let ratios = ["treble=1.16±0.01", "double=1.14"].map(str::parse);
/// let ratios = GivenRatios::new(ratios.into_iter().collect::<Result<Vec<_>, _>>()?)?;
/// let mut options = CompareOptions::default();
/// options.routes = vec!["T20 T20 D20".parse()?];
/// let comparison = compare_by_area(&[], Some(&ratios), &options)?;
/// let [difference] = comparison.differences.as_slice() else { panic!("two boards") };
/// let route = difference.routes.last().expect("the one that was asked for");
/// let harder = route.harder.expect("both ratios are given").value;
/// assert!((harder - 1.16 * 1.16 * 1.14).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn compare_by_area(
    subjects: &[AreaSubject],
    ratios: Option<&GivenRatios>,
    options: &CompareOptions,
) -> Result<AreaComparison, CompareError> {
    let first = subjects.first();
    let asked = averages::asked(&options.averages)?;
    let (perfect, leg_rule) = perfect::legs(first, options)?;
    let routes = routes(perfect, &options.routes);
    let mut boards: Vec<AreaBoard> = subjects.iter().map(AreaSubject::board).collect();
    let mut pairs = Vec::new();
    match (subjects, ratios) {
        ([], Some(_)) => {
            boards.push(undescribed("first board", Described::NotDescribed));
            pairs.push(Pair::given(first, ratios));
        }
        ([_], Some(_)) => pairs.push(Pair::given(first, ratios)),
        ([first, others @ ..], None) if !others.is_empty() => {
            for other in others {
                if !TARGETS
                    .into_iter()
                    .any(|band| first.has(band) && other.has(band))
                {
                    return Err(CompareError::NothingInCommon {
                        first: first.label().to_owned(),
                        other: other.label().to_owned(),
                    });
                }
                pairs.push(Pair::known(first, other));
            }
        }
        (_, None) => return Err(CompareError::TooFew),
        (_, Some(_)) => return Err(CompareError::RatiosAndBoards(subjects.len())),
    }
    if ratios.is_some() {
        boards.push(undescribed("other board", Described::Ratios));
    }
    let differences = pairs.iter().enumerate();
    let differences = differences.map(|(index, pair)| pair.difference(index + 1, &routes, &asked));
    Ok(AreaComparison {
        boards,
        differences: differences.collect(),
        leg_rule,
    })
}

/// A board of which no file says anything.
fn undescribed(label: &str, described: Described) -> AreaBoard {
    AreaBoard {
        label: label.to_owned(),
        name: None,
        file: None,
        described,
        beds: Vec::new(),
        beside: Vec::new(),
        lacks: Vec::new(),
        has_rings: false,
        filled: Vec::new(),
    }
}

/// A board and the first one; the board is described, or given as ratios.
#[derive(Clone, Copy)]
struct Pair<'a> {
    first: Option<&'a AreaSubject>,
    board: Option<&'a AreaSubject>,
    ratios: Option<&'a GivenRatios>,
}

impl<'a> Pair<'a> {
    const fn known(first: &'a AreaSubject, board: &'a AreaSubject) -> Self {
        Self {
            first: Some(first),
            board: Some(board),
            ratios: None,
        }
    }

    const fn given(first: Option<&'a AreaSubject>, ratios: Option<&'a GivenRatios>) -> Self {
        Self {
            first,
            board: None,
            ratios,
        }
    }

    fn difference(self, board: usize, routes: &[NamedRoute], averages: &[f64]) -> AreaDifference {
        let targets: Vec<AreaOdds> = TARGETS.map(|band| self.odds(band)).into();
        let treble = targets.iter().find(|odds| odds.band == Band::Treble);
        let treble = treble.and_then(|odds| odds.harder);
        AreaDifference {
            board,
            routes: routes.iter().map(|route| self.route(route)).collect(),
            averages: treble.map(|treble| averages::table(treble, averages)),
            targets,
        }
    }

    fn figure(self, log: &Log) -> Figure {
        let known = log.known(self.first, self.board, self.ratios);
        Figure::product(log.value, known)
    }

    fn odds(self, band: Band) -> AreaOdds {
        let log = match self.ratios {
            Some(ratios) => Some(given(ratios, band)),
            None => self.mean_beds(band),
        };
        AreaOdds {
            band,
            harder: log.map(|log| self.figure(&log)),
            from: match self.ratios {
                None => RatioFrom::Areas,
                Some(ratios) if ratios.of(band).is_some() => RatioFrom::Given,
                Some(_) => RatioFrom::NotNamed,
            },
        }
    }

    fn route(self, (name, route): &NamedRoute) -> AreaRoute {
        let mut sum = Some(Log::default());
        let mut lacks: Vec<Band> = Vec::new();
        let mut counted: Vec<(Target, f64)> = Vec::new();
        for target in route.targets() {
            match counted.iter_mut().find(|(known, _)| known == target) {
                Some((_, darts)) => *darts += 1.0,
                None => counted.push((*target, 1.0)),
            }
        }
        for (target, darts) in counted {
            let beds = target.beds();
            let log = self.target(&beds);
            if log.is_none() {
                let bands = beds.iter().map(|bed| bed.band());
                lacks.extend(bands.filter(|band| !self.has(*band)));
            }
            sum = sum.zip(log).map(|(sum, log)| sum.plus(darts, &log));
        }
        lacks.sort_unstable();
        lacks.dedup();
        AreaRoute {
            name: *name,
            route: route.clone(),
            darts: route.targets().len(),
            total: route.total(),
            harder: sum.map(|log| self.figure(&log)),
            lacks,
        }
    }

    /// Whether the areas of a band are known where they are needed.
    fn has(self, band: Band) -> bool {
        let known = |board: Option<&AreaSubject>| board.is_some_and(|board| board.has(band));
        known(self.first) && (self.ratios.is_some() || known(self.board))
    }

    /// The ratio of a band's mean beds.
    fn mean_beds(self, band: Band) -> Option<Log> {
        let (first, board) = (self.first?.mean_bed(band)?, self.board?.mean_bed(band)?);
        Some(quotient(&first, &board))
    }

    /// The ratio of a target that is one bed or two.
    fn target(self, beds: &[Bed]) -> Option<Log> {
        let sum = |of: &AreaSubject| {
            beds.iter().try_fold((0.0, Side::default()), |sum, bed| {
                let (area, side) = of.bed(*bed)?;
                Some((sum.0 + area, sum.1.plus(1.0, &side)))
            })
        };
        let Some(ratios) = self.ratios else {
            return Some(quotient(&sum(self.first?)?, &sum(self.board?)?));
        };
        let mut bands = beds.iter().map(|bed| bed.band());
        let one = bands.next()?;
        // One bed, or two that are as much harder because nothing was said of either: the
        // first board does not matter.
        if bands.all(|band| ratios.of(band).is_none() && ratios.of(one).is_none()) {
            return Some(given(ratios, one));
        }
        shared(self.first?, ratios, beds)
    }
}

/// The logarithm of a given ratio.
fn given(ratios: &GivenRatios, band: Band) -> Log {
    let times = ratios.times(band);
    let slope = |own: Band| if own == band { 1.0 / times } else { 0.0 };
    Log {
        value: libm::log(times),
        ratios: PerBand::from_fn(slope),
        ..Log::default()
    }
}

/// The logarithm of the first board's area over the other's.
fn quotient((first, by_first): &(f64, Side), (board, by_board): &(f64, Side)) -> Log {
    Log {
        value: libm::log(first / board),
        first: by_first.clone().times(1.0 / first),
        board: by_board.clone().times(-1.0 / board),
        ratios: PerBand::default(),
    }
}

/// The same where the beds of a target have ratios of their own: with A the areas on the
/// first board and r the ratios, ln ΣA − ln Σ(A/r).
fn shared(first: &AreaSubject, ratios: &GivenRatios, beds: &[Bed]) -> Option<Log> {
    let beds = beds.iter().map(|bed| Some((bed.band(), first.bed(*bed)?)));
    let beds: Vec<_> = beds.collect::<Option<_>>()?;
    let (mut there, mut here) = (0.0, 0.0);
    for (band, (area, _)) in &beds {
        there += area;
        here += area / ratios.times(*band);
    }
    let mut log = Log {
        value: libm::log(there / here),
        ..Log::default()
    };
    for (band, (area, side)) in &beds {
        let times = ratios.times(*band);
        log.first = log.first.plus(1.0 / there - 1.0 / (times * here), side);
        log.ratios[*band] += area / (times * times * here);
    }
    Some(log)
}
