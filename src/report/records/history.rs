//! The history of boards, `ringrule/history/1`, and as rows for spreadsheets.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::board::TableRecord;
use super::rows::{Words, written};
use super::words::{DueRecord, VerdictRecord};
use super::{DayRecord, Of, to_text};
use crate::conformity::{Assessment, WirePart};
use crate::document::Shape;
use crate::history::{BoardHistory, Change, Changed, Season};
use crate::units::Uncertainty;

/// The shape of the history, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of::<HistoryRecord>("What has changed on boards, from Ringrule"));
    &SHAPE
}

/// What has changed on boards. Lengths are in mm, areas as their deviation from the
/// nominal area in percent. Keys without a value are left out.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct HistoryRecord {
    /// `ringrule/history/1`.
    format: String,
    table: TableRecord,
    /// The day by which boards are due.
    on: DayRecord,
    /// The boards, by their ids.
    boards: Vec<BoardHistoryRecord>,
}

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct BoardHistoryRecord {
    id: String,
    venue: Option<String>,
    position: Option<String>,
    /// Where the latest inspection stands.
    due: Option<DueRecord>,
    valid_until: Option<DayRecord>,
    /// The latest first, which decides.
    inspections: Vec<InspectionRecord>,
    /// What has changed since the inspection before the latest.
    changes: Vec<ChangeRecord>,
}

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct InspectionRecord {
    file: String,
    pub(in crate::report) inspected: Option<DayRecord>,
    inspected_by: Option<String>,
    verdict: VerdictRecord,
}

/// A check of two inspections.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct ChangeRecord {
    /// The limit's name in its table, or a band's with `area`.
    check: String,
    part: Option<String>,
    /// Where both were taken, of a limit that speaks of every place.
    at: Option<String>,
    /// `mm` or `%`.
    unit: String,
    pub(in crate::report) before: f64,
    before_expanded_uncertainty: Option<f64>,
    pub(in crate::report) latest: f64,
    latest_expanded_uncertainty: Option<f64>,
    pub(in crate::report) change: f64,
    /// Of the change: errors that both inspections share cancel out.
    pub(in crate::report) change_expanded_uncertainty: Option<f64>,
    coverage_factor: Option<f64>,
    /// The change over its expanded uncertainty.
    pub(in crate::report) normalised: Option<f64>,
    pub(in crate::report) beyond_uncertainty: Option<bool>,
}

/// What a report says of the inspection before the one that it is about.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct SinceRecord {
    #[serde(flatten)]
    pub(in crate::report) before: InspectionRecord,
    pub(in crate::report) changes: Vec<ChangeRecord>,
}

/// A change, in a row with its board. The names of the fields are the heads.
#[derive(Serialize)]
struct ChangeRow {
    id: Words,
    venue: Option<Words>,
    position: Option<Words>,
    before_inspected: Option<String>,
    latest_inspected: Option<String>,
    before_verdict: Option<VerdictRecord>,
    latest_verdict: Option<VerdictRecord>,
    due: Option<DueRecord>,
    valid_until: Option<String>,
    check: Option<Words>,
    part: Option<Words>,
    at: Option<Words>,
    unit: Option<String>,
    before: Option<f64>,
    before_expanded_uncertainty: Option<f64>,
    latest: Option<f64>,
    latest_expanded_uncertainty: Option<f64>,
    change: Option<f64>,
    change_expanded_uncertainty: Option<f64>,
    coverage_factor: Option<f64>,
    normalised: Option<f64>,
    beyond_uncertainty: Option<bool>,
}

impl ChangeRecord {
    /// Whether it is about an area.
    pub(in crate::report) fn is_area(&self) -> bool {
        self.unit == "%"
    }

    pub(in crate::report) fn of(change: &Change<'_>) -> Self {
        let expanded = |u: Option<Uncertainty>| u.map(|u| u.expanded().expanded);
        let (check, part, place, unit, before, latest) = match change.changed {
            Changed::Length {
                finding,
                at,
                earlier,
                later,
            } => (
                finding.limit.name.clone(),
                finding.part.map(WirePart::name),
                at.map(|at| at.to_string()),
                "mm",
                earlier.as_mm(),
                later.as_mm(),
            ),
            Changed::Area {
                band,
                earlier,
                later,
            } => {
                let check = format!("{}.area", band.key());
                (check, None, None, "%", earlier.value(), later.value())
            }
        };
        Self {
            check,
            part,
            at: place,
            unit: unit.to_owned(),
            before,
            before_expanded_uncertainty: expanded(change.earlier_uncertainty),
            latest,
            latest_expanded_uncertainty: expanded(change.later_uncertainty),
            change: change.difference(),
            change_expanded_uncertainty: expanded(change.uncertainty),
            coverage_factor: change.uncertainty.map(|u| u.expanded().factor),
            normalised: change.normalised().filter(|e| e.is_finite()),
            beyond_uncertainty: change.is_beyond_uncertainty(),
        }
    }
}

impl InspectionRecord {
    pub(in crate::report) fn of(assessment: &Assessment<'_>) -> Self {
        let board = assessment.board;
        let own = board.inspection.as_ref();
        Self {
            file: board.document.source.name().to_owned(),
            inspected: Of::of(&board.key().1),
            inspected_by: own.and_then(|own| own.by.clone()),
            verdict: assessment.verdict.into(),
        }
    }
}

impl BoardHistoryRecord {
    fn of(history: &BoardHistory<'_>) -> Self {
        let board = history.latest.board;
        let all = std::iter::once(&history.latest).chain(&history.earlier);
        Self {
            id: board.id.clone(),
            venue: board.venue.clone(),
            position: board.position.clone(),
            due: history.due.map(|(_, due)| due.state.into()),
            valid_until: Of::of(&history.due.map(|(_, due)| due.until)),
            inspections: all.map(InspectionRecord::of).collect(),
            changes: history.changes().iter().map(ChangeRecord::of).collect(),
        }
    }
}

/// The history as one JSON document.
pub fn history_json(season: &Season<'_>) -> Result<String, serde_json::Error> {
    to_text(&HistoryRecord {
        format: "ringrule/history/1".to_owned(),
        table: season.table.into(),
        on: Of::of(&season.on),
        boards: season.boards.iter().map(BoardHistoryRecord::of).collect(),
    })
}

/// A row for each board and change, under their heads; of a board that was inspected
/// once, one without a change.
pub fn history_rows(season: &Season<'_>) -> String {
    let rows = season.boards.iter().flat_map(|history| {
        let board = BoardHistoryRecord::of(history);
        let changes = board
            .changes
            .iter()
            .map(|change| ChangeRow::of(&board, Some(change)));
        let mut rows: Vec<_> = changes.collect();
        if rows.is_empty() {
            rows.push(ChangeRow::of(&board, None));
        }
        rows
    });
    written(rows, true)
}

impl ChangeRow {
    fn of(board: &BoardHistoryRecord, change: Option<&ChangeRecord>) -> Self {
        let words = |text: &Option<String>| text.as_ref().map(Words::of);
        let inspection = |index: usize| board.inspections.get(index);
        let day = |of: Option<&InspectionRecord>| of?.inspected.as_ref().map(|day| day.0.clone());
        Self {
            id: Words::of(&board.id),
            venue: words(&board.venue),
            position: words(&board.position),
            before_inspected: day(inspection(1)),
            latest_inspected: day(inspection(0)),
            before_verdict: inspection(1).map(|own| own.verdict),
            latest_verdict: inspection(0).map(|own| own.verdict),
            due: board.due,
            valid_until: board.valid_until.as_ref().map(|day| day.0.clone()),
            check: change.map(|change| Words::of(&change.check)),
            part: change.and_then(|change| words(&change.part)),
            at: change.and_then(|change| words(&change.at)),
            unit: change.map(|change| change.unit.clone()),
            before: change.map(|change| change.before),
            before_expanded_uncertainty: change.and_then(|c| c.before_expanded_uncertainty),
            latest: change.map(|change| change.latest),
            latest_expanded_uncertainty: change.and_then(|c| c.latest_expanded_uncertainty),
            change: change.map(|change| change.change),
            change_expanded_uncertainty: change.and_then(|c| c.change_expanded_uncertainty),
            coverage_factor: change.and_then(|change| change.coverage_factor),
            normalised: change.and_then(|change| change.normalised),
            beyond_uncertainty: change.and_then(|change| change.beyond_uncertainty),
        }
    }
}
