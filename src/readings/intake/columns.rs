//! What the columns of a workbook of boards are, by their heads.

use crate::board::{Bearing, Edge};
use crate::document::{Cell, CsvFormat, Fault, Problem, Problems, Span, nearest};
use crate::readings::item::Item;
use crate::readings::sheet_places::read_place;
use crate::units::LengthUnit;
use crate::workbook::{GridRow, Value};

words! {
    /// A column that says something about a board, or about who measured it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
    #[non_exhaustive]
    pub enum FactColumn {
        /// The id on the board.
        Board = "board" / "the id on the board; several rows may have the same",
        /// The venue.
        Venue = "venue" / "the house where the board hangs",
        /// Its place there.
        Position = "position" / "where in the venue it hangs",
        /// What people call it.
        Name = "name" / "what people call the board",
        /// The year.
        Made = "made" / "the year in which it was made",
        /// Who made it.
        Maker = "maker" / "who made it",
        /// The serial number.
        Serial = "serial" / "the maker's serial number",
        /// How the spider is held.
        Mounting = "mounting" / "how the spider is held: staples or embedded",
        /// The cross-section of the wires.
        Profile = "profile" / "the cross-section of the wires: round or strip",
        /// The unit of bare numbers.
        Units = "units" / "the unit of numbers whose head names none: mm or in",
        /// Who took the readings.
        Inspector = "inspected by" / "who took the readings of this row",
        /// When.
        Date = "date" / "the day on which they were taken",
        /// With what.
        Instrument = "instrument" / "what they were taken with, and which one",
        /// Its step.
        Resolution = "resolution" / "the step of the instrument's display",
        /// Its permissible error.
        MaxError = "max error" / "the instrument's permissible error",
        /// When it was calibrated.
        Calibrated = "calibrated" / "the day of the instrument's last calibration",
        /// Anything else.
        Note = "note" / "anything that a reader of the report should know",
    }

    /// The head of the column.
    fn head;
    /// What it is for.
    fn meaning;
}

/// Other words that people use for a column.
const ALIASES: [(&str, FactColumn); 12] = [
    ("id", FactColumn::Board),
    ("board id", FactColumn::Board),
    ("unit", FactColumn::Units),
    ("inspector", FactColumn::Inspector),
    ("by", FactColumn::Inspector),
    ("measured by", FactColumn::Inspector),
    ("inspected on", FactColumn::Date),
    ("day", FactColumn::Date),
    ("maximum error", FactColumn::MaxError),
    ("notes", FactColumn::Note),
    ("remark", FactColumn::Note),
    ("remarks", FactColumn::Note),
];

impl FactColumn {
    fn of(name: &str) -> Option<Self> {
        let own = Self::ALL.into_iter().find(|fact| fact.head() == name);
        own.or_else(|| {
            ALIASES
                .iter()
                .find(|(alias, _)| *alias == name)
                .map(|(_, own)| *own)
        })
    }

    /// Whether it is a length, which has a unit.
    pub(super) const fn is_length(self) -> bool {
        matches!(self, Self::Resolution | Self::MaxError)
    }
}

/// A column of facts.
pub(super) struct Facts {
    pub(super) column: u32,
    pub(super) fact: FactColumn,
    /// The unit that the head names.
    pub(super) unit: Option<LengthUnit>,
}

/// A column of readings.
pub(super) struct Readings {
    pub(super) column: u32,
    pub(super) item: Item,
    pub(super) at: Option<Bearing>,
    pub(super) edge: Option<Edge>,
    pub(super) unit: Option<LengthUnit>,
    number: Option<u32>,
    pub(super) span: Span,
}

/// The columns of a sheet, as its head row names them.
#[derive(Default)]
pub(super) struct Head {
    pub(super) facts: Vec<Facts>,
    pub(super) readings: Vec<Readings>,
}

/// A name as it is compared: small letters, single blanks.
fn plain(text: &str) -> String {
    let text = text.to_lowercase().replace('_', " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether this row is a head: it has a column for the board's id.
pub(super) fn is_head(row: &GridRow) -> bool {
    row.cells.iter().any(|cell| {
        let Value::Text(text) = &cell.value else {
            return false;
        };
        FactColumn::of(&plain(text)) == Some(FactColumn::Board)
    })
}

/// The head of a column for readings: `treble width at 20 1 (mm, inside)`.
///
/// ```
/// use ringrule::board::Edge;
/// use ringrule::readings::head_of;
///
/// let item = "treble width".parse()?;
/// assert_eq!(head_of(item, None, 2, Some(Edge::Inside)), "treble width 2 (mm, inside)");
/// # Ok::<(), ringrule::readings::NoSuchItem>(())
/// ```
pub fn head_of(item: Item, at: Option<Bearing>, number: usize, edge: Option<Edge>) -> String {
    let item = item.to_string().replace('_', " ");
    let at = at.map_or_else(String::new, |at| format!(" at {at}"));
    let edge = edge.map_or_else(String::new, |edge| format!(", {}", edge.key()));
    format!("{item}{at} {number} (mm{edge})")
}

impl Head {
    /// The columns of a head row; the problems say what is wrong with it.
    pub(super) fn of(row: &GridRow, problems: &mut Problems) -> Self {
        let mut head = Self::default();
        for cell in &row.cells {
            let Value::Text(text) = &cell.value else {
                problems.add(Problem::new(
                    Fault::WrongKind,
                    cell.span,
                    format!("`{}` is not the name of a column", cell.value.text()),
                    "name the column in its head, as text",
                ));
                continue;
            };
            // What begins like this is a remark.
            if text.starts_with('#') {
                continue;
            }
            let cell = (
                cell.column,
                Cell {
                    text: text.clone(),
                    span: cell.span,
                },
                cell.is_covered,
            );
            head.add(&cell.1, cell.0, cell.2, problems);
        }
        head.share(problems);
        head
    }

    fn add(&mut self, cell: &Cell, column: u32, is_covered: bool, problems: &mut Problems) {
        let (name, notes) = match cell.text.split_once('(') {
            Some((name, rest)) => (plain(name), rest.trim_end().trim_end_matches(')')),
            None => (plain(&cell.text), ""),
        };
        let Some((unit, edge)) = in_brackets(cell, notes, problems) else {
            return;
        };
        let refuse =
            |fault, message: String, remedy: &str| Problem::new(fault, cell.span, message, remedy);
        if let Some(fact) = FactColumn::of(&name) {
            if edge.is_some() || unit.is_some() && !fact.is_length() {
                let message = format!("`{}` has no unit and no edge", fact.head());
                problems.add(refuse(Fault::WrongKind, message, "leave the brackets out"));
            }
            if is_covered {
                let message = format!(
                    "`{}` is one column, and its head covers several",
                    fact.head()
                );
                let remedy = "unmerge the cell, and give every column a head of its own";
                problems.add(refuse(Fault::WrongKind, message, remedy));
            } else if self.facts.iter().any(|own| own.fact == fact) {
                let message = format!("the column `{}` is there twice", fact.head());
                problems.add(refuse(Fault::DuplicateKey, message, "keep one of the two"));
            }
            self.facts.push(Facts { column, fact, unit });
            return;
        }
        let Some((item, rest)) = item_of(&name) else {
            problems.add(unknown(cell, &name));
            return;
        };
        let Some(said) = Said::of(rest) else {
            let message = format!("`{}` does not say what this column holds", cell.text);
            let remedy = "write what was measured, where if at a place, which reading, and unit and edge in \
                          brackets, such as `treble width at 20 1 (mm, inside)`";
            problems.add(refuse(Fault::UnknownKey, message, remedy));
            return;
        };
        let at = said.at.map(|text| Cell {
            text: text.to_owned(),
            span: cell.span,
        });
        let Some(at) = read_place(item, at.as_ref(), CsvFormat::default(), problems) else {
            return;
        };
        let edge = edge.or(said.edge);
        if edge.is_some() && !item.has_edge() {
            let message = format!("`{item}` has no edge");
            problems.add(refuse(Fault::Contradiction, message, "leave the edge out"));
        }
        let own = Readings {
            column,
            item,
            at,
            edge,
            unit,
            number: said.number,
            span: cell.span,
        };
        let same = self.readings.iter().find(|other| {
            let merged = own.number.is_none() && is_covered && other.span == own.span;
            other.item == item && other.at == at && other.number == own.number && !merged
        });
        if let Some(same) = same {
            let message = format!("the column `{}` is there twice", cell.text);
            let remedy = "number the readings: `treble width 1`, `treble width 2`";
            problems.add(refuse(Fault::DuplicateKey, message, remedy).and(same.span, "the first"));
        }
        self.readings.push(own);
    }

    /// What one column says of its unit and its edge holds for all of the same
    /// length.
    fn share(&mut self, problems: &mut Problems) {
        let units: Vec<(Item, LengthUnit)> = self
            .readings
            .iter()
            .filter_map(|own| Some((own.item, own.unit?)))
            .collect();
        let stated: Vec<(Item, Edge, Span)> = self
            .readings
            .iter()
            .filter_map(|own| Some((own.item, own.edge?, own.span)))
            .collect();
        for own in &mut self.readings {
            let unit = units.iter().find(|(item, _)| *item == own.item);
            own.unit = own.unit.or(unit.map(|(_, unit)| *unit));
            let Some(&(_, edge, span)) = stated.iter().find(|(item, ..)| *item == own.item) else {
                continue;
            };
            if *own.edge.get_or_insert(edge) != edge {
                let message = format!("`{}` is taken to two edges", own.item);
                let remedy = "measure it to one edge, or move the readings by the wire's thickness";
                let problem = Problem::new(Fault::Contradiction, own.span, message, remedy);
                problems.add(problem.and(span, "the other edge"));
            }
        }
    }
}

/// The unit and the edge between brackets.
fn in_brackets(
    cell: &Cell,
    notes: &str,
    problems: &mut Problems,
) -> Option<(Option<LengthUnit>, Option<Edge>)> {
    let (mut unit, mut edge) = (None, None);
    for word in notes.split([',', ';', ' ']).filter(|word| !word.is_empty()) {
        let word = word.to_lowercase();
        let as_edge = Edge::ALL.into_iter().find(|edge| edge.key() == word);
        match (word.parse::<LengthUnit>(), as_edge) {
            (Ok(own), _) if unit.is_none() => unit = Some(own),
            (_, Some(own)) if edge.is_none() => edge = Some(own),
            _ => {
                problems.add(Problem::new(
                    Fault::UnknownWord,
                    cell.span,
                    format!("`{word}` in the brackets of `{}` is no unit and no edge", cell.text),
                    "write a unit and, where it has one, the edge: `(mm, inside)`; the unit is mm or in, \
                     the edge inside, outside or apex",
                ));
                return None;
            }
        }
    }
    Some((unit, edge))
}

/// The length that a name begins with, the longest that fits, and what follows it.
fn item_of(name: &str) -> Option<(Item, &str)> {
    let fitting = Item::all().filter_map(|item| {
        let rest = name.strip_prefix(&plain(&item.to_string()))?;
        (rest.is_empty() || rest.starts_with(' ')).then(|| (item, rest.trim_start()))
    });
    fitting.min_by_key(|(_, rest)| rest.len())
}

/// What follows the length in a head.
#[derive(Default)]
struct Said<'a> {
    at: Option<&'a str>,
    edge: Option<Edge>,
    number: Option<u32>,
}

impl<'a> Said<'a> {
    fn of(rest: &'a str) -> Option<Self> {
        let mut said = Self::default();
        let mut words = rest.split(' ').filter(|word| !word.is_empty());
        while let Some(word) = words.next() {
            if word == "at" && said.at.is_none() {
                said.at = Some(words.next()?);
            } else if word == "reading" {
                // `treble width reading 1` is as clear.
            } else if let Some(edge) = Edge::ALL.into_iter().find(|edge| edge.key() == word) {
                said.edge.replace(edge).is_none().then_some(())?;
            } else {
                let number = word.parse().ok()?;
                said.number.replace(number).is_none().then_some(())?;
            }
        }
        Some(said)
    }
}

fn unknown(cell: &Cell, name: &str) -> Problem {
    let items: Vec<String> = Item::all().map(|item| plain(&item.to_string())).collect();
    let heads = FactColumn::ALL.map(FactColumn::head);
    let known: Vec<&str> = heads
        .into_iter()
        .chain(items.iter().map(String::as_str))
        .collect();
    let remedy = format!(
        "{}; a head that begins with `#` is that of a column of remarks",
        nearest(
            name.trim_end_matches(|c: char| c.is_ascii_digit() || c == ' '),
            &known
        )
    );
    let message = format!("there is no column `{}`", cell.text);
    Problem::new(Fault::UnknownKey, cell.span, message, remedy)
}
