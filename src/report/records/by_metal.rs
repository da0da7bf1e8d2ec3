//! Figures that depend on what metal does to a dart.

use schemars::JsonSchema;
use serde::Serialize;

use super::Of;
use crate::comparison::{ByMetal, Crossed};

/// One figure under the chosen setting of metal and under both extremes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct ByMetalRecord<T> {
    /// Each board with its own setting.
    chosen: T,
    /// On every board a dart on metal is lost.
    lost: T,
    /// On every board a dart on metal glances to its side of the apex.
    glances: T,
}

/// One figure about two boards where what metal does differs between them as far as it
/// can.
#[serde_with::skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct CrossedRecord {
    /// Every dart on the first board's metal glances, every one on the other's is lost.
    first_glances: Option<f64>,
    /// The other way round.
    first_lost: Option<f64>,
}

impl Of<Crossed<Option<f64>>> for CrossedRecord {
    fn of(data: &Crossed<Option<f64>>) -> Self {
        Self {
            first_glances: data.first_glances,
            first_lost: data.first_lost,
        }
    }
}

impl<E, T: Of<E>> Of<ByMetal<E>> for ByMetalRecord<T> {
    fn of(figure: &ByMetal<E>) -> Self {
        Self {
            chosen: T::of(&figure.chosen),
            lost: T::of(&figure.lost),
            glances: T::of(&figure.glances),
        }
    }
}
