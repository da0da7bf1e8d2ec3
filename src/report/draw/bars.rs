//! Free areas beside the nominal board's, band by band, as bars on one scale.

use std::fmt::Write;

use super::labels::SMALLEST as SIZE;
use super::svg::{bracket, number, stroke, text};
use super::{hatch, key};
use crate::board::Band;
use crate::conformity::{Assessment, BandFinding, BandOutcome};
use crate::units::Percent;

/// Ends of the scale and its middle, in the drawing's units. Invented.
const LEFT: f64 = 2.0;
const RIGHT: f64 = 378.0;
const MIDDLE: f64 = 190.0;
/// How high a bar is.
const BAR: f64 = 9.0;
/// The least and the greatest deviation that reach the ends, in percent. House rule:
/// limits on areas are a few percent, and what is beyond a third is seen anyway.
const SCALE: (f64, f64) = (2.0, 35.0);

/// Draws a row for every band from `top` down and returns where they end.
pub(super) fn draw(out: &mut String, assessment: &Assessment<'_>, names: &str, top: f64) -> f64 {
    let reach = reach(assessment);
    let mut y = top;
    // From the outside inwards, as one measures.
    for band in Band::ALL.into_iter().rev() {
        let found = assessment.bands.iter().find(|found| found.band == band);
        let Some(finding) = found else { continue };
        text(out, LEFT, y + 12.0, SIZE, "start", "", band.name());
        text(out, RIGHT, y + 12.0, SIZE, "end", "", &figures(finding));
        y += 17.0;
        if let BandOutcome::Compared(compared) = &finding.outcome {
            let x = |percent: Percent| {
                let share = (percent.value() / reach).clamp(-1.0, 1.0);
                MIDDLE + share * (RIGHT - MIDDLE)
            };
            bar(out, names, y, x(compared.deviation), compared.deviation);
            if let Some(bounds) = &compared.bounds {
                brackets(out, y, bounds.lower.map(x), bounds.upper.map(x));
            }
            y += BAR;
        }
        y += 6.0;
    }
    let words = format!("the bars' ends: {reach} % less, {reach} % more; brackets: limits");
    text(out, LEFT, y + 10.0, SIZE, "start", "", &words);
    y + 16.0
}

/// The deviation at the ends of the scale, in percent: a round number.
fn reach(assessment: &Assessment<'_>) -> f64 {
    let each = assessment.bands.iter().flat_map(|finding| {
        let BandOutcome::Compared(band) = &finding.outcome else {
            return [None; 3];
        };
        let bounds = band.bounds.as_ref();
        [
            Some(band.deviation),
            bounds.and_then(|bounds| bounds.lower),
            bounds.and_then(|bounds| bounds.upper),
        ]
    });
    let (least, most) = SCALE;
    let far = each.flatten().map(|percent| percent.value().abs());
    let far = far.fold(least, f64::max).min(most);
    let steps = [2.0, 5.0, 10.0, 20.0, 35.0];
    steps.into_iter().find(|step| far <= *step).unwrap_or(most)
}

fn figures(finding: &BandFinding<'_>) -> String {
    let figure = key::figure(finding);
    match &finding.outcome {
        BandOutcome::Compared(band) => format!(
            "{:.1} of {:.1} mm²   {figure}",
            band.free.area.free.as_mm2(),
            band.nominal.as_mm2()
        ),
        _ => figure,
    }
}

fn bar(out: &mut String, names: &str, y: f64, to: f64, deviation: Percent) {
    let line = format!("M{LEFT} {0}H{RIGHT}", number(y + BAR / 2.0));
    stroke(out, &line, "--line", 0.6);
    let (from, width) = (to.min(MIDDLE), (to - MIDDLE).abs());
    let rect = |out: &mut String, fill: &str| {
        let _ = write!(
            out,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{BAR}\" {fill}/>",
            number(from),
            number(y),
            number(width)
        );
    };
    match hatch::pattern(deviation.value()) {
        Some(pattern) => {
            rect(out, &format!("style=\"fill:var(--{pattern})\""));
            rect(out, &format!("fill=\"url(#{names}{pattern})\""));
        }
        None => rect(out, "style=\"fill:var(--wire)\""),
    }
    let ends = format!(
        "M{MIDDLE} {0}V{1}M{2} {3}V{4}",
        number(y - 2.0),
        number(y + BAR + 2.0),
        number(to),
        number(y),
        number(y + BAR)
    );
    stroke(out, &ends, "--ink", 1.4);
}

fn brackets(out: &mut String, y: f64, lower: Option<f64>, upper: Option<f64>) {
    let ends = (y - 2.0, y + BAR + 2.0);
    let limits = [(lower, 5.0), (upper, -5.0)].into_iter();
    let brackets = limits.filter_map(|(limit, lip)| Some(bracket(limit?, lip, ends)));
    stroke(out, &brackets.collect::<String>(), "--ink", 1.2);
}
