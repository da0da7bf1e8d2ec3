//! One file: every rule that is for it.

use super::waiver::waivers;
use super::{
    Check, FilePlace, Finding, Kind, Level, Levels, Malformed, Note, RelatedPlace, Rule, Settings,
    Subject, Waiver, structure,
};
use crate::document::InvalidFile;

/// What is kept of a file once it has been looked at.
#[derive(Clone, Debug, Default)]
pub struct FileFindings {
    /// The file as the user named it.
    pub file: String,
    /// What it is; `None` if it could not be read.
    pub kind: Option<Kind>,
    /// What was found in it, in the order of the file.
    pub findings: Vec<Finding>,
    /// The waivers in its comments.
    pub waivers: Vec<Waiver>,
    /// A board's id.
    pub id: Option<Identified>,
}

/// A board's id and where it stands.
#[derive(Clone, Debug)]
pub struct Identified {
    /// The id.
    pub id: String,
    /// Where.
    pub place: FilePlace,
}

/// The levels that hold for a file: the command line's, then the settings',
/// then the rules' own.
pub(super) fn level(rule: &Rule, settings: &Settings, over: &Levels) -> Level {
    over.get(rule).unwrap_or_else(|| settings.level(rule))
}

/// Looks at one file. Pure: what depends on other files or on the day is added
/// by [`super::lint`].
pub fn lint_file(subject: &Subject, settings: &Settings, over: &Levels) -> FileFindings {
    let mut findings = Vec::new();
    let mut notes = Vec::new();
    let kind = subject.kind();
    for rule in Rule::ALL {
        let Check::File(check) = rule.check else {
            continue;
        };
        let level = level(rule, settings, over);
        if level == Level::Ignore || !rule.kinds.contains(&kind) {
            continue;
        }
        check(subject, &mut notes);
        findings.extend(
            notes
                .drain(..)
                .filter_map(|note| placed(rule, level, note, subject)),
        );
    }
    let (waivers, malformed) = subject.document().map(waivers).unwrap_or_default();
    if let Some(rule) = Rule::find("waiver-malformed") {
        let level = level(rule, settings, over);
        let notes = malformed.into_iter().map(Malformed::into_note);
        let notes = notes.filter(|_| level != Level::Ignore);
        findings.extend(notes.filter_map(|note| placed(rule, level, note, subject)));
    }
    findings.sort_by(|a, b| (a.place.span, a.code).cmp(&(b.place.span, b.code)));
    let id = subject.board().map(|board| Identified {
        id: board.id.clone(),
        place: FilePlace::in_document(&board.document, id_span(subject)),
    });
    FileFindings {
        file: name(subject),
        kind: Some(kind),
        findings,
        waivers,
        id,
    }
}

/// The findings of a file that could not be read: one of its own, or of a file
/// that it leads to.
pub(super) fn refused(file: &str, invalid_files: &[InvalidFile]) -> FileFindings {
    FileFindings {
        file: file.to_owned(),
        findings: invalid_files.iter().flat_map(structure::findings).collect(),
        ..FileFindings::default()
    }
}

fn name(subject: &Subject) -> String {
    let source = subject.source();
    source
        .map(|source| source.name().to_owned())
        .unwrap_or_default()
}

fn id_span(subject: &Subject) -> crate::document::Span {
    let document = subject.document();
    let id = document.and_then(|document| document.root.get("board")?.get("id"));
    id.map_or_else(|| subject.key(&["board"]), |id| id.span)
}

fn placed(rule: &Rule, level: Level, note: Note, subject: &Subject) -> Option<Finding> {
    let own = |span| match (subject.document(), subject.source()) {
        (Some(document), _) => Some(FilePlace::in_document(document, span)),
        (None, Some(source)) => Some(FilePlace::in_text(source, span)),
        (None, None) => None,
    };
    let related = note
        .related
        .into_iter()
        .filter_map(|(document, span, label)| {
            let place = match document {
                Some(document) => FilePlace::in_document(&document, span),
                None => own(span)?,
            };
            Some(RelatedPlace { place, label })
        });
    let related = related.collect();
    Some(Finding {
        code: rule.code,
        level,
        place: own(note.span)?,
        message: note.message,
        remedy: note.remedy,
        related,
        waived: None,
    })
}

impl Malformed {
    fn into_note(self) -> Note {
        Note::new(self.span, self.message, self.remedy)
    }
}
