//! What colours, hatchings and outlines mean, and how a band is marked with its outcome.

use super::hatch::{DENSER, DENSEST, UNCHANGED};
use super::labels::SMALLEST as SIZE;
use super::svg::{number, text};
use crate::conformity::{BandFinding, BandOutcome};
use crate::report::says::{phrases, reasons};
use crate::report::style::Mark;
use std::fmt::Write;

/// Height of a key, in mm. Invented, like what follows.
pub(super) const HEIGHT: f64 = 76.0;
/// Width of one colour of the scale and how high it is.
const SWATCH: (f64, f64) = (51.0, 13.0);

/// Draws the key with its upper left corner at a place.
pub(in crate::report) fn draw(out: &mut String, names: &str, (left, top): (f64, f64)) {
    scale(out, names, (left, top));
    let y = top + 66.0;
    let mut x = left;
    for (mark, words) in [
        (Mark::DoesNotConform, "✗ area does not conform"),
        (Mark::Inconclusive, "? inconclusive"),
    ] {
        if let Some((width, dashes)) = outline(mark) {
            let _ = write!(
                out,
                "<path d=\"M{} {}h22\" stroke-dasharray=\"{dashes}\" \
                 style=\"stroke:var(--ink);stroke-width:{width};fill:none\"/>",
                number(x),
                number(y - 4.0)
            );
        }
        text(out, x + 28.0, y, SIZE, "start", "", words);
        x += 200.0;
    }
}

/// How far a free area deviates from the nominal board's, from much less to much more.
fn scale(out: &mut String, names: &str, (left, top): (f64, f64)) {
    let (width, height) = SWATCH;
    let heading = "free area against the nominal board, %";
    text(out, left, top + 10.0, SIZE, "start", "", heading);
    let y = top + 17.0;
    let [few, more, most] = ["less1", "less2", "less3"];
    let shades = [Some(most), Some(more), Some(few), None];
    let shades = shades.into_iter();
    let shades = shades.chain(["more1", "more2", "more3"].map(Some));
    for (index, shade) in shades.enumerate() {
        let x = left + width * index as f64;
        let colour = shade.unwrap_or("bed");
        for fill in [
            format!("style=\"fill:var(--{colour})\""),
            shade.map_or_else(
                || "fill=\"none\"".to_owned(),
                |shade| format!("fill=\"url(#{names}{shade})\""),
            ),
            "style=\"fill:none;stroke:var(--ink);stroke-width:.6\"".to_owned(),
        ] {
            let _ = write!(
                out,
                "<rect x=\"{}\" y=\"{}\" width=\"{width}\" height=\"{height}\" {fill}/>",
                number(x),
                number(y)
            );
        }
    }
    let bounds = [-DENSEST, -DENSER, -UNCHANGED, UNCHANGED, DENSER, DENSEST];
    for (index, bound) in bounds.into_iter().enumerate() {
        let x = left + width * (index as f64 + 1.0);
        let words = format!("{bound:+}").replace('-', "−");
        text(out, x, y + height + 13.0, SIZE, "middle", "", &words);
    }
    for (x, anchor, words) in [(left, "start", "less"), (left + 7.0 * width, "end", "more")] {
        text(out, x, y + height + 13.0, SIZE, anchor, "", words);
    }
}

/// Stroke and dashes of a band's outline; one that is in order has none, and one
/// that was not checked has no known edges.
pub(super) const fn outline(mark: Mark) -> Option<(f64, &'static str)> {
    match mark {
        Mark::Conforms | Mark::NoLimit | Mark::NotChecked => None,
        Mark::DoesNotConform => Some((2.0, "none")),
        Mark::Inconclusive => Some((1.3, "6 3")),
    }
}

/// The figure on a band.
pub(super) fn figure(finding: &BandFinding<'_>) -> String {
    let sign = Mark::from(&finding.outcome).sign();
    let figure = match &finding.outcome {
        BandOutcome::Compared(band) => phrases::signed(band.deviation).replace('-', "−"),
        BandOutcome::NoNominal(free) => format!("{:.0} mm²", free.area.free.as_mm2()),
        BandOutcome::NotComputable(_) => return "– not computable".to_owned(),
        BandOutcome::NotChecked(_) => return "– not checked".to_owned(),
    };
    format!("{figure} {sign}").trim_end().to_owned()
}

/// The band in a sentence, for who cannot see the drawing.
pub(super) fn sentence(finding: &BandFinding<'_>) -> String {
    let band = finding.band;
    match &finding.outcome {
        BandOutcome::Compared(compared) => format!(
            "{band}: {}; {}",
            phrases::deviation(compared),
            Mark::from(&finding.outcome).word()
        ),
        BandOutcome::NoNominal(free) => format!(
            "{band}: free area {:.1} mm²; the table has no nominal board to compare it with",
            free.area.free.as_mm2()
        ),
        BandOutcome::NotComputable(missing) => format!(
            "{band}: not computable, and nothing limits it; would need {}",
            reasons::needs(missing)
        ),
        BandOutcome::NotChecked(missing) => {
            format!("{band}: not checked; needs {}", reasons::needs(missing))
        }
    }
}

/// What is shown besides, while a band is pointed at.
pub(super) fn details(finding: &BandFinding<'_>) -> Option<String> {
    let BandOutcome::Compared(band) = &finding.outcome else {
        return None;
    };
    Some(format!(
        "free area {:.1} mm², nominal {:.1} mm²; conforms within {}",
        band.free.area.free.as_mm2(),
        band.nominal.as_mm2(),
        phrases::within(band.bounds.as_ref())
    ))
}
