//! What several people's readings give cause to say: who disagrees, and which
//! reading stands apart.

use super::phrases::{self, count, two_digits};
use super::uneven;
use crate::board::{
    Basis as Ground, Board, Edge, Input, Quantity, ReadingApart, Taken, Taking, WideSpread,
};
use crate::conformity::Assessment;
use crate::document::{Diagnostic, Level, Place};
use crate::measurement::{Basis, JudgedBy, Repeatability, RowAgreement, StandsApart};

/// What has to be said beside the verdict on a board, a sentence each: that it
/// rests on readings that stand apart, or that people disagree on.
pub(in crate::report) fn beside_the_verdict(assessment: &Assessment<'_>) -> Vec<String> {
    let all = findings(assessment.board).into_iter();
    let sentence = |found: Diagnostic| match found.remedy {
        Some(remedy) => format!("{}; {remedy}", found.message),
        None => found.message,
    };
    let beyond = uneven::places_beyond(assessment);
    all.map(sentence).chain(beyond).collect()
}

/// The same as findings, under the codes by which `lint` knows them.
pub(in crate::report) fn findings(board: &Board) -> Vec<Diagnostic> {
    let note = |code: &'static str, span, message, remedy: &'static str| {
        let place = Place::in_document(&board.document, span);
        Diagnostic::new(code, Level::Warning, place, message).with_remedy(remedy)
    };
    let apart = board.apart.iter().filter_map(|apart| {
        let input = board.construction.input(apart.input)?;
        let message = reading_apart(input, apart);
        let remedy = "ask whoever read it, or measure again";
        Some(note("reading-apart", apart.span, message, remedy))
    });
    let disputes = board.disputes().map(|(input, taken)| {
        let message = dispute(input, taken);
        note(
            "people-disagree",
            input.span,
            message,
            "measure it again together",
        )
    });
    let spreads = board.spreads.iter().filter_map(|spread| {
        let input = board.construction.input(spread.input)?;
        let message = wide_spread(input, spread);
        Some(note("readings-spread", spread.span, message, REMEASURE))
    });
    apart.chain(spreads).chain(disputes).collect()
}

/// The same, length by length, a sentence each.
pub(in crate::report) fn by_length(board: &Board) -> Vec<(&Input, String)> {
    let of = |id| board.construction.input(id);
    let apart = board.apart.iter().filter_map(|apart| {
        let input = of(apart.input)?;
        Some((input, reading_apart(input, apart)))
    });
    let spreads = board.spreads.iter().filter_map(|spread| {
        let input = of(spread.input)?;
        Some((input, wide_spread(input, spread)))
    });
    let disputes = board.disputes();
    let disputes = disputes.map(|(input, taken)| (input, dispute(input, taken)));
    apart.chain(spreads).chain(disputes).collect()
}

/// What to do about readings that differ too much.
const REMEASURE: &str = "say where each was taken (`{ at: 20, value: … }`), or measure again";

/// Readings that differ by more than repeatability explains.
pub(in crate::report) fn wide_spread(input: &Input, spread: &WideSpread) -> String {
    let why = if spread.from_others {
        "the other lengths"
    } else {
        "instrument and touch"
    };
    format!(
        "the readings of the {} differ by more than repeatability explains: they scatter by {:.3}, \
         {why} by {:.3}",
        input.name(),
        spread.deviation,
        spread.explained
    )
}

/// A reading that stands apart, in one line.
fn reading_apart(input: &Input, apart: &ReadingApart) -> String {
    let by = apart.by.as_ref();
    let by = by.map_or_else(String::new, |by| format!(" by {by}"));
    format!(
        "a reading stands apart: {} {:.3} mm{by}, {}",
        input.name(),
        apart.found.value,
        how_far(&apart.found)
    )
}

/// How far a reading lies from the others, and why that is too far.
pub(in crate::report) fn how_far(found: &StandsApart) -> String {
    let distance = found.distance;
    let others = if found.or_the_other {
        "from the other one, either of which may be wrong"
    } else {
        "from the mean of the others"
    };
    match found.by {
        JudgedBy::Scatter {
            deviation,
            probability,
            ..
        } => format!(
            "{distance:.3} mm {others} ({}, where a single reading scatters by {deviation:.3} mm)",
            p(probability)
        ),
        JudgedBy::Instrument { explained } => format!(
            "{distance:.3} mm {others}, where instrument and touch explain at most \
             {explained:.2} mm from one reading to the next"
        ),
    }
}

/// A dispute in one line.
fn dispute(input: &Input, taken: &Taken) -> String {
    let people = taken.takings.iter().map(|taking| {
        let readings = taking.series.readings().len();
        let readings = count(readings, "reading", "readings");
        format!("{} {:.3} ({readings})", taking.by, taking.value)
    });
    let people: Vec<String> = people.collect();
    let probability = taken.agreement.as_ref();
    let probability = probability.map_or_else(String::new, |agreement| {
        format!("; {}, corrected for all lengths", p(agreement.corrected))
    });
    let widened = widened(taken).map_or_else(String::new, |words| format!("; {words}"));
    format!(
        "people disagree on the {}: {}{probability}{widened}",
        input.name(),
        people.join(", ")
    )
}

/// By how much an uncertainty is larger because people differ.
pub(in crate::report) fn widened(taken: &Taken) -> Option<String> {
    let (factor, components) = (taken.widened()?, taken.components.as_ref()?);
    let expanded = components.coverage.expanded;
    Some(format!(
        "U is ± {expanded:.*} mm, {factor:.1} times what it would be if they agreed",
        two_digits(expanded)
    ))
}

/// A probability, never as zero.
pub(in crate::report) fn p(probability: f64) -> String {
    if probability < 0.001 {
        "p < 0.001".to_owned()
    } else {
        format!("p = {probability:.3}")
    }
}

/// The probability to show: that of a dispute is corrected for the number of
/// lengths, because that decided; that of agreement is the plain one, because
/// corrected ones are mostly 1.
pub(in crate::report) fn shown(agreement: &RowAgreement) -> f64 {
    if agreement.disputed() {
        agreement.corrected
    } else {
        agreement.probability
    }
}

/// Whether people agree, in a word.
pub(in crate::report) fn agree(agreement: &RowAgreement) -> &'static str {
    if agreement.disputed() {
        "disagree"
    } else {
        "agree"
    }
}

/// What several people read of a length, in a few words.
pub(in crate::report) fn taken(taken: &Taken) -> String {
    let people = count(taken.people(), "person", "people");
    let readings = count(taken.readings(), "reading", "readings");
    let own = taken
        .deviation()
        .map_or_else(String::new, |s| format!(", s = {s:.3} mm"));
    let agree = taken.agreement.as_ref().map_or_else(String::new, |found| {
        format!("; they {} ({})", agree(found), p(shown(found)))
    });
    format!("{people}, {readings}{own}{agree}")
}

/// The standard deviation of a single reading, and what it was taken from.
pub(in crate::report) fn repeatability(found: &Repeatability) -> String {
    let from = if found.floored {
        "step/√12"
    } else {
        match found.basis {
            Basis::Pooled => "pooled",
            Basis::Person(_) => "this person's",
            Basis::Row(_) => "this length's",
            Basis::Cell { .. } => "these readings'",
            Basis::House => "house rule",
        }
    };
    let degrees = found.degrees_of_freedom;
    if degrees.is_finite() {
        format!("{:.4} ({from}, ν = {degrees:.0})", found.deviation)
    } else {
        format!("{:.4} ({from})", found.deviation)
    }
}

/// Who read it, and with what.
pub(in crate::report) fn instrument<'b>(board: &'b Board, taking: &Taking) -> Option<&'b str> {
    let described = board.instruments.get(taking.instrument?)?;
    described.name.as_deref()
}

/// The decimals in which people's results of a quantity are shown: one more
/// than an instrument's.
pub(in crate::report) const fn decimals(quantity: Quantity) -> usize {
    if quantity.is_wire() { 4 } else { 3 }
}

/// A measured length as it stands in the board file.
pub(in crate::report) fn input(input: &Input) -> String {
    let decimals = phrases::input_decimals(input);
    let value = match input.wire.and_then(|wire| wire.gauge) {
        Some(gauge) => format!("{gauge}, {:.decimals$}", input.value),
        None => format!("{:.decimals$}", input.value),
    };
    let edge = match input.edge {
        Some(Edge::Apex) => ", taken to the apex".to_owned(),
        Some(edge) => format!(", taken to the {edge} edge"),
        None => String::new(),
    };
    format!("{} {value}{}{edge}", input.name(), readings(&input.basis))
}

/// What is to be known of readings behind a mean.
fn readings(basis: &Ground) -> String {
    let series = match basis {
        Ground::Readings { series, .. } => series,
        Ground::Taken(taken) => return format!(", {}", self::taken(taken)),
        _ => return String::new(),
    };
    let n = series.readings().len();
    let Some(s) = series.deviation() else {
        return ", one reading: its scatter is not known".to_owned();
    };
    format!(", mean of {n} readings, s = {s:.3} mm")
}
