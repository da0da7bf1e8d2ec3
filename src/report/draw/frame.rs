//! The frame of a small chart that can be read on a telephone: axes, marks on them,
//! lines across.

use std::fmt::Write;

use super::svg::{number, stroke, text};
use super::words::width;

/// The size of a chart. House rule: at 390 px its letters are as large as print.
pub(in crate::report) const WIDTH: f64 = 360.0;
/// How high it is.
pub(in crate::report) const HEIGHT: f64 = 236.0;
const LEFT: f64 = 48.0;
const RIGHT: f64 = 10.0;
const TOP: f64 = 26.0;
const BOTTOM: f64 = 38.0;
/// The size of its letters.
pub(super) const SIZE: f64 = 11.5;
/// Points that are drawn at most. More are thinned to the extremes of each stretch.
const POINTS: usize = 360;

/// Where values are drawn.
pub(super) struct Frame {
    x: (f64, f64),
    y: (f64, f64),
    /// The step of the marks at the left.
    step: f64,
    /// Room to the right of it, and how high the drawing is.
    margin: f64,
    height: f64,
}

impl Frame {
    /// A frame around all of these values, with a little room.
    pub(super) fn around(x: (f64, f64), values: impl Iterator<Item = f64>) -> Self {
        let (low, high) = values.fold((f64::MAX, f64::MIN), |(low, high), value| {
            (low.min(value), high.max(value))
        });
        let room = 0.06 * (high - low).max(1e-9 * high.abs().max(1.0));
        let (low, high) = (low - room, high + room);
        let x = if x.1 > x.0 { x } else { (x.0 - 1.0, x.0 + 1.0) };
        Self {
            x,
            y: (low, high),
            step: nice((high - low) / 5.0),
            margin: RIGHT,
            height: HEIGHT,
        }
    }

    /// The same with so much room to its right, and so high that names of curves have
    /// room one below the other.
    pub(super) fn beside_names(self, margin: f64, names: f64) -> Self {
        Self {
            margin,
            height: self.height.max(names + TOP + BOTTOM),
            ..self
        }
    }

    /// How high the drawing is.
    pub(super) const fn height(&self) -> f64 {
        self.height
    }

    /// The right end of what is drawn.
    pub(super) const fn right(&self) -> f64 {
        WIDTH - self.margin
    }

    /// The upper end and the lower one.
    pub(super) const fn between(&self) -> (f64, f64) {
        (TOP, self.bottom())
    }

    const fn bottom(&self) -> f64 {
        self.height - BOTTOM
    }

    pub(super) fn px(&self, x: f64) -> f64 {
        LEFT + (x - self.x.0) / (self.x.1 - self.x.0) * (self.right() - LEFT)
    }

    pub(super) fn py(&self, y: f64) -> f64 {
        TOP + (self.y.1 - y) / (self.y.1 - self.y.0) * (self.bottom() - TOP)
    }

    /// Axes with their marks and words.
    pub(super) fn axes(&self, out: &mut String, x_label: &str, y_label: &str) {
        let (left, right) = (number(LEFT), number(self.right()));
        let (top, bottom) = (number(TOP), number(self.bottom()));
        let decimals = decimals(self.step);
        for y in marks(self.y, self.step) {
            let place = self.py(y);
            let _ = write!(
                out,
                "<path class=\"grid\" d=\"M{left} {}H{right}\"/>",
                number(place)
            );
            // Nothing is never below nothing.
            let y = if y.abs() < 1e-9 * self.step { 0.0 } else { y };
            let words = format!("{y:.decimals$}").replace('-', "−");
            text(out, LEFT - 5.0, place + 4.0, SIZE, "end", "", &words);
        }
        let step = nice((self.x.1 - self.x.0) / 6.0);
        let step = if self.x.1 - self.x.0 > 6.0 {
            step.max(1.0)
        } else {
            step
        };
        for x in marks(self.x, step) {
            let words = format!("{x:.*}", self::decimals(step));
            text(
                out,
                self.px(x),
                self.bottom() + 14.0,
                SIZE,
                "middle",
                "",
                &words,
            );
            let place = number(self.px(x));
            let _ = write!(out, "<path class=\"axis\" d=\"M{place} {bottom}v3\"/>");
        }
        let _ = write!(
            out,
            "<path class=\"axis\" d=\"M{left} {top}V{bottom}H{right}\"/>"
        );
        let middle = 0.5 * (LEFT + self.right());
        text(out, middle, self.height - 6.0, SIZE, "middle", "", x_label);
        text(out, 2.0, 11.0, SIZE, "start", "", y_label);
    }

    /// A line from side to side; `dash` is how it is broken.
    pub(super) fn across(&self, out: &mut String, y: f64, dash: &str, heavy: f64) {
        let _ = write!(
            out,
            "<path class=\"curve\" style=\"stroke-width:{}\" stroke-dasharray=\"{dash}\" \
             d=\"M{} {}H{}\"/>",
            number(heavy),
            number(LEFT),
            number(self.py(y)),
            number(self.right())
        );
    }

    /// A line from top to bottom, where something begins, with a word above it.
    pub(super) fn upright(&self, out: &mut String, x: f64, words: &str) {
        let place = self.px(x);
        let path = format!(
            "M{} {}V{}",
            number(place),
            number(TOP - 3.0),
            number(self.bottom())
        );
        stroke(out, &path, "--ink", 1.4);
        let half = 0.5 * width(words, SIZE);
        let at = place.clamp(LEFT + half, (self.right() - half).max(LEFT + half));
        text(out, at, TOP - 6.0, SIZE, "middle", "halo", words);
    }

    /// A stretch of the horizontal axis that is shaded from top to bottom.
    pub(super) fn stretch(&self, out: &mut String, from: f64, to: f64) {
        let (from, to) = (self.px(from), self.px(to));
        let _ = write!(
            out,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" style=\"fill:var(--s2);fill-opacity:.55\"/>",
            number(from),
            number(TOP),
            number((to - from).max(1.0)),
            number(self.bottom() - TOP)
        );
    }

    /// Points joined by a line.
    pub(super) fn curve(&self, out: &mut String, points: &[(f64, f64)], heavy: f64) {
        let points = thinned(points);
        let place = |&(x, y): &(f64, f64)| format!("{} {}", number(self.px(x)), number(self.py(y)));
        let places: Vec<String> = points.iter().map(place).collect();
        if places.is_empty() {
            return;
        }
        stroke(out, &format!("M{}", places.join("L")), "--ink", heavy);
    }

    /// Points as small discs.
    pub(super) fn points(&self, out: &mut String, points: &[(f64, f64)]) {
        let mut path = String::new();
        for (x, y) in thinned(points) {
            let _ = write!(path, "M{} {}h0", number(self.px(x)), number(self.py(y)));
        }
        let _ = write!(
            out,
            "<path d=\"{path}\" style=\"stroke:var(--ink);stroke-width:3.4;stroke-linecap:round;fill:none\"/>"
        );
    }

    /// A point that stands out: a diamond.
    pub(super) fn outstanding(&self, out: &mut String, x: f64, y: f64) {
        let _ = write!(
            out,
            "<path class=\"mark\" d=\"M{} {}m0 -5l5 5l-5 5l-5 -5z\"/>",
            number(self.px(x)),
            number(self.py(y))
        );
    }

    /// A word at the right end of a line, above it or below.
    pub(super) fn beside(&self, out: &mut String, y: f64, above: bool, words: &str) {
        let place = self.py(y) + if above { -4.0 } else { 12.0 };
        text(out, self.right(), place, SIZE, "end", "halo", words);
    }
}

/// The extremes of each stretch, where there are more points than can be told apart.
fn thinned(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    if points.len() <= POINTS {
        return points.to_vec();
    }
    let size = points.len().div_ceil(POINTS / 2);
    let extremes = points.chunks(size).flat_map(|stretch| {
        let by_value = |a: &&(f64, f64), b: &&(f64, f64)| a.1.total_cmp(&b.1);
        let least = stretch.iter().min_by(by_value);
        let most = stretch.iter().max_by(by_value);
        let mut both: Vec<(f64, f64)> = least.into_iter().chain(most).copied().collect();
        both.sort_by(|a, b| a.0.total_cmp(&b.0));
        both
    });
    extremes.collect()
}

/// The next of 1, 2, 5, 10 … at or above a step.
pub(super) fn nice(step: f64) -> f64 {
    let power = libm::pow(10.0, libm::floor(libm::log10(step)));
    let factors = [1.0, 2.0, 5.0, 10.0];
    let factor = factors
        .into_iter()
        .find(|factor| factor * power >= step * (1.0 - 1e-9));
    factor.unwrap_or(10.0) * power
}

/// As many decimals as a step has.
pub(super) fn decimals(step: f64) -> usize {
    (0..9)
        .find(|&decimals| {
            let scaled = step * libm::pow(10.0, f64::from(decimals));
            (scaled - libm::round(scaled)).abs() < 1e-6 * scaled
        })
        .and_then(|decimals| usize::try_from(decimals).ok())
        .unwrap_or(9)
}

fn marks((low, high): (f64, f64), step: f64) -> Vec<f64> {
    let first = libm::ceil(low / step - 1e-9);
    let mark = |index: u32| (first + f64::from(index)) * step;
    (0..20)
        .map(mark)
        .take_while(|mark| *mark <= high + 1e-9 * step)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_one_two_or_five_times_a_power_of_ten() {
        for range in [0.07, 0.3, 1.16, 2.8, 5.6, 43.0, 170.0, 9e4] {
            let frame = Frame::around((0.0, 1.0), [0.9, 0.9 + range].into_iter());
            let power = libm::pow(10.0, libm::floor(libm::log10(frame.step) + 1e-9));
            let factor = frame.step / power;
            let round = [1.0, 2.0, 5.0]
                .iter()
                .any(|round| (round - factor).abs() < 1e-9);
            assert!(round, "{range}: {}", frame.step);
            let marks = marks(frame.y, frame.step).len();
            assert!((2..=7).contains(&marks), "{range}: {marks}");
        }
    }

    #[test]
    fn marks_are_round_and_within() {
        assert_eq!(marks((0.9, 3.1), 1.0), [1.0, 2.0, 3.0]);
        assert!((nice(0.033) - 0.05).abs() < 1e-12);
        assert_eq!((decimals(0.05), decimals(20.0), decimals(0.2)), (2, 0, 1));
    }

    #[test]
    fn thinning_keeps_every_extreme() {
        let points: Vec<(f64, f64)> = (0..100_000_u32)
            .map(|at| {
                (
                    f64::from(at),
                    if at == 54_321 { 9.0 } else { f64::from(at % 7) },
                )
            })
            .collect();
        let thin = thinned(&points);
        assert!(thin.len() <= POINTS && thin.contains(&(54_321.0, 9.0)));
        assert!(thin.windows(2).all(|pair| pair[0].0 < pair[1].0));
    }
}
