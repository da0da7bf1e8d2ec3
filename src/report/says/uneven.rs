//! The words for beds, sectors and places of a board that is not even.

use super::phrases::{check, count, signed, two_digits};
use crate::board::Band;
use crate::conformity::{
    Amount, Assessment, BedFinding, ComparedBand, LengthFinding, Outcome, PlaceFinding, Verdict,
};
use crate::geometry::Bed;
use crate::units::Percent;

/// What was found of a sector or bed, with its expanded uncertainty.
pub(in crate::report) fn bed_value(found: &BedFinding) -> String {
    let (value, unit) = (found.value.number(), found.value.unit());
    let signed = matches!(found.value, Amount::Deviation(_));
    let expanded = found.uncertainty.map(|u| u.expanded().expanded);
    let expanded = expanded.filter(|expanded| *expanded > 0.0);
    let places = expanded.map_or(1, two_digits);
    let value = if signed {
        format!("{value:+.places$}")
    } else {
        format!("{value:.places$}")
    };
    match expanded {
        Some(u) => format!("{value} ± {u:.places$}{unit}"),
        None => format!("{value}{unit}"),
    }
}

/// The values of a sector or bed that conform.
pub(in crate::report) fn bed_interval(lower: Option<Amount>, upper: Option<Amount>) -> String {
    // As written: what is rounded away would be another limit.
    let bound = |amount: Amount| {
        let number = libm::round(amount.number() * 1e6) / 1e6;
        match amount {
            Amount::Angle(_) => number.to_string(),
            Amount::Deviation(_) => format!("{number:+}"),
        }
    };
    let unit = lower.or(upper).map_or("", Amount::unit);
    match (lower, upper) {
        (Some(lower), Some(upper)) => format!("{} to {}{unit}", bound(lower), bound(upper)),
        (Some(lower), None) => format!("at least {}{unit}", bound(lower)),
        (None, Some(upper)) => format!("at most {}{unit}", bound(upper)),
        (None, None) => "any".to_owned(),
    }
}

/// How many of all fail, where more than one does.
pub(in crate::report) fn failing(found: &BedFinding) -> Option<String> {
    let failing = found.failing();
    (failing > 1).then(|| format!("{failing} in all lie beyond the limits"))
}

/// Places that lie beyond a limit that speaks of the mean.
pub(in crate::report) fn places_beyond(assessment: &Assessment<'_>) -> Vec<String> {
    let beyond = assessment.limits.iter().filter_map(|finding| {
        let Outcome::Length(length) = &finding.outcome else {
            return None;
        };
        let mean = length.at.is_none() && length.decided.verdict != Verdict::DoesNotConform;
        let fails = |place: &&PlaceFinding| place.decided.verdict == Verdict::DoesNotConform;
        let failing = length.places.iter().filter(fails).count();
        (mean && failing > 0).then(|| {
            format!(
                "{}: the limit speaks of the mean; {failing} of {} lie beyond it",
                check(finding),
                count(length.places.len(), "place", "places")
            )
        })
    });
    beyond.collect()
}

/// How many places decide a limit, and their span.
pub(in crate::report) fn places_judged(length: &LengthFinding, decimals: usize) -> Option<String> {
    length.at?;
    let values = || length.places.iter().map(|place| place.value.as_mm());
    let (least, most) = (
        values().fold(f64::INFINITY, f64::min),
        values().fold(f64::NEG_INFINITY, f64::max),
    );
    let failing = length.places.iter();
    let failing = failing
        .filter(|place| place.decided.verdict == Verdict::DoesNotConform)
        .count();
    (!length.places.is_empty()).then(|| {
        format!(
            "the worst of {}, from {least:.decimals$} to {most:.decimals$} mm; {failing} beyond the \
             limits",
            count(length.places.len(), "place", "places"),
        )
    })
}

/// A bed that deviates by less, in percent, is not named. House rule: as in the
/// drawing, below what a calliper shows on a treble bed.
const WORTH_A_WORD: f64 = 0.5;

/// The beds that lose and gain most, where beds differ.
pub(in crate::report) fn extreme_beds(band: Band, compared: &ComparedBand<'_>) -> Option<String> {
    let [least, most] = compared.extreme_beds(band)?;
    let (lost, gained) = (least.1.value(), most.1.value());
    let one = |(bed, percent): (Bed, Percent)| format!("{bed} ({})", signed(percent));
    if lost.abs().max(gained.abs()) < WORTH_A_WORD {
        return None;
    }
    Some(format!(
        "least {}, most {}; the mean bed {}",
        one(least),
        one(most),
        signed(compared.deviation)
    ))
}
