//! What a page holds, whatever it is written as: a report, a comparison, a
//! worksheet, a rule. All text here is raw: each writer escapes it for its format.

use std::borrow::Cow;

use crate::report::draw::Figure;
use crate::report::style::Mark;

/// A part that begins on a new page: the summary of an event, one board, or all
/// of a shorter document.
#[derive(Clone)]
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
    /// Whether it stands on one page of paper if it can: its drawings are then made as
    /// small as that needs.
    #[cfg_attr(
        not(feature = "pdf"),
        expect(dead_code, reason = "only a PDF has pages")
    )]
    pub(in crate::report) on_one_page: bool,
    /// What a list of the parts says of it, if it stands in one.
    pub(in crate::report) listed: Option<Listed>,
    pub(in crate::report) blocks: Vec<Block>,
}

/// What a list of parts says of one.
#[derive(Clone)]
pub(in crate::report) struct Listed {
    /// What it is listed under, such as a venue.
    pub(in crate::report) group: String,
    /// What came of it.
    pub(in crate::report) mark: Mark,
}

/// A line of such a list.
pub(in crate::report) struct Entry<'a> {
    pub(in crate::report) anchor: &'a str,
    pub(in crate::report) title: &'a str,
    pub(in crate::report) listed: Listed,
}

#[derive(Clone)]
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
        /// The reasons for it, in a sentence.
        words: String,
    },
    /// The answer of a whole page, to be seen first.
    Answer {
        /// In a few words.
        headline: String,
        /// What there is to add.
        words: String,
    },
    Grid(Grid),
    /// A remark on what stands before it.
    Note(String),
    Figure(Figure),
    /// A file or a piece of one, line by line as it is.
    Code {
        caption: String,
        text: String,
    },
    /// What has to be signed: a line to write on beside each name.
    Signature(Vec<Fact>),
    /// Cautions and statements, set apart and never left out.
    Cautions(Vec<String>),
}

/// A name and a value. A value that nobody stated is never invented: writers
/// print "not stated", or in a signature leave a line to write on.
#[derive(Clone)]
pub(in crate::report) struct Fact {
    pub(in crate::report) name: String,
    pub(in crate::report) value: Option<String>,
}

/// A table with a heading for each column, repeated on every page.
#[derive(Clone)]
pub(in crate::report) struct Grid {
    pub(in crate::report) caption: String,
    pub(in crate::report) columns: Vec<Column>,
    pub(in crate::report) rows: Vec<Row>,
}

#[derive(Clone)]
pub(in crate::report) struct Column {
    pub(in crate::report) head: Cow<'static, str>,
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
    /// Room to write in, framed.
    Room,
}

#[derive(Clone)]
pub(in crate::report) struct Row {
    /// Names the row for programs: the limit or band that it is about; empty where
    /// none is needed.
    pub(in crate::report) key: String,
    /// The anchor of the part that says more.
    pub(in crate::report) link: Option<String>,
    /// As many as there are columns.
    pub(in crate::report) cells: Vec<Cell>,
}

#[derive(Clone)]
pub(in crate::report) enum Cell {
    Text(String),
    Mark(Mark),
}

impl Block {
    pub(in crate::report) fn heading(words: impl Into<String>) -> Self {
        Self::Heading(words.into())
    }

    /// A heading and what stands under it, or nothing where there is nothing.
    pub(in crate::report) fn section(
        words: impl Into<String>,
        blocks: impl IntoIterator<Item = Self>,
    ) -> Vec<Self> {
        let mut section: Vec<Self> = blocks.into_iter().collect();
        if !section.is_empty() {
            section.insert(0, Self::heading(words));
        }
        section
    }

    /// A list, if there is anything to list.
    pub(in crate::report) fn points(points: Vec<String>) -> Option<Self> {
        (!points.is_empty()).then_some(Self::Points(points))
    }
}

impl Column {
    pub(in crate::report) fn new(
        head: impl Into<Cow<'static, str>>,
        kind: ColumnKind,
        weight: f64,
    ) -> Self {
        Self {
            head: head.into(),
            kind,
            weight,
        }
    }
}

impl Row {
    /// A row that programs find by its key.
    pub(in crate::report) fn keyed(key: impl Into<String>, cells: Vec<Cell>) -> Self {
        Self {
            key: key.into(),
            link: None,
            cells,
        }
    }

    /// A row of words and figures that no program looks for.
    pub(in crate::report) fn of<T: Into<String>>(cells: impl IntoIterator<Item = T>) -> Self {
        let cells = cells.into_iter();
        Self {
            key: String::new(),
            link: None,
            cells: cells.map(|cell| Cell::Text(cell.into())).collect(),
        }
    }
}

/// Whether two drawings stand side by side: both of one group, and neither as
/// wide as a page.
pub(in crate::report) fn beside(one: &Figure, other: &Figure) -> bool {
    // House rule: a board is drawn about 450 wide, a curve 720.
    one.group == other.group && one.width + other.width < 1000.0
}
