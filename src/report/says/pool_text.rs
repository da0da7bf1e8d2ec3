//! What pooling several sheets came to.

use std::fmt::{self, Write};

use super::people;
use super::phrases::{count, factor, two_digits};
use crate::board::{Taken, Taking};
use crate::conformity::Verdict;
use crate::measurement::{Basis, RowAgreement};
use crate::readings::{Item, Pooled, PooledItem, PooledValue, name};
use crate::report::escape;
use crate::report::style::Style;
use crate::units::{Length, Uncertainty};

/// Writes the pooled values, who agrees, and what to look at again.
pub fn write_pooled(out: &mut dyn Write, pooled: &Pooled) -> fmt::Result {
    let board = Style::Strong.paint(escape::terminal(&pooled.board.id).into_owned());
    let people = pooled.inspectors.join(", ");
    writeln!(out, "{board}  measured by {}", escape::terminal(&people))?;
    // As wide as the longest name, which a place makes longer.
    let names = pooled.items.iter().map(|item| item.name().chars().count());
    let width = names.max().unwrap_or_default().max(22);
    let head = format!(
        "    {:<width$} {:<8}{:>10}{:>9}{:>6}{:>6}{:>8}   {}",
        "item", "edge", "value mm", "± U mm", "k", "ν", "s mm", "agreement"
    );
    writeln!(out, "\n{}", Style::Faint.paint(head))?;
    for item in &pooled.items {
        row(out, item, width)?;
    }
    if let Some(words) = repeatability(pooled) {
        writeln!(out, "\n  {}", Style::Faint.paint(words))?;
    }
    for item in pooled.disputed() {
        disputed(out, item)?;
    }
    remarks(out, pooled)
}

fn row(out: &mut dyn Write, item: &PooledItem, width: usize) -> fmt::Result {
    let edge = item.edge.map_or_else(String::new, |edge| edge.to_string());
    write!(out, "    {:<width$} {edge:<8}", item.name())?;
    let (value, uncertainty, taken) = match &item.value {
        PooledValue::Gauge(size) => return writeln!(out, "{size}"),
        PooledValue::Length {
            value,
            uncertainty,
            taken,
        } => (*value, *uncertainty, taken),
    };
    figures(out, value, uncertainty)?;
    match taken.deviation() {
        Some(s) => write!(out, "{s:>8.3}   ")?,
        None => write!(out, "{:>8}   ", "")?,
    }
    match &taken.agreement {
        Some(agreement) => writeln!(out, "{}", verdict(agreement)),
        None if taken.takings.len() == 1 => writeln!(out, "one person"),
        None => writeln!(out, "not tested"),
    }
}

/// A value, its expanded uncertainty, k and degrees of freedom.
fn figures(out: &mut dyn Write, value: Length, uncertainty: Option<Uncertainty>) -> fmt::Result {
    let Some(u) = uncertainty else {
        let value = value.as_mm();
        return write!(out, "{value:>10.3}{:>9}{:>6}{:>6}", "unknown", "", "");
    };
    let coverage = u.expanded();
    let places = two_digits(coverage.expanded);
    let degrees = u.degrees_of_freedom();
    // More than anybody can tell from infinity.
    let degrees = if degrees < 1000.0 {
        format!("{:.0}", degrees.floor())
    } else {
        "∞".to_owned()
    };
    write!(
        out,
        "{:>10.places$}{:>9.places$}{:>6}{degrees:>6}",
        value.as_mm(),
        coverage.expanded,
        factor(coverage)
    )
}

fn verdict(agreement: &RowAgreement) -> String {
    let verdict = if agreement.disputed() {
        Verdict::DoesNotConform
    } else {
        Verdict::Conforms
    };
    let word = Style::Verdict(verdict).paint(people::agree(agreement));
    format!("{word} ({})", people::p(people::shown(agreement)))
}

/// The pooled standard deviation of a single reading.
fn repeatability(pooled: &Pooled) -> Option<String> {
    let found = takings(pooled).find_map(|(_, taking)| {
        let found = taking.repeatability?;
        (found.basis == Basis::Pooled && !found.floored).then_some(found)
    })?;
    Some(format!(
        "a single reading repeats within s = {:.4} mm, pooled over all readings (ν = {:.0})",
        found.deviation, found.degrees_of_freedom
    ))
}

fn takings(pooled: &Pooled) -> impl Iterator<Item = (&PooledItem, &Taking)> {
    pooled.items.iter().flat_map(|item| {
        let takings = item.taken().map_or(&[][..], |taken| &taken.takings);
        takings.iter().map(move |taking| (item, taking))
    })
}

fn disputed(out: &mut dyn Write, item: &PooledItem) -> fmt::Result {
    let Some((taken, agreement)) = item
        .taken()
        .and_then(|taken| Some((taken, taken.agreement.as_ref()?)))
    else {
        return Ok(());
    };
    let word = Style::Verdict(Verdict::DoesNotConform).paint("disputed");
    writeln!(out, "\n  {word}  {}", item.name())?;
    for taking in &taken.takings {
        let n = taking.series.readings().len();
        let own = taking.series.deviation();
        let own = own.map_or_else(String::new, |s| format!(", s = {s:.3} mm"));
        writeln!(
            out,
            "      {}: {:.3}, {}{own}",
            escape::terminal(&taking.by),
            taking.value,
            count(n, "reading", "readings")
        )?;
    }
    writeln!(
        out,
        "      chi-square {:.2} on {:.0}, {}; corrected for the number of rows, {}",
        agreement.chi_square,
        agreement.degrees_of_freedom,
        people::p(agreement.probability),
        people::p(agreement.corrected)
    )?;
    for pair in &agreement.pairs {
        let name = |index: usize| taken.takings.get(index).map_or("", |of| of.by.as_str());
        let (a, b) = (name(pair.first), name(pair.second));
        let (a, b) = (escape::terminal(a), escape::terminal(b));
        writeln!(
            out,
            "      E_n between {a} and {b}: {:.2} (beyond ±1 the two differ)",
            pair.e_n
        )?;
    }
    if let Some(words) = people::widened(taken) {
        writeln!(out, "      {words}")?;
    }
    writeln!(out, "      measure it again together, to the same edge")
}

/// Readings that stand apart, single readings and unknown uncertainties:
/// reported, not dropped.
fn remarks(out: &mut dyn Write, pooled: &Pooled) -> fmt::Result {
    let mut lines: Vec<String> = apart(pooled);
    let mut scatter: Vec<Basis> = Vec::new();
    for (item, taking) in takings(pooled) {
        lines.extend(remark(item, taking));
        let basis = taking.repeatability.map(|found| found.basis);
        if let Some(basis @ (Basis::Person(_) | Basis::Row(_) | Basis::Cell { .. })) = basis
            && !scatter.contains(&basis)
        {
            scatter.push(basis);
            let whose = match basis {
                Basis::Person(_) => format!("{}: these readings", taking.by),
                Basis::Row(_) => format!("{}: these readings", item.name()),
                _ => format!("{}, {}: these readings", item.name(), taking.by),
            };
            let s = taking.repeatability.map_or(0.0, |found| found.deviation);
            lines.push(format!(
                "{whose} scatter more than the others (s = {s:.3} mm) and keep their own scatter"
            ));
        }
    }
    let taken = pooled.items.iter().filter_map(PooledItem::taken);
    if taken
        .filter_map(components)
        .any(|of| of.instruments_assumed)
    {
        lines.push(
            "it is not known which of the instruments are the same: what gives the larger \
             uncertainty counts"
                .to_owned(),
        );
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

const fn components(taken: &Taken) -> Option<&crate::measurement::Components> {
    taken.components.as_ref()
}

fn apart(pooled: &Pooled) -> Vec<String> {
    let apart = pooled.board.apart.iter().filter_map(|apart| {
        let input = pooled.board.construction.input(apart.input)?;
        Some(format!(
            "{}, {}: the reading of {:.3} mm lies {}; it was kept",
            name(Item(input.quantity), input.at),
            apart.by.as_deref().unwrap_or_default(),
            apart.found.value,
            people::how_far(&apart.found)
        ))
    });
    apart.collect()
}

fn remark(item: &PooledItem, taking: &Taking) -> Option<String> {
    let who = format!("{}, {}", item.name(), taking.by);
    let Some(found) = taking.repeatability else {
        return Some(format!(
            "{who}: no uncertainty can be given: nothing shows how its readings scatter"
        ));
    };
    if taking.series.readings().len() > 1 {
        return None;
    }
    Some(match found.basis {
        Basis::House => format!(
            "{who}: one reading, and nobody repeated one: its scatter is a house rule, {:.3} mm",
            found.deviation
        ),
        _ => format!("{who}: one reading only, which borrows its scatter from the others"),
    })
}
