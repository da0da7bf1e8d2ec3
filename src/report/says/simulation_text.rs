//! Monte Carlo against first order.

use std::fmt;

use super::board_rows::Writer;
use crate::conformity::{Assessment, BandOutcome, Drawn, Outcome, Simulation};
use crate::report::says::phrases;
use crate::report::style::Style;
use crate::units::Uncertainty;

/// Columns of the figures, and of a name where there is room for it.
const FIGURES: usize = 41;
const NAME: usize = 51;

impl Writer<'_, '_> {
    /// What the draws came to, each with its first-order uncertainty.
    pub(in crate::report) fn simulation(
        &mut self,
        assessment: &Assessment<'_>,
        simulation: &Simulation,
    ) -> fmt::Result {
        let head = format!("{:>11}{:>10}{:>20}", "first order", "by draws", "interval");
        self.drawn_row("quantity", &head, Some(Style::Faint))?;
        let construction = &*assessment.construction;
        for finding in &assessment.bands {
            if let BandOutcome::Compared(compared) = &finding.outcome {
                let band = finding.band;
                let drawn = simulation.deviations[band];
                let name = format!("{band} area deviation, %");
                self.drawn(&name, compared.uncertainty, drawn, 2)?;
                let u = compared.free.metal_uncertainty(construction);
                let u = u.map(|u| Uncertainty::finite(u.value()));
                let name = format!("{band} metal share, %");
                self.drawn(&name, u, simulation.metal_shares[band], 2)?;
            }
        }
        for (finding, &drawn) in assessment.limits.iter().zip(&simulation.lengths) {
            if let Outcome::Length(length) = &finding.outcome {
                let name = format!("{}, mm", phrases::subject(finding));
                self.drawn(&name, length.uncertainty, drawn, 3)?;
            }
        }
        Ok(())
    }

    fn drawn(
        &mut self,
        name: &str,
        first_order: Option<Uncertainty>,
        drawn: Option<Drawn>,
        decimals: usize,
    ) -> fmt::Result {
        let (Some(u), Some(drawn)) = (first_order, drawn) else {
            return Ok(());
        };
        let (low, high) = drawn.interval;
        // Student's t on two degrees of freedom or fewer has no variance that
        // draws could settle on; its interval is sound.
        let by_draws = drawn.standard_uncertainty;
        let by_draws = by_draws.map(|u| format!("{u:.*}", decimals + 1));
        let by_draws = by_draws.unwrap_or_else(|| "–".to_owned());
        let figures = format!(
            "{:>11.*}{by_draws:>10}{:>20}",
            decimals + 1,
            u.standard(),
            format!("{low:.decimals$} to {high:.decimals$}")
        );
        self.drawn_row(name, &figures, None)
    }

    /// Figures beside their name, or below it where lines are short.
    fn drawn_row(&mut self, name: &str, figures: &str, style: Option<Style>) -> fmt::Result {
        let wide = self.columns >= 4 + NAME + FIGURES;
        let row = if wide {
            format!("    {name:<NAME$}{figures}")
        } else {
            format!("    {name}\n        {figures}")
        };
        match style {
            Some(style) => writeln!(self.out, "{}", style.paint(row)),
            None => writeln!(self.out, "{row}"),
        }
    }
}
