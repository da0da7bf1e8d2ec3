//! A filled sheet, cell by cell.

use std::sync::Arc;

use super::item::Item;
use super::length_cell::{cut_in_two, read_length};
use super::plan::FACTS;
use super::sheet::{Entry, EntryValue, Sheet, head};
use super::sheet_columns::{Columns, Filled};
use super::sheet_facts::Facts;
use super::sheet_places::{read_place, second_row};
use crate::board::{Edge, Mounting, Profile};
use crate::document::{
    Cell, CsvFormat, Fault, FileKind, InvalidFile, Located, Problem, Problems, Recognised, Row,
    Separator, Source, Span, csv_rows, nearest,
};
use crate::units::{Instrument, LengthUnit, Series, parse_wire};

impl Sheet {
    /// Reads a filled sheet, or says everything that is wrong with it. Rows
    /// without readings are left out: that is how a person skips one.
    ///
    /// ```
    /// use ringrule::document::{CsvFormat, Source};
    /// use ringrule::readings::Sheet;
    ///
    /// let text = "item,edge,unit,reading 1,reading 2
    /// board,,,A-1
    /// mounting,,,staples
    /// inspector,,,R. Example
    /// treble width,inside,mm,7.98,8.02
    /// ";
    /// let sheet = Sheet::read(Source::new("a-1.csv", text), CsvFormat::default())?;
    /// assert_eq!(sheet.board, "A-1");
    /// assert_eq!(sheet.entries.len(), 1);
    /// # Ok::<(), ringrule::document::InvalidFile>(())
    /// ```
    pub fn read(source: Source, format: CsvFormat) -> Result<Self, InvalidFile> {
        let wanted = Recognised::Ours(FileKind::Sheet);
        if let Some(other) = Recognised::instead_of(wanted, &source) {
            return Err(other);
        }
        let source = Arc::new(source);
        let mut problems = Problems::default();
        let sheet = read(&source, format, &mut problems);
        problems.into_result(&source)?;
        // Without problems nothing that is required is absent.
        sheet.ok_or_else(|| {
            let end = end_of(&source);
            let problem = Problem::new(Fault::MissingKey, end, "this sheet is incomplete", "");
            InvalidFile::of(source, problem)
        })
    }
}

fn end_of(source: &Source) -> Span {
    let length = source.text().trim_end().len();
    Span {
        start: length,
        end: length,
    }
}

fn read(source: &Arc<Source>, format: CsvFormat, problems: &mut Problems) -> Option<Sheet> {
    let rows = csv_rows(source, format, problems);
    let mut reader = Reader {
        format,
        problems,
        facts: Facts::default(),
        entries: Vec::new(),
        instruments: Vec::new(),
    };
    let Some((head, rows)) = rows.split_first() else {
        let remedy = "`ringrule worksheet` makes a sheet to fill in";
        let message = "the sheet is empty".to_owned();
        // Of a file that could not be read something else was said.
        if reader.problems.is_empty() {
            reader.problem(Fault::Syntax, end_of(source), message, remedy);
        }
        return None;
    };
    let columns = Columns::of(head, reader.problems)?;
    for row in rows {
        row.check_surplus(head, reader.problems);
        if !columns.readings(row).is_empty() && !is_fact(row, &columns) {
            row.check_missing(head, reader.problems);
        }
        reader.row(&columns, row);
    }
    reader.finish(source)
}

/// Whether a row says something about the whole; nothing follows its value.
fn is_fact(row: &Row, columns: &Columns) -> bool {
    let name = row.cell(columns.item).map(|name| name.text.to_lowercase());
    name.is_some_and(|name| FACTS.contains(&name.as_str()) || name == "calibrated")
}

/// What was read so far.
struct Reader<'a> {
    format: CsvFormat,
    problems: &'a mut Problems,
    facts: Facts,
    entries: Vec<Entry>,
    /// The instrument that each entry names, if it names one.
    instruments: Vec<Option<Located<String>>>,
}

impl Reader<'_> {
    fn problem(&mut self, fault: Fault, span: Span, message: String, remedy: &str) {
        self.problems
            .add(Problem::new(fault, span, message, remedy));
    }

    fn row(&mut self, columns: &Columns, row: &Row) {
        let cell = |column: Option<usize>| row.cell(column?);
        let filled = columns.readings(row);
        let Some(name) = row.cell(columns.item) else {
            if let Some((reading, _)) = filled.first() {
                let message = "this row has a reading but no item".to_owned();
                self.problem(Fault::MissingKey, reading.span, message, "name the item");
            }
            return;
        };
        let key = name.text.to_lowercase();
        if is_fact(row, columns) {
            for (what, column) in [
                ("place", columns.at),
                ("edge", columns.edge),
                ("unit", columns.unit),
            ] {
                let Some(stray) = cell(column) else { continue };
                let message = format!("`{key}` has no {what}, but here is `{}`", stray.text);
                let remedy = "write the value into the first column for readings";
                self.problem(Fault::WrongKind, stray.span, message, remedy);
            }
            let instrument = cell(columns.instrument);
            self.facts
                .add(&key, name, instrument, &filled, self.problems);
            return;
        }
        let item = match name.text.parse::<Item>() {
            Ok(item) => item,
            Err(error) => {
                let items: Vec<String> = Item::all().map(|item| item.to_string()).collect();
                let known: Vec<&str> = items.iter().map(String::as_str).chain(FACTS).collect();
                let remedy = nearest(&key, &known);
                self.problem(Fault::UnknownWord, name.span, error.to_string(), &remedy);
                return;
            }
        };
        if filled.is_empty() {
            return;
        }
        if let Some(remark) = cell(columns.remark)
            && remark.text.parse::<f64>().is_ok()
        {
            let message = format!("`{}` is a reading in the column `remark`", remark.text);
            let remedy = "a comma in a number makes two cells of it, and moves those behind it: write \
                          `12.69`, or say in words what the number is";
            self.problem(Fault::WrongKind, remark.span, message, remedy);
        }
        let at = read_place(item, cell(columns.at), self.format, self.problems);
        let edge = self.edge(item, name, cell(columns.edge));
        let Ok(unit) = self.unit(cell(columns.unit), &filled) else {
            return;
        };
        let value = self.value(item, &filled, unit);
        let Some(at) = at else { return };
        if let Some(problem) = second_row(&self.entries, item, at, name) {
            self.problems.add(problem);
        } else if let (Some(edge), Some(value)) = (edge, value) {
            self.entries.push(Entry {
                item,
                at,
                edge,
                value,
                instrument: Instrument::default(),
                span: name.span,
            });
            let instrument = cell(columns.instrument).map(|cell| Located {
                value: cell.text.clone(),
                span: cell.span,
            });
            self.instruments.push(instrument);
        }
    }

    /// The unit of a row, if it names one.
    fn unit(
        &mut self,
        cell: Option<&Cell>,
        filled: &[Filled<'_>],
    ) -> Result<Option<LengthUnit>, Reported> {
        let Some(cell) = cell else {
            return Ok(None);
        };
        match cell.text.parse::<LengthUnit>() {
            Ok(unit)
                if filled
                    .iter()
                    .all(|(_, head)| head.is_none_or(|head| head == unit)) =>
            {
                return Ok(Some(unit));
            }
            Ok(_) => {
                let message = format!("the unit `{}` is not that of the readings' head", cell.text);
                let remedy = "name one unit: in the head, or in this cell";
                self.problem(Fault::Contradiction, cell.span, message, remedy);
            }
            Err(fault) => {
                self.problem(
                    Fault::Notation,
                    cell.span,
                    fault.to_string(),
                    &fault.remedy(),
                );
            }
        }
        Err(Reported)
    }

    /// The edge of a row: `Some(None)` for an item without edges.
    #[allow(clippy::option_option)]
    fn edge(&mut self, item: Item, name: &Cell, cell: Option<&Cell>) -> Option<Option<Edge>> {
        let Some(cell) = cell else {
            if !item.has_edge() {
                return Some(None);
            }
            let message = format!("`{item}` does not say to which edge it was taken");
            let remedy = "write inside, outside or apex in the column `edge`";
            self.problem(Fault::MissingKey, name.span, message, remedy);
            return None;
        };
        let word = cell.text.to_lowercase();
        let edge = Edge::ALL.into_iter().find(|edge| edge.key() == word);
        match edge {
            Some(edge) if item.has_edge() => Some(Some(edge)),
            Some(_) => {
                let message = format!("`{item}` has no edge");
                self.problem(
                    Fault::Contradiction,
                    cell.span,
                    message,
                    "leave the cell empty",
                );
                None
            }
            None => {
                let message = format!("`{}` is not an edge", cell.text);
                let remedy = nearest(&cell.text, &Edge::ALL.map(Edge::key));
                self.problem(Fault::UnknownWord, cell.span, message, &remedy);
                None
            }
        }
    }

    fn value(
        &mut self,
        item: Item,
        filled: &[Filled<'_>],
        row_unit: Option<LengthUnit>,
    ) -> Option<EntryValue> {
        if let ([(cell, _)], true) = (filled, item.is_wire())
            && let Ok(size) = parse_wire(&cell.text)
            && size.gauge.is_some()
        {
            return Some(EntryValue::Gauge(size));
        }
        if self.format.separator == Separator::Comma {
            let cells: Vec<&Cell> = filled.iter().map(|(cell, _)| *cell).collect();
            if let Some(problem) = cut_in_two(&cells) {
                self.problems.add(problem);
                return None;
            }
        }
        let lengths: Vec<Option<f64>> = filled
            .iter()
            .map(|(cell, head_unit)| {
                let unit = head_unit.or(row_unit);
                read_length(item, cell, unit, self.format, self.problems)
            })
            .collect();
        let lengths: Option<Vec<f64>> = lengths.into_iter().collect();
        Series::new(lengths?).ok().map(EntryValue::Readings)
    }

    /// Gives every entry the instrument that it names, or the sheet's own.
    fn name_instruments(&mut self, own: &Instrument) {
        let others = self.facts.others(self.format, self.problems);
        for (entry, named) in self.entries.iter_mut().zip(&self.instruments) {
            let known = || [own].into_iter().chain(&others);
            let found = named.as_ref().map_or(Some(own), |Located { value, .. }| {
                known().find(|known| known.name.as_ref() == Some(value))
            });
            if let Some(found) = found {
                entry.instrument = found.clone();
            } else if let Some(Located { value, span }) = named {
                let names: Vec<&str> = known().filter_map(|known| known.name.as_deref()).collect();
                let mut remedy = format!(
                    "describe it in rows `resolution` and `max error` with `{value}` in the \
                     column `instrument`"
                );
                if !names.is_empty() {
                    remedy = format!("{}, or {remedy}", nearest(value, &names));
                }
                let message = format!("the sheet does not describe the instrument `{value}`");
                let problem = Problem::new(Fault::UnknownWord, *span, message, remedy);
                self.problems.add(problem);
            }
        }
    }

    fn finish(mut self, source: &Arc<Source>) -> Option<Sheet> {
        if !self.problems.is_empty() && self.facts.is_empty() && self.entries.is_empty() {
            // Nothing was understood: what is missing would be noise.
            return None;
        }
        let end = end_of(source);
        if self.entries.is_empty() && self.problems.is_empty() {
            let message = "the sheet has no readings".to_owned();
            self.problem(Fault::MissingKey, end, message, "fill in at least one row");
        }
        let instrument = self.facts.instrument(self.format, self.problems);
        self.name_instruments(&instrument);
        let Self {
            problems,
            facts,
            entries,
            ..
        } = self;
        let board = facts.required("board", end, problems);
        let inspector = facts.required("inspector", end, problems);
        facts.required("mounting", end, problems);
        let mountings = Mounting::ALL.map(|mounting| (mounting.key(), mounting));
        let mounting = facts.word("mounting", &mountings, problems);
        let profiles = Profile::ALL.map(|profile| (profile.key(), profile));
        let profile = facts.word("profile", &profiles, problems);
        let date = facts.date(problems);
        let mounting = mounting?;
        Some(Sheet {
            source: Arc::clone(source),
            board: board?,
            name: facts.text("name"),
            mounting,
            profile: profile.unwrap_or(mounting.usual_profile()),
            inspector: inspector?,
            date,
            instrument,
            entries,
            head: head(source),
        })
    }
}

/// What is wrong has been reported.
struct Reported;
