//! Lengths as they are written: their digits and their units.

use super::subject::node_at;
use super::{Flagged, Subject};
use crate::board::usual::{Misreading, misreading};
use crate::board::{Board, Input, Quantity};
use crate::document::{Document, Node, Source, Span, Value, is_iso_day};
use crate::units::{Length, LengthUnit};

/// A number as it is written.
pub(crate) struct Numeral {
    /// Where.
    pub(crate) span: Span,
    /// The unit that stands behind it, if one does.
    pub(crate) own_unit: Option<LengthUnit>,
    /// Its last decimal place in mm; `None` for fractions and exponents, of
    /// which the step cannot be told.
    pub(crate) step: Option<f64>,
}

/// The unit of bare numbers in a board file.
pub(crate) fn file_unit(board: &Board) -> LengthUnit {
    let units = board.document.root.get("units").map(|node| &node.value);
    match units {
        Some(Value::Text(word)) if word == "in" => LengthUnit::In,
        _ => LengthUnit::Mm,
    }
}

/// The numbers behind a recorded length: itself or its readings.
pub(crate) fn numbers(board: &Board, input: &Input) -> Vec<Numeral> {
    let unit = file_unit(board);
    let Some(node) = node_at(&board.document.root, input.span) else {
        return Vec::new();
    };
    let mut numbers = Vec::new();
    leaves(node, &mut |leaf| {
        let text = board.document.source.slice(leaf.span);
        numbers.push(numeral(text, leaf.span, unit));
    });
    numbers
}

/// Every number with a unit of its own in the groups that hold lengths.
pub(crate) fn with_units(board: &Board) -> Vec<Numeral> {
    let unit = file_unit(board);
    let mut numbers = Vec::new();
    for group in [
        "instrument",
        "uncertainty",
        "wires",
        "rings",
        "widths",
        "overall",
    ] {
        let Some(node) = board.document.root.get(group) else {
            continue;
        };
        leaves(node, &mut |leaf| {
            if matches!(&leaf.value, Value::Text(text) if crate::units::parse_length(text).is_ok())
            {
                let text = board.document.source.slice(leaf.span);
                numbers.push(numeral(text, leaf.span, unit));
            }
        });
    }
    numbers
}

/// The values of a node; of a group, those of every key but words about them.
fn leaves(node: &Node, found: &mut impl FnMut(&Node)) {
    match &node.value {
        Value::Map(entries) => {
            for entry in entries {
                if !matches!(
                    entry.key.as_str(),
                    "from" | "name" | "edge" | "by" | "date" | "instrument"
                ) {
                    leaves(&entry.value, found);
                }
            }
        }
        Value::List(items) => items.iter().for_each(|item| leaves(item, found)),
        Value::Number(_) | Value::Text(_) => found(node),
        _ => {}
    }
}

fn numeral(text: &str, span: Span, file_unit: LengthUnit) -> Numeral {
    let text = text.trim_matches(['"', '\'']).trim();
    let own_unit = if text.ends_with("mm") {
        Some(LengthUnit::Mm)
    } else if text.ends_with("in") {
        Some(LengthUnit::In)
    } else {
        None
    };
    let number = text.trim_end_matches(|c: char| c.is_ascii_alphabetic() || c == ' ');
    let unit = own_unit.unwrap_or(file_unit);
    let decimals = number.split_once('.').map_or("", |(_, decimals)| decimals);
    let plain = number.bytes().all(|b| b.is_ascii_digit() || b == b'.') && !number.is_empty();
    let step = plain.then(|| {
        let places = i32::try_from(decimals.len()).unwrap_or(i32::MAX);
        unit.length(10.0_f64.powi(-places)).as_mm()
    });
    Numeral {
        span,
        own_unit,
        step,
    }
}

/// Whether a value is a day that stands without quotes.
pub(super) fn is_bare_day(source: &Source, node: &Node) -> bool {
    matches!(&node.value, Value::Text(text) if is_iso_day(text) && source.slice(node.span) == text)
}

/// Every day of a file that stands without quotes, and where.
pub(crate) fn bare_days(document: &Document) -> Vec<(Span, String)> {
    fn walk(source: &Source, node: &Node, found: &mut Vec<(Span, String)>) {
        match &node.value {
            Value::List(items) => {
                for item in items {
                    walk(source, item, found);
                }
            }
            Value::Map(entries) => {
                for entry in entries {
                    walk(source, &entry.value, found);
                }
            }
            Value::Text(text) if is_bare_day(source, node) => {
                found.push((node.span, text.clone()));
            }
            _ => {}
        }
    }
    let mut found = Vec::new();
    walk(&document.source, &document.root, &mut found);
    found
}

/// Radii, diameters and widths: what limits of a few tenths are set on.
pub(crate) fn fine_lengths(board: &Board) -> impl Iterator<Item = &Input> {
    let inputs = board.construction.inputs.iter();
    inputs.filter(|input| matches!(input.quantity, Quantity::Ring(..) | Quantity::Width(_)))
}

/// The step of a recorded length in mm: the finest of its numbers'. `None`
/// where it cannot be told of any.
pub(crate) fn step(board: &Board, input: &Input) -> Option<f64> {
    let numbers = numbers(board, input);
    let steps = numbers.iter().filter_map(|number| number.step);
    steps.min_by(f64::total_cmp)
}

/// A length for a message: as many decimals as are needed, in mm.
pub(crate) fn in_mm(length: Length) -> String {
    let text = format!("{:.3}", length.as_mm());
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} mm")
}

/// What is flagged of each misread length of a board: what it would be if it
/// were read otherwise, and what to do. `None` for what another rule says.
pub(crate) fn misread<R: Into<String>>(
    board: &Board,
    words: impl Fn(&Input, Misreading) -> Option<(String, R)>,
) -> impl Iterator<Item = Flagged> {
    board.construction.inputs.iter().filter_map(move |input| {
        let (otherwise, remedy) = words(input, misreading(input)?)?;
        let (length, quantity) = (in_mm(input.value), input.quantity);
        let message = format!("{length} as the {quantity} is far from usual, but {otherwise}");
        Some(Flagged::new(input.span, message, remedy))
    })
}

/// One finding for the first of several places, with the rest as related ones:
/// a file in which every value has the same flaw says so once.
pub(crate) fn once(
    spans: Vec<(Span, String)>,
    flagged: impl FnOnce(Span, usize) -> Flagged,
) -> Option<Flagged> {
    let count = spans.len();
    let mut spans = spans.into_iter();
    let (first, _) = spans.next()?;
    let flagged = flagged(first, count);
    Some(spans.fold(flagged, |flagged, (span, label)| flagged.and(span, label)))
}

/// How many lengths a finding is about, where it is more than the one shown.
pub(crate) fn such(count: usize) -> String {
    match count {
        0 | 1 => String::new(),
        many => format!(" ({many} such lengths)"),
    }
}

/// That others do the same as the length shown.
pub(crate) fn and_so_more(count: usize) -> String {
    match count {
        0 | 1 => String::new(),
        2 => "; so does 1 more length".to_owned(),
        many => format!("; so do {} more lengths", many - 1),
    }
}

/// Where a board's record would stand: its own group, or the board's.
pub(crate) fn record_place(subject: &Subject, path: &[&str]) -> Span {
    let first = path.first().copied().unwrap_or_default();
    let there = subject
        .document()
        .and_then(|document| document.root.get(first))
        .is_some();
    if there {
        subject.key(path)
    } else {
        subject.key(&["board"])
    }
}
