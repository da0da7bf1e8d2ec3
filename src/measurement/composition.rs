//! The parts of which the uncertainty of a weighted value consists.

use super::basis::Basis;
use super::components::InstrumentPart;
use super::contribution::Contribution;
use crate::units::Uncertainty;

/// Independent parts together.
pub(super) fn together(parts: impl IntoIterator<Item = Uncertainty>) -> Uncertainty {
    Uncertainty::combined(parts.into_iter().map(|part| (1.0, part)))
}

/// A touch, or a known zero where it is not one.
pub(super) fn touch_of(touch: Uncertainty) -> Uncertainty {
    if touch.standard() > 0.0 {
        touch
    } else {
        Uncertainty::finite(0.0)
    }
}

/// Σ w², w being the weight of all results of one person.
pub(super) fn squares_by_person(people: &[Contribution], weights: &[f64]) -> f64 {
    let mut sums: Vec<(usize, f64)> = Vec::new();
    for (result, weight) in people.iter().zip(weights) {
        match sums.iter_mut().find(|(person, _)| *person == result.person) {
            Some((_, sum)) => *sum += weight,
            None => sums.push((result.person, *weight)),
        }
    }
    sums.iter().map(|(_, sum)| sum * sum).sum()
}

/// Scatter and resolution of the weighted value. Results that share one
/// estimate of the scatter are right or wrong together about it.
pub(super) fn own(people: &[Contribution], weights: &[f64]) -> Option<(Uncertainty, f64)> {
    let mut estimates: Vec<(Basis, f64, f64)> = Vec::new();
    let mut resolution = 0.0;
    for (person, weight) in people.iter().zip(weights) {
        let scatter = person.scatter()?;
        let basis = person.repeatability?.basis;
        let variance = weight * weight * scatter.standard() * scatter.standard();
        resolution = libm::hypot(resolution, weight * person.resolution());
        let degrees = scatter.degrees_of_freedom();
        let same = |estimate: &&mut (Basis, f64, f64)| {
            estimate.0 == basis && estimate.2.total_cmp(&degrees).is_eq()
        };
        match estimates.iter_mut().find(same) {
            Some(estimate) => estimate.1 += variance,
            None => estimates.push((basis, variance, degrees)),
        }
    }
    let scatter = estimates.iter().map(|&(_, variance, degrees_of_freedom)| {
        Uncertainty::with_degrees(libm::sqrt(variance), degrees_of_freedom)
    });
    Some((together(scatter), resolution))
}

/// The error of each instrument in the weighted value.
pub(super) fn parts(
    people: &[Contribution],
    instruments: &[usize],
    weights: &[f64],
) -> Vec<InstrumentPart> {
    let mut parts: Vec<(usize, InstrumentPart)> = Vec::new();
    let results = people.iter().zip(instruments).zip(weights).enumerate();
    for (first, ((person, &instrument), weight)) in results {
        let error = weight * person.instrument_error();
        match parts.iter_mut().find(|(known, _)| *known == instrument) {
            Some((_, part)) => {
                part.standard += error;
                part.users += 1;
                part.instrument = part.instrument.or(person.instrument);
            }
            None => parts.push((
                instrument,
                InstrumentPart {
                    instrument: person.instrument,
                    first,
                    users: 1,
                    standard: error,
                },
            )),
        }
    }
    parts.into_iter().map(|(_, part)| part).collect()
}
