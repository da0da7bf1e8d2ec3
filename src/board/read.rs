//! From the raw file to a board, with every problem collected.

use std::sync::{Arc, LazyLock};

use jiff::civil::Date;

use super::file::{
    BoardFile, InstrumentFile, LengthEntry, LengthText, RadiusEntry, RingsFile, UncertaintyEntry,
    WidthEntry, WidthsFile, WireEntry, WiresFile,
};
use super::lengths::{Evaluated, Lengths, Ranges};
use super::{
    Band, Construction, DirectWidth, Edge, Input, InputId, Linear, Metal, Mounting, PerBand,
    PerRing, Profile, Quantity, RingPlace, RingWire,
};
use crate::document::{
    Document, Fault, InvalidFile, Located, Problem, Problems, Shape, Source, Span, day, parse,
};
use crate::units::{Instrument, Length, LengthUnit};

/// A board file, read and checked.
#[derive(Clone, Debug)]
pub struct Board {
    /// The file.
    pub document: Arc<Document>,
    /// The inventory id.
    pub id: String,
    /// Where it hangs, or what people call it.
    pub name: Option<String>,
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
    /// What it was measured with.
    pub instrument: Option<Instrument>,
    /// What its metal does to a dart, if the file says.
    pub metal: Option<Metal>,
    /// How it is built.
    pub construction: Construction,
}

/// Who measured a board, and when.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
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

    /// Reads a board from a parsed file.
    pub fn from_document(document: Document) -> Result<Self, InvalidFile> {
        let mut problems = Problems::default();
        let file = shape().read::<BoardFile>(&document, &mut problems);
        let read = file.and_then(|file| {
            let instrument = file.instrument.as_ref().map(|entry| {
                let unit = file.units.as_ref().map(|units| units.value);
                read_instrument(entry, unit, &mut problems)
            });
            let inspection = file.inspection.as_ref().map(|entry| Inspection {
                by: entry.by.clone(),
                date: entry
                    .date
                    .as_ref()
                    .and_then(|date| day(date, &mut problems)),
            });
            let metal = file.metal.as_ref();
            let metal = metal.and_then(|word| read_metal(word, &mut problems));
            let construction = read_board_construction(&file, instrument.as_ref(), &mut problems);
            let identity = file.board?;
            let id = identity.id.as_ref()?;
            check_id(id, &mut problems);
            Some((identity, construction?, instrument, inspection, metal))
        });
        problems.into_result_in(&document)?;
        // Without problems nothing that is required is absent.
        let (identity, construction, instrument, inspection, metal) = read.ok_or_else(|| {
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
        Ok(Self {
            document: Arc::new(document),
            id: identity.id.map(|id| id.value).unwrap_or_default(),
            name: identity.name,
            made: identity.made,
            maker: identity.maker,
            serial: identity.serial,
            note: identity.note,
            inspection,
            instrument,
            metal,
            construction,
        })
    }
}

/// The shape of a board file, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of::<BoardFile>("A dartboard as measured, for Ringrule"));
    &SHAPE
}

fn read_instrument(
    entry: &InstrumentFile,
    unit: Option<LengthUnit>,
    problems: &mut Problems,
) -> Instrument {
    let calibrated = entry.calibrated.as_ref();
    let calibrated = calibrated.and_then(|date| day(date, problems));
    let mut lengths = Lengths {
        unit,
        unit_is_missing: unit.is_none(),
        problems,
        file_wide: None,
        instrument: None,
        step: 0.0,
    };
    let mut step = |text: &Option<Located<LengthText>>| {
        let text = text.as_ref()?;
        lengths.within(text, Ranges::UNCERTAINTY)
    };
    Instrument {
        name: entry.name.clone(),
        resolution: step(&entry.resolution),
        max_error: step(&entry.max_error),
        calibrated,
    }
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

fn read_board_construction(
    file: &BoardFile,
    instrument: Option<&Instrument>,
    problems: &mut Problems,
) -> Option<Construction> {
    let mut lengths = Lengths {
        unit: file.units.as_ref().map(|units| units.value),
        unit_is_missing: file.units.is_none(),
        problems,
        file_wide: None,
        instrument: instrument.and_then(Instrument::type_b),
        step: instrument
            .and_then(|instrument| instrument.resolution)
            .map_or(0.0, Length::as_mm),
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
            Some((diameter, entry.uncertainty.as_ref()))
        }),
    };
    let construction = read_construction(&parts, &mut lengths);
    mounting.map(|_| construction)
}

/// The parts of a file that describe a construction: a board's or a nominal
/// board's.
pub(crate) struct ConstructionFile<'a> {
    pub(crate) mounting: Mounting,
    pub(crate) profile: Option<Profile>,
    pub(crate) wires: Option<&'a WiresFile>,
    pub(crate) rings: Option<&'a RingsFile>,
    pub(crate) widths: Option<&'a WidthsFile>,
    pub(crate) overall: Option<(&'a LengthEntry, Option<&'a UncertaintyEntry>)>,
}

/// Reads wires, rings, widths and size, and derives every apex.
pub(crate) fn read_construction(
    file: &ConstructionFile<'_>,
    lengths: &mut Lengths<'_>,
) -> Construction {
    let mut construction = Construction {
        mounting: file.mounting,
        profile: file.profile.unwrap_or(file.mounting.usual_profile()),
        inputs: Vec::new(),
        rings: PerRing::default(),
        ring_wires: PerRing::default(),
        sector_wires: None,
        widths: PerBand::default(),
        overall: None,
    };
    if let Some(wires) = file.wires {
        read_wires(wires, &mut construction, lengths);
    }
    if let Some(rings) = file.rings {
        for (ring, entry) in rings.entries() {
            if let Some(entry) = entry {
                construction.rings[ring] = read_ring(ring, entry, &mut construction, lengths);
            }
        }
    }
    if let Some(widths) = file.widths {
        for (band, entry) in [
            (Band::Treble, widths.treble.as_ref()),
            (Band::Double, widths.double.as_ref()),
        ] {
            if let Some(entry) = entry {
                construction.widths[band] = read_width(band, entry, &mut construction, lengths);
                construction.complete_from_width(band);
            }
        }
    }
    if let Some((diameter, uncertainty)) = file.overall {
        let evaluated = lengths.evaluate(diameter, uncertainty, Ranges::OVERALL);
        construction.overall = evaluated.map(|evaluated| {
            let input = plain_input(Quantity::Overall, evaluated, diameter.span);
            Linear::input(add(&mut construction, input), 1.0)
        });
    }
    check_order(&construction, lengths.problems);
    construction
}

fn add(construction: &mut Construction, input: Input) -> InputId {
    construction.inputs.push(input);
    InputId::new(construction.inputs.len() - 1)
}

fn plain_input(quantity: Quantity, evaluated: Evaluated, span: Span) -> Input {
    Input {
        quantity,
        value: evaluated.value,
        edge: None,
        wire: None,
        uncertainty: evaluated.uncertainty,
        basis: evaluated.basis,
        span,
    }
}

fn read_wires(wires: &WiresFile, construction: &mut Construction, lengths: &mut Lengths<'_>) {
    let mut one = |quantity, entry: &WireEntry| -> Option<Linear> {
        let (evaluated, wire, span) = lengths.wire_entry(entry)?;
        let mut input = plain_input(quantity, evaluated, span);
        input.wire = Some(wire);
        Some(Linear::input(add(construction, input), 1.0))
    };
    let shared = wires
        .rings
        .as_ref()
        .and_then(|entry| one(Quantity::RingWires, entry));
    let sectors = wires
        .sectors
        .as_ref()
        .and_then(|entry| one(Quantity::SectorWires, entry));
    let own = wires.own_entries().map(|(ring, entry)| {
        let own = entry.map(|entry| one(Quantity::RingWire(ring), entry));
        (ring, own.unwrap_or_else(|| shared.clone()))
    });
    construction.sector_wires = sectors;
    for (ring, wire) in own {
        construction.ring_wires[ring] = wire;
    }
}

fn read_ring(
    ring: RingWire,
    entry: &RadiusEntry,
    construction: &mut Construction,
    lengths: &mut Lengths<'_>,
) -> Option<RingPlace> {
    let (text, is_diameter) = match (&entry.radius, &entry.diameter) {
        (Some(radius), None) => (radius, false),
        (None, Some(diameter)) => (diameter, true),
        (Some(radius), Some(diameter)) => {
            lengths.problems.add(
                Problem::new(
                    Fault::OneOf,
                    diameter.span,
                    format!("the {ring} has both a radius and a diameter"),
                    "keep the one that was measured",
                )
                .and(radius.span, "the radius"),
            );
            return None;
        }
        (None, None) => {
            let span = entry
                .edge
                .as_ref()
                .map(|edge| edge.span)
                .unwrap_or_default();
            lengths.problems.add(Problem::new(
                Fault::OneOf,
                span,
                format!("the {ring} has neither a radius nor a diameter"),
                "add `radius:` or `diameter:`, or remove the wire's entry if it was not measured",
            ));
            return None;
        }
    };
    let half = if is_diameter { 0.5 } else { 1.0 };
    let range = Ranges::RADIUS.scaled(1.0 / half);
    let evaluated = lengths.evaluate(text, entry.uncertainty.as_ref(), range);
    let (evaluated, edge) = (evaluated?, entry.edge?.value);
    let mut input = plain_input(Quantity::Ring(ring, is_diameter), evaluated, text.span);
    input.edge = Some(edge);
    Some(RingPlace {
        radius: Linear::input(add(construction, input), half),
        edge,
    })
}

fn read_width(
    band: Band,
    entry: &WidthEntry,
    construction: &mut Construction,
    lengths: &mut Lengths<'_>,
) -> Option<DirectWidth> {
    let text = entry.width.as_ref()?;
    let evaluated = lengths.evaluate(text, entry.uncertainty.as_ref(), Ranges::WIDTH);
    let (evaluated, edge) = (evaluated?, entry.edge?.value);
    let mut input = plain_input(Quantity::Width(band), evaluated, text.span);
    input.edge = Some(edge);
    Some(DirectWidth {
        input: add(construction, input),
        edge,
    })
}

/// Wires may not overlap, nor lie in another order than on any board.
fn check_order(construction: &Construction, problems: &mut Problems) {
    // The innermost wire must leave some bull.
    let mut before: Option<(RingWire, Length)> = None;
    for ring in RingWire::ALL {
        let Some(place) = &construction.rings[ring] else {
            continue;
        };
        let edge = |edge| {
            let radius = construction.edge_radius(ring, edge);
            construction.value(radius.as_ref().unwrap_or(&place.radius))
        };
        let (inside, outside) = (edge(Edge::Inside), edge(Edge::Outside));
        let free_from = before.map_or(Length::ZERO, |(_, outside)| outside);
        if inside <= free_from {
            problems.add(overlap(construction, before, ring, inside));
        }
        before = Some((ring, outside));
    }
}

fn overlap(
    construction: &Construction,
    inner: Option<(RingWire, Length)>,
    outer: RingWire,
    outer_inside: Length,
) -> Problem {
    // The last of the lengths that place a wire is its own, or the width that
    // stood in for it.
    let place = |ring: RingWire| {
        let terms = construction.rings[ring].as_ref()?.radius.terms();
        let &(id, _) = terms.last()?;
        construction.input(id).map(|input| input.span)
    };
    let span = place(outer).unwrap_or_default();
    let remedy = "check the radii, their edges, the wires, and whether one of them is a diameter";
    let Some((inner, inner_outside)) = inner else {
        let message = format!("the {outer} leaves no bull: its inside radius is {outer_inside:.2}");
        return Problem::new(Fault::Contradiction, span, message, remedy);
    };
    let message = format!(
        "the {outer} begins at {outer_inside:.2} from the centre, but the {inner} ends at \
         {inner_outside:.2}"
    );
    let problem = Problem::new(Fault::Contradiction, span, message, remedy);
    match place(inner) {
        Some(first) if first != span => problem.and(first, format!("the {inner}")),
        _ => problem,
    }
}
