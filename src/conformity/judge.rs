//! A table made ready to judge any number of boards.

use super::bands::{bounds, compare};
use std::borrow::Cow;

use super::beds::{angles, deviations, worst};
use super::doubt::Doubt;
use super::finding::{AgainstNominal, Assessment, LimitFinding, Outcome};
use super::lengths::lengths;
use super::measured::WirePart;
use super::nominal::PreparedNominal;
use super::propagate::FreeArea;
use super::suspect::suspect;
use super::{BandFinding, BandOutcome, BedFinding, Missing, Verdict};
use crate::board::{Band, Basis, Board, Construction, GaugeGround, Mounting};
use crate::geometry::Spider;
use crate::table::{Decision, DecisionScope, Demand, GaugeUncertainty, Limit, Table};
use crate::units::Percent;

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
        let prepared = self.construction(board);
        let construction = &*prepared;
        let (mounting, profile) = (construction.mounting, construction.profile);
        let applicable: Vec<&Limit> = self.table.limits_for(mounting, profile).collect();
        let doubt = Doubt::of(construction);
        let limits: Vec<_> = applicable
            .iter()
            .flat_map(|limit| self.check(limit, construction, &doubt))
            .collect();
        let broken = limits
            .iter()
            .any(|finding| finding.outcome.is_beyond_its_limit());
        let suspicion = if broken {
            suspect(construction.recorded(), &applicable)
        } else {
            None
        };
        let bands = self.bands(construction, &doubt);
        let against = self
            .beside
            .map(|mounting| self.compare(construction, mounting));
        let mut assessment = Assessment {
            board,
            construction: prepared,
            table: self.table,
            verdict: Verdict::Inconclusive,
            limits,
            bands,
            against,
            suspicion,
            simulation: None,
        };
        assessment.verdict = assessment.tally().verdict();
        if let Decision::Guarded {
            confidence,
            of: DecisionScope::Board,
        } = self.table.decision
            && assessment.verdict == Verdict::Conforms
            && assessment
                .probability()
                .is_none_or(|p| p < confidence.ratio())
        {
            assessment.verdict = Verdict::Inconclusive;
        }
        assessment
    }

    /// The board's construction, its gauges as good as the table says.
    fn construction<'b>(&self, board: &'b Board) -> Cow<'b, Construction> {
        let construction = &board.construction;
        let Some(gauge) = self.table.gauge_uncertainty else {
            return Cow::Borrowed(construction);
        };
        let by_rule = Basis::Gauge(GaugeGround::HouseRule);
        if !construction
            .inputs
            .iter()
            .any(|input| input.basis == by_rule)
        {
            return Cow::Borrowed(construction);
        }
        Cow::Owned(construction.with_errors(|input| {
            if input.basis == by_rule {
                input.set_gauge(match gauge {
                    GaugeUncertainty::Exact => None,
                    GaugeUncertainty::Known(uncertainty) => Some(uncertainty),
                });
            }
        }))
    }

    fn check<'a>(
        &self,
        limit: &'a Limit,
        board: &Construction,
        doubt: &Doubt<'_>,
    ) -> Vec<LimitFinding<'a>> {
        let finding = |part: Option<WirePart>, outcome| LimitFinding {
            limit,
            part,
            outcome,
        };
        let rule = self.table.decision;
        let bed = |found: Result<BedFinding, Vec<Missing>>| {
            let outcome = match found {
                Ok(found) => Outcome::Bed(Box::new(found)),
                Err(missing) => Outcome::NotChecked(missing),
            };
            vec![finding(None, outcome)]
        };
        let interval = match &limit.demand {
            Demand::Turned { lower, upper } => {
                return bed(angles(board, (*lower, *upper), rule).map_err(|lacks| vec![lacks]));
            }
            Demand::Beds { band, lower, upper } => {
                let judged = |board: &Construction| self.beds(board, *band, (*lower, *upper));
                let mut found = judged(board);
                if let Ok(own) = &mut found {
                    for other in doubt.others().filter_map(|other| judged(other).ok()) {
                        own.doubt(&other);
                    }
                }
                return bed(found);
            }
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
        let (lengths, missing) = lengths(limit, interval, board, rule);
        let mut findings: Vec<_> = lengths
            .into_iter()
            .map(|(wires, mut length)| {
                doubt.cast(&mut length, limit, wires, rule);
                finding(wires, Outcome::Length(Box::new(length)))
            })
            .collect();
        if !missing.is_empty() {
            findings.push(finding(None, Outcome::NotChecked(missing)));
        }
        findings
    }

    /// The beds of one band or of all against the nominal board's.
    fn beds(
        &self,
        construction: &Construction,
        only: Option<Band>,
        limits: (Percent, Percent),
    ) -> Result<BedFinding, Vec<Missing>> {
        let mounting = construction.mounting;
        let nominal = self.prepared(mounting);
        let nominal = nominal.ok_or_else(|| vec![Missing::NominalBoard(mounting)])?;
        if let Some(missing) = other_profile(construction, nominal) {
            return Err(vec![missing]);
        }
        let spider = Spider::of(construction);
        let (mut found, mut missing) = (Vec::new(), Vec::new());
        let bands = Band::ALL.into_iter();
        for band in bands.filter(|band| only.is_none_or(|only| only == *band)) {
            let own = nominal.bands[band].as_ref().map(|own| own.area);
            match (own, FreeArea::of(construction, &spider, band)) {
                (Some(area), Some(free)) => {
                    let rule = self.table.decision;
                    found.extend(deviations(construction, &free, (band, area), limits, rule));
                }
                (None, _) => missing.push(Missing::NominalBand(band)),
                (_, None) => missing.extend(Missing::for_area(construction, band)),
            }
        }
        let fails = |one: &BedFinding| one.decided.verdict == Verdict::DoesNotConform;
        // A bed that fails decides, whatever else is not known.
        if !missing.is_empty() && !found.iter().any(fails) {
            return Err(missing);
        }
        worst(found).ok_or(missing)
    }

    fn prepared(&self, mounting: Mounting) -> Option<&PreparedNominal<'t>> {
        match mounting {
            Mounting::Staples => self.staples.as_ref(),
            Mounting::Embedded => self.embedded.as_ref(),
        }
    }

    /// The bands against the nominal board for the board's own mounting.
    fn bands<'a>(&'a self, construction: &Construction, doubt: &Doubt<'_>) -> Vec<BandFinding<'a>> {
        let spider = Spider::of(construction);
        let Some(prepared) = self.prepared(construction.mounting) else {
            return each_band(|band| self.alone(construction, &spider, band));
        };
        if let Some(missing) = other_profile(construction, prepared) {
            return each_band(|_| BandOutcome::NotChecked(vec![missing]));
        }
        let nominal = &prepared.nominal.construction;
        let derived = prepared.derived(construction);
        let compared = |construction: &Construction, spider: &Spider, band: Band| {
            let given = self.table.bands[band].as_ref();
            let bounds = bounds(given, &derived[band], construction);
            let own = (nominal, prepared.bands[band].as_ref());
            compare(construction, spider, band, own, bounds, self.table.decision)
        };
        // Where lengths contradict one another, the areas are looked at without
        // each of them that may be wrong.
        let others: Vec<_> = doubt
            .others()
            .map(|other| (Spider::of(other), other))
            .collect();
        each_band(|band| {
            let mut outcome = compared(construction, &spider, band);
            for (spider, other) in &others {
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
            let bands = each_band(|_| BandOutcome::NotComputable(vec![missing]));
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
            None => BandOutcome::NotComputable(Missing::for_area(construction, band)),
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

/// That the nominal board has another profile, which is no board to compare
/// with.
fn other_profile(board: &Construction, prepared: &PreparedNominal<'_>) -> Option<Missing> {
    let nominal = &prepared.nominal.construction;
    (nominal.profile != board.profile).then_some(Missing::NominalProfile {
        mounting: board.mounting,
        board: board.profile,
        nominal: nominal.profile,
    })
}
