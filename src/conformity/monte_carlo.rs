//! Propagation of whole distributions, as a check of the first-order results
//! and for those who want it (after JCGM 101, from memory).

use super::error_source::{ErrorSource, sources};
use super::propagate::FreeArea;
use super::{Assessment, BandOutcome, Outcome};
use crate::board::{InputId, Linear, PerBand};
use crate::geometry::{Forms, Spider, band_area};
use crate::random::Random;

/// What the draws of one quantity came to.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Drawn {
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation: the standard uncertainty. `None` where the
    /// distribution has no variance that draws could settle on: Student's t on
    /// two degrees of freedom or fewer. The interval is sound all the same.
    pub standard_uncertainty: Option<f64>,
    /// The ends of the interval that holds the middle 95.45 % of them.
    pub interval: (f64, f64),
}

/// A board's quantities by Monte Carlo. What has no uncertainty has no entry.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Simulation {
    /// How many draws.
    pub draws: usize,
    /// The seed that they were made from: the same seed, the same draws.
    pub seed: u64,
    /// Deviation of each band's free area, in percent of the nominal area.
    pub deviations: PerBand<Option<Drawn>>,
    /// Metal share of each band, in percent.
    pub metal_shares: PerBand<Option<Drawn>>,
    /// The length of each limit finding, in mm, in the order of the assessment.
    pub lengths: Vec<Option<Drawn>>,
}

/// The most draws that are made: what fits in memory beside everything else.
/// House rule.
pub const MOST_DRAWS: usize = 1_000_000;

/// The share of draws that the interval holds: that of k = 2.
const INTERVAL: f64 = 0.954_499_736_103_642;

/// Draws every measured length of a board from its distribution and follows
/// each draw to the areas and limits of an assessment. Lengths without an
/// uncertainty stay as they are.
pub fn simulate(assessment: &Assessment<'_>, draws: usize, seed: u64) -> Simulation {
    let construction = &*assessment.construction;
    let draws = draws.clamp(1, MOST_DRAWS);
    let forms = Forms::of(construction);
    let nominal = PerBand::from_fn(|band| {
        let finding = assessment
            .bands
            .iter()
            .find(|finding| finding.band == band)?;
        match &finding.outcome {
            BandOutcome::Compared(compared) => Some(compared.nominal),
            _ => None,
        }
    });
    let lengths: Vec<Option<Linear>> = assessment
        .limits
        .iter()
        .map(|finding| match &finding.outcome {
            Outcome::Length(length) => length.uncertainty.map(|_| length.form.clone()),
            _ => None,
        })
        .collect();
    let spider = Spider::of(construction);
    let areas = PerBand::from_fn(|band| {
        let free = FreeArea::of(construction, &spider, band)?;
        free.uncertainty(construction)?;
        Some(free.inputs().collect::<Vec<_>>())
    });

    let mut deviations: PerBand<Vec<f64>> = PerBand::default();
    let mut metal_shares: PerBand<Vec<f64>> = PerBand::default();
    let mut drawn_lengths: Vec<Vec<f64>> = vec![Vec::new(); lengths.len()];
    let sources = sources(&construction.inputs);
    let mut random = Random::seeded(seed);
    let mut values = vec![0.0; construction.inputs.len()];
    for _ in 0..draws {
        for (value, input) in values.iter_mut().zip(&construction.inputs) {
            *value = input.value.as_mm();
        }
        for source in &sources {
            source.draw(&mut random, &mut values);
        }
        let spider = forms.spider(&values);
        for (band, inputs) in areas.iter() {
            if inputs.is_none() {
                continue;
            }
            let Some(area) = band_area(&spider, band) else {
                continue;
            };
            if let Some(nominal) = nominal[band] {
                let deviation = 100.0 * ((area.free - nominal) / nominal);
                deviations[band].push(deviation);
            }
            if let Some(share) = area.metal_share() {
                metal_shares[band].push(share.value());
            }
        }
        for (drawn, form) in drawn_lengths.iter_mut().zip(&lengths) {
            if let Some(form) = form {
                drawn.push(form.at(&values));
            }
        }
    }
    let settles = PerBand::from_fn(|band| {
        let inputs = areas[band].as_deref().unwrap_or_default();
        settle(&sources, inputs)
    });
    Simulation {
        draws,
        seed,
        deviations: PerBand::from_fn(|band| summarise(&mut deviations[band], settles[band])),
        metal_shares: PerBand::from_fn(|band| summarise(&mut metal_shares[band], settles[band])),
        lengths: drawn_lengths
            .iter_mut()
            .zip(&lengths)
            .map(|(draws, form)| {
                let inputs = form.as_ref().map_or(&[][..], Linear::terms);
                let inputs: Vec<_> = inputs.iter().map(|&(id, _)| id).collect();
                summarise(draws, settle(&sources, &inputs))
            })
            .collect(),
    }
}

/// Whether what depends on these lengths has a variance.
fn settle(sources: &[ErrorSource], inputs: &[InputId]) -> bool {
    let concerns = |source: &&ErrorSource| inputs.iter().any(|&input| source.enters(input));
    sources
        .iter()
        .filter(concerns)
        .all(ErrorSource::has_variance)
}

fn summarise(draws: &mut [f64], settles: bool) -> Option<Drawn> {
    if draws.len() < 2 {
        return None;
    }
    let n = draws.len() as f64;
    let mean = draws.iter().sum::<f64>() / n;
    let squares: f64 = draws.iter().map(|x| (x - mean) * (x - mean)).sum();
    draws.sort_by(f64::total_cmp);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let tail = ((1.0 - INTERVAL) / 2.0 * n) as usize;
    let low = draws.get(tail).copied()?;
    let high = draws.get(draws.len() - 1 - tail).copied()?;
    Some(Drawn {
        mean,
        standard_uncertainty: settles.then(|| libm::sqrt(squares / (n - 1.0))),
        interval: (low, high),
    })
}
