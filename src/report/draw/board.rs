//! A board to scale, each band by how far its free area deviates.

use std::fmt::Write;

use super::places::Places;
use super::svg::{Figure, circle, number, safe, text};
use super::{face, hatch, key, labels, words};
use crate::board::Band;
use crate::conformity::{Assessment, BandFinding, BandOutcome};
use crate::geometry::{Bed, Point, Spider};
use crate::report::style::Mark;

/// The board of an assessment. `names` goes before the names of patterns, which
/// a whole page shares: letters and digits only.
pub(in crate::report) fn board(assessment: &Assessment<'_>, names: &str) -> Figure {
    let construction = &*assessment.construction;
    let spider = Spider::of(construction);
    let nominal = assessment.table.nominal(construction.mounting);
    let nominal = nominal.map(|nominal| Spider::of(&nominal.construction));
    let places = Places::new(&spider, nominal.as_ref());
    let half = face::half(&spider);
    let layout = Layout {
        places: &places,
        half,
        note: if places.missing().is_empty() {
            0.0
        } else {
            14.0
        },
    };
    Figure {
        group: "boards",
        width: 2.0 * half,
        height: 2.0 * half + layout.note + key::HEIGHT,
        body: layout.draw(assessment, names),
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
    /// Room for the line about wires that were not recorded.
    note: f64,
}

impl Layout<'_> {
    fn draw(&self, assessment: &Assessment<'_>, names: &str) -> String {
        let mut out = String::new();
        let spider = self.places.spider;
        let half = number(self.half);
        hatch::define(&mut out, names);
        let _ = write!(out, "<g transform=\"translate({half} {half})\">");
        let below = self.half + 4.0;
        if self.note > 0.0 {
            let words = "thin dashed lines: wires of which the place or the thickness was not \
                         recorded";
            text(&mut out, 0.0, below + 4.0, 8.0, "middle", "", words);
        }
        key::draw(&mut out, names, (-180.0, below + self.note));
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
                // Words are longer than figures, and rings are narrow and round.
                let words = matches!(
                    finding.outcome,
                    BandOutcome::NotComputable(_) | BandOutcome::NotChecked(_)
                );
                let narrow = matches!(band, Band::Treble | Band::Double);
                let factor = if words && narrow { 0.8 } else { 1.0 };
                labels::on_bed(out, at, factor * labels::size(band), &figure, notice);
            }
        }
        self.figures(out, &sentence, key::details(finding).as_deref());
        out.push_str("</g>");
    }

    /// The band's figures, over the key.
    fn figures(&self, out: &mut String, sentence: &str, details: Option<&str>) {
        const SIZE: f64 = 9.0;
        let top = self.half + self.note;
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
                y += 12.0;
            }
            y += 3.0;
        }
        out.push_str("</g>");
    }
}
