//! Pieces of SVG.

use std::fmt::Write;

use super::{style, words};
use crate::geometry::{Curve, Point, Region};
use crate::report::escape;
use crate::units::Angle;

/// A drawing with its caption and alternative text.
#[derive(Clone)]
pub(in crate::report) struct Figure {
    /// Figures of one group stand side by side on a page.
    pub(in crate::report) group: &'static str,
    pub(in crate::report) width: f64,
    pub(in crate::report) height: f64,
    pub(in crate::report) body: String,
    pub(in crate::report) title: String,
    /// What the drawing shows, for who cannot see it.
    pub(in crate::report) description: String,
}

impl Figure {
    /// The drawing as an element of a page.
    pub(in crate::report) fn element(&self) -> String {
        // The parts of an image are hidden from who cannot see it; those that
        // can be pointed at must not be.
        let role = if self.body.contains("tabindex=") {
            "group"
        } else {
            "img"
        };
        format!(
            "<svg viewBox=\"0 0 {} {}\" role=\"{role}\" aria-label=\"{}\">{}</svg>",
            number(self.width),
            number(self.height),
            safe(&format!("{}. {}", self.title, self.description)),
            self.body
        )
    }
}

/// Figures one below the other as a file of their own, all as wide as the
/// widest, for any program that draws SVG.
pub(in crate::report) fn file(figures: &[Figure]) -> String {
    arranged(figures, 1)
}

/// The same side by side, about as many in a row as there are rows.
pub(in crate::report) fn side_by_side(figures: &[Figure]) -> String {
    let columns = (1..=figures.len()).find(|columns| columns * columns >= figures.len());
    arranged(figures, columns.unwrap_or(1))
}

fn arranged(figures: &[Figure], columns: usize) -> String {
    /// The size of a title and the step from line to line, for a file that is
    /// 400 wide: a little above the figures' own type.
    const TITLE: (f64, f64) = (13.0, 16.0);
    let width = figures.iter().map(|f| f.width).fold(1.0, f64::max);
    let (size, step) = (TITLE.0 * width / 400.0, TITLE.1 * width / 400.0);
    let (size, step) = (size.min(16.0), step.min(20.0));
    let mut body = String::new();
    let mut top = 0.0;
    for row in figures.chunks(columns.max(1)) {
        let titles: Vec<Vec<String>> = row
            .iter()
            .map(|figure| words::wrap(&figure.title, size, width - 40.0, 3))
            .collect();
        let lines = titles.iter().map(Vec::len).max().unwrap_or(0);
        let below = top + step * lines as f64 + 0.5 * step;
        let mut height = 0.0_f64;
        for (column, (figure, title)) in row.iter().zip(titles).enumerate() {
            let left = width * column as f64;
            // The last line stands just above its drawing.
            let mut line_at = top + step * (lines - title.len()) as f64;
            for line in title {
                line_at += step;
                text(&mut body, left + 20.0, line_at, size, "start", "", &line);
            }
            let factor = width / figure.width.max(1.0);
            let _ = write!(
                body,
                "<g transform=\"translate({} {}) scale({factor:.4})\">{}</g>",
                number(left),
                number(below),
                figure.body
            );
            height = height.max(factor * figure.height);
        }
        top = below + height + 0.5 * step;
    }
    let width = width * figures.len().clamp(1, columns.max(1)) as f64;
    let (w, h) = (number(width), number(top));
    let titles: Vec<&str> = figures.iter().map(|f| f.title.as_str()).collect();
    let descriptions: Vec<&str> = figures.iter().map(|f| f.description.as_str()).collect();
    style::with_colours(&format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" \
         height=\"{h}\" role=\"img\"><title>{}</title><desc>{}</desc><style>{}</style>\
         <rect width=\"{w}\" height=\"{h}\" style=\"fill:var(--paper)\"/>{body}</svg>\n",
        safe(&titles.join("; ")),
        safe(&descriptions.join(" ")),
        style::file()
    ))
}

/// Text inside an element or a quoted attribute of a drawing. Besides what HTML
/// needs, two characters that XML forbids are spelt out, and nothing in a
/// board's name is taken for the name of a colour.
pub(in crate::report) fn safe(text: &str) -> String {
    escape::html(text)
        .replace("var(", "var&#40;")
        .replace('\u{fffe}', "\\u{fffe}")
        .replace('\u{ffff}', "\\u{ffff}")
}

/// A coordinate with two decimals at most, which is finer than print.
pub(in crate::report) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    match text {
        "-0" => "0".to_owned(),
        _ => text.to_owned(),
    }
}

/// A line of text.
pub(in crate::report) fn text(
    out: &mut String,
    x: f64,
    y: f64,
    size: f64,
    anchor: &str,
    class: &str,
    words: &str,
) {
    let _ = write!(
        out,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\" class=\"{class}\" \
         stroke-width=\"{}\">{}</text>",
        number(x),
        number(y),
        number(size),
        number(0.35 * size),
        safe(words)
    );
}

/// A line along a path; `colour` is the name of one, `width` in the figure's units.
pub(in crate::report) fn stroke(out: &mut String, path: &str, colour: &str, width: f64) {
    let _ = write!(
        out,
        "<path d=\"{path}\" style=\"stroke:var({colour});stroke-width:{width};fill:none\"/>"
    );
}

/// A bracket at a limit, open towards what is allowed: to the right of a lower limit, to
/// the left of an upper one. `lip` is how far it reaches.
pub(in crate::report) fn bracket(x: f64, lip: f64, (top, bottom): (f64, f64)) -> String {
    let (tip, x) = (number(x + lip), number(x));
    format!("M{tip} {}H{x}V{}H{tip}", number(top), number(bottom))
}

/// A region's outline, in mm with y downwards.
pub(in crate::report) fn path(region: &Region) -> String {
    let mut out = String::new();
    let place = |p: Point| format!("{} {}", number(p.x), number(-p.y));
    for chain in &region.loops {
        let Some(first) = chain.first() else { continue };
        let _ = write!(out, "M{}", place(first.curve.start()));
        for piece in chain {
            match &piece.curve {
                Curve::Segment(segment) => {
                    let _ = write!(out, "L{}", place(segment.to));
                }
                Curve::Arc(arc) => {
                    let turn = u8::from(arc.sweep < Angle::ZERO);
                    let r = number(arc.radius.as_mm());
                    let parts = quarters(arc.sweep);
                    for part in 1..=parts {
                        let end = arc.at(f64::from(part) / f64::from(parts));
                        let _ = write!(out, "A{r} {r} 0 0 {turn} {}", place(end));
                    }
                }
            }
        }
        out.push('Z');
    }
    out
}

/// Into how many parts an arc is drawn: none turns by more than a quarter. Of half
/// a turn, ends that are rounded by 0.01 mm would move the middle by a millimetre.
fn quarters(sweep: Angle) -> u8 {
    let quarter = std::f64::consts::FRAC_PI_2;
    match sweep.as_radians().abs() / quarter {
        few if few <= 1.0 => 1,
        few if few <= 2.0 => 2,
        few if few <= 3.0 => 3,
        _ => 4,
    }
}

/// A whole circle as a path, in mm with y downwards. Its diameter is twice the
/// radius as it is written: an arc whose ends are nearer to each other bulges.
pub(in crate::report) fn circle(centre: Point, radius: f64) -> String {
    let radius = libm::round(radius * 100.0) / 100.0;
    let (x, y) = (number(centre.x - radius), number(-centre.y));
    let (r, d) = (number(radius), number(2.0 * radius));
    format!("M{x} {y}a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0Z")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_is_drawn_as_wide_as_its_radius_says() {
        // 105.375 is rounded to 105.38, and twice that is not 210.75: with that
        // diameter both halves would be 1 mm too high.
        for hundredths in 0..1000 {
            let radius = 105.0 + f64::from(hundredths) * 0.0013;
            let path = circle(Point::ORIGIN, radius);
            let (_, arc) = path.split_once('a').expect("an arc");
            let mut numbers = arc.split(' ');
            let r: f64 = numbers.next().expect("r").parse().expect("a number");
            let d: f64 = numbers.nth(4).expect("d").parse().expect("a number");
            assert!((d - 2.0 * r).abs() < 1e-9, "{path}");
        }
    }
}
