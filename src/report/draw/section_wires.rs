//! Wires as cut across, and the scale that they are drawn to.

use super::face::known;
use super::labels::SMALLEST;
use super::svg::{circle, number, stroke, text};
use crate::board::{Mounting, Profile};
use crate::geometry::{Point, RingShape};
use std::fmt::Write;

/// How high a strip is drawn, in mm. Invented: no board file records it, and
/// nothing depends on it.
pub(super) const STRIP_HEIGHT: f64 = 2.0;

/// A wire where a section cuts it.
pub(super) struct Cut {
    pub(super) shape: RingShape,
    pub(super) profile: Profile,
    pub(super) mounting: Mounting,
}

impl Cut {
    /// Both edges, in mm, if they are known.
    fn edges(&self) -> Option<(f64, f64)> {
        Some((self.shape.inside?.as_mm(), self.shape.outside?.as_mm()))
    }

    fn height(&self) -> f64 {
        match self.profile {
            Profile::Round => self
                .edges()
                .map_or(0.0, |(inside, outside)| outside - inside),
            Profile::Strip => STRIP_HEIGHT,
        }
    }

    /// How far it stands out of the face, in mm: what staples hold lies on it,
    /// what is let in is drawn half sunk (invented: no file records it).
    pub(super) fn above(&self) -> f64 {
        match self.mounting {
            Mounting::Staples => self.height(),
            Mounting::Embedded => self.height() / 2.0,
        }
    }

    /// How far it goes into the face, in mm.
    pub(super) fn below(&self) -> f64 {
        self.height() - self.above()
    }

    /// Draws the wire, or where it is if its thickness is not known; a nominal
    /// one as a dashed outline.
    pub(super) fn draw(&self, out: &mut String, scale: &Scale, face: f64, nominal: bool) {
        let top = face - self.above() * scale.factor;
        let bottom = face + self.below() * scale.factor;
        let outline = match (self.edges(), known(&self.shape)) {
            (Some((inside, outside)), _) => {
                let (left, right) = (scale.x(inside), scale.x(outside));
                match self.profile {
                    Profile::Round => {
                        let middle = f64::midpoint(left, right);
                        // The y of a figure runs downwards.
                        let centre = Point::new(middle, -f64::midpoint(top, bottom));
                        circle(centre, (right - left) / 2.0)
                    }
                    Profile::Strip => {
                        let (l, r) = (number(left), number(right));
                        let (t, b) = (number(top), number(bottom));
                        format!("M{l} {t}H{r}V{b}H{l}Z")
                    }
                }
            }
            (None, Some(radius)) => {
                let x = number(scale.x(radius));
                let (t, b) = (number(face - 30.0), number(face));
                let style = "style=\"stroke:var(--wire);stroke-width:1.5\"";
                let _ = write!(out, "<path d=\"M{x} {t}V{b}\" {style}/>");
                return;
            }
            (None, None) => return,
        };
        if nominal {
            let _ = write!(
                out,
                "<path d=\"{outline}\" style=\"fill:none;stroke:var(--paper);stroke-width:2.6\"/>\
                 <path d=\"{outline}\" stroke-dasharray=\"5 3\" \
                 style=\"fill:none;stroke:var(--ink);stroke-width:1.2\"/>"
            );
        } else {
            let _ = write!(
                out,
                "<path d=\"{outline}\" style=\"fill:var(--wire);stroke:var(--ink);stroke-width:.8\"/>"
            );
        }
    }
}

/// From radii in mm to places across a section.
pub(super) struct Scale {
    least: f64,
    /// Units of the drawing for 1 mm.
    pub(super) factor: f64,
}

impl Scale {
    /// Width of the drawing and the ends of its scale, in units of the drawing.
    /// Invented.
    pub(super) const WIDTH: f64 = 380.0;
    pub(super) const LEFT: f64 = 2.0;
    pub(super) const RIGHT: f64 = 378.0;
    /// Room beside the outermost things, in mm. Invented.
    const MARGIN: f64 = 0.5;
    /// The least that is shown, in mm: a ring with its wires. Invented.
    const LEAST: f64 = 8.0;

    /// So that all these radii have room; `None` if there are none.
    pub(super) fn around(radii: &[f64]) -> Option<Self> {
        let low = radii.iter().copied().reduce(f64::min)?;
        let high = radii.iter().copied().reduce(f64::max)?;
        let missing = (Self::LEAST - (high - low)).max(0.0) / 2.0;
        let (low, high) = (low - missing - Self::MARGIN, high + missing + Self::MARGIN);
        Some(Self {
            least: low,
            factor: (Self::RIGHT - Self::LEFT) / (high - low),
        })
    }

    pub(super) fn x(&self, radius: f64) -> f64 {
        Self::LEFT + (radius - self.least) * self.factor
    }

    /// A length that a scale bar or the step of an axis should have, in mm.
    pub(super) fn step(&self) -> f64 {
        // So far apart that figures on an axis do not touch.
        let steps = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
        let step = steps.into_iter().find(|step| step * self.factor >= 36.0);
        step.unwrap_or(100.0)
    }

    /// Radii along the bottom of a section.
    pub(super) fn axis(&self, out: &mut String, y: f64) {
        let step = self.step();
        let decimals = usize::from(step < 1.0);
        let highest = self.least + (Self::RIGHT - Self::LEFT) / self.factor;
        let mut tick = (self.least / step).ceil() * step;
        while tick <= highest {
            let x = self.x(tick);
            let _ = write!(
                out,
                "<path d=\"M{} {}v5\" class=\"lead\"/>",
                number(x),
                number(y)
            );
            if (Self::LEFT + 16.0..=Self::RIGHT - 16.0).contains(&x) {
                let figure = format!("{tick:.decimals$}");
                text(out, x, y + 17.0, SMALLEST, "middle", "", &figure);
            }
            tick += step;
        }
    }

    /// A bar that says how large things are, its right end at the right.
    pub(super) fn bar(&self, out: &mut String, y: f64) {
        let step = self.step();
        let left = Self::RIGHT - step * self.factor;
        let (from, to) = (number(left), number(Self::RIGHT));
        let path = format!("M{from} {}v6m0 -3H{to}m0 -3v6", number(y - 3.0));
        stroke(out, &path, "--ink", 1.4);
        let words = format!("{step} mm");
        text(out, left - 8.0, y + 4.0, SMALLEST, "end", "", &words);
    }
}
