//! What stands beside a board's figures: lengths that were filled in, and recorded areas.

use schemars::JsonSchema;
use serde::Serialize;

use super::Of;
use super::words::{BandWordRecord, EdgeRecord};
use crate::board::FilledLength;
use crate::comparison::RecordedBeside;

/// A length that was not measured: nominal, from a table.
#[serde_with::skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct FilledLengthRecord {
    /// What it is a length of.
    length: String,
    /// To which edge, where edges matter.
    edge: Option<EdgeRecord>,
    /// The nominal value.
    value_mm: f64,
    /// `nominal, not measured`.
    from: String,
}

impl Of<FilledLength> for FilledLengthRecord {
    fn of(filled: &FilledLength) -> Self {
        Self {
            length: filled.quantity.to_string(),
            edge: filled.edge.map(EdgeRecord::from),
            value_mm: filled.value.as_mm(),
            from: "nominal, not measured".to_owned(),
        }
    }
}

/// A recorded area of a band whose rings are known too: the rings are used. Areas of one
/// bed, in the mean over the band's.
#[serde_with::skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct RecordedBesideRecord {
    band: BandWordRecord,
    /// As recorded, in mm².
    recorded_mm2: f64,
    /// By the rings, in mm².
    from_rings_mm2: f64,
    /// Expanded uncertainty of the difference (k = 2 for many degrees of freedom), in mm²;
    /// left out where either states none.
    expanded_uncertainty_mm2: Option<f64>,
    /// Whether they differ by more than that.
    contradicts: Option<bool>,
}

impl Of<RecordedBeside> for RecordedBesideRecord {
    fn of(beside: &RecordedBeside) -> Self {
        Self {
            band: beside.band.into(),
            recorded_mm2: beside.recorded_mm2,
            from_rings_mm2: beside.from_rings_mm2,
            expanded_uncertainty_mm2: beside.expanded_uncertainty_mm2,
            contradicts: beside.contradicts(),
        }
    }
}
