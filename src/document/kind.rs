//! What a file is, by its own word.

use super::{Document, Value};

/// The kinds of file that the program reads.
///
/// ```
/// use ringrule::document::{FileKind, Source, parse};
///
/// let text = "format: ringrule/event/1\ntitle: Winter inspection\n";
/// let document = parse(Source::new("winter.yaml", text))?;
/// assert_eq!(FileKind::of(&document), Some(FileKind::Event));
/// # Ok::<(), ringrule::document::InvalidFile>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FileKind {
    /// A board as measured.
    Board,
    /// A tolerance table.
    Table,
    /// One person's filled sheet.
    Sheet,
    /// The occasion of an inspection.
    Event,
    /// What a project asks of its files.
    Settings,
}

impl FileKind {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Board,
        Self::Table,
        Self::Sheet,
        Self::Event,
        Self::Settings,
    ];

    /// The word in reports.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Board => "board",
            Self::Table => "table",
            Self::Sheet => "sheet",
            Self::Event => "event",
            Self::Settings => "settings",
        }
    }

    /// The words in a sentence.
    pub const fn phrase(self) -> &'static str {
        match self {
            Self::Board => "a board file",
            Self::Table => "a tolerance table",
            Self::Sheet => "a filled sheet",
            Self::Event => "an event file",
            Self::Settings => "a settings file",
        }
    }

    /// What its `format` line says; a sheet has none.
    pub const fn format(self) -> Option<&'static str> {
        match self {
            Self::Board => Some("ringrule/board/1"),
            Self::Table => Some("ringrule/table/1"),
            Self::Sheet => None,
            Self::Event => Some("ringrule/event/1"),
            Self::Settings => Some("ringrule/settings/1"),
        }
    }

    /// The middle word of its format.
    pub(super) fn family(self) -> Option<&'static str> {
        self.format()?.split('/').nth(1)
    }

    /// What a parsed file says that it is, in whatever version.
    pub fn of(document: &Document) -> Option<Self> {
        let Value::Text(format) = &document.root.get("format")?.value else {
            return None;
        };
        let family = |format: &str| format.rsplit_once('/').map(|(family, _)| family.to_owned());
        let own = family(format)?;
        Self::ALL
            .into_iter()
            .find(|kind| kind.format().and_then(family).as_ref() == Some(&own))
    }
}
