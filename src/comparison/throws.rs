//! Throws that somebody wrote down: a CSV file of positions or of beds.

use std::sync::Arc;

use crate::board::Band;
use crate::document::{
    Cell, CsvFormat, Fault, InvalidFile, Problem, Problems, Recognised, Row, Source, Span, csv_rows,
};
use crate::geometry::{Bed, Point};
use crate::play::{Landed, Seen, Target};

/// Further from the centre than this, in mm, nobody's dart was measured: the
/// unit must be another one. House rule.
const FARTHEST: f64 = 1000.0;

/// Throws, as they were noted.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Throws {
    /// Where darts landed, in mm right of and above the centre, or that they missed.
    Positions {
        /// The file.
        file: String,
        /// Where each of them landed.
        landed: Vec<Landed>,
    },
    /// What darts hit.
    Beds {
        /// The file.
        file: String,
        /// The beds.
        seen: Vec<Seen>,
    },
}

impl Throws {
    /// The file that they stand in.
    pub fn file(&self) -> &str {
        match self {
            Self::Positions { file, .. } | Self::Beds { file, .. } => file,
        }
    }
}

/// Which columns a file has.
#[derive(Clone, Copy)]
enum Columns {
    Positions { x: usize, y: usize },
    Beds { hit: usize },
}

/// Reads a CSV file whose first line names its columns: `x` and `y` in mm, or
/// `hit` (`T20`, `D16`, `5`, `outer 20`, `inner 20`, `25`, `Bull`, `miss`). Every
/// row that cannot be used is reported, each at its place.
pub fn read_throws(source: Source) -> Result<Throws, InvalidFile> {
    if let Some(other) = Recognised::instead_of(Recognised::Throws, &source) {
        return Err(other);
    }
    let source = Arc::new(source);
    let mut problems = Problems::default();
    let read = read(&source, &mut problems);
    problems.into_result(&source)?;
    read.ok_or_else(|| {
        let words = "there are no throws in this file";
        let problem = Problem::new(Fault::MissingKey, Span::default(), words, HEADER);
        InvalidFile::of(Arc::clone(&source), problem)
    })
}

const HEADER: &str = "separate columns by commas: begin with a line `x,y` and give millimetres right of and above the \
                      centre, or with `hit` and give one of T20, D16, 5, outer 20, inner 20, 25, \
                      Bull, miss a line";

fn read(source: &Source, problems: &mut Problems) -> Option<Throws> {
    let mut rows = csv_rows(source, CsvFormat::default(), problems);
    rows.retain(|row| {
        !row.cells()
            .iter()
            .find(|cell| !cell.text.is_empty())
            .is_some_and(|cell| cell.text.starts_with('#'))
    });
    let (head, rows) = rows.split_first()?;
    let columns = columns(head, problems)?;
    let (mut landed, mut seen) = (Vec::new(), Vec::new());
    for row in rows {
        row.check_surplus(head, problems);
        match columns {
            Columns::Positions { x, y } => landed.extend(position(row, x, y, problems)),
            Columns::Beds { hit } => seen.extend(word(row, hit, problems)),
        }
    }
    let file = source.name().to_owned();
    match columns {
        Columns::Positions { .. } if !landed.is_empty() => Some(Throws::Positions { file, landed }),
        Columns::Beds { .. } if !seen.is_empty() => Some(Throws::Beds { file, seen }),
        _ => None,
    }
}

fn columns(head: &Row, problems: &mut Problems) -> Option<Columns> {
    let find = |wanted: &str| {
        let mut cells = head.cells().iter();
        cells.position(|cell| cell.text.eq_ignore_ascii_case(wanted))
    };
    match (find("x"), find("y"), find("hit")) {
        (Some(x), Some(y), None) => Some(Columns::Positions { x, y }),
        (None, None, Some(hit)) => Some(Columns::Beds { hit }),
        _ => {
            problems.add(Problem::new(
                Fault::WrongFormat,
                head.span(),
                "the first line does not say whether these are positions or beds",
                HEADER,
            ));
            None
        }
    }
}

fn filled<'r>(row: &'r Row, column: usize, problems: &mut Problems) -> Option<&'r Cell> {
    let cell = row.cell(column);
    if cell.is_none() {
        let message = format!("column {} of this row is empty", column + 1);
        let remedy = "fill it in, or delete the row";
        problems.add(Problem::new(Fault::MissingKey, row.span(), message, remedy));
    }
    cell
}

/// Where a dart landed; `miss` in either column, the other empty or the same, is one that
/// scored nothing.
fn position(row: &Row, x: usize, y: usize, problems: &mut Problems) -> Option<Landed> {
    let missed = |column: usize| row.cell(column).map(|cell| is_miss(&cell.text));
    match [missed(x), missed(y)] {
        [Some(true), None | Some(true)] | [None, Some(true)] => Some(Landed::Missed),
        _ => {
            let place = (number(row, x, problems), number(row, y, problems));
            match place {
                (Some(x), Some(y)) => Some(Landed::At(Point::mm(x, y))),
                _ => None,
            }
        }
    }
}

fn is_miss(word: &str) -> bool {
    word.eq_ignore_ascii_case("miss")
}

fn number(row: &Row, column: usize, problems: &mut Problems) -> Option<f64> {
    let Cell { text, span } = filled(row, column, problems)?;
    let mut bytes = text.bytes();
    let plain = bytes.all(|byte| byte.is_ascii_digit() || matches!(byte, b'-' | b'+' | b'.'));
    let value = text.parse::<f64>().ok().filter(|_| plain);
    let (fault, message) = match value {
        Some(value) if value.abs() <= FARTHEST => return Some(value),
        Some(_) => (
            Fault::OutOfRange,
            format!("{text} mm is further from the centre than any dart that is measured"),
        ),
        None => (Fault::Notation, format!("`{text}` is not a number")),
    };
    let remedy = "write millimetres with a decimal point, such as `-12.5`, or `miss` for a dart \
                  that scored nothing";
    problems.add(Problem::new(fault, *span, message, remedy));
    None
}

fn word(row: &Row, column: usize, problems: &mut Problems) -> Option<Seen> {
    let Cell { text, span } = filled(row, column, problems)?;
    let seen = seen(text);
    if seen.is_none() {
        let message = format!("`{text}` is nothing that a dart can hit");
        let remedy = "write T20, D16, 5, outer 20, inner 20, 25, Bull or miss";
        problems.add(Problem::new(Fault::UnknownWord, *span, message, remedy));
    }
    seen
}

/// What a word says of a dart. A single without `outer` or `inner` may be either
/// of its beds.
fn seen(word: &str) -> Option<Seen> {
    let lower = word.to_ascii_lowercase();
    if matches!(lower.as_str(), "miss" | "0") {
        return Some(Seen::Nothing);
    }
    let (band, target) = match lower.split_once(' ') {
        Some(("outer", number)) => (Some(Band::OuterSingle), number),
        Some(("inner", number)) => (Some(Band::InnerSingle), number),
        _ => (None, word),
    };
    let target: Target = target.trim().parse().ok()?;
    match (target, band) {
        (Target::Single(number), Some(band)) => Some(Seen::Bed(Bed::new(band, number.sector()))),
        (_, Some(_)) => None,
        (Target::Single(_), None) => Some(Seen::Scored(target)),
        (target, None) => Some(Seen::Bed(target.main_bed())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn throws(text: &str) -> Result<Throws, InvalidFile> {
        read_throws(Source::new("throws.csv", text))
    }

    #[test]
    fn positions_and_beds_are_read() {
        let text = "# invented\nx, y\n1.5,-2\n\n0,103\nmiss,\nMiss,miss\n";
        let read = throws(text).expect("positions");
        let places = [Point::mm(1.5, -2.0), Point::mm(0.0, 103.0)].map(Landed::At);
        let landed = [places, [Landed::Missed; 2]].concat();
        let file = "throws.csv".to_owned();
        assert_eq!(read, Throws::Positions { file, landed });
        let read = throws("hit\nT20\n20\nouter 5\ninner 1\nbull\nmiss\n").expect("beds");
        let Throws::Beds { seen, .. } = read else {
            unreachable!("these are beds")
        };
        let single = Seen::Scored("S20".parse().expect("a target"));
        assert_eq!(seen.len(), 6);
        assert_eq!(seen[0], Seen::Bed(Bed::new(Band::Treble, 0)));
        assert_eq!(seen[1], single);
        assert_eq!(seen[2], Seen::Bed(Bed::new(Band::OuterSingle, 19)));
        assert_eq!(seen[3], Seen::Bed(Bed::new(Band::InnerSingle, 1)));
        assert_eq!(seen[5], Seen::Nothing);
    }

    #[test]
    fn every_bad_row_is_reported_at_its_line_and_column() {
        let invalid_file =
            throws("x,y\n1,2\n1,two\n\n# note\n1e9,3\n4\n2000,nan\n").expect_err("bad");
        let places: Vec<(usize, usize)> = invalid_file
            .diagnostics
            .iter()
            .map(|found| (found.place.from.line, found.place.from.column))
            .collect();
        assert_eq!(places, [(3, 3), (6, 1), (7, 1), (8, 1), (8, 6)]);
        let surplus = throws("x,y\n1,2,3\n1,2,\n").expect_err("a third column");
        assert_eq!(surplus.diagnostics.len(), 2);
        assert!(surplus.diagnostics[0].message.contains("`3`"));
        assert!(surplus.diagnostics[1].message.contains("3 fields"));
        let invalid_file = throws("hit\nT21\nouter T20\nT20\n").expect_err("bad");
        assert_eq!(invalid_file.diagnostics.len(), 2);
        assert_eq!(
            invalid_file.diagnostics[0].remedy,
            invalid_file.diagnostics[1].remedy
        );
    }

    #[test]
    fn a_file_without_throws_is_refused() {
        for text in [
            "",
            "x,y\n",
            "hit\n",
            "a,b\n1,2\n",
            "x,hit\n1,T20\n",
            "1,2\n",
        ] {
            let invalid_file = throws(text).expect_err(text);
            assert_eq!(invalid_file.diagnostics.len(), 1, "{text}");
            assert_eq!(
                invalid_file.diagnostics[0].remedy.as_deref(),
                Some(HEADER),
                "{text}"
            );
        }
    }
}
