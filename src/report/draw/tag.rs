//! Words on a ground of their own: what lies below does not run through them.

use std::fmt::Write;

use super::svg::{number, text};
use super::words;

/// Lines of text around a place, in the drawing's units with y downwards.
pub(in crate::report) fn tag(out: &mut String, (x, y): (f64, f64), size: f64, lines: &[&str]) {
    let width = lines.iter().map(|line| words::width(line, size));
    let width = width.fold(0.0, f64::max) + 0.4 * size;
    let step = 1.15 * size;
    let height = step * lines.len() as f64;
    let _ = write!(
        out,
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{}\" \
         style=\"fill:var(--paper)\"/>",
        number(x - width / 2.0),
        number(y - height / 2.0),
        number(width),
        number(height),
        number(0.25 * size)
    );
    for (index, line) in lines.iter().enumerate() {
        // Figures stand 0.73 of their size high: their middle on the line's.
        let baseline = y - height / 2.0 + (index as f64 + 0.5) * step + 0.36 * size;
        text(out, x, baseline, size, "middle", "", line);
    }
}
