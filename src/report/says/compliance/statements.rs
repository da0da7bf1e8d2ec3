//! What every report says of its method and of itself.

use crate::table::{Decision, DecisionScope};

/// How the figures came about, in plain words.
pub(super) const METHOD: [&str; 4] = [
    "Each board was described by the lengths that were taken from it: the radius or diameter of \
     each ring wire with the edge of the wire that it was taken to, the thickness of the wires, \
     band widths that were taken directly, and the size of the board. A limit is checked with \
     what was recorded, moved to the edge that the limit asks for by the thickness of the \
     wire. A limit that the recorded lengths do not let us check is listed as not checked and \
     never counted as passed.",
    "The free area of a bed is the area that its wires leave free, sector wires taken as straight \
     strips. The deviation of a band is the difference of its free area from that of the nominal \
     board, in percent of the nominal one. Where the table sets no limit on a band's area, the \
     limit is derived: the extremes that boards within the table's limits on lengths can have.",
    "Uncertainties come from the board files: as stated there, from repeated readings, or from \
     the instrument. They are propagated to first order and printed as expanded uncertainties \
     (U = k·u, about 95 %; k = 2 unless another k stands beside it). Where none is printed, the \
     file gives no ground for one.",
    "What drives a deviation is found by setting one measured length after the other to its \
     nominal value: the share that would vanish.",
];

/// What a decision rule means.
pub(super) fn decision(decision: Decision) -> String {
    match decision {
        Decision::Simple {
            max_uncertainty: Some(most),
        } => format!(
            "Simple: a value within its limits, or on one of them, conforms, if its expanded \
             uncertainty (k = 2) is at most {most:.0} of the distance between the limits; beyond \
             that it was measured too coarsely, and the verdict is inconclusive unless the value \
             lies outside by more than its uncertainty. Close to a limit the risk of a wrong \
             verdict is up to one half either way."
        ),
        Decision::Simple {
            max_uncertainty: None,
        } => {
            "Simple: a value within its limits, or on one of them, conforms, however badly it was \
             measured. The risk of a wrong verdict has no bound: the probability of conformity \
             beside each check says how large it is."
                .to_owned()
        }
        Decision::Guarded { confidence, of } => {
            let each = format!(
                "Guarded at {confidence:.0}: a value conforms only if the probability that it \
                 lies within its limits, given its uncertainty, is at least {confidence:.0}; it \
                 does not conform only if the probability that it lies beyond the nearer limit is \
                 at least {confidence:.0}; otherwise the verdict is inconclusive."
            );
            match of {
                DecisionScope::Check => format!(
                    "{each} That is asked of every check by itself: the probability that the \
                     board meets all its limits is smaller, and printed beside its verdict."
                ),
                DecisionScope::Board => format!(
                    "{each} A board conforms only if the probability that it meets all its limits \
                     is at least {confidence:.0} too."
                ),
            }
        }
    }
}

/// What a report is and is not.
pub(super) const STATEMENTS: [&str; 3] = [
    "The results relate only to the boards that were inspected, as they were on the day of \
     inspection.",
    "This report is a calculation from what was measured. It is not an official approval: the \
     governing body's current rules, and local practice, prevail.",
    "It should be passed on whole, or not at all.",
];

/// The usual cautions.
pub(super) const CAUTIONS: [&str; 3] = [
    "Take the darts out and the board down before measuring. Old spiders have sprung wire ends \
     and loose staples: wear eye protection, and mind your fingers.",
    "Rehang the board on sound fixings. Keep spectators behind the throwing line; rounded points \
     and bent wires make bounce-outs likelier.",
    "The venue's own safety rules prevail over this report.",
];
