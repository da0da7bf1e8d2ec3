//! Why a verdict came out as it did, in sentences for every report.

use crate::board::{Board, Contribution, Edge, InputId};
use crate::conformity::{Suspicion, deciding_uncertainty};
use crate::table::Decision;
use crate::units::Uncertainty;

use crate::report::says::phrases;

/// Smallest share of a variance, in percent, that is worth naming. House rule.
const WORTH_REPEATING: f64 = 5.0;

/// Smallest share of a band's deviation, in percent of its area, that is worth
/// a line. House rule: what would not change a printed digit by much.
pub(in crate::report) const WORTH_NAMING: f64 = 0.1;

/// Why neither can be said.
pub(in crate::report) fn because(
    board: &Board,
    decision: Decision,
    probability: Option<f64>,
    inputs: &[InputId],
) -> String {
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

/// How well it would have to be known for a decision. Value and limits in
/// `unit`.
pub(in crate::report) fn would_decide(
    decision: Decision,
    value: f64,
    limits: (Option<f64>, Option<f64>),
    unit: &str,
    known: Option<Uncertainty>,
) -> String {
    let degrees_of_freedom = known.map_or(f64::INFINITY, |u| u.degrees_of_freedom);
    let decides = deciding_uncertainty(value, limits.0, limits.1, decision, degrees_of_freedom);
    let Some(standard) = decides else {
        return "the value lies on its limit: no uncertainty would decide".to_owned();
    };
    let coverage = Uncertainty {
        standard,
        degrees_of_freedom,
    }
    .expanded();
    format!(
        "an uncertainty of ± {:.3} {unit} (k = {}) would decide",
        coverage.expanded,
        phrases::factor(coverage)
    )
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
        (_, 0) => "every limit that refers to an edge".to_owned(),
        (1, left) => format!("one more limit, with {left} still broken"),
        (cured, left) => format!("{cured} more limits, with {left} still broken"),
    };
    format!(
        "Was the right edge written down? Taking {} would meet {would}.",
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
