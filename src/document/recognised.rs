//! What a file is that was given in place of another kind: the remedy must be
//! right for the file at hand.

use std::sync::Arc;

use super::sniff::{head, points_format, sheet_format};
use super::{Fault, FileKind, InvalidFile, Problem, Source, Span};

/// A file of a known kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Recognised {
    /// One of those that people write.
    Ours(FileKind),
    /// Where darts landed.
    Throws,
    /// What the program printed for other programs.
    Output,
    /// A spreadsheet's own file.
    Workbook,
    /// A page, a picture or a compressed file: what it is.
    Other(&'static str),
}

impl Recognised {
    /// By the first bytes, as far as these are no text.
    pub(super) fn of_bytes(bytes: &[u8]) -> Option<Self> {
        // A zip file names its parts: those of a workbook are in `xl/`, and an
        // open document begins with its media type.
        let holds = |part: &str| bytes.windows(part.len()).any(|w| w == part.as_bytes());
        let starts: [(&[u8], Self); 5] = [
            (b"\xd0\xcf\x11\xe0", Self::Workbook),
            (b"%PDF-", Self::Other("a PDF")),
            (b"\x89PNG", Self::Other("a picture")),
            (b"\xff\xd8\xff", Self::Other("a picture")),
            (b"\x1f\x8b", Self::Other("a compressed file")),
        ];
        if bytes.starts_with(b"PK\x03\x04") {
            return Some(if holds("xl/") || holds("opendocument.spreadsheet") {
                Self::Workbook
            } else {
                Self::Other("a compressed file")
            });
        }
        let mut starts = starts.into_iter();
        let known = starts.find_map(|(start, kind)| bytes.starts_with(start).then_some(kind));
        // Text in two bytes a letter has zeros too, and says so first.
        let two_bytes = bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff");
        let text = two_bytes || std::str::from_utf8(bytes).is_ok() || !bytes.contains(&0);
        known.or_else(|| (!text).then_some(Self::Other("a binary file")))
    }

    /// The middle word of a format line `ringrule/…/…`, known or not.
    pub(super) fn family(text: &str) -> Option<&str> {
        // Only above the first line of prose: a guide may quote such a line.
        let structure = |line: &&str| {
            line.is_empty()
                || line.contains(':')
                || line.starts_with(['#', ' ', '-', '{', '\u{feff}'])
        };
        text.lines().take_while(structure).find_map(|line| {
            let line = line.trim_start_matches(['{', '"', ' ', '\u{feff}']);
            let value = line.strip_prefix("format")?.trim_start_matches(['"', ' ']);
            let value = value
                .strip_prefix(':')?
                .trim_start_matches(['"', '\'', ' ']);
            Some(value.strip_prefix("ringrule/")?.split_once('/')?.0)
        })
    }

    /// By its format line, or by the head row of a CSV file.
    pub(crate) fn of_text(text: &str) -> Option<Self> {
        if let Some(family) = Self::family(text) {
            let mut kinds = FileKind::ALL.into_iter();
            return match kinds.find(|kind| kind.family() == Some(family)) {
                Some(kind) => Some(Self::Ours(kind)),
                None => ["findings", "lint", "report", "comparison"]
                    .contains(&family)
                    .then_some(Self::Output),
            };
        }
        if sheet_format(text).is_some() {
            return Some(Self::Ours(FileKind::Sheet));
        }
        if points_format(text).is_some() {
            return Some(Self::Ours(FileKind::Points));
        }
        let cells = head(text)?.split([',', ';', '\t']);
        let cells: Vec<String> = cells.map(|cell| cell.trim().to_lowercase()).collect();
        let has = |name: &str| cells.iter().any(|cell| cell == name);
        (has("x") && has("y") || has("hit")).then_some(Self::Throws)
    }

    /// A text that is wanted as this kind of file, where it is of another one.
    pub(crate) fn instead_of(wanted: Self, source: &Source) -> Option<InvalidFile> {
        let other = Self::of_text(source.text()).filter(|&other| other != wanted)?;
        let message = format!("this is {}, not {}", other.phrase(), wanted.phrase());
        Some(other.invalid(source.name(), &message))
    }

    /// The same where it is not known what was wanted. Of a file of another
    /// kind nothing is shown: none of its lines is at fault.
    pub(super) fn invalid(self, name: &str, message: &str) -> InvalidFile {
        let fault = match self {
            Self::Workbook | Self::Other(_) => Fault::Unreadable,
            _ => Fault::WrongFormat,
        };
        let problem = Problem::new(fault, Span::default(), message, self.remedy());
        InvalidFile::of(Arc::new(Source::new(name, "")), problem)
    }

    /// Whether it is one of our files in YAML.
    pub(crate) fn is_yaml(self) -> bool {
        matches!(self, Self::Ours(kind) if kind.format().is_some())
    }

    /// What it is, in a sentence.
    pub(super) const fn phrase(self) -> &'static str {
        match self {
            Self::Ours(kind) => kind.phrase(),
            Self::Throws => "a file of throws",
            Self::Output => "a result that Ringrule printed",
            Self::Workbook => "a spreadsheet's workbook",
            Self::Other(what) => what,
        }
    }

    /// What reads it.
    pub(super) const fn remedy(self) -> &'static str {
        match self {
            Self::Ours(FileKind::Board) => {
                "`ringrule validate`, `report`, `draw`, `compare` and `lint` take board files"
            }
            Self::Ours(FileKind::Table) => "give it with `--table`",
            Self::Ours(FileKind::Event) => "give it to `ringrule report` with `--event`",
            Self::Ours(FileKind::Sheet) => {
                "make a board file of it and of other people's sheets with `ringrule pool`"
            }
            Self::Ours(FileKind::Points) => "make a board file of it with `ringrule digitise`",
            Self::Ours(FileKind::Settings) => {
                "settings named `ringrule.yaml` are found in the folder of the boards or above; give \
                 others to `ringrule lint` with `--settings`"
            }
            Self::Throws => "give it to `ringrule compare` with `--throws`",
            Self::Output => "give the files that it was made from",
            Self::Workbook => {
                "`ringrule intake` makes board files of a workbook with a row a board; save another sheet as \
                 CSV in the spreadsheet program, and give that file"
            }
            Self::Other(_) => {
                "give a text file: board files and tables are YAML, sheets and throws are CSV"
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_known_by_what_they_begin_with() {
        let text = Recognised::of_text;
        let event = "# A comment.\nformat: ringrule/event/1\n";
        assert_eq!(text(event), Some(Recognised::Ours(FileKind::Event)));
        let quoted = "format: 'ringrule/board/2'\n";
        assert_eq!(text(quoted), Some(Recognised::Ours(FileKind::Board)));
        let json = "{\n  \"format\": \"ringrule/findings/1\",\n";
        assert_eq!(text(json), Some(Recognised::Output));
        assert_eq!(
            text("{\"format\":\"ringrule/lint/1\""),
            Some(Recognised::Output)
        );
        assert_eq!(text("x;y\n1;2\n"), Some(Recognised::Throws));
        assert_eq!(text("board: { id: A-1 }\n"), None);
        let guide = "# Guide\n\nWrite:\n\nas in\n\nformat: ringrule/board/1\n";
        assert_eq!(text(guide), None);
        assert_eq!(text(""), None);
        let bytes = Recognised::of_bytes;
        assert_eq!(
            bytes(b"PK\x03\x04..xl/workbook.xml"),
            Some(Recognised::Workbook)
        );
        assert_eq!(
            bytes(b"PK\x03\x04.."),
            Some(Recognised::Other("a compressed file"))
        );
        assert_eq!(bytes(b"%PDF-1.7"), Some(Recognised::Other("a PDF")));
        assert_eq!(bytes(b"item,edge"), None);
        assert_eq!(bytes(b"\xff\xfei\0"), None);
        assert_eq!(
            bytes(b"\x7fELF\0\xff"),
            Some(Recognised::Other("a binary file"))
        );
    }
}
