//! Pieces of SVG.

use std::fmt::Write;

use super::super::escape;
use super::style;
use crate::geometry::{Curve, Point, Region};

/// A drawing with its caption and alternative text.
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
        format!(
            "<svg viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"{}\">{}</svg>",
            number(self.width),
            number(self.height),
            escape::html(&format!("{}. {}", self.title, self.description)),
            self.body
        )
    }
}

/// Figures one below the other as a file of their own.
pub(in crate::report) fn file(figures: &[Figure]) -> String {
    const TITLE: f64 = 30.0;
    let width = figures.iter().map(|f| f.width).fold(0.0, f64::max);
    let height: f64 = figures.iter().map(|f| f.height + TITLE).sum();
    let mut out = String::new();
    let (w, h) = (number(width), number(height));
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" \
         height=\"{h}\" role=\"img\">"
    );
    let titles: Vec<&str> = figures.iter().map(|f| f.title.as_str()).collect();
    let words: Vec<&str> = figures.iter().map(|f| f.description.as_str()).collect();
    let _ = write!(
        out,
        "<title>{}</title><desc>{}</desc><style>{}</style>\
         <rect width=\"{w}\" height=\"{h}\" style=\"fill:var(--paper)\"/>",
        escape::html(&titles.join("; ")),
        escape::html(&words.join(" ")),
        style::DRAWING
    );
    let mut top = 0.0;
    for figure in figures {
        text(&mut out, 12.0, top + 20.0, 13.0, "start", "", &figure.title);
        let _ = write!(
            out,
            "<g transform=\"translate(0 {})\">",
            number(top + TITLE)
        );
        out.push_str(&figure.body);
        out.push_str("</g>");
        top += figure.height + TITLE;
    }
    out.push_str("</svg>\n");
    out
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
        escape::html(words)
    );
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
                    // An arc command cannot say a whole turn: two halves can.
                    let turn = u8::from(arc.sweep < 0.0);
                    for end in [0.5, 1.0] {
                        let r = number(arc.radius);
                        let _ = write!(out, "A{r} {r} 0 0 {turn} {}", place(arc.at(end)));
                    }
                }
            }
        }
        out.push('Z');
    }
    out
}
