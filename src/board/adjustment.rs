//! All recorded lengths brought into agreement by least squares.
//!
//! Where lengths were recorded that follow from others, each such condition
//! Σ b·x = 0 is missed by some m. The generalised least-squares solution, in the
//! form of condition equations, is x̂ = x − V·Bᵀ·(B·V·Bᵀ)⁻¹·m, V being the
//! covariance of the lengths (Mikhail, Observations and Least Squares, 1976,
//! from memory; JCGM 102 for several quantities at once). Nothing is inverted
//! but the few conditions, which are made orthogonal one after the other.

use statrs::distribution::{ChiSquared, ContinuousCDF, FisherSnedecor};

use super::error_part::Assumption;
use super::{
    Around, Band, Construction, Edge, Input, InputId, Linear, PerRing, RingPlace, SectorPlaces,
};
use crate::units::{Length, Uncertainty};

/// How far lengths may miss a condition where one of them states no
/// uncertainty. House rule: what two hand readings of a calliper are trusted to.
const UNSTATED_MISFIT: Length = Length::mm(0.1);

/// A misfit below this is the noise of the arithmetic. House rule.
const LEAST_MISFIT: Length = Length::mm(1e-6);

/// Misfits that sound lengths exceed this rarely are a contradiction: what lies
/// outside of k = 2.
const LEAST_PROBABILITY: f64 = 1.0 - 0.954_499_736_103_642;

/// A factor below this is what rounding left of zero.
const NO_FACTOR: f64 = 1e-12;

/// What bringing the lengths into agreement took.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjustment {
    /// The construction by rules of precedence, as it was before.
    recorded: Construction,
    /// The conditions that the lengths should meet.
    pub conditions: Vec<Condition>,
    /// Σ of the squared misfits over their variances, as far as uncertainties
    /// are stated.
    pub chi_square: f64,
    /// How many conditions stand behind it.
    pub degrees_of_freedom: usize,
    /// The probability of a chi-square that large from sound lengths; `None`
    /// where no uncertainty is stated.
    pub probability: Option<f64>,
    /// How well each length fits the others, the worst first: its standardised
    /// residual (Baarda's w, Netherlands Geodetic Commission 2, 1968, from
    /// memory). With a single condition all have the same.
    pub residuals: Vec<Residual>,
    /// Whether the lengths contradict one another.
    pub contradicts: bool,
    /// Whether equal weights stand in for uncertainties that are not stated.
    pub by_house_rule: bool,
}

/// Lengths that follow from one another.
#[derive(Clone, Debug, PartialEq)]
pub struct Condition {
    /// The band whose width was taken directly and follows from its radii too.
    pub band: Band,
    /// The sum of lengths that should be zero.
    pub form: Linear,
    /// What it is.
    pub misfit: Length,
    /// What it may be: the expanded uncertainty of the sum.
    pub allowed: Length,
}

/// How well one length fits the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Residual {
    /// Which length.
    pub input: InputId,
    /// Its size, in standard deviations.
    pub standardised: f64,
}

/// What a condition's misfit is spread over: first the lengths that are set
/// aside, then those of which nothing is known, then the rest by variance.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Metric {
    SetAside(InputId),
    Unstated,
    Stated,
}

impl Metric {
    /// The covariance of two sums, up to a factor for the first two.
    fn covariance(self, a: &Linear, b: &Linear, inputs: &[Input]) -> f64 {
        match self {
            Self::SetAside(id) => a.factor(id) * b.factor(id),
            Self::Unstated => {
                let unstated = |&&(id, _): &&(InputId, f64)| {
                    let input = inputs.get(id.index());
                    input.is_some_and(|input| input.uncertainty.is_none())
                };
                let terms = a.terms().iter().filter(unstated);
                terms.map(|&(id, factor)| factor * b.factor(id)).sum()
            }
            Self::Stated => a.covariance(b, inputs, Assumption::Common),
        }
    }

    /// A square below this is zero.
    const fn least(self) -> f64 {
        match self {
            Self::SetAside(_) | Self::Unstated => 1e-9,
            Self::Stated => 1e-18,
        }
    }
}

/// One condition, orthogonal to those before it.
struct Step {
    form: Linear,
    metric: Metric,
    /// Its variance in that metric.
    square: f64,
    /// What it is missed by, in mm.
    misfit: f64,
}

/// Makes the conditions orthogonal, metric by metric (Gram and Schmidt). The
/// second part are those that only exact lengths are left in.
fn steps(
    conditions: &[Condition],
    aside: Option<InputId>,
    inputs: &[Input],
) -> (Vec<Step>, Vec<Linear>) {
    let mut left: Vec<Linear> = conditions.iter().map(|c| c.form.clone()).collect();
    let mut steps = Vec::new();
    let metrics = aside.map(Metric::SetAside);
    for metric in metrics
        .into_iter()
        .chain([Metric::Unstated, Metric::Stated])
    {
        loop {
            let squares = left
                .iter()
                .map(|form| metric.covariance(form, form, inputs));
            let largest = squares.enumerate().max_by(|a, b| a.1.total_cmp(&b.1));
            let Some((index, square)) = largest.filter(|(_, square)| *square > metric.least())
            else {
                break;
            };
            let form = left.swap_remove(index);
            for other in &mut left {
                let share = metric.covariance(other, &form, inputs) / square;
                *other = std::mem::take(other)
                    .plus(-share, &form)
                    .without_noise(NO_FACTOR);
            }
            steps.push(Step {
                misfit: form.value(inputs).as_mm(),
                form,
                metric,
                square,
            });
        }
    }
    (steps, left)
}

/// The same sum in adjusted lengths.
fn adjusted(form: &Linear, steps: &[Step], inputs: &[Input]) -> Linear {
    let take = |form: Linear, step: &Step| {
        let share = step.metric.covariance(&form, &step.form, inputs) / step.square;
        form.plus(-share, &step.form).without_noise(NO_FACTOR)
    };
    steps.iter().fold(form.clone(), take)
}

/// Every place, turn and thickness in adjusted lengths.
fn apply(recorded: &Construction, steps: &[Step]) -> Construction {
    let inputs = &recorded.inputs;
    let form = |form: &Linear| adjusted(form, steps, inputs);
    Construction {
        rings: PerRing::from_fn(|ring| {
            recorded.rings[ring].as_ref().map(|place| RingPlace {
                radius: form(&place.radius),
                around: place
                    .around
                    .iter()
                    .map(|own| Around {
                        at: own.at,
                        length: form(&own.length),
                    })
                    .collect(),
                offset: place.offset.as_ref().map(|both| both.each_ref().map(form)),
                ..place.clone()
            })
        }),
        ring_wires: PerRing::from_fn(|ring| recorded.ring_wires[ring].as_ref().map(form)),
        sector_wires: recorded.sector_wires.as_ref().map(form),
        sectors: recorded.sectors.as_deref().map(|places| {
            let each =
                |forms: &[Option<Linear>; 20]| forms.each_ref().map(|own| own.as_ref().map(form));
            Box::new(SectorPlaces {
                bearings: places.bearings,
                turns: each(&places.turns),
                offsets: each(&places.offsets),
                widths: each(&places.widths),
            })
        }),
        overall: recorded.overall.as_ref().map(form),
        ..recorded.clone()
    }
}

impl Construction {
    /// The same construction with every place and thickness by least squares on
    /// all recorded lengths. Without a length that follows from others it stays
    /// as it is.
    #[must_use]
    pub(crate) fn adjusted(self) -> Self {
        let conditions = self.conditions();
        if conditions.is_empty() {
            return self;
        }
        let (steps, exact) = steps(&conditions, None, &self.inputs);
        let adjustment = Adjustment::new(&self, conditions, &steps, &exact);
        Self {
            adjustment: Some(Box::new(adjustment)),
            ..apply(&self, &steps)
        }
    }

    /// The construction by what was recorded of each wire itself, before lengths
    /// were adjusted.
    pub(crate) fn recorded(&self) -> &Self {
        self.adjustment
            .as_deref()
            .map_or(self, |adjustment| &adjustment.recorded)
    }

    /// The construction without one of its lengths, as far as the others make
    /// up for it. `None` if nothing is recorded twice.
    pub(crate) fn without(&self, input: InputId) -> Option<Self> {
        let adjustment = self.adjustment.as_deref()?;
        let recorded = &adjustment.recorded;
        let (steps, _) = steps(&adjustment.conditions, Some(input), &recorded.inputs);
        Some(apply(recorded, &steps))
    }

    /// The construction with other errors of its lengths, adjusted anew.
    #[must_use]
    pub(crate) fn with_errors(&self, change: impl FnMut(&mut Input)) -> Self {
        let mut recorded = self.recorded().clone();
        recorded.inputs.iter_mut().for_each(change);
        recorded.adjusted()
    }

    /// What should be zero: each direct width less the one from the radii.
    fn conditions(&self) -> Vec<Condition> {
        let condition = |band: Band| {
            let direct = self.widths[band].as_ref()?;
            let edges = [direct.edge].into_iter().chain(Edge::ALL);
            let mut differences = edges.filter_map(|edge| {
                let from_radii = self.width_from_radii(band, edge)?;
                Some(self.width_direct(band, edge)?.plus(-1.0, &from_radii))
            });
            let form = differences.next()?;
            // A ring that the width itself placed says nothing about it.
            if form.terms().is_empty() {
                return None;
            }
            let allowed = match form.uncertainty(&self.inputs) {
                Some(u) => Length::mm(u.expanded().expanded),
                None => UNSTATED_MISFIT,
            };
            Some(Condition {
                band,
                misfit: form.value(&self.inputs),
                form,
                allowed,
            })
        };
        Band::ALL.into_iter().filter_map(condition).collect()
    }
}

impl Adjustment {
    fn new(
        recorded: &Construction,
        conditions: Vec<Condition>,
        steps: &[Step],
        exact: &[Linear],
    ) -> Self {
        let inputs = &recorded.inputs;
        let stated = || steps.iter().filter(|step| step.metric == Metric::Stated);
        let chi_square: f64 = stated()
            .map(|step| step.misfit * step.misfit / step.square)
            .sum();
        let degrees_of_freedom = stated().count();
        let known = stated().filter_map(|step| step.form.uncertainty(inputs));
        let behind = known
            .map(|u: Uncertainty| u.degrees_of_freedom())
            .fold(f64::INFINITY, f64::min);
        let probability = probability(chi_square, degrees_of_freedom, behind);
        let beyond_noise = |misfit: f64| misfit.abs() > LEAST_MISFIT.as_mm();
        let by_rule = || steps.iter().filter(|step| step.metric == Metric::Unstated);
        let contradicts = (probability.is_some_and(|p| p < LEAST_PROBABILITY)
            && stated().any(|step| beyond_noise(step.misfit)))
            || by_rule().any(|step| step.misfit.abs() > UNSTATED_MISFIT.as_mm())
            || exact
                .iter()
                .any(|form| beyond_noise(form.value(inputs).as_mm()));
        Self {
            recorded: recorded.clone(),
            residuals: residuals(steps, inputs.len()),
            chi_square,
            degrees_of_freedom,
            probability,
            contradicts,
            by_house_rule: by_rule().next().is_some(),
            conditions,
        }
    }

    /// The lengths of which one most likely is wrong: those that fit the others
    /// as badly as the worst.
    pub fn suspects(&self) -> impl Iterator<Item = InputId> {
        /// House rule: a residual within a tenth of the worst might as well be
        /// the worst.
        const AS_BAD: f64 = 0.9;
        let worst = self.residuals.first().map_or(0.0, |r| r.standardised);
        let residuals = self.residuals.iter();
        let as_bad = residuals.take_while(move |r| r.standardised >= AS_BAD * worst);
        as_bad.map(|residual| residual.input)
    }
}

/// The probability of so large a chi-square, or of so large a ratio of variances
/// where the uncertainties rest on few degrees of freedom.
fn probability(chi_square: f64, degrees: usize, behind: f64) -> Option<f64> {
    if degrees == 0 {
        return None;
    }
    let degrees = degrees as f64;
    if behind.is_finite() {
        let f = FisherSnedecor::new(degrees, behind.max(1.0)).ok()?;
        return Some(f.sf(chi_square / degrees));
    }
    Some(ChiSquared::new(degrees).ok()?.sf(chi_square))
}

/// w = (Bᵀ·S⁻¹·m) / √diag(Bᵀ·S⁻¹·B) of every length that a condition names.
fn residuals(steps: &[Step], inputs: usize) -> Vec<Residual> {
    let residual = |input: InputId| {
        let (mut pull, mut square) = (0.0, 0.0);
        for step in steps {
            let factor = step.form.factor(input);
            pull += factor * step.misfit / step.square;
            square += factor * factor / step.square;
        }
        (square > 0.0).then(|| Residual {
            input,
            standardised: pull.abs() / libm::sqrt(square),
        })
    };
    let inputs = (0..inputs).map(InputId::new);
    let mut residuals: Vec<_> = inputs.filter_map(residual).collect();
    residuals.sort_by(|a, b| b.standardised.total_cmp(&a.standardised));
    residuals
}
