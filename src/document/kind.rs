//! What a file is, by its own word.

use super::{Document, Recognised, Value};

words! {
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
        Board = "board" / "a board file",
        /// A tolerance table.
        Table = "table" / "a tolerance table",
        /// One person's filled sheet.
        Sheet = "sheet" / "a filled sheet",
        /// Points of a scan or a coordinate table.
        Points = "points" / "a coordinate table",
        /// The occasion of an inspection.
        Event = "event" / "an event file",
        /// What a project asks of its files.
        Settings = "settings" / "a settings file",
    }

    /// The word in reports.
    fn word;
    /// The words in a sentence.
    fn phrase;
}

impl FileKind {
    /// What its `format` line says; sheets and points have none.
    pub const fn format(self) -> Option<&'static str> {
        match self {
            Self::Board => Some("ringrule/board/1"),
            Self::Table => Some("ringrule/table/1"),
            Self::Sheet | Self::Points => None,
            Self::Event => Some("ringrule/event/1"),
            Self::Settings => Some("ringrule/settings/1"),
        }
    }

    /// Whether a text claims to be one of these: by its format line, in whatever version, or
    /// as a sheet or a coordinate table by its head row. A format of ours that nobody knows is
    /// claimed too, so that a slip in the line is told and not passed over.
    pub fn claimed(text: &str, kinds: &[Self]) -> bool {
        match Recognised::of_text(text) {
            Some(Recognised::Ours(kind)) => kinds.contains(&kind),
            Some(_) => false,
            None => Recognised::family(text).is_some(),
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
