//! Curves: odds against spread, what averages gain or lose.

use super::words::label;
use crate::board::Band;
use crate::comparison::{AverageCurve, ByMetal, Comparison, Curves, Difference};
use crate::report::draw::Figure;
use crate::report::draw::curves::{Chart, Curve, charts};

/// Up to so many boards beside the first, every setting of metal stands in one drawing;
/// more of them have one for each setting. House rule: six curves can be told apart.
const TOGETHER: usize = 2;

/// The targets that are drawn. The outer bull is left to the table: a sure player's aim
/// at its middle is an aim at the inner bull, and its curve would flatten all others.
const DRAWN: [Band; 3] = [Band::Treble, Band::Double, Band::InnerBull];

/// A setting of metal: what it is called, how its lines are broken, its figure.
type Setting<T> = (&'static str, usize, fn(&ByMetal<T>) -> &T);

/// Both extremes, and what is set where that is neither.
fn settings<T: PartialEq>(figures: &[&ByMetal<T>]) -> Vec<Setting<T>> {
    let mut settings: Vec<Setting<T>> = vec![
        ("all lost", 0, |figure| &figure.lost),
        ("all glance", 1, |figure| &figure.glances),
    ];
    let between =
        |figure: &&ByMetal<T>| figure.chosen != figure.lost && figure.chosen != figure.glances;
    // Boards of both extremes are a setting of its own as well.
    let lost = figures.iter().all(|figure| figure.chosen == figure.lost);
    let glance = figures.iter().all(|figure| figure.chosen == figure.glances);
    if figures.iter().any(between) || !(lost || glance) {
        settings.push(("as set", 3, |figure| &figure.chosen));
    }
    settings
}

pub(super) fn odds(comparison: &Comparison) -> Vec<Figure> {
    let first = label(comparison, 0);
    let all: Vec<&ByMetal<_>> = of_all(comparison, |curves| {
        let drawn = curves.targets.iter();
        let drawn = drawn.filter(|curve| DRAWN.contains(&curve.band));
        drawn.map(|curve| &curve.harder_by_spread).collect()
    });
    let settings = settings(&all);
    let chart = |band: Band, wanted: &[Setting<Vec<Option<f64>>>]| {
        let mut curves = Vec::new();
        for difference in &comparison.differences {
            let known = &difference.curves;
            let Some(curve) = known.targets.iter().find(|curve| curve.band == band) else {
                continue;
            };
            for (words, dash, of) in wanted {
                let points = along(&known.spreads_mm, of(&curve.harder_by_spread));
                curves.push(named(
                    comparison,
                    difference,
                    wanted.len(),
                    words,
                    *dash,
                    points,
                ));
            }
            if let (true, Some(area)) = (wanted.len() > 1, curve.harder_by_area) {
                let ends = [known.spreads_mm.first(), known.spreads_mm.last()];
                let points = ends.into_iter().flatten().map(|x| (*x, area)).collect();
                curves.push(named(
                    comparison,
                    difference,
                    wanted.len(),
                    "area rule",
                    2,
                    points,
                ));
            }
        }
        Chart {
            title: format!(
                "Times harder than on {first}: the {}{}",
                band.name(),
                alone(wanted)
            ),
            description: "Above 1 is harder. The wider the spread, the nearer the curve for all \
                          lost comes to the area rule. One scale for all targets."
                .to_owned(),
            x_label: "spread of the player, mm".to_owned(),
            y_label: format!("times harder than on {first}"),
            curves,
            level: 1.0,
        }
    };
    let groups = groups(comparison, &settings);
    let drawn = DRAWN.into_iter();
    let drawn = drawn.flat_map(|band| groups.iter().map(move |group| (band, *group)));
    let drawn: Vec<Chart> = drawn.map(|(band, group)| chart(band, group)).collect();
    charts("odds", (3.0, 60.0), &drawn)
}

pub(super) fn averages(comparison: &Comparison) -> Vec<Figure> {
    let first = label(comparison, 0);
    let all: Vec<&ByMetal<_>> = of_all(comparison, |curves| vec![&curves.averages.worth]);
    let settings = settings(&all);
    let chart = |wanted: &[Setting<Vec<Option<f64>>>], simply: bool| {
        let mut curves = Vec::new();
        for difference in &comparison.differences {
            let known = &difference.curves.averages;
            let mut add = |words: &str, dash: usize, values: &[Option<f64>]| {
                let count = wanted.len() + usize::from(simply);
                let points = gained(known, values);
                curves.push(named(comparison, difference, count, words, dash, points));
            };
            for (words, dash, of) in wanted {
                add(words, *dash, of(&known.worth));
            }
            if simply {
                add("simple rule", 2, &known.worth_simply);
            }
        }
        let only = if simply && wanted.is_empty() {
            ", simple rule"
        } else if simply {
            ""
        } else {
            &alone(wanted)
        };
        Chart {
            title: format!("What an average on {first} gains or loses on the other board{only}"),
            description: "Points more or less than on the first board; 0 is the same average. The \
                          simple rule holds for averages from 60 up only."
                .to_owned(),
            x_label: format!("three-dart average on {first}"),
            y_label: "points more or less".to_owned(),
            curves,
            level: 0.0,
        }
    };
    let groups = groups(comparison, &settings);
    let drawn: Vec<Chart> = if let [together] = groups.as_slice() {
        vec![chart(together, true)]
    } else {
        let each = groups.iter().map(|group| chart(group, false));
        each.chain([chart(&[], true)]).collect()
    };
    charts("averages", (30.0, 140.0), &drawn)
}

/// Which settings stand in one drawing.
fn groups<'a, T>(comparison: &Comparison, settings: &'a [Setting<T>]) -> Vec<&'a [Setting<T>]> {
    if comparison.differences.len() <= TOGETHER {
        vec![settings]
    } else {
        settings.chunks(1).collect()
    }
}

/// The setting of a drawing that has one alone, for its title.
fn alone<T>(settings: &[Setting<T>]) -> String {
    match settings {
        [(words, ..)] => format!(", {words}"),
        _ => String::new(),
    }
}

fn of_all<'a, T>(comparison: &'a Comparison, of: impl Fn(&'a Curves) -> Vec<&'a T>) -> Vec<&'a T> {
    let differences = comparison.differences.iter();
    differences
        .flat_map(|difference| of(&difference.curves))
        .collect()
}

/// A curve of a board: called after the board, after what it shows, or both.
fn named(
    comparison: &Comparison,
    difference: &Difference,
    count: usize,
    words: &str,
    dash: usize,
    points: Vec<(f64, f64)>,
) -> Curve {
    let board = label(comparison, difference.board);
    let (several, alone) = (count > 1, comparison.differences.len() == 1);
    let sign = difference.board.saturating_sub(1);
    Curve {
        name: match (several, alone) {
            (true, true) => words.to_owned(),
            (true, false) => format!("{board}, {words}"),
            (false, _) => board.to_owned(),
        },
        // Among curves of one setting, boards differ in both.
        dash: if several { dash } else { sign },
        sign: if alone { dash } else { sign },
        points,
    }
}

fn along(xs: &[f64], ys: &[Option<f64>]) -> Vec<(f64, f64)> {
    let pairs = xs.iter().zip(ys);
    pairs.filter_map(|(x, y)| Some((*x, (*y)?))).collect()
}

/// What averages on the first board gain on another.
fn gained(curve: &AverageCurve, worth: &[Option<f64>]) -> Vec<(f64, f64)> {
    let pairs = along(&curve.on_first, worth).into_iter();
    pairs
        .map(|(average, worth)| (average, worth - average))
        .collect()
}
