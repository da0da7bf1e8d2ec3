//! From the raw file to a board, with every problem collected.

use std::sync::{Arc, LazyLock};

use super::file::{
    BoardFile, LengthText, RadiusEntry, RingsFile, StatedUncertainty, UncertaintyEntry, WidthEntry,
    WidthsFile, WireEntry, WireText, WiresFile,
};
use super::{
    Band, Construction, DirectWidth, Edge, Input, InputId, Linear, Mounting, PerBand, PerRing,
    Profile, Quantity, RingPlace, RingWire,
};
use crate::document::{
    Document, Fault, Located, PlainOr, Problem, Problems, Refusal, Shape, Source, Span, parse,
};
use crate::units::{Length, LengthUnit, NotationFault, WireSize, parse_length, parse_wire};

/// A board file, read and checked.
#[derive(Clone, Debug)]
pub struct Board {
    /// The file.
    pub document: Arc<Document>,
    /// The inventory mark.
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
    /// How it is built.
    pub construction: Construction,
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
    /// let refusal = Board::read(Source::new("a-1.yaml", "format: ringrule/bord/1")).unwrap_err();
    /// assert_eq!(refusal.problems[0].remedy, "write `format: ringrule/board/1`");
    /// ```
    pub fn read(source: Source) -> Result<Self, Refusal> {
        Self::from_document(parse(source)?)
    }

    /// Reads a board from a parsed file.
    pub fn from_document(document: Document) -> Result<Self, Refusal> {
        let mut problems = Problems::default();
        let file = shape().read::<BoardFile>(&document, &mut problems);
        let read = file.and_then(|file| {
            let construction = read_board_construction(&file, &mut problems);
            let identity = file.board?;
            let id = identity.id.as_ref()?;
            check_id(id, &mut problems);
            Some((identity, construction?))
        });
        problems.into_result(&document.source)?;
        // Without problems nothing that is required is absent.
        let (identity, construction) = read.ok_or_else(|| Refusal {
            file: Arc::clone(&document.source),
            problems: vec![Problem::new(
                Fault::MissingKey,
                document.root.span,
                "this is no complete board file",
                "compare it with the schema: `ringrule schema board` prints it",
            )],
        })?;
        Ok(Self {
            document: Arc::new(document),
            id: identity.id.map(|id| id.value).unwrap_or_default(),
            name: identity.name,
            made: identity.made,
            maker: identity.maker,
            serial: identity.serial,
            note: identity.note,
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

fn check_id(id: &Located<String>, problems: &mut Problems) {
    if id.value.trim().is_empty() {
        problems.add(Problem::new(
            Fault::Notation,
            id.span,
            "the board's id is empty",
            "write the inventory mark that is on the board, such as `LR-03`",
        ));
    }
}

fn read_board_construction(file: &BoardFile, problems: &mut Problems) -> Option<Construction> {
    let mut lengths = Lengths {
        unit: file.units.as_ref().map(|units| units.value),
        unit_is_missing: file.units.is_none(),
        problems,
        default_uncertainty: None,
    };
    if let Some(entry) = &file.uncertainty {
        lengths.default_uncertainty = lengths.uncertainty(entry);
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
    pub(crate) overall: Option<(&'a Located<LengthText>, Option<&'a UncertaintyEntry>)>,
}

/// Reads lengths in a file's units, collecting what is wrong with them.
pub(crate) struct Lengths<'a> {
    /// The unit of bare numbers, if the file states one.
    pub(crate) unit: Option<LengthUnit>,
    /// Whether a missing unit has been reported already, as a missing key.
    pub(crate) unit_is_missing: bool,
    pub(crate) problems: &'a mut Problems,
    pub(crate) default_uncertainty: Option<Length>,
}

impl Lengths<'_> {
    fn notation(&mut self, span: Span, fault: &NotationFault) {
        self.problems.add(Problem::new(
            Fault::Notation,
            span,
            fault.to_string(),
            fault.remedy(),
        ));
    }

    /// Any finite length, negative ones included.
    pub(crate) fn length(&mut self, text: &Located<LengthText>) -> Option<Length> {
        match (&text.value, self.unit) {
            (LengthText::Number(number), Some(unit)) => Some(unit.length(*number)),
            (LengthText::Number(_), None) if self.unit_is_missing => None,
            (LengthText::Number(number), None) => {
                self.notation(text.span, &NotationFault::NoUnit(number.to_string()));
                None
            }
            (LengthText::Text(words), _) => match parse_length(words) {
                Ok(length) => Some(length),
                Err(fault) => {
                    self.notation(text.span, &fault);
                    None
                }
            },
        }
    }

    /// A length that some board could have.
    fn within(&mut self, text: &Located<LengthText>, range: Range) -> Option<Length> {
        let length = self.length(text)?;
        self.check(length, text.span, range)
    }

    fn check(&mut self, length: Length, span: Span, range: Range) -> Option<Length> {
        if length.as_mm() >= range.least && length.as_mm() <= range.most {
            return Some(length);
        }
        self.problems.add(Problem::new(
            Fault::OutOfRange,
            span,
            format!("{length:.3} is no {} that a board can have", range.what),
            format!(
                "expected {} to {} mm: check the unit and the decimal point",
                range.least, range.most
            ),
        ));
        None
    }

    /// A standard uncertainty.
    fn uncertainty(&mut self, entry: &UncertaintyEntry) -> Option<Length> {
        match &entry.value {
            PlainOr::Plain(text) => {
                let text = Located {
                    value: text.clone(),
                    span: entry.span,
                };
                Some(self.within(&text, UNCERTAINTY)? / DEFAULT_COVERAGE)
            }
            PlainOr::Group(StatedUncertainty {
                expanded: Some(text),
                k,
                standard: None,
            }) => Some(self.within(text, UNCERTAINTY)? / k.unwrap_or(DEFAULT_COVERAGE)),
            PlainOr::Group(StatedUncertainty {
                expanded: None,
                k: None,
                standard: Some(text),
            }) => self.within(text, UNCERTAINTY),
            PlainOr::Group(_) => {
                self.problems.add(Problem::new(
                    Fault::OneOf,
                    entry.span,
                    "an uncertainty is either expanded or standard",
                    "write `{ expanded: 0.05, k: 2 }` or `{ standard: 0.025 }`",
                ));
                None
            }
        }
    }

    fn uncertainty_or_default(&mut self, entry: Option<&UncertaintyEntry>) -> Option<Length> {
        match entry {
            Some(entry) => self.uncertainty(entry),
            None => self.default_uncertainty,
        }
    }

    /// A wire's size.
    pub(crate) fn wire(&mut self, text: &Located<WireText>) -> Option<WireSize> {
        let size = match &text.value.0 {
            LengthText::Number(_) => {
                let length = Located {
                    value: text.value.0.clone(),
                    span: text.span,
                };
                // `16` in a file of millimetres is a gauge without its system
                // far more often than a wire as thick as a finger.
                let width = self.length(&length)?;
                if width.as_mm() > WIRE.most {
                    let number = match text.value.0 {
                        LengthText::Number(number) => number.to_string(),
                        LengthText::Text(_) => String::new(),
                    };
                    self.notation(text.span, &NotationFault::NoGaugeSystem(number));
                    return None;
                }
                WireSize { width, gauge: None }
            }
            LengthText::Text(words) => match parse_wire(words) {
                Ok(size) => size,
                Err(fault) => {
                    self.notation(text.span, &fault);
                    return None;
                }
            },
        };
        self.check(size.width, text.span, WIRE)?;
        Some(size)
    }
}

/// The coverage factor of an uncertainty that states none. House rule of the
/// format.
const DEFAULT_COVERAGE: f64 = 2.0;

/// Lengths that some board could have, in mm, ends included. House rules: wide
/// enough for every board ever sold, narrow enough for a slipped decimal point
/// in either direction to show.
#[derive(Clone, Copy)]
struct Range {
    what: &'static str,
    least: f64,
    most: f64,
}

const RADIUS: Range = Range {
    what: "ring radius",
    least: 2.0,
    most: 300.0,
};
const WIDTH: Range = Range {
    what: "band width",
    least: 1.0,
    most: 40.0,
};
const WIRE: Range = Range {
    what: "wire width",
    least: 0.05,
    most: 4.0,
};
const OVERALL: Range = Range {
    what: "overall diameter",
    least: 200.0,
    most: 800.0,
};
const UNCERTAINTY: Range = Range {
    what: "uncertainty",
    least: 0.0,
    most: 5.0,
};

/// Reads wires, rings, widths and size, and derives every crest.
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
        let value = lengths.within(diameter, OVERALL);
        let u = lengths.uncertainty_or_default(uncertainty);
        construction.overall = value.map(|value| {
            let input = plain_input(Quantity::Overall, value, u, diameter.span);
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

fn plain_input(quantity: Quantity, value: Length, u: Option<Length>, span: Span) -> Input {
    Input {
        quantity,
        value,
        edge: None,
        wire: None,
        standard_uncertainty: u,
        span,
    }
}

fn read_wires(wires: &WiresFile, construction: &mut Construction, lengths: &mut Lengths<'_>) {
    let mut one = |quantity, entry: &WireEntry| -> Option<Linear> {
        let (text, uncertainty) = match &entry.value {
            PlainOr::Plain(text) => {
                let text = Located {
                    value: text.clone(),
                    span: entry.span,
                };
                (text, None)
            }
            PlainOr::Group(stated) => (stated.size.clone()?, stated.uncertainty.as_ref()),
        };
        let size = lengths.wire(&text);
        let u = lengths.uncertainty_or_default(uncertainty);
        let size = size?;
        let mut input = plain_input(quantity, size.width, u, text.span);
        input.wire = Some(size);
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
    let value = lengths.length(text);
    let value = value.filter(|&value| lengths.check(value * half, text.span, RADIUS).is_some());
    let u = lengths.uncertainty_or_default(entry.uncertainty.as_ref());
    let (value, edge) = (value?, entry.edge?.value);
    let mut input = plain_input(Quantity::Ring(ring, is_diameter), value, u, text.span);
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
    let value = lengths.within(text, WIDTH);
    let u = lengths.uncertainty_or_default(entry.uncertainty.as_ref());
    let (value, edge) = (value?, entry.edge?.value);
    let mut input = plain_input(Quantity::Width(band), value, u, text.span);
    input.edge = Some(edge);
    Some(DirectWidth {
        input: add(construction, input),
        edge,
    })
}

/// Wires may not overlap, nor lie in another order than on any board.
fn check_order(construction: &Construction, problems: &mut Problems) {
    let known: Vec<_> = RingWire::ALL
        .into_iter()
        .filter_map(|ring| {
            let place = construction.rings[ring].as_ref()?;
            let edge = |edge| {
                let radius = construction.edge_radius(ring, edge);
                construction.value(radius.as_ref().unwrap_or(&place.radius))
            };
            Some((ring, edge(Edge::Inside), edge(Edge::Outside)))
        })
        .collect();
    for pair in known.windows(2) {
        let [(inner, _, inner_outside), (outer, outer_inside, _)] = *pair else {
            continue;
        };
        if outer_inside > inner_outside {
            continue;
        }
        let place = |ring: RingWire| {
            let inputs = construction.inputs.iter();
            let mut of_ring =
                inputs.filter(|input| matches!(input.quantity, Quantity::Ring(r, _) if r == ring));
            of_ring.next().map(|input| input.span)
        };
        let (first, second) = (place(inner), place(outer));
        let Some(span) = second.or(first) else {
            continue;
        };
        let problem = Problem::new(
            Fault::Contradiction,
            span,
            format!(
                "the {outer} begins at {outer_inside:.2} from the centre, but the {inner} ends at \
                 {inner_outside:.2}"
            ),
            "check the two radii, their edges, and whether one of them is a diameter",
        );
        problems.add(match (first, second) {
            (Some(first), Some(_)) => problem.and(first, format!("the {inner}")),
            _ => problem,
        });
    }
}
