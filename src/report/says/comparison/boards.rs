//! Drawings of the boards, from the regions of their beds.

use std::fmt::Write;

use super::words::percent;
use crate::board::Band;
use crate::comparison::{Comparison, Difference, Subject};
use crate::geometry::Bed;
use crate::report::draw::svg::{Figure, number};
use crate::report::draw::{face, hatch, labels};

pub(super) fn figures(comparison: &Comparison, subjects: &[Subject]) -> Vec<Figure> {
    let mut figures = Vec::new();
    let first = subjects
        .first()
        .map_or("", |subject| subject.label.as_str());
    for (index, subject) in subjects.iter().enumerate() {
        let difference = comparison.differences.iter().find(|d| d.board == index);
        let (title, description) = match difference {
            None => (
                format!("{}: what the others are set against", subject.label),
                format!(
                    "Free area of one bed of each band, in mm²: {}.",
                    areas(subject)
                ),
            ),
            Some(difference) => (
                format!("{} against {first}", subject.label),
                format!(
                    "Hatched beds are smaller than on {first}, the closer the more; dotted ones \
                     are larger; plain ones differ by less than {} %. {}.",
                    hatch::UNCHANGED,
                    changes(difference)
                ),
            ),
        };
        figures.push(Figure {
            group: "boards",
            width: 2.0 * face::half(subject.face().spider()),
            height: 2.0 * face::half(subject.face().spider()),
            body: drawing(index, subject, difference),
            title,
            description,
        });
    }
    figures
}

fn areas(subject: &Subject) -> String {
    let band = |band: Band| {
        let free = subject.face().free_area(&[Bed::new(band, 0)]);
        format!("{band} {:.1}", free.as_mm2())
    };
    Band::ALL.map(band).join(", ")
}

fn changes(difference: &Difference) -> String {
    let change = |band: &crate::comparison::BandDifference| {
        format!("{} {}", band.band, percent(band.difference_percent, None))
    };
    let changes: Vec<String> = difference.bands.iter().map(change).collect();
    changes.join(", ")
}

fn drawing(index: usize, subject: &Subject, difference: Option<&Difference>) -> String {
    let mut out = String::new();
    let spider = subject.face().spider();
    // Names are shared by a whole page: each drawing has its own.
    let names = format!("c{index}");
    let half = number(face::half(spider));
    hatch::define(&mut out, &names);
    let _ = write!(out, "<g transform=\"translate({half} {half})\">");
    face::metal(&mut out, spider, face::sector_wires(spider));
    face::beds(&mut out, spider, &names, |bed| {
        change_of(difference?, bed).and_then(hatch::pattern)
    });
    face::numbers(&mut out, face::rim(spider));
    for band in Band::ALL {
        figures_on(&mut out, subject, difference, band);
    }
    out.push_str("</g>");
    out
}

fn change_of(difference: &Difference, bed: Bed) -> Option<f64> {
    let band = difference
        .bands
        .iter()
        .find(|band| band.band == bed.band())?;
    band.beds_percent.get(bed.sector()).copied()
}

/// The number on the beds: on the top one alone where all of a band are alike.
fn figures_on(out: &mut String, subject: &Subject, difference: Option<&Difference>, band: Band) {
    let figure = |bed: Bed| match difference {
        None => format!("{:.1}", subject.face().free_area(&[bed])),
        Some(difference) => change_of(difference, bed)
            .map(|change| percent(change, None))
            .unwrap_or_default(),
    };
    let top = figure(Bed::new(band, 0));
    if !band.has_sectors() {
        let spider = subject.face().spider();
        let inner = band
            .inner_wire()
            .and_then(|wire| spider.rings[wire].outside);
        let outer = spider.rings[band.outer_wire()].inside;
        let middle = inner.map_or(0.0, |inner| {
            f64::midpoint(inner.as_mm(), outer.unwrap_or(inner).as_mm())
        });
        labels::beside_bull(out, band, middle, &top, false);
        return;
    }
    let alike = Bed::of_band(band).all(|bed| figure(bed) == top);
    let size = labels::size(band) * if alike { 1.0 } else { 0.8 };
    for bed in Bed::of_band(band).take(if alike { 1 } else { 20 }) {
        labels::on_bed(out, subject.face().middle(bed), size, &figure(bed), false);
    }
}
