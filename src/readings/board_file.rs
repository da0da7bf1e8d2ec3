//! Pooled readings as a board file.

use super::pool::Pooled;
use super::pool_value::PooledValue;
use crate::board::{BoardBuilder, BoardFile};
use crate::units::{Instrument, Length};

/// A board file that says of every value where it came from.
pub fn board_file(pooled: &Pooled) -> BoardFile {
    let mut builder = BoardBuilder::new(pooled.board.clone(), pooled.mounting)
        .profile(pooled.profile)
        .inspection(pooled.inspectors.join(", "), pooled.date);
    if let Some(name) = &pooled.name {
        builder = builder.name(name.clone());
    }
    if let Some(instrument) = instrument(pooled) {
        builder = builder.instrument(&instrument);
    }
    for item in &pooled.items {
        let from = Some(provenance(&item.value));
        builder = match item.value {
            PooledValue::Gauge(size) => builder.wire(item.item.0, size, None, from),
            PooledValue::Length {
                value, uncertainty, ..
            } => builder.measured(item.item.0, Length::mm(value), item.edge, uncertainty, from),
        };
    }
    builder.into_file()
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

/// One instrument is written whole; of several, only their names.
fn instrument(pooled: &Pooled) -> Option<Instrument> {
    match pooled.instruments.as_slice() {
        [only] => {
            let described = only.name.is_some() || only.resolution.is_some();
            described.then(|| only.clone())
        }
        several => {
            let names: Vec<_> = several.iter().filter_map(|i| i.name.clone()).collect();
            (!names.is_empty()).then(|| Instrument {
                name: Some(names.join(", ")),
                ..Instrument::default()
            })
        }
    }
}

/// Where a value came from, in words.
fn provenance(value: &PooledValue) -> String {
    let (readings, agreement, widened) = match value {
        PooledValue::Gauge(_) => return "identified as this gauge".to_owned(),
        PooledValue::Length {
            readings,
            agreement,
            widened,
            ..
        } => (readings, agreement, widened),
    };
    let people = readings.iter().map(|reading| {
        let n = reading.series.readings().len();
        let plural = if n == 1 { "reading" } else { "readings" };
        format!(
            "{} {:.3} ({n} {plural})",
            reading.inspector,
            reading.series.mean()
        )
    });
    let mut words = people.collect::<Vec<_>>().join("; ");
    if let Some(agreement) = agreement {
        let verdict = if agreement.agree() {
            "agree"
        } else {
            "disagree"
        };
        words.push_str(&format!(
            "; they {verdict} (p = {:.2})",
            agreement.probability
        ));
    }
    if let Some(factor) = widened {
        words.push_str(&format!("; uncertainty widened {factor:.2} times"));
    }
    words
}
