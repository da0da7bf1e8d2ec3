//! The two streams. Only this file writes to them.

use std::io::{self, ErrorKind, IsTerminal, Write};
use std::sync::OnceLock;

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
    static LAYOUT: OnceLock<TextLayout> = OnceLock::new();
    *LAYOUT.get_or_init(found_layout)
}

fn found_layout() -> TextLayout {
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
    /// Whether standard output is a terminal.
    is_watched: bool,
    /// Parts of the report that wait for more, so that they are written together.
    waiting: String,
}

/// So many bytes are written together. House rule: what a pipe holds on most systems.
const TOGETHER: usize = 64 * 1024;

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
            is_watched: io::stdout().is_terminal(),
            waiting: String::new(),
        }
    }

    /// Part of the report.
    pub(super) fn report(&mut self, text: &str) {
        self.waiting.push_str(text);
        if self.waiting.len() >= TOGETHER || self.is_watched {
            self.write_out();
        }
    }

    /// Writes what waits: before anything goes elsewhere, so that all stays in order, and
    /// where a reader waits for it.
    pub(super) fn write_out(&mut self) {
        let text = std::mem::take(&mut self.waiting);
        if self.failed.is_none() && !text.is_empty() {
            let written = self.out.write_all(text.as_bytes());
            self.failed = written.and_then(|()| self.out.flush()).err();
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
        self.write_out();
        if self.failed.is_none() {
            self.failed = out.write_all(bytes).and_then(|()| out.flush()).err();
        }
    }

    /// Findings beside a result that has standard output for itself.
    pub(super) fn aside(&mut self, text: &str) {
        self.write_out();
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
        self.write_out();
        // Nothing is left to tell it to if this fails.
        let _ = writeln!(self.err, "{}", escape::terminal(text));
    }

    /// A file that cannot be used.
    pub(super) fn invalid_file(&mut self, invalid_file: &InvalidFile) {
        self.write_out();
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
        self.write_out();
        let failed = self.failed.take();
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
