//! Filled sheets as a board file.

use super::item::Item;
use super::sheet::{Entry, EntryValue, Sheet, entries};
use crate::board::{BoardBuilder, BoardFile, Edge, LengthText, Mounting, TakenEntry};
use crate::document::Located;
use crate::units::{Instrument, WireSize};

/// A board file that keeps every reading, with who took it, when, and with
/// which instrument.
pub(super) fn board_file(
    sheets: &[Sheet],
    items: &[(Item, Option<Edge>)],
    inspectors: &[String],
) -> BoardBuilder {
    let instruments = instruments(sheets);
    let last = sheets.iter().filter_map(|sheet| sheet.date).max();
    let mut builder = BoardBuilder::new(
        sheets.first().map_or("", |first| first.board.as_str()),
        sheets
            .first()
            .map_or(Mounting::Staples, |first| first.mounting),
    );
    if let Some(first) = sheets.first() {
        builder = builder.profile(first.profile);
    }
    builder = builder.inspection(inspectors.join(", "), last);
    if let Some(name) = sheets.iter().find_map(|sheet| sheet.name.as_ref()) {
        builder = builder.name(name.clone());
    }
    for (key, instrument) in &instruments {
        builder = builder.named_instrument(key.clone(), instrument);
    }
    for &(item, edge) in items {
        let mut entries = entries(sheets, item);
        // The places in the order in which one goes round; of each the sheets in
        // theirs.
        let clockwise = |entry: &Entry| entry.at.map(|at| at.clockwise(item.is_across()));
        entries.sort_by(|(_, a), (_, b)| {
            let (a, b) = (clockwise(a), clockwise(b));
            a.partial_cmp(&b).unwrap_or(std::cmp::Ordering::Equal)
        });
        let gauge = entries.iter().find_map(|(_, entry)| gauge(entry));
        builder = if let Some(size) = gauge {
            builder.gauge(item.0, size)
        } else {
            let taken = entries.iter();
            let taken = taken.filter_map(|(sheet, entry)| taking(sheet, entry, &instruments));
            builder.taken(item.0, edge, taken.collect())
        };
    }
    builder
}

const fn gauge(entry: &Entry) -> Option<WireSize> {
    match entry.value {
        EntryValue::Gauge(size) => Some(size),
        EntryValue::Readings(_) => None,
    }
}

fn taking(
    sheet: &Sheet,
    entry: &Entry,
    instruments: &[(String, Instrument)],
) -> Option<TakenEntry> {
    let EntryValue::Readings(series) = &entry.value else {
        return None;
    };
    let instrument = instruments
        .iter()
        .find(|(_, known)| *known == entry.instrument);
    let number = |reading: &f64| Located::unplaced(LengthText::mm(*reading));
    Some(TakenEntry {
        by: Some(Located::unplaced(sheet.inspector.clone())),
        at: entry.at.map(|at| Located::unplaced(at.into())),
        instrument: instrument.map(|(key, _)| Located::unplaced(key.clone())),
        date: sheet.date.map(|day| Located::unplaced(day.to_string())),
        readings: Some(series.readings().iter().map(number).collect()),
    })
}

/// The instruments as they are described, each once and under a name of its
/// own, in an order that does not depend on that of the sheets. None where no
/// sheet says anything of one.
fn instruments(sheets: &[Sheet]) -> Vec<(String, Instrument)> {
    let mut instruments: Vec<&Instrument> = Vec::new();
    for instrument in sheets.iter().flat_map(Sheet::instruments) {
        if !instruments.contains(&instrument) {
            instruments.push(instrument);
        }
    }
    let named: Vec<&String> = instruments.iter().filter_map(|i| i.name.as_ref()).collect();
    if instruments
        .iter()
        .all(|known| **known == Instrument::default())
    {
        return Vec::new();
    }
    let size = |known: &Instrument| [known.resolution, known.max_error];
    instruments.sort_by(|a, b| {
        let sizes = size(a).partial_cmp(&size(b));
        let names = a.name.cmp(&b.name);
        names.then(sizes.unwrap_or(std::cmp::Ordering::Equal))
    });
    let mut unnamed = 0;
    let keyed = instruments.into_iter().map(|known| {
        let key = known.name.clone().unwrap_or_else(|| {
            loop {
                unnamed += 1;
                let key = format!("unidentified {unnamed}");
                if !named.contains(&&key) {
                    break key;
                }
            }
        });
        (key, known.clone())
    });
    keyed.collect()
}

/// The file as text, with the line that tells an editor its schema and `note`
/// as a comment above. `None` if it cannot be written, which no value of the
/// program's own leads to.
pub fn to_yaml(file: &BoardFile, note: &str) -> Option<String> {
    let body = serde_yaml::to_string(file).ok()?;
    let note: String = note.lines().map(|line| format!("# {line}\n")).collect();
    Some(format!(
        "# yaml-language-server: $schema=board.schema.json\n{note}{body}"
    ))
}
