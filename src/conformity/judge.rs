//! A table made ready to judge any number of boards.

use std::sync::OnceLock;

use super::bands::{NominalBand, compare};
use super::extremes::Feasible;
use super::finding::{Assessment, Contradiction, LengthFinding, LimitFinding, Outcome};
use super::measure::{Measured, Part, measure};
use super::propagate::FreeArea;
use super::suspect::suspect;
use super::{BandFinding, BandOutcome, Verdict, decide};
use crate::board::{Band, Board, Construction, Edge, InputId, Linear, Mounting, PerBand};
use crate::geometry::{Spider, band_area};
use crate::table::{Demand, Interval, Limit, Nominal, Table};
use crate::units::{Length, Percent};

/// How far two ways to the same width may differ where the file states no
/// uncertainty. House rule: what two hand readings of a calliper are trusted to.
const UNSTATED_DIFFERENCE: Length = Length::mm(0.1);

/// The coverage factor for "more than their uncertainties allow". House rule,
/// the usual k = 2.
const DIFFERENCE_COVERAGE: f64 = 2.0;

/// Which nominal board a band is compared with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reference {
    /// The one for the board's own mounting; its bounds make a verdict.
    #[default]
    OwnMounting,
    /// The one for this mounting, whatever the board's: a comparison without a
    /// verdict.
    Always(Mounting),
}

/// Judges boards against one table.
pub struct Judge<'t> {
    table: &'t Table,
    reference: Reference,
    staples: OnceLock<Option<NominalBands>>,
    embedded: OnceLock<Option<NominalBands>>,
}

type NominalBands = PerBand<Option<NominalBand>>;

impl<'t> Judge<'t> {
    /// Prepares a table. What it says of band areas is computed when the first
    /// board of each mounting is judged.
    pub const fn new(table: &'t Table, reference: Reference) -> Self {
        Self {
            table,
            reference,
            staples: OnceLock::new(),
            embedded: OnceLock::new(),
        }
    }

    /// Checks every limit that is for this kind of board, and every band.
    pub fn judge<'a>(&'a self, board: &'a Board) -> Assessment<'a> {
        let construction = &board.construction;
        let kind = (construction.mounting, construction.profile);
        let applies = |limit: &&Limit| limit.when.matches(kind.0, kind.1);
        let applicable: Vec<&Limit> = self.table.limits.iter().filter(applies).collect();
        let limits: Vec<_> =
            applicable.iter().flat_map(|limit| self.check(limit, construction)).collect();
        let broken = limits
            .iter()
            .any(|finding| finding.outcome.verdict() == Some(Verdict::DoesNotConform));
        let suspicion = if broken { suspect(construction, &applicable) } else { None };
        let mut assessment = Assessment {
            board,
            table: self.table,
            verdict: Verdict::Inconclusive,
            limits,
            bands: self.bands(board),
            suspicion,
        };
        assessment.verdict = assessment.tally().verdict();
        assessment
    }

    fn check<'a>(&self, limit: &'a Limit, board: &Construction) -> Vec<LimitFinding<'a>> {
        let finding = |part: String, outcome| LimitFinding {
            limit,
            part,
            outcome,
        };
        let interval = match &limit.demand {
            Demand::OneOf(allowed) => {
                let verdict = if allowed.contains(&board.mounting) {
                    Verdict::Conforms
                } else {
                    Verdict::DoesNotConform
                };
                let found = board.mounting;
                return vec![finding(String::new(), Outcome::Mounting { found, verdict })];
            }
            Demand::Within(interval) => *interval,
        };
        match measure(board, limit.measurand, limit.edge.unwrap_or(Edge::Apex)) {
            Measured::Missing(missing) => {
                vec![finding(String::new(), Outcome::NotChecked(missing))]
            }
            Measured::Parts(parts) => parts
                .into_iter()
                .map(|part| {
                    let length = self.length(&part, interval, board);
                    finding(part.name, Outcome::Length(Box::new(length)))
                })
                .collect(),
        }
    }

    fn length(&self, part: &Part, interval: Interval, board: &Construction) -> LengthFinding {
        let lower = interval.lower.map(Length::as_mm);
        let upper = interval.upper.map(Length::as_mm);
        let decide_form = |form: &Linear| {
            let value = board.value(form);
            let u = form.standard_uncertainty(&board.inputs);
            let u_mm = u.map(Length::as_mm);
            (value, u, decide(value.as_mm(), u_mm, lower, upper, self.table.decision))
        };
        let (value, standard_uncertainty, mut decided) = decide_form(&part.form);
        let contradiction = part.check.as_ref().and_then(|check| {
            let difference = part.form.clone().plus(-1.0, check);
            let u = difference.standard_uncertainty(&board.inputs);
            let allowed = u.map_or(UNSTATED_DIFFERENCE, |u| u * DIFFERENCE_COVERAGE);
            (board.value(&difference).abs() > allowed).then(|| Contradiction {
                other: board.value(check),
                allowed,
                inputs: inputs_of(check),
            })
        });
        if contradiction.is_some()
            && let Some(check) = &part.check
            && decide_form(check).2.verdict != decided.verdict
        {
            // Which of the two is right cannot be told from the file.
            decided.verdict = Verdict::Inconclusive;
        }
        LengthFinding {
            value,
            standard_uncertainty,
            interval,
            excess: excess(value, interval),
            decided,
            inputs: inputs_of(&part.form),
            contradiction,
        }
    }

    fn bands<'a>(&'a self, board: &Board) -> Vec<BandFinding<'a>> {
        let construction = &board.construction;
        let spider = Spider::of(construction);
        let (mounting, judged) = match self.reference {
            Reference::OwnMounting => (construction.mounting, true),
            Reference::Always(mounting) => (mounting, false),
        };
        let nominal = self.table.nominal(mounting);
        let bands = self.nominal_bands(mounting);
        let outcome = |band| match (nominal, bands) {
            (Some(nominal), Some(bands)) => {
                let profile = nominal.construction.profile;
                if judged && profile != construction.profile {
                    return BandOutcome::NotChecked(vec![format!(
                        "a nominal board of {} with {}: the table's has {}",
                        mounting,
                        construction.profile.name(),
                        profile.name()
                    )]);
                }
                match &bands[band] {
                    Some(own) => compare(
                        board,
                        &spider,
                        band,
                        (&nominal.construction, own),
                        self.table.bands[band].as_ref(),
                        judged,
                        self.table.decision,
                    ),
                    None => BandOutcome::NotChecked(vec![format!(
                        "the {band} of the table's nominal board for {mounting}"
                    )]),
                }
            }
            _ => match FreeArea::of(construction, &spider, band) {
                Some(free) => BandOutcome::NoNominal(Box::new(free)),
                None => BandOutcome::NotChecked(vec![format!(
                    "a nominal board for {mounting} in the table, and measurements of this band"
                )]),
            },
        };
        let finding = |band| BandFinding {
            band,
            outcome: outcome(band),
        };
        Band::ALL.into_iter().map(finding).collect()
    }

    fn nominal_bands(&self, mounting: Mounting) -> Option<&NominalBands> {
        let cell = match mounting {
            Mounting::Staples => &self.staples,
            Mounting::Embedded => &self.embedded,
        };
        let nominal = self.table.nominal(mounting)?;
        cell.get_or_init(|| Some(nominal_bands(self.table, nominal, mounting))).as_ref()
    }
}

fn nominal_bands(table: &Table, nominal: &Nominal, mounting: Mounting) -> NominalBands {
    let construction = &nominal.construction;
    let spider = Spider::of(construction);
    let profile = construction.profile;
    let feasible = Feasible::new(&table.limits, construction, mounting, profile);
    PerBand::from_fn(|band| {
        let area = band_area(&spider, band)?;
        let free = area.free.as_mm2();
        let percent = |extreme: f64| Percent::of((extreme - free) / free);
        let extremes = feasible.as_ref().and_then(|feasible| feasible.extremes(band));
        Some(NominalBand {
            area: area.free,
            rates: area.rates,
            derived: extremes.map(|(least, greatest)| (percent(least), percent(greatest))),
        })
    })
}

fn inputs_of(form: &Linear) -> Vec<InputId> {
    let mut inputs: Vec<_> = form.terms().iter().map(|&(id, _)| id).collect();
    inputs.sort_unstable();
    inputs
}

fn excess(value: Length, interval: Interval) -> Length {
    match interval {
        Interval {
            lower: Some(lower), ..
        } if value < lower => value - lower,
        Interval {
            upper: Some(upper), ..
        } if value > upper => value - upper,
        _ => Length::ZERO,
    }
}
