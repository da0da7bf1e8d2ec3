//! What one person has typed of one board: a sheet that is still being filled in.

use ringrule::board::{Band, Edge, Quantity};
use ringrule::document::{CsvFormat, InvalidFile, Source};
use ringrule::readings::{FACTS, Item, PlannedPlace, Sheet};

use super::round::{AT_MOST, Field, Step};
use super::typed::{self, words_of};

/// Rows that are read of a draft. House rule: no board has as many lengths and places.
const MOST_ROWS: usize = 500;

/// Whether a row says something about the whole sheet.
fn is_fact(name: &str) -> bool {
    FACTS.contains(&name) || name == "calibrated"
}

/// A sheet in the making. Everything is kept as it was typed, whether it can be used or
/// not.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Draft {
    facts: Vec<(String, String)>,
    rows: Vec<Row>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Row {
    item: String,
    at: String,
    edge: String,
    readings: Vec<String>,
}

/// Why a reading was not kept: another screen has changed the same field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Meanwhile {
    /// What stands there now.
    pub(super) there: String,
}

impl Draft {
    /// A sheet without readings.
    pub(super) fn new(facts: impl IntoIterator<Item = (&'static str, String)>) -> Self {
        let facts = facts.into_iter().filter(|(_, value)| !value.is_empty());
        Self {
            facts: facts
                .map(|(name, value)| (name.to_owned(), value))
                .collect(),
            rows: Vec::new(),
        }
    }

    /// The same readings under other facts.
    #[must_use]
    pub(super) fn under(self, facts: Self) -> Self {
        Self {
            rows: self.rows,
            ..facts
        }
    }

    /// What is wrong with what is said of the whole, by the reader of every sheet.
    pub(super) fn wrong_facts(&self) -> Vec<String> {
        let width = Row {
            item: Item(Quantity::Width(Band::Treble)).to_string(),
            at: String::new(),
            edge: Edge::Inside.key().to_owned(),
            readings: vec!["8".to_owned()],
        };
        let alone = Self {
            facts: self.facts.clone(),
            rows: vec![width],
        };
        let text = alone.csv(|_, text| text.to_owned(), |_| ());
        let read = Sheet::read(Source::new("the form", text), CsvFormat::default());
        read.err().map(|why| words_of(&why)).unwrap_or_default()
    }

    /// What was typed and is asked for nowhere in this round: with another table.
    pub(super) fn elsewhere(&self, steps: &[Step]) -> Vec<String> {
        let rows = self.rows.iter().filter(|row| !row.is_asked(steps));
        let said = rows.map(|row| {
            let place = if row.at.is_empty() { "" } else { " at " };
            let readings = row.readings.join(", ");
            format!(
                "{}{place}{}: {readings}",
                row.item.replace('_', " "),
                row.at
            )
        });
        said.collect()
    }

    /// A fact, or nothing.
    pub(super) fn fact(&self, name: &str) -> &str {
        let mut facts = self.facts.iter();
        let found = facts.find(|(known, _)| known == name);
        found.map_or("", |(_, value)| value)
    }

    /// How many fields are filled.
    pub(super) fn filled(&self) -> usize {
        let readings = self.rows.iter().flat_map(|row| &row.readings);
        readings.filter(|reading| !reading.is_empty()).count()
    }

    /// What was typed for an item, at a place or at none.
    pub(super) fn readings(&self, item: Item, at: Option<PlannedPlace>) -> &[String] {
        let row = self.rows.iter().find(|row| row.is(item, at));
        row.map_or(&[], |row| &row.readings)
    }

    /// What stands in a field.
    pub(super) fn typed(&self, field: Field) -> &str {
        let readings = self.readings(field.item, field.at);
        readings.get(field.nth).map_or("", String::as_str)
    }

    /// Puts a text into a field, if there is still what whoever typed it saw there.
    pub(super) fn put(
        &mut self,
        field: Field,
        edge: Option<Edge>,
        text: &str,
        seen: &str,
    ) -> Result<(), Meanwhile> {
        let there = self.typed(field);
        if there != seen && there != text {
            let there = there.to_owned();
            return Err(Meanwhile { there });
        }
        let row = self
            .rows
            .iter_mut()
            .find(|row| row.is(field.item, field.at));
        let row = if let Some(row) = row {
            row
        } else {
            self.rows.push(Row {
                item: field.item.to_string(),
                at: field.at.map_or_else(String::new, |at| at.at.to_string()),
                edge: edge.map_or("", Edge::key).to_owned(),
                readings: Vec::new(),
            });
            match self.rows.last_mut() {
                Some(row) => row,
                None => return Ok(()),
            }
        };
        if row.readings.len() <= field.nth {
            row.readings.resize(field.nth + 1, String::new());
        }
        if let Some(reading) = row.readings.get_mut(field.nth) {
            text.clone_into(reading);
        }
        while row.readings.last().is_some_and(String::is_empty) {
            row.readings.pop();
        }
        Ok(())
    }

    /// As a sheet: every text as it was typed.
    pub(super) fn to_csv(&self) -> String {
        self.csv(|_, text| text.to_owned(), |_| ())
    }

    /// What can be used of it, read as every sheet is; nothing where nothing can.
    pub(super) fn sheet(&self, steps: &[Step]) -> Option<Result<Sheet, InvalidFile>> {
        let good = |row: &Row, text: &str| {
            let mut steps = steps.iter().filter(|_| row.is_asked(steps));
            let step = steps.find(|step| step.item.item.to_string() == row.item);
            match step {
                Some(step) if typed::problem(step.item.item, step.item.edge, text).is_none() => {
                    typed::tidy(text)
                }
                _ => String::new(),
            }
        };
        let usable = self.rows.iter().any(|row| {
            let mut readings = row.readings.iter();
            readings.any(|text| !good(row, text).is_empty())
        });
        usable.then(|| {
            let name = format!("the sheet of {}", self.fact("inspector"));
            // A sheet has its readings from the first column on.
            let together = |readings: &mut Vec<String>| readings.sort_by_key(String::is_empty);
            let text = self.csv(good, together);
            Sheet::read(Source::new(name, text), CsvFormat::default())
        })
    }

    fn csv(
        &self,
        reading: impl Fn(&Row, &str) -> String,
        arrange: impl Fn(&mut Vec<String>),
    ) -> String {
        let most = self.rows.iter().map(|row| row.readings.len()).max();
        let most = most.unwrap_or_default().max(1);
        let mut csv = csv::Writer::from_writer(Vec::new());
        let columns = (1..=most).map(|nth| format!("reading {nth}"));
        let head = ["item", "at", "edge", "unit"]
            .map(str::to_owned)
            .into_iter();
        let mut write = |record: Vec<String>| {
            // Writing into memory cannot fail.
            let _ = csv.write_record(record);
        };
        write(head.chain(columns).collect());
        let padded = |first: [&str; 4], rest: Vec<String>| {
            let first = first.map(str::to_owned).into_iter();
            let gap = std::iter::repeat_n(String::new(), most.saturating_sub(rest.len()));
            first.chain(rest).chain(gap).collect()
        };
        for (name, value) in &self.facts {
            write(padded([name, "", "", ""], vec![value.clone()]));
        }
        for row in &self.rows {
            let readings = row.readings.iter().map(|text| reading(row, text));
            let mut readings: Vec<String> = readings.collect();
            arrange(&mut readings);
            if readings.iter().any(|text| !text.is_empty()) {
                write(padded([&row.item, &row.at, &row.edge, "mm"], readings));
            }
        }
        String::from_utf8(csv.into_inner().unwrap_or_default()).unwrap_or_default()
    }

    /// Reads what [`to_csv`](Self::to_csv) wrote; what else may stand there is passed over.
    pub(super) fn from_csv(text: &str) -> Self {
        let mut draft = Self::default();
        let mut reader = csv::ReaderBuilder::new()
            .flexible(true)
            .has_headers(false)
            .from_reader(text.as_bytes());
        for record in reader.records().skip(1).take(MOST_ROWS).flatten() {
            let cell = |index: usize| record.get(index).unwrap_or_default();
            let name = cell(0);
            if is_fact(name) {
                draft.facts.push((name.to_owned(), cell(4).to_owned()));
            } else if !name.is_empty() {
                let readings = record.iter().skip(4).take(AT_MOST).map(str::to_owned);
                let mut readings: Vec<String> = readings.collect();
                while readings.last().is_some_and(String::is_empty) {
                    readings.pop();
                }
                draft.rows.push(Row {
                    item: name.to_owned(),
                    at: cell(1).to_owned(),
                    edge: cell(2).to_owned(),
                    readings,
                });
            }
        }
        draft
    }
}

impl Row {
    fn is_asked(&self, steps: &[Step]) -> bool {
        let step = steps
            .iter()
            .find(|step| step.item.item.to_string() == self.item);
        step.is_some_and(|step| {
            let mut places = step.item.places.iter();
            if self.at.is_empty() {
                step.item.places.is_empty()
            } else {
                places.any(|place| place.at.to_string() == self.at)
            }
        })
    }

    fn is(&self, item: Item, at: Option<PlannedPlace>) -> bool {
        let at = at.map_or_else(String::new, |at| at.at.to_string());
        self.item == item.to_string() && self.at == at
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field(nth: usize) -> Field {
        Field {
            item: Item(Quantity::Width(Band::Treble)),
            at: None,
            nth,
        }
    }

    fn draft() -> Draft {
        Draft::new([
            ("board", "FL-40".to_owned()),
            ("mounting", "staples".to_owned()),
            ("inspector", "A. \"Ash\", down".to_owned()),
        ])
    }

    #[test]
    fn everything_typed_comes_back_as_it_was_typed() {
        let mut draft = draft();
        for (nth, text) in [(1, "8,02"), (3, "what?\" ,"), (0, ""), (4, "=1+1")] {
            assert_eq!(draft.put(field(nth), Some(Edge::Inside), text, ""), Ok(()));
        }
        assert_eq!(Draft::from_csv(&draft.to_csv()), draft);
        assert_eq!(draft.typed(field(1)), "8,02");
        assert_eq!(draft.typed(field(2)), "");
        assert_eq!(draft.filled(), 3);
    }

    #[test]
    fn what_another_screen_changed_is_not_written_over() {
        let mut draft = draft();
        assert_eq!(draft.put(field(0), None, "8.02", ""), Ok(()));
        let there = "8.02".to_owned();
        assert_eq!(
            draft.put(field(0), None, "8.20", ""),
            Err(Meanwhile { there })
        );
        assert_eq!(draft.typed(field(0)), "8.02");
        // Who has seen it may; and the same twice is no quarrel.
        assert_eq!(draft.put(field(0), None, "8.20", "8.02"), Ok(()));
        assert_eq!(draft.put(field(0), None, "8.20", ""), Ok(()));
    }
}
