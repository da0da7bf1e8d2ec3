//! How a board is built: apexes and wire widths in terms of measured lengths.

use std::fmt;

use super::taken::Taken;
use super::{
    Adjustment, Around, Axis, Band, Bearing, Cause, Edge, ErrorPart, GaugeGround, InputId, Linear,
    Mounting, PerBand, PerRing, Profile, RecordedArea, RingWire, SECTOR_ORDER, SectorPlaces,
    StaplePlace,
};
use crate::document::Span;
use crate::units::{Angle, Length, Series, Uncertainty, WireSize};

/// What a measured length is a length of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Quantity {
    /// A ring wire's radius or, if the flag is set, its diameter.
    Ring(RingWire, bool),
    /// The thickness of every ring wire that has no entry of its own.
    RingWires,
    /// The thickness of one ring wire.
    RingWire(RingWire),
    /// The thickness of the sector wires.
    SectorWires,
    /// The width of a band, taken directly.
    Width(Band),
    /// The diameter of the whole board.
    Overall,
    /// How far a ring's centre lies off the middle of the board.
    Offset(RingWire, Axis),
    /// How far the sector wire with this index passes to the clockwise side of
    /// the middle.
    SectorOffset(u8),
    /// The thickness of the sector wire with this index.
    SectorWire(u8),
    /// How far the sector wire with this index is turned clockwise from its recorded
    /// bearing, as an arc of [`TURN_RADIUS`]: zero, as well as bearings are known.
    Turn(u8),
}

/// The radius of the arcs by which turns are written: a bearing is then one more length of
/// the adjustment. About where the treble ring is, so that the arc is what an error moves
/// there.
pub const TURN_RADIUS: Length = Length::mm(100.0);

impl Quantity {
    /// Whether it is a wire's thickness, which may be given as a gauge.
    pub const fn is_wire(self) -> bool {
        matches!(
            self,
            Self::RingWires | Self::RingWire(_) | Self::SectorWires | Self::SectorWire(_)
        )
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Ring(ring, false) => write!(f, "{} radius", ring.key()),
            Self::Ring(ring, true) => write!(f, "{} diameter", ring.key()),
            Self::RingWires => f.write_str("ring wire width"),
            Self::RingWire(ring) => write!(f, "{} wire width", ring.key()),
            Self::SectorWires => f.write_str("sector wire width"),
            Self::Width(band) => write!(f, "direct {band} width"),
            Self::Overall => f.write_str("overall diameter"),
            Self::Offset(ring, axis) => write!(f, "{} offset {}", ring.key(), axis.name()),
            Self::SectorOffset(wire) => write!(f, "offset of sector wire {}", between(*wire)),
            Self::SectorWire(wire) => write!(f, "width of sector wire {}", between(*wire)),
            Self::Turn(wire) => write!(
                f,
                "turn of sector wire {} at {} mm",
                between(*wire),
                TURN_RADIUS.as_mm()
            ),
        }
    }
}

/// A sector wire by the numbers of the sectors on both sides, clockwise.
pub(crate) fn between(wire: u8) -> String {
    let number = |sector: usize| SECTOR_ORDER.get(sector % 20).copied().unwrap_or_default();
    let wire = usize::from(wire);
    format!("{}/{}", number(wire + 19), number(wire))
}

/// A length as it stands in the file.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Input {
    /// What it is a length of.
    pub quantity: Quantity,
    /// Its value.
    pub value: Length,
    /// Where around the board it was taken, if the file says.
    pub at: Option<Bearing>,
    /// The edge that it was taken to, where edges matter.
    pub edge: Option<Edge>,
    /// The wire as it was given, where the length is a wire's.
    pub wire: Option<WireSize>,
    /// What makes it uncertain; empty if the file gives no ground for any.
    pub errors: Vec<ErrorPart>,
    /// All of that together, in mm.
    pub uncertainty: Option<Uncertainty>,
    /// The instrument that it was taken with, by its index; of several people,
    /// if all used one.
    pub instrument: Option<usize>,
    /// What value and uncertainty rest on.
    pub basis: Basis,
    /// Where the value stands.
    pub span: Span,
}

impl Input {
    /// What it is a length of, and where it was taken if the file says.
    pub fn name(&self) -> String {
        match self.at {
            Some(at) => format!("{} at {at}", self.quantity),
            None => self.quantity.to_string(),
        }
    }

    /// Every instrument that it was taken with, by its index; one may come
    /// several times.
    pub fn instruments(&self) -> impl Iterator<Item = usize> {
        let takings = match &self.basis {
            Basis::Taken(taken) => taken.takings.as_slice(),
            _ => &[],
        };
        let own = self.instrument.filter(|_| takings.is_empty());
        own.into_iter()
            .chain(takings.iter().filter_map(|taking| taking.instrument))
    }

    /// What several people read of it, if they did.
    pub fn taken(&self) -> Option<&Taken> {
        match &self.basis {
            Basis::Taken(taken) => Some(taken),
            _ => None,
        }
    }

    /// Makes a wire's gauge as good as a table says; exact for none.
    pub(crate) fn set_gauge(&mut self, uncertainty: Option<Uncertainty>) {
        let ground = GaugeGround::Table;
        self.basis = Basis::Gauge(ground);
        self.errors = uncertainty
            .map(|u| ErrorPart::own(Cause::Gauge(ground), u))
            .into_iter()
            .collect();
        self.uncertainty = Some(uncertainty.unwrap_or(Uncertainty::finite(0.0)));
    }
}

/// What a length and its uncertainty rest on.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Basis {
    /// A value of which no uncertainty is known.
    Unstated,
    /// A value with an uncertainty of its own.
    Stated,
    /// A value with the uncertainty that the file states for every length.
    FileWide,
    /// A value with the type B uncertainty of the file's instrument.
    Instrument,
    /// A wire's gauge, as good as somebody says that gauges are.
    Gauge(GaugeGround),
    /// The mean of readings.
    Readings {
        /// The readings, in mm.
        series: Series,
        /// Where each of them stands.
        places: Vec<Span>,
    },
    /// The weighted mean of what several people read.
    Taken(Box<Taken>),
}

/// A band width taken directly, with the edges that it was taken to.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DirectWidth {
    /// The measured width; of several places, the mean.
    pub width: Linear,
    /// Between which edges.
    pub edge: Edge,
    /// The width at each place, if the file says where it was taken.
    pub around: Vec<Around>,
}

/// Where a ring wire lies: the radius of one of its edges.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct RingPlace {
    /// The radius of that edge; of several places, the mean.
    pub radius: Linear,
    /// Which edge.
    pub edge: Edge,
    /// The radius at each place, if the file says where it was taken.
    pub around: Vec<Around>,
    /// Whether diameters were taken, so that a place is two.
    pub across: bool,
    /// Where the ring's centre lies: to the right of the middle of the board,
    /// and above it.
    pub offset: Option<[Linear; 2]>,
}

impl RingPlace {
    /// The radius at every bearing where it is known; both ends of a diameter.
    pub(crate) fn all_round(&self) -> Vec<(Angle, Linear)> {
        let mut all: Vec<(Bearing, &Linear)> = Vec::new();
        let ends = [false, true].into_iter().filter(|far| !far || self.across);
        for far in ends {
            for Around { at, length } in &self.around {
                let at = if far { at.opposite() } else { *at };
                if !all.iter().any(|(known, _)| known.is(at)) {
                    all.push((at, length));
                }
            }
        }
        let turned = |(at, length): (Bearing, &Linear)| (at.angle(), length.clone());
        all.into_iter().map(turned).collect()
    }

    /// The radius at a bearing; `None` if it was not taken there.
    fn at(&self, bearing: Bearing) -> Option<&Linear> {
        let here =
            |own: &&Around| own.at.is(bearing) || (self.across && own.at.opposite().is(bearing));
        let found = self.around.iter().find(here)?;
        Some(&found.length)
    }
}

/// A spider in terms of measured lengths. What was not recorded is `None`.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Construction {
    /// How the spider is held.
    pub mounting: Mounting,
    /// Its cross-section.
    pub profile: Profile,
    /// Every length that the file states, in a fixed order, and the turns of sector wires
    /// whose bearings it states.
    pub inputs: Vec<Input>,
    /// Where each ring wire lies.
    pub rings: PerRing<Option<RingPlace>>,
    /// The thickness of each ring wire.
    pub ring_wires: PerRing<Option<Linear>>,
    /// The thickness of the sector wires.
    pub sector_wires: Option<Linear>,
    /// Where the sector wires lie, and what is known of single ones.
    pub sectors: Option<Box<SectorPlaces>>,
    /// The staples that are recorded.
    pub staples: Vec<StaplePlace>,
    /// Band widths that were taken directly.
    pub widths: PerBand<Option<DirectWidth>>,
    /// The diameter of the whole board.
    pub overall: Option<Linear>,
    /// The same at each place where it was taken, if the file says.
    pub overall_around: Vec<Around>,
    /// Free areas of beds that were recorded as such; what was measured of rings and
    /// wires comes before them.
    pub areas: PerBand<Option<RecordedArea>>,
    /// How lengths that follow from others were brought into agreement; `None`
    /// where nothing was recorded twice.
    pub adjustment: Option<Box<Adjustment>>,
}

impl Construction {
    /// Whether it is stated how well the bearings of sector wires are known.
    pub(crate) fn may_turn(&self) -> bool {
        let turns = self.sectors.as_ref().map(|places| &places.turns);
        turns.is_some_and(|turns| turns.iter().any(Option::is_some))
    }

    /// Every length that somebody took: the inputs without turns.
    pub fn lengths(&self) -> impl Iterator<Item = &Input> {
        let inputs = self.inputs.iter();
        inputs.filter(|input| !matches!(input.quantity, Quantity::Turn(_)))
    }

    /// The measured length with this index.
    pub fn input(&self, id: InputId) -> Option<&Input> {
        self.inputs.get(id.index())
    }

    /// The value of a form in this board's lengths.
    pub fn value(&self, form: &Linear) -> Length {
        form.value(&self.inputs)
    }

    /// The radius of one edge of a ring wire. `None` if the wire's place was
    /// not recorded, or was at another edge and its width was not.
    pub fn edge_radius(&self, ring: RingWire, edge: Edge) -> Option<Linear> {
        let place = self.rings[ring].as_ref()?;
        self.moved_to(ring, edge, place.edge, &place.radius)
    }

    /// The same at a bearing: where the ring was measured at places, `None`
    /// unless it was measured there.
    pub fn edge_radius_at(&self, ring: RingWire, edge: Edge, at: Bearing) -> Option<Linear> {
        let place = self.rings[ring].as_ref()?;
        let radius = if place.around.is_empty() {
            &place.radius
        } else {
            place.at(at)?
        };
        self.moved_to(ring, edge, place.edge, radius)
    }

    fn moved_to(&self, ring: RingWire, edge: Edge, from: Edge, radius: &Linear) -> Option<Linear> {
        let shift = from.apex_offset() - edge.apex_offset();
        if shift == 0.0 {
            return Some(radius.clone());
        }
        Some(radius.clone().plus(shift, self.ring_wires[ring].as_ref()?))
    }

    /// A band's width from its two radii; `None` for the inner bull, and where
    /// a radius or wire is not recorded.
    pub fn width_from_radii(&self, band: Band, edge: Edge) -> Option<Linear> {
        let outer = self.edge_radius(band.outer_wire(), edge)?;
        let inner = self.edge_radius(band.inner_wire()?, edge.facing())?;
        Some(outer.plus(-1.0, &inner))
    }

    /// A band's width from a direct measurement, moved to the edges asked for.
    pub fn width_direct(&self, band: Band, edge: Edge) -> Option<Linear> {
        let direct = self.widths[band].as_ref()?;
        self.width_between(band, direct.edge, edge, direct.width.clone())
    }

    pub(super) fn width_between(
        &self,
        band: Band,
        from: Edge,
        edge: Edge,
        width: Linear,
    ) -> Option<Linear> {
        let shift = from.apex_offset() - edge.apex_offset();
        if shift == 0.0 {
            return Some(width);
        }
        let outer = self.ring_wires[band.outer_wire()].as_ref()?;
        let inner = self.ring_wires[band.inner_wire()?].as_ref()?;
        Some(width.plus(shift, outer).plus(shift, inner))
    }

    /// Where only one of a band's two wires was placed, its direct width
    /// places the other.
    pub(super) fn complete_from_width(&mut self, band: Band) {
        let (Some(inner), outer) = (band.inner_wire(), band.outer_wire()) else {
            return;
        };
        let Some(direct) = &self.widths[band] else {
            return;
        };
        // The known ring, the edge of it that the width begins at, the other
        // ring and its edge, and which way it lies.
        let (known, from, other, edge, way) = match (&self.rings[inner], &self.rings[outer]) {
            (None, Some(_)) => (outer, direct.edge, inner, direct.edge.facing(), -1.0),
            (Some(_), None) => (inner, direct.edge.facing(), outer, direct.edge, 1.0),
            _ => return,
        };
        let Some(radius) = self.edge_radius(known, from) else {
            return;
        };
        let around = direct.around.iter().map(|own| {
            // Where only the width was taken at a place, the known ring counts
            // as round.
            let here = self.edge_radius_at(known, from, own.at);
            let here = here.unwrap_or_else(|| radius.clone());
            Around {
                at: own.at,
                length: here.plus(way, &own.length),
            }
        });
        let place = RingPlace {
            around: around.collect(),
            across: false,
            offset: self.rings[known]
                .as_ref()
                .and_then(|place| place.offset.clone()),
            radius: radius.plus(way, &direct.width),
            edge,
        };
        self.rings[other] = Some(place);
    }
}
