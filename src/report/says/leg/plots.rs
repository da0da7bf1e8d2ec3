//! Drawings of a leg: how long it takes, match averages, what each wire does.

use super::wires::name;
use crate::comparison::{LegOnBoard, WholeLegs};
use crate::report::draw::Figure;
use crate::report::draw::amounts::{Amount, amounts};
use crate::report::draw::curves::{Chart, Curve, charts};

/// The distribution is drawn up to where so many legs are won. House rule: the rest is a
/// long tail.
const DRAWN: f64 = 0.99;

/// How many legs are won within so many darts.
pub(super) fn lengths(legs: &WholeLegs) -> Vec<Figure> {
    let ends = legs.boards.iter();
    let ends = ends.filter_map(|board| board.distribution.quantile(DRAWN));
    let Some(most) = ends.max() else {
        return Vec::new();
    };
    let curve = |(index, board): (usize, &LegOnBoard)| {
        let mut won = 0.0;
        let darts = board
            .distribution
            .iter()
            .take_while(|(darts, _)| *darts <= most);
        let points = darts.map(|(darts, chance)| {
            won += chance;
            (darts as f64, 100.0 * won)
        });
        Curve {
            name: board.label.clone(),
            dash: index,
            sign: index,
            points: points.collect(),
        }
    };
    let chart = Chart {
        title: "Legs won within so many darts".to_owned(),
        description: "In percent of all legs. The darts of the winning visit count up to the last \
                      one thrown, those of other visits as three."
            .to_owned(),
        x_label: "darts".to_owned(),
        y_label: "% of legs won".to_owned(),
        curves: legs.boards.iter().enumerate().map(curve).collect(),
        level: 100.0,
    };
    charts("lengths", (0.0, most as f64), &[chart])
}

/// What a match average on the first board gains or loses on the others.
pub(super) fn translated(legs: &WholeLegs) -> Vec<Figure> {
    let (Some(all), Some(first)) = (&legs.match_averages, legs.boards.first()) else {
        return Vec::new();
    };
    let curve = |(index, board): (usize, &LegOnBoard)| {
        let points = all.curves.iter().rev().filter_map(|node| {
            let on_first = *node.match_averages.first()?;
            Some((on_first, node.match_averages.get(index)? - on_first))
        });
        let points = points.filter(|(on_first, _)| (RANGE.0..=RANGE.1).contains(on_first));
        Curve {
            name: board.label.clone(),
            dash: index - 1,
            sign: index - 1,
            points: points.collect(),
        }
    };
    let chart = Chart {
        title: format!("What a match average on {} gains or loses", first.label),
        description: "Points more or less than on the first board, the same player; 0 is the same \
                      average."
            .to_owned(),
        x_label: format!("match average on {}", first.label),
        y_label: "points more or less".to_owned(),
        curves: legs.boards.iter().enumerate().skip(1).map(curve).collect(),
        level: 0.0,
    };
    charts("match averages", RANGE, &[chart])
}

/// The averages that are drawn.
const RANGE: (f64, f64) = (25.0, 125.0);

/// What more of each wire costs in a leg.
pub(super) fn wires(legs: &WholeLegs) -> Vec<Figure> {
    let what = match legs.leg.objective {
        crate::play::Objective::Visits => "visits",
        _ => "darts",
    };
    let each = legs.boards.iter().map(|board| {
        let amounts = board.wires.iter().map(|effect| Amount {
            name: name(effect.wire),
            value: effect.expected,
        });
        (board.label.clone(), amounts.collect())
    });
    let each: Vec<(String, Vec<Amount>)> = each.collect();
    amounts(
        "wires",
        &format!("More {what} a leg for 0.1 mm more of a wire"),
        &each,
    )
}
