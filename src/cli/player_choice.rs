//! Whose throws it is about, for every command that asks what a board does to them.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::comparison::{CompareError, Sighting, SpreadSource, read_throws};
use ringrule::play::{AimRule, Spread, Target};

use super::context::{Context, Stop};
use super::values::{List, number, numbers};

#[derive(Debug, Args)]
pub(crate) struct PlayerChoice {
    #[command(flatten)]
    known: Known,
    /// What the throws were aimed at. Needs `--throws`.
    #[arg(long, value_name = "TARGET")]
    at: Option<Target>,
    /// What the player does about a sighting error that positions show: darts that land
    /// beside the aim in the mean; corrected if nothing is said. Needs `--throws` and `--at`.
    #[arg(long, value_enum, value_name = "WHAT")]
    sighting: Option<SightingChoice>,
}

/// What is known of a player: one thing or nothing.
#[derive(Debug, Args)]
#[group(multiple = false)]
struct Known {
    /// The standard deviation of the player's throws at the board in mm; two of
    /// them for sideways and up, a third for their correlation: `12`, `10,14`,
    /// `10,14,0.2`.
    #[arg(long, value_name = "MM", value_parser = numbers, allow_negative_numbers = true)]
    spread: Option<List<f64>>,
    /// The player's three-dart average on the first board, scoring darts.
    #[arg(long, value_name = "AVERAGE", value_parser = number, allow_negative_numbers = true)]
    player_average: Option<f64>,
    /// Throws to estimate the spread from.
    #[arg(long, value_name = "FILE")]
    throws: Option<PathBuf>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum SightingChoice {
    /// Aims beside the target, so that darts scatter about it.
    Corrected,
    /// Nothing: the error counts as spread about the aim.
    Kept,
}

/// Where a player aims who throws at a target: of a leg, aims follow from the leg.
#[derive(Debug, Args)]
pub(crate) struct AimChoice {
    /// Where the player aims for a target; the middle if nothing is said.
    #[arg(long, value_enum, value_name = "WHERE")]
    aim: Option<Aim>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Aim {
    /// At the middle of the bed.
    Middle,
    /// Where the target is hit most often.
    MostHits,
}

impl AimChoice {
    pub(crate) const fn is_given(&self) -> bool {
        self.aim.is_some()
    }

    pub(crate) const fn rule(&self) -> AimRule {
        match self.aim {
            None | Some(Aim::Middle) => AimRule::Middle,
            Some(Aim::MostHits) => AimRule::MostHits,
        }
    }
}

impl PlayerChoice {
    /// Whether anything is said of the player.
    pub(crate) const fn is_given(&self) -> bool {
        let Known {
            spread,
            player_average,
            throws,
        } = &self.known;
        let aimed = self.at.is_some() || self.sighting.is_some();
        spread.is_some() || player_average.is_some() || throws.is_some() || aimed
    }

    /// Refuses what is said of throws where there are none: the parser lets it pass beside
    /// what excludes throws.
    fn check(&self) -> Result<(), Stop> {
        let words = match (&self.known.throws, self.at, self.sighting) {
            (None, Some(_), _) => {
                "`--at` says what throws were aimed at: name them with `--throws`"
            }
            (None, None, Some(_)) => {
                "`--sighting` is about throws at a target: name them with `--throws` and `--at`"
            }
            (Some(_), None, Some(_)) => {
                "`--sighting` needs the target that the throws were aimed at: name it with `--at`"
            }
            _ => return Ok(()),
        };
        Err(Stop::said(words))
    }

    pub(crate) fn spread(&self, context: &Context) -> Result<SpreadSource, Stop> {
        self.check()?;
        let Known {
            spread,
            player_average,
            throws,
        } = &self.known;
        if let Some(path) = throws {
            let throws = read_throws(context.inputs().text(path)?)?;
            let sighting = match self.sighting {
                None | Some(SightingChoice::Corrected) => Sighting::Corrected,
                Some(SightingChoice::Kept) => Sighting::Kept,
            };
            return Ok(SpreadSource::Throws(throws, self.at, sighting));
        }
        if let Some(average) = player_average {
            return Ok(SpreadSource::Average(*average));
        }
        let spread = match spread.as_ref().map(List::as_slice) {
            None => return Ok(SpreadSource::Assumed),
            Some([sigma]) => Spread::new(*sigma),
            Some([x, y]) => Spread::with(*x, *y, 0.0),
            Some([x, y, rho]) => Spread::with(*x, *y, *rho),
            Some(_) => return Err(Stop::said("a spread has one to three numbers")),
        };
        spread.map(SpreadSource::Given).map_err(Stop::said)
    }

    /// Why nothing can be said of this player; of beds, that their target must be named.
    pub(crate) fn why(error: &CompareError) -> Stop {
        match error {
            CompareError::NoTarget => {
                Stop::Said(format!("{error} with `--at`, such as `--at T20`"))
            }
            error => Stop::said(error),
        }
    }
}
