//! Throws that somebody wrote down: a CSV file of positions or of beds.

use std::sync::Arc;

use crate::board::Band;
use crate::document::{Fault, InvalidFile, Problem, Problems, Source, Span};
use crate::geometry::{Bed, Point};
use crate::play::{Seen, Target};

/// Further from the centre than this, in mm, nobody's dart was measured: the
/// unit must be another one. House rule.
const FARTHEST: f64 = 1000.0;

/// Throws, as they were noted.
#[derive(Clone, Debug, PartialEq)]
pub enum Throws {
    /// Where darts landed, in mm right of and above the centre.
    Positions {
        /// The file.
        file: String,
        /// The places.
        places: Vec<Point>,
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
/// `hit` (`T20`, `D16`, `5`, `big 20`, `small 20`, `25`, `Bull`, `miss`). Every
/// row that cannot be used is reported, each at its place.
pub fn read_throws(source: Source) -> Result<Throws, InvalidFile> {
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

const HEADER: &str = "begin with a line `x,y` and give millimetres right of and above the \
                      centre, or with `hit` and give one of T20, D16, 5, big 20, small 20, 25, \
                      Bull, miss a line";

fn read(source: &Source, problems: &mut Problems) -> Option<Throws> {
    let text = source.text();
    let mut rows = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let mut columns = None;
    let (mut places, mut seen) = (Vec::new(), Vec::new());
    let mut record = csv::StringRecord::new();
    loop {
        match rows.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => {
                let at = error.position().map_or(0, csv::Position::byte);
                problems.add(Problem::new(
                    Fault::Syntax,
                    line_at(text, at),
                    format!("this is no row of a CSV file: {error}"),
                    "separate columns by commas",
                ));
                break;
            }
        }
        let row = Row {
            text,
            start: record.position().map_or(0, csv::Position::byte),
            record: &record,
        };
        match columns {
            None => match header(&row, problems) {
                Some(found) => columns = Some(found),
                None => return None,
            },
            Some(Columns::Positions { x, y }) => {
                let place = (row.number(x, problems), row.number(y, problems));
                if let (Some(x), Some(y)) = place {
                    places.push(Point::new(x, y));
                }
            }
            Some(Columns::Beds { hit }) => seen.extend(row.hit(hit, problems)),
        }
    }
    let file = source.name().to_owned();
    match columns? {
        Columns::Positions { .. } if !places.is_empty() => Some(Throws::Positions { file, places }),
        Columns::Beds { .. } if !seen.is_empty() => Some(Throws::Beds { file, seen }),
        _ => None,
    }
}

fn header(row: &Row<'_>, problems: &mut Problems) -> Option<Columns> {
    let names: Vec<String> = row.record.iter().map(str::to_ascii_lowercase).collect();
    let find = |wanted: &str| names.iter().position(|name| name == wanted);
    match (find("x"), find("y"), find("hit")) {
        (Some(x), Some(y), None) => Some(Columns::Positions { x, y }),
        (None, None, Some(hit)) => Some(Columns::Beds { hit }),
        _ => {
            problems.add(Problem::new(
                Fault::WrongFormat,
                row.line(),
                "the first line does not say whether these are positions or beds",
                HEADER,
            ));
            None
        }
    }
}

/// A row, and where it stands.
struct Row<'a> {
    text: &'a str,
    start: u64,
    record: &'a csv::StringRecord,
}

impl Row<'_> {
    fn line(&self) -> Span {
        line_at(self.text, self.start)
    }

    /// Where a field stands; the whole line where quotes could hide commas.
    fn span(&self, column: usize) -> Span {
        let line = self.line();
        let text = self.text.get(line.start..line.end).unwrap_or_default();
        if text.contains('"') {
            return line;
        }
        let mut start = line.start;
        for (index, field) in text.split(',').enumerate() {
            if index == column {
                let shift = field.len() - field.trim_start().len();
                let (start, length) = (start + shift, field.trim().len());
                return Span {
                    start,
                    end: start + length,
                };
            }
            start += field.len() + 1;
        }
        line
    }

    fn field(&self, column: usize, problems: &mut Problems) -> Option<&str> {
        let field = self.record.get(column).filter(|field| !field.is_empty());
        if field.is_none() {
            let message = format!("column {} of this row is empty", column + 1);
            let remedy = "fill it in, or delete the row";
            problems.add(Problem::new(
                Fault::MissingKey,
                self.line(),
                message,
                remedy,
            ));
        }
        field
    }

    fn number(&self, column: usize, problems: &mut Problems) -> Option<f64> {
        let field = self.field(column, problems)?;
        let plain = field
            .bytes()
            .all(|byte| byte.is_ascii_digit() || matches!(byte, b'-' | b'+' | b'.'));
        let value = field.parse::<f64>().ok().filter(|_| plain);
        let (fault, message) = match value {
            Some(value) if value.abs() <= FARTHEST => return Some(value),
            Some(_) => (
                Fault::OutOfRange,
                format!("{field} mm is further from the centre than any dart that is measured"),
            ),
            None => (Fault::Notation, format!("`{field}` is not a number")),
        };
        let remedy = "write millimetres with a decimal point, such as `-12.5`";
        problems.add(Problem::new(fault, self.span(column), message, remedy));
        None
    }

    fn hit(&self, column: usize, problems: &mut Problems) -> Option<Seen> {
        let field = self.field(column, problems)?;
        match seen(field) {
            Ok(seen) => Some(seen),
            Err(message) => {
                let remedy = "write T20, D16, 5, big 20, small 20, 25, Bull or miss";
                let span = self.span(column);
                problems.add(Problem::new(Fault::UnknownWord, span, message, remedy));
                None
            }
        }
    }
}

/// What a word says of a dart. A single without `big` or `small` may be either
/// of its beds.
fn seen(word: &str) -> Result<Seen, String> {
    let lower = word.to_ascii_lowercase();
    if matches!(lower.as_str(), "miss" | "0") {
        return Ok(Seen::Nothing);
    }
    let (band, target) = match lower.split_once(' ') {
        Some(("big", number)) => (Some(Band::OuterSingle), number),
        Some(("small", number)) => (Some(Band::InnerSingle), number),
        _ => (None, word),
    };
    let target: Target = target.trim().parse().map_err(|_| unknown(word))?;
    match (target, band) {
        (Target::Single(number), Some(band)) => Ok(Seen::Bed(Bed::new(band, number.sector()))),
        (_, Some(_)) => Err(unknown(word)),
        (Target::Single(_), None) => Ok(Seen::Scored(target)),
        (target, None) => Ok(Seen::Bed(target.main_bed())),
    }
}

fn unknown(word: &str) -> String {
    format!("`{word}` is nothing that a dart can hit")
}

fn line_at(text: &str, start: u64) -> Span {
    let start = usize::try_from(start).unwrap_or(text.len()).min(text.len());
    let rest = text.get(start..).unwrap_or_default();
    // Blank lines and comments before a row count to its position.
    let mut from = start;
    for line in rest.split_inclusive('\n') {
        let bare = line.trim();
        if bare.is_empty() || bare.starts_with('#') {
            from += line.len();
            continue;
        }
        let length = line.trim_end().len();
        return Span {
            start: from,
            end: from + length,
        };
    }
    Span { start, end: start }
}

#[cfg(test)]
#[allow(clippy::expect_used)]
mod tests {
    use super::*;

    fn throws(text: &str) -> Result<Throws, InvalidFile> {
        read_throws(Source::new("throws.csv", text))
    }

    #[test]
    fn positions_and_beds_are_read() {
        let read = throws("# invented\nx, y\n1.5,-2\n\n0,103\n").expect("positions");
        let places = vec![Point::new(1.5, -2.0), Point::new(0.0, 103.0)];
        let file = "throws.csv".to_owned();
        assert_eq!(read, Throws::Positions { file, places });
        let read = throws("hit\nT20\n20\nbig 5\nsmall 1\nbull\nmiss\n").expect("beds");
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
            .problems
            .iter()
            .map(|problem| invalid_file.file.position(problem.span.start))
            .map(|position| (position.line, position.column))
            .collect();
        assert_eq!(places, [(3, 3), (6, 1), (7, 1), (8, 1), (8, 6)]);
        let invalid_file = throws("hit\nT21\nbig T20\nT20\n").expect_err("bad");
        assert_eq!(invalid_file.problems.len(), 2);
        assert_eq!(
            invalid_file.problems[0].remedy,
            invalid_file.problems[1].remedy
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
            assert_eq!(invalid_file.problems.len(), 1, "{text}");
            assert_eq!(invalid_file.problems[0].remedy, HEADER, "{text}");
        }
    }
}
