//! Amounts with their names, as bars from one line, several drawings at one scale.

use std::fmt::Write;

use super::frame::WIDTH;
use super::labels::SMALLEST as SIZE;
use super::svg::{Figure, number, stroke, text};
use super::words;

/// An amount.
pub(in crate::report) struct Amount {
    pub(in crate::report) name: String,
    pub(in crate::report) value: f64,
}

/// From row to row, and how high a bar is.
const STEP: f64 = 18.0;
const BAR: f64 = 10.0;
/// Above the first row.
const TOP: f64 = 6.0;
/// Room for a figure beside its bar.
const FIGURE: f64 = 56.0;

/// A drawing for each of these lists, its title after the name of each.
pub(in crate::report) fn amounts(
    group: &'static str,
    title: &str,
    lists: &[(String, Vec<Amount>)],
) -> Vec<Figure> {
    let all = || lists.iter().flat_map(|(_, amounts)| amounts);
    let names = all().map(|amount| words::width(&amount.name, SIZE));
    let left = names.fold(0.0, f64::max) + 8.0;
    let values = || all().map(|amount| amount.value);
    let (low, high) = (values().fold(0.0, f64::min), values().fold(0.0, f64::max));
    // Figures of bars to the left stand to the right of the line.
    let room = WIDTH - left - FIGURE;
    let scale = room / (high - low).max(f64::MIN_POSITIVE);
    let zero = left - low * scale;
    let draw = |(name, amounts): &(String, Vec<Amount>)| {
        let mut out = String::new();
        for (row, amount) in amounts.iter().enumerate() {
            let y = TOP + STEP * row as f64;
            text(&mut out, 0.0, y + 10.0, SIZE, "start", "", &amount.name);
            let end = zero + amount.value * scale;
            let _ = write!(
                out,
                "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{BAR}\" fill=\"var(--ink)\"/>",
                number(end.min(zero)),
                number(y),
                number((end - zero).abs())
            );
            let figure = format!("{:+.4}", amount.value);
            text(
                &mut out,
                end.max(zero) + 4.0,
                y + 10.0,
                SIZE,
                "start",
                "",
                &figure,
            );
        }
        let height = TOP + STEP * amounts.len() as f64;
        let line = format!("M{} 0V{}", number(zero), number(height));
        stroke(&mut out, &line, "--line", 1.0);
        Figure {
            group,
            width: WIDTH,
            height,
            body: out,
            title: format!("{title}: {name}"),
            description: "One scale for all boards; each bar's figure stands beside it.".to_owned(),
        }
    };
    lists.iter().map(draw).collect()
}
