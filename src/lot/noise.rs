//! How much of a spread is the measurement's own.

use crate::board::{Basis, Cause, ErrorPart, Input, Linear, Sharing};
use crate::measurement;

/// The variance that errors give a form from board to board, in the square of the
/// form's unit, and whether every length in it states an uncertainty.
///
/// House rule: what counts is independent of all other lengths by the board file's
/// own account, and nothing that boards measured together share. An instrument's
/// permissible error counts only where the file declares it independent, and a
/// correction, a temperature, a coefficient of expansion and the touch of the same
/// people never: they move the mean of a run, not its spread. A wire's gauge is no
/// measurement, and a repeatability by house rule was never measured.
pub(super) fn independent_variance(form: &Linear, inputs: &[Input]) -> (f64, bool) {
    let mut variance = 0.0;
    let mut stated = true;
    for &(id, factor) in form.terms() {
        let Some(input) = inputs.get(id.index()) else {
            continue;
        };
        stated &= input.uncertainty.is_some();
        for part in input
            .errors
            .iter()
            .filter(|part| is_independent(part, input))
        {
            let effect = factor * part.uncertainty.standard();
            variance += effect * effect;
        }
    }
    (variance, stated)
}

fn is_independent(part: &ErrorPart, input: &Input) -> bool {
    let counts = match part.cause {
        Cause::Stated | Cause::Resolution | Cause::PermissibleError => true,
        Cause::Scatter => !is_by_house_rule(input),
        _ => false,
    };
    counts && part.sharing == Sharing::Own
}

/// Whether nobody repeated a reading of the board, so that its scatter is assumed.
fn is_by_house_rule(input: &Input) -> bool {
    let Basis::Taken(taken) = &input.basis else {
        return false;
    };
    let mut known = taken
        .takings
        .iter()
        .filter_map(|taking| taking.repeatability);
    known.any(|own| own.basis == measurement::Basis::House)
}
