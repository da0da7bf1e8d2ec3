//! A board in two drawings: to scale, each band by how far its free area deviates and
//! with the lengths that are wrong pointed at; and these magnified, beside the areas.

use std::fmt::Write;

use super::labels::SMALLEST as SIZE;
use super::places::Places;
use super::spots::{Spot, spots};
use super::svg::{Figure, circle, number, safe, text};
use super::{bars, face, hatch, key, labels, lens, words};
use crate::board::Band;
use crate::conformity::{Assessment, BandFinding, BandOutcome};
use crate::geometry::{Bed, Point, Spider};
use crate::report::style::Mark;

/// Both drawings of an assessment's board. `names` goes before the names of patterns,
/// which a whole page shares: letters and digits only.
pub(in crate::report) fn board(assessment: &Assessment<'_>, names: &str) -> [Figure; 2] {
    let spots = spots(assessment);
    [
        face_of(assessment, names, &spots),
        magnified(assessment, names, &spots),
    ]
}

fn face_of(assessment: &Assessment<'_>, names: &str, spots: &[Spot<'_>]) -> Figure {
    let construction = &*assessment.construction;
    let spider = Spider::of(construction);
    let nominal = assessment.table.nominal(construction.mounting);
    let nominal = nominal.map(|nominal| Spider::of(&nominal.construction));
    let places = Places::new(&spider, nominal.as_ref());
    let half = face::half(&spider);
    let layout = Layout {
        places: &places,
        half,
    };
    Figure {
        group: "boards",
        width: 2.0 * half,
        height: 2.0 * half + key::HEIGHT,
        body: layout.draw(assessment, names, spots),
        title: match nominal {
            Some(_) => format!(
                "{}: free areas compared with the nominal board",
                assessment.board.id
            ),
            None => format!("{}: free areas", assessment.board.id),
        },
        description: description(assessment, &places),
    }
}

/// The free areas beside the nominal board's, and the lengths that are pointed at.
fn magnified(assessment: &Assessment<'_>, names: &str, spots: &[Spot<'_>]) -> Figure {
    const WIDTH: f64 = 380.0;
    let mut body = String::new();
    // Patterns have names of their own here: a drawing may stand alone.
    let names = format!("{names}m");
    hatch::define(&mut body, &names);
    let mut y = 14.0;
    text(&mut body, 2.0, y, 13.0, "start", "", "free areas, mm²");
    y = bars::draw(&mut body, assessment, &names, y + 6.0) + 22.0;
    let mut sentences = Vec::new();
    if !spots.is_empty() {
        text(&mut body, 2.0, y, 13.0, "start", "", lens::heading(spots));
        y += 10.0;
        for spot in spots {
            y = lens::draw(&mut body, spot, y);
            sentences.push(lens::sentence(spot));
        }
    }
    Figure {
        group: "boards",
        width: WIDTH,
        height: y,
        body,
        title: format!("{}: areas and limits", assessment.board.id),
        description: if sentences.is_empty() {
            "No length was judged.".to_owned()
        } else {
            format!(
                "Heavy lines: measured, with the expanded uncertainty where it is known; brackets: \
                 what is allowed; grey: the wire. {}.",
                sentences.join(". ")
            )
        },
    }
}

fn description(assessment: &Assessment<'_>, places: &Places<'_>) -> String {
    let bands: Vec<String> = assessment.bands.iter().map(key::sentence).collect();
    let missing = places.missing();
    let missing = if missing.is_empty() {
        String::new()
    } else {
        format!(
            " Not recorded, and drawn as a thin dashed line: {}.",
            missing.join(", ")
        )
    };
    format!(
        "The board to scale, metal at its true width. {}.{missing}",
        bands.join(". ")
    )
}

struct Layout<'a> {
    places: &'a Places<'a>,
    half: f64,
}

impl Layout<'_> {
    fn draw(&self, assessment: &Assessment<'_>, names: &str, spots: &[Spot<'_>]) -> String {
        let mut out = String::new();
        let spider = self.places.spider;
        let half = number(self.half);
        hatch::define(&mut out, names);
        let _ = write!(out, "<g transform=\"translate({half} {half})\">");
        let below = self.half + 4.0;
        if !self.places.missing().is_empty() {
            // In the corner, where there is room beside the round board.
            let words = "dashed: not recorded";
            text(
                &mut out,
                2.0 - self.half,
                self.half - 2.0,
                SIZE,
                "start",
                "",
                words,
            );
        }
        key::draw(&mut out, names, (-178.0, below));
        face::metal(&mut out, spider, self.places.sector_wires());
        let of_band = |band: Band| assessment.bands.iter().find(|found| found.band == band);
        face::beds(&mut out, spider, names, |bed: Bed| {
            match &of_band(bed.band())?.outcome {
                BandOutcome::Compared(band) => hatch::pattern(band.bed_deviation(bed)?.value()),
                _ => None,
            }
        });
        self.places.draw_missing(&mut out);
        face::numbers(&mut out, face::rim(spider));
        for finding in &assessment.bands {
            self.outline(&mut out, finding);
        }
        // Bulls last: their figures stand on the inner singles.
        for finding in assessment.bands.iter().rev() {
            self.band(&mut out, finding);
        }
        for spot in spots {
            spot.draw(&mut out, spider);
        }
        out.push_str("</g>");
        out
    }

    /// A band's outline, along its edges and within them.
    fn outline(&self, out: &mut String, finding: &BandFinding<'_>) {
        let Some((stroke, dashes)) = key::outline(Mark::from(&finding.outcome)) else {
            return;
        };
        let [(inner_centre, inner), (centre, outer)] = self.places.edges(finding.band);
        // Most of a narrow ring stays free for its hatching.
        let stroke = stroke.min(0.14 * (outer - inner));
        let mut lines = circle(centre, outer - stroke / 2.0);
        if finding.band.inner_wire().is_some() {
            lines.push_str(&circle(inner_centre, inner + stroke / 2.0));
        }
        let _ = write!(
            out,
            "<path d=\"{lines}\" stroke-dasharray=\"{dashes}\" \
             style=\"stroke:var(--ink);stroke-width:{};fill:none\"/>",
            number(stroke)
        );
    }

    /// What can be pointed at, with the band's figures.
    fn band(&self, out: &mut String, finding: &BandFinding<'_>) {
        let band = finding.band;
        let [(inner_centre, inner), (centre, outer)] = self.places.edges(band);
        let sentence = key::sentence(finding);
        let safe_sentence = safe(&sentence);
        let _ = write!(
            out,
            "<g tabindex=\"0\" class=\"band\" role=\"img\" aria-label=\"{safe_sentence}\">\
             <title>{safe_sentence}</title>\
             <path class=\"ring\" d=\"{}{}\" fill=\"none\" fill-rule=\"evenodd\"/>",
            circle(centre, outer),
            circle(inner_centre, inner)
        );
        let middle = f64::midpoint(inner, outer);
        let figure = key::figure(finding);
        let notice = Mark::from(&finding.outcome) == Mark::DoesNotConform;
        match band {
            Band::InnerBull => labels::beside_bull(out, band, 0.0, &figure, notice),
            Band::OuterBull => labels::beside_bull(out, band, middle, &figure, notice),
            _ => {
                let at = Point::mm(0.0, middle);
                labels::on_bed(out, at, labels::size(band), &figure, notice);
            }
        }
        self.figures(out, &sentence, key::details(finding).as_deref());
        out.push_str("</g>");
    }

    /// The band's figures, over the key.
    fn figures(&self, out: &mut String, sentence: &str, details: Option<&str>) {
        let top = self.half;
        let _ = write!(
            out,
            "<g class=\"figures\"><rect x=\"-{}\" y=\"{}\" width=\"{}\" height=\"{}\" \
             style=\"fill:var(--paper)\"/>",
            number(self.half),
            number(top),
            number(2.0 * self.half),
            number(key::HEIGHT)
        );
        let mut y = top + 14.0;
        let lines = [Some(sentence), details];
        for line in lines.into_iter().flatten() {
            for line in words::wrap(line, SIZE, 360.0, 4) {
                text(out, -180.0, y, SIZE, "start", "", &line);
                y += 14.0;
            }
            y += 3.0;
        }
        out.push_str("</g>");
    }
}
