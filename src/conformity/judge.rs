//! A table made ready to judge any number of boards.

use super::bands::{bounds, compare};
use std::borrow::Cow;

use super::around::{FEWEST, every_place, offset, places_for, roundness};
use super::beds::{angles, decides, deviations, rank};
use super::decide::decide_on;
use super::finding::{
    AgainstNominal, Assessment, Contradiction, LengthFinding, LimitFinding, Outcome, PlaceFinding,
};
use super::measure::{WirePart, measure};
use super::nominal::PreparedNominal;
use super::propagate::FreeArea;
use super::suspect::suspect;
use super::{BandFinding, BandOutcome, BedFinding, Missing, Verdict};
use crate::board::{
    Adjustment, Around, Band, Basis, Bearing, Board, Condition, Construction, Edge, GaugeGround,
    InputId, Linear, Mounting,
};
use crate::geometry::Spider;
use crate::table::{
    Decision, DecisionScope, Demand, Extent, GaugeUncertainty, Interval, Limit, Measurand, Table,
};
use crate::units::{Length, Percent};

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
                return bed(self.beds(board, *band, (*lower, *upper)));
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
        decides(found).ok_or(missing)
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

/// Judges one length.
fn length(
    form: &Linear,
    interval: Interval,
    board: &Construction,
    rule: Decision,
) -> LengthFinding {
    let value = board.value(form);
    let uncertainty = form.uncertainty(&board.inputs);
    let limits = (interval.lower, interval.upper);
    LengthFinding {
        value,
        form: form.clone(),
        uncertainty,
        contributions: form.contributions(&board.inputs),
        interval,
        excess: excess(value, interval),
        decided: decide_on(value, uncertainty, limits, rule),
        inputs: inputs_of(form),
        contradiction: None,
        at: None,
        places: Vec::new(),
    }
}

/// The lengths that a limit asks for, each of its parts judged, and what is
/// missing.
fn lengths(
    limit: &Limit,
    interval: Interval,
    board: &Construction,
    rule: Decision,
) -> (Vec<(Option<WirePart>, LengthFinding)>, Vec<Missing>) {
    let edge = limit.edge.unwrap_or(Edge::Apex);
    if limit.of == Extent::EveryPlace
        && let Some(around) = every_place(board, limit.measurand, edge)
    {
        let needs = places_for(limit.measurand).map(Missing::Places);
        let enough = around.len() >= FEWEST;
        let found = at_every_place(around, interval, board, rule);
        // Few places can show that a board fails, not that it conforms.
        let decided =
            |found: &LengthFinding| enough || found.decided.verdict == Verdict::DoesNotConform;
        return match found.filter(decided) {
            Some(found) => (vec![(None, found)], Vec::new()),
            None => (Vec::new(), needs.into_iter().collect()),
        };
    }
    let measured = match limit.measurand {
        Measurand::RingRoundness => roundness(board, limit.ring),
        Measurand::RingOffset => offset(board, limit.ring),
        measurand => measure(board, measurand, edge),
    };
    // What a limit on the mean has at each place is shown beside it.
    let around = every_place(board, limit.measurand, edge).unwrap_or_default();
    let places = at_every_place(around, interval, board, rule).map(|found| found.places);
    let places = places.unwrap_or_default();
    let parts = measured.parts.into_iter();
    let judged = parts.map(|part| {
        let found = length(&part.form, interval, board, rule);
        let places = places.clone();
        (part.wires, LengthFinding { places, ..found })
    });
    (judged.collect(), measured.missing)
}

/// Every place judged by itself, and the worst in front.
fn at_every_place(
    around: Vec<Around>,
    interval: Interval,
    board: &Construction,
    rule: Decision,
) -> Option<LengthFinding> {
    let judged: Vec<(Bearing, LengthFinding)> = around
        .into_iter()
        .map(|own| (own.at, length(&own.length, interval, board, rule)))
        .collect();
    let places = judged.iter().map(|(at, found)| PlaceFinding {
        at: *at,
        value: found.value,
        form: found.form.clone(),
        uncertainty: found.uncertainty,
        decided: found.decided,
    });
    let places = places.collect();
    // Beyond a limit counts before near to it.
    let room = |found: &LengthFinding| {
        let to = |limit: Option<Length>| limit.map(|limit| (found.value - limit).as_mm().abs());
        let nearest = [to(interval.lower), to(interval.upper)]
            .into_iter()
            .flatten();
        let nearest = nearest.fold(f64::INFINITY, f64::min);
        if found.excess == Length::ZERO {
            nearest
        } else {
            -nearest
        }
    };
    let worse = |a: &LengthFinding, b: &LengthFinding| {
        let verdicts = rank(a.decided.verdict).cmp(&rank(b.decided.verdict));
        verdicts.then(room(a).total_cmp(&room(b)))
    };
    let worst = judged.into_iter().min_by(|(_, a), (_, b)| worse(a, b));
    worst.map(|(at, found)| LengthFinding {
        at: Some(at),
        places,
        ..found
    })
}

/// What a board would be without one of the lengths that contradict one another.
/// Empty where none do.
struct Doubt<'b> {
    adjustment: Option<&'b Adjustment>,
    others: Vec<(InputId, Construction)>,
}

impl<'b> Doubt<'b> {
    fn of(construction: &'b Construction) -> Self {
        let adjustment = construction.adjustment.as_deref();
        let adjustment = adjustment.filter(|adjustment| adjustment.contradicts);
        let suspects = adjustment.into_iter().flat_map(Adjustment::suspects);
        let without = |id| Some((id, construction.without(id)?));
        Self {
            others: suspects.filter_map(without).collect(),
            adjustment,
        }
    }

    fn others(&self) -> impl Iterator<Item = &Construction> {
        self.others.iter().map(|(_, other)| other)
    }

    /// Which of the lengths is wrong cannot be told from the file: where the
    /// verdict depends on that, there is none.
    fn cast(
        &self,
        length: &mut LengthFinding,
        limit: &Limit,
        part: Option<WirePart>,
        rule: Decision,
    ) {
        let Some(adjustment) = self.adjustment else {
            return;
        };
        let mut farthest = Length::ZERO;
        for (id, other) in &self.others {
            let (lengths, _) = lengths(limit, length.interval, other, rule);
            let Some((_, found)) = lengths.into_iter().find(|(same, _)| *same == part) else {
                continue;
            };
            if found.decided.verdict != length.decided.verdict {
                length.decided.verdict = Verdict::Inconclusive;
            }
            let away = (found.value - length.value).abs();
            let names =
                |condition: &&Condition| condition.form.terms().iter().any(|(i, _)| i == id);
            let condition = adjustment.conditions.iter().find(names);
            if let Some(condition) = condition
                && away > farthest
            {
                farthest = away;
                length.contradiction = Some(Contradiction {
                    without: *id,
                    other: found.value,
                    misfit: condition.misfit,
                    allowed: condition.allowed,
                    inputs: found.inputs,
                });
            }
        }
    }
}

fn inputs_of(form: &Linear) -> Vec<InputId> {
    let mut inputs: Vec<_> = form.terms().iter().map(|&(id, _)| id).collect();
    inputs.sort_unstable();
    inputs
}

/// How far a value lies beyond its interval; zero within it and on its limits.
fn excess(value: Length, interval: Interval) -> Length {
    let limits = (interval.lower, interval.upper);
    let bare = decide_on(value, None, limits, Decision::BARE);
    match (bare.verdict, limits.0, limits.1) {
        (Verdict::Conforms, ..) => Length::ZERO,
        (_, Some(lower), _) if value < lower => value - lower,
        (_, _, Some(upper)) => value - upper,
        _ => Length::ZERO,
    }
}
