//! Why a verdict came out as it did, in sentences for every report.

use crate::board::{Board, Contribution, Edge, InputId, Quantity};
use crate::conformity::{ComparedBand, Decidable, Missing, Suspicion, deciding_uncertainty};
use crate::table::Decision;
use crate::units::{Percent, Uncertainty};

use crate::report::says::phrases;

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
    }
}

/// Why neither can be said.
pub(in crate::report) fn because(
    board: &Board,
    decision: Decision,
    probability: Option<f64>,
    inputs: &[InputId],
) -> String {
    if let (Decision::Simple { .. }, Some(_)) = (decision, probability) {
        return format!("measured too coarsely: the rule is {decision}");
    }
    if let Some(p) = probability {
        let probability = format!("the probability that it conforms is {:.1} %", 100.0 * p);
        return format!("{probability}; the rule is {decision}");
    }
    let lacking = inputs.iter().filter_map(|&id| {
        let input = board.construction.input(id)?;
        let lacks = input.uncertainty.is_none();
        lacks.then(|| input.quantity.to_string())
    });
    let lacking: Vec<_> = lacking.collect();
    format!(
        "the file gives no uncertainty for {}, and the rule is {decision}",
        lacking.join(", ")
    )
}

/// How well it would have to be known for a decision, in `unit`.
pub(in crate::report) fn would_decide<Q: Decidable>(
    decision: Decision,
    value: Q,
    limits: (Option<Q>, Option<Q>),
    unit: &str,
    known: Option<Uncertainty>,
) -> String {
    let degrees_of_freedom = known.map_or(f64::INFINITY, Uncertainty::degrees_of_freedom);
    let decides = deciding_uncertainty(value, limits, decision, known);
    let Some(standard) = decides else {
        return "the value lies on its limit: no uncertainty would decide".to_owned();
    };
    let coverage = Uncertainty::with_degrees(standard, degrees_of_freedom).expanded();
    format!(
        "an uncertainty of ± {:.3} {unit} (k = {}) would decide",
        coverage.expanded,
        phrases::factor(coverage)
    )
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

/// Which measurement to repeat; `None` if no single one stands out.
pub(in crate::report) fn mostly_from(
    board: &Board,
    contributions: &[Contribution],
) -> Option<String> {
    let mut words = Vec::new();
    for contribution in contributions.iter().take(3) {
        if contribution.share.value() >= WORTH_REPEATING
            && let Some(input) = board.construction.input(contribution.input)
        {
            words.push(format!("{} {:.0}", input.quantity, contribution.share));
        }
    }
    (!words.is_empty()).then(|| format!("mostly from {}", words.join(", ")))
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
