//! A comparison in words and tables.

use super::legs::legs;
use super::page::{Page, Section, Table};
use crate::comparison::{
    Assumptions, AverageTable, BoardAreas, ByMetal, Comparison, Difference, MetalFrom, RouteOdds,
    SpreadOrigin,
};
use crate::play::AimRule;

/// The columns that every figure which depends on metal fills.
const SETTINGS: [&str; 3] = ["as set", "all lost", "all glance"];

pub(super) fn page(comparison: &Comparison) -> Page {
    let labels: Vec<&str> = comparison.boards.iter().map(|b| b.label.as_str()).collect();
    let mut sections = Vec::new();
    if let Some(first) = comparison.boards.first() {
        for difference in &comparison.differences {
            if let Some(board) = comparison.boards.get(difference.board) {
                sections.extend(difference_sections(difference, board, first));
            }
        }
    }
    sections.push(legs(&comparison.legs, &comparison.boards));
    let (first, others) = labels.split_first().unwrap_or((&"", &[]));
    Page {
        title: format!(
            "What the difference does to the game: {} against {first}",
            others.join(", ")
        ),
        assumptions: assumptions(comparison),
        sections,
        cautions: vec![
            "Area rule: a target is harder in inverse proportion to its free area. Spread rule: \
             throws scatter normally about the aim. They are different questions, and neither is \
             a measurement of play."
                .to_owned(),
            "No published share of darts that bounce out is known; between \"all lost\" and \"all \
             glance\" lies every board there is."
                .to_owned(),
            "This is a calculation, not an official approval: the governing body's current rules \
             prevail. Rounded points and bent wires make bounce-outs likelier: keep spectators \
             behind the throwing line."
                .to_owned(),
        ],
    }
}

/// What the figures rest on, a line each.
fn assumptions(comparison: &Comparison) -> Vec<String> {
    let given = &comparison.assumptions;
    let first = comparison
        .boards
        .first()
        .map_or("", |board| board.label.as_str());
    let mut lines = vec![
        format!(
            "spread: {}, {}",
            spread(given),
            origin(&given.spread_from, first)
        ),
        format!(
            "that averages {:.1} on {first} (scoring darts, best aim, metal as set)",
            given.average_on_first
        ),
        match given.aim {
            AimRule::Middle => {
                "aim: the middle of the bed on each board; for the 25, the middle of the bull"
                    .to_owned()
            }
            AimRule::MostHits => {
                "aim: where the target is hit most often on each board; curves aim at the middle"
                    .to_owned()
            }
        },
    ];
    for board in &comparison.boards {
        lines.push(format!("metal of {}: {}", board.label, metal(board)));
    }
    lines.push(
        "\"as set\" is each board with its own setting; \"all lost\": every dart on metal is lost, \
         on every board; \"all glance\": every one falls to its side of the crest"
            .to_owned(),
    );
    lines
}

fn spread(given: &Assumptions) -> String {
    let (x, y) = (given.spread_x_mm, given.spread_y_mm);
    if (x - y).abs() < 1e-9 && given.correlation.abs() < 1e-9 {
        return format!("{x:.2} mm in every direction");
    }
    let rho = given.correlation;
    format!("{x:.2} mm sideways, {y:.2} mm up and down, correlation {rho:.2}")
}

fn origin(origin: &SpreadOrigin, first: &str) -> String {
    match origin {
        SpreadOrigin::Assumed => "assumed because none was named (house rule)".to_owned(),
        SpreadOrigin::Given => "as given".to_owned(),
        SpreadOrigin::Average { average } => {
            format!("from a three-dart average of {average} on {first}")
        }
        SpreadOrigin::Throws {
            file,
            darts,
            from,
            target,
            uncertainty_x_mm,
            uncertainty_y_mm,
        } => {
            let at = target.as_ref().map_or_else(
                || "about where they landed in the mean".to_owned(),
                |target| format!("thrown at {target}"),
            );
            let u = if (uncertainty_x_mm - uncertainty_y_mm).abs() < 1e-12 {
                format!("{uncertainty_x_mm:.2} mm")
            } else {
                format!("{uncertainty_x_mm:.2} mm sideways, {uncertainty_y_mm:.2} mm up and down")
            };
            format!(
                "estimated from the {from} of {darts} darts in {file}, {at} (standard uncertainty \
                 {u})"
            )
        }
    }
}

/// What a board's metal does, and who said so.
fn metal(board: &BoardAreas) -> String {
    let share = board.metal.lost_percent;
    let what = if share >= 100.0 {
        "a dart on it is lost".to_owned()
    } else if share <= 0.0 {
        "a dart on it glances to its side of the crest".to_owned()
    } else {
        format!("{share} % of the darts on it are lost, the others glance")
    };
    let from = match board.metal.from {
        MetalFrom::Default => "the default, a house rule",
        MetalFrom::File => "as its file says",
        MetalFrom::Run => "as asked for",
    };
    format!("{what} ({from})")
}

fn difference_sections(
    difference: &Difference,
    board: &BoardAreas,
    first: &BoardAreas,
) -> Vec<Section> {
    let (name, than) = (board.label.as_str(), first.label.as_str());
    let section = |heading: String, tables, notes: &[&str]| Section {
        heading,
        tables,
        notes: notes.iter().map(|&note| note.to_owned()).collect(),
    };
    vec![
        section(
            format!("Free areas of {name} against {than}"),
            vec![areas(difference, board, first)],
            &[
                "± is the expanded uncertainty (k = 2 where nothing else follows from few readings), \
               from both boards' measured lengths; a nominal board has none. Metal: its share \
               between the crests of the wires. Bed: the mean bed.",
            ],
        ),
        section(
            format!("Times harder on {name} than on {than}"),
            vec![targets(difference, name, than)],
            &[
                "Above 1 is harder, below 1 easier. Hits: how many of a hundred darts at the target hit \
               it, metal as set.",
            ],
        ),
        section(
            format!("Routes on {name} and on {than}"),
            vec![routes(&difference.routes, name, than)],
            &[
                "A route multiplies its targets. One in: how many tries for one success, metal as \
               set.",
            ],
        ),
        section(
            format!("Averages on {name} and on {than}"),
            averages(&difference.averages, name, than),
            &[
                "Spread rule: the same spread, each board's own best aim, scoring darts alone. \
               Simple rule: every dart in the 20 bed or its treble, 60 + (average - 60)/ratio; it \
               speaks of 60 to 180 only.",
            ],
        ),
    ]
}

fn areas(difference: &Difference, board: &BoardAreas, first: &BoardAreas) -> Table {
    let (name, than) = (&board.label, &first.label);
    let caption = "Free area of each band, metal between the crests, and the mean bed";
    let mut table = Table::new(caption, &[]);
    table.columns = vec![
        "band".to_owned(),
        format!("{than}, mm²"),
        format!("{than}, metal"),
        format!("{name}, mm²"),
        format!("{name}, metal"),
        "difference".to_owned(),
        format!("{than}, bed"),
        format!("{name}, bed"),
    ];
    for band in &difference.bands {
        let of = |board: &BoardAreas| board.bands.iter().find(|b| b.kind == band.kind).cloned();
        let (Some(own), Some(other)) = (of(board), of(first)) else {
            continue;
        };
        let bed = |free: f64, beds: usize| format!("{:.1}", free / beds.max(1) as f64);
        table.rows.push(vec![
            band.kind.to_string(),
            format!("{:.1}", other.free_mm2),
            format!("{:.1} %", other.metal_share_percent),
            format!("{:.1}", own.free_mm2),
            format!("{:.1} %", own.metal_share_percent),
            percent(band.difference_percent, band.expanded_uncertainty_percent),
            bed(other.free_mm2, other.beds_mm2.len()),
            bed(own.free_mm2, own.beds_mm2.len()),
        ]);
    }
    table
}

/// A difference in percent with its uncertainty.
pub(super) fn percent(value: f64, u: Option<f64>) -> String {
    let sign = if value.abs() < 0.05 { 0.0 } else { value };
    let value = if sign == 0.0 {
        "0.0".to_owned()
    } else {
        format!("{value:+.1}")
    };
    match u {
        Some(u) => format!("{value} ± {u:.1} %"),
        None => format!("{value} %"),
    }
}

fn targets(difference: &Difference, name: &str, than: &str) -> Table {
    let mut table = Table::new(
        format!("How many times harder on {name} than on {than}"),
        &["target", "area rule"],
    );
    table
        .columns
        .extend(SETTINGS.map(|s| format!("spread rule, {s}")));
    table.columns.push(format!("hits on {than}"));
    table.columns.push(format!("hits on {name}"));
    for odds in &difference.targets {
        let mut row = vec![odds.kind.to_string(), ratio(odds.harder_by_area)];
        row.extend(odds.harder_by_spread.into_array().map(ratio));
        row.push(format!("{:.1} %", 100.0 * odds.probability_on_first.chosen));
        row.push(format!("{:.1} %", 100.0 * odds.probability.chosen));
        table.rows.push(row);
    }
    table
}

fn routes(routes: &[RouteOdds], name: &str, than: &str) -> Table {
    let mut table = Table::new(
        format!("How many times harder on {name} than on {than}, and one success in how many"),
        &["route", "darts", "area rule"],
    );
    table
        .columns
        .extend(SETTINGS.map(|s| format!("spread rule, {s}")));
    table.columns.push(format!("one in, {than}"));
    table.columns.push(format!("one in, {name}"));
    for odds in routes {
        let route = match &odds.name {
            Some(known) => format!("{known}: {}", odds.route),
            None => odds.route.clone(),
        };
        let mut row = vec![route, odds.darts.to_string(), ratio(odds.harder_by_area)];
        row.extend(odds.harder_by_spread.into_array().map(ratio));
        row.push(one_in(odds.one_in_on_first.chosen));
        row.push(one_in(odds.one_in.chosen));
        table.rows.push(row);
    }
    table
}

fn averages(averages: &AverageTable, name: &str, than: &str) -> Vec<Table> {
    let table = |from: &str, to: &str, figures: Vec<(f64, ByMetal<Option<f64>>, Option<f64>)>| {
        let heading = format!("on {from}");
        let mut table = Table::new(
            format!(
                "What an average on {from} is worth on {to} (simple rule: ratio {:.4})",
                averages.simple_ratio
            ),
            &[&heading],
        );
        table
            .columns
            .extend(SETTINGS.map(|s| format!("spread rule, {s}")));
        table.columns.push("simple rule".to_owned());
        for (average, worth, simply) in figures {
            let mut row = vec![format!("{average:.1}")];
            row.extend(worth.into_array().map(tenth));
            row.push(tenth(simply));
            table.rows.push(row);
        }
        table
    };
    let rows = || averages.rows.iter();
    let forth = rows().map(|row| (row.average, row.from_first, row.from_first_simply));
    let back = rows().map(|row| (row.average, row.to_first, row.to_first_simply));
    vec![
        table(than, name, forth.collect()),
        table(name, than, back.collect()),
    ]
}

/// A ratio to three decimals; a dash where there is none.
pub(super) fn ratio(ratio: Option<f64>) -> String {
    ratio.map_or_else(dash, |ratio| match ratio {
        r if r >= 100.0 => format!("{r:.0}"),
        r => format!("{r:.3}"),
    })
}

fn tenth(value: Option<f64>) -> String {
    value.map_or_else(dash, |value| format!("{value:.1}"))
}

fn dash() -> String {
    "–".to_owned()
}

/// Tries for one success: three digits, in groups of thousands while they can
/// be read.
pub(super) fn one_in(tries: Option<f64>) -> String {
    tries.map_or_else(dash, |tries| {
        if tries < 99.95 {
            return format!("{tries:.1}");
        }
        if tries >= 1e9 {
            return format!("{tries:.2e}").replace('e', "·10^");
        }
        let digits = format!("{tries:.0}");
        let mut grouped = String::new();
        for (index, digit) in digits.chars().enumerate() {
            if index > 0 && (digits.len() - index) % 3 == 0 {
                grouped.push(' ');
            }
            grouped.push(digit);
        }
        grouped
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tries_are_grouped_while_they_can_be_read() {
        assert_eq!(one_in(Some(3.0)), "3.0");
        assert_eq!(one_in(Some(123.4)), "123");
        assert_eq!(one_in(Some(1_234_567.0)), "1 234 567");
        assert_eq!(one_in(Some(1.5e12)), "1.50·10^12");
        assert_eq!(one_in(None), "–");
    }

    #[test]
    fn a_difference_of_nothing_has_no_sign() {
        assert_eq!(percent(-0.01, None), "0.0 %");
        assert_eq!(percent(-15.66, Some(1.02)), "-15.7 ± 1.0 %");
    }
}
