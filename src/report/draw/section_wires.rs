//! Wires as cut across.

use std::fmt::Write;

use super::scale::Scale;
use super::svg::number;
use crate::board::{Mounting, Profile};
use crate::geometry::RingShape;

/// How high a strip is drawn, in mm. Invented: no board file records it, and
/// nothing depends on it.
pub(super) const STRIP_HEIGHT: f64 = 2.0;

/// A wire where a section cuts it.
pub(super) struct Cut {
    pub(super) shape: RingShape,
    pub(super) profile: Profile,
    pub(super) mounting: Mounting,
}

/// Some radius of a wire, if any was recorded.
pub(super) fn known(shape: RingShape) -> Option<f64> {
    shape.crest.or(shape.outside).or(shape.inside)
}

impl Cut {
    /// Both edges, in mm, if they are known.
    fn edges(&self) -> Option<(f64, f64)> {
        Some((self.shape.inside?, self.shape.outside?))
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
        let outline = match (self.edges(), known(self.shape)) {
            (Some((inside, outside)), _) => {
                let (left, right) = (scale.x(inside), scale.x(outside));
                match self.profile {
                    Profile::Round => {
                        let r = number((right - left) / 2.0);
                        let (l, d) = (number(left), number(right - left));
                        let y = number(f64::midpoint(top, bottom));
                        format!("M{l} {y}a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0Z")
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
