//! The rows of one board, brought together.

use std::sync::Arc;

use super::columns::FactColumn;
use super::options::IntakeOptions;
use super::rows::{ReadRow, RowReadings};
use crate::board::{Bearing, Edge, Mounting, Profile};
use crate::document::{Fault, InvalidFile, Located, Problem, Problems, Source, Span};
use crate::readings::board_file::to_yaml;
use crate::readings::item::Item;
use crate::readings::plan::plan;
use crate::readings::pool::pool;
use crate::readings::pooled::Pooled;
use crate::readings::sheet::{Entry, Sheet, name};
use crate::units::Instrument;

/// A board that was taken in.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct TakenBoard {
    /// Its id.
    pub id: String,
    /// Its new file, as YAML: a hundredth of what it takes up as data.
    pub text: String,
    /// Whether people disagree on it.
    pub is_disputed: bool,
    /// What its rows come to, where people disagree or that was asked for. Of others
    /// nothing is kept: there may be thousands.
    pub pooled: Option<Box<Pooled>>,
}

/// The rows of one board, with the workbooks that they stand in.
pub(super) struct Group {
    pub(super) id: String,
    rows: Vec<(Arc<Source>, ReadRow, Instrument)>,
}

/// What the rows of one board come to.
pub(super) struct Outcome {
    pub(super) board: Option<TakenBoard>,
    /// How many of them have readings.
    pub(super) rows: usize,
    pub(super) is_sound: bool,
    pub(super) problems: Vec<(Arc<Source>, Problems)>,
    pub(super) faults: Vec<InvalidFile>,
}

/// What somebody has measured.
struct Seen {
    person: String,
    item: Item,
    at: Option<Bearing>,
    source: Arc<Source>,
    span: Span,
}

/// Facts about the board itself, which all its rows share.
const SHARED: [FactColumn; 6] = [
    FactColumn::Venue,
    FactColumn::Position,
    FactColumn::Name,
    FactColumn::Maker,
    FactColumn::Serial,
    FactColumn::Made,
];

impl Group {
    pub(super) fn new(id: String) -> Self {
        let rows = Vec::new();
        Self { id, rows }
    }

    pub(super) fn add(&mut self, source: Arc<Source>, row: ReadRow, instrument: Instrument) {
        self.rows.push((source, row, instrument));
    }

    /// Brings the rows together, or says what is wrong with them.
    pub(super) fn take_in(mut self, options: &IntakeOptions<'_>) -> Outcome {
        let mut doubtful = false;
        for (_, row, _) in &mut self.rows {
            doubtful |= row.is_doubtful;
            if row.id != self.id {
                let message = format!("`{}` and `{}` differ in capitals alone", row.id, self.id);
                let remedy = "write the id of a board in the same way in all its rows";
                row.problems.add(Problem::new(
                    Fault::Contradiction,
                    row.id_span,
                    message,
                    remedy,
                ));
            }
        }
        let shared = SHARED.map(|fact| (fact, self.shared(fact)));
        let mounting = self.one_of(FactColumn::Mounting, |row, problems| {
            row.facts.mounting(problems)
        });
        let profile = self.one_of(FactColumn::Profile, |row, problems| {
            row.facts.profile(problems)
        });
        let made = self.one_of(FactColumn::Made, |row, problems| row.facts.made(problems));
        let count = self
            .rows
            .iter()
            .filter(|(_, row, _)| !row.readings.is_empty());
        let count = count.count();
        let mut sheets = Vec::new();
        if count > 0 {
            self.check_people();
            let mounting = mounting.or_else(|| self.without_mounting());
            sheets = self.sheets(mounting, profile, options);
        }
        let is_sound = !doubtful && self.rows.iter().all(|(_, row, _)| row.problems.is_empty());
        let mut outcome = Outcome {
            board: None,
            rows: count,
            is_sound,
            problems: Vec::new(),
            faults: Vec::new(),
        };
        if is_sound && count > 0 {
            match pool(&sheets) {
                Ok(mut pooled) => {
                    self.identify(&mut pooled, &shared, made);
                    let is_disputed = pooled.disputed().next().is_some();
                    // A file of plain values can always be written.
                    outcome.board = to_yaml(&pooled.file, options.note).map(|text| TakenBoard {
                        id: self.id.clone(),
                        text,
                        is_disputed,
                        pooled: (is_disputed || options.keeps_all).then(|| Box::new(pooled)),
                    });
                }
                Err(faults) => outcome.faults = faults,
            }
        }
        let rows = self.rows.into_iter();
        outcome.problems = rows
            .map(|(source, row, _)| (source, row.problems))
            .collect();
        outcome
    }

    /// The one value that rows give a fact; a second one is a problem.
    fn one_of<T: Copy + PartialEq>(
        &mut self,
        fact: FactColumn,
        read: impl Fn(&ReadRow, &mut Problems) -> Option<Located<T>>,
    ) -> Option<T> {
        let mut found: Option<T> = None;
        for (_, row, _) in &mut self.rows {
            let mut problems = Problems::default();
            if let Some(Located { value, span }) = read(row, &mut problems)
                && *found.get_or_insert(value) != value
            {
                problems.add(differs(fact, span));
            }
            row.problems.extend(problems);
        }
        found
    }

    fn shared(&mut self, fact: FactColumn) -> Option<String> {
        let mut found: Option<String> = None;
        for (_, row, _) in &mut self.rows {
            let Some(Located { value, span }) = row.facts.text(fact) else {
                continue;
            };
            if *found.get_or_insert_with(|| value.clone()) != value {
                row.problems.add(differs(fact, span));
            }
        }
        found
    }

    fn without_mounting(&mut self) -> Option<Mounting> {
        let (_, row, _) = self.rows.first_mut()?;
        if row.facts.get(FactColumn::Mounting).is_none() {
            row.problems.add(Problem::new(
                Fault::MissingKey,
                row.id_span,
                format!("no row of `{}` says how its spider is held", self.id),
                "write staples or embedded into the column `mounting`",
            ));
        }
        None
    }

    /// One person's readings of a length stand in one row.
    fn check_people(&mut self) {
        let mut seen: Vec<Seen> = Vec::new();
        for (source, row, _) in &mut self.rows {
            let Some(person) = row.facts.text(FactColumn::Inspector) else {
                continue;
            };
            for own in &row.readings {
                let same = seen.iter().find(|other| {
                    other.person == person.value
                        && other.item == own.item
                        && own.item.is_one_place(other.at, own.at)
                });
                if let Some(other) = same {
                    let what = name(own.item, own.at);
                    let message =
                        format!("{} has two rows of `{}` with {what}", person.value, row.id);
                    let remedy = "put one person's readings into one row, in columns of their own (`treble \
                                  width 1`, `treble width 2`); take in another inspection by itself";
                    let problem = Problem::new(Fault::DuplicateKey, own.span, message, remedy);
                    row.problems.add(if Arc::ptr_eq(&other.source, source) {
                        problem.and(other.span, "the first")
                    } else {
                        problem
                    });
                } else {
                    seen.push(Seen {
                        person: person.value.clone(),
                        item: own.item,
                        at: own.at,
                        source: Arc::clone(source),
                        span: own.span,
                    });
                }
            }
        }
    }

    /// Each row with readings as a person's sheet.
    fn sheets(
        &mut self,
        mounting: Option<Mounting>,
        profile: Option<Profile>,
        options: &IntakeOptions<'_>,
    ) -> Vec<Sheet> {
        let kind = mounting.map(|mounting| (mounting, profile.unwrap_or(mounting.usual_profile())));
        let edges = Edges::of(options, kind);
        let mut sheets = Vec::new();
        for (source, row, instrument) in &mut self.rows {
            if row.readings.is_empty() {
                continue;
            }
            let mut problems = Problems::default();
            let inspector = row.facts.text(FactColumn::Inspector);
            if inspector.is_none() {
                problems.add(Problem::new(
                    Fault::MissingKey,
                    row.id_span,
                    format!(
                        "this row of `{}` does not say who took its readings",
                        row.id
                    ),
                    "write the name into the column `inspected by`",
                ));
            }
            let date = row.date(&mut problems);
            let readings = std::mem::take(&mut row.readings);
            let entries = readings.into_iter().filter_map(|own| {
                let edge = edges.of_reading(&own, &mut problems)?;
                Some(Entry {
                    item: own.item,
                    at: own.at,
                    edge,
                    value: own.value,
                    instrument: instrument.clone(),
                    span: own.span,
                })
            });
            let entries = entries.collect();
            row.problems.extend(problems);
            if let (Some((mounting, profile)), Some(inspector)) = (kind, inspector) {
                sheets.push(Sheet {
                    source: Arc::clone(source),
                    board: row.id.clone(),
                    name: row.facts.text(FactColumn::Name).map(|name| name.value),
                    mounting,
                    profile,
                    inspector: inspector.value,
                    date,
                    instrument: instrument.clone(),
                    entries,
                    head: row.id_span,
                });
            }
        }
        sheets
    }

    /// Says in the file which board it is, as far as the rows know.
    fn identify(
        &self,
        pooled: &mut Pooled,
        shared: &[(FactColumn, Option<String>)],
        made: Option<u16>,
    ) {
        let Some(identity) = &mut pooled.file.board else {
            return;
        };
        identity.made = made;
        for (fact, text) in shared {
            let place = match fact {
                FactColumn::Venue => &mut identity.venue,
                FactColumn::Position => &mut identity.position,
                FactColumn::Name => &mut identity.name,
                FactColumn::Maker => &mut identity.maker,
                FactColumn::Serial => &mut identity.serial,
                _ => continue,
            };
            place.clone_from(text);
        }
        let mut notes: Vec<String> = Vec::new();
        for (_, row, _) in &self.rows {
            let note = row.facts.text(FactColumn::Note).map(|note| note.value);
            notes.extend(note.filter(|note| !notes.contains(note)));
        }
        identity.note = Some(notes.join("; ")).filter(|notes| !notes.is_empty());
    }
}

fn differs(fact: FactColumn, span: Span) -> Problem {
    Problem::new(
        Fault::Contradiction,
        span,
        format!(
            "`{}` differs from that in another row of the same board",
            fact.head()
        ),
        "write the same in all rows of a board, or in one of them",
    )
}

/// The edges of columns that name none: those of a table.
struct Edges(Vec<(Item, Option<Edge>)>);

impl Edges {
    fn of(options: &IntakeOptions<'_>, kind: Option<(Mounting, Profile)>) -> Self {
        let (Some(table), Some((mounting, profile))) = (options.table, kind) else {
            return Self(Vec::new());
        };
        let rows = plan(table, mounting, profile).into_iter();
        Self(rows.map(|row| (row.item, row.edge)).collect())
    }

    /// `Some(None)` of what has no edge; `None` after saying that it is missing.
    #[allow(clippy::option_option)]
    fn of_reading(&self, own: &RowReadings, problems: &mut Problems) -> Option<Option<Edge>> {
        if own.edge.is_some() || !own.item.has_edge() {
            return Some(own.edge);
        }
        let planned = self.0.iter().find(|(item, _)| *item == own.item);
        if let Some((_, Some(edge))) = planned {
            return Some(Some(*edge));
        }
        problems.add(Problem::new(
            Fault::MissingKey,
            own.head,
            format!("the column does not say to which edge `{}` was taken", own.item),
            "name the edge in brackets, such as `(mm, inside)`, or name the table that the workbook was made \
             for with `--table`",
        ));
        None
    }
}
