//! From the raw file to a board, with every problem collected.

use std::sync::{Arc, LazyLock};

use jiff::civil::Date;

use super::apart::{ReadingApart, readings_apart};
use super::evaluated::Beside;
use super::file::BoardFile;
use super::lengths::Lengths;
use super::read_areas::read_areas;
use super::read_construction::{ConstructionFile, read_construction};
use super::read_instruments::Instruments;
use super::read_temperature::read_temperature;
use super::spread::wide_spreads;
use super::{Construction, Input, MeasuringTemperature, Metal, Mounting, Taken, WideSpread};
use crate::document::{
    Document, Fault, InvalidFile, Located, Problem, Problems, Shape, Source, Value, day, parse,
};
use crate::units::Instrument;

/// A board file, read and checked.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Board {
    /// The file.
    pub document: Arc<Document>,
    /// The inventory id.
    pub id: String,
    /// What people call it.
    pub name: Option<String>,
    /// The house in which it hangs.
    pub venue: Option<String>,
    /// Where in the venue it hangs.
    pub position: Option<String>,
    /// The year in which it was made.
    pub made: Option<u16>,
    /// Who made it.
    pub maker: Option<String>,
    /// The maker's serial number.
    pub serial: Option<String>,
    /// Anything that a reader of the report should know.
    pub note: Option<String>,
    /// Who measured it, and when.
    pub inspection: Option<Inspection>,
    /// At which temperature it was measured, if the file says.
    pub temperature: Option<MeasuringTemperature>,
    /// What it was measured with, in the order of the file.
    pub instruments: Vec<Instrument>,
    /// What its metal does to a dart, if the file says.
    pub metal: Option<Metal>,
    /// How it is built.
    pub construction: Construction,
    /// Readings that stand apart from the others of their length.
    pub apart: Vec<ReadingApart>,
    /// Lengths whose readings differ by more than repeatability explains.
    pub spreads: Vec<WideSpread>,
}

/// Who measured a board, and when.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub struct Inspection {
    /// Who took the readings.
    pub by: Option<String>,
    /// The day.
    pub date: Option<Date>,
}

impl Board {
    /// Reads a board from text, or says everything that is wrong with it.
    ///
    /// ```
    /// use ringrule::board::Board;
    /// use ringrule::document::Source;
    ///
    /// let text = "format: ringrule/board/1\nboard: { id: A-1 }\nmounting: staples\nunits: mm\n";
    /// assert_eq!(Board::read(Source::new("a-1.yaml", text)).unwrap().id, "A-1");
    ///
    /// let invalid_file = Board::read(Source::new("a-1.yaml", "format: ringrule/bord/1")).unwrap_err();
    /// assert_eq!(invalid_file.diagnostics[0].remedy.as_deref(), Some("write `format: ringrule/board/1`"));
    /// ```
    pub fn read(source: Source) -> Result<Self, InvalidFile> {
        Self::from_document(parse(source)?)
    }

    /// What tells inspections apart: the board's id and the day, if it is stated.
    pub fn key(&self) -> (&str, Option<Date>) {
        let day = self.inspection.as_ref().and_then(|own| own.date);
        (&self.id, day)
    }

    /// The same from a file that is not read as a board yet; `None` if it states no
    /// id or no day.
    pub fn key_in(document: &Document) -> Option<(String, Date)> {
        let text = |keys: [&str; 2]| match &document.root.get(keys[0])?.get(keys[1])?.value {
            Value::Text(text) => Some(text.clone()),
            _ => None,
        };
        let day = text(["inspection", "date"])?.parse().ok()?;
        Some((text(["board", "id"])?, day))
    }

    /// Reads a board from a parsed file.
    pub fn from_document(document: Document) -> Result<Self, InvalidFile> {
        let mut problems = Problems::default();
        let file = shape().read::<BoardFile>(&document, &mut problems);
        let read = file.and_then(|file| {
            let instruments = Instruments::read(&file, &mut problems);
            let inspection = file.inspection.as_ref().map(|entry| Inspection {
                by: entry.by.clone(),
                date: entry
                    .date
                    .as_ref()
                    .and_then(|date| day(date, &mut problems)),
            });
            let metal = file.metal.as_ref();
            let metal = metal.and_then(|word| read_metal(word, &mut problems));
            let temperature = file.temperature.as_ref();
            let temperature = temperature.and_then(|entry| read_temperature(entry, &mut problems));
            check_groups(&document, &mut problems);
            let construction =
                read_board_construction(&file, &instruments, temperature, &mut problems);
            let identity = file.board?;
            let id = identity.id.as_ref()?;
            check_id(id, &mut problems);
            let taken = (inspection, temperature, instruments.all);
            Some((identity, construction?, taken, metal))
        });
        problems.into_result_in(&document)?;
        // Without problems nothing that is required is absent.
        let (identity, construction, taken, metal) = read.ok_or_else(|| {
            InvalidFile::of(
                Arc::clone(&document.source),
                Problem::new(
                    Fault::MissingKey,
                    document.root.span,
                    "this board file is not complete",
                    "compare it with the schema: `ringrule schema board` prints it",
                ),
            )
        })?;
        let (inspection, temperature, instruments) = taken;
        let by = inspection
            .as_ref()
            .and_then(|inspection| inspection.by.as_deref());
        let apart = readings_apart(&construction, &instruments, by);
        let spreads = wide_spreads(&construction, &instruments, &apart);
        Ok(Self {
            spreads,
            document: Arc::new(document),
            apart,
            id: identity.id.map(|id| id.value).unwrap_or_default(),
            name: identity.name,
            venue: identity.venue,
            position: identity.position,
            made: identity.made,
            maker: identity.maker,
            serial: identity.serial,
            note: identity.note,
            inspection,
            temperature,
            instruments,
            metal,
            construction,
        })
    }
}

impl Board {
    /// Where it hangs: what people call it, or else its venue and position.
    pub fn hangs(&self) -> Option<String> {
        self.name.clone().or_else(|| {
            let both = [&self.venue, &self.position].into_iter().flatten();
            let both: Vec<&str> = both.map(String::as_str).collect();
            (!both.is_empty()).then(|| both.join(", "))
        })
    }

    /// The lengths on which people disagree.
    pub fn disputes(&self) -> impl Iterator<Item = (&Input, &Taken)> {
        let taken = |input| Some((input, Input::taken(input)?));
        let inputs = self.construction.inputs.iter();
        inputs
            .filter_map(taken)
            .filter(|(_, taken)| taken.is_disputed())
    }
}

/// The shape of a board file, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of::<BoardFile>("A dartboard as measured, for Ringrule"));
    &SHAPE
}

fn read_metal(word: &Located<String>, problems: &mut Problems) -> Option<Metal> {
    match word.value.parse::<Metal>() {
        Ok(metal) => Some(metal),
        Err(error) => {
            let remedy = error.remedy();
            problems.add(Problem::new(
                Fault::Notation,
                word.span,
                error.to_string(),
                remedy,
            ));
            None
        }
    }
}

fn check_id(id: &Located<String>, problems: &mut Problems) {
    if id.value.trim().is_empty() {
        problems.add(Problem::new(
            Fault::Notation,
            id.span,
            "the board's id is empty",
            "write the id that is marked on the board, such as `LR-03`",
        ));
    }
}

/// A group that says nothing is a slip: what was to be in it is not known.
fn check_groups(document: &Document, problems: &mut Problems) {
    let Value::Map(entries) = &document.root.value else {
        return;
    };
    for entry in entries {
        // That of an uncertainty is told where it is read.
        let is_empty = matches!(&entry.value.value, Value::Map(own) if own.is_empty());
        if is_empty && entry.key != "uncertainty" {
            let key = &entry.key;
            problems.add(Problem::new(
                Fault::MissingKey,
                entry.key_span.to(entry.value.span),
                format!("`{key}` says nothing"),
                format!("fill it in, or leave `{key}` out"),
            ));
        }
    }
}

fn read_board_construction(
    file: &BoardFile,
    instruments: &Instruments,
    temperature: Option<MeasuringTemperature>,
    problems: &mut Problems,
) -> Option<Construction> {
    let unit = file.units.as_ref().map(|units| units.value);
    let mut lengths = Lengths {
        instruments: &instruments.all,
        names: file.instruments.as_ref().map_or(&[][..], |named| &named.0),
        usual: instruments.usual,
        ..Lengths::plain(unit, problems)
    };
    if let Some(entry) = &file.uncertainty {
        lengths.file_wide = lengths.uncertainty(entry);
    }
    let mounting = file.mounting.map(|mounting| mounting.value);
    let parts = ConstructionFile {
        mounting: mounting.unwrap_or(Mounting::Staples),
        profile: file.profile.map(|profile| profile.value),
        wires: file.wires.as_ref(),
        rings: file.rings.as_ref(),
        widths: file.widths.as_ref(),
        overall: file.overall.as_ref().and_then(|entry| {
            let diameter = entry.diameter.as_ref()?;
            let beside = Beside {
                uncertainty: entry.uncertainty.as_ref(),
                instrument: entry.instrument.as_ref(),
                across: true,
            };
            Some((diameter, beside))
        }),
        sectors: file.sectors.as_ref(),
        staples: file.staples.as_ref(),
    };
    let mut construction = read_construction(&parts, &mut lengths);
    if let Some(temperature) = temperature {
        temperature.bring_to_reference(&mut construction);
    }
    if let Some(areas) = &file.areas {
        let factor = temperature.map_or(1.0, |known| known.factor());
        construction.areas = read_areas(areas, unit, factor, problems);
    }
    mounting.map(|_| construction.adjusted())
}
