//! Curves with their names at their ends, several drawings at one scale.

use std::fmt::Write;

use super::apart::apart;
use super::frame::{self, Frame, SIZE};
use super::svg::{Figure, number, text};
use super::words;

/// The step from name to name.
const STEP: f64 = 13.5;
/// Room for the sign and the lead before a name, and for a name at most.
const LEAD: f64 = 30.0;
const NAME: f64 = 118.0;

/// The next of 1, 2, 5, 10 … at or above a step: what scales are divided by.
pub(in crate::report) fn round_step(step: f64) -> f64 {
    frame::nice(step)
}

/// A figure at a mark of a scale with this step.
pub(in crate::report) fn figure(value: f64, step: f64) -> String {
    format!("{value:.*}", frame::decimals(step))
}

/// A curve with its name.
pub(in crate::report) struct Curve {
    pub(in crate::report) name: String,
    /// How its line is broken, and which sign it bears: any numbers, of which equal
    /// ones look alike, so that black and white tells curves apart.
    pub(in crate::report) dash: usize,
    pub(in crate::report) sign: usize,
    /// From left to right.
    pub(in crate::report) points: Vec<(f64, f64)>,
}

/// A drawing of curves.
pub(in crate::report) struct Chart {
    pub(in crate::report) title: String,
    pub(in crate::report) description: String,
    pub(in crate::report) x_label: String,
    pub(in crate::report) y_label: String,
    pub(in crate::report) curves: Vec<Curve>,
    /// Where nothing differs: a line across.
    pub(in crate::report) level: f64,
}

/// Drawings of one kind: the same scales for all of them.
pub(in crate::report) fn charts(
    group: &'static str,
    x: (f64, f64),
    charts: &[Chart],
) -> Vec<Figure> {
    let curves = || charts.iter().flat_map(|chart| &chart.curves);
    let most = charts.iter().map(|chart| chart.curves.len()).max();
    let widest = curves().map(|curve| words::width(&curve.name, SIZE));
    let right = LEAD + widest.fold(0.0, f64::max).min(NAME) + 4.0;
    let values = curves().flat_map(|curve| curve.points.iter().map(|(_, y)| *y));
    let frame = Frame::around(x, values.chain(charts.iter().map(|chart| chart.level)))
        .beside_names(right, STEP * most.unwrap_or(0) as f64);
    let draw = |chart: &Chart| Figure {
        group,
        width: frame::WIDTH,
        height: frame.height(),
        body: body(chart, &frame),
        title: chart.title.clone(),
        description: chart.description.clone(),
    };
    charts.iter().map(draw).collect()
}

fn body(chart: &Chart, frame: &Frame) -> String {
    let mut out = String::new();
    let room = frame::WIDTH - 4.0;
    let y_label = words::wrap(&chart.y_label, SIZE, room, 1).join(" ");
    let x_label = words::wrap(&chart.x_label, SIZE, room - 60.0, 1).join(" ");
    frame.axes(&mut out, &x_label, &y_label);
    frame.across(&mut out, chart.level, "", 0.7);
    for curve in &chart.curves {
        line(&mut out, frame, curve);
    }
    names(&mut out, frame, &chart.curves);
    out
}

fn line(out: &mut String, frame: &Frame, curve: &Curve) {
    let place = |&(x, y): &(f64, f64)| format!("{} {}", number(frame.px(x)), number(frame.py(y)));
    let places: Vec<String> = curve.points.iter().map(place).collect();
    if places.is_empty() {
        return;
    }
    let _ = write!(
        out,
        "<path class=\"curve\" style=\"stroke-width:1.3\" stroke-dasharray=\"{}\" d=\"M{}\"/>",
        dash(curve.dash),
        places.join("L")
    );
    // Signs of curves that run together stand beside each other.
    let every = (curve.points.len() / 4).max(1);
    let points = curve.points.iter().skip((2 * curve.sign) % every);
    for (x, y) in points.step_by(every) {
        sign(out, curve.sign, frame.px(*x), frame.py(*y));
    }
}

/// Each curve's name at its right end.
fn names(out: &mut String, frame: &Frame, curves: &[Curve]) {
    let end = |curve: &Curve| Some(frame.py(curve.points.last()?.1));
    let mut ends: Vec<(f64, &Curve)> = curves
        .iter()
        .filter_map(|curve| Some((end(curve)?, curve)))
        .collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let wanted: Vec<f64> = ends.iter().map(|(y, _)| *y).collect();
    let places = apart(&wanted, STEP, frame.between());
    let x = frame.right() + LEAD;
    for ((y, curve), place) in ends.iter().zip(places) {
        let from = curve.points.last().map_or(x, |(x, _)| frame.px(*x));
        let _ = write!(
            out,
            "<path class=\"lead\" d=\"M{} {}L{} {}\"/>",
            number(from + 2.0),
            number(*y),
            number(x - 14.0),
            number(place)
        );
        sign(out, curve.sign, x - 8.0, place);
        for name in words::wrap(&curve.name, SIZE, NAME, 1) {
            text(out, x, place + 4.2, SIZE, "start", "", &name);
        }
    }
}

const fn dash(index: usize) -> &'static str {
    match index % 4 {
        0 => "none",
        1 => "7 3",
        2 => "2 2.5",
        _ => "9 3 2 3",
    }
}

fn sign(out: &mut String, index: usize, x: f64, y: f64) {
    let shape = match index % 6 {
        0 => "m-3 0a3 3 0 1 0 6 0a3 3 0 1 0 -6 0",
        1 => "m-2.8 -2.8h5.6v5.6h-5.6z",
        2 => "m0 -3.8l3.6 6.4h-7.2z",
        3 => "m0 -4.2l3.8 4.2l-3.8 4.2l-3.8 -4.2z",
        4 => "m0 3.8l3.6 -6.4h-7.2z",
        _ => "m-3.6 -2.4h7.2v4.8h-7.2z",
    };
    // The second half dozen is filled.
    let fill = if index % 12 < 6 { "paper" } else { "ink" };
    let (x, y) = (number(x), number(y));
    let _ = write!(
        out,
        "<path style=\"fill:var(--{fill});stroke:var(--ink);stroke-width:1.1\" d=\"M{x} {y}{shape}\"/>"
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chart(curves: usize, factor: f64) -> Chart {
        let curve = |index: usize| Curve {
            name: format!("FL-{index:02}"),
            dash: index,
            sign: index,
            points: vec![(3.0, 1.0), (60.0, 1.0 + factor * index as f64)],
        };
        Chart {
            title: String::new(),
            description: String::new(),
            x_label: "spread".to_owned(),
            y_label: "times harder".to_owned(),
            curves: (0..curves).map(curve).collect(),
            level: 1.0,
        }
    }

    /// The places of the texts that are a name.
    fn heights(figure: &Figure) -> Vec<f64> {
        let texts = figure
            .body
            .split("<text ")
            .filter(|text| text.contains(">FL-"));
        let y = |text: &str| {
            let (_, rest) = text.split_once("y=\"").expect("a place");
            rest.split('"')
                .next()
                .expect("a number")
                .parse()
                .expect("a number")
        };
        texts.map(y).collect()
    }

    #[test]
    fn names_of_a_dozen_boards_do_not_overlap() {
        // 11 curves that end within a hundredth of each other.
        let figures = charts("odds", (3.0, 60.0), &[chart(11, 0.001)]);
        let figure = figures.first().expect("one");
        let heights = heights(figure);
        assert_eq!(heights.len(), 11);
        assert!(
            heights.windows(2).all(|pair| pair[1] - pair[0] >= SIZE),
            "{heights:?}"
        );
        assert!(heights.iter().all(|y| *y < figure.height));
        assert!(figure.width <= 400.0);
    }

    #[test]
    fn drawings_of_a_kind_have_one_scale() {
        let figures = charts("odds", (3.0, 60.0), &[chart(2, 0.01), chart(3, 0.4)]);
        let marks = |figure: &Figure| {
            let grid = figure.body.split("class=\"grid\" d=\"").skip(1);
            let grid = grid.map(|rest| rest.split('"').next().expect("a path").to_owned());
            grid.collect::<Vec<_>>()
        };
        let [one, other] = figures.as_slice() else {
            panic!("two")
        };
        assert!(marks(one).len() > 2);
        assert_eq!(marks(one), marks(other));
    }

    #[test]
    fn a_dozen_curves_look_different() {
        let looks: std::collections::BTreeSet<_> = (0..12)
            .map(|index| {
                let mut out = String::new();
                sign(&mut out, index, 0.0, 0.0);
                (dash(index), out)
            })
            .collect();
        assert_eq!(looks.len(), 12);
    }
}
