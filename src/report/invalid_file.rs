//! Why a file cannot be used, with its lines shown.

use std::fmt::Write;

use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, SourceCode};

use crate::document::{InvalidFile, Problem, Source, Span};
use crate::report::escape;

/// Renders every problem of a refused file. `colour` is whether escape
/// sequences may be used, `width` how many columns there are.
pub fn render_invalid_file(invalid_file: &InvalidFile, colour: bool, width: usize) -> String {
    let theme = if colour {
        GraphicalTheme::unicode()
    } else {
        GraphicalTheme::unicode_nocolor()
    };
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(width)
        .with_links(false);
    let text = Text {
        name: escape::terminal(invalid_file.file.name()).into_owned(),
        text: escape::same_length(invalid_file.file.text()).into_owned(),
    };
    let mut out = String::new();
    for problem in &invalid_file.problems {
        let shown = Shown {
            problem,
            message: heading(&text, &problem.message),
            source: &invalid_file.file,
            text: &text,
        };
        if handler.render_report(&mut out, &shown).is_err() {
            // A diagnostic that cannot be drawn is still said.
            let _ = writeln!(out, "{}: {}; {}", text.name, shown.message, problem.remedy);
        }
    }
    if invalid_file.unlisted > 0 {
        let _ = writeln!(
            out,
            "{}: {} more problems are not listed",
            text.name, invalid_file.unlisted
        );
    }
    out
}

/// Without lines to show, the file is named in the heading.
fn heading(text: &Text, message: &str) -> String {
    let message = escape::terminal(message);
    if text.text.is_empty() {
        format!("{}: {message}", text.name)
    } else {
        message.into_owned()
    }
}

struct Text {
    name: String,
    text: String,
}

impl SourceCode for Text {
    fn read_span<'a>(
        &'a self,
        span: &miette::SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn miette::SpanContents<'a> + 'a>, miette::MietteError> {
        let contents = self.text.read_span(span, before, after)?;
        Ok(Box::new(miette::MietteSpanContents::new_named(
            self.name.clone(),
            contents.data(),
            *contents.span(),
            contents.line(),
            contents.column(),
            contents.line_count(),
        )))
    }
}

/// A problem in the form that the renderer asks for.
struct Shown<'a> {
    problem: &'a Problem,
    message: String,
    source: &'a Source,
    text: &'a Text,
}

impl std::fmt::Debug for Shown<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.problem.fmt(f)
    }
}

impl std::fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Shown<'_> {}

impl Diagnostic for Shown<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        Some(Box::new(self.problem.fault.code()))
    }

    fn help<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        Some(Box::new(escape::terminal(&self.problem.remedy)))
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        (!self.text.text.is_empty()).then_some(self.text as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        if self.text.text.is_empty() {
            return None;
        }
        let label = |span: Span, words: String| {
            let length = span.end.saturating_sub(span.start);
            LabeledSpan::new(
                Some(words),
                span.start.min(self.source.text().len()),
                length,
            )
        };
        let own = label(self.problem.span, "here".to_owned());
        let related = self.problem.related.as_ref();
        let related =
            related.map(|(span, words)| label(*span, escape::terminal(words).into_owned()));
        Some(Box::new(std::iter::once(own).chain(related)))
    }
}
