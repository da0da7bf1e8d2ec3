//! One row for each board and check, as CSV for spreadsheets and statistics: tidy
//! data, with numbers as numbers and the unit of each in a column of its own.

use serde::Serialize;

use super::band::BandRecord;
use super::board::BoardRecord;
use super::diagnostic::DiagnosticRecord;
use super::limit::{LimitRecord, UncertaintyRecord};
use super::words::{CheckRecord, MeasurandRecord, VerdictRecord};
use crate::board::Band;
use crate::conformity::Assessment;
use crate::document::{Diagnostic, InvalidFile};
use crate::lint::{Finding, Linted};
use crate::report::escape;

/// What a text is in a cell: never a formula.
#[derive(Default, Serialize)]
#[serde(transparent)]
pub(super) struct Words(String);

impl Words {
    pub(super) fn of(text: impl AsRef<str>) -> Self {
        Self(escape::no_formula(&escape::terminal(text.as_ref())).into_owned())
    }
}

/// A check of a board. The names of the fields are the heads of the columns.
#[derive(Serialize)]
struct CheckRow {
    file: Words,
    id: Words,
    venue: Option<Words>,
    position: Option<Words>,
    inspected: Option<Words>,
    inspected_by: Option<Words>,
    board_verdict: Option<VerdictRecord>,
    /// The limit's name in its table, or a band's with `area`.
    check: Words,
    part: Option<Words>,
    at: Option<Words>,
    verdict: Option<CheckRecord>,
    unit: &'static str,
    value: Option<f64>,
    expanded_uncertainty: Option<f64>,
    coverage_factor: Option<f64>,
    degrees_of_freedom: Option<f64>,
    nominal: Option<f64>,
    lower: Option<f64>,
    upper: Option<f64>,
    beyond: Option<f64>,
    probability_of_conformity: Option<f64>,
    finding: Option<Words>,
}

/// A finding of `lint`.
#[derive(Serialize)]
struct FindingRow {
    file: Words,
    line: usize,
    column: usize,
    level: String,
    rule: Words,
    message: Words,
    remedy: Option<Words>,
    waived: Option<Words>,
}

/// The heads of the columns of [`check_rows`].
pub fn check_heads() -> String {
    // The writer takes the names of the fields, so a row has to be there.
    let row = CheckRow::new("", "", None);
    let text = written([row], true);
    let heads = text.split_inclusive('\n').next();
    heads.unwrap_or_default().to_owned()
}

/// A row for each limit and band of a board, in the order of the table.
pub fn check_rows(assessment: &Assessment<'_>) -> String {
    let board = BoardRecord::from(assessment);
    let limits = board
        .limits
        .iter()
        .map(|limit| CheckRow::limit(&board, limit));
    let bands = assessment.bands.iter().zip(&board.bands);
    let bands = bands.map(|(finding, band)| CheckRow::band(&board, finding.band, band));
    written(limits.chain(bands), false)
}

/// A row for each problem of a file of which no board could be read.
pub fn invalid_rows(invalid_file: &InvalidFile) -> String {
    let file = invalid_file.file.name();
    let problems = invalid_file.diagnostics.iter();
    let rows = problems.map(|problem| {
        let said = format!("line {}: {}", problem.place.from.line, problem.message);
        CheckRow {
            finding: Some(Words::of(said)),
            ..CheckRow::new(file, "invalid file", None)
        }
    });
    written(rows, false)
}

/// Findings on files, a row each, under their heads.
pub fn lint_rows(linted: &Linted) -> String {
    let rows: Vec<FindingRow> = linted.findings().map(FindingRow::of).collect();
    if rows.is_empty() {
        return "file,line,column,level,rule,message,remedy,waived\n".to_owned();
    }
    written(rows, true)
}

pub(super) fn written(rows: impl IntoIterator<Item = impl Serialize>, heads: bool) -> String {
    let mut writer = csv::WriterBuilder::new()
        .has_headers(heads)
        .from_writer(Vec::new());
    for row in rows {
        // Into memory, and of plain fields: this cannot fail.
        let _ = writer.serialize(row);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

impl CheckRow {
    fn new(file: &str, check: &str, board: Option<&BoardRecord>) -> Self {
        let words = |text: &Option<String>| text.as_ref().map(Words::of);
        Self {
            file: Words::of(file),
            id: Words::of(board.map_or("", |board| &board.id)),
            venue: board.and_then(|board| words(&board.venue)),
            position: board.and_then(|board| words(&board.position)),
            inspected: board.and_then(|board| words(&board.inspected)),
            inspected_by: board.and_then(|board| words(&board.inspected_by)),
            board_verdict: board.map(|board| board.verdict),
            check: Words::of(check),
            part: None,
            at: None,
            verdict: None,
            unit: "",
            value: None,
            expanded_uncertainty: None,
            coverage_factor: None,
            degrees_of_freedom: None,
            nominal: None,
            lower: None,
            upper: None,
            beyond: None,
            probability_of_conformity: None,
            finding: None,
        }
    }

    fn limit(board: &BoardRecord, limit: &LimitRecord) -> Self {
        let row = Self {
            part: limit.part.as_ref().map(Words::of),
            at: limit.at.as_ref().map(Words::of),
            verdict: Some(limit.verdict),
            unit: match limit.measurand {
                MeasurandRecord::SectorAngle => "°",
                MeasurandRecord::BedArea => "%",
                MeasurandRecord::Mounting => "",
                _ => "mm",
            },
            value: limit.value,
            nominal: limit.nominal,
            lower: limit.lower,
            upper: limit.upper,
            beyond: limit.beyond,
            probability_of_conformity: limit.probability_of_conformity,
            finding: said(limit.finding.as_ref()),
            ..Self::new(&board.file, &limit.limit, Some(board))
        };
        row.measured(limit.uncertainty.as_ref())
    }

    fn band(board: &BoardRecord, of: Band, band: &BandRecord) -> Self {
        let row = Self {
            verdict: band.verdict,
            unit: "%",
            value: band.deviation,
            lower: band.lower,
            upper: band.upper,
            probability_of_conformity: band.probability_of_conformity,
            finding: said(band.finding.as_ref()),
            ..Self::new(&board.file, &format!("{}.area", of.key()), Some(board))
        };
        row.measured(band.deviation_uncertainty.as_ref())
    }

    fn measured(self, uncertainty: Option<&UncertaintyRecord>) -> Self {
        Self {
            expanded_uncertainty: uncertainty.map(|u| u.expanded),
            coverage_factor: uncertainty.map(|u| u.coverage_factor),
            degrees_of_freedom: uncertainty.and_then(|u| u.degrees_of_freedom),
            ..self
        }
    }
}

fn said(finding: Option<&DiagnosticRecord>) -> Option<Words> {
    finding.map(|finding| Words::of(finding.message()))
}

impl FindingRow {
    fn of(finding: &Finding) -> Self {
        let Diagnostic {
            place,
            message,
            remedy,
            level,
            code,
            ..
        } = &finding.diagnostic;
        Self {
            file: Words::of(&place.file),
            line: place.from.line,
            column: place.from.column,
            level: level.to_string(),
            rule: Words::of(code),
            message: Words::of(message),
            remedy: remedy.as_ref().map(Words::of),
            waived: finding
                .waived
                .as_ref()
                .map(|waived| Words::of(&waived.because)),
        }
    }
}
