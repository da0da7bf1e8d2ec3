//! What hatchings and marks mean, and how a band is marked with its outcome.

use super::hatch::{UNCHANGED, hatchings};
use super::labels;
use super::svg::{number, text};
use crate::conformity::{BandFinding, BandOutcome};
use crate::geometry::Point;
use crate::report::says::{phrases, reasons};
use crate::report::style::Mark;
use std::fmt::Write;

/// Height of a key, in mm.
pub(super) const HEIGHT: f64 = 74.0;
/// Size of type and step from line to line, in mm. Invented, like the height.
const SIZE: f64 = 8.0;
const ROW: f64 = 13.5;

/// Draws the key with its upper left corner at a place.
pub(super) fn draw(out: &mut String, names: &str, (left, top): (f64, f64)) {
    let row = |index: usize| top + 12.0 + ROW * index as f64;
    let heading = "free area compared with the nominal board";
    text(out, left, top + 6.0, SIZE, "start", "", heading);
    for (index, (pattern, words)) in hatchings().iter().enumerate() {
        let (column, line) = (index / 3, index % 3);
        let x = left + 110.0 * column as f64;
        let fill = format!("fill=\"url(#{names}{pattern})\"");
        swatch(out, (x, row(line)), &fill);
        text(out, x + 26.0, row(line) + 7.5, SIZE, "start", "", words);
    }
    swatch(out, (left, row(3)), "fill=\"none\"");
    let plain = format!("plain: within {UNCHANGED} % of it, or not known");
    text(out, left + 26.0, row(3) + 7.5, SIZE, "start", "", &plain);
    let x = left + 232.0;
    text(out, x, top + 6.0, SIZE, "start", "", "verdict on the band");
    for (index, mark) in [
        Mark::Conforms,
        Mark::DoesNotConform,
        Mark::Inconclusive,
        Mark::NotChecked,
    ]
    .into_iter()
    .enumerate()
    {
        let y = row(index);
        if let Some((width, dashes)) = outline(mark) {
            for y in [y + 1.0, y + 9.0] {
                let _ = write!(
                    out,
                    "<path d=\"M{} {}h20\" stroke-dasharray=\"{dashes}\" \
                     style=\"stroke:var(--ink);stroke-width:{width};fill:none\"/>",
                    number(x),
                    number(y)
                );
            }
        }
        let notice = mark == Mark::DoesNotConform;
        let at = Point::mm(x + 30.0, -(y + 5.0));
        labels::on_bed(out, at, SIZE, mark.sign(), notice);
        text(out, x + 40.0, y + 7.5, SIZE, "start", "", mark.word());
    }
}

fn swatch(out: &mut String, (x, y): (f64, f64), fill: &str) {
    for fill in ["style=\"fill:var(--bed)\"", fill] {
        let _ = write!(
            out,
            "<rect x=\"{}\" y=\"{}\" width=\"20\" height=\"10\" stroke-width=\".6\" {fill}/>",
            number(x),
            number(y)
        );
    }
    let _ = write!(
        out,
        "<rect x=\"{}\" y=\"{}\" width=\"20\" height=\"10\" \
         style=\"fill:none;stroke:var(--ink);stroke-width:.5\"/>",
        number(x),
        number(y)
    );
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
