//! Figures on bands.

use std::fmt::Write;

use super::svg::{number, text};
use super::words;
use crate::board::Band;
use crate::geometry::Point;

/// The smallest letters of any drawing, in its own units, of which it is 380 wide: on a
/// screen of 390 pixels they are over 10 pixels high, and over 7 points where two
/// drawings stand side by side on paper. House rule.
pub(in crate::report) const SMALLEST: f64 = 11.5;

/// The size of a figure on a band, in mm.
pub(in crate::report) const fn size(band: Band) -> f64 {
    match band {
        Band::OuterSingle => 12.5,
        _ => SMALLEST,
    }
}

/// A figure around a place; one to notice stands light on dark.
pub(in crate::report) fn on_bed(out: &mut String, at: Point, size: f64, words: &str, notice: bool) {
    tag(out, (at.x, -at.y), size, &[words], notice);
}

/// A bull's figure: beside it on the inner singles, below its name, with a line
/// that ends in the bull. `radius` is the middle of the bull's free area.
pub(in crate::report) fn beside_bull(
    out: &mut String,
    band: Band,
    radius: f64,
    words: &str,
    notice: bool,
) {
    let side = if band == Band::InnerBull { -1.0 } else { 1.0 };
    // Invented: clear of both bulls' rings, and of the figure of the singles.
    let (x, y) = (48.0 * side, 46.0);
    let length = libm::hypot(x, y);
    let (from_x, from_y) = (radius * x / length, radius * y / length);
    for style in [
        "stroke:var(--paper);stroke-width:2.4",
        "stroke:var(--ink);stroke-width:.7",
    ] {
        let _ = write!(
            out,
            "<path d=\"M{} {}L{} {}\" style=\"{style};fill:none\"/>",
            number(from_x),
            number(from_y),
            number(x),
            number(y)
        );
    }
    let _ = write!(
        out,
        "<circle cx=\"{}\" cy=\"{}\" r=\"1.3\" \
         style=\"fill:var(--ink);stroke:var(--paper);stroke-width:.8\"/>",
        number(from_x),
        number(from_y)
    );
    tag(out, (x, y), size(band), &[band.name(), words], notice);
}

/// Lines of text on a ground of their own, around a place: hatching and wires
/// do not run through them.
fn tag(out: &mut String, (x, y): (f64, f64), size: f64, lines: &[&str], notice: bool) {
    let width = lines.iter().map(|line| words::width(line, size));
    let width = width.fold(0.0, f64::max) + 0.4 * size;
    let step = 1.15 * size;
    let height = step * lines.len() as f64;
    let (ground, class) = if notice {
        ("--ink", "inverse")
    } else {
        ("--paper", "")
    };
    let _ = write!(
        out,
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{}\" \
         style=\"fill:var({ground})\"/>",
        number(x - width / 2.0),
        number(y - height / 2.0),
        number(width),
        number(height),
        number(0.25 * size)
    );
    for (index, line) in lines.iter().enumerate() {
        // Figures stand 0.73 of their size high: their middle on the line's.
        let baseline = y - height / 2.0 + (index as f64 + 0.5) * step + 0.36 * size;
        text(out, x, baseline, size, "middle", class, line);
    }
}
