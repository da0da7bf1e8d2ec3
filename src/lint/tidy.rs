//! A file in tidy notation: the same values, comments and layout.
//!
//! Only how a value is written changes, never what it says: spaces around a unit,
//! a gauge or a percent sign, quotes around a day, and white space that nobody sees. Every change is
//! proved before it is offered: the tidied text must read as the same tree.

use super::notation::is_bare_day;
use crate::document::{InvalidFile, Node, Source, Span, Value, parse};
use crate::units::{parse_length, parse_percent, parse_wire};

/// Keys whose texts are lengths, wires or percentages. Everything else is
/// somebody's words and stays as it is.
const MEASURED: [&str; 28] = [
    "area",
    "confidence",
    "diameter",
    "double_inner",
    "double_outer",
    "expanded",
    "inner_bull",
    "lower",
    "max",
    "max_error",
    "metal",
    "min",
    "nominal",
    "outer_bull",
    "radius",
    "readings",
    "resolution",
    "rings",
    "sectors",
    "size",
    "standard",
    "tolerance",
    "treble_inner",
    "treble_outer",
    "uncertainty",
    "upper",
    "width",
    "step",
];

/// A piece of text that is written otherwise.
struct Edit {
    span: Span,
    text: String,
}

/// The text in tidy notation; `None` if it is tidy already. Tidying a tidy text
/// changes nothing.
pub fn tidy(source: &Source) -> Result<Option<String>, InvalidFile> {
    let before = parse(source.clone())?;
    let mut edits = Vec::new();
    notation(source, &before.root, false, &mut edits);
    let mut text = source.text().to_owned();
    // From the end, so that places before it stay right.
    edits.sort_by_key(|edit| std::cmp::Reverse(edit.span.start));
    for edit in edits {
        text.replace_range(edit.span.range(), &edit.text);
    }
    // White space can be part of a text in a block of its own lines.
    let clean = without_blanks(&text);
    let same = |text: &str| {
        let after = parse(Source::new(source.name(), text)).ok();
        after.is_some_and(|after| equal(&before.root, &after.root, false))
    };
    let found = [clean, text].into_iter().find(|text| same(text));
    Ok(found.filter(|found| found != source.text()))
}

/// Collects what is written untidily at or below a node. `measured` says that
/// the node stands where a quantity does.
fn notation(source: &Source, node: &Node, measured: bool, edits: &mut Vec<Edit>) {
    match &node.value {
        Value::Text(text) if is_bare_day(source, node) => edits.push(Edit {
            span: node.span,
            text: format!("\"{text}\""),
        }),
        Value::Text(text) if measured => {
            let Some(tidy) = tidy_quantity(text).filter(|tidy| tidy != text) else {
                return;
            };
            let written = source.slice(node.span);
            // A text in quotes with escapes, or over several lines, is written
            // in ways that a plain replacement could break.
            if let Some(at) = written.find(text.as_str()) {
                let start = node.span.start + at;
                let end = start + text.len();
                edits.push(Edit {
                    span: Span { start, end },
                    text: tidy,
                });
            }
        }
        Value::List(items) => {
            for item in items {
                notation(source, item, measured, edits);
            }
        }
        Value::Map(entries) => {
            for entry in entries {
                let measured = MEASURED.contains(&entry.key.as_str());
                notation(source, &entry.value, measured, edits);
            }
        }
        _ => {}
    }
}

/// A quantity with one space before its unit and none around it; `None` if it
/// is not one.
fn tidy_quantity(text: &str) -> Option<String> {
    let quantity = parse_length(text).is_ok() || parse_wire(text).is_ok();
    if !quantity && parse_percent(text).is_err() {
        return None;
    }
    let text = text.trim();
    let cut = text.find(|c: char| c.is_alphabetic() || c == '%')?;
    let (number, unit) = text.split_at(cut);
    let number: Vec<&str> = number.split_whitespace().collect();
    // A gauge's letters are read in any case and written in capitals.
    let unit = match parse_wire(text) {
        Ok(wire) if wire.gauge.is_some() => unit.trim().to_ascii_uppercase(),
        _ => unit.trim().to_owned(),
    };
    Some(format!("{} {unit}", number.join(" ")))
}

/// Lines without blanks at their ends, and one line feed behind each.
fn without_blanks(text: &str) -> String {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let lines = text.trim_end().split('\n').map(str::trim_end);
    lines.map(|line| line.to_owned() + "\n").collect()
}

/// Whether two trees say the same, quantities by what they are.
fn equal(a: &Node, b: &Node, measured: bool) -> bool {
    match (&a.value, &b.value) {
        (Value::Text(a), Value::Text(b)) if measured => {
            a == b
                || (tidy_quantity(a).is_some()
                    && parse_length(a).ok() == parse_length(b).ok()
                    && parse_wire(a).ok() == parse_wire(b).ok()
                    && parse_percent(a).ok() == parse_percent(b).ok())
        }
        (Value::List(a), Value::List(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| equal(a, b, measured))
        }
        (Value::Map(a), Value::Map(b)) => {
            a.len() == b.len()
                && a.iter().zip(b).all(|(a, b)| {
                    let measured = MEASURED.contains(&a.key.as_str());
                    a.key == b.key && equal(&a.value, &b.value, measured)
                })
        }
        (a, b) => a == b,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const UNTIDY: &str = "# kept\u{20}\u{20}\r\nformat: ringrule/board/1\r\n\
        board: { id: A-1, name: \"8mm  gap\" } # and this\r\n\
        mounting: staples\r\nunits: mm\r\n\
        wires: { rings: 16swg, sectors: \"  17  SWG \" }\r\n\
        metal: 30%\r\n\
        rings:\r\n  double_inner:   { radius: \"6  5/16in\", edge: outside }\t\r\n\r\n";

    const TIDY: &str = "# kept\nformat: ringrule/board/1\n\
        board: { id: A-1, name: \"8mm  gap\" } # and this\n\
        mounting: staples\nunits: mm\n\
        wires: { rings: 16 SWG, sectors: \"17 SWG\" }\n\
        metal: 30 %\n\
        rings:\n  double_inner:   { radius: \"6 5/16 in\", edge: outside }\n";

    fn tidied(text: &str) -> Option<String> {
        tidy(&Source::new("a.yaml", text)).expect("a file that can be read")
    }

    #[test]
    fn notation_is_tidied_and_words_comments_and_layout_stay() {
        assert_eq!(tidied(UNTIDY).as_deref(), Some(TIDY));
        assert_eq!(tidied(TIDY), None);
    }

    #[test]
    fn days_get_quotes_wherever_they_stand() {
        let text = "inspection: { by: A, date: 2026-10-03 } # 2026-10-03\n\
                    instrument: { calibrated: 2026-05-02, due: \"2027-05-02\" }\n\
                    board: { note: measured 2026-10-03 }\nissued: 2026-11-20\n";
        let tidy = "inspection: { by: A, date: \"2026-10-03\" } # 2026-10-03\n\
                    instrument: { calibrated: \"2026-05-02\", due: \"2027-05-02\" }\n\
                    board: { note: measured 2026-10-03 }\nissued: \"2026-11-20\"\n";
        assert_eq!(tidied(text).as_deref(), Some(tidy));
        assert_eq!(tidied(tidy), None);
    }

    #[test]
    fn blanks_that_belong_to_a_text_stay() {
        let text = "board:\n  note: |\n    two blanks  \n    behind\nmetal: 30%\n";
        let tidy = tidied(text).expect("a percent sign");
        assert_eq!(tidy, text.replace("30%", "30 %"));
        assert_eq!(tidied(&tidy), None);
    }

    #[test]
    fn what_cannot_be_read_is_left_alone() {
        assert!(tidy(&Source::new("a.yaml", "board: [\n")).is_err());
        // Nothing says which gauge this is, so nothing is made of it.
        assert_eq!(tidied("wires: { rings: \"16  gauge\" }\n"), None);
    }
}
