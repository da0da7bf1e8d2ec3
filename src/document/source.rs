//! A file's name and text, and places in it.

use std::ops::Range;
use std::sync::Arc;

use sha2::{Digest, Sha256};

/// A named text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    name: Arc<str>,
    text: String,
    /// The byte at which each line starts.
    lines: Vec<usize>,
    /// Where each cell stands and what it is called, in order, of a text that was
    /// put together from the cells of a workbook.
    cells: Vec<(Span, Arc<str>)>,
    /// Whether more follows that was not read.
    cut: bool,
}

/// Bytes `start..end` of a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// A line and a column, both counted from 1, columns in code points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// Line, from 1.
    pub line: usize,
    /// Column in code points, from 1.
    pub column: usize,
}

/// The SHA-256 digest of some bytes (FIPS 180-4) in hexadecimal.
pub fn sha256(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

impl Span {
    /// Whether `other` lies within this span.
    pub const fn contains(self, other: Self) -> bool {
        self.start <= other.start && other.end <= self.end
    }

    /// The smallest span that holds both.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self {
            start: self.start.min(other.start),
            end: self.end.max(other.end),
        }
    }

    /// As a range of bytes.
    pub const fn range(self) -> Range<usize> {
        self.start..self.end
    }
}

impl Source {
    /// Names a text. The name is what diagnostics print: usually the path as
    /// the user gave it.
    pub fn new(name: impl Into<Arc<str>>, text: impl Into<String>) -> Self {
        let text = text.into();
        let bytes = text.as_bytes();
        let starts = text.bytes().enumerate().filter(|&(at, byte)| {
            byte == b'\n' || byte == b'\r' && bytes.get(at + 1) != Some(&b'\n')
        });
        let lines = std::iter::once(0)
            .chain(starts.map(|(at, _)| at + 1))
            .collect();
        Self {
            name: name.into(),
            text,
            lines,
            cells: Vec::new(),
            cut: false,
        }
    }

    /// The same text, of which more follows that was not read.
    #[must_use]
    pub(super) fn cut(self) -> Self {
        Self { cut: true, ..self }
    }

    /// Whether the file has more than was read.
    pub(super) const fn is_cut(&self) -> bool {
        self.cut
    }

    /// The same text, put together from cells: what stands in one is shown by its
    /// name, such as `Sheet1!F7`, and not by a line that nobody can look up. The
    /// cells are in the order of the text.
    #[must_use]
    pub fn with_cells(mut self, cells: Vec<(Span, Arc<str>)>) -> Self {
        self.cells = cells;
        self
    }

    /// The name of the cell in which a place begins, if the text has cells.
    pub fn cell(&self, span: Span) -> Option<Arc<str>> {
        let after = self
            .cells
            .partition_point(|(own, _)| own.start <= span.start);
        let (_, name) = self.cells.get(after.saturating_sub(1))?;
        Some(Arc::clone(name))
    }

    /// The name as given.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The same, for whoever keeps it longer than the text.
    pub fn shared_name(&self) -> Arc<str> {
        Arc::clone(&self.name)
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The SHA-256 digest of the text (FIPS 180-4) in hexadecimal: that of the
    /// file's bytes, by which a report shows what it was made from.
    pub fn sha256(&self) -> String {
        sha256(self.text.as_bytes())
    }

    /// The text at a span; empty where the span does not fit the text.
    pub fn slice(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or_default()
    }

    /// A line, counted from 1, with its end; nothing where there is no such line.
    pub fn line_span(&self, line: usize) -> Span {
        let end = self.text.len();
        let start = |index: usize| self.lines.get(index).copied().unwrap_or(end);
        Span {
            start: start(line.saturating_sub(1)),
            end: start(line),
        }
    }

    /// The last line, if the text ends within it: it may have been cut short.
    pub fn open_line(&self) -> Option<Span> {
        let end = self.text.len();
        let line = self.text.rsplit(['\n', '\r']).next()?;
        let start = end - line.len();
        (start < end).then_some(Span { start, end })
    }

    /// Line and column of a byte. A byte beyond the end is at the end.
    pub fn position(&self, byte: usize) -> Position {
        let byte = byte.min(self.text.len());
        let line = self.lines.partition_point(|&start| start <= byte);
        let start = line
            .checked_sub(1)
            .and_then(|i| self.lines.get(i))
            .copied()
            .unwrap_or(0);
        let before = self.text.get(start..byte).unwrap_or_default();
        // A byte-order mark is not a column that an editor shows.
        let column = before.chars().filter(|&c| c != '\u{feff}').count() + 1;
        Position { line, column }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digests_are_the_published_ones() {
        // FIPS 180-4's own examples, from memory; recomputed independently.
        let digest = |text: &str| Source::new("a", text).sha256();
        assert_eq!(
            digest("abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert_eq!(
            digest(""),
            "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
        );
    }

    #[test]
    fn columns_count_code_points_and_lines_count_from_one() {
        let source = Source::new("a", "ab\nößx: 1\n");
        assert_eq!(source.position(0), Position { line: 1, column: 1 });
        assert_eq!(source.position(3), Position { line: 2, column: 1 });
        assert_eq!(source.position(7), Position { line: 2, column: 3 });
        assert_eq!(source.position(999), Position { line: 3, column: 1 });
    }
}
