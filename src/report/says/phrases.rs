//! The words that several reports share.

use super::warmth;
use crate::board::{Basis, Board, Construction, Edge, GaugeGround, Input, Quantity, between};
use crate::conformity::{
    Amount, Assessment, Bounds, ComparedBand, Contradiction, LengthFinding, LimitFinding, Outcome,
    WirePart,
};
use crate::table::{Interval, Limit, Measurand};
use crate::units::{Coverage, Errors, Instrument, Length, Percent};

/// Decimals of a length in mm: wires in thousandths, everything else in
/// hundredths, which is what a calliper shows.
pub(in crate::report) const fn decimals(measurand: Measurand) -> usize {
    if measurand.is_gauge() { 3 } else { 2 }
}

/// Decimals of a recorded length, likewise. Offsets are small, as wires are.
pub(in crate::report) const fn input_decimals(input: &Input) -> usize {
    match input.quantity {
        Quantity::Offset(..) | Quantity::SectorOffset(_) | Quantity::Turn(_) => 3,
        quantity if quantity.is_wire() => 3,
        _ => 2,
    }
}

/// Nobody measures a board to less than a nanometre.
const MOST_DECIMALS: usize = 6;

/// A number with its noun.
pub(in crate::report) fn count(number: usize, one: &str, more: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { more })
}

/// A limit's name, and the part where it has several.
pub(in crate::report) fn key(finding: &LimitFinding<'_>) -> String {
    key_of(finding.limit, finding.part)
}

/// The same of a limit and a part of it.
pub(in crate::report) fn key_of(limit: &Limit, part: Option<WirePart>) -> String {
    let part = part.map(|part| format!("{}/{}", limit.name, part.name()));
    part.unwrap_or_else(|| limit.name.clone())
}

/// A limit's measurand with its part and its edge: the same on every board.
pub(in crate::report) fn check(finding: &LimitFinding<'_>) -> String {
    check_of(finding.limit, finding.part)
}

/// The same of a limit and a part of it.
pub(in crate::report) fn check_of(limit: &Limit, part: Option<WirePart>) -> String {
    let name = match part {
        Some(WirePart::Ring(ring)) if limit.measurand.is_of_a_ring() => {
            format!("{ring}, {}", limit.measurand)
        }
        Some(WirePart::Ring(ring)) => format!("{ring} thickness"),
        Some(WirePart::SectorWire(wire)) => {
            format!("thickness of sector wire {}", between(wire))
        }
        Some(WirePart::RingWires) | None => limit.measurand.to_string(),
    };
    match edge_phrase(limit) {
        Some(edge) => format!("{name}, {edge}"),
        None => name,
    }
}

/// The same with the place or the bed that decided it, as a heading.
pub(in crate::report) fn subject(finding: &LimitFinding<'_>) -> String {
    let name = check(finding);
    match &finding.outcome {
        Outcome::Length(length) => match length.at {
            Some(at) => format!("{name}, at {at}"),
            None => name,
        },
        Outcome::Bed(found) => match found.value {
            Amount::Angle(_) => format!("{name} of the {}", found.bed.number()),
            Amount::Deviation(_) => format!("{name}, {}", found.bed),
        },
        _ => name,
    }
}

/// Between or to which edges a limit is taken.
pub(in crate::report) fn edge_phrase(limit: &Limit) -> Option<&'static str> {
    let edge = limit.edge?;
    let width = matches!(
        limit.measurand,
        Measurand::TrebleWidth | Measurand::DoubleWidth
    );
    Some(match (width, edge) {
        (true, Edge::Inside) => "inside to inside",
        (true, Edge::Apex) => "apex to apex",
        (true, Edge::Outside) => "outside to outside",
        (false, Edge::Inside) => "to the inside edge",
        (false, Edge::Apex) => "to the apex",
        (false, Edge::Outside) => "to the outside edge",
    })
}

/// The lengths that conform.
pub(in crate::report) fn interval(interval: Interval, decimals: usize) -> String {
    match bare_interval(interval, decimals) {
        any if interval.lower.is_none() && interval.upper.is_none() => any,
        bounded => bounded + " mm",
    }
}

/// The lengths that conform, without their unit.
pub(in crate::report) fn bare_interval(interval: Interval, decimals: usize) -> String {
    let mm = |length: Length| format!("{:.*}", decimals, length.as_mm());
    match (interval.lower, interval.upper) {
        (Some(lower), Some(upper)) => format!("{} to {}", mm(lower), mm(upper)),
        (Some(lower), None) => format!("at least {}", mm(lower)),
        (None, Some(upper)) => format!("at most {}", mm(upper)),
        (None, None) => "any".to_owned(),
    }
}

/// A measured value with its expanded uncertainty, if stated. k is 2 unless it
/// is named.
pub(in crate::report) fn value(finding: &LengthFinding, decimals: usize) -> String {
    let value = finding.value.as_mm();
    let Some(u) = finding.uncertainty else {
        return format!("{value:.decimals$} mm");
    };
    let coverage = u.expanded();
    if coverage.expanded == 0.0 {
        return format!("{value:.decimals$} mm, taken as exact");
    }
    let k = unusual_factor(coverage);
    let digits = two_digits(coverage.expanded).min(decimals);
    format!("{value:.decimals$} ± {:.digits$} mm{k}", coverage.expanded)
}

/// The coverage factor: 2, or to two decimals.
pub(in crate::report) fn factor(coverage: Coverage) -> String {
    if (coverage.factor - 2.0).abs() < 0.005 {
        "2".to_owned()
    } else {
        format!("{:.2}", coverage.factor)
    }
}

/// The coverage factor in brackets, where it is not the usual 2.
fn unusual_factor(coverage: Coverage) -> String {
    match factor(coverage).as_str() {
        "2" => String::new(),
        other => format!(" (k = {other})"),
    }
}

/// A band's deviation in words, with its expanded uncertainty.
pub(in crate::report) fn deviation(band: &ComparedBand<'_>) -> String {
    let deviation = band.deviation.value();
    let expanded = band.uncertainty.map(|u| u.expanded().expanded);
    let places = expanded.map_or(1, two_digits);
    let (u, k) = band.uncertainty.map_or_else(Default::default, |u| {
        let coverage = u.expanded();
        (
            format!(" ± {:.places$}", coverage.expanded),
            unusual_factor(coverage),
        )
    });
    if deviation.abs() < 0.5 * libm::pow(10.0, -(places as f64)) {
        return format!(
            "as nominal{}{k}",
            if u.is_empty() { u } else { format!(",{u} %") }
        );
    }
    let word = if deviation < 0.0 { "less" } else { "more" };
    format!("{:.places$}{u} % {word} than nominal{k}", deviation.abs())
}

/// The deviations that conform, for a table's column.
pub(in crate::report) fn within(bounds: Option<&Bounds<'_>>) -> String {
    let bound = |percent: Percent| format!("{:+.1}", percent.value());
    match bounds.map(|bounds| (bounds.lower, bounds.upper)) {
        Some((Some(lower), Some(upper))) => format!("{} to {} %", bound(lower), bound(upper)),
        Some((Some(lower), None)) => format!("at least {} %", bound(lower)),
        Some((None, Some(upper))) => format!("at most {} %", bound(upper)),
        _ => "no limit".to_owned(),
    }
}

/// What a board's uncertainties rest on, where that is not said at each length,
/// a line each.
pub(in crate::report) fn uncertainty_basis(
    board: &Board,
    construction: &Construction,
) -> Vec<String> {
    let inputs = &construction.inputs;
    let serves = |index: usize| {
        inputs.iter().any(|input| {
            input.instruments().any(|used| used == index)
                && matches!(
                    input.basis,
                    Basis::Instrument | Basis::Readings { .. } | Basis::Taken(_)
                )
        })
    };
    let instruments = board.instruments.iter().enumerate();
    let used = instruments.filter(|&(index, _)| serves(index));
    let mut lines: Vec<String> = used
        .filter_map(|(_, known)| instrument_basis(known))
        .collect();
    lines.extend(board.temperature.and_then(warmth::brought));
    let gauge = inputs.iter().find_map(|input| match input.basis {
        Basis::Gauge(ground) => Some((ground, input.uncertainty?)),
        _ => None,
    });
    if let Some((ground, u)) = gauge {
        let ground = match ground {
            GaugeGround::Table => "the table",
            GaugeGround::HouseRule => "house rule",
        };
        let expanded = u.expanded().expanded;
        lines.push(if expanded > 0.0 {
            format!("wires named by their gauge: ± {expanded:.3} mm (k = 2; {ground})")
        } else {
            format!("wires named by their gauge count as exact ({ground})")
        });
    }
    if let Some(adjustment) = &construction.adjustment {
        let weights = if adjustment.by_house_rule {
            "equal weights where no uncertainty is stated (house rule)"
        } else {
            "weighted by their uncertainties"
        };
        lines.push(format!(
            "lengths that follow from one another were adjusted by least squares, {weights}"
        ));
    }
    lines
}

fn instrument_basis(instrument: &Instrument) -> Option<String> {
    let u = instrument.type_b()?;
    let mut parts = Vec::new();
    if let Some(step) = instrument.resolution {
        parts.push(format!("step {} mm", step.as_mm()));
    }
    if let Some(error) = instrument.max_error {
        let errors = match instrument.errors {
            Errors::Common => "common to its lengths",
            Errors::Independent => "independent from length to length",
            Errors::Unknown => "taken as common or independent, whichever gives the larger",
        };
        parts.push(format!(
            "permissible error ± {} mm, {errors}",
            error.as_mm()
        ));
    }
    if let Some(known) = instrument.correction {
        parts.push(format!("correction {:+} mm", known.value.as_mm()));
    }
    let name = instrument.name.as_deref().unwrap_or("instrument");
    Some(format!(
        "uncertainty from {name} (type B: {}): ± {:.3} mm (k = 2)",
        parts.join(", "),
        u.expanded().expanded
    ))
}

/// The probability that a board meets all limits that were checked.
pub(in crate::report) fn board_probability(assessment: &Assessment<'_>) -> Option<String> {
    let probability = assessment.probability()?;
    let all = if assessment.tally().not_checked > 0 {
        "the limits that were checked"
    } else {
        "all its limits"
    };
    let probability = match 100.0 * probability {
        p if p >= 99.95 => "over 99.9 %".to_owned(),
        p if p < 0.05 => "under 0.1 %".to_owned(),
        p => format!("{p:.1} %"),
    };
    Some(format!("meets {all} with probability {probability}"))
}

/// Lengths that contradict one another, and what that does to one of them.
pub(in crate::report) fn contradiction(board: &Board, found: &Contradiction) -> String {
    let without = board.construction.input(found.without);
    let without = without.map_or_else(String::new, crate::board::Input::name);
    format!(
        "the recorded lengths miss one another by {:.2}, and may by {:.2}: without the {without} \
         it would be {:.2}; measure again",
        found.misfit.abs(),
        found.allowed,
        found.other
    )
}

/// How far a value lies beyond its limits.
pub(in crate::report) fn beyond(excess: Length, decimals: usize) -> String {
    let size = bare_excess(excess.abs(), decimals);
    let size = size.trim_start_matches('+');
    if excess < Length::ZERO {
        format!("{size} mm below the limits")
    } else {
        format!("{size} mm above the limits")
    }
}

/// How far a value lies beyond its limits, with its sign and without its unit.
pub(in crate::report) fn bare_excess(excess: Length, decimals: usize) -> String {
    format!("{:+.*}", enough(excess.as_mm(), decimals), excess.as_mm())
}

/// The decimals with which a number other than zero does not print as zero: at
/// least `decimals`, at most those of a nanometre.
fn enough(number: f64, decimals: usize) -> usize {
    let shows = |&places: &usize| {
        let half = 0.5 * libm::pow(10.0, -(places as f64));
        number.abs() >= half
    };
    (decimals..=MOST_DECIMALS)
        .find(shows)
        .unwrap_or(MOST_DECIMALS)
}

/// The decimals that give an expanded uncertainty two significant digits, which
/// is as many as it deserves (JCGM 100, 7.2.6, from memory).
pub(in crate::report) fn two_digits(expanded: f64) -> usize {
    if expanded <= 0.0 || !expanded.is_finite() {
        return MOST_DECIMALS;
    }
    // 0.0996 is 0.10 in two digits, not 0.100.
    let places = |number: f64| 1.0 - libm::floor(libm::log10(number));
    let first = places(expanded);
    let scale = libm::pow(10.0, first);
    let places = places(libm::round(expanded * scale) / scale);
    (0..MOST_DECIMALS)
        .find(|&n| n as f64 >= places)
        .unwrap_or(MOST_DECIMALS)
}

/// The decimals of a judged length: those of its uncertainty in two significant
/// digits, or the usual ones where none is known; more where the value would
/// print as the limit that it lies beyond.
pub(in crate::report) fn places(finding: &LengthFinding, measurand: Measurand) -> usize {
    let usual = decimals(measurand);
    let known = finding.uncertainty.map(|u| u.expanded().expanded);
    let known = known.filter(|expanded| *expanded > 0.0);
    let places = known.map_or(usual, two_digits);
    if finding.excess == Length::ZERO {
        places
    } else {
        enough(finding.excess.as_mm(), places)
    }
}

/// How a board is built, in two words.
pub(in crate::report) fn build(construction: &Construction) -> String {
    format!("{}, {}", construction.mounting, construction.profile.name())
}

/// A deviation with its sign and one decimal.
pub(in crate::report) fn signed(percent: Percent) -> String {
    signed_number(percent.value(), 1) + " %"
}

/// A number with its sign; nothing is never "-0.00".
pub(in crate::report) fn signed_number(value: f64, decimals: usize) -> String {
    let text = format!("{value:+.decimals$}");
    if text.chars().any(|c| c.is_ascii_digit() && c != '0') {
        text
    } else {
        format!("{:.decimals$}", 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn uncertainties_have_two_digits() {
        for (expanded, places) in [
            (0.05, 3),
            (0.0996, 2),
            (0.0994, 3),
            (0.12, 2),
            (1.0, 1),
            (12.0, 0),
            (0.0, MOST_DECIMALS),
        ] {
            assert_eq!(two_digits(expanded), places, "{expanded}");
        }
    }

    #[test]
    fn what_lies_beyond_a_limit_never_prints_as_nothing() {
        let words = |mm| beyond(Length::mm(mm), 2);
        assert_eq!(words(0.002), "0.002 mm above the limits");
        assert_eq!(words(-0.25), "0.25 mm below the limits");
        assert_eq!(words(0.000_03), "0.00003 mm above the limits");
    }
}
