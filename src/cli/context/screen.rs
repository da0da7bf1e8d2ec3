//! The two streams. Only this file writes to them.

use std::io::{self, ErrorKind, IsTerminal, Write};

use anstream::{AutoStream, ColorChoice};
use clap::ValueEnum;
use indicatif::{ProgressBar, ProgressStyle};
use ringrule::document::InvalidFile;
use ringrule::report::{TextLayout, escape, render_invalid_file};
use terminal_size::{Width, terminal_size_of};

use super::Ending;

/// How wide text may be: as `COLUMNS` says, or else as wide as the terminal is, within
/// what the layout allows.
pub(super) fn layout() -> TextLayout {
    let told = std::env::var("COLUMNS").ok();
    let told = told.and_then(|told| told.trim().parse().ok());
    let wide = || terminal_size_of(io::stdout()).map(|(Width(wide), _)| usize::from(wide));
    told.or_else(wide)
        .map_or_else(TextLayout::default, TextLayout::new)
}

/// A run of less than this is over before anybody looks. House rule.
const WORTH_SHOWING: usize = 50;

/// When colours are used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Colour {
    Auto,
    Always,
    Never,
}

/// Standard output for the report, standard error for everything else.
pub(super) struct Screen {
    choice: Colour,
    quiet: bool,
    out: AutoStream<io::Stdout>,
    err: AutoStream<io::Stderr>,
    failed: Option<io::Error>,
}

impl Screen {
    pub(super) fn new(choice: Colour, quiet: bool) -> Self {
        let explicit = match choice {
            Colour::Auto => ColorChoice::Auto,
            Colour::Always => ColorChoice::Always,
            Colour::Never => ColorChoice::Never,
        };
        Self {
            choice,
            quiet,
            out: AutoStream::new(io::stdout(), explicit),
            err: AutoStream::new(io::stderr(), explicit),
            failed: None,
        }
    }

    /// Part of the report.
    pub(super) fn report(&mut self, text: &str) {
        if self.failed.is_none() {
            self.failed = self.out.write_all(text.as_bytes()).err();
        }
    }

    /// Whether a part of the report could not be written.
    pub(super) const fn has_failed(&self) -> bool {
        self.failed.is_some()
    }

    /// A result that need not be text. On a terminal nothing in it moves the cursor.
    pub(super) fn bytes(&mut self, bytes: &[u8]) {
        let mut out = io::stdout();
        if out.is_terminal() {
            let text = escape::lines(&String::from_utf8_lossy(bytes));
            return self.report(&text);
        }
        if self.failed.is_none() {
            self.failed = out.write_all(bytes).and_then(|()| out.flush()).err();
        }
    }

    /// Findings beside a result that has standard output for itself.
    pub(super) fn aside(&mut self, text: &str) {
        let _ = self.err.write_all(text.as_bytes());
    }

    /// A line for the person at the terminal, unless no notes are wanted.
    pub(super) fn note(&mut self, text: &str) {
        if !self.quiet {
            self.complain(text);
        }
    }

    /// Why a run failed.
    pub(super) fn complain(&mut self, text: &str) {
        // Nothing is left to tell it to if this fails.
        let _ = writeln!(self.err, "{}", escape::terminal(text));
    }

    /// A file that cannot be used.
    pub(super) fn invalid_file(&mut self, invalid_file: &InvalidFile) {
        let colour = match self.choice {
            Colour::Always => true,
            Colour::Never => false,
            Colour::Auto => {
                AutoStream::choice(&io::stderr()) != ColorChoice::Never
                    && io::stderr().is_terminal()
            }
        };
        let text = render_invalid_file(invalid_file, layout().coloured(colour));
        let _ = self.err.write_all(text.as_bytes());
    }

    /// Flushes, and turns a failed write into an ending. A reader that closed
    /// the pipe had enough and is no failure.
    pub(super) fn finish(mut self, ending: Ending) -> Ending {
        let failed = self.failed.take().or_else(|| self.out.flush().err());
        match failed {
            None => ending,
            Some(error) if error.kind() == ErrorKind::BrokenPipe => ending,
            Some(error) => {
                self.complain(&format!(
                    "ringrule: the report could not be written: {error}"
                ));
                Ending::Unusable
            }
        }
    }
}

/// Progress over so many boards for who watches; nothing where nobody does.
pub(super) fn progress(boards: usize) -> ProgressBar {
    if boards < WORTH_SHOWING || !io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(u64::try_from(boards).unwrap_or(u64::MAX));
    let style = ProgressStyle::with_template("{pos} of {len} boards  {wide_bar}  {eta} to go");
    bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    bar
}
