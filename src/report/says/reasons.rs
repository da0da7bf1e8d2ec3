//! Why a verdict came out as it did, in sentences for every report.

use std::borrow::Cow;

use crate::board::{Board, Contribution, Edge, InputId, Quantity};
use crate::conformity::{
    Assessment, BandOutcome, ComparedBand, Decidable, LengthFinding, Missing, Outcome, Suspicion,
    Verdict, deciding_uncertainty,
};
use crate::report::says::phrases;
use crate::table::{Decision, Limit};
use crate::units::{Length, Percent, Uncertainty};

/// Smallest share of a variance, in percent, that is worth naming. House rule.
const WORTH_REPEATING: f64 = 5.0;

/// Smallest share of a band's deviation, in percent of its area, that is worth
/// a line. House rule: what would not change a printed digit by much.
pub(in crate::report) const WORTH_NAMING: f64 = 0.1;

/// A likelihood ratio that is not written out beyond. House rule: the model
/// behind it is no better.
const MANY_TIMES: f64 = 1000.0;

/// What a check needs, as the end of a sentence.
pub(in crate::report) fn needs(missing: &[Missing]) -> String {
    let words: Vec<_> = missing.iter().copied().map(lacks).collect();
    words.join(", ")
}

/// One thing that a check lacks.
pub(in crate::report) fn lacks(missing: Missing) -> String {
    match missing {
        Missing::Measured(quantity) => format!("the {}", self::quantity(quantity)),
        Missing::Instead(quantity) => format!("or the {} itself", self::quantity(quantity)),
        Missing::Places(quantity) => format!(
            "the {} at four places or more (`readings: [{{ at: 20, value: … }}, …]`)",
            self::quantity(quantity)
        ),
        Missing::Offset(ring) => {
            format!("the `offset` of the {ring}, or its radius at four places or more")
        }
        Missing::Bearings => "the `bearings` of the `sectors`".to_owned(),
        Missing::NominalBoard(mounting) => format!("a nominal board for {mounting} in the table"),
        Missing::NominalProfile {
            mounting,
            board,
            nominal,
        } => format!(
            "a nominal board of {mounting} with {}: the table's has {}",
            board.name(),
            nominal.name()
        ),
        Missing::NominalBand(band) => format!("the {band} of the table's nominal board"),
    }
}

fn quantity(quantity: Quantity) -> String {
    match quantity {
        Quantity::Ring(ring, false) => format!("radius of the {ring}"),
        Quantity::Ring(ring, true) => format!("diameter of the {ring}"),
        Quantity::RingWires => "thickness of the ring wires".to_owned(),
        Quantity::RingWire(ring) => format!("thickness of the {ring}"),
        Quantity::SectorWires => "thickness of the sector wires".to_owned(),
        Quantity::Width(band) => format!("{band} width"),
        Quantity::Overall => "overall diameter".to_owned(),
        Quantity::Offset(ring, _) => format!("offset of the {ring}"),
        Quantity::SectorOffset(_) | Quantity::SectorWire(_) | Quantity::Turn(_) => {
            quantity.to_string()
        }
    }
}

/// Why a verdict came out as it did, and where it came from.
pub(in crate::report) struct Grounds<'f, Q> {
    pub(in crate::report) verdict: Verdict,
    pub(in crate::report) probability: Option<f64>,
    value: Q,
    limits: (Option<Q>, Option<Q>),
    unit: &'static str,
    pub(in crate::report) uncertainty: Option<Uncertainty>,
    contributions: &'f [Contribution],
    inputs: Cow<'f, [InputId]>,
    /// Whether other measurements in the file say otherwise.
    pub(in crate::report) contradicted: bool,
}

impl<'f> Grounds<'f, Length> {
    pub(in crate::report) fn of_length(length: &'f LengthFinding) -> Self {
        Self {
            verdict: length.decided.verdict,
            probability: length.decided.probability,
            value: length.value,
            limits: (length.interval.lower, length.interval.upper),
            unit: "mm",
            uncertainty: length.uncertainty,
            contributions: &length.contributions,
            inputs: Cow::Borrowed(&length.inputs),
            contradicted: length.contradiction.is_some(),
        }
    }
}

impl<'f> Grounds<'f, Percent> {
    /// Nothing where nothing limits the band.
    pub(in crate::report) fn of_band(band: &'f ComparedBand<'_>) -> Option<Self> {
        let (uncertainty, contributions, inputs) = band.deciding();
        Some(Self {
            verdict: band.verdict?,
            probability: band.probability,
            value: band.deviation,
            limits: band.bounds.map_or((None, None), |b| (b.lower, b.upper)),
            unit: "%",
            uncertainty,
            contributions,
            inputs: Cow::Owned(inputs),
            contradicted: band.contradicted_by.is_some(),
        })
    }
}

impl<Q: Decidable> Grounds<'_, Q> {
    /// Why neither can be said.
    pub(in crate::report) fn because(&self, board: &Board, decision: Decision) -> String {
        if let (Decision::Simple { .. }, Some(_)) = (decision, self.probability) {
            return format!("measured too coarsely: the rule is {decision}");
        }
        if let Some(p) = self.probability {
            let probability = format!("the probability that it conforms is {:.1} %", 100.0 * p);
            return format!("{probability}; the rule is {decision}");
        }
        let lacking = self.inputs.iter().filter_map(|&id| {
            let input = board.construction.input(id)?;
            let lacks = input.uncertainty.is_none();
            lacks.then(|| input.name())
        });
        let lacking: Vec<_> = lacking.collect();
        format!(
            "the file gives no uncertainty for {}, and the rule is {decision}",
            lacking.join(", ")
        )
    }

    /// How well it would have to be known for a decision.
    pub(in crate::report) fn would_decide(&self, decision: Decision) -> String {
        let known = self.uncertainty;
        let Some(standard) = deciding_uncertainty(self.value, self.limits, decision, known) else {
            return "the value lies on its limit: no uncertainty would decide".to_owned();
        };
        let degrees_of_freedom = known.map_or(f64::INFINITY, Uncertainty::degrees_of_freedom);
        let coverage = Uncertainty::with_degrees(standard, degrees_of_freedom).expanded();
        format!(
            "an uncertainty of ± {:.3} {} (k = {}) would decide",
            coverage.expanded,
            self.unit,
            phrases::factor(coverage)
        )
    }

    /// Which measurement to repeat; `None` if no single one stands out.
    pub(in crate::report) fn mostly_from(&self, board: &Board) -> Option<String> {
        let mut words = Vec::new();
        for contribution in self.contributions.iter().take(3) {
            if contribution.share.value() >= WORTH_REPEATING
                && let Some(input) = board.construction.input(contribution.input)
            {
                words.push(format!("{} {:.0}", input.name(), contribution.share));
            }
        }
        (!words.is_empty()).then(|| format!("mostly from {}", words.join(", ")))
    }

    /// Why nothing is decided, and what would change that; nothing of what is.
    pub(in crate::report) fn doubt(&self, assessment: &Assessment<'_>) -> Option<String> {
        let (board, rule) = (assessment.board, assessment.table.decision);
        (self.verdict == Verdict::Inconclusive).then(|| {
            let mut words = vec![self.because(board, rule), self.would_decide(rule)];
            let mostly = self.mostly_from(board);
            words.extend(mostly.map(|from| format!("the uncertainty comes {from}")));
            words.join("; ")
        })
    }
}

/// What could not be checked, with the limit that would be: its subject and what
/// it needs.
pub(in crate::report) fn unchecked<'a>(
    assessment: &'a Assessment<'_>,
) -> impl Iterator<Item = (String, Option<&'a Limit>)> {
    let needs = |subject: &str, missing| format!("{subject}: needs {}", needs(missing));
    let limits = assessment.limits.iter().filter_map(move |finding| {
        let Outcome::NotChecked(missing) = &finding.outcome else {
            return None;
        };
        let words = needs(&phrases::subject(finding), missing);
        Some((words, Some(finding.limit)))
    });
    let bands = assessment.bands.iter().filter_map(move |finding| {
        let BandOutcome::NotChecked(missing) = &finding.outcome else {
            return None;
        };
        Some((needs(&format!("{} area", finding.band), missing), None))
    });
    limits.chain(bands)
}

/// How well a deviation is known against bounds that move with the board's own
/// wires; `None` where they do not move.
pub(in crate::report) fn moving_bounds(band: &ComparedBand<'_>) -> Option<String> {
    let (margins, bounds) = (band.margins.as_deref()?, band.bounds?);
    let side = |side: &str, bound: Option<Percent>, u: Option<Uncertainty>| {
        bound?;
        let known = match u {
            Some(u) => format!("known to ± {:.1} %", u.expanded().expanded),
            None => "not known how well".to_owned(),
        };
        Some(format!("the distance to the {side} one is {known}"))
    };
    let sides = [
        side("lower", bounds.lower, margins.lower.uncertainty),
        side("upper", bounds.upper, margins.upper.uncertainty),
    ];
    let sides: Vec<_> = sides.into_iter().flatten().collect();
    Some(format!(
        "they move with the board's own wires, which no limit is about: {}",
        sides.join(", ")
    ))
}

/// The question that a suspected edge raises.
pub(in crate::report) fn suspicion(suspicion: &Suspicion) -> String {
    let steps: Vec<_> = suspicion
        .redeclared
        .iter()
        .map(|step| {
            let rings: Vec<_> = step.rings.iter().map(|ring| ring.name()).collect();
            format!(
                "the {} to the {} instead of the {}",
                rings.join(" and the "),
                edge(step.fitting),
                edge(step.declared)
            )
        })
        .collect();
    let would = match (suspicion.cured, suspicion.left) {
        (_, 0) => "every limit that refers to an edge, within the uncertainty".to_owned(),
        (cured, left) => format!(
            "{}, with {left} still broken",
            phrases::count(cured, "more limit", "more limits")
        ),
    };
    let likely = if suspicion.likelihood_ratio > MANY_TIMES {
        format!("more than {MANY_TIMES:.0} times")
    } else {
        format!("{:.0} times", suspicion.likelihood_ratio)
    };
    format!(
        "Was the right edge written down? Taking {} would meet {would}, and would make the \
         measured lengths {likely} as likely.",
        steps.join(", and ")
    )
}

const fn edge(edge: Edge) -> &'static str {
    match edge {
        Edge::Inside => "inside edge",
        Edge::Outside => "outside edge",
        Edge::Apex => "apex",
    }
}
