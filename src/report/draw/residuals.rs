//! A digitised board, its points drawn as far from its circles and lines as an
//! exaggeration makes them.

use std::fmt::Write;

use super::svg::{Figure, circle, file, number, text};
use super::{face, words};
use crate::board::usual::DOUBLE_OUTER;
use crate::geometry::Point;
use crate::points::SeenLine;
use crate::readings::{Digitised, Feature};

/// The largest deviation on the drawing, in mm. Invented: less than the 8 mm from
/// ring to ring.
const LARGEST: f64 = 6.0;

/// No drawing exaggerates more: exact points show nothing.
const MOST: f64 = 1000.0;

/// A circle's or a wire's residuals as an SVG file: the board to scale, each point
/// drawn away from its circle or line by its deviation, as many times as large as
/// the drawing says.
pub fn draw_residuals(digitised: &Digitised) -> String {
    file(&[figure(digitised)])
}

fn figure(digitised: &Digitised) -> Figure {
    let factor = exaggeration(largest(digitised));
    let reach = |rim: bool| {
        let circles = digitised.circles.iter();
        let circles = circles.filter(|found| (found.feature == Feature::Overall) == rim);
        circles.fold(0.0, |reach: f64, found| {
            reach.max(found.fit.radius.as_mm() + found.fit.centre.norm())
        })
    };
    // Numbers stand around the outermost wire, within the rim.
    let numbers = reach(false).max(DOUBLE_OUTER);
    let half = (numbers + 30.0).max(reach(true) + 8.0);
    let mut body = String::new();
    let _ = write!(body, "<g transform=\"translate({0} {0})\">", number(half));
    for found in &digitised.circles {
        let (centre, radius) = (found.fit.centre, found.fit.radius.as_mm());
        outline(&mut body, &circle(centre, radius));
        for (&point, residual) in found.points.iter().zip(&found.fit.residuals) {
            let away = point - centre;
            let step = away * (1.0 / away.norm().max(f64::MIN_POSITIVE));
            mark(
                &mut body,
                centre + step * radius,
                step,
                residual.as_mm(),
                factor,
            );
        }
    }
    for wire in &digitised.wires {
        draw_wire(&mut body, &wire.line, &wire.points, factor);
    }
    if digitised.turn.is_some() {
        face::numbers(&mut body, numbers);
    }
    let below = half + 12.0;
    let key = key(&mut body, below, factor);
    body.push_str("</g>");
    Figure {
        group: "boards",
        width: 2.0 * half,
        height: 2.0 * half + 12.0 + key,
        body,
        title: format!(
            "{}: deviations of its points, drawn {} times as large",
            digitised.board.id,
            number(factor)
        ),
        description: format!(
            "The circles and sector wires of the board to scale, and each of their points away \
             from them by {} times its deviation, of which the largest is {} mm.",
            number(factor),
            number(largest(digitised))
        ),
    }
}

fn largest(digitised: &Digitised) -> f64 {
    let circles = digitised
        .circles
        .iter()
        .flat_map(|circle| &circle.fit.residuals);
    let wires = digitised.wires.iter().flat_map(|wire| &wire.line.residuals);
    let sizes = circles.chain(wires).map(|residual| residual.abs().as_mm());
    sizes.fold(0.0, f64::max)
}

/// The largest of 1, 2, 5, 10, 20 … that keeps the largest deviation in bounds.
fn exaggeration(largest: f64) -> f64 {
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, MOST];
    let fits = steps
        .into_iter()
        .rev()
        .find(|step| step * largest <= LARGEST);
    fits.unwrap_or(1.0)
}

fn outline(out: &mut String, path: &str) {
    let _ = write!(
        out,
        "<path d=\"{path}\" style=\"stroke:var(--wire);stroke-width:.5;fill:none\"/>"
    );
}

/// A point by a step of one away from its foot: filled where its deviation is
/// positive, open where it is negative.
fn mark(out: &mut String, foot: Point, step: Point, residual: f64, factor: f64) {
    let tip = foot + step * (factor * residual);
    let fill = if residual > 0.0 { "--ink" } else { "--paper" };
    let _ = write!(
        out,
        "<path d=\"M{} {}L{} {}\" style=\"stroke:var(--ink);stroke-width:.35;fill:none\"/>\
         <circle cx=\"{2}\" cy=\"{3}\" r=\".9\" \
         style=\"fill:var({fill});stroke:var(--ink);stroke-width:.35\"/>",
        number(foot.x),
        number(-foot.y),
        number(tip.x),
        number(-tip.y)
    );
}

fn draw_wire(out: &mut String, line: &SeenLine, points: &[Point], factor: f64) {
    let (sin, cos) = libm::sincos(line.bearing.as_radians());
    let (along, right) = (Point::new(sin, cos), Point::new(cos, -sin));
    let foot = |t: f64| right * line.offset.as_mm() + along * t;
    let ends = points.iter().map(|p| p.dot(along));
    let (from, to) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(from, to), t| {
        (from.min(t), to.max(t))
    });
    let place = |p: Point| format!("{} {}", number(p.x), number(-p.y));
    outline(out, &format!("M{}L{}", place(foot(from)), place(foot(to))));
    for (point, residual) in points.iter().zip(&line.residuals) {
        mark(out, foot(point.dot(along)), right, residual.as_mm(), factor);
    }
}

/// The scale of the deviations and what the marks mean; how high that is.
fn key(out: &mut String, top: f64, factor: f64) -> f64 {
    // A board with its rim is wider than other drawings, and its letters larger.
    const SIZE: f64 = 14.0;
    // A bar of so much of the board as the exaggeration makes 5 to 12 mm long.
    let bars = [1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01];
    let bar = bars
        .into_iter()
        .find(|bar| bar * factor <= 12.0)
        .unwrap_or(0.005);
    let long = bar * factor;
    let _ = write!(
        out,
        "<path d=\"M-215 {0}v4m0 -2h{1}m0 -2v4\" style=\"stroke:var(--ink);stroke-width:.8;fill:none\"/>",
        number(top),
        number(long)
    );
    let beside = format!(
        "{} mm of deviation; the board has a scale of its own",
        number(bar)
    );
    text(out, -209.0 + long, top + 6.0, SIZE, "start", "", &beside);
    let meaning = "filled: outside the circle, or on the clockwise side of the wire; open: inside, \
                   or on the anticlockwise side";
    let mut y = top + 5.0;
    for line in words::wrap(meaning, SIZE, 400.0, 4) {
        y += 17.0;
        text(out, -215.0, y, SIZE, "start", "", &line);
    }
    y - top + 8.0
}
