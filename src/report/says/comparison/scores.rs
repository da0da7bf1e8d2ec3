//! The expected score over a board, shaded, with the wires on top.

use std::fmt::Write;

use super::contours::Grid;
use crate::comparison::{Comparison, ScoreMap, Subject};
use crate::geometry::{Bed, Point};
use crate::report::draw::svg::{Figure, circle, number, path, stroke, text};
use crate::report::draw::{curves, face, labels};

/// How many colours there are.
const COLOURS: usize = 9;
/// Each step of the scale is drawn in so many: edges that cannot be told from a
/// smooth change. House rule.
const PARTS: usize = 4;
/// Height of the scale below a map, its letters, and the width of its bar.
const SCALE: f64 = 54.0;
const SIZE: f64 = 12.0;
const BAR: f64 = 300.0;

pub(super) fn figures(comparison: &Comparison, subjects: &[Subject]) -> Vec<Figure> {
    // One scale for all boards, or they could not be compared.
    let values = comparison.maps.iter();
    let values = values.flat_map(|map| map.rows.iter().flatten());
    let scale = Scale::up_to(values.copied().fold(0.0, f64::max));
    let figure = |map: &ScoreMap| {
        let subject = subjects.get(map.board)?;
        let half = face::half(subject.face().spider());
        let best: Vec<String> = map.best.iter().map(best_aim).collect();
        Some(Figure {
            group: "scores",
            width: 2.0 * half,
            height: 2.0 * half + SCALE,
            body: drawing(map, subject, &scale),
            title: format!(
                "Expected score on {}, by where a dart is aimed",
                subject.label
            ),
            description: format!(
                "Best aim, marked by a cross: {}. All maps have one scale.",
                best.join("; or ")
            ),
        })
    };
    comparison.maps.iter().filter_map(figure).collect()
}

/// A best aim in words.
fn best_aim([x, y, mean]: &[f64; 3]) -> String {
    let away = |length: f64, more: &str, less: &str| {
        let whole = libm::round(length);
        let side = if whole < 0.0 { less } else { more };
        (whole != 0.0).then(|| format!("{:.0} mm {side}", whole.abs()))
    };
    let sideways = away(*x, "right of", "left of");
    let upwards = away(*y, "above", "below");
    let place = match (sideways, upwards) {
        (Some(x), Some(y)) => format!("{x} and {y} the centre"),
        (Some(one), None) | (None, Some(one)) => format!("{one} the centre"),
        (None, None) => "at the centre".to_owned(),
    };
    format!("{mean:.2} points a dart, {place}")
}

/// From a score to its colour.
struct Scale {
    /// A round number of points from mark to mark.
    step: f64,
    marks: usize,
}

impl Scale {
    /// A scale of round numbers, no more steps than colours.
    fn up_to(high: f64) -> Self {
        let step = curves::round_step((high / (COLOURS - 1) as f64).max(1e-9));
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a few marks"
        )]
        let marks = (libm::ceil(high / step - 1e-9).max(1.0) as usize).min(COLOURS - 1);
        Self { step, marks }
    }

    /// What is drawn one over the other, from low to high: the score from which on, the
    /// colour, and how much it covers of what lies below.
    fn layers(&self) -> impl Iterator<Item = (f64, usize, f64)> {
        (0..=self.marks * PARTS).map(|part| {
            let (mark, over) = (part.div_ceil(PARTS), part % PARTS);
            let level = self.step * part as f64 / PARTS as f64;
            // Between marks the next colour comes through little by little: each layer
            // over the last covers so much that the sum is even.
            let cover = if over == 0 {
                1.0
            } else {
                1.0 / (PARTS + 1 - over) as f64
            };
            (level, self.colour(mark), cover)
        })
    }

    /// Marks are spread over all colours.
    fn colour(&self, mark: usize) -> usize {
        (mark * (COLOURS - 1) + self.marks / 2) / self.marks
    }
}

fn fill(out: &mut String, shape: &str, colour: usize, cover: f64) {
    let cover = if cover < 1.0 {
        format!(";fill-opacity:{cover:.3}")
    } else {
        String::new()
    };
    let _ = write!(
        out,
        "<path d=\"{shape}\" style=\"fill:var(--s{colour}){cover}\" fill-rule=\"evenodd\"/>"
    );
}

fn drawing(map: &ScoreMap, subject: &Subject, scale: &Scale) -> String {
    let spider = subject.face().spider();
    let (half, rim) = (face::half(spider), face::rim(spider));
    let mut out = String::new();
    // Names are shared by a whole page: each drawing has its own.
    let name = format!("s{}", map.board);
    let centre = Point::ORIGIN;
    let _ = write!(
        out,
        "<defs><clipPath id=\"{name}\"><path d=\"{}\"/></clipPath></defs>\
         <g transform=\"translate({1} {1})\"><g clip-path=\"url(#{name})\">",
        circle(centre, rim + 1.0),
        number(half)
    );
    for (level, colour, cover) in scale.layers() {
        let shape = if level > 0.0 {
            outline(map, level)
        } else {
            circle(centre, rim + 1.0)
        };
        if !shape.is_empty() {
            fill(&mut out, &shape, colour, cover);
        }
    }
    out.push_str("</g>");
    wires(&mut out, subject);
    face::numbers(&mut out, rim);
    for best in &map.best {
        mark(&mut out, best, rim);
    }
    out.push_str("</g>");
    bar(&mut out, scale, half);
    out
}

/// The area in which the score is at least so high, in mm with y downwards.
fn outline(map: &ScoreMap, level: f64) -> String {
    let grid = Grid { rows: &map.rows };
    // The first value's place: the map is as wide as it is high, about the centre.
    let first = -0.5 * map.step_mm * (map.rows.len() as f64 - 1.0);
    let mut out = String::new();
    for places in grid.at_least(level) {
        let place = |(x, y): (f64, f64)| {
            let at = |steps: f64| first + map.step_mm * steps;
            format!("{:.1} {:.1}", at(x), at(y))
        };
        let places: Vec<String> = places.into_iter().map(place).collect();
        let _ = write!(out, "M{}Z", places.join("L"));
    }
    out
}

fn wires(out: &mut String, subject: &Subject) {
    let mut outlines = String::new();
    for bed in Bed::all() {
        if let Some(region) = subject.face().spider().apex_region(bed) {
            outlines.push_str(&path(&region));
        }
    }
    for (colour, width) in [("--paper", 1.6), ("--ink", 0.7)] {
        stroke(out, &outlines, colour, width);
    }
}

/// A best aim: a cross and its score, on the side where there is room.
fn mark(out: &mut String, [x, y, mean]: &[f64; 3], rim: f64) {
    let (left, top) = (number(*x), number(-*y));
    let cross = format!("M{left} {top}m-6 -6l12 12m0 -12l-12 12");
    for (colour, width) in [("--paper", 5.0), ("--ink", 2.0)] {
        stroke(out, &cross, colour, width);
    }
    let words = format!("best aim: {mean:.2}");
    let below = if -*y < -0.5 * rim { 20.0 } else { -20.0 };
    labels::on_bed(out, Point::mm(*x, *y - below), SIZE, &words, false);
}

/// The colours with their scores, below a map.
fn bar(out: &mut String, scale: &Scale, half: f64) {
    let (left, top) = (half - 0.5 * BAR, 2.0 * half + 6.0);
    let end = scale.step * scale.marks as f64;
    for (level, colour, cover) in scale.layers() {
        let from = BAR * (level / end).min(1.0);
        let shape = format!(
            "M{} {}H{}v13H{}z",
            number(left + from),
            number(top),
            number(left + BAR),
            number(left + from)
        );
        if from < BAR {
            fill(out, &shape, colour, cover);
        }
    }
    let _ = write!(
        out,
        "<rect x=\"{}\" y=\"{}\" width=\"{BAR}\" height=\"13\" \
         style=\"fill:none;stroke:var(--ink);stroke-width:.6\"/>",
        number(left),
        number(top)
    );
    for mark in 0..=scale.marks {
        let x = left + BAR * mark as f64 / scale.marks as f64;
        let words = curves::figure(scale.step * mark as f64, scale.step);
        text(out, x, top + 27.0, SIZE, "middle", "", &words);
    }
    text(out, half, top + 42.0, SIZE, "middle", "", "points a dart");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_best_aim_is_never_so_many_millimetres_less_than_nothing() {
        let said = best_aim(&[-1.2, 103.4, 23.456]);
        assert_eq!(
            said,
            "23.46 points a dart, 1 mm left of and 103 mm above the centre"
        );
        assert_eq!(
            best_aim(&[0.3, -20.0, 9.0]),
            "9.00 points a dart, 20 mm below the centre"
        );
        assert_eq!(
            best_aim(&[-0.4, 0.2, 9.0]),
            "9.00 points a dart, at the centre"
        );
    }

    #[test]
    fn a_scale_has_round_numbers_and_room_for_every_score() {
        for high in [0.0, 0.7, 8.2, 19.9, 25.1, 47.0, 60.0] {
            let scale = Scale::up_to(high);
            assert!(scale.step * scale.marks as f64 >= high - 1e-6, "{high}");
            assert!(scale.colour(scale.marks) == COLOURS - 1 && scale.colour(0) == 0);
            let levels: Vec<f64> = scale.layers().map(|(level, ..)| level).collect();
            assert!(levels.windows(2).all(|pair| pair[0] < pair[1]), "{high}");
        }
        assert!((Scale::up_to(25.1).step - 5.0).abs() < 1e-9);
    }

    #[test]
    fn layers_between_two_marks_cover_evenly() {
        let scale = Scale::up_to(25.1);
        let mut shown = 0.0;
        for (_, _, cover) in scale.layers().skip(1).take(PARTS) {
            let before = shown;
            shown += (1.0 - shown) * cover;
            assert!(
                (shown - before - 1.0 / PARTS as f64).abs() < 1e-9,
                "{shown}"
            );
        }
        assert!((shown - 1.0_f64).abs() < 1e-9);
    }
}
