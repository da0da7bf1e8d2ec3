//! How a figure moves with what is known of boards.

use super::AreaSubject;
use super::ratio::GivenRatios;
use crate::board::{Band, Linear, PerBand};
use crate::units::Uncertainty;

/// How a figure moves with one board's lengths and recorded areas.
#[derive(Clone, Debug, Default)]
pub(super) struct Side {
    lengths: Linear,
    /// By the recorded area of a band's bed.
    recorded: PerBand<f64>,
}

impl Side {
    pub(super) fn of_lengths(lengths: Linear) -> Self {
        Self {
            lengths,
            recorded: PerBand::default(),
        }
    }

    pub(super) fn of_recorded(band: Band) -> Self {
        Self {
            lengths: Linear::default(),
            recorded: PerBand::from_fn(|own| f64::from(u8::from(own == band))),
        }
    }

    pub(super) fn plus(self, factor: f64, other: &Self) -> Self {
        Self {
            lengths: self.lengths.plus(factor, &other.lengths),
            recorded: PerBand::from_fn(|band| self.recorded[band] + factor * other.recorded[band]),
        }
    }

    pub(super) fn times(self, factor: f64) -> Self {
        Self::default().plus(factor, &self)
    }

    /// Its uncertainty; `None` if something that matters states none. Recorded areas are
    /// independent of lengths, and of each other.
    pub(super) fn uncertainty(&self, of: &AreaSubject) -> Option<Uncertainty> {
        if of.is_nominal() {
            return Some(Uncertainty::finite(0.0));
        }
        let inputs = &of.construction().inputs;
        let mut parts = vec![(1.0, self.lengths.uncertainty(inputs)?)];
        for (band, &slope) in self.recorded.iter() {
            if slope != 0.0 {
                parts.push((slope, of.recorded_uncertainty(band)?));
            }
        }
        Some(Uncertainty::combined(parts))
    }
}

/// The logarithm of a ratio, and how it moves with both boards and given ratios.
#[derive(Clone, Debug, Default)]
pub(super) struct Log {
    pub(super) value: f64,
    pub(super) first: Side,
    pub(super) board: Side,
    /// By the given ratio of a band.
    pub(super) ratios: PerBand<f64>,
}

impl Log {
    pub(super) fn plus(self, factor: f64, other: &Self) -> Self {
        Self {
            value: self.value + factor * other.value,
            first: self.first.plus(factor, &other.first),
            board: self.board.plus(factor, &other.board),
            ratios: PerBand::from_fn(|band| self.ratios[band] + factor * other.ratios[band]),
        }
    }

    /// Its uncertainty; `None` if something that matters states none.
    pub(super) fn known(
        &self,
        first: Option<&AreaSubject>,
        board: Option<&AreaSubject>,
        ratios: Option<&GivenRatios>,
    ) -> Option<Uncertainty> {
        let mut parts = Vec::new();
        for (side, of) in [(&self.first, first), (&self.board, board)] {
            let Some(of) = of else { continue };
            parts.push((1.0, side.uncertainty(of)?));
        }
        for (band, &slope) in self.ratios.iter() {
            let given = ratios.and_then(|ratios| ratios.of(band));
            if let (true, Some(given)) = (slope != 0.0, given) {
                parts.push((slope, given.uncertainty?));
            }
        }
        Some(Uncertainty::combined(parts))
    }
}
