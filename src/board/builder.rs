//! A board put together in Rust, with the checks that a file has.

mod shape;

use std::fmt;

use super::{
    Band, Board, BoardFile, BoardFormat, Edge, Identity, InspectionFile, InstrumentFile,
    LengthEntry, LengthText, Mounting, OverallEntry, Profile, Quantity, ReadingsEntry, RingWire,
    StatedUncertainty, StatedWire, TakenEntry, UncertaintyEntry, WidthEntry, WireEntry, WireText,
};
use crate::document::{Diagnostic, InvalidFile, Located, PlainOr, Source};
use crate::units::{Instrument, Length, LengthUnit, Uncertainty, WireSize};

/// Puts a board together, length by length. [`build`](Self::build) checks it
/// exactly as a file is checked, and says everything that is wrong at once.
///
/// ```
/// use ringrule::board::{Band, BoardBuilder, Edge, Mounting, RingWire};
/// use ringrule::units::{Gauge, Length};
///
/// let wire: Gauge = "16 SWG".parse()?;
/// let board = BoardBuilder::new("A-1", Mounting::Staples)
///     .ring_wires(wire)
///     .sector_wires(wire)
///     .diameter(RingWire::InnerBull, Length::mm(12.7), Edge::Inside)
///     .radius(RingWire::TrebleOuter, Length::mm(107.0), Edge::Outside)
///     .width(Band::Treble, Length::mm(8.0), Edge::Inside)
///     .build()?;
/// assert_eq!(board.id, "A-1");
///
/// let wrong = BoardBuilder::new("", Mounting::Staples)
///     .ring_wires(Length::mm(f64::NAN))
///     .radius(RingWire::TrebleOuter, Length::mm(1070.0), Edge::Outside)
///     .build()
///     .unwrap_err();
/// assert_eq!(wrong.faults.len(), 3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct BoardBuilder {
    file: BoardFile,
    faults: Vec<BuildFault>,
}

/// Why a board cannot be built: everything that is wrong with it.
#[derive(Clone, Debug)]
pub struct BuildError {
    /// What is wrong, one thing each.
    pub faults: Vec<BuildFault>,
}

impl fmt::Display for BuildError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the board cannot be built")?;
        for (index, fault) in self.faults.iter().enumerate() {
            let mark = if index == 0 { ": " } else { "; " };
            write!(f, "{mark}{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for BuildError {}

/// One thing that is wrong with a board.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BuildFault {
    /// A length or an uncertainty that is not a finite number.
    #[error("{quantity}: {value} mm is not a finite number")]
    NotFinite {
        /// Of what.
        quantity: Quantity,
        /// What it is, in mm.
        value: f64,
    },
    /// A band whose width is not recorded directly.
    #[error("only treble and double have a width of their own, not the {0}")]
    NoWidth(Band),
    /// A length that stands in a file as one of several.
    #[error("the {0} is not set by itself: use `offset` or `sectors`")]
    NotAlone(Quantity),
    /// What would be wrong with a file that says the same.
    #[error(transparent)]
    Invalid(#[from] Diagnostic),
}

impl BoardBuilder {
    /// A board with nothing but its id and how its spider is held.
    pub fn new(id: impl Into<String>, mounting: Mounting) -> Self {
        let file = BoardFile {
            format: Some(Located::unplaced(BoardFormat::V1)),
            board: Some(Identity {
                id: Some(Located::unplaced(id.into())),
                ..Identity::default()
            }),
            mounting: Some(Located::unplaced(mounting)),
            units: Some(Located::unplaced(LengthUnit::Mm)),
            ..BoardFile::default()
        };
        Self {
            file,
            faults: Vec::new(),
        }
    }

    /// What people call it.
    #[must_use]
    pub fn name(mut self, name: impl Into<String>) -> Self {
        self.file.board.get_or_insert_default().name = Some(name.into());
        self
    }

    /// The house in which it hangs, and where in it.
    #[must_use]
    pub fn venue(mut self, venue: impl Into<String>, position: Option<String>) -> Self {
        let board = self.file.board.get_or_insert_default();
        board.venue = Some(venue.into());
        board.position = position;
        self
    }

    /// The cross-section of the wires; left out, it follows from the mounting.
    #[must_use]
    pub fn profile(mut self, profile: Profile) -> Self {
        self.file.profile = Some(Located::unplaced(profile));
        self
    }

    /// Who measured the board, and on which day.
    #[must_use]
    pub fn inspection(mut self, by: impl Into<String>, day: Option<jiff::civil::Date>) -> Self {
        self.file.inspection = Some(InspectionFile {
            by: Some(by.into()),
            date: day.map(|day| Located::unplaced(day.to_string())),
        });
        self
    }

    /// What it was measured with.
    #[must_use]
    pub fn instrument(mut self, instrument: &Instrument) -> Self {
        let described = InstrumentFile::from(instrument);
        self.file.instrument = Some(Located::unplaced(PlainOr::Group(described)));
        self
    }

    /// One of several instruments, under the name by which lengths call it. One
    /// without a name of its own is none that is known.
    pub(crate) fn named_instrument(mut self, key: String, instrument: &Instrument) -> Self {
        let described = InstrumentFile {
            name: instrument.name.clone().filter(|name| *name != key),
            unidentified: instrument.name.is_none().then_some(true),
            ..InstrumentFile::from(instrument)
        };
        let all = self.file.instruments.get_or_insert_default();
        all.0.push((key, described));
        self
    }

    /// The thickness of every ring wire that has none of its own.
    #[must_use]
    pub fn ring_wires(self, size: impl Into<WireSize>) -> Self {
        self.wire(Quantity::RingWires, size.into(), None, None)
    }

    /// The thickness of one ring wire.
    #[must_use]
    pub fn ring_wire(self, ring: RingWire, size: impl Into<WireSize>) -> Self {
        self.wire(Quantity::RingWire(ring), size.into(), None, None)
    }

    /// The thickness of the sector wires.
    #[must_use]
    pub fn sector_wires(self, size: impl Into<WireSize>) -> Self {
        self.wire(Quantity::SectorWires, size.into(), None, None)
    }

    /// The radius of a ring wire, to one of its edges.
    #[must_use]
    pub fn radius(self, ring: RingWire, radius: Length, edge: Edge) -> Self {
        self.length(Quantity::Ring(ring, false), radius, Some(edge), None)
    }

    /// The diameter of a ring wire, between the same edges on both sides.
    #[must_use]
    pub fn diameter(self, ring: RingWire, diameter: Length, edge: Edge) -> Self {
        self.length(Quantity::Ring(ring, true), diameter, Some(edge), None)
    }

    /// The width of treble or double, taken directly.
    #[must_use]
    pub fn width(self, band: Band, width: Length, edge: Edge) -> Self {
        self.length(Quantity::Width(band), width, Some(edge), None)
    }

    /// The diameter of the whole board.
    #[must_use]
    pub fn overall(self, diameter: Length) -> Self {
        self.length(Quantity::Overall, diameter, None, None)
    }

    /// Any length, with its uncertainty in mm if that is known. Wires need no
    /// edge.
    #[must_use]
    pub fn length(
        mut self,
        quantity: Quantity,
        value: Length,
        edge: Option<Edge>,
        uncertainty: Option<Uncertainty>,
    ) -> Self {
        if matches!(quantity, Quantity::SectorWire(_)) {
            self.faults.push(BuildFault::NotAlone(quantity));
            return self;
        }
        if quantity.is_wire() {
            return self.wire(quantity, WireSize::from(value), uncertainty, None);
        }
        if !self.is_finite(quantity, value, uncertainty) {
            return self;
        }
        let entry = Located::unplaced(PlainOr::Plain(LengthText::length(value)));
        self.entry(quantity, entry, edge, uncertainty)
    }

    /// What several people read of a length.
    pub(crate) fn taken(
        mut self,
        quantity: Quantity,
        edge: Option<Edge>,
        taken: Vec<TakenEntry>,
    ) -> Self {
        if quantity.is_wire() {
            let wire = StatedWire {
                taken: Some(taken),
                ..StatedWire::default()
            };
            *self.wire_place(quantity) = Some(Located::unplaced(PlainOr::Group(wire)));
            return self;
        }
        let entry = Located::unplaced(PlainOr::Group(ReadingsEntry {
            readings: None,
            taken: Some(taken),
        }));
        self.entry(quantity, entry, edge, None)
    }

    /// A wire that was named by its gauge.
    pub(crate) fn gauge(self, quantity: Quantity, size: WireSize) -> Self {
        let from = Some("identified as this gauge".to_owned());
        self.wire(quantity, size, None, from)
    }

    fn entry(
        mut self,
        quantity: Quantity,
        entry: LengthEntry,
        edge: Option<Edge>,
        uncertainty: Option<Uncertainty>,
    ) -> Self {
        let edge = edge.map(Located::unplaced);
        let uncertainty = uncertainty.map(stated);
        match quantity {
            Quantity::Ring(ring, is_diameter) => {
                let rings = self.file.rings.get_or_insert_default();
                let ring = rings.entry(ring).get_or_insert_default();
                // A radius and a diameter of one wire are a contradiction that
                // the reader reports.
                let place = if is_diameter {
                    &mut ring.diameter
                } else {
                    &mut ring.radius
                };
                *place = Some(entry);
                (ring.edge, ring.uncertainty) = (edge, uncertainty);
            }
            Quantity::Width(band) => {
                let widths = self.file.widths.get_or_insert_default();
                let place = match band {
                    Band::Treble => &mut widths.treble,
                    Band::Double => &mut widths.double,
                    _ => {
                        self.faults.push(BuildFault::NoWidth(band));
                        return self;
                    }
                };
                *place = Some(WidthEntry {
                    width: Some(entry),
                    edge,
                    uncertainty,
                    instrument: None,
                    from: None,
                });
            }
            Quantity::Offset(..) | Quantity::SectorOffset(_) | Quantity::Turn(_) => {
                self.faults.push(BuildFault::NotAlone(quantity));
            }
            _ => {
                self.file.overall = Some(OverallEntry {
                    diameter: Some(entry),
                    uncertainty,
                    instrument: None,
                    from: None,
                });
            }
        }
        self
    }

    fn wire(
        mut self,
        quantity: Quantity,
        size: WireSize,
        uncertainty: Option<Uncertainty>,
        from: Option<String>,
    ) -> Self {
        if !self.is_finite(quantity, size.width, uncertainty) {
            return self;
        }
        let text = WireText(match size.gauge {
            Some(gauge) => LengthText::Text(gauge.to_string()),
            None => LengthText::length(size.width),
        });
        let wire = StatedWire {
            size: Some(Located::unplaced(text)),
            uncertainty: uncertainty.map(stated),
            from,
            ..StatedWire::default()
        };
        *self.wire_place(quantity) = Some(Located::unplaced(PlainOr::Group(wire)));
        self
    }

    fn wire_place(&mut self, quantity: Quantity) -> &mut Option<WireEntry> {
        let wires = self.file.wires.get_or_insert_default();
        match quantity {
            Quantity::RingWire(ring) => wires.entry(ring),
            Quantity::SectorWires => &mut wires.sectors,
            _ => &mut wires.rings,
        }
    }

    /// Whether all of it is finite; reported if not.
    fn is_finite(
        &mut self,
        quantity: Quantity,
        value: Length,
        uncertainty: Option<Uncertainty>,
    ) -> bool {
        let standard = uncertainty.map_or(0.0, Uncertainty::standard);
        let wrong = [value.as_mm(), standard]
            .into_iter()
            .find(|value| !value.is_finite());
        let fault = wrong.map(|value| BuildFault::NotFinite { quantity, value });
        self.faults.extend(fault);
        wrong.is_none()
    }

    /// The board as a file, unchecked.
    pub fn into_file(self) -> BoardFile {
        self.file
    }

    /// The board, checked as a file is. Its places are those in the file that
    /// would say the same.
    pub fn build(self) -> Result<Board, BuildError> {
        let Self { file, mut faults } = self;
        let id = file.board.as_ref().and_then(|board| board.id.as_ref());
        let name = id.map_or(String::new(), |id| id.value.clone());
        let read = match serde_yaml::to_string(&file) {
            Ok(text) => Board::read(Source::new(name, text)),
            Err(error) => Err(InvalidFile::unreadable(&name, &error.to_string(), "")),
        };
        match read {
            Ok(board) if faults.is_empty() => Ok(board),
            Ok(_) => Err(BuildError { faults }),
            Err(invalid) => {
                faults.extend(invalid.diagnostics.into_iter().map(BuildFault::Invalid));
                Err(BuildError { faults })
            }
        }
    }
}

/// As an expanded uncertainty with its k, so that few degrees of freedom stay
/// visible.
fn stated(uncertainty: Uncertainty) -> UncertaintyEntry {
    let coverage = uncertainty.expanded();
    let expanded = LengthText::mm(coverage.expanded);
    Located::unplaced(PlainOr::Group(StatedUncertainty {
        expanded: Some(Located::unplaced(expanded)),
        k: Some(libm::round(coverage.factor * 1e4) / 1e4),
        degrees_of_freedom: Some(uncertainty.degrees_of_freedom())
            .filter(|degrees| degrees.is_finite())
            .map(|degrees| libm::round(degrees * 100.0) / 100.0),
        standard: None,
    }))
}
