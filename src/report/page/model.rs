//! What a report holds, whatever it is written as. All text here is raw: each
//! writer escapes it for its format.

use crate::report::draw::Figure;
use crate::report::mark::Mark;

/// A part that begins on a new page: the summary of an event, or one board.
pub(in crate::report) struct Part {
    /// Unique in its report; ASCII letters, digits, `-` and `.` only, so that it
    /// can stand in a link of any format.
    pub(in crate::report) anchor: String,
    /// Its heading, and its name among the bookmarks.
    pub(in crate::report) title: String,
    /// What kind of page this is, in a line above the heading.
    pub(in crate::report) kicker: String,
    /// The right side of every page's foot: report number or board.
    pub(in crate::report) foot: String,
    pub(in crate::report) blocks: Vec<Block>,
}

pub(in crate::report) enum Block {
    /// A heading within a part.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// A list without an order.
    Points(Vec<String>),
    /// Names and values, such as who ordered an inspection.
    Facts(Vec<Fact>),
    /// The verdict on the part's subject, to be seen first.
    Verdict {
        mark: Mark,
        /// What it rests on, in a sentence.
        words: String,
    },
    Table(Table),
    Figure(Figure),
    /// What has to be signed: a line to write on beside each name.
    Signature(Vec<Fact>),
    /// Cautions and statements, set apart and never left out.
    Cautions(Vec<String>),
}

/// A name and a value. A value that nobody stated is never invented: writers
/// print "not stated", or in a signature leave a line to write on.
pub(in crate::report) struct Fact {
    pub(in crate::report) name: String,
    pub(in crate::report) value: Option<String>,
}

/// A table with a heading for each column, repeated on every page.
pub(in crate::report) struct Table {
    pub(in crate::report) caption: String,
    pub(in crate::report) columns: Vec<Column>,
    pub(in crate::report) rows: Vec<Row>,
}

pub(in crate::report) struct Column {
    pub(in crate::report) head: &'static str,
    pub(in crate::report) kind: ColumnKind,
    /// Its share of the width where a writer must choose widths itself.
    pub(in crate::report) weight: f64,
}

/// How a column is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::report) enum ColumnKind {
    /// Names the row; at the left.
    Head,
    /// Words, at the left, broken where they must be.
    Words,
    /// Figures, at the right, never broken.
    Figures,
    /// A mark and its word, at the left.
    Mark,
}

pub(in crate::report) struct Row {
    /// Names the row for programs: the limit or band that it is about.
    pub(in crate::report) key: String,
    /// The anchor of the part that says more.
    pub(in crate::report) link: Option<String>,
    /// As many as there are columns.
    pub(in crate::report) cells: Vec<Cell>,
}

pub(in crate::report) enum Cell {
    Text(String),
    Mark(Mark),
}
