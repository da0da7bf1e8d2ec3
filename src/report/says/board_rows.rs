//! The rows that every finding is written in.

use std::fmt;
use std::sync::Arc;

use unicode_width::UnicodeWidthStr;

use super::{phrases, reasons};
use crate::board::{Contribution, InputId};
use crate::conformity::{Decidable, Verdict};
use crate::document::Passage;
use crate::report::escape;
use crate::report::says::board_text::Writer;
use crate::report::style::Style;
use crate::units::Uncertainty;

impl Writer<'_, '_> {
    pub(in crate::report) fn headline(
        &mut self,
        verdict: Option<Verdict>,
        head: &str,
    ) -> fmt::Result {
        let (style, word) = match verdict {
            Some(verdict) => (Style::Verdict(verdict), verdict.to_string()),
            None => (Style::Caution, "not checked".to_owned()),
        };
        writeln!(
            self.out,
            "\n  {}  {}",
            style.paint(word),
            escape::terminal(head)
        )
    }

    /// Why neither can be said.
    pub(in crate::report) fn because(
        &mut self,
        probability: Option<f64>,
        inputs: &[InputId],
    ) -> fmt::Result {
        let decision = self.assessment.table.decision;
        let words = reasons::because(self.board, decision, probability, inputs);
        self.row("because", "", &words)
    }

    /// How well it would have to be known for a decision.
    pub(in crate::report) fn would_decide<Q: Decidable>(
        &mut self,
        value: Q,
        limits: (Option<Q>, Option<Q>),
        unit: &str,
        known: Option<Uncertainty>,
    ) -> fmt::Result {
        let rule = self.assessment.table.decision;
        let words = reasons::would_decide(rule, value, limits, unit, known);
        self.row("", "", &words)
    }

    /// Which measurement to repeat.
    pub(in crate::report) fn contributions(
        &mut self,
        contributions: &[Contribution],
    ) -> fmt::Result {
        match reasons::mostly_from(self.board, contributions) {
            Some(words) => self.row("uncertain", "", &words),
            None => Ok(()),
        }
    }

    pub(in crate::report) fn inputs(&mut self, label: &str, inputs: &[InputId]) -> fmt::Result {
        let mut label = label;
        for &id in inputs {
            if let Some(input) = self.board.construction.input(id) {
                let place = self.input_place(id);
                self.row(label, &place, &phrases::input(input))?;
                label = "";
            }
        }
        Ok(())
    }

    pub(in crate::report) fn input_place(&self, id: InputId) -> String {
        let input = self.board.construction.input(id);
        input.map_or_else(String::new, |input| {
            phrases::place(&Passage {
                document: Arc::clone(&self.board.document),
                span: input.span,
            })
        })
    }

    pub(in crate::report) fn row(&mut self, label: &str, place: &str, words: &str) -> fmt::Result {
        let place = escape::terminal(place);
        let gap = if place.is_empty() { "" } else { "  " };
        let label = format!("{label}{:1$}", "", 11_usize.saturating_sub(label.width()));
        writeln!(
            self.out,
            "      {}{}{gap}{}",
            Style::Faint.paint(label),
            Style::Faint.paint(place),
            escape::terminal(words)
        )
    }
}
