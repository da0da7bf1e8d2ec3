//! The expected score over a board, shaded, with the wires on top.

use std::fmt::Write;

use crate::comparison::{Comparison, ScoreMap, Subject};
use crate::geometry::Bed;
use crate::report::draw::svg::{Figure, number, path, stroke, text};

const SIDE: f64 = 400.0;
const HALF: f64 = 200.0;
/// How many shades there are.
const SHADES: usize = 9;

pub(super) fn figures(comparison: &Comparison, subjects: &[Subject]) -> Vec<Figure> {
    let values = || {
        comparison
            .maps
            .iter()
            .flat_map(|map| map.rows.iter().flatten())
    };
    // One scale for all boards, or they could not be compared.
    let high = values().copied().fold(0.0, f64::max);
    let figure = |map: &ScoreMap| {
        let subject = subjects.get(map.board)?;
        let best: Vec<String> = map
            .best
            .iter()
            .map(|[x, y, mean]| {
                format!(
                    "{mean:.2} points a dart, {x:.0} mm right of and {y:.0} mm above the centre"
                )
            })
            .collect();
        Some(Figure {
            group: "scores",
            width: SIDE,
            height: SIDE + 40.0,
            body: drawing(map, subject, high),
            title: format!(
                "Expected score on {}, by where a dart is aimed",
                subject.label
            ),
            description: format!("Best aim, marked by a cross: {}.", best.join("; or ")),
        })
    };
    comparison.maps.iter().filter_map(figure).collect()
}

/// Which shade a value has.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn shade(value: f64, high: f64) -> usize {
    if high > 0.0 {
        ((value / high * SHADES as f64).max(0.0) as usize).min(SHADES - 1)
    } else {
        0
    }
}

fn drawing(map: &ScoreMap, subject: &Subject, high: f64) -> String {
    let mut out = format!("<g transform=\"translate({HALF} {HALF})\">");
    let step = map.step_mm;
    for level in 0..SHADES {
        let mut outline = String::new();
        for (row, values) in map.rows.iter().enumerate() {
            let y = -170.0 + step * row as f64;
            let mut column = 0;
            // Neighbours of one shade become one rectangle.
            for run in values.chunk_by(|a, b| shade(*a, high) == shade(*b, high)) {
                if run
                    .first()
                    .is_some_and(|value| shade(*value, high) == level)
                {
                    let x = -170.0 + step * f64::from(column);
                    // A hair larger than they are, or gaps shine through.
                    let (w, h) = (step * run.len() as f64 + 0.1, step + 0.1);
                    let _ = write!(
                        outline,
                        "M{} {}h{}v{}h-{}z",
                        number(x),
                        number(y),
                        number(w),
                        number(h),
                        number(w)
                    );
                }
                column += i32::try_from(run.len()).unwrap_or_default();
            }
        }
        let _ = write!(
            out,
            "<path d=\"{outline}\" style=\"fill:var(--s{level})\"/>"
        );
    }
    wires(&mut out, subject);
    for [x, y, _] in &map.best {
        let (x, y) = (number(*x), number(-*y));
        let cross = format!("M{x} {y}m-7 -7l14 14m0 -14l-14 14");
        for (colour, width) in [("--paper", 4.5), ("--ink", 1.8)] {
            stroke(&mut out, &cross, colour, width);
        }
    }
    out.push_str("</g>");
    scale(&mut out, high);
    out
}

fn wires(out: &mut String, subject: &Subject) {
    let mut outlines = String::new();
    for bed in Bed::all() {
        if let Some(region) = subject.face().spider().apex_region(bed) {
            outlines.push_str(&path(&region));
        }
    }
    for (colour, width) in [("--paper", 1.4), ("--ink", 0.5)] {
        stroke(out, &outlines, colour, width);
    }
}

fn scale(out: &mut String, high: f64) {
    let figure = |out: &mut String, x: f64, value: f64| {
        let words = format!("{value:.1}");
        text(out, x, SIDE + 24.0, 10.0, "middle", "", &words);
    };
    let width = 340.0 / SHADES as f64;
    for level in 0..SHADES {
        let x = 30.0 + width * level as f64;
        let _ = write!(
            out,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"12\" \
             style=\"fill:var(--s{level});stroke:var(--ink);stroke-width:.4\"/>",
            number(x),
            number(SIDE),
            number(width)
        );
        let from = high * level as f64 / SHADES as f64;
        figure(out, x, from);
    }
    figure(out, 370.0, high);
    text(out, 200.0, SIDE + 37.0, 10.0, "middle", "", "points a dart");
}
