//! Drawings of the boards, from the regions of their beds.

use std::fmt::Write;

use super::super::drawing::svg::{Figure, number, path, text};
use super::words::percent;
use crate::board::{Band, SECTOR_ORDER};
use crate::comparison::{Comparison, Difference, Kind, Subject};
use crate::geometry::Bed;

/// Half the side of a drawing, in mm: the double ring and the numbers.
const HALF: f64 = 200.0;
/// A bed that differs by less than this, in percent, is drawn as unchanged.
/// House rule: below what a calliper shows on a treble bed.
const UNCHANGED: f64 = 0.5;

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
                     are larger; plain ones differ by less than {UNCHANGED} %. {}.",
                    changes(difference)
                ),
            ),
        };
        figures.push(Figure {
            group: "boards",
            width: 2.0 * HALF,
            height: 2.0 * HALF,
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
        format!("{} {free:.1}", Kind::from(band))
    };
    Band::ALL.map(band).join(", ")
}

fn changes(difference: &Difference) -> String {
    let change = |band: &crate::comparison::BandDifference| {
        format!("{} {}", band.kind, percent(band.difference_percent, None))
    };
    let changes: Vec<String> = difference.bands.iter().map(change).collect();
    changes.join(", ")
}

fn drawing(index: usize, subject: &Subject, difference: Option<&Difference>) -> String {
    let mut out = String::new();
    patterns(&mut out, index);
    let spider = subject.face().spider();
    let rim = spider.rings[crate::board::RingWire::DoubleOuter];
    let _ = write!(
        out,
        "<g transform=\"translate({HALF} {HALF})\"><circle cx=\"{}\" cy=\"{}\" r=\"{}\" \
         style=\"fill:var(--wire)\"/>",
        number(rim.centre.x),
        number(-rim.centre.y),
        number(rim.outside.unwrap_or_default())
    );
    for bed in Bed::all() {
        let Some(region) = spider.free_region(bed) else {
            continue;
        };
        let outline = path(&region);
        let shade = if bed.sector() % 2 == 0 {
            "--bed"
        } else {
            "--bed2"
        };
        let _ = write!(out, "<path d=\"{outline}\" style=\"fill:var({shade})\"/>");
        let change = difference.and_then(|d| change_of(d, bed));
        if let Some(pattern) = change.and_then(pattern) {
            let _ = write!(
                out,
                "<path d=\"{outline}\" fill=\"url(#{pattern}{index})\"/>"
            );
        }
    }
    for (sector, value) in SECTOR_ORDER.iter().enumerate() {
        let bearing = (18.0 * sector as f64).to_radians();
        let (sin, cos) = libm::sincos(bearing);
        let (x, y) = (184.0 * sin, -184.0 * cos + 5.0);
        text(&mut out, x, y, 14.0, "middle", "", &value.to_string());
    }
    for band in Band::ALL {
        labels(&mut out, subject, difference, band);
    }
    out.push_str("</g>");
    out
}

/// Hatchings by how much a bed changed; each drawing has its own, since names
/// are shared by a whole page.
fn patterns(out: &mut String, index: usize) {
    out.push_str("<defs>");
    for (name, gap, both) in [
        ("few", 5.0, false),
        ("more", 3.0, false),
        ("most", 2.6, true),
    ] {
        let _ = write!(
            out,
            "<pattern id=\"{name}{index}\" width=\"{gap}\" height=\"{gap}\" \
             patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path d=\"M0 0V{gap}{}\" \
             style=\"stroke:var(--hatch);stroke-width:.6;fill:none\"/></pattern>",
            if both {
                format!("M0 0H{gap}")
            } else {
                String::new()
            }
        );
    }
    let _ = write!(
        out,
        "<pattern id=\"dots{index}\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\">\
         <circle cx=\"2\" cy=\"2\" r=\".6\" style=\"fill:var(--hatch)\"/></pattern></defs>"
    );
}

fn pattern(percent: f64) -> Option<&'static str> {
    match percent {
        p if p <= -10.0 => Some("most"),
        p if p <= -3.0 => Some("more"),
        p if p <= -UNCHANGED => Some("few"),
        p if p >= UNCHANGED => Some("dots"),
        _ => None,
    }
}

fn change_of(difference: &Difference, bed: Bed) -> Option<f64> {
    let kind = Kind::from(bed.band());
    let band = difference.bands.iter().find(|band| band.kind == kind)?;
    band.beds_percent.get(bed.sector()).copied()
}

/// The number on the beds: on the top one alone where all of a band are alike.
fn labels(out: &mut String, subject: &Subject, difference: Option<&Difference>, band: Band) {
    let figure = |bed: Bed| match difference {
        None => format!("{:.1} mm²", subject.face().free_area(&[bed])),
        Some(difference) => change_of(difference, bed)
            .map(|change| percent(change, None))
            .unwrap_or_default(),
    };
    let top = figure(Bed::new(band, 0));
    let alike = Bed::of_band(band).all(|bed| figure(bed) == top);
    let size = match band {
        Band::InnerBull => 5.0,
        Band::OuterBull | Band::Treble => 6.5,
        Band::InnerSingle | Band::Double => 7.0,
        Band::OuterSingle => 8.0,
    };
    let size = if alike { size } else { 0.8 * size };
    for bed in Bed::of_band(band).take(if alike { 1 } else { 20 }) {
        let middle = subject.face().middle(bed);
        // The ring of the 25 is written in below the bull.
        let y = match band {
            Band::OuterBull => 11.2,
            _ => -middle.y,
        };
        text(
            out,
            middle.x,
            y + 0.35 * size,
            size,
            "middle",
            "halo",
            &figure(bed),
        );
    }
}
