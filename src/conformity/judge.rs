//! A table made ready to judge any number of boards.

use std::sync::Arc;

use super::bands::{self, bounds, compare};
use super::finding::{Assessment, Contradiction, LengthFinding, LimitFinding, Outcome};
use super::measure::{Measured, Part, measure};
use super::nominal::PreparedNominal;
use super::propagate::FreeArea;
use super::suspect::suspect;
use super::{BandFinding, BandOutcome, Verdict, decide};
use crate::board::{Band, Board, Construction, Edge, InputId, Linear, Mounting};
use crate::geometry::Spider;
use crate::table::{Decision, Demand, Interval, Limit, Measurand, Table};
use crate::units::Length;

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
    staples: Option<PreparedNominal<'t>>,
    embedded: Option<PreparedNominal<'t>>,
}

impl<'t> Judge<'t> {
    /// Prepares a table. What it says of band areas is computed when the first
    /// board of a kind is judged, and kept.
    pub fn new(table: &'t Table, reference: Reference) -> Self {
        let prepare = |nominal| PreparedNominal::new(&table.limits, nominal);
        Self {
            table,
            reference,
            staples: table.staples.as_ref().map(prepare),
            embedded: table.embedded.as_ref().map(prepare),
        }
    }

    /// Checks every limit that is for this kind of board, and every band.
    pub fn judge<'a>(&'a self, board: &'a Board) -> Assessment<'a> {
        let construction = &board.construction;
        let kind = (construction.mounting, construction.profile);
        let applies = |limit: &&Limit| limit.when.matches(kind.0, kind.1);
        let applicable: Vec<&Limit> = self.table.limits.iter().filter(applies).collect();
        let limits: Vec<_> = applicable
            .iter()
            .flat_map(|limit| self.check(limit, construction))
            .collect();
        let broken = limits
            .iter()
            .any(|finding| finding.outcome.verdict() == Some(Verdict::DoesNotConform));
        let suspicion = if broken {
            suspect(construction, &applicable)
        } else {
            None
        };
        let bands = self.bands(board, &limits);
        let mut assessment = Assessment {
            board,
            table: self.table,
            verdict: Verdict::Inconclusive,
            limits,
            bands,
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
                    let rule = self.rule_for(&part, limit.measurand, board);
                    let length = length(&part, interval, board, rule);
                    finding(part.name, Outcome::Length(Box::new(length)))
                })
                .collect(),
        }
    }

    /// A wire given as a gauge was identified, not measured: it is judged by
    /// what that gauge is, whatever the uncertainty of the file's lengths.
    fn rule_for(&self, part: &Part, measurand: Measurand, board: &Construction) -> Decision {
        let mut inputs = part
            .form
            .terms()
            .iter()
            .filter_map(|&(id, _)| board.input(id));
        let identified = inputs.all(|input| input.wire.is_some_and(|wire| wire.gauge.is_some()));
        if measurand.is_gauge() && identified {
            Decision::Simple
        } else {
            self.table.decision
        }
    }

    fn bands<'a>(&'a self, board: &Board, limits: &[LimitFinding<'_>]) -> Vec<BandFinding<'a>> {
        let construction = &board.construction;
        let (mounting, judged) = match self.reference {
            Reference::OwnMounting => (construction.mounting, true),
            Reference::Always(mounting) => (mounting, false),
        };
        let prepared = match mounting {
            Mounting::Staples => self.staples.as_ref(),
            Mounting::Embedded => self.embedded.as_ref(),
        };
        let spider = Spider::of(construction);
        let Some(prepared) = prepared else {
            return Band::ALL
                .into_iter()
                .map(|band| alone(construction, &spider, band))
                .collect();
        };
        let nominal = &prepared.nominal.construction;
        if judged && nominal.profile != construction.profile {
            let missing = format!(
                "a nominal board of {mounting} with {}: the table's has {}",
                construction.profile.name(),
                nominal.profile.name()
            );
            let not_checked = |band| BandFinding {
                band,
                outcome: BandOutcome::NotChecked(vec![missing.clone()]),
            };
            return Band::ALL.into_iter().map(not_checked).collect();
        }
        let derived = if judged {
            prepared.derived(construction)
        } else {
            Arc::default()
        };
        let compare_band = |construction: &Construction, spider: &Spider, band: Band| {
            let bounds = judged.then(|| bounds(self.table.bands[band].as_ref(), derived[band]));
            let own = prepared.bands[band].as_ref();
            compare(
                construction,
                spider,
                band,
                (nominal, own),
                bounds.flatten(),
                self.table.decision,
            )
        };
        // Where direct widths contradict the radii, the areas are looked at
        // both ways: from the radii, and with the widths in their place.
        let contradicted = limits
            .iter()
            .any(|finding| finding.outcome.is_contradicted());
        let other = contradicted.then(|| construction.by_direct_widths());
        let other = other.map(|other| (Spider::of(&other), other));
        let finding = |band| {
            let mut outcome = compare_band(construction, &spider, band);
            if let Some((spider, other)) = &other {
                outcome.doubt(&compare_band(other, spider, band));
            }
            BandFinding { band, outcome }
        };
        Band::ALL.into_iter().map(finding).collect()
    }
}

/// Judges one length, and checks it against other measurements of the same.
fn length(part: &Part, interval: Interval, board: &Construction, rule: Decision) -> LengthFinding {
    let lower = interval.lower.map(Length::as_mm);
    let upper = interval.upper.map(Length::as_mm);
    let decide_form = |form: &Linear| {
        let value = board.value(form);
        let u = form.standard_uncertainty(&board.inputs);
        let u_mm = u.map(Length::as_mm);
        (value, u, decide(value.as_mm(), u_mm, lower, upper, rule))
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

/// A band of a board that the table has no nominal board for.
fn alone<'a>(construction: &Construction, spider: &Spider, band: Band) -> BandFinding<'a> {
    let outcome = match FreeArea::of(construction, spider, band) {
        Some(free) => BandOutcome::NoNominal(Box::new(free)),
        None => BandOutcome::NotChecked(bands::missing(construction, band)),
    };
    BandFinding { band, outcome }
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
