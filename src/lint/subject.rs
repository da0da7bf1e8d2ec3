//! One file, read as what it says it is.

use std::sync::Arc;

use super::Thresholds;
use crate::board::Board;
use crate::document::{
    CsvFormat, Document, FileKind, InvalidFile, Node, Passage, Source, Span, Value, parse,
    points_format, sheet_format,
};
use crate::event::Event;
use crate::readings::{PointTable, Sheet, digitise};
use crate::table::{Shelf, Table};

/// A file that was read, ready for the rules.
#[derive(Clone, Debug)]
pub struct Subject {
    /// What it says.
    pub content: Content,
    /// The numbers that the settings may change.
    pub thresholds: Thresholds,
}

/// What a file says.
#[derive(Clone, Debug)]
pub enum Content {
    /// A board.
    Board(Box<Board>),
    /// A table, and the one that it extends.
    Table(Box<Table>, Option<Box<Table>>),
    /// A sheet.
    Sheet(Box<Sheet>),
    /// A coordinate table: that a board can be made of it is all that is checked.
    Points(Box<PointTable>),
    /// An event, and its tree.
    Event(Box<Event>, Arc<Document>),
    /// A settings file: reading it is all that can be checked.
    Settings(Arc<Document>),
}

impl Subject {
    /// Reads a file as what its `format` line or its head row says it is; a
    /// file that says neither is taken for a board, whose reader then says
    /// what is missing.
    pub fn read(
        source: Source,
        shelf: &dyn Shelf,
        thresholds: Thresholds,
    ) -> Result<Self, Vec<InvalidFile>> {
        let content = read(source, shelf)?;
        Ok(Self {
            content,
            thresholds,
        })
    }

    /// What the file is.
    pub const fn kind(&self) -> FileKind {
        match self.content {
            Content::Board(_) => FileKind::Board,
            Content::Table(..) => FileKind::Table,
            Content::Sheet(_) => FileKind::Sheet,
            Content::Points(_) => FileKind::Points,
            Content::Event(..) => FileKind::Event,
            Content::Settings(_) => FileKind::Settings,
        }
    }

    /// The file's name and text.
    pub fn source(&self) -> Option<&Arc<Source>> {
        match &self.content {
            Content::Sheet(sheet) => Some(&sheet.source),
            Content::Points(table) => Some(&table.source),
            _ => self.document().map(|document| &document.source),
        }
    }

    /// The tree; sheets and points have none.
    pub fn document(&self) -> Option<&Arc<Document>> {
        match &self.content {
            Content::Board(board) => Some(&board.document),
            Content::Table(table, _) => table.documents.first(),
            Content::Event(_, document) | Content::Settings(document) => Some(document),
            Content::Sheet(_) | Content::Points(_) => None,
        }
    }

    /// The board, if it is one.
    pub const fn board(&self) -> Option<&Board> {
        match &self.content {
            Content::Board(board) => Some(board),
            _ => None,
        }
    }

    /// Whether a limit is written in this table's own file.
    pub(crate) fn is_own(&self, place: &Passage) -> bool {
        self.document()
            .is_some_and(|own| Arc::ptr_eq(own, &place.document))
    }

    /// Where a key stands; where it is absent, the nearest key above it, and
    /// at last the first key of the file.
    pub(crate) fn key(&self, path: &[&str]) -> Span {
        let Some(document) = self.document() else {
            return Span::default();
        };
        let mut node = &document.root;
        let mut place = match &node.value {
            Value::Map(entries) => entries.first().map(|entry| entry.key_span),
            _ => None,
        }
        .unwrap_or_default();
        for step in path {
            let Value::Map(entries) = &node.value else {
                break;
            };
            let Some(entry) = entries.iter().find(|entry| entry.key == *step) else {
                break;
            };
            place = entry.key_span;
            node = &entry.value;
        }
        place
    }
}

fn read(source: Source, shelf: &dyn Shelf) -> Result<Content, Vec<InvalidFile>> {
    let one = |invalid_file| vec![invalid_file];
    if let Some(format) = sheet_format(source.text()) {
        return read_sheet(source, format).map_err(one);
    }
    if let Some(format) = points_format(source.text()) {
        return read_points(source, format).map_err(one);
    }
    let document = parse(source).map_err(one)?;
    match FileKind::of(&document) {
        Some(FileKind::Table) => {
            let table = Table::from_document(&Arc::new(document), shelf);
            let table = table.map_err(|invalid_files| invalid_files.0)?;
            let base = table.documents.get(1);
            // The extended table was sound a moment ago.
            let base = base.and_then(|base| Table::from_document(base, shelf).ok());
            Ok(Content::Table(Box::new(table), base.map(Box::new)))
        }
        Some(FileKind::Event) => {
            let event = Event::from_document(&document).map_err(one)?;
            Ok(Content::Event(Box::new(event), Arc::new(document)))
        }
        Some(FileKind::Settings) => {
            super::Settings::from_document(&document).map_err(one)?;
            Ok(Content::Settings(Arc::new(document)))
        }
        Some(FileKind::Board | FileKind::Sheet | FileKind::Points) | None => {
            let board = Board::from_document(document).map_err(one)?;
            Ok(Content::Board(Box::new(board)))
        }
    }
}

fn read_sheet(source: Source, format: CsvFormat) -> Result<Content, InvalidFile> {
    Ok(Content::Sheet(Box::new(Sheet::read(source, format)?)))
}

fn read_points(source: Source, format: CsvFormat) -> Result<Content, InvalidFile> {
    let table = PointTable::read(source, format)?;
    digitise(&table)?;
    Ok(Content::Points(Box::new(table)))
}

/// The node at a span, where it is known to be one.
pub(crate) fn node_at(root: &Node, span: Span) -> Option<&Node> {
    if root.span == span {
        return Some(root);
    }
    let within = |node: &&Node| node.span.contains(span);
    match &root.value {
        Value::Map(entries) => {
            let mut values = entries.iter().map(|entry| &entry.value);
            node_at(values.find(within)?, span)
        }
        Value::List(items) => node_at(items.iter().find(within)?, span),
        _ => None,
    }
}
