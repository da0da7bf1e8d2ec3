//! The lengths of a file that people took, wherever they stand.

use super::RingWire;
use super::entries::{LengthEntry, WireEntry};
use super::evaluated::Beside;
use super::file::RadiusEntry;
use super::read_construction::ConstructionFile;
use super::readings_file::TakenEntry;
use super::usual::{Range, Ranges};
use crate::document::{PlainOr, Span};

/// A length that people took, as it stands in the file.
pub(super) struct Row<'f> {
    pub(super) span: Span,
    pub(super) taken: &'f [TakenEntry],
    pub(super) beside: Beside<'f>,
    pub(super) range: Range,
    /// Whether it may differ from place to place.
    pub(super) has_places: bool,
}

/// Every length of a file that people took.
pub(super) fn rows<'f>(file: &ConstructionFile<'f>) -> Vec<Row<'f>> {
    let mut rows = Vec::new();
    let wires = file.wires.into_iter().flat_map(|wires| {
        let own = RingWire::ALL.into_iter().map(|ring| wires.get(ring));
        [wires.rings.as_ref(), wires.sectors.as_ref()]
            .into_iter()
            .chain(own)
    });
    rows.extend(wires.flatten().filter_map(wire));
    let rings = file.rings.into_iter().flat_map(|rings| {
        let entries = RingWire::ALL.into_iter().map(|ring| rings.get(ring));
        entries.flatten()
    });
    rows.extend(rings.flat_map(ring).flatten());
    let widths = file.widths.into_iter();
    let widths = widths.flat_map(|widths| [widths.treble.as_ref(), widths.double.as_ref()]);
    rows.extend(widths.flatten().filter_map(|entry| {
        let beside = Beside {
            uncertainty: entry.uncertainty.as_ref(),
            instrument: entry.instrument.as_ref(),
            across: false,
        };
        length(entry.width.as_ref()?, beside, Ranges::WIDTH)
    }));
    rows.extend(
        file.overall
            .and_then(|(diameter, beside)| length(diameter, beside, Ranges::OVERALL)),
    );
    rows
}

fn wire(entry: &WireEntry) -> Option<Row<'_>> {
    let PlainOr::Group(group) = &entry.value else {
        return None;
    };
    Some(Row {
        span: entry.span,
        taken: group.taken.as_deref()?,
        beside: Beside {
            uncertainty: group.uncertainty.as_ref(),
            instrument: group.instrument.as_ref(),
            across: false,
        },
        range: Ranges::WIRE,
        has_places: false,
    })
}

fn ring(entry: &RadiusEntry) -> [Option<Row<'_>>; 2] {
    let both = [(&entry.radius, false), (&entry.diameter, true)];
    both.map(|(text, across)| {
        let beside = Beside {
            uncertainty: entry.uncertainty.as_ref(),
            instrument: entry.instrument.as_ref(),
            across,
        };
        let factor = if across { 2.0 } else { 1.0 };
        length(text.as_ref()?, beside, Ranges::RADIUS.scaled(factor))
    })
}

fn length<'f>(entry: &'f LengthEntry, beside: Beside<'f>, range: Range) -> Option<Row<'f>> {
    let PlainOr::Group(group) = &entry.value else {
        return None;
    };
    Some(Row {
        span: entry.span,
        taken: group.taken.as_deref()?,
        beside,
        range,
        has_places: true,
    })
}
