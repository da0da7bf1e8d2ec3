//! One file: every rule that is for it.

use jiff::civil::Date;

use super::waiver::waivers;
use super::{
    Content, Finding, Flagged, Levels, Malformed, Rule, RuleLevel, Scope, Settings, Subject, Waiver,
};
use crate::document::{Diagnostic, FileKind, InvalidFile, Level, Place, Span};

/// What is kept of a file once it has been looked at.
#[derive(Clone, Debug, Default)]
pub struct FileFindings {
    /// The file as the user named it.
    pub file: String,
    /// What it is; `None` if it could not be read.
    pub kind: Option<FileKind>,
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
    pub place: Place,
    /// The day of the inspection, if the file says: several inspections of one
    /// board have several files.
    pub inspected: Option<Date>,
}

/// The level that holds for a rule in a file: the command line's, then the
/// settings', then the rule's own; `None` if it is not looked for.
pub(super) fn level(rule: &Rule, settings: &Settings, over: &Levels) -> Option<Level> {
    let chosen = over.get(rule);
    chosen.map_or_else(|| settings.level(rule), RuleLevel::level)
}

/// Looks at one file. Pure: what depends on other files or on the day is added
/// by [`super::lint`].
pub fn lint_file(subject: &Subject, settings: &Settings, over: &Levels) -> FileFindings {
    let mut findings = Vec::new();
    let mut flagged = Vec::new();
    let kind = subject.kind();
    for rule in Rule::ALL {
        let Some(level) = level(rule, settings, over).filter(|_| rule.kinds.contains(&kind)) else {
            continue;
        };
        match (rule.scope, &subject.content) {
            (Scope::File(check), _) => check(subject, &mut flagged),
            (Scope::Board(check), Content::Board(board)) => check(board, subject, &mut flagged),
            (Scope::Table(check), Content::Table(table, _)) => check(table, subject, &mut flagged),
            _ => {}
        }
        findings.extend(
            flagged
                .drain(..)
                .filter_map(|flagged| placed(rule, level, flagged, subject)),
        );
    }
    let (waivers, malformed) = subject.document().map(waivers).unwrap_or_default();
    let rule = Rule::find("waiver-malformed");
    if let Some((rule, level)) = rule.and_then(|rule| Some((rule, level(rule, settings, over)?))) {
        let flagged = malformed.into_iter().map(Malformed::into_flagged);
        findings.extend(flagged.filter_map(|flagged| placed(rule, level, flagged, subject)));
    }
    sort(&mut findings);
    let id = subject.board().map(|board| Identified {
        id: board.id.clone(),
        place: Place::in_document(&board.document, id_span(subject)),
        inspected: board.inspection.as_ref().and_then(|own| own.date),
    });
    FileFindings {
        file: name(subject),
        kind: Some(kind),
        findings,
        waivers,
        id,
    }
}

/// Puts findings in the order of the file.
pub(super) fn sort(findings: &mut [Finding]) {
    findings.sort_by(|a, b| {
        let (a, b) = (&a.diagnostic, &b.diagnostic);
        (a.place.span, &a.code).cmp(&(b.place.span, &b.code))
    });
}

/// The findings of a file that could not be read: one of its own, or of a file
/// that it leads to. Faults of structure always count and cannot be waived: of
/// a file that cannot be read nothing else can be said.
pub(super) fn invalid(file: &str, invalid_files: &[InvalidFile]) -> FileFindings {
    FileFindings {
        file: file.to_owned(),
        findings: invalid_files.iter().flat_map(faults).collect(),
        ..FileFindings::default()
    }
}

fn faults(invalid_file: &InvalidFile) -> Vec<Finding> {
    let mut diagnostics = invalid_file.diagnostics.clone();
    if let (Some(last), more @ 1..) = (diagnostics.last_mut(), invalid_file.unlisted) {
        last.message
            .push_str(&format!(" (and {more} more problems are not listed)"));
    }
    diagnostics.into_iter().map(Finding::from).collect()
}

fn name(subject: &Subject) -> String {
    let source = subject.source();
    source
        .map(|source| source.name().to_owned())
        .unwrap_or_default()
}

fn id_span(subject: &Subject) -> Span {
    let document = subject.document();
    let id = document.and_then(|document| document.root.get("board")?.get("id"));
    id.map_or_else(|| subject.key(&["board"]), |id| id.span)
}

fn placed(rule: &Rule, level: Level, flagged: Flagged, subject: &Subject) -> Option<Finding> {
    let own = |span| match (subject.document(), subject.source()) {
        (Some(document), _) => Some(Place::in_document(document, span)),
        (None, Some(source)) => Some(Place::in_text(source, span)),
        (None, None) => None,
    };
    let found = Diagnostic::new(rule.code, level, own(flagged.span)?, flagged.message);
    let related = flagged.related.into_iter();
    let found = related.fold(found, |found, (document, span, label)| {
        let place = match document {
            Some(document) => Some(Place::in_document(&document, span)),
            None => own(span),
        };
        match place {
            Some(place) => found.and(place, label),
            None => found,
        }
    });
    Some(found.with_remedy(flagged.remedy).into())
}

impl Malformed {
    fn into_flagged(self) -> Flagged {
        Flagged::new(self.span, self.fault.to_string(), self.fault.remedy())
    }
}
