//! What pooling several sheets came to.

use std::fmt::{self, Write};

use crate::conformity::Verdict;
use crate::readings::{Agreement, Pooled, PooledItem, PooledValue, Reading};
use crate::report::escape;
use crate::report::style::Style;

/// Writes the pooled values, who agrees, and what to look at again.
pub fn write_pooled(out: &mut dyn Write, pooled: &Pooled) -> fmt::Result {
    let board = Style::Strong.paint(escape::terminal(&pooled.board).into_owned());
    let people = pooled.inspectors.join(", ");
    writeln!(out, "{board}  measured by {}", escape::terminal(&people))?;
    let head = format!(
        "    {:<23}{:<9}{:>10}{:>10}{:>7}   {}",
        "item", "edge", "value mm", "± U mm", "k", "agreement"
    );
    writeln!(out, "\n{}", Style::Faint.paint(head))?;
    for item in &pooled.items {
        row(out, item)?;
    }
    for item in pooled.disputed() {
        disputed(out, item)?;
    }
    remarks(out, pooled)
}

fn row(out: &mut dyn Write, item: &PooledItem) -> fmt::Result {
    let edge = item.edge.map_or_else(String::new, |edge| edge.to_string());
    write!(out, "    {:<23}{edge:<9}", item.item.to_string())?;
    let (value, uncertainty, agreement, readings) = match &item.value {
        PooledValue::Gauge(size) => return writeln!(out, "{size}"),
        PooledValue::Length {
            value,
            uncertainty,
            agreement,
            readings,
            ..
        } => (value, uncertainty, agreement, readings),
    };
    write!(out, "{value:>10.3}")?;
    match uncertainty.map(crate::units::Uncertainty::expanded) {
        Some(coverage) => write!(
            out,
            "{:>10.3}{:>7.2}   ",
            coverage.expanded, coverage.factor
        )?,
        None => write!(out, "{:>10}{:>7}   ", "unknown", "")?,
    }
    match agreement {
        Some(agreement) => writeln!(out, "{}", verdict(agreement)),
        None if readings.len() == 1 => writeln!(out, "one person"),
        None => writeln!(out, "not tested"),
    }
}

fn verdict(agreement: &Agreement) -> String {
    let (style, word) = if agreement.agree() {
        (Style::Verdict(Verdict::Conforms), "agree")
    } else {
        (Style::Verdict(Verdict::DoesNotConform), "disagree")
    };
    if agreement.probability < 0.001 {
        format!("{} (p < 0.001)", style.paint(word))
    } else {
        format!("{} (p = {:.3})", style.paint(word), agreement.probability)
    }
}

fn disputed(out: &mut dyn Write, item: &PooledItem) -> fmt::Result {
    let PooledValue::Length {
        readings,
        agreement: Some(agreement),
        widened,
        ..
    } = &item.value
    else {
        return Ok(());
    };
    let word = Style::Verdict(Verdict::DoesNotConform).paint("disputed");
    writeln!(out, "\n  {word}  {}", item.item)?;
    for reading in readings {
        let name = escape::terminal(&reading.inspector);
        let u = reading
            .uncertainty
            .map_or_else(String::new, |u| format!(" ± {:.3}", u.expanded().expanded));
        let n = reading.series.readings().len();
        let plural = if n == 1 { "reading" } else { "readings" };
        writeln!(
            out,
            "      {name}: {:.3}{u} mm, {n} {plural}",
            reading.series.mean()
        )?;
    }
    writeln!(
        out,
        "      chi-square {:.2} on {:.0}, p = {:.2e}; Birge ratio {:.2}",
        agreement.chi_square,
        agreement.degrees_of_freedom,
        agreement.probability,
        agreement.birge_ratio
    )?;
    for &(i, j, e_n) in &agreement.pairs {
        let name = |index: usize| readings.get(index).map_or("", |r| r.inspector.as_str());
        let (a, b) = (escape::terminal(name(i)), escape::terminal(name(j)));
        writeln!(
            out,
            "      E_n between {a} and {b}: {e_n:.2} (beyond ±1 they disagree)"
        )?;
    }
    match widened {
        Some(factor) => writeln!(
            out,
            "      its uncertainty was widened {factor:.2} times (the Birge ratio); better: \
             measure it again together"
        ),
        None => writeln!(out, "      measure it again together, to the same edge"),
    }
}

/// Outliers, single readings and unknown uncertainties: reported, not dropped.
fn remarks(out: &mut dyn Write, pooled: &Pooled) -> fmt::Result {
    let mut lines = Vec::new();
    for item in &pooled.items {
        let PooledValue::Length { readings, .. } = &item.value else {
            continue;
        };
        for reading in readings {
            lines.extend(remark(item, reading));
        }
    }
    if lines.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n  {}", Style::Caution.paint("to look at"))?;
    for line in lines {
        writeln!(out, "      {}", escape::terminal(&line))?;
    }
    Ok(())
}

fn remark(item: &PooledItem, reading: &Reading) -> Option<String> {
    let who = format!("{}, {}", item.item, reading.inspector);
    if let Some(outlier) = reading.series.outlier() {
        return Some(format!(
            "{who}: reading {} of {} mm lies {:.1} s from the mean, more than {:.1}; it was kept",
            outlier.index + 1,
            outlier.value,
            outlier.distance,
            outlier.allowed
        ));
    }
    if reading.uncertainty.is_none() {
        return Some(format!(
            "{who}: no uncertainty can be given: one reading, or equal ones, and no instrument"
        ));
    }
    (reading.series.readings().len() == 1)
        .then(|| format!("{who}: one reading only, so no type A; the instrument's type B was used"))
}
