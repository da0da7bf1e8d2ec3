//! Several people's sheets of one board, brought together.

use super::plan::{Item, place_in_round};
use super::pool_value::{OnDisagreement, PooledValue, value};
use super::sheet::{Entry, Sheet};
use crate::board::{Edge, Mounting, Profile, Quantity};
use crate::document::{InvalidFile, Span};
use crate::units::Instrument;

/// The sheets of one board together.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Pooled {
    /// The board's inventory id.
    pub board: String,
    /// Where it hangs, or what people call it.
    pub name: Option<String>,
    /// How the spider is held.
    pub mounting: Mounting,
    /// The cross-section of the wires.
    pub profile: Profile,
    /// Who measured, each once.
    pub inspectors: Vec<String>,
    /// The last day of measuring.
    pub date: Option<jiff::civil::Date>,
    /// The instruments, each once.
    pub instruments: Vec<Instrument>,
    /// The items, in the order in which a person goes round the board.
    pub items: Vec<PooledItem>,
}

/// One item, from everybody who measured it.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct PooledItem {
    /// What was measured.
    pub item: Item,
    /// To which edge, where edges matter.
    pub edge: Option<Edge>,
    /// The value.
    pub value: PooledValue,
}

/// Why sheets cannot be brought together: one or more refused files.
pub type PoolFault = InvalidFile;

/// Brings sheets of one board together: type A and type B for each person, then
/// the value weighted by 1/u² over persons. The error of an instrument that
/// several used does not average out.
pub fn pool(sheets: &[Sheet], on: OnDisagreement) -> Result<Pooled, Vec<PoolFault>> {
    let Some(first) = sheets.first() else {
        return Err(Vec::new());
    };
    let mut faults = Vec::new();
    for sheet in sheets {
        faults.extend(contradiction(first, sheet));
    }
    faults.extend(two_instruments_of_one_name(sheets));
    let instruments = instruments(sheets);
    let mut items: Vec<(Item, Option<Edge>, &Sheet, Span)> = Vec::new();
    for sheet in sheets {
        for entry in &sheet.entries {
            if let Some((other, _, earlier, _)) = items
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
                Some((_, edge, ..)) if *edge == entry.edge => {}
                Some((item, edge, other, _)) => {
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
                None => items.push((entry.item, entry.edge, sheet, entry.span)),
            }
        }
    }
    let mut pooled_items = Vec::new();
    for &(item, edge, ..) in &items {
        let entries: Vec<(&Sheet, &Entry)> = sheets
            .iter()
            .flat_map(|sheet| sheet.entries.iter().map(move |entry| (sheet, entry)))
            .filter(|(_, entry)| entry.item == item)
            .collect();
        match value(&entries, &instruments, on) {
            Ok(value) => pooled_items.push(PooledItem { item, edge, value }),
            Err(fault) => faults.push(*fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    // The order of rows in a sheet says nothing.
    pooled_items
        .sort_by_key(|item: &PooledItem| (place_in_round(item.item.0), item.item.to_string()));
    let mut inspectors: Vec<String> = Vec::new();
    for sheet in sheets {
        if !inspectors.contains(&sheet.inspector) {
            inspectors.push(sheet.inspector.clone());
        }
    }
    Ok(Pooled {
        board: first.board.clone(),
        name: sheets.iter().find_map(|sheet| sheet.name.clone()),
        mounting: first.mounting,
        profile: first.profile,
        inspectors,
        date: sheets.iter().filter_map(|sheet| sheet.date).max(),
        instruments,
        items: pooled_items,
    })
}

impl Pooled {
    /// The items on which people disagree.
    pub fn disputed(&self) -> impl Iterator<Item = &PooledItem> {
        self.items.iter().filter(|item| match &item.value {
            PooledValue::Length {
                agreement: Some(agreement),
                ..
            } => !agreement.agree(),
            _ => false,
        })
    }
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

/// The instruments as they are described, each once, in an order that does not
/// depend on that of the sheets.
fn instruments(sheets: &[Sheet]) -> Vec<Instrument> {
    let mut instruments: Vec<Instrument> = Vec::new();
    for sheet in sheets {
        if !instruments.contains(&sheet.instrument) {
            instruments.push(sheet.instrument.clone());
        }
    }
    instruments.sort_by(|a, b| a.name.cmp(&b.name));
    instruments
}

/// One instrument cannot have two resolutions.
fn two_instruments_of_one_name(sheets: &[Sheet]) -> Option<InvalidFile> {
    sheets.iter().enumerate().find_map(|(index, sheet)| {
        let name = sheet.instrument.name.as_ref()?;
        let earlier = sheets.get(..index)?.iter();
        let other = earlier
            .filter(|other| other.instrument.name.as_ref() == Some(name))
            .find(|other| other.instrument != sheet.instrument)?;
        let message = format!(
            "`{name}` is described otherwise in {}: another step, error or calibration",
            other.source.name()
        );
        let remedy = "describe an instrument in the same way in all sheets, or give different instruments different names";
        Some(sheet.fault(Span::default(), &message, remedy))
    })
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
