//! A row of a comparison for spreadsheets: one figure.

use serde::Serialize;

use super::rows::Words;
use crate::board::FilledLength;
use crate::comparison::{Certainty, RecordedBeside};

/// By a player's spread, each board's metal at its own setting.
pub(super) const METAL_AS_SET: &str = "spread, metal as set";
/// Every dart on metal lost on every board.
pub(super) const METAL_ALL_LOST: &str = "spread, metal all lost";
/// Every dart on metal glancing to its side of the apex.
pub(super) const METAL_ALL_GLANCING: &str = "spread, metal all glancing";

/// A figure. The names of the fields are the heads of the columns, the same for every
/// comparison.
#[derive(Default, Serialize)]
pub(super) struct FigureRow {
    pub(super) board: Words,
    pub(super) file: Words,
    /// The board that it is compared with; empty for a figure of the board itself.
    pub(super) against: Option<Words>,
    pub(super) figure: &'static str,
    /// The band, the route, the average or the length.
    pub(super) of: Words,
    /// By which rule: areas alone, or a player's spread with metal as set, all of it
    /// lost or all of it glancing.
    pub(super) by: &'static str,
    pub(super) unit: &'static str,
    pub(super) value: Option<f64>,
    /// Of an area or a difference, k = 2 for many degrees of freedom.
    pub(super) expanded_uncertainty: Option<f64>,
    /// How sure it is: exact, within its ends, or not stated; empty where nothing is said
    /// of that.
    pub(super) certainty: &'static str,
    /// Where it lies with 95 % confidence.
    pub(super) low: Option<f64>,
    pub(super) high: Option<f64>,
}

impl FigureRow {
    /// The same with how sure it is, if it has a value and that is of this row: of metal as
    /// set, or of areas.
    pub(super) fn sure(self, certainty: &Certainty) -> Self {
        if self.value.is_none() || [METAL_ALL_LOST, METAL_ALL_GLANCING].contains(&self.by) {
            return self;
        }
        let interval = certainty.interval();
        Self {
            certainty: match certainty {
                Certainty::Exact => "exact",
                Certainty::NotStated => "not stated",
                Certainty::Within { .. } => "within",
            },
            low: interval.map(|interval| interval.low),
            high: interval.map(|interval| interval.high),
            ..self
        }
    }
}

/// What a board's file records beside its rings, and what a table stands in for.
pub(super) fn beside(
    label: &str,
    file: &str,
    beside: &[RecordedBeside],
    filled: &[FilledLength],
) -> Vec<FigureRow> {
    let row = |figure, of: String, unit, value| FigureRow {
        board: Words::of(label),
        file: Words::of(file),
        figure,
        of: Words::of(of),
        by: "area",
        unit,
        value: Some(value),
        ..FigureRow::default()
    };
    let recorded = beside.iter().map(|own| {
        let figure = "recorded area of a bed, not used";
        row(figure, own.band.to_string(), "mm²", own.recorded_mm2)
    });
    let filled = filled.iter().map(|own| {
        let of = own.quantity.to_string();
        row("nominal, not measured", of, "mm", own.value.as_mm())
    });
    recorded.chain(filled).collect()
}
