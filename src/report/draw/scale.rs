//! Radii on a section.

use std::fmt::Write;

use super::svg::{number, text};

/// From radii in mm to places across a section.
pub(super) struct Scale {
    least: f64,
    /// Units of the drawing for 1 mm.
    pub(super) factor: f64,
}

impl Scale {
    /// Width of the drawing and the ends of its scale, in units of the drawing.
    /// Invented.
    pub(super) const WIDTH: f64 = 720.0;
    pub(super) const LEFT: f64 = 20.0;
    pub(super) const RIGHT: f64 = 700.0;
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
            if (40.0..=680.0).contains(&x) {
                let figure = format!("{tick:.decimals$}");
                text(out, x, y + 16.0, 10.0, "middle", "", &figure);
            }
            tick += step;
        }
    }

    /// A bar that says how large things are, its right end at the right.
    pub(super) fn bar(&self, out: &mut String, y: f64) {
        let step = self.step();
        let left = Self::RIGHT - step * self.factor;
        let _ = write!(
            out,
            "<path d=\"M{} {}v6m0 -3H{}m0 -3v6\" \
             style=\"stroke:var(--ink);stroke-width:1.4;fill:none\"/>",
            number(left),
            number(y - 3.0),
            number(Self::RIGHT)
        );
        text(
            out,
            left - 8.0,
            y + 4.0,
            12.0,
            "end",
            "",
            &format!("{step} mm"),
        );
    }
}
