//! What a file is, by its content.

use super::{CsvFormat, DecimalMark, Fault, Problem, Separator, Span};

/// How a sheet is written, if this is one: its first row that is not blank has
/// a column `item` and one for readings. No board file begins like that.
pub(crate) fn sheet_format(text: &str) -> Option<CsvFormat> {
    written(text, head(text)?, |cells| {
        let has = |is: fn(&str) -> bool| cells.iter().any(|cell| is(cell));
        has(|cell| cell == "item") && has(|cell| cell.starts_with("reading"))
    })
}

/// How a coordinate table is written, if this is one: its first row that is
/// neither blank nor a comment has the columns `feature`, `x` and `y`.
pub(crate) fn points_format(text: &str) -> Option<CsvFormat> {
    let text = text.trim_start_matches('\u{feff}');
    let mut lines = text.lines().map(str::trim);
    let head = lines.find(|line| !line.is_empty() && !line.starts_with('#'))?;
    written(text, head, |cells| {
        let has = |name: &str| cells.iter().any(|cell| cell == name);
        has("feature") && has("x") && has("y")
    })
}

/// How a sheet of many boards is written, if this is one: a row has a column `board`
/// and others.
pub(crate) fn boards_format(text: &str) -> Option<CsvFormat> {
    let mut lines = text.trim_start_matches('\u{feff}').lines();
    lines.find_map(|line| {
        written(text, line, |cells| {
            let is_id = |cell: &String| matches!(cell.as_str(), "board" | "id" | "board id");
            cells.len() > 1 && cells.iter().any(is_id)
        })
    })
}

/// Where a carriage return stands that no line feed follows: YAML takes it for the end of a
/// line, and hardly any editor does, so that no place would be right.
fn lone_return(text: &str) -> Option<usize> {
    let mut found = text.match_indices('\r').map(|(at, _)| at);
    found.find(|at| {
        !text
            .get(at + 1..)
            .is_some_and(|rest| rest.starts_with('\n'))
    })
}

impl CsvFormat {
    /// How a file is written, as far as it says so itself: its separator by the
    /// names of its columns, and the decimal comma where numbers have commas, none
    /// has a point, and commas separate nothing.
    pub fn told(text: &str) -> Option<Self> {
        let formats = [sheet_format, points_format, boards_format];
        formats.into_iter().find_map(|told| told(text))
    }
}

/// How a text is written of whose columns these are the names, in lower case; by
/// the separator that makes them what they have to be.
fn written(text: &str, head: &str, fits: impl Fn(&[String]) -> bool) -> Option<CsvFormat> {
    let separators = [Separator::Comma, Separator::Semicolon, Separator::Tab];
    let separator = separators.into_iter().find(|separator| {
        let cells = head.split(separator.character());
        let cells = cells.map(|cell| cell.trim().trim_matches('"').to_lowercase());
        fits(&cells.collect::<Vec<_>>())
    })?;
    let decimal = if separator != Separator::Comma && has_decimal_commas(text, separator) {
        DecimalMark::Comma
    } else {
        DecimalMark::Point
    };
    Some(CsvFormat { separator, decimal })
}

/// The first row that is not blank.
pub(super) fn head(text: &str) -> Option<&str> {
    let text = text.trim_start_matches('\u{feff}');
    text.lines().find(|line| !line.trim().is_empty())
}

/// Whether numbers have commas and none has a point: where both occur, the
/// reader should say what is wrong with one of them. Only cells that begin as a
/// number with decimals count; a day such as 21.11.2026 is none.
fn has_decimal_commas(text: &str, separator: Separator) -> bool {
    let cells = || {
        text.lines()
            .flat_map(|line| line.split(separator.character()))
    };
    let any = |mark| cells().any(|cell| has_decimals(cell, mark));
    any(',') && !any('.')
}

fn has_decimals(cell: &str, mark: char) -> bool {
    let cell = cell
        .trim()
        .trim_matches('"')
        .trim_start_matches(['-', '+', '±']);
    let Some((whole, rest)) = cell.split_once(mark) else {
        return false;
    };
    let decimals = rest.trim_start_matches(|c: char| c.is_ascii_digit());
    let has_digits = decimals.len() < rest.len();
    // What follows is a unit or nothing.
    let is_number = decimals.is_empty() || decimals.starts_with(' ');
    !whole.is_empty() && whole.bytes().all(|byte| byte.is_ascii_digit()) && has_digits && is_number
}

/// Marks and line ends that no program of today writes, and that tools read in two ways.
pub(super) fn strange_bytes(text: &str) -> Option<Problem> {
    if text.starts_with("\u{feff}\u{feff}") {
        let mark = '\u{feff}'.len_utf8();
        let second = Span {
            start: mark,
            end: 2 * mark,
        };
        return Some(Problem::new(
            Fault::Syntax,
            second,
            "a second byte order mark (U+FEFF) stands behind the first",
            "save the file anew as UTF-8, with one byte order mark or none",
        ));
    }
    let at = lone_return(text)?;
    let lone = Span {
        start: at,
        end: at + 1,
    };
    Some(Problem::new(
        Fault::Syntax,
        lone,
        "a line ends with a carriage return alone",
        "save the file with the line ends of today (LF, or CR LF)",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_are_known_by_their_head_row() {
        let format = |text| sheet_format(text);
        assert_eq!(format("item,edge,reading 1\n"), Some(CsvFormat::default()));
        let german = "\u{feff}item;edge;unit;reading 1\r\ntreble width;inside;mm;8,01\r\n";
        let german = format(german).expect("a sheet");
        assert_eq!(german.separator, Separator::Semicolon);
        assert_eq!(german.decimal, DecimalMark::Comma);
        assert_eq!(format("format: ringrule/board/1\n"), None);
        assert_eq!(format("a,b\n"), None);
        let points = "# invented\nfeature;X;Y\nboard;A-1\noverall;1,5;2\n";
        let points = points_format(points).expect("points");
        assert_eq!(points.separator, Separator::Semicolon);
        assert_eq!(points.decimal, DecimalMark::Comma);
        assert_eq!(points_format("x,y\n1,2\n"), None);
        assert_eq!(format(""), None);
    }
}
