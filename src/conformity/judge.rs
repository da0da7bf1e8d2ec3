//! A table made ready to judge any number of boards.

use super::bands::{bounds, compare};
use super::decide::decide_on;
use super::finding::{
    AgainstNominal, Assessment, Contradiction, LengthFinding, LimitFinding, Outcome,
};
use super::measure::{Part, WirePart, measure};
use super::nominal::PreparedNominal;
use super::propagate::FreeArea;
use super::suspect::suspect;
use super::{BandFinding, BandOutcome, Missing, Verdict};
use crate::board::{Band, Board, Construction, Edge, InputId, Linear, Mounting};
use crate::geometry::Spider;
use crate::table::{Decision, Demand, Interval, Limit, Table};
use crate::units::Length;

/// How far two ways to the same width may differ where the file states no
/// uncertainty. House rule: what two hand readings of a calliper are trusted to.
const UNSTATED_DIFFERENCE: Length = Length::mm(0.1);

/// The least difference that is a contradiction however small the stated
/// uncertainties: the noise of the arithmetic. House rule.
const LEAST_DIFFERENCE: Length = Length::mm(1e-6);

/// Judges boards against one table.
///
/// ```
/// use ringrule::board::Board;
/// use ringrule::conformity::{Judge, Verdict};
/// use ringrule::document::Source;
/// use ringrule::table::Table;
///
/// # let table = "format: ringrule/table/1
/// # title: House rules
/// # source: { document: House rules, provenance: invented }
/// # limits:
/// #   treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }
/// #   bull: { measurand: inner_bull.diameter, edge: inside, nominal: 12.7 mm, tolerance: 0.2 mm }
/// # ";
/// # let board = "format: ringrule/board/1
/// # board: { id: FL-99 }
/// # mounting: staples
/// # units: mm
/// # widths: { treble: { width: 7.7, edge: inside } }
/// # ";
/// let table = Table::read(Source::new("house.yaml", table), &())?;
/// let board = Board::read(Source::new("fl-99.yaml", board))?;
/// let judge = Judge::new(&table);
/// // The treble is 0.1 mm too narrow; the bull was not measured.
/// assert_eq!(judge.judge(&board).verdict, Verdict::DoesNotConform);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub struct Judge<'t> {
    table: &'t Table,
    beside: Option<Mounting>,
    staples: Option<PreparedNominal<'t>>,
    embedded: Option<PreparedNominal<'t>>,
}

impl<'t> Judge<'t> {
    /// Prepares a table. What it says of band areas is computed when the first
    /// board of a kind is judged, and kept.
    pub fn new(table: &'t Table) -> Self {
        let prepare = |nominal| PreparedNominal::new(&table.limits, nominal);
        Self {
            table,
            beside: None,
            staples: table.staples.as_ref().map(prepare),
            embedded: table.embedded.as_ref().map(prepare),
        }
    }

    /// Also compares the bands of every board with the nominal board of this
    /// mounting, whatever the board's own: a comparison, without a verdict.
    #[must_use]
    pub const fn beside(mut self, mounting: Mounting) -> Self {
        self.beside = Some(mounting);
        self
    }

    /// Checks every limit that is for this kind of board, and every band.
    pub fn judge<'a>(&'a self, board: &'a Board) -> Assessment<'a> {
        let construction = &board.construction;
        let (mounting, profile) = (construction.mounting, construction.profile);
        let applicable: Vec<&Limit> = self.table.limits_for(mounting, profile).collect();
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
        let bands = self.bands(construction, &limits);
        let mut assessment = Assessment {
            board,
            table: self.table,
            verdict: Verdict::Inconclusive,
            limits,
            bands,
            against: self
                .beside
                .map(|mounting| self.compare(construction, mounting)),
            suspicion,
            simulation: None,
        };
        assessment.verdict = assessment.tally().verdict();
        assessment
    }

    fn check<'a>(&self, limit: &'a Limit, board: &Construction) -> Vec<LimitFinding<'a>> {
        let finding = |part: Option<WirePart>, outcome| LimitFinding {
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
                return vec![finding(None, Outcome::Mounting { found, verdict })];
            }
            Demand::Within(interval) => *interval,
        };
        let measured = measure(board, limit.measurand, limit.edge.unwrap_or(Edge::Apex));
        let mut findings: Vec<_> = measured
            .parts
            .into_iter()
            .map(|part| {
                let length = if limit.measurand.is_gauge() && is_identified(&part, board) {
                    identified(&part, interval, board)
                } else {
                    length(&part, interval, board, self.table.decision)
                };
                finding(part.wires, Outcome::Length(Box::new(length)))
            })
            .collect();
        if !measured.missing.is_empty() {
            findings.push(finding(None, Outcome::NotChecked(measured.missing)));
        }
        findings
    }

    fn prepared(&self, mounting: Mounting) -> Option<&PreparedNominal<'t>> {
        match mounting {
            Mounting::Staples => self.staples.as_ref(),
            Mounting::Embedded => self.embedded.as_ref(),
        }
    }

    /// The bands against the nominal board for the board's own mounting.
    fn bands<'a>(
        &'a self,
        construction: &Construction,
        limits: &[LimitFinding<'_>],
    ) -> Vec<BandFinding<'a>> {
        let spider = Spider::of(construction);
        let Some(prepared) = self.prepared(construction.mounting) else {
            return each_band(|band| self.alone(construction, &spider, band));
        };
        let nominal = &prepared.nominal.construction;
        if nominal.profile != construction.profile {
            let missing = Missing::NominalProfile {
                mounting: construction.mounting,
                board: construction.profile,
                nominal: nominal.profile,
            };
            return each_band(|_| BandOutcome::NotChecked(vec![missing]));
        }
        let derived = prepared.derived(construction);
        let compared = |construction: &Construction, spider: &Spider, band: Band| {
            let bounds = bounds(self.table.bands[band].as_ref(), derived[band]);
            let own = (nominal, prepared.bands[band].as_ref());
            compare(construction, spider, band, own, bounds, self.table.decision)
        };
        // Where direct widths contradict the radii, the areas are looked at
        // both ways: from the radii, and with the widths in their place.
        let contradicted = limits
            .iter()
            .any(|finding| finding.outcome.is_contradicted());
        let other = contradicted.then(|| construction.by_direct_widths());
        let other = other.map(|other| (Spider::of(&other), other));
        each_band(|band| {
            let mut outcome = compared(construction, &spider, band);
            if let Some((spider, other)) = &other {
                outcome.doubt(&compared(other, spider, band));
            }
            outcome
        })
    }

    /// The bands compared with the nominal board for any mounting.
    fn compare(&self, construction: &Construction, mounting: Mounting) -> AgainstNominal<'_> {
        let spider = Spider::of(construction);
        let Some(prepared) = self.prepared(mounting) else {
            let missing = Missing::NominalBoard(mounting);
            let bands = each_band(|_| BandOutcome::NotChecked(vec![missing]));
            return AgainstNominal { mounting, bands };
        };
        let nominal = &prepared.nominal.construction;
        let bands = each_band(|band| {
            let own = (nominal, prepared.bands[band].as_ref());
            compare(construction, &spider, band, own, None, self.table.decision)
        });
        AgainstNominal { mounting, bands }
    }

    /// A band of a board that the table has no nominal board for. A limit that
    /// the table sets on it all the same cannot be checked.
    fn alone(&self, construction: &Construction, spider: &Spider, band: Band) -> BandOutcome<'_> {
        if self.table.bands[band].is_some() {
            return BandOutcome::NotChecked(vec![Missing::NominalBoard(construction.mounting)]);
        }
        match FreeArea::of(construction, spider, band) {
            Some(free) => BandOutcome::NoNominal(Box::new(free)),
            None => BandOutcome::NotChecked(Missing::for_area(construction, band)),
        }
    }
}

fn each_band<'a>(outcome: impl Fn(Band) -> BandOutcome<'a>) -> Vec<BandFinding<'a>> {
    let finding = |band| BandFinding {
        band,
        outcome: outcome(band),
    };
    Band::ALL.into_iter().map(finding).collect()
}

/// Whether a wire's thickness was given as a gauge.
fn is_identified(part: &Part, board: &Construction) -> bool {
    let terms = part.form.terms().iter();
    let mut inputs = terms.filter_map(|&(id, _)| board.input(id));
    inputs.all(|input| input.wire.is_some_and(|wire| wire.gauge.is_some()))
}

/// A wire given as a gauge was identified, not measured: it is judged by what
/// that gauge is, whatever the uncertainty of the file's lengths, and there is
/// no probability that it is another.
fn identified(part: &Part, interval: Interval, board: &Construction) -> LengthFinding {
    let value = board.value(&part.form);
    LengthFinding {
        value,
        form: part.form.clone(),
        uncertainty: None,
        contributions: Vec::new(),
        interval,
        excess: excess(value, interval),
        decided: decide_on(
            value,
            None,
            (interval.lower, interval.upper),
            Decision::Simple,
        ),
        inputs: inputs_of(&part.form),
        contradiction: None,
    }
}

/// Judges one length, and checks it against other measurements of the same.
fn length(part: &Part, interval: Interval, board: &Construction, rule: Decision) -> LengthFinding {
    let limits = (interval.lower, interval.upper);
    let decide_form = |form: &Linear| {
        let value = board.value(form);
        let u = form.uncertainty(&board.inputs);
        (value, u, decide_on(value, u, limits, rule))
    };
    let (value, uncertainty, mut decided) = decide_form(&part.form);
    let contradiction = contradiction(part, board);
    if contradiction.is_some()
        && let Some(check) = &part.check
        && decide_form(check).2.verdict != decided.verdict
    {
        // Which of the two is right cannot be told from the file.
        decided.verdict = Verdict::Inconclusive;
    }
    LengthFinding {
        value,
        form: part.form.clone(),
        uncertainty,
        contributions: part.form.contributions(&board.inputs),
        interval,
        excess: excess(value, interval),
        decided,
        inputs: inputs_of(&part.form),
        contradiction,
    }
}

/// The same length from other measurements, where the two differ by more than
/// their uncertainties explain.
pub fn contradiction(part: &Part, board: &Construction) -> Option<Contradiction> {
    let check = part.check.as_ref()?;
    let difference = part.form.clone().plus(-1.0, check);
    let u = difference.uncertainty(&board.inputs);
    let allowed = u.map_or(UNSTATED_DIFFERENCE, |u| Length::mm(u.expanded().expanded));
    let allowed = allowed.as_mm().max(LEAST_DIFFERENCE.as_mm());
    (board.value(&difference).abs().as_mm() > allowed).then(|| Contradiction {
        other: board.value(check),
        allowed: Length::mm(allowed),
        inputs: inputs_of(check),
    })
}

fn inputs_of(form: &Linear) -> Vec<InputId> {
    let mut inputs: Vec<_> = form.terms().iter().map(|&(id, _)| id).collect();
    inputs.sort_unstable();
    inputs
}

/// How far a value lies beyond its interval; zero within it and on its limits.
fn excess(value: Length, interval: Interval) -> Length {
    let limits = (interval.lower, interval.upper);
    let bare = decide_on(value, None, limits, Decision::Simple);
    match (bare.verdict, limits.0, limits.1) {
        (Verdict::Conforms, ..) => Length::ZERO,
        (_, Some(lower), _) if value < lower => value - lower,
        (_, _, Some(upper)) => value - upper,
        _ => Length::ZERO,
    }
}
