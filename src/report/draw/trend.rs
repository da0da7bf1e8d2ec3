//! One length of a board over its inspections, as a small chart.

use std::fmt::Write;

use jiff::civil::Date;

use super::svg::{Figure, number, text};
use crate::table::Interval;
use crate::units::Length;

/// House rule: two stand side by side on paper, one fills a phone.
const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 150.0;
const LEFT: f64 = 46.0;
const END: f64 = WIDTH - 14.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 26.0;
const TYPE: f64 = 11.0;

/// A value on a day with its expanded uncertainty, all in mm.
pub(in crate::report) struct Point {
    pub(in crate::report) day: Date,
    pub(in crate::report) value: f64,
    pub(in crate::report) expanded: Option<f64>,
}

/// A chart of a length; the points in the order of their days.
pub(in crate::report) fn trend(
    title: String,
    points: &[Point],
    interval: Interval,
    decimals: usize,
) -> Figure {
    let limits = [interval.lower, interval.upper].map(|limit| limit.map(Length::as_mm));
    let frame = Frame::new(points, limits);
    let mut body = String::new();
    // Where no point stands: the first is at the left, the last at the right.
    let middle = f64::midpoint(LEFT, END);
    for (limit, name) in limits.into_iter().zip(["least", "most"]) {
        let Some(limit) = limit else { continue };
        let y = frame.y(limit);
        let (at, value) = (number(y), fixed(limit, decimals));
        let _ = write!(
            body,
            "<path d=\"M{LEFT} {at}H{END}\" class=\"axis\" stroke-dasharray=\"6 3\"/>"
        );
        let beside = y + if name == "least" { -3.0 } else { TYPE };
        text(
            &mut body,
            middle,
            beside,
            TYPE - 1.0,
            "middle",
            "halo",
            name,
        );
        text(&mut body, LEFT - 4.0, y + 4.0, TYPE, "end", "", &value);
    }
    bars(&mut body, points, &frame);
    let places = points
        .iter()
        .map(|point| (number(frame.x(point.day)), number(frame.y(point.value))));
    let places: Vec<_> = places.collect();
    let path = places.iter().map(|(x, y)| format!("{x} {y}"));
    let path = path.collect::<Vec<_>>().join("L");
    let _ = write!(body, "<path d=\"M{path}\" class=\"curve\"/>");
    for (x, y) in &places {
        let _ = write!(
            body,
            "<circle cx=\"{x}\" cy=\"{y}\" r=\"3.5\" class=\"mark\"/>"
        );
    }
    if let (Some(first), Some(last)) = (points.first(), points.last()) {
        let foot = HEIGHT - 8.0;
        let (first, last) = (first.day.to_string(), last.day.to_string());
        text(&mut body, LEFT, foot, TYPE, "start", "", &first);
        if first != last {
            text(&mut body, END, foot, TYPE, "end", "", &last);
        }
    }
    let said = points.iter().map(|point| {
        let value = fixed(point.value, decimals);
        let bar = point.expanded;
        let bar = bar.map_or_else(String::new, |u| format!(" ± {u:.decimals$}"));
        format!("{value}{bar} mm on {}", point.day)
    });
    Figure {
        group: "trend",
        width: WIDTH,
        height: HEIGHT,
        body,
        title,
        description: said.collect::<Vec<_>>().join(", ") + ".",
    }
}

/// The expanded uncertainty of each point.
fn bars(body: &mut String, points: &[Point], frame: &Frame) {
    for point in points {
        let Some(expanded) = point.expanded else {
            continue;
        };
        let x = frame.x(point.day);
        let (top, bottom) = (
            frame.y(point.value + expanded),
            frame.y(point.value - expanded),
        );
        let [x, left, right, top, bottom] = [x, x - 4.0, x + 4.0, top, bottom].map(number);
        let _ = write!(
            body,
            "<path d=\"M{left} {top}H{right}M{left} {bottom}H{right}M{x} {top}V{bottom}\" \
             class=\"lead\"/>"
        );
    }
}

/// Where days and values lie.
struct Frame {
    low: f64,
    high: f64,
    first: Option<Date>,
    /// From the first to the last; `None` if that is one day.
    days: Option<f64>,
}

impl Frame {
    fn new(points: &[Point], limits: [Option<f64>; 2]) -> Self {
        let (low, high) = extent(points, limits);
        let first = points.first().map(|point| point.day);
        let last = points.last().and_then(|point| days(first, point.day));
        Self {
            low,
            high,
            first,
            days: last.filter(|days| *days > 0.0),
        }
    }

    fn x(&self, day: Date) -> f64 {
        // Room at both ends, so that bars do not stand on the frame.
        let (start, end) = (LEFT + 24.0, END - 24.0);
        match (self.days, days(self.first, day)) {
            (Some(whole), Some(days)) => start + (end - start) * days / whole,
            _ => f64::midpoint(start, end),
        }
    }

    fn y(&self, value: f64) -> f64 {
        TOP + (HEIGHT - TOP - BOTTOM) * (self.high - value) / (self.high - self.low)
    }
}

fn days(from: Option<Date>, to: Date) -> Option<f64> {
    let span = to.since(from?).ok()?;
    Some(f64::from(span.get_days()))
}

fn fixed(value: f64, decimals: usize) -> String {
    format!("{value:.decimals$}")
}

/// From the lowest to the highest of what is drawn, with some room.
fn extent(points: &[Point], limits: [Option<f64>; 2]) -> (f64, f64) {
    let bars = points.iter().flat_map(|point| {
        let half = point.expanded.unwrap_or_default();
        [point.value - half, point.value + half]
    });
    let all = bars.chain(limits.into_iter().flatten());
    let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    });
    let room = (0.08 * (high - low)).max(0.01);
    (low - room, high + room)
}
