//! What to measure for a table, in the order in which a person goes round.

use std::fmt;
use std::str::FromStr;

use crate::board::{Band, Edge, Mounting, Profile, Quantity, RingWire};
use crate::table::{Demand, Interval, Measurand, Table};

/// The columns of a sheet, beside the readings.
pub const COLUMNS: [&str; 7] = [
    "item",
    "edge",
    "unit",
    "limits",
    "how",
    "instrument",
    "remark",
];

/// How many columns for readings a blank sheet has.
pub const READING_COLUMNS: usize = 5;

/// The rows of a sheet that say something about the whole, in the first column
/// for readings.
pub const FACTS: [&str; 9] = [
    "board",
    "name",
    "mounting",
    "profile",
    "inspector",
    "date",
    "instrument",
    "resolution",
    "max error",
];

/// Something that a sheet has a row for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Item(pub Quantity);

impl fmt::Display for Item {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            Quantity::Ring(ring, false) => write!(f, "{} radius", ring.key()),
            Quantity::Ring(ring, true) => write!(f, "{} diameter", ring.key()),
            Quantity::RingWires => f.write_str("ring wires"),
            Quantity::RingWire(ring) => write!(f, "{} wire", ring.key()),
            Quantity::SectorWires => f.write_str("sector wires"),
            Quantity::Width(band) => write!(f, "{} width", band.key()),
            Quantity::Overall => f.write_str("overall diameter"),
            other => write!(f, "{other}"),
        }
    }
}

impl Item {
    /// Every item that a sheet may hold.
    pub fn all() -> impl Iterator<Item = Self> {
        let rings = RingWire::ALL.into_iter();
        let lengths = rings.flat_map(|ring| {
            [
                Quantity::Ring(ring, true),
                Quantity::Ring(ring, false),
                Quantity::RingWire(ring),
            ]
        });
        let others = [
            Quantity::Width(Band::Treble),
            Quantity::Width(Band::Double),
            Quantity::Overall,
            Quantity::RingWires,
            Quantity::SectorWires,
        ];
        lengths.chain(others).map(Self)
    }

    /// Whether its readings are taken to an edge.
    pub const fn has_edge(self) -> bool {
        matches!(self.0, Quantity::Ring(..) | Quantity::Width(_))
    }

    /// Whether it is a wire, which may be given as a gauge.
    pub const fn is_wire(self) -> bool {
        self.0.is_wire()
    }
}

/// A name of no item.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("there is no item `{0}`")]
pub struct NoSuchItem(String);

impl FromStr for Item {
    type Err = NoSuchItem;

    fn from_str(text: &str) -> Result<Self, NoSuchItem> {
        let name = text.to_lowercase();
        let mut items = Self::all();
        items
            .find(|item| item.to_string() == name)
            .ok_or_else(|| NoSuchItem(text.to_owned()))
    }
}

/// One row of a blank sheet.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PlannedItem {
    /// What to measure.
    pub item: Item,
    /// To which edge, where edges matter.
    pub edge: Option<Edge>,
    /// The limits that it serves: what is limited, and the lengths that conform.
    pub limits: Vec<(Measurand, Interval)>,
    /// How, in words.
    pub how: String,
}

/// What a table needs of a board of this kind, and nothing else: one row for
/// each limit that applies, and whatever the areas need beyond.
pub fn plan(table: &Table, mounting: Mounting, profile: Profile) -> Vec<PlannedItem> {
    let mut rows: Vec<PlannedItem> = Vec::new();
    for measurand in Measurand::ALL {
        for limit in table.limits_for(mounting, profile) {
            let Demand::Within(interval) = limit.demand else {
                continue;
            };
            if limit.measurand == measurand
                && let Some(quantity) = quantity_for(measurand)
            {
                add(&mut rows, quantity, limit.edge, Some((measurand, interval)));
            }
        }
    }
    let nominal = table.nominal(mounting);
    if nominal.is_some_and(|nominal| nominal.construction.profile == profile) {
        complete_areas(&mut rows);
    }
    rows.sort_by_key(|row| place_in_round(row.item.0));
    rows
}

const fn quantity_for(measurand: Measurand) -> Option<Quantity> {
    Some(match measurand {
        Measurand::InnerBullDiameter => Quantity::Ring(RingWire::InnerBull, true),
        Measurand::OuterBullDiameter => Quantity::Ring(RingWire::OuterBull, true),
        Measurand::TrebleWidth => Quantity::Width(Band::Treble),
        Measurand::DoubleWidth => Quantity::Width(Band::Double),
        Measurand::TrebleOuterRadius => Quantity::Ring(RingWire::TrebleOuter, false),
        Measurand::DoubleOuterRadius => Quantity::Ring(RingWire::DoubleOuter, false),
        Measurand::DoubleOuterDiameter => Quantity::Ring(RingWire::DoubleOuter, true),
        Measurand::OverallDiameter => Quantity::Overall,
        Measurand::RingWiresGauge => Quantity::RingWires,
        Measurand::SectorWiresGauge => Quantity::SectorWires,
        Measurand::RingRoundness
        | Measurand::RingOffset
        | Measurand::SectorAngle
        | Measurand::BedArea
        | Measurand::Mounting => return None,
    })
}

/// Adds a limit to the row that serves it. A ring is measured once: its radius
/// serves a limit on its diameter too.
fn add(
    rows: &mut Vec<PlannedItem>,
    quantity: Quantity,
    edge: Option<Edge>,
    limit: Option<(Measurand, Interval)>,
) {
    let same = |row: &&mut PlannedItem| match (row.item.0, quantity) {
        (Quantity::Ring(a, _), Quantity::Ring(b, _)) => a == b,
        (a, b) => a == b,
    };
    if let Some(row) = rows.iter_mut().find(same) {
        if row.edge == edge {
            row.limits.extend(limit);
        } else {
            // A limit at another edge is computed from the wire's thickness.
            add(rows, Quantity::RingWires, None, None);
        }
        return;
    }
    rows.push(PlannedItem {
        item: Item(quantity),
        edge,
        limits: limit.into_iter().collect(),
        how: how(quantity, edge),
    });
}

/// Areas need every ring placed and every wire's thickness.
fn complete_areas(rows: &mut Vec<PlannedItem>) {
    let has = |rows: &[PlannedItem], wanted: &dyn Fn(Quantity) -> bool| {
        rows.iter().any(|row| wanted(row.item.0))
    };
    for band in [Band::InnerBull, Band::OuterBull, Band::Treble, Band::Double] {
        let outer = band.outer_wire();
        if !has(
            rows,
            &|q| matches!(q, Quantity::Ring(ring, _) if ring == outer),
        ) {
            let bull = !band.has_sectors();
            let edge = if bull { Edge::Inside } else { Edge::Outside };
            add(rows, Quantity::Ring(outer, bull), Some(edge), None);
        }
        if band.has_sectors() && !has(rows, &|q| q == Quantity::Width(band)) {
            add(rows, Quantity::Width(band), Some(Edge::Inside), None);
        }
    }
    for wires in [Quantity::RingWires, Quantity::SectorWires] {
        if !has(rows, &|q| q == wires) {
            add(rows, wires, None, None);
        }
    }
}

/// From the bull outwards, then the board, then its wires.
pub(super) const fn place_in_round(quantity: Quantity) -> u8 {
    match quantity {
        Quantity::Ring(RingWire::InnerBull, _) => 0,
        Quantity::Ring(RingWire::OuterBull, _) => 1,
        Quantity::Ring(RingWire::TrebleInner, _) => 2,
        Quantity::Width(Band::Treble) => 3,
        Quantity::Ring(RingWire::TrebleOuter, _) => 4,
        Quantity::Ring(RingWire::DoubleInner, _) => 5,
        Quantity::Width(_) => 6,
        Quantity::Ring(RingWire::DoubleOuter, _) => 7,
        Quantity::Overall => 8,
        Quantity::RingWires | Quantity::RingWire(_) => 9,
        Quantity::SectorWires => 10,
        Quantity::Offset(..) | Quantity::SectorOffset(_) | Quantity::SectorWire(_) => 11,
    }
}

fn how(quantity: Quantity, edge: Option<Edge>) -> String {
    let edge_words = match edge {
        Some(Edge::Inside) => "the edge towards the bull",
        Some(Edge::Outside) => "the edge away from the bull",
        Some(Edge::Apex) | None => "the apex (the highest line) of the wire",
    };
    match quantity {
        Quantity::Ring(ring, true) => {
            format!("across the centre, to {edge_words} of the {ring} on both sides")
        }
        Quantity::Ring(ring, false) => {
            format!("from the centre of the bull to {edge_words} of the {ring}")
        }
        Quantity::Width(band) => match edge {
            Some(Edge::Inside) => format!("between the two {band} wires, metal left out"),
            Some(Edge::Outside) => format!("over both {band} wires"),
            _ => format!("from apex to apex of the two {band} wires"),
        },
        Quantity::Overall => "across the whole board".to_owned(),
        Quantity::RingWires | Quantity::RingWire(_) => {
            "thickness of a ring wire, or its gauge with its system".to_owned()
        }
        Quantity::SectorWires | Quantity::SectorWire(_) => {
            "thickness of a sector wire, or its gauge with its system".to_owned()
        }
        Quantity::Offset(..) | Quantity::SectorOffset(_) => {
            "from the middle of the board".to_owned()
        }
    }
}
