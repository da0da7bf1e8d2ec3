//! Several people's sheets of one board, brought together.

use std::sync::Arc;

use super::board_file::board_file;
use super::item::Item;
use super::plan::place_in_round;
use super::pooled::{Pooled, PooledItem, PooledValue};
use super::sheet::{Entry, EntryValue, Sheet, entries};
use crate::board::{BuildFault, Edge, Quantity};
use crate::document::{InvalidFile, Span};
use crate::measurement::{Cell, copies};
use crate::units::{Instrument, WireSize};

/// Why sheets cannot be brought together: one or more refused files.
pub type PoolFault = InvalidFile;

/// With fewer readings than this, two sheets may be equal by chance. House rule:
/// with a scatter of one step all of three are equal in 2 % of cases.
const FEWEST_COPIED: usize = 3;

/// Brings sheets of one board together into a board file that keeps every
/// reading. What each length comes to is what the file says when it is read.
pub fn pool(sheets: &[Sheet]) -> Result<Pooled, Vec<PoolFault>> {
    let Some(first) = sheets.first() else {
        return Err(Vec::new());
    };
    let mut faults = Vec::new();
    for sheet in sheets {
        faults.extend(contradiction(first, sheet));
    }
    faults.extend(two_instruments_of_one_name(sheets));
    let items = items(sheets, &mut faults);
    for &(item, _) in &items {
        faults.extend(gauge_and_length(&entries(sheets, item)));
    }
    faults.extend(copied(sheets));
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut inspectors: Vec<String> = Vec::new();
    for sheet in sheets {
        if !inspectors.contains(&sheet.inspector) {
            inspectors.push(sheet.inspector.clone());
        }
    }
    let builder = board_file(sheets, &items, &inspectors);
    let file = builder.clone().into_file();
    let board = builder.build().map_err(|error| {
        let faults = error.faults.iter();
        let fault = |fault: &BuildFault| {
            let message = format!("the board that follows from the sheets cannot be: {fault}");
            first.fault(first.head, &message, "check its rows in every sheet")
        };
        faults.map(fault).collect::<Vec<_>>()
    })?;
    let inputs = &board.construction.inputs;
    let items = items.iter().flat_map(|&(item, edge)| {
        // As many as there are places where it was taken.
        let of_item = inputs.iter().filter(move |input| input.quantity == item.0);
        of_item.filter_map(move |input| {
            let value = match input.taken() {
                Some(taken) => PooledValue::Length {
                    value: input.value,
                    uncertainty: input.uncertainty,
                    taken: Box::new(taken.clone()),
                },
                None => PooledValue::Gauge(input.wire?),
            };
            Some(PooledItem {
                item,
                at: input.at,
                edge,
                value,
            })
        })
    });
    let items = items.collect();
    Ok(Pooled {
        board,
        inspectors,
        items,
        file,
    })
}

/// What was measured and to which edge, in the order in which a person goes
/// round the board: that of rows in a sheet says nothing.
fn items(sheets: &[Sheet], faults: &mut Vec<InvalidFile>) -> Vec<(Item, Option<Edge>)> {
    let mut items: Vec<(Item, Option<Edge>, &Sheet)> = Vec::new();
    let places = |sheet: &Sheet, item: Item| {
        let mut rows = sheet.entries.iter().filter(move |entry| entry.item == item);
        rows.any(|entry| entry.at.is_some())
    };
    for sheet in sheets {
        for entry in &sheet.entries {
            if let Some((other, _, earlier)) = items
                .iter()
                .find(|(item, ..)| is_other_way_to(*item, entry.item))
            {
                let message = format!(
                    "`{}` is here, and `{other}` in {}",
                    entry.item,
                    earlier.source.name()
                );
                let remedy = "keep one of the two: a radius and a diameter are not pooled";
                faults.push(sheet.fault(entry.span, &message, remedy));
                continue;
            }
            match items.iter().find(|(item, ..)| *item == entry.item) {
                Some((item, _, other)) if places(other, *item) != entry.at.is_some() => {
                    let (here, there) = if entry.at.is_some() {
                        ("at places", "without a place")
                    } else {
                        ("without a place", "at places")
                    };
                    let other = other.source.name();
                    faults.push(sheet.fault(
                        entry.span,
                        &format!("`{item}` was taken {here} here, but {there} in {other}"),
                        "say where it was taken in every sheet, in the column `at`, or in none",
                    ));
                }
                Some((_, edge, _)) if *edge == entry.edge => {}
                Some((item, edge, other)) => {
                    let other = format!("`{}` in {}", edge_word(*edge), other.source.name());
                    faults.push(sheet.fault(
                        entry.span,
                        &format!(
                            "`{item}` was taken to `{}` here, but to {other}",
                            edge_word(entry.edge)
                        ),
                        "measure it to one edge, or move the readings by the wire's thickness",
                    ));
                }
                None => items.push((entry.item, entry.edge, sheet)),
            }
        }
    }
    items.sort_by_key(|(item, ..)| (place_in_round(item.0), item.to_string()));
    let plain = items.into_iter().map(|(item, edge, _)| (item, edge));
    plain.collect()
}

/// A wire is either named by its gauge by all, or measured by all.
fn gauge_and_length(entries: &[(&Sheet, &Entry)]) -> Option<InvalidFile> {
    let mut gauge: Option<WireSize> = None;
    let mut is_measured = false;
    for (sheet, entry) in entries {
        match &entry.value {
            EntryValue::Gauge(size) => {
                if gauge.is_some_and(|known| known != *size) {
                    return Some(sheet.fault(
                        entry.span,
                        &format!("{size} was found here, another gauge in another sheet"),
                        "measure the wire's thickness instead",
                    ));
                }
                gauge = Some(*size);
            }
            EntryValue::Readings(_) => is_measured = true,
        }
        if gauge.is_some() && is_measured {
            return Some(sheet.fault(
                entry.span,
                "one sheet has a gauge here and another a thickness",
                "give the thickness in all of them, or the gauge in all",
            ));
        }
    }
    None
}

/// A sheet that is a copy of another says nothing more than that one.
fn copied(sheets: &[Sheet]) -> Vec<InvalidFile> {
    let mut rows: Vec<&Entry> = Vec::new();
    let same = |a: &Entry, b: &Entry| a.item == b.item && a.item.is_one_place(a.at, b.at);
    for entry in sheets.iter().flat_map(|sheet| &sheet.entries) {
        if !rows.iter().any(|known| same(known, entry)) {
            rows.push(entry);
        }
    }
    let cells = sheets.iter().enumerate().map(|(person, sheet)| {
        let entries = sheet.entries.iter().filter_map(|entry| {
            let EntryValue::Readings(series) = &entry.value else {
                return None;
            };
            let row = rows.iter().position(|known| same(known, entry))?;
            Some(Cell {
                row,
                person,
                series,
                step: None,
                max_error: None,
            })
        });
        entries.collect()
    });
    let of_readings = copies(&cells.collect::<Vec<Vec<Cell<'_>>>>());
    let mut faults = Vec::new();
    for (second, sheet) in sheets.iter().enumerate() {
        let mut earlier = sheets.iter().take(second);
        // Rows of one workbook share its text.
        let whole = earlier.find(|other| {
            !Arc::ptr_eq(&other.source, &sheet.source) && other.source.text() == sheet.source.text()
        });
        let copy = of_readings.iter().find(|copy| copy.second == second);
        let copy = copy.filter(|copy| copy.readings >= FEWEST_COPIED);
        let original = copy.and_then(|copy| sheets.get(copy.first));
        let Some(original) = whole.or(original) else {
            continue;
        };
        let message = format!(
            "this sheet has the same readings as {}, all of them: one is a copy of the other",
            original.source.name()
        );
        let remedy = "give each person's sheet once; who copied readings has not measured";
        // Of two rows in one workbook, the other is named by its cell.
        faults.push(if Arc::ptr_eq(&original.source, &sheet.source) {
            sheet.fault_with(
                sheet.head,
                "this row has the same readings as another, all of them: \
                one is a copy of the other",
                remedy,
                (original.head, "the other row"),
            )
        } else {
            sheet.fault(sheet.head, &message, remedy)
        });
    }
    faults
}

/// Sheets of different boards must not be mixed.
fn contradiction(first: &Sheet, sheet: &Sheet) -> Option<InvalidFile> {
    let of = first.source.name();
    let message = if sheet.board != first.board {
        format!(
            "this sheet is of board `{}`, {of} of `{}`",
            sheet.board, first.board
        )
    } else if (sheet.mounting, sheet.profile) != (first.mounting, first.profile) {
        format!(
            "this sheet says {}, {}; {of} says {}, {}",
            sheet.mounting,
            sheet.profile.name(),
            first.mounting,
            first.profile.name()
        )
    } else {
        return None;
    };
    Some(sheet.fault(
        Span::default(),
        &message,
        "pool only sheets of one and the same board",
    ))
}

/// One instrument cannot have two resolutions.
fn two_instruments_of_one_name(sheets: &[Sheet]) -> Option<InvalidFile> {
    let mut known: Vec<(&Sheet, &Instrument)> = Vec::new();
    for sheet in sheets {
        for instrument in sheet.instruments() {
            let Some(name) = &instrument.name else {
                continue;
            };
            let other = known
                .iter()
                .find(|(_, other)| other.name.as_ref() == Some(name) && *other != instrument);
            if let Some((other, _)) = other {
                let message = format!(
                    "`{name}` is described otherwise in {}: another step, error or calibration",
                    other.source.name()
                );
                let remedy = "describe an instrument in the same way in all sheets, or give \
                              different instruments different names";
                return Some(sheet.fault(Span::default(), &message, remedy));
            }
            known.push((sheet, instrument));
        }
    }
    None
}

/// Whether one is the radius and the other the diameter of the same ring.
fn is_other_way_to(a: Item, b: Item) -> bool {
    matches!(
        (a.0, b.0),
        (Quantity::Ring(ring, diameter), Quantity::Ring(other, other_diameter))
            if ring == other && diameter != other_diameter
    )
}

fn edge_word(edge: Option<Edge>) -> &'static str {
    edge.map_or("no edge", Edge::key)
}
