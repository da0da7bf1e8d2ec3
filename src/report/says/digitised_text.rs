//! What digitising points came to.

use std::fmt::{self, Write};

use super::phrases::{count, two_digits};
use crate::readings::{
    Digitised, DigitisedCircle, DigitisedWire, Feature, Origin, OutlyingPoint, ScaleBasis,
};
use crate::report::escape;
use crate::report::style::Style;
use crate::units::{Angle, Uncertainty};

/// Writes the circles and lines, how the board lay, and what to look at again.
pub fn write_digitised(out: &mut dyn Write, digitised: &Digitised) -> fmt::Result {
    let circles = digitised.circles.iter().map(|circle| circle.points.len());
    let wires = digitised.wires.iter().map(|wire| wire.points.len());
    let points: usize = circles.chain(wires).sum();
    let board = Style::Strong.paint(escape::terminal(&digitised.board.id).into_owned());
    writeln!(out, "{board}  digitised from {points} points")?;
    writeln!(out, "\n    scale    {}", scale(digitised))?;
    writeln!(out, "    origin   {}", origin(digitised))?;
    writeln!(out, "    top      {}", top(digitised))?;
    let head = format!(
        "    {:<14}{:<8}{:>4}{:>11}{:>8}{:>8}{:>8}{:>8}{:>14}{:>7}",
        "circle", "edge", "n", "radius mm", "± U", "x mm", "y mm", "± U", "out of round", "arc"
    );
    writeln!(out, "\n{}", Style::Faint.paint(head))?;
    for circle in &digitised.circles {
        row(out, digitised, circle)?;
    }
    if !digitised.wires.is_empty() {
        let head = format!(
            "    {:<22}{:>4}{:>11}{:>8}{:>12}{:>8}{:>12}",
            "wire", "n", "bearing °", "± U", "offset mm", "± U", "width °"
        );
        writeln!(out, "\n{}", Style::Faint.paint(head))?;
    }
    for wire in &digitised.wires {
        wire_row(out, digitised, wire)?;
    }
    remarks(out, digitised)
}

/// An expanded uncertainty and the decimals that it leaves.
fn expanded(u: Uncertainty) -> (f64, usize) {
    let expanded = u.expanded().expanded;
    (expanded, two_digits(expanded).clamp(2, 4))
}

fn row(out: &mut dyn Write, digitised: &Digitised, circle: &DigitisedCircle) -> fmt::Result {
    let edge = circle
        .edge
        .map_or_else(String::new, |edge| edge.to_string());
    let fit = &circle.fit;
    let (u, places) = expanded(circle.radius_uncertainty);
    write!(
        out,
        "    {:<14}{edge:<8}{:>4}{:>11.places$}{u:>8.places$}",
        circle.feature.to_string(),
        circle.points.len(),
        fit.radius.as_mm()
    )?;
    let is_origin = digitised.origin == Origin::Centre(circle.feature);
    if is_origin {
        write!(out, "{:>8}{:>8}{:>8}", "0", "0", "")?;
    } else {
        let u = circle.offset_uncertainty(&digitised.origin_covariance);
        let (u, places) = expanded(u);
        write!(
            out,
            "{:>+8.places$}{:>+8.places$}{u:>8.places$}",
            fit.centre.x, fit.centre.y
        )?;
    }
    writeln!(
        out,
        "{:>14.2}{:>6.0}°",
        fit.out_of_roundness().as_mm(),
        fit.arc.as_degrees()
    )
}

fn wire_row(out: &mut dyn Write, digitised: &Digitised, wire: &DigitisedWire) -> fmt::Result {
    let line = &wire.line;
    let (turn, turn_places) = expanded(line.bearing_uncertainty.scaled(1_f64.to_degrees()));
    let (shift, places) = expanded(line.offset_uncertainty);
    let next = digitised.wires.iter();
    let mut next = next.filter(|other| other.sector == (wire.sector + 1) % 20);
    let width = next.next().map_or_else(String::new, |next| {
        let width = positive(next.line.bearing - line.bearing);
        format!("{width:.turn_places$}")
    });
    writeln!(
        out,
        "    {:<22}{:>4}{:>11.turn_places$}{turn:>8.turn_places$}{:>+12.places$}{shift:>8.places$}\
         {width:>12}",
        Feature::SectorWire(wire.sector).to_string(),
        wire.points.len(),
        positive(line.bearing),
        line.offset.as_mm()
    )
}

/// Degrees from 0 up to a full turn.
fn positive(angle: Angle) -> f64 {
    let degrees = angle.as_degrees();
    if degrees < 0.0 {
        degrees + 360.0
    } else {
        degrees
    }
}

fn scale(digitised: &Digitised) -> String {
    let scale = &digitised.scale;
    let unit = scale.unit.as_mm();
    let share = 100.0 * scale.uncertainty.expanded().expanded;
    let known = if share > 0.0 {
        format!(", ± {share:.*} % (U)", two_digits(share).min(4))
    } else {
        ", counts as exact".to_owned()
    };
    match scale.basis {
        ScaleBasis::Unit(unit) => format!("as stated, in {}{known}", unit.symbol()),
        ScaleBasis::DotsPerInch(dots) => {
            format!("{unit:.6} mm to the pixel, from {dots} dots per inch{known}")
        }
        ScaleBasis::Ruler(points) => format!(
            "{unit:.6} mm to the table's unit, from {} of a ruler{known}",
            count(points, "point", "points")
        ),
        ScaleBasis::Diameter(feature, diameter) => {
            format!(
                "{unit:.6} mm to the table's unit, from {feature} being {diameter} across{known}"
            )
        }
    }
}

fn origin(digitised: &Digitised) -> String {
    let [[xx, _], [_, yy]] = digitised.origin_covariance;
    let u = 2.0 * libm::sqrt(xx.as_mm2().max(yy.as_mm2()));
    let known = format!("known to {u:.*} mm (U)", two_digits(u).clamp(2, 4));
    match digitised.origin {
        Origin::SectorWires(n) => format!("where the lines of {n} sector wires meet, {known}"),
        Origin::Centre(feature) => format!("the centre of {feature}, {known}"),
    }
}

fn top(digitised: &Digitised) -> String {
    match digitised.turn {
        Some(turn) => {
            let degrees = libm::remainder(turn.as_degrees(), 360.0);
            let way = if degrees < 0.0 {
                "clockwise"
            } else {
                "anticlockwise"
            };
            let degrees = degrees.abs();
            format!("turned {degrees:.2}° {way}, so that the middle of the 20 is there")
        }
        None => "as in the picture: no sector wire says where the 20 is".to_owned(),
    }
}

/// Short arcs and points that lie too far out: reported, not dropped.
fn remarks(out: &mut dyn Write, digitised: &Digitised) -> fmt::Result {
    let mut lines = Vec::new();
    lines.extend(digitised.outlying_mark.map(|found| {
        format!(
            "ruler: the mark in line {} lies {:.2} mm from where the others have it; it was kept",
            found.line,
            found.residual.as_mm()
        )
    }));
    for circle in &digitised.circles {
        let feature = circle.feature;
        if circle.fit.is_short() {
            lines.push(format!(
                "{feature}: an arc of {:.0}° is too short to know the radius: its uncertainty is \
                 {:.0} times what as many points all round would leave (house rule: 10 times)",
                circle.fit.arc.as_degrees(),
                circle.fit.weakness
            ));
        }
        lines.extend(circle.outlying.map(|found| outlying(feature, found)));
    }
    for wire in &digitised.wires {
        let feature = Feature::SectorWire(wire.sector);
        lines.extend(wire.outlying.map(|found| outlying(feature, found)));
    }
    if lines.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n  {}", Style::Caution.paint("to look at"))?;
    for line in lines {
        writeln!(out, "      {line}")?;
    }
    Ok(())
}

fn outlying(feature: Feature, found: OutlyingPoint) -> String {
    format!(
        "{feature}: the point in line {} lies {:+.2} mm from the others; it was kept",
        found.line,
        found.residual.as_mm()
    )
}
