//! The limits of a ring as bars on its section.

use std::fmt::Write;

use super::labels::SMALLEST as SIZE;
use super::section_wires::Scale;
use super::svg::{bracket, number, stroke, text};
use super::words;
use crate::board::{Band, Edge};
use crate::conformity::{Assessment, LengthFinding, LimitFinding, Outcome};
use crate::report::says::{phrases, reasons};
use crate::report::style::Mark;
use crate::table::Measurand;
use crate::units::Length;

/// Step from line to line, in units of the drawing. Invented.
const LINE: f64 = 14.5;
/// How far a bar without an end is drawn, in mm. Invented.
const OPEN: f64 = 0.6;

/// A limit: what is said of it, and where it lies if that is known.
pub(super) struct Row {
    lines: Vec<String>,
    bar: Option<Bar>,
}

/// Radii in mm: what is allowed, and what was measured.
struct Bar {
    lower: Option<f64>,
    upper: Option<f64>,
    measured: f64,
    /// Expanded uncertainty.
    uncertainty: Option<f64>,
}

impl Bar {
    /// Where the bar begins and ends; one that is open goes on past the
    /// measured edge.
    fn ends(&self) -> [f64; 2] {
        let inner = self.upper.unwrap_or(self.measured).min(self.measured) - OPEN;
        let outer = self.lower.unwrap_or(self.measured).max(self.measured) + OPEN;
        [self.lower.unwrap_or(inner), self.upper.unwrap_or(outer)]
    }

    /// The least and the greatest radius that is drawn.
    fn reach(&self) -> [f64; 2] {
        let [lower, upper] = self.ends();
        let u = self.uncertainty.unwrap_or_default();
        [lower.min(self.measured - u), upper.max(self.measured + u)]
    }
}

/// The limits on the radii and on the width of a ring.
pub(super) fn rows(assessment: &Assessment<'_>, band: Band) -> Vec<Row> {
    let of_ring = |finding: &&LimitFinding<'_>| {
        matches!(
            (band, finding.limit.measurand),
            (
                Band::Treble,
                Measurand::TrebleWidth | Measurand::TrebleOuterRadius
            ) | (
                Band::Double,
                Measurand::DoubleWidth
                    | Measurand::DoubleOuterRadius
                    | Measurand::DoubleOuterDiameter
            )
        )
    };
    let findings = assessment.limits.iter().filter(of_ring);
    findings.map(|found| row(assessment, band, found)).collect()
}

fn row(assessment: &Assessment<'_>, band: Band, found: &LimitFinding<'_>) -> Row {
    let subject = phrases::subject(found);
    match &found.outcome {
        Outcome::Length(finding) => {
            let bar = bar(assessment, band, found, finding);
            let halved = found.limit.measurand == Measurand::DoubleOuterDiameter;
            let how = match bar {
                Some(_) if halved => ", drawn at half",
                Some(_) => "",
                None => ", not drawn: no radius was recorded",
            };
            let mark = Mark::from(finding.decided.verdict);
            Row {
                lines: vec![
                    format!("{subject}{how}"),
                    format!(
                        "{}, allowed {}  {mark}",
                        phrases::value(finding, phrases::places(finding, found.limit.measurand)),
                        phrases::interval(finding.interval, 2)
                    ),
                ],
                bar,
            }
        }
        Outcome::NotChecked(missing) => Row {
            lines: vec![
                subject,
                format!("– not checked; needs {}", reasons::needs(missing)),
            ],
            bar: None,
        },
        Outcome::Mounting { .. } | Outcome::Bed(_) => Row {
            lines: vec![subject],
            bar: None,
        },
    }
}

fn bar(
    assessment: &Assessment<'_>,
    band: Band,
    found: &LimitFinding<'_>,
    finding: &LengthFinding,
) -> Option<Bar> {
    let value = finding.value.as_mm();
    let lower = finding.interval.lower.map(Length::as_mm);
    let upper = finding.interval.upper.map(Length::as_mm);
    let uncertainty = finding.uncertainty.map(|u| u.expanded().expanded);
    let width = matches!(
        found.limit.measurand,
        Measurand::TrebleWidth | Measurand::DoubleWidth
    );
    if width {
        // From the outer wire, as measured, to where the inner one may begin.
        let construction = &*assessment.construction;
        let edge = found.limit.edge.unwrap_or(Edge::Inside);
        let outer = construction.edge_radius(band.outer_wire(), edge)?;
        let outer = construction.value(&outer).as_mm();
        return Some(Bar {
            lower: upper.map(|width| outer - width),
            upper: lower.map(|width| outer - width),
            measured: outer - value,
            uncertainty,
        });
    }
    let factor = match found.limit.measurand {
        Measurand::DoubleOuterDiameter => 0.5,
        _ => 1.0,
    };
    Some(Bar {
        lower: lower.map(|length| factor * length),
        upper: upper.map(|length| factor * length),
        measured: factor * value,
        uncertainty: uncertainty.map(|u| factor * u),
    })
}

impl Row {
    /// The radii that must have room, in mm.
    pub(super) fn reach(&self) -> Option<[f64; 2]> {
        self.bar.as_ref().map(Bar::reach)
    }

    /// Both lines as a sentence.
    pub(super) fn sentence(&self) -> String {
        self.lines.join(": ")
    }

    /// Draws the row from `top` down and returns where it ends. `from` is where
    /// the line down to the measured edge begins; such lines pass below the
    /// words, which therefore go into `over`.
    pub(super) fn draw(
        &self,
        (out, over): (&mut String, &mut String),
        scale: Option<&Scale>,
        top: f64,
        from: f64,
    ) -> f64 {
        let (Some(bar), Some(scale)) = (&self.bar, scale) else {
            return self.text(over, (Scale::LEFT, top), "start");
        };
        let [left, right] = bar.reach().map(|radius| scale.x(radius));
        let room = |line: &String| words::width(line, SIZE);
        let wide = self.lines.iter().map(room).fold(0.0, f64::max);
        let gap = 12.0;
        let beside = if right + gap + wide <= Scale::RIGHT {
            Some((right + gap, "start"))
        } else if left - gap - wide >= Scale::LEFT {
            Some((left - gap, "end"))
        } else {
            None
        };
        let (y, end) = if let Some((x, anchor)) = beside {
            self.text(over, (x, top), anchor);
            (top + LINE, top + 2.0 * LINE + 12.0)
        } else {
            // No room on either side: the words go on top.
            let below = self.text(over, (Scale::LEFT, top), "start");
            (below + 6.0, below + 26.0)
        };
        bar.draw(out, scale, y, from);
        end
    }

    fn text(&self, out: &mut String, (x, top): (f64, f64), anchor: &str) -> f64 {
        let mut y = top;
        for line in &self.lines {
            for line in words::wrap(line, SIZE, Scale::RIGHT - Scale::LEFT, 3) {
                y += LINE;
                text(out, x, y - 3.0, SIZE, anchor, "halo", &line);
            }
        }
        y + 12.0
    }
}

impl Bar {
    fn draw(&self, out: &mut String, scale: &Scale, y: f64, from: f64) {
        let [left, right] = self.ends().map(|radius| scale.x(radius));
        let (top, bottom) = (number(y - 6.0), number(y + 6.0));
        let (l, r) = (number(left), number(right));
        let at = number(scale.x(self.measured));
        let middle = number(y);
        let _ = write!(
            out,
            "<path d=\"M{at} {}V{top}\" stroke-dasharray=\"2 3\" class=\"lead\"/>\
             <path d=\"M{l} {top}H{r}V{bottom}H{l}Z\" style=\"fill:var(--s2)\"/>",
            number(from)
        );
        // An end that is no limit stays open.
        for (limit, x, lip) in [(self.lower, left, 5.0), (self.upper, right, -5.0)] {
            if limit.is_some() {
                let bracket = bracket(x, lip, (y - 9.0, y + 9.0));
                stroke(out, &bracket, "--ink", 1.4);
            }
        }
        let mut lines = format!("M{at} {}V{}", number(y - 12.0), number(y + 12.0));
        if let Some(u) = self.uncertainty {
            let ends = [self.measured - u, self.measured + u].map(|r| number(scale.x(r)));
            let caps = ends
                .each_ref()
                .map(|x| format!("M{x} {}V{}", number(y - 4.0), number(y + 4.0)));
            let _ = write!(lines, "M{}", ends.join(&format!(" {middle}H")));
            lines.push_str(&caps.concat());
        }
        stroke(out, &lines, "--ink", 1.8);
    }
}
