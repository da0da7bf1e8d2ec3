//! Monte Carlo beside first order.

use std::fmt::{self, Write};

use crate::conformity::{Assessment, BandOutcome, Drawn, Outcome, Simulation};
use crate::report::says::phrases;
use crate::report::style::Style;
use crate::units::Uncertainty;

/// Writes what the draws came to, each beside its first-order uncertainty.
pub(in crate::report) fn write_simulation(
    out: &mut dyn Write,
    assessment: &Assessment<'_>,
    simulation: &Simulation,
) -> fmt::Result {
    let head = format!(
        "by Monte Carlo, {} draws, seed {}; standard uncertainties u (k = 1), interval 95.45 %",
        simulation.draws, simulation.seed
    );
    writeln!(out, "\n  {}", Style::Strong.paint(head))?;
    let columns = format!(
        "    {:<52}{:>12}{:>12}{:>22}",
        "quantity", "first order", "by draws", "interval"
    );
    writeln!(out, "{}", Style::Faint.paint(columns))?;
    for finding in &assessment.bands {
        if let BandOutcome::Compared(compared) = &finding.outcome {
            let u = compared.uncertainty;
            let drawn = simulation.deviations[finding.band];
            row(
                out,
                &format!("{} area deviation, %", finding.band),
                u,
                drawn,
                2,
            )?;
            let u = compared
                .free
                .metal_uncertainty(&assessment.board.construction);
            let drawn = simulation.metal_shares[finding.band];
            let name = format!("{} metal share, %", finding.band);
            let u = u.map(|u| Uncertainty::known(u.value()));
            row(out, &name, u, drawn, 2)?;
        }
    }
    for (finding, &drawn) in assessment.limits.iter().zip(&simulation.lengths) {
        if let Outcome::Length(length) = &finding.outcome {
            let u = length.uncertainty;
            let name = format!("{}, mm", phrases::subject(finding));
            row(out, &name, u, drawn, 3)?;
        }
    }
    Ok(())
}

fn row(
    out: &mut dyn Write,
    name: &str,
    first_order: Option<Uncertainty>,
    drawn: Option<Drawn>,
    decimals: usize,
) -> fmt::Result {
    let (Some(u), Some(drawn)) = (first_order, drawn) else {
        return Ok(());
    };
    let (low, high) = drawn.interval;
    // Student's t on two degrees of freedom or fewer has no variance that draws
    // could settle on; its interval is sound.
    let by_draws = if u.degrees_of_freedom > 2.0 {
        format!("{:.*}", decimals + 1, drawn.standard_uncertainty)
    } else {
        "–".to_owned()
    };
    writeln!(
        out,
        "    {name:<52}{:>12.*}{by_draws:>12}{:>22}",
        decimals + 1,
        u.standard,
        format!("{low:.decimals$} to {high:.decimals$}")
    )
}
