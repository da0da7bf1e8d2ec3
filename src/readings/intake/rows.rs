//! A sheet of a workbook, row by row.

use jiff::civil::Date;

use super::columns::{FactColumn, Facts, Head, Readings, is_head};
use super::facts::{Days, FactCell, RowFacts};
use super::options::IntakeOptions;
use crate::board::Edge;
use crate::document::{Cell, CsvFormat, DecimalMark, Fault, Problem, Problems, Span, wrong_length};
use crate::readings::item::Item;
use crate::readings::length_cell::{cut_in_two, read_length};
use crate::readings::sheet::EntryValue;
use crate::units::{LengthUnit, Series, parse_wire};
use crate::workbook::{EPOCH_1900, Grid, GridCell, GridRow, Value};

/// A row that names a board.
pub(super) struct ReadRow {
    pub(super) id: String,
    pub(super) id_span: Span,
    pub(super) facts: RowFacts,
    pub(super) readings: Vec<RowReadings>,
    pub(super) days: Days,
    /// Whether the head of its sheet cannot be trusted.
    pub(super) is_doubtful: bool,
    /// What is wrong with this row alone.
    pub(super) problems: Problems,
}

/// What a row has of one length at one place.
pub(super) struct RowReadings {
    pub(super) item: Item,
    pub(super) at: Option<crate::board::Bearing>,
    pub(super) edge: Option<Edge>,
    pub(super) value: EntryValue,
    /// The first cell.
    pub(super) span: Span,
    /// The head of its column.
    pub(super) head: Span,
}

/// Reads the rows of a sheet. What is wrong with its head, or with rows that name
/// no board, goes to `problems`. A sheet whose first cell begins with `#` holds
/// explanations, and nothing is read of it.
pub(super) fn read_grid(
    grid: &Grid,
    options: &IntakeOptions<'_>,
    problems: &mut Problems,
) -> Vec<ReadRow> {
    let Some(first) = grid.rows.first() else {
        return Vec::new();
    };
    if is_remark(first) && grid.name.is_some() {
        return Vec::new();
    }
    let Some(at) = grid.rows.iter().position(is_head) else {
        problems.add(Problem::new(
            Fault::MissingKey,
            first.cells.first().map_or(Span::default(), |cell| cell.span),
            "no row of this sheet has a column `board`",
            "name the columns in one row: `board` for the id, `mounting`, `inspected by`, `treble width 1 \
             (mm, inside)` …; `ringrule intake --blank` makes such a sheet. A sheet whose first \
             cell begins with `#` is left out",
        ));
        return Vec::new();
    };
    let (above, rest) = grid.rows.split_at(at);
    for row in above {
        check_title(row, problems);
    }
    let Some((head_row, rows)) = rest.split_first() else {
        return Vec::new();
    };
    let mut of_head = Problems::default();
    let own = Head::of(head_row, &mut of_head);
    let is_doubtful = !of_head.is_empty();
    problems.extend(of_head);
    let epoch = grid.epoch.or(options.serial_days.then_some(EPOCH_1900));
    let reader = Reader {
        head: &own,
        head_row,
        decimal: grid.decimal.unwrap_or(options.decimal),
        is_csv: grid.decimal.is_some(),
        days: Days {
            order: options.days,
            epoch,
        },
        is_doubtful,
    };
    let rows = rows.iter().filter(|row| !is_remark(row));
    rows.filter_map(|row| reader.row(row, problems)).collect()
}

fn is_remark(row: &GridRow) -> bool {
    let first = row.cells.first();
    first.is_some_and(|cell| matches!(&cell.value, Value::Text(text) if text.starts_with('#')))
}

/// Above the head there may be a title, but nothing that was measured.
fn check_title(row: &GridRow, problems: &mut Problems) {
    let is_text = |cell: &&GridCell| matches!(cell.value, Value::Text(_) | Value::Day(_));
    if let Some(cell) = row.cells.iter().find(|cell| !is_text(cell)) {
        problems.add(Problem::new(
            Fault::WrongKind,
            cell.span,
            format!(
                "`{}` stands above the row that names the columns",
                cell.value.text()
            ),
            "move it below that row, or begin its row with `#`",
        ));
    }
}

struct Reader<'a> {
    head: &'a Head,
    head_row: &'a GridRow,
    decimal: DecimalMark,
    is_csv: bool,
    days: Days,
    is_doubtful: bool,
}

impl Reader<'_> {
    /// `None` of a row without a board, after saying what is wrong with it.
    fn row(&self, row: &GridRow, sheet_problems: &mut Problems) -> Option<ReadRow> {
        let mut problems = Problems::default();
        let mut facts = RowFacts::default();
        let cells: Vec<&GridCell> = row
            .cells
            .iter()
            .filter(|cell| !self.is_of_head(cell))
            .collect();
        let first = cells.first()?;
        if let (Some(fields), Some(named)) = (row.fields, self.head_row.fields)
            && fields != named
        {
            problems.add(wrong_length(row.span(), fields, named));
        }
        for cell in &cells {
            self.check(cell, &mut problems);
        }
        for Facts { column, fact, unit } in &self.head.facts {
            if let Some(cell) = cells.iter().find(|cell| cell.column == *column) {
                facts.add(*fact, self.fact(cell, *fact, *unit));
            }
        }
        let Some(board) = facts.get(FactColumn::Board) else {
            let message = "this row does not say which board it is of".to_owned();
            let remedy =
                "write the id into the column `board`; a row that begins with `#` is a remark";
            sheet_problems.add(Problem::new(Fault::MissingKey, first.span, message, remedy));
            sheet_problems.extend(problems);
            return None;
        };
        let (id, id_span) = (board.text.clone(), board.span);
        let unit = facts.unit(&mut problems);
        let readings = self.readings(&cells, unit, &mut problems);
        Some(ReadRow {
            id,
            id_span,
            facts,
            readings,
            days: self.days,
            is_doubtful: self.is_doubtful,
            problems,
        })
    }

    /// Whether a cell is covered by one of the head that reaches down.
    fn is_of_head(&self, cell: &GridCell) -> bool {
        let own = self.head_row.cell(cell.column);
        cell.is_covered && own.is_some_and(|head| head.span == cell.span)
    }

    /// Says of a cell that holds no value, or stands in no column, what is wrong.
    fn check(&self, cell: &GridCell, problems: &mut Problems) {
        let head = self
            .head_row
            .cell(cell.column)
            .map(|head| head.value.text());
        if head.as_ref().is_some_and(|head| head.starts_with('#')) {
            return;
        }
        let text = cell.value.text();
        let (fault, message, remedy) = if head.is_none() {
            (
                Fault::UnknownKey,
                format!("`{text}` is in a column that the head row does not name"),
                "name the column, empty the cell, or give the column a head that begins with `#`, for \
                 remarks",
            )
        } else {
            match cell.value {
                Value::Error(_) => (
                    Fault::WrongKind,
                    format!("the cell holds the error {text}"),
                    "mend its formula, or write the value",
                ),
                Value::NoValue(_) => (
                    Fault::WrongKind,
                    format!("the formula `{text}` has no value yet"),
                    "open the workbook in the spreadsheet program and save it there, or write the value",
                ),
                Value::NoKind(_) => (
                    Fault::WrongKind,
                    format!(
                        "the cell shows `{text}`, but says of no known kind of value which it is"
                    ),
                    "open the workbook in the spreadsheet program, write the value again, and save it",
                ),
                Value::Truth(_) => (
                    Fault::WrongKind,
                    format!("the cell holds the truth value {text}"),
                    "write what is meant as text or as a number",
                ),
                _ => return,
            }
        };
        problems.add(Problem::new(fault, cell.span, message, remedy));
    }

    fn fact(&self, cell: &GridCell, fact: FactColumn, unit: Option<LengthUnit>) -> FactCell {
        let text = cell.value.text();
        let text = match cell.value {
            Value::Text(_) if fact.is_length() => self.format(cell).with_point(&text).into_owned(),
            _ => text,
        };
        FactCell {
            value: cell.value.clone(),
            text,
            span: cell.span,
            unit,
        }
    }

    /// How numbers are written in a cell: one that holds a number has a point.
    fn format(&self, cell: &GridCell) -> CsvFormat {
        match cell.value {
            Value::Text(_) => CsvFormat {
                decimal: self.decimal,
                ..CsvFormat::default()
            },
            _ => CsvFormat {
                decimal: DecimalMark::Point,
                ..CsvFormat::default()
            },
        }
    }

    /// The readings of a row, those of one length and place together.
    fn readings(
        &self,
        cells: &[&GridCell],
        row_unit: Option<LengthUnit>,
        problems: &mut Problems,
    ) -> Vec<RowReadings> {
        let mut groups: Vec<Vec<(&Readings, &GridCell)>> = Vec::new();
        for column in &self.head.readings {
            let Some(cell) = cells.iter().find(|cell| cell.column == column.column) else {
                continue;
            };
            if !is_reading(cell, problems) {
                continue;
            }
            let same = |group: &&mut Vec<(&Readings, &GridCell)>| {
                let first = group.first();
                first.is_some_and(|(own, _)| own.item == column.item && own.at == column.at)
            };
            match groups.iter_mut().find(same) {
                Some(group) => group.push((column, cell)),
                None => groups.push(vec![(column, cell)]),
            }
        }
        let read = groups.iter().filter_map(|group| {
            let (column, cell) = group.first()?;
            Some(RowReadings {
                item: column.item,
                at: column.at,
                edge: column.edge,
                value: self.value(group, row_unit, problems)?,
                span: cell.span,
                head: column.span,
            })
        });
        read.collect()
    }

    fn value(
        &self,
        group: &[(&Readings, &GridCell)],
        row_unit: Option<LengthUnit>,
        problems: &mut Problems,
    ) -> Option<EntryValue> {
        if let [(column, cell)] = group
            && column.item.is_wire()
            && let Ok(size) = parse_wire(&cell.value.text())
            && size.gauge.is_some()
        {
            return Some(EntryValue::Gauge(size));
        }
        if self.is_csv {
            let cells: Vec<Cell> = group
                .iter()
                .map(|(_, cell)| Cell {
                    text: cell.value.text(),
                    span: cell.span,
                })
                .collect();
            if let Some(problem) = cut_in_two(&cells.iter().collect::<Vec<_>>()) {
                problems.add(problem);
                return None;
            }
        }
        let lengths = group.iter().map(|(column, cell)| {
            if let (Some(of_head), Some(of_row)) = (column.unit, row_unit)
                && of_head != of_row
            {
                problems.add(Problem::new(
                    Fault::Contradiction,
                    cell.span,
                    format!(
                        "the head says {} here, and the row's `units` say {}",
                        of_head.symbol(),
                        of_row.symbol()
                    ),
                    "name one unit: in the head, or in the column `units`",
                ));
                return None;
            }
            let unit = column.unit.or(row_unit);
            let own = Cell {
                text: cell.value.text(),
                span: cell.span,
            };
            let bare = own.text.ends_with(|c: char| c.is_ascii_digit());
            if unit.is_none() && bare && own.text.parse::<f64>().is_ok() {
                problems.add(Problem::new(
                    Fault::Notation,
                    cell.span,
                    format!("`{}` states no unit", own.text),
                    "name the unit in the head of the column, as in `(mm)`, or in a column `units`",
                ));
                return None;
            }
            read_length(column.item, &own, unit, self.format(cell), problems)
        });
        let lengths: Vec<Option<f64>> = lengths.collect();
        let lengths: Option<Vec<f64>> = lengths.into_iter().collect();
        Series::new(lengths?).ok().map(EntryValue::Readings)
    }
}

impl ReadRow {
    /// The day of the row's readings.
    pub(super) fn date(&self, problems: &mut Problems) -> Option<Date> {
        self.facts.day(FactColumn::Date, self.days, problems)
    }
}

/// Whether a cell may be a reading; it is said if not.
fn is_reading(cell: &GridCell, problems: &mut Problems) -> bool {
    let text = cell.value.text();
    let (message, remedy) = match &cell.value {
        _ if cell.is_covered => (
            "this reading stands in a merged cell".to_owned(),
            "unmerge the cell: every reading has one of its own",
        ),
        Value::Number(_) | Value::Text(_) => return true,
        Value::Day(_) | Value::Time(_) => (
            format!("the cell holds a date or a time, {text}, and not a length"),
            "the spreadsheet program may have taken a number for a date: format the cell as a \
             number, and write the reading again",
        ),
        // Reported already.
        Value::Truth(_) | Value::Error(_) | Value::NoValue(_) | Value::NoKind(_) => return false,
    };
    problems.add(Problem::new(Fault::WrongKind, cell.span, message, remedy));
    false
}
