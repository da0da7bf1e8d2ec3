//! How figures of a board change with each of its measured lengths.

use rayon::prelude::*;

use super::Subject;
use crate::board::{InputId, Joined, Linear, shares_instruments};
use crate::geometry::Forms;
use crate::play::Face;
use crate::units::{Length, Uncertainty};

/// A length is moved by this to both sides. House rule: far below what anybody measures,
/// far above what rounding leaves of a figure.
const STEP: Length = Length::mm(0.01);

/// A board with each of its measured lengths, the turns of its sector wires among them, a
/// little less and a little more.
pub(super) struct Slopes<'a> {
    subject: &'a Subject,
    moved: Vec<Moved>,
    /// A length cannot be moved: a wire would cross another.
    stuck: bool,
}

struct Moved {
    input: InputId,
    shorter: Face,
    longer: Face,
}

impl<'a> Slopes<'a> {
    /// Of a board; a nominal one is exact, so nothing of it moves.
    pub(super) fn of(subject: &'a Subject) -> Self {
        let (mut moved, mut stuck) = (Vec::new(), false);
        if !subject.is_nominal {
            let construction = &subject.construction;
            let forms = Forms::of(construction);
            let values: Vec<f64> = construction
                .inputs
                .iter()
                .map(|input| input.value.as_mm())
                .collect();
            let here = subject.face().spider();
            for index in 0..values.len() {
                let at = |step: Length| {
                    let mut values = values.clone();
                    if let Some(value) = values.get_mut(index) {
                        *value += step.as_mm();
                    }
                    forms.spider(&values)
                };
                let ends = [at(-STEP), at(STEP)];
                if ends.iter().all(|spider| spider == here) {
                    continue;
                }
                match ends.map(|spider| Face::of(&spider)) {
                    [Ok(shorter), Ok(longer)] => moved.push(Moved {
                        input: InputId::new(index),
                        shorter,
                        longer,
                    }),
                    _ => stuck = true,
                }
            }
        }
        Self {
            subject,
            moved,
            stuck,
        }
    }

    /// The slope of each of so many figures in every measured length, per mm.
    pub(super) fn of_figures(
        &self,
        count: usize,
        figures: impl Fn(&Face) -> Vec<f64> + Sync,
    ) -> Vec<Linear> {
        let ends: Vec<_> = self
            .moved
            .par_iter()
            .map(|moved| (moved.input, figures(&moved.shorter), figures(&moved.longer)))
            .collect();
        let slope = |figure: usize| {
            ends.iter()
                .fold(Linear::default(), |sum, (input, shorter, longer)| {
                    let change = longer.get(figure).zip(shorter.get(figure));
                    let change = change.map_or(0.0, |(longer, shorter)| longer - shorter);
                    sum.plus(1.0, &Linear::input(*input, change / (2.0 * STEP.as_mm())))
                })
        };
        (0..count).map(slope).collect()
    }

    /// The standard uncertainty that the lengths give a figure with these slopes, to first
    /// order (JCGM 100, 5.1.2, from memory); zero for a nominal board. `None` if a length
    /// that matters states none.
    pub(super) fn uncertainty(&self, slope: &Linear) -> Option<Uncertainty> {
        let found = slope
            .clone()
            .without_noise(NOISE)
            .uncertainty(&self.subject.construction.inputs)?;
        (!self.stuck && found.standard().is_finite()).then_some(found)
    }

    /// The same of the sum of something that depends on the lengths of this board and
    /// something that depends on those of another, the error of an instrument that both
    /// were measured with counted once; where it is not known whether that is the same
    /// error, the larger counts.
    pub(super) fn uncertainty_with(
        &self,
        slope: &Linear,
        (other, on_other): (&Self, &Linear),
    ) -> Option<Uncertainty> {
        let independent = Uncertainty::combined([
            (1.0, self.uncertainty(slope)?),
            (1.0, other.uncertainty(on_other)?),
        ]);
        let [own, others] = [self, other].map(|side| {
            let subject = side.subject;
            (
                subject.construction.inputs.as_slice(),
                subject.instruments.as_slice(),
            )
        });
        if !shares_instruments(own.1, others.1) {
            return Some(independent);
        }
        let joined = Joined::of_two_boards(others, own);
        let [slope, on_other] = [slope, on_other].map(|slope| slope.clone().without_noise(NOISE));
        joined.uncertainty(&joined.scaled((1.0, &slope), (-1.0, &on_other)))
    }
}

/// Slopes below this, per mm, are what rounding leaves of none.
const NOISE: f64 = 1e-9;
