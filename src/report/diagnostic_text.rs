//! Diagnostics for a terminal, with the lines that they are about.
//!
//! A reader's fault and a rule's finding are drawn alike, from the lines that
//! their places kept: nothing is read again, which only `cli` may do and which
//! could show another text than the one that was looked at.

use std::fmt::{self, Write};

use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, Severity, SourceCode};
use miette::{MietteError, MietteSpanContents, SourceSpan, SpanContents};
use textwrap::{WordSeparator, WordSplitter};

use crate::document::{Diagnostic, InvalidFile, Level, Place, Related};
use crate::report::escape;
use crate::report::page::TextLayout;

/// Other places that are drawn with their lines; the rest is listed. House rule:
/// a finding stays shorter than a screen.
const MOST_DRAWN: usize = 2;

/// Other places that are listed. House rule.
const MOST_LISTED: usize = 8;

/// Every problem of an invalid file. Needs the feature `cli`.
pub fn render_invalid_file(invalid_file: &InvalidFile, layout: TextLayout) -> String {
    let mut out = String::new();
    for diagnostic in &invalid_file.diagnostics {
        draw(&mut out, diagnostic, &[], layout);
    }
    if invalid_file.unlisted > 0 {
        let name = escape::terminal(invalid_file.file.name());
        // Writing into a string cannot fail.
        let _ = writeln!(
            out,
            "{name}: {} more problems are not listed",
            invalid_file.unlisted
        );
    }
    out
}

/// Draws one diagnostic; `more` are lines to put under it, such as who waived
/// it.
pub(in crate::report) fn draw(
    out: &mut String,
    diagnostic: &Diagnostic,
    more: &[String],
    layout: TextLayout,
) {
    let theme = if layout.has_colour() {
        GraphicalTheme::unicode()
    } else {
        GraphicalTheme::unicode_nocolor()
    };
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(layout.columns())
        // The name of a file stays whole, so that it can be copied.
        .with_break_words(false)
        .with_word_separator(WordSeparator::AsciiSpace)
        .with_word_splitter(WordSplitter::NoHyphenation)
        .with_links(false);
    let (drawn, listed) = related(diagnostic);
    let mut places = vec![(&diagnostic.place, "here")];
    places.extend(drawn.iter().map(|other| (&other.place, &*other.label)));
    places.retain(|(place, _)| place.excerpt().is_some());
    let shown = Shown {
        diagnostic,
        heading: heading(diagnostic),
        help: diagnostic.remedy.as_deref().map(escape::terminal),
        lines: Lines {
            name: escape::terminal(&diagnostic.place.file).into_owned(),
            kept: places.iter().filter_map(|(place, _)| kept(place)).collect(),
        },
        labels: places
            .iter()
            .enumerate()
            .filter_map(|(nth, (place, words))| label(place, words, nth, places.len()))
            .collect(),
    };
    if handler.render_report(out, &shown).is_err() {
        // A diagnostic that cannot be drawn is still said.
        line(out, diagnostic);
    }
    for other in listed.iter().take(MOST_LISTED) {
        let words = format!("{}  {}", other.place, other.label);
        let _ = writeln!(out, "  see: {}", escape::terminal(&words));
    }
    if let more @ 1.. = listed.len().saturating_sub(MOST_LISTED) {
        let _ = writeln!(out, "  see: {more} more places");
    }
    for words in more {
        let _ = writeln!(out, "  {}", escape::terminal(words));
    }
    out.push('\n');
}

/// The same in one line, for the many that nobody reads one by one.
pub(in crate::report) fn line(out: &mut String, diagnostic: &Diagnostic) {
    let Diagnostic {
        place, level, code, ..
    } = diagnostic;
    let words = format!("{place}: {level} {code}: {}", diagnostic.message);
    let _ = writeln!(out, "{}", escape::terminal(&words));
}

/// Which of the other places are drawn, and which only listed.
fn related(diagnostic: &Diagnostic) -> (Vec<&Related>, Vec<&Related>) {
    let own = |other: &&Related| {
        other.place.file == diagnostic.place.file && other.place.excerpt().is_some()
    };
    let (mut drawn, mut listed): (Vec<_>, Vec<_>) = diagnostic.related.iter().partition(own);
    listed.splice(0..0, drawn.drain(MOST_DRAWN.min(drawn.len())..));
    (drawn, listed)
}

/// Level, code and message. Without lines to show, the place comes first.
fn heading(diagnostic: &Diagnostic) -> String {
    let Diagnostic {
        place,
        level,
        code,
        message,
        ..
    } = diagnostic;
    let words = match place.excerpt() {
        Some(_) => format!("{level} {code}: {message}"),
        // Of a file that could not be read there is only the name.
        None if place.cell().is_none() && place.to == Place::start_of("").to => {
            format!("{}: {level} {code}: {message}", place.file)
        }
        None => format!("{place}: {level} {code}: {message}"),
    };
    escape::terminal(&words).into_owned()
}

/// The `nth` of some: the first is the diagnostic's own, and names the lines that are shown,
/// wherever in the file the others are.
fn label(place: &Place, words: &str, nth: usize, count: usize) -> Option<LabeledSpan> {
    let excerpt = place.excerpt()?;
    let end = place.span.end.min(excerpt.start + excerpt.text.len());
    let length = end.saturating_sub(place.span.start);
    // A single place needs no word for itself.
    let words = (count > 1).then(|| escape::terminal(words).into_owned());
    let span = SourceSpan::from(place.span.start..place.span.start + length);
    Some(match nth {
        0 => LabeledSpan::new_primary_with_span(words, span),
        _ => LabeledSpan::new_with_span(words, span),
    })
}

/// The lines of one place, safe to print.
struct Kept {
    place: SourceSpan,
    /// Where the lines begin.
    start: usize,
    text: String,
    /// Line and column of the place, counted from 0.
    at: (usize, usize),
    /// The first line, counted from 0.
    first: usize,
}

fn kept(place: &Place) -> Option<Kept> {
    let excerpt = place.excerpt()?;
    let before = excerpt
        .text
        .get(..place.span.start.saturating_sub(excerpt.start));
    let before = before.unwrap_or_default().matches('\n').count();
    let line = place.from.line.saturating_sub(1);
    Some(Kept {
        place: SourceSpan::from(place.span.start..place.span.end),
        start: excerpt.start,
        text: escape::same_length(&excerpt.text).into_owned(),
        at: (line, place.from.column.saturating_sub(1)),
        first: line.saturating_sub(before),
    })
}

struct Lines {
    name: String,
    kept: Vec<Kept>,
}

impl SourceCode for Lines {
    /// The lines around a place, or without lines around it, the place alone.
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        _after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let inside = |kept: &&Kept| {
            kept.start <= span.offset()
                && span.offset() + span.len() <= kept.start + kept.text.len()
        };
        let own = |kept: &&Kept| kept.place.offset() == span.offset();
        let holding = self.kept.iter().filter(inside);
        let kept = holding.clone().find(own).or_else(|| holding.clone().next());
        let kept = kept.ok_or(MietteError::OutOfBounds)?;
        let from = if before == 0 {
            span.offset()
        } else {
            kept.start
        };
        let text = kept.text.get(from - kept.start..).unwrap_or_default();
        let (line, column) = if before == 0 {
            kept.at
        } else {
            (kept.first, 0)
        };
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            text.as_bytes(),
            SourceSpan::from(from..from + text.len()),
            line,
            column,
            text.lines().count(),
        )))
    }
}

/// A diagnostic in the form that the renderer asks for.
struct Shown<'a> {
    diagnostic: &'a Diagnostic,
    heading: String,
    help: Option<std::borrow::Cow<'a, str>>,
    lines: Lines,
    labels: Vec<LabeledSpan>,
}

impl fmt::Debug for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.diagnostic.fmt(f)
    }
}

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.heading)
    }
}

impl std::error::Error for Shown<'_> {}

impl miette::Diagnostic for Shown<'_> {
    fn severity(&self) -> Option<Severity> {
        Some(match self.diagnostic.level {
            Level::Note => Severity::Advice,
            Level::Warning => Severity::Warning,
            Level::Error => Severity::Error,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        let help = self.help.as_ref()?;
        Some(Box::new(help))
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        (!self.labels.is_empty()).then_some(&self.lines as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        (!self.labels.is_empty()).then(|| Box::new(self.labels.iter().cloned()) as Box<_>)
    }
}
