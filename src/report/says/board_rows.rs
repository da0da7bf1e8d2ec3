//! The rows that findings on a board are written in: a label, a place, words.

use std::fmt::{self, Display, Write};

use unicode_width::UnicodeWidthStr;

use super::people;
use super::reasons::Grounds;
use crate::board::{Board, InputId};
use crate::conformity::{Decidable, Verdict};
use crate::document::Passage;
use crate::report::escape;
use crate::report::fit;
use crate::report::style::Style;
use crate::table::Decision;

/// Columns before a label, and before what it is a label of.
const LABEL: usize = 6;
const WORDS: usize = 17;

pub(in crate::report) struct Writer<'w, 'a> {
    pub(in crate::report) out: &'w mut dyn Write,
    pub(in crate::report) board: &'a Board,
    pub(in crate::report) decision: Decision,
    /// How wide lines may be.
    pub(in crate::report) columns: usize,
    /// Whether also what conforms is written out.
    pub(in crate::report) everything: bool,
}

impl Writer<'_, '_> {
    /// Words behind something that is `columns` wide; further lines begin below
    /// the first word.
    pub(in crate::report) fn hang(
        &mut self,
        before: impl Display,
        columns: usize,
        style: Option<Style>,
        words: &str,
    ) -> fmt::Result {
        write!(self.out, "{before}")?;
        let room = self.columns.saturating_sub(columns);
        for (index, line) in fit::lines(words, room).iter().enumerate() {
            if index > 0 {
                write!(self.out, "\n{:columns$}", "")?;
            }
            match style {
                Some(style) => write!(self.out, "{}", style.paint(line))?,
                None => write!(self.out, "{line}")?,
            }
        }
        writeln!(self.out)
    }

    /// A verdict and what it is on, after a blank line.
    pub(in crate::report) fn headline(
        &mut self,
        verdict: Option<Verdict>,
        head: &str,
    ) -> fmt::Result {
        let (style, word) = match verdict {
            Some(verdict) => (Style::Verdict(verdict), verdict.to_string()),
            None => (Style::Caution, "not checked".to_owned()),
        };
        let columns = word.width() + 4;
        let before = format!("\n  {}  ", style.paint(word));
        self.hang(before, columns, None, head)
    }

    pub(in crate::report) fn row(&mut self, label: &str, place: &str, words: &str) -> fmt::Result {
        let fill = WORDS - LABEL;
        let label = format!(
            "{:LABEL$}{}",
            "",
            Style::Faint.paint(format!("{label:fill$}"))
        );
        if place.is_empty() {
            return self.hang(label, WORDS, None, words);
        }
        let place = escape::terminal(place);
        let columns = WORDS + place.width() + 2;
        let place = Style::Faint.paint(&place);
        // A place that is broken is no place that a terminal can open.
        if columns + words.width() <= self.columns {
            return self.hang(format!("{label}{place}  "), columns, None, words);
        }
        writeln!(self.out, "{label}{place}")?;
        self.hang(format!("{:WORDS$}", ""), WORDS, None, words)
    }

    /// Why nothing could be decided or, where everything is written out, how
    /// likely the verdict is; and which measurement to repeat.
    pub(in crate::report) fn grounds<Q: Decidable>(&mut self, of: &Grounds<'_, Q>) -> fmt::Result {
        let inconclusive = of.verdict == Verdict::Inconclusive;
        if inconclusive && !of.contradicted {
            self.row("because", "", &of.because(self.board, self.decision))?;
            self.row("", "", &of.would_decide(self.decision))?;
        }
        if let (Some(p), true, false) = (of.probability, self.everything, inconclusive) {
            self.row("conformity", "", &format!("probability {:.1} %", 100.0 * p))?;
        }
        let shown = of.uncertainty.is_some() && (inconclusive || self.everything);
        let mostly = shown.then(|| of.mostly_from(self.board));
        match mostly.flatten() {
            Some(words) => self.row("uncertain", "", &words),
            None => Ok(()),
        }
    }

    pub(in crate::report) fn inputs(&mut self, label: &str, inputs: &[InputId]) -> fmt::Result {
        let mut label = label;
        for &id in inputs {
            if let Some(input) = self.board.construction.input(id) {
                self.row(label, &self.input_place(id), &people::input(input))?;
                label = "";
            }
        }
        Ok(())
    }

    pub(in crate::report) fn input_place(&self, id: InputId) -> String {
        let input = self.board.construction.input(id);
        input.map_or_else(String::new, |input| {
            let document = self.board.document.clone();
            let span = input.span;
            Passage { document, span }.to_string()
        })
    }
}
