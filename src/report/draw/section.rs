//! Enlarged sections through the treble and the double ring: wires as if cut along a
//! radius, with the limits below them.

use std::fmt::Write;

use super::face;
use super::labels::SMALLEST as SIZE;
use super::section_rows::{Row, rows};
use super::section_wires::Scale;
use super::section_wires::{self as wires, Cut};
use super::svg::{Figure, number, text};
use super::words;
use crate::board::{Band, Mounting, Profile, RingWire};
use crate::conformity::Assessment;
use crate::geometry::{RingShape, Spider};
use crate::report::style::Mark;
use crate::units::Length;

/// How far from its nominal place a wire is said to lie elsewhere, in mm. House rule:
/// what can be seen at the scale of a section.
const DISPLACED: f64 = 0.05;

/// The sections of an assessment's board, one for each ring; none if no wire of either
/// ring has a recorded place.
pub(in crate::report) fn sections(assessment: &Assessment<'_>) -> Vec<Figure> {
    let construction = &*assessment.construction;
    let spider = Spider::of(construction);
    let known = |band: Band| {
        let wires = [band.inner_wire(), Some(band.outer_wire())];
        let mut wires = wires.into_iter().flatten();
        wires.any(|wire| face::known(&spider.rings[wire]).is_some())
    };
    if !known(Band::Treble) && !known(Band::Double) {
        return Vec::new();
    }
    let nominal = assessment.table.nominal(construction.mounting);
    let nominal = nominal.map(|n| (Spider::of(&n.construction), n.construction.profile));
    let figure = |band: Band| {
        let panel = Panel {
            band,
            inner: band.inner_wire().unwrap_or(band.outer_wire()),
            spider: &spider,
            profile: construction.profile,
            nominal: nominal.as_ref().map(|(spider, profile)| (spider, *profile)),
            mounting: construction.mounting,
            rows: rows(assessment, band),
        };
        let mut body = String::new();
        let verdict = format!(
            "{}  {}",
            assessment.board.id,
            Mark::from(assessment.verdict)
        );
        let mut top = 16.0;
        for line in words::wrap(&verdict, 14.0, Scale::RIGHT - Scale::LEFT, 2) {
            text(&mut body, Scale::LEFT, top, 14.0, "start", "", &line);
            top += 18.0;
        }
        top = panel.draw(&mut body, top) + 10.0;
        let caption = caption(nominal.is_some(), construction.profile);
        for line in words::wrap(&caption, SIZE, Scale::RIGHT - Scale::LEFT, 9) {
            text(&mut body, Scale::LEFT, top + 8.0, SIZE, "start", "", &line);
            top += 14.0;
        }
        Figure {
            group: "sections",
            width: Scale::WIDTH,
            height: top + 8.0,
            body,
            title: format!("{}: section through the {band} ring", assessment.board.id),
            description: panel.sentence(),
        }
    };
    [Band::Treble, Band::Double].map(figure).into()
}

fn caption(nominal: bool, profile: Profile) -> String {
    let nominal = if nominal {
        " Dashed outlines: the nominal board's wires."
    } else {
        ""
    };
    let strip = match profile {
        Profile::Strip => format!(
            " How high a strip stands is not recorded: {} mm are drawn.",
            wires::STRIP_HEIGHT
        ),
        Profile::Round => String::new(),
    };
    format!(
        "The bull is to the left; figures are radii in mm.{nominal} Brackets: where an edge may \
         lie; of a width, where the inner wire may begin as seen from the outer one. Heavy \
         ticks: measured, with the expanded uncertainty where it is known.{strip} Staples are \
         left out."
    )
}

struct Panel<'a> {
    band: Band,
    inner: RingWire,
    spider: &'a Spider,
    profile: Profile,
    nominal: Option<(&'a Spider, Profile)>,
    mounting: Mounting,
    rows: Vec<Row>,
}

impl Panel<'_> {
    fn wires(&self) -> [RingWire; 2] {
        [self.inner, self.band.outer_wire()]
    }

    /// Draws the panel from `top` down and returns where it ends.
    fn draw(&self, out: &mut String, top: f64) -> f64 {
        let nominal = self.nominal.map(|(spider, _)| spider);
        let spiders = || [Some(self.spider), nominal].into_iter().flatten();
        let shapes = || spiders().flat_map(|s| self.wires().map(|wire| &s.rings[wire]));
        let mut radii: Vec<f64> = shapes().flat_map(radii).collect();
        radii.extend(self.rows.iter().filter_map(Row::reach).flatten());
        let scale = Scale::around(&radii);
        let heading = format!("{} ring", self.band);
        text(out, Scale::LEFT, top + 13.0, 13.0, "start", "", &heading);
        let mut y = top + 18.0;
        for wire in self.wires() {
            for line in words::wrap(&self.words(wire), SIZE, Scale::RIGHT - Scale::LEFT, 3) {
                y += 14.0;
                text(out, Scale::LEFT, y, SIZE, "start", "", &line);
            }
        }
        y += 8.0;
        let Some(scale) = scale else {
            return self.draw_rows(out, None, y, y);
        };
        scale.bar(out, top + 9.0);
        let cut = |shape, profile| Cut {
            shape,
            profile,
            mounting: self.mounting,
        };
        let own = self
            .wires()
            .map(|w| cut(self.spider.rings[w].clone(), self.profile));
        let nominal = self.nominal.iter();
        let nominal: Vec<Cut> = nominal
            .flat_map(|(s, profile)| self.wires().map(|w| cut(s.rings[w].clone(), *profile)))
            .collect();
        let all = || own.iter().chain(&nominal);
        let above = all().map(Cut::above).fold(0.0, f64::max) * scale.factor;
        let below = all().map(Cut::below).fold(0.0, f64::max) * scale.factor;
        let face = y + above + 6.0;
        let bottom = face + (below + 8.0).max(22.0);
        let (left, right) = (number(Scale::LEFT), number(Scale::RIGHT));
        let (f, b) = (number(face), number(bottom));
        let _ = write!(
            out,
            "<path d=\"M{left} {f}H{right}V{b}H{left}Z\" style=\"fill:var(--bed2)\"/>\
             <path d=\"M{left} {f}H{right}M{left} {b}H{right}\" class=\"lead\"/>"
        );
        for cut in &own {
            cut.draw(out, &scale, face, false);
        }
        for cut in &nominal {
            cut.draw(out, &scale, face, true);
        }
        scale.axis(out, bottom);
        self.draw_rows(out, Some(&scale), bottom + 26.0, bottom + 20.0)
    }

    fn draw_rows(&self, out: &mut String, scale: Option<&Scale>, top: f64, from: f64) -> f64 {
        let mut over = String::new();
        let mut y = top;
        for row in &self.rows {
            y = row.draw((out, &mut over), scale, y, from);
        }
        out.push_str(&over);
        y
    }

    /// A wire: where it is, and how far from the nominal board's.
    fn words(&self, wire: RingWire) -> String {
        let own = &self.spider.rings[wire];
        let nominal = self
            .nominal
            .and_then(|(spider, _)| face::known(&spider.rings[wire]));
        let away = face::known(own)
            .zip(nominal)
            .map(|(own, nominal)| own - nominal);
        let away = match away {
            Some(away) if away.abs() >= DISPLACED => {
                let side = if away < 0.0 {
                    "further in"
                } else {
                    "further out"
                };
                format!(", {:.2} mm {side} than nominal", away.abs())
            }
            _ => String::new(),
        };
        format!("{wire}: {}{away}", found(own))
    }

    /// The panel for who cannot see it.
    fn sentence(&self) -> String {
        let wires = self.wires().map(|wire| self.words(wire));
        let rows: Vec<String> = self.rows.iter().map(Row::sentence).collect();
        let rows = if rows.is_empty() {
            "the table sets no limit on it".to_owned()
        } else {
            rows.join("; ")
        };
        format!("{} ring: {}; {rows}.", self.band, wires.join("; "))
    }
}

/// What is known of a wire, in words.
fn found(shape: &RingShape) -> String {
    match (shape.inside, shape.apex, shape.outside) {
        (Some(inside), Some(apex), Some(outside)) => {
            format!("apex at {apex:.2}, {:.3} thick", outside - inside)
        }
        (None, None, None) => "place not recorded".to_owned(),
        (inside, apex, outside) => {
            let known = [("inside", inside), ("apex", apex), ("outside", outside)];
            let known = known
                .into_iter()
                .filter_map(|(name, radius)| Some(format!("{name} at {:.2}", radius?)));
            let known: Vec<String> = known.collect();
            format!("{}, thickness not recorded", known.join(", "))
        }
    }
}

fn radii(shape: &RingShape) -> Vec<f64> {
    let all = [shape.inside, shape.apex, shape.outside];
    all.into_iter().flatten().map(Length::as_mm).collect()
}
