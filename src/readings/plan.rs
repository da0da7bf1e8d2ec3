//! What to measure for a table, in the order in which a person goes round.

use super::item::Item;
use super::plan_places::{PlannedPlace, behind_a_form, places};
use crate::board::{Band, Edge, Mounting, Profile, Quantity, RingWire};
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
        Quantity::Offset(..)
        | Quantity::SectorOffset(_)
        | Quantity::SectorWire(_)
        | Quantity::Turn(_) => 11,
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
        Quantity::Turn(_) => "from its recorded bearing, along the treble ring".to_owned(),
    }
}
