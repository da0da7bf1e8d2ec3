//! Drawings of the boards, from the regions of their beds.

use std::fmt::Write;

use super::words::percent;
use crate::board::Band;
use crate::comparison::{BandDifference, Comparison, Difference, Subject};
use crate::geometry::Bed;
use crate::report::draw::svg::{Figure, number, path};
use crate::report::draw::{deviations, face, hatch, labels};

/// The size of the figures on a board, in mm. House rule: as large as print where two
/// boards stand side by side, and over 10 pixels on a telephone.
const SIZE: f64 = labels::SMALLEST;

/// Every board at one scale, and what their shades mean.
pub(super) fn figures(comparison: &Comparison, subjects: &[Subject]) -> Vec<Figure> {
    let first = subjects
        .first()
        .map_or("", |subject| subject.label.as_str());
    // The largest board says how large all are drawn.
    let half = subjects
        .iter()
        .map(|subject| face::half(subject.face().spider()));
    let half = half.fold(1.0, f64::max);
    let mut figures = Vec::new();
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
                format!("Free areas: {}.", changes(difference)),
            ),
        };
        figures.push(Figure {
            group: "boards",
            width: 2.0 * half,
            height: 2.0 * half,
            body: drawing(index, subject, difference, half),
            title,
            description,
        });
    }
    figures.push(deviations("boards", "ck", first));
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
    let change =
        |band: &BandDifference| format!("{} {}", band.band, percent(band.difference_percent, None));
    let changes: Vec<String> = difference.bands.iter().map(change).collect();
    changes.join(", ")
}

fn drawing(index: usize, subject: &Subject, difference: Option<&Difference>, half: f64) -> String {
    let mut out = String::new();
    let spider = subject.face().spider();
    // Names are shared by a whole page: each drawing has its own.
    let names = format!("c{index}");
    let half = number(half);
    hatch::define(&mut out, &names);
    let _ = write!(out, "<g transform=\"translate({half} {half})\">");
    face::metal(&mut out, spider, face::sector_wires(spider));
    face::beds(&mut out, spider, &names, |bed| {
        change_of(difference?, bed).and_then(hatch::pattern)
    });
    // A line around every bed: a board without a shade is seen as well as the others.
    let mut outlines = String::new();
    for bed in Bed::all() {
        outlines.extend(spider.free_region(bed).map(|region| path(&region)));
    }
    let _ = write!(
        out,
        "<path d=\"{outlines}\" style=\"stroke:var(--ink);stroke-width:.6;fill:none\"/>"
    );
    face::numbers(&mut out, face::rim(spider));
    for band in Band::ALL {
        figure_on(&mut out, subject, difference, band);
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

/// A band's figure, on its top bed: the least and the most where its beds differ.
fn figure_on(out: &mut String, subject: &Subject, difference: Option<&Difference>, band: Band) {
    let value = |bed: Bed| match difference {
        None => Some(subject.face().free_area(&[bed]).as_mm2()),
        Some(difference) => change_of(difference, bed),
    };
    let values: Vec<f64> = Bed::of_band(band).filter_map(value).collect();
    let least = values.iter().copied().fold(f64::MAX, f64::min);
    let most = values.iter().copied().fold(f64::MIN, f64::max);
    if values.is_empty() {
        return;
    }
    let unit = if difference.is_some() { "%" } else { "mm²" };
    let words = |value: f64| match difference {
        None => format!("{value:.1}"),
        Some(_) => percent(value, None)
            .trim_end_matches(" %")
            .replace('-', "−"),
    };
    let (least, most) = (words(least), words(most));
    let figure = if least == most {
        format!("{least} {unit}")
    } else {
        format!("{least} to {most} {unit}")
    };
    if band.has_sectors() {
        let at = subject.face().middle(Bed::new(band, 0));
        labels::on_bed(out, at, SIZE, &figure, false);
        return;
    }
    let spider = subject.face().spider();
    let inner = band
        .inner_wire()
        .and_then(|wire| spider.rings[wire].outside);
    let outer = spider.rings[band.outer_wire()].inside;
    let radius = inner.map_or(0.0, |inner| {
        f64::midpoint(inner.as_mm(), outer.unwrap_or(inner).as_mm())
    });
    labels::beside_bull(out, band, radius, &figure, false);
}
