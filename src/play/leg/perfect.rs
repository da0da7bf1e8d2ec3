//! A leg in the fewest darts that it can take.

use super::aim::Pick;
use super::line::{Line, Outlook};
use super::options::{Aims, Entry, LegOptions};
use super::outcome::LARGEST;
use super::range::Range;
use super::solution::check_start;
use crate::geometry::{Bed, Point};
use crate::play::legs::fewest;
use crate::play::{PlayError, Setup, Spread, Target};

/// What an aim may miss of a probability, as a share of it.
const TOLERANCE: f64 = 1e-10;

/// A perfect leg: won in the fewest darts that its start can take.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct PerfectLeg {
    /// How many darts that is: nine from 501.
    pub darts: usize,
    /// The probability of it for a player who plays for nothing else, 0 to 1.
    pub chance: f64,
    /// Where the first dart is aimed, in mm.
    pub aim: Point,
    /// The bed whose middle that is, or is nearest.
    pub bed: Bed,
}

impl PerfectLeg {
    /// The greatest probability of a perfect leg. What the options say of the
    /// objective does not count.
    pub fn solve(setup: Setup<'_>, spread: Spread, options: LegOptions) -> Result<Self, PlayError> {
        check_start(options.start)?;
        let plan = Fewest::of(options)?;
        let mut range = match options.aims {
            Aims::Middles => Range::middles(setup, spread),
            Aims::Continuous => Range::anywhere(setup, spread, TOLERANCE),
        };
        // chance[t]: of finishing t in as many darts as it takes at least.
        let mut chance = vec![0.0; plan.reach.len()];
        let mut first = Pick {
            aim: 0,
            line: Line::VOID,
        };
        for darts in 1..=plan.darts {
            let entry = options.entry == Entry::Double && darts == plan.darts;
            for total in plan.within_reach(darts) {
                let outlook = plan.outlook(total, darts, entry, &chance);
                first = range.choose(&outlook, &[first.aim]);
                if let Some(place) = chance.get_mut(total) {
                    *place = -first.line.excess;
                }
            }
        }
        let aim = range.get(first.aim);
        let (aim, bed) = aim.map_or((Point::ORIGIN, Target::Bull.main_bed()), |aim| {
            (aim.place, aim.bed)
        });
        Ok(Self {
            darts: plan.darts,
            chance: -first.line.excess,
            aim,
            bed,
        })
    }
}

/// The fewest darts from a start, and from every total below it.
struct Fewest {
    start: usize,
    darts: usize,
    reach: Vec<Option<usize>>,
}

impl Fewest {
    fn of(options: LegOptions) -> Result<Self, PlayError> {
        let start = options.start as usize;
        let (darts, reach) = fewest(options.start)?;
        let darts = match options.entry {
            Entry::Straight => Some(darts),
            Entry::Double => {
                let doubles = Target::all().filter(|target| target.is_double());
                let first = |score: usize| match start.checked_sub(score)? {
                    0 => Some(1),
                    rest => Some(reach.get(rest).copied().flatten()? + 1),
                };
                doubles
                    .filter_map(|double| first(usize::from(double.score())))
                    .min()
            }
        };
        Ok(Self {
            start,
            darts: darts.ok_or(PlayError::NeverFinishes(options.start))?,
            reach,
        })
    }

    /// Totals that may be left with this many darts to come. No way that takes
    /// the fewest darts passes a total that could be finished in fewer.
    fn within_reach(&self, darts: usize) -> Vec<usize> {
        if darts == self.darts {
            return vec![self.start];
        }
        let lowest = self.start.saturating_sub(LARGEST * (self.darts - darts));
        let takes = |total: &usize| self.reach.get(*total) == Some(&Some(darts));
        (lowest.max(2)..self.start).filter(takes).collect()
    }

    /// What follows a dart: the probability of a perfect leg, upside down.
    fn outlook(&self, total: usize, darts: usize, entry: bool, chance: &[f64]) -> Outlook {
        let won = Line {
            excess: -1.0,
            leave: 1.0,
        };
        Outlook::new(Line::VOID, |score, double| {
            let rest = total.checked_sub(score);
            match rest {
                Some(0) if double && darts == 1 => won,
                Some(rest) if rest > 0 && (double || !entry) => {
                    let takes = self.reach.get(rest).copied().flatten();
                    let next = chance.get(rest).filter(|_| takes == Some(darts - 1));
                    next.map_or(Line::VOID, |next| Line {
                        excess: -next,
                        leave: 0.0,
                    })
                }
                _ => Line::VOID,
            }
        })
    }
}

/// The probability of at least one in so many legs, each with this
/// probability: 1 − (1 − p)ⁿ.
pub fn chance_in_legs(chance: f64, legs: f64) -> f64 {
    -libm::expm1(legs * libm::log1p(-chance))
}

/// How many legs it takes until at least one has come with a probability of
/// `wanted`: log(1 − wanted)/log(1 − p). Infinite if it never comes.
pub fn legs_for_chance(chance: f64, wanted: f64) -> f64 {
    libm::log1p(-wanted) / libm::log1p(-chance)
}
