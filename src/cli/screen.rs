//! The two streams. Only this file writes to them.

use std::io::{self, ErrorKind, IsTerminal, Write};
use std::path::PathBuf;

use anstream::{AutoStream, ColorChoice};
use ringrule::document::InvalidFile;
use ringrule::report::{escape, render_invalid_file};

use super::output::Output;
use super::{Colour, Ending};

/// Columns of a diagnostic when the terminal does not say how wide it is.
pub(crate) const DIAGNOSTIC_WIDTH: usize = 100;

/// Standard output for the report, standard error for everything else.
pub(crate) struct Screen {
    choice: Colour,
    out: AutoStream<io::Stdout>,
    err: AutoStream<io::Stderr>,
    failed: Option<io::Error>,
}

impl Screen {
    pub(crate) fn new(choice: Colour) -> Self {
        let explicit = match choice {
            Colour::Auto => ColorChoice::Auto,
            Colour::Always => ColorChoice::Always,
            Colour::Never => ColorChoice::Never,
        };
        Self {
            choice,
            out: AutoStream::new(io::stdout(), explicit),
            err: AutoStream::new(io::stderr(), explicit),
            failed: None,
        }
    }

    /// Part of the report.
    pub(crate) fn report(&mut self, text: &str) {
        if self.failed.is_none() {
            self.failed = self.out.write_all(text.as_bytes()).err();
        }
    }

    /// The result of a command: to the file that was asked for, whole or not at
    /// all, or to standard output.
    pub(crate) fn deliver(
        &mut self,
        output: &Output,
        text: &str,
        inputs: &[PathBuf],
        good: Ending,
    ) -> Ending {
        let Some(path) = &output.output else {
            self.report(text);
            return good;
        };
        match output.write(path, text.as_bytes(), inputs) {
            Ok(path) => {
                self.note(&format!("written: {}", path.display()));
                good
            }
            Err(why) => {
                self.note(&why);
                Ending::Unusable
            }
        }
    }

    /// Findings beside a result that has standard output for itself.
    pub(crate) fn aside(&mut self, text: &str) {
        let _ = self.err.write_all(text.as_bytes());
    }

    /// A line for the person at the terminal.
    pub(crate) fn note(&mut self, text: &str) {
        // Nothing is left to tell it to if this fails.
        let _ = writeln!(self.err, "{}", escape::terminal(text));
    }

    /// A file that cannot be used.
    pub(crate) fn invalid_file(&mut self, invalid_file: &InvalidFile) {
        let colour = match self.choice {
            Colour::Always => true,
            Colour::Never => false,
            Colour::Auto => {
                AutoStream::choice(&io::stderr()) != ColorChoice::Never
                    && io::stderr().is_terminal()
            }
        };
        let text = render_invalid_file(invalid_file, colour, DIAGNOSTIC_WIDTH);
        let _ = self.err.write_all(text.as_bytes());
    }

    /// Flushes, and turns a failed write into an ending. A reader that closed
    /// the pipe had enough and is no failure.
    pub(crate) fn finish(mut self, ending: Ending) -> Ending {
        let failed = self.failed.take().or_else(|| self.out.flush().err());
        match failed {
            None => ending,
            Some(error) if error.kind() == ErrorKind::BrokenPipe => ending,
            Some(error) => {
                self.note(&format!(
                    "ringrule: the report could not be written: {error}"
                ));
                Ending::Unusable
            }
        }
    }
}
