//! The rows that every finding is written in.

use std::fmt;
use std::sync::Arc;

use unicode_width::UnicodeWidthStr;

use super::board_text::Writer;
use super::style::Style;
use super::{escape, phrases};
use crate::board::{Contribution, InputId};
use crate::conformity::{Verdict, deciding_uncertainty};
use crate::table::Place;
use crate::units::Uncertainty;

/// Smallest share of a variance, in percent, that is worth naming. House rule.
const WORTH_REPEATING: f64 = 5.0;

impl Writer<'_, '_> {
    pub(super) fn headline(&mut self, verdict: Option<Verdict>, head: &str) -> fmt::Result {
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
    pub(super) fn because(&mut self, probability: Option<f64>, inputs: &[InputId]) -> fmt::Result {
        let decision = self.assessment.table.decision;
        if let Some(p) = probability {
            let chance = format!("the chance that it conforms is {:.1} %", 100.0 * p);
            return self.row("because", "", &format!("{chance}; the rule is {decision}"));
        }
        let known = inputs.iter().filter_map(|&id| {
            let input = self.board.construction.input(id)?;
            input
                .uncertainty
                .is_none()
                .then_some(input.quantity.to_string())
        });
        let known: Vec<_> = known.collect();
        let words = format!(
            "the file gives no uncertainty for {}, and the rule is {decision}",
            known.join(", ")
        );
        self.row("because", "", &words)
    }

    /// How well it would have to be known for a decision.
    pub(super) fn would_decide(
        &mut self,
        value: f64,
        limits: (Option<f64>, Option<f64>),
        unit: &str,
        known: Option<Uncertainty>,
    ) -> fmt::Result {
        let rule = self.assessment.table.decision;
        let degrees_of_freedom = known.map_or(f64::INFINITY, |u| u.degrees_of_freedom);
        let decides = deciding_uncertainty(value, limits.0, limits.1, rule, degrees_of_freedom);
        let words = match decides {
            Some(standard) => {
                let coverage = Uncertainty {
                    standard,
                    degrees_of_freedom,
                }
                .expanded();
                format!(
                    "an uncertainty of ± {:.3} {unit} (k = {}) would decide",
                    coverage.expanded,
                    phrases::factor(coverage)
                )
            }
            None => "the value lies on its limit: no uncertainty would decide".to_owned(),
        };
        self.row("", "", &words)
    }

    /// Which measurement to repeat.
    pub(super) fn contributions(&mut self, contributions: &[Contribution]) -> fmt::Result {
        let mut words = Vec::new();
        for contribution in contributions.iter().take(3) {
            if contribution.share.value() >= WORTH_REPEATING
                && let Some(input) = self.board.construction.input(contribution.input)
            {
                words.push(format!("{} {:.0}", input.quantity, contribution.share));
            }
        }
        if words.is_empty() {
            return Ok(());
        }
        self.row(
            "uncertain",
            "",
            &format!("mostly from {}", words.join(", ")),
        )
    }

    pub(super) fn inputs(&mut self, label: &str, inputs: &[InputId]) -> fmt::Result {
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

    pub(super) fn input_place(&self, id: InputId) -> String {
        let input = self.board.construction.input(id);
        input.map_or_else(String::new, |input| {
            phrases::place(&Place {
                document: Arc::clone(&self.board.document),
                span: input.span,
            })
        })
    }

    pub(super) fn row(&mut self, label: &str, place: &str, words: &str) -> fmt::Result {
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
