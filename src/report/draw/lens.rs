//! A length magnified at the limit that it breaks, or is closest to: where the edge
//! lies, and where it may lie.

use std::fmt::Write;

use super::labels::SMALLEST as SIZE;
use super::spots::Spot;
use super::svg::{bracket, number, stroke, text};
use super::words;
use crate::board::Edge;
use crate::report::says::phrases;
use crate::report::style::Mark;
use crate::table::Measurand;
use crate::units::Length;

/// Ends of the strip, and how high it is, in the drawing's units. Invented.
const LEFT: f64 = 2.0;
const RIGHT: f64 = 378.0;
const STRIP: f64 = 22.0;
/// The least that is shown from end to end, in mm: a tenth is then a tenth of it.
/// House rule.
const LEAST: f64 = 1.0;

/// Draws one from `top` down and returns where it ends.
pub(super) fn draw(out: &mut String, spot: &Spot<'_>, top: f64) -> f64 {
    let subject = phrases::subject(spot.finding);
    let judged = format!("{} {}", judged(spot), spot.mark().sign());
    spot.tag(out, LEFT + 9.0, top + 10.0);
    let mut y = top;
    for line in [subject, judged] {
        for line in words::wrap(&line, SIZE, RIGHT - LEFT - 26.0, 3) {
            y += 14.0;
            text(out, LEFT + 26.0, y, SIZE, "start", "", &line);
        }
    }
    Strip::of(spot).draw(out, spot, y + 9.0)
}

/// The description for who cannot see it.
pub(super) fn sentence(spot: &Spot<'_>) -> String {
    format!(
        "{}: {}: {}, {}",
        spot.letter,
        phrases::subject(spot.finding),
        judged(spot),
        spot.mark().word()
    )
}

/// The value with the limits.
fn judged(spot: &Spot<'_>) -> String {
    let decimals = phrases::places(spot.length, spot.finding.limit.measurand);
    format!(
        "{}, allowed {}",
        phrases::value(spot.length, decimals),
        phrases::interval(spot.length.interval, decimals)
    )
}

/// The stretch that is shown.
struct Strip {
    /// The lengths at its ends, in mm.
    from: f64,
    to: f64,
    lower: Option<f64>,
    upper: Option<f64>,
    value: f64,
    /// Expanded uncertainty.
    uncertainty: f64,
}

impl Strip {
    fn of(spot: &Spot<'_>) -> Self {
        let mm = |limit: Option<Length>| limit.map(Length::as_mm);
        let (lower, upper) = (
            mm(spot.length.interval.lower),
            mm(spot.length.interval.upper),
        );
        let value = spot.length.value.as_mm();
        let uncertainty = spot.length.uncertainty;
        let uncertainty = uncertainty.map_or(0.0, |u| u.expanded().expanded);
        let shown = [
            lower,
            upper,
            Some(value - uncertainty),
            Some(value + uncertainty),
        ];
        let shown = || shown.into_iter().flatten();
        let (low, high) = (shown().fold(value, f64::min), shown().fold(value, f64::max));
        let room = (0.12 * (high - low)).max(0.5 * (LEAST - (high - low)));
        Self {
            from: low - room,
            to: high + room,
            lower,
            upper,
            value,
            uncertainty,
        }
    }

    fn x(&self, length: f64) -> f64 {
        LEFT + (length - self.from) / (self.to - self.from) * (RIGHT - LEFT)
    }

    fn draw(&self, out: &mut String, spot: &Spot<'_>, top: f64) -> f64 {
        let bottom = top + STRIP;
        self.rect(out, "--bed2", (self.from, self.to), (top, bottom));
        let allowed = (
            self.lower.unwrap_or(self.from),
            self.upper.unwrap_or(self.to),
        );
        self.rect(out, "--s2", allowed, (top, bottom));
        if let Some(wire) = self.metal(spot) {
            self.rect(out, "--line", wire, (top + 7.0, bottom - 7.0));
        }
        // Brackets open towards what is allowed; a side without a limit has none.
        let limits = [(self.lower, 6.0), (self.upper, -6.0)].into_iter();
        let ends = (top - 3.0, bottom + 3.0);
        let brackets = limits.filter_map(|(limit, lip)| {
            let x = self.x(limit?);
            Some(bracket(x, lip, ends))
        });
        let brackets: String = brackets.collect();
        stroke(out, &brackets, "--ink", 1.2);
        self.edge(out, (top, bottom));
        self.axis(out, bottom);
        bottom + 27.0
    }

    /// Where the edge was found, with its uncertainty.
    fn edge(&self, out: &mut String, (top, bottom): (f64, f64)) {
        let x = self.x(self.value);
        let mut lines = format!(
            "M{} {}V{}",
            number(x),
            number(top - 4.0),
            number(bottom + 4.0)
        );
        if self.uncertainty > 0.0 {
            let middle = f64::midpoint(top, bottom);
            let ends = [-1.0, 1.0].map(|side| self.x(self.value + side * self.uncertainty));
            let [from, to] = ends.map(number);
            let (above, below) = (number(middle - 4.0), number(middle + 4.0));
            let _ = write!(
                lines,
                "M{from} {above}V{below}M{to} {above}V{below}M{from} {}H{to}",
                number(middle)
            );
        }
        stroke(out, &lines, "--paper", 5.0);
        stroke(out, &lines, "--ink", 2.4);
    }

    /// From where to where there is metal, as far as it is shown.
    fn metal(&self, spot: &Spot<'_>) -> Option<(f64, f64)> {
        let limit = spot.finding.limit;
        let far = self.to - self.from;
        let (from, to) = match (limit.measurand, limit.edge) {
            (measurand, _) if measurand.is_gauge() => (self.value - far, self.value),
            (Measurand::RingRoundness | Measurand::RingOffset, _)
            | (_, None | Some(Edge::Apex)) => return None,
            // A wire is thicker than what is shown.
            (_, Some(Edge::Inside)) => (self.value, self.value + far),
            (_, Some(Edge::Outside)) => (self.value - far, self.value),
        };
        Some((from.max(self.from), to.min(self.to)))
    }

    fn rect(
        &self,
        out: &mut String,
        colour: &str,
        (from, to): (f64, f64),
        (top, bottom): (f64, f64),
    ) {
        let (from, to) = (self.x(from), self.x(to));
        let _ = write!(
            out,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" style=\"fill:var({colour})\"/>",
            number(from),
            number(top),
            number((to - from).max(0.0)),
            number(bottom - top)
        );
    }

    /// A tick for every tenth where tenths can be told apart, a figure where there is
    /// room for it.
    fn axis(&self, out: &mut String, y: f64) {
        let factor = (RIGHT - LEFT) / (self.to - self.from);
        let steps = || {
            [
                0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0,
            ]
        };
        let step = |least: f64| steps().into_iter().find(|step| step * factor >= least);
        let Some(ticks) = step(6.0) else { return };
        let ticks = ticks.max(0.1);
        let figures = step(48.0).unwrap_or(200.0).max(ticks);
        let mut lines = String::new();
        for at in self.multiples(ticks) {
            let _ = write!(lines, "M{} {}v4", number(self.x(at)), number(y));
        }
        let decimals = match figures {
            step if step < 0.1 => 2,
            step if step < 1.0 => 1,
            _ => 0,
        };
        for at in self.multiples(figures) {
            let x = self.x(at);
            let _ = write!(lines, "M{} {}v7", number(x), number(y));
            let half = 20.0;
            let words = format!("{at:.decimals$}");
            let x = x.clamp(LEFT + half, RIGHT - half);
            text(out, x, y + 19.0, SIZE, "middle", "", &words);
        }
        stroke(out, &lines, "--ink", 0.8);
    }

    /// Where multiples of a step lie: few enough to draw.
    fn multiples(&self, step: f64) -> impl Iterator<Item = f64> {
        let (from, to) = (libm::ceil(self.from / step - 1e-9), self.to);
        let at = move |index: u32| (from + f64::from(index)) * step;
        (0..100).map(at).take_while(move |at| *at <= to)
    }
}

/// Words for a mark of what is drawn here.
pub(super) fn heading(spots: &[Spot<'_>]) -> &'static str {
    match spots.first().map(Spot::mark) {
        Some(Mark::Conforms) | None => "closest to a limit, magnified",
        Some(_) => "where the trouble is, magnified",
    }
}
