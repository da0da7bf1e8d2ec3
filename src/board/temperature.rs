//! Lengths that were measured warm or cold, brought to 20 °C.

use super::error_part::{Cause, CommonError, ErrorPart, Sharing};
use super::inputs::together;
use super::{Construction, Input, Quantity};
use crate::units::{Expansion, Length, Temperature, Uncertainty};

/// The temperature at which lengths were measured.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct MeasuringTemperature {
    /// The temperature.
    pub at: Temperature,
    /// How well it is known, in K; zero if that is not stated.
    pub uncertainty: Uncertainty,
    /// How the board expands; `None` if the file does not say, and then lengths
    /// stay as they were measured.
    pub expansion: Option<Expansion>,
    /// How the instruments expand that were as warm as the board; `None` if the
    /// file does not say, and then they count as right where they were used.
    pub of_instruments: Option<Expansion>,
}

impl MeasuringTemperature {
    /// What a measured length is multiplied by to give that at 20 °C (ISO
    /// 1:2022): (1 + `α_i`·(T − 20 °C)) / (1 + α·(T − 20 °C)), α being the board's
    /// coefficient and `α_i` that of a scale which grows with it (JCGM 100, H.1,
    /// from memory, for a length against a standard). 1 without a coefficient.
    pub fn factor(&self) -> f64 {
        let growth = |of: Option<Expansion>| of.map_or(1.0, |of| of.growth(self.at));
        match self.expansion {
            Some(_) => growth(self.of_instruments) / growth(self.expansion),
            None => 1.0,
        }
    }

    /// What is not known of that factor, as parts of it: independent causes,
    /// each common to all lengths. That of a coefficient has the term of second
    /// order in it, `u(α)`·u(T), without which a coefficient would not matter at
    /// 20 °C however badly the temperature is known (JCGM 100, 5.1.2, note).
    pub fn relative(&self) -> [(Cause, CommonError, f64); 3] {
        let u = self.uncertainty.standard();
        let warm = libm::hypot(self.at.above_reference(), u);
        let of = |of: Option<Expansion>| {
            let growth = of.map_or(1.0, |of| of.growth(self.at));
            let known = of.map_or((0.0, 0.0), |of| (of.per_kelvin, of.uncertainty.standard()));
            (known.0 / growth, known.1 * warm / growth)
        };
        let (board, instruments) = (of(self.expansion), of(self.of_instruments));
        [
            (
                Cause::Temperature,
                CommonError::Temperature(0),
                (instruments.0 - board.0).abs() * u,
            ),
            (Cause::Expansion, CommonError::Expansion, board.1),
            (
                Cause::InstrumentExpansion,
                CommonError::InstrumentExpansion,
                instruments.1,
            ),
        ]
    }

    /// Brings every measured length to 20 °C. A wire that was named by its gauge
    /// was not measured, and angles do not grow: they stay as they are.
    pub(super) fn bring_to_reference(&self, construction: &mut Construction) {
        if self.expansion.is_none() {
            return;
        }
        let factor = self.factor();
        let relative = self.relative();
        for input in &mut construction.inputs {
            let is_turn = matches!(input.quantity, Quantity::Turn(_));
            if !is_turn && input.wire.is_none_or(|wire| wire.gauge.is_none()) {
                bring(input, factor, &relative);
            }
        }
        for staple in &mut construction.staples {
            staple.width = staple.width * factor;
            staple.length = staple.length * factor;
        }
    }
}

fn bring(input: &mut Input, factor: f64, relative: &[(Cause, CommonError, f64)]) {
    input.value = input.value * factor;
    if let Some(wire) = &mut input.wire {
        wire.width = input.value;
    }
    // Nothing is known of what states no uncertainty: that of the temperature
    // alone would make it look well known.
    if input.uncertainty.is_none() {
        return;
    }
    for part in &mut input.errors {
        part.uncertainty = part.uncertainty.scaled(factor);
    }
    let parts = relative.iter().filter(|(.., of)| *of > 0.0);
    let parts = parts.map(|&(cause, common, of)| ErrorPart {
        cause,
        uncertainty: Uncertainty::finite(of * input.value.abs().as_mm()),
        sharing: if input.value < Length::ZERO {
            // What makes lengths longer makes an offset to the left lie further
            // left. Offsets are so short that it does not matter: their error
            // is taken as their own.
            Sharing::Own
        } else {
            Sharing::Common(common)
        },
    });
    input.errors.extend(parts.collect::<Vec<_>>());
    input.uncertainty = together(&input.errors);
}
