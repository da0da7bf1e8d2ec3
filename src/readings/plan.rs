//! What to measure for a table, in the order in which a person goes round.

use std::fmt;
use std::str::FromStr;

use super::plan_places::{PlannedPlace, behind_a_form, places};
use crate::board::{Band, Bearing, Edge, Mounting, Profile, Quantity, RingWire};
use crate::table::{Demand, Extent, Interval, Measurand, Table};

/// The columns of a sheet, beside the readings. Sheets on which nothing is asked
/// for at places need no `at`.
pub const COLUMNS: [&str; 8] = [
    "item",
    "at",
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

    /// Whether it may differ from place to place.
    pub const fn has_places(self) -> bool {
        !self.is_wire()
    }

    /// Whether it is taken across the board, so that a place and the one opposite
    /// are one.
    pub const fn is_across(self) -> bool {
        matches!(self.0, Quantity::Ring(_, true) | Quantity::Overall)
    }

    /// Whether two places of it are one.
    pub(super) fn is_one_place(self, one: Option<Bearing>, other: Option<Bearing>) -> bool {
        match (one, other) {
            (Some(one), Some(other)) => one.is_or_faces(other, self.is_across()),
            (one, other) => one.is_none() && other.is_none(),
        }
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
    /// The limits that it serves: what is limited, the lengths that conform, and
    /// whether at every place.
    pub limits: Vec<(Measurand, Interval, Extent)>,
    /// How, in words.
    pub how: String,
    /// The places where to measure it, in the order in which one goes round; empty
    /// where only the mean matters.
    pub places: Vec<PlannedPlace>,
}

/// What a table needs of a board of this kind, and nothing else: one row for
/// each limit that applies, and whatever the areas need beyond. What a limit on
/// every place speaks of, or one on a ring's form, is to be measured at places.
pub fn plan(table: &Table, mounting: Mounting, profile: Profile) -> Vec<PlannedItem> {
    let mut rows: Vec<PlannedItem> = Vec::new();
    let mut at_places: Vec<Quantity> = Vec::new();
    for measurand in Measurand::ALL {
        for limit in table.limits_for(mounting, profile) {
            let Demand::Within(interval) = limit.demand else {
                continue;
            };
            if limit.measurand != measurand {
                continue;
            }
            if let Some(quantity) = quantity_for(measurand) {
                add(
                    &mut rows,
                    quantity,
                    limit.edge,
                    Some((measurand, interval, limit.of)),
                );
                at_places.extend((limit.of == Extent::EveryPlace).then_some(quantity));
            }
            for quantity in behind_a_form(limit) {
                add_for_form(&mut rows, quantity, (measurand, interval, limit.of));
                at_places.push(quantity);
            }
        }
    }
    let nominal = table.nominal(mounting);
    if nominal.is_some_and(|nominal| nominal.construction.profile == profile) {
        complete_areas(&mut rows);
    }
    for row in &mut rows {
        let asked = at_places.iter().any(|of| is_same(*of, row.item.0));
        if asked && row.item.has_places() {
            row.places = places(row.item);
        }
    }
    rows.sort_by_key(|row| place_in_round(row.item.0));
    rows
}

/// Whether two are the same length, or a radius and a diameter of one ring.
fn is_same(one: Quantity, other: Quantity) -> bool {
    match (one, other) {
        (Quantity::Ring(one, _), Quantity::Ring(other, _)) => one == other,
        (one, other) => one == other,
    }
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
    limit: Option<(Measurand, Interval, Extent)>,
) {
    let same = |row: &&mut PlannedItem| is_same(row.item.0, quantity);
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
        places: Vec::new(),
    });
}

/// Adds a limit on a ring's form to a row that it follows from. Any edge shows it,
/// but where radii are needed a diameter does not do.
fn add_for_form(
    rows: &mut Vec<PlannedItem>,
    quantity: Quantity,
    limit: (Measurand, Interval, Extent),
) {
    if quantity.is_wire() {
        return add(rows, quantity, None, None);
    }
    let same = |row: &&mut PlannedItem| is_same(row.item.0, quantity);
    let Some(row) = rows.iter_mut().find(same) else {
        let edge = usual_edge(quantity);
        return add(rows, quantity, Some(edge), Some(limit));
    };
    if matches!(quantity, Quantity::Ring(_, false)) {
        row.item = Item(quantity);
        row.how = how(quantity, row.edge);
    }
    if !row.limits.contains(&limit) {
        row.limits.push(limit);
    }
}

/// The edge to which a length is taken where no limit says which.
const fn usual_edge(quantity: Quantity) -> Edge {
    match quantity {
        Quantity::Ring(RingWire::InnerBull | RingWire::OuterBull, _) | Quantity::Width(_) => {
            Edge::Inside
        }
        _ => Edge::Outside,
    }
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
            let quantity = Quantity::Ring(outer, !band.has_sectors());
            add(rows, quantity, Some(usual_edge(quantity)), None);
        }
        if band.has_sectors() && !has(rows, &|q| q == Quantity::Width(band)) {
            let quantity = Quantity::Width(band);
            add(rows, quantity, Some(usual_edge(quantity)), None);
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
