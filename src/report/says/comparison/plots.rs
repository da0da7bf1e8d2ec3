//! Curves: odds against spread, average against average.

use std::fmt::Write;

use crate::board::Band;
use crate::comparison::{Comparison, Difference};
use crate::report::draw::svg::{Figure, number, text};

const WIDTH: f64 = 720.0;
const HEIGHT: f64 = 400.0;
const LEFT: f64 = 60.0;
const RIGHT: f64 = 190.0;
const TOP: f64 = 16.0;
const BOTTOM: f64 = 46.0;

/// How a curve is drawn, so that black and white tells them apart.
struct Series {
    label: String,
    dash: &'static str,
    sign: Sign,
    points: Vec<(f64, f64)>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Sign {
    None,
    Circle,
    Square,
    Triangle,
    Diamond,
}

struct Axes {
    x: (f64, f64, f64),
    y: (f64, f64, f64),
    x_label: String,
    y_label: String,
    decimals: usize,
}

pub(super) fn odds(comparison: &Comparison) -> Vec<Figure> {
    let figure = |difference: &Difference| {
        let (name, than) = names(comparison, difference);
        let curves = &difference.curves;
        let mut series = Vec::new();
        for (band, sign) in [
            (Band::Treble, Sign::Circle),
            (Band::Double, Sign::Square),
            // The outer bull is left to the table: a sure player's aim at its
            // middle is an aim at the inner bull, and its curve would flatten all others.
            (Band::InnerBull, Sign::Diamond),
        ] {
            let Some(curve) = curves.targets.iter().find(|curve| curve.band == band) else {
                continue;
            };
            let mut add = |values: &[Option<f64>], words: &str, dash| {
                series.push(Series {
                    label: format!("{band}, {words}"),
                    dash,
                    sign,
                    points: along(&curves.spreads_mm, values),
                });
            };
            add(&curve.harder_by_spread.lost, "all lost", "");
            let chosen = &curve.harder_by_spread.chosen;
            if matches!(band, Band::Treble | Band::Double) {
                add(&curve.harder_by_spread.glances, "all glance", "2 4");
                let extremes = [
                    &curve.harder_by_spread.lost,
                    &curve.harder_by_spread.glances,
                ];
                if !extremes.contains(&chosen) {
                    add(chosen, "as set", "9 4");
                }
            }
            if let (Band::Treble | Band::Double, Some(area)) = (band, curve.harder_by_area) {
                series.push(Series {
                    label: format!("{band}, area rule"),
                    dash: "1 3",
                    sign: Sign::None,
                    points: vec![(3.0, area), (60.0, area)],
                });
            }
        }
        Figure {
            group: "odds",
            width: WIDTH,
            height: HEIGHT,
            body: plot(
                &series,
                (3.0, 60.0, 5.0),
                "spread of the player, mm",
                &format!("times harder on {name} than on {than}"),
                2,
            ),
            title: format!("Times harder on {name} than on {than}, against spread"),
            description: format!(
                "Where every dart on metal is lost the curves tend to the area rule as the spread \
                 grows: {}.",
                curves
                    .targets
                    .iter()
                    .filter_map(|c| Some(format!("{} {:.3}", c.band, c.harder_by_area?)))
                    .collect::<Vec<_>>()
                    .join(", ")
            ),
        }
    };
    comparison.differences.iter().map(figure).collect()
}

pub(super) fn averages(comparison: &Comparison) -> Vec<Figure> {
    let figure = |difference: &Difference| {
        let (name, than) = names(comparison, difference);
        let curve = &difference.curves.averages;
        let one = |label: &str, dash, sign, values: &[Option<f64>]| Series {
            label: label.to_owned(),
            dash,
            sign,
            points: along(&curve.on_first, values),
        };
        let same: Vec<Option<f64>> = curve.on_first.iter().copied().map(Some).collect();
        let mut series = vec![
            one("the same average", "1 3", Sign::None, &same),
            one("all glance", "2 4", Sign::Square, &curve.worth.glances),
            one("all lost", "", Sign::Circle, &curve.worth.lost),
            one(
                "simple rule",
                "12 3 2 3",
                Sign::Triangle,
                &curve.worth_simply,
            ),
        ];
        if ![&curve.worth.lost, &curve.worth.glances].contains(&&curve.worth.chosen) {
            series.push(one("as set", "9 4", Sign::Diamond, &curve.worth.chosen));
        }
        Figure {
            group: "averages",
            width: WIDTH,
            height: HEIGHT,
            body: plot(
                &series,
                (30.0, 140.0, 10.0),
                &format!("three-dart average on {than}"),
                &format!("worth on {name}"),
                0,
            ),
            title: format!("Averages on {than}, and what they are worth on {name}"),
            description: "Spread rule at both extremes of what metal does, and the simple rule, \
                          which holds for averages from 60 up only."
                .to_owned(),
        }
    };
    comparison.differences.iter().map(figure).collect()
}

fn names(comparison: &Comparison, difference: &Difference) -> (String, String) {
    let label = |index: usize| {
        let board = comparison.boards.get(index);
        board.map(|board| board.label.clone()).unwrap_or_default()
    };
    (label(difference.board), label(0))
}

fn along(xs: &[f64], ys: &[Option<f64>]) -> Vec<(f64, f64)> {
    let pairs = xs.iter().zip(ys);
    pairs.filter_map(|(x, y)| Some((*x, (*y)?))).collect()
}

fn plot(
    series: &[Series],
    x: (f64, f64, f64),
    x_label: &str,
    y_label: &str,
    decimals: usize,
) -> String {
    let ys = || series.iter().flat_map(|s| s.points.iter().map(|p| p.1));
    let (low, high) = (ys().fold(f64::MAX, f64::min), ys().fold(f64::MIN, f64::max));
    let step = nice((high - low).max(0.02) / 7.0);
    let axes = Axes {
        x,
        y: (
            libm::floor(low / step) * step,
            (libm::ceil(high / step) * step).max(libm::floor(low / step) * step + step),
            step,
        ),
        x_label: x_label.to_owned(),
        y_label: y_label.to_owned(),
        decimals: if step < 0.01 {
            decimals.max(3)
        } else {
            decimals
        },
    };
    let mut out = String::new();
    axes.draw(&mut out);
    for series in series {
        axes.curve(&mut out, series);
    }
    axes.labels(&mut out, series);
    out
}

/// The next of 1, 2, 5, 10 … at or above a step.
fn nice(step: f64) -> f64 {
    let power = libm::pow(10.0, libm::floor(libm::log10(step)));
    let factor = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .find(|f| f * power >= step);
    factor.unwrap_or(10.0) * power
}

impl Axes {
    fn px(&self, x: f64) -> f64 {
        LEFT + (x - self.x.0) / (self.x.1 - self.x.0) * (WIDTH - LEFT - RIGHT)
    }

    fn py(&self, y: f64) -> f64 {
        TOP + (self.y.1 - y) / (self.y.1 - self.y.0) * (HEIGHT - TOP - BOTTOM)
    }

    fn draw(&self, out: &mut String) {
        let (left, right) = (number(LEFT), number(WIDTH - RIGHT));
        let (top, bottom) = (number(TOP), number(HEIGHT - BOTTOM));
        for y in ticks(self.y) {
            let at = self.py(y);
            let place = number(at);
            let _ = write!(out, "<path class=\"grid\" d=\"M{left} {place}H{right}\"/>");
            let words = format!("{y:.*}", self.decimals);
            text(out, LEFT - 6.0, at + 4.0, 12.0, "end", "", &words);
        }
        for x in ticks(self.x) {
            let at = self.px(x);
            let place = number(at);
            let _ = write!(out, "<path class=\"grid\" d=\"M{place} {top}V{bottom}\"/>");
            text(
                out,
                at,
                HEIGHT - BOTTOM + 16.0,
                12.0,
                "middle",
                "",
                &format!("{x:.0}"),
            );
        }
        let _ = write!(
            out,
            "<path class=\"axis\" d=\"M{left} {top}V{bottom}H{right}\"/>"
        );
        let middle = LEFT + 0.5 * (WIDTH - LEFT - RIGHT);
        text(out, middle, HEIGHT - 8.0, 13.0, "middle", "", &self.x_label);
        let up = TOP + 0.5 * (HEIGHT - TOP - BOTTOM);
        let _ = write!(
            out,
            "<g transform=\"translate(14 {}) rotate(-90)\">",
            number(up)
        );
        text(out, 0.0, 0.0, 13.0, "middle", "", &self.y_label);
        out.push_str("</g>");
    }

    fn curve(&self, out: &mut String, series: &Series) {
        let place = |&(x, y): &(f64, f64)| format!("{} {}", number(self.px(x)), number(self.py(y)));
        let places: Vec<String> = series.points.iter().map(place).collect();
        if places.is_empty() {
            return;
        }
        let _ = write!(
            out,
            "<path class=\"curve\" stroke-dasharray=\"{}\" d=\"M{}\"/>",
            series.dash,
            places.join("L")
        );
        let every = (series.points.len() / 6).max(1);
        for (x, y) in series.points.iter().step_by(every) {
            sign(out, series.sign, self.px(*x), self.py(*y));
        }
    }

    /// Each curve's name at its right end, moved apart where they would touch.
    fn labels(&self, out: &mut String, series: &[Series]) {
        const APART: f64 = 15.0;
        let mut ends: Vec<(f64, f64, &Series)> = series
            .iter()
            .filter_map(|s| s.points.last().map(|(x, y)| (self.py(*y), self.px(*x), s)))
            .collect();
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut places: Vec<f64> = Vec::new();
        for (y, ..) in &ends {
            let free = places.last().map_or(TOP + 6.0, |above| above + APART);
            places.push(y.max(free));
        }
        // Whatever was pushed off the bottom pushes back.
        let mut floor = HEIGHT - BOTTOM;
        for place in places.iter_mut().rev() {
            *place = place.min(floor);
            floor = *place - APART;
        }
        let x = WIDTH - RIGHT + 34.0;
        for ((y, end, series), place) in ends.iter().zip(&places) {
            let _ = write!(
                out,
                "<path class=\"lead\" d=\"M{} {}L{} {}\"/>",
                number(end + 3.0),
                number(*y),
                number(x - 17.0),
                number(*place)
            );
            sign(out, series.sign, x - 9.0, *place);
            text(out, x, place + 4.0, 12.0, "start", "", &series.label);
        }
    }
}

fn ticks((low, high, step): (f64, f64, f64)) -> Vec<f64> {
    let mut ticks = Vec::new();
    let mut tick = libm::ceil(low / step - 1e-9) * step;
    while tick <= high + 1e-9 * step && ticks.len() < 40 {
        ticks.push(tick);
        tick += step;
    }
    ticks
}

fn sign(out: &mut String, sign: Sign, x: f64, y: f64) {
    let (x, y) = (number(x), number(y));
    let shape = match sign {
        Sign::None => return,
        Sign::Circle => "m-3.5 0a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0",
        Sign::Square => "m-3.2 -3.2h6.4v6.4h-6.4z",
        Sign::Triangle => "m0 -4.2l4 7h-8z",
        Sign::Diamond => "m0 -4.6l4.2 4.6l-4.2 4.6l-4.2 -4.6z",
    };
    let _ = write!(out, "<path class=\"mark\" d=\"M{x} {y}{shape}\"/>");
}
