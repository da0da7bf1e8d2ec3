//! Pooled readings as a board file.

use super::plan::Item;
use super::pool::{Pooled, PooledValue};
use crate::board::{
    BoardFile, BoardFormat, Identity, InspectionFile, InstrumentFile, LengthText, OverallEntry,
    Quantity, RadiusEntry, RingWire, RingsFile, StatedUncertainty, StatedWire, UncertaintyEntry,
    WidthEntry, WidthsFile, WireEntry, WireText, WiresFile,
};
use crate::document::{Located, PlainOr};
use crate::units::{LengthUnit, Uncertainty};

/// Millimetres in a file are written to the nanometre: far beyond any reading,
/// and short enough to read.
fn rounded(mm: f64) -> f64 {
    libm::round(mm * 1e6) / 1e6
}

/// A board file that says of every value where it came from.
pub fn board_file(pooled: &Pooled) -> BoardFile {
    let mut file = BoardFile {
        format: Some(Located::unplaced(BoardFormat::V1)),
        board: Some(Identity {
            id: Some(Located::unplaced(pooled.board.clone())),
            name: pooled.name.clone(),
            made: None,
            maker: None,
            serial: None,
            note: None,
        }),
        mounting: Some(Located::unplaced(pooled.mounting)),
        profile: Some(Located::unplaced(pooled.profile)),
        metal: None,
        units: Some(Located::unplaced(LengthUnit::Mm)),
        inspection: Some(InspectionFile {
            by: Some(pooled.inspectors.join(", ")),
            date: pooled.date.map(|date| Located::unplaced(date.to_string())),
        }),
        instrument: instrument(pooled),
        uncertainty: None,
        wires: None,
        rings: None,
        widths: None,
        overall: None,
    };
    for item in &pooled.items {
        let from = Some(provenance(&item.value));
        let edge = item.edge.map(Located::unplaced);
        let (length, uncertainty) = match &item.value {
            PooledValue::Gauge(size) => {
                let words = size
                    .gauge
                    .map_or_else(String::new, |gauge| gauge.to_string());
                let text = WireText(LengthText::Text(words));
                put_wire(&mut file, item.item, wire(text, None, from));
                continue;
            }
            PooledValue::Length {
                value, uncertainty, ..
            } => (LengthText::Number(rounded(*value)), uncertainty.map(stated)),
        };
        let entry = || Some(Located::unplaced(PlainOr::Plain(length.clone())));
        match item.item.0 {
            Quantity::Ring(ring, is_diameter) => {
                let entry = RadiusEntry {
                    radius: entry().filter(|_| !is_diameter),
                    diameter: entry().filter(|_| is_diameter),
                    edge,
                    uncertainty,
                    from,
                };
                put_ring(file.rings.get_or_insert_default(), ring, entry);
            }
            Quantity::Width(band) => {
                let entry = WidthEntry {
                    width: entry(),
                    edge,
                    uncertainty,
                    from,
                };
                let widths: &mut WidthsFile = file.widths.get_or_insert_default();
                match band {
                    crate::board::Band::Treble => widths.treble = Some(entry),
                    _ => widths.double = Some(entry),
                }
            }
            Quantity::Overall => {
                file.overall = Some(OverallEntry {
                    diameter: entry(),
                    uncertainty,
                    from,
                });
            }
            Quantity::RingWires | Quantity::RingWire(_) | Quantity::SectorWires => {
                put_wire(
                    &mut file,
                    item.item,
                    wire(WireText(length), uncertainty, from),
                );
            }
        }
    }
    file
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
fn instrument(pooled: &Pooled) -> Option<InstrumentFile> {
    let names: Vec<_> = pooled
        .instruments
        .iter()
        .filter_map(|i| i.name.clone())
        .collect();
    let name = (!names.is_empty()).then(|| names.join(", "));
    let length = |length: crate::units::Length| {
        Located::unplaced(LengthText::Number(rounded(length.as_mm())))
    };
    match pooled.instruments.as_slice() {
        [only] => Some(InstrumentFile {
            name,
            resolution: only.resolution.map(length),
            max_error: only.max_error.map(length),
            calibrated: only
                .calibrated
                .map(|date| Located::unplaced(date.to_string())),
        })
        .filter(|file| file.name.is_some() || file.resolution.is_some()),
        _ => name.map(|name| InstrumentFile {
            name: Some(name),
            resolution: None,
            max_error: None,
            calibrated: None,
        }),
    }
}

/// As an expanded uncertainty with its k, so that few degrees of freedom stay
/// visible.
fn stated(uncertainty: Uncertainty) -> UncertaintyEntry {
    let coverage = uncertainty.expanded();
    Located::unplaced(PlainOr::Group(StatedUncertainty {
        expanded: Some(Located::unplaced(LengthText::Number(rounded(
            coverage.expanded,
        )))),
        k: Some(libm::round(coverage.factor * 1e4) / 1e4),
        degrees_of_freedom: Some(uncertainty.degrees_of_freedom)
            .filter(|degrees| degrees.is_finite())
            .map(|degrees| libm::round(degrees * 100.0) / 100.0),
        standard: None,
    }))
}

fn wire(size: WireText, uncertainty: Option<UncertaintyEntry>, from: Option<String>) -> WireEntry {
    Located::unplaced(PlainOr::Group(StatedWire {
        size: Some(Located::unplaced(size)),
        readings: None,
        uncertainty,
        from,
    }))
}

fn put_ring(rings: &mut RingsFile, ring: RingWire, entry: RadiusEntry) {
    *match ring {
        RingWire::InnerBull => &mut rings.inner_bull,
        RingWire::OuterBull => &mut rings.outer_bull,
        RingWire::TrebleInner => &mut rings.treble_inner,
        RingWire::TrebleOuter => &mut rings.treble_outer,
        RingWire::DoubleInner => &mut rings.double_inner,
        RingWire::DoubleOuter => &mut rings.double_outer,
    } = Some(entry);
}

fn put_wire(file: &mut BoardFile, item: Item, entry: WireEntry) {
    let wires: &mut WiresFile = file.wires.get_or_insert_default();
    *match item.0 {
        Quantity::RingWire(RingWire::InnerBull) => &mut wires.inner_bull,
        Quantity::RingWire(RingWire::OuterBull) => &mut wires.outer_bull,
        Quantity::RingWire(RingWire::TrebleInner) => &mut wires.treble_inner,
        Quantity::RingWire(RingWire::TrebleOuter) => &mut wires.treble_outer,
        Quantity::RingWire(RingWire::DoubleInner) => &mut wires.double_inner,
        Quantity::RingWire(RingWire::DoubleOuter) => &mut wires.double_outer,
        Quantity::SectorWires => &mut wires.sectors,
        _ => &mut wires.rings,
    } = Some(entry);
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
