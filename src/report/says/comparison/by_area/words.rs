//! What a comparison by areas rests on and leaves out, in words.

use super::super::sure;
use super::super::words::dash;
use crate::board::{Band, Quantity};
use crate::comparison::{
    AreaBoard, AreaComparison, AreaOdds, Certainty, Described, Figure, LegRule, RatioFrom,
};

/// What is known of each board, a line each.
pub(super) fn known(comparison: &AreaComparison) -> Vec<String> {
    let mut lines: Vec<String> = comparison
        .boards
        .iter()
        .map(|board| {
            let label = &board.label;
            match board.described {
                Described::NotDescribed => format!("{label}: not described"),
                Described::Ratios => format!("{label}: {}", ratios(comparison)),
                Described::Nominal => format!("{label}: the nominal board of a table, exact"),
                Described::File if board.beds.is_empty() => format!("{label}: no free area"),
                Described::File => {
                    let bands: Vec<&str> = board.beds.iter().map(|bed| bed.band.name()).collect();
                    format!("{label}: free areas of {}", bands.join(", "))
                }
            }
        })
        .collect();
    lines.push(
        "every figure is by the area rule alone: a target is harder in inverse proportion to its \
         free area"
            .to_owned(),
    );
    lines
}

/// What ratios were given.
fn ratios(comparison: &AreaComparison) -> String {
    let targets = comparison.differences.first().map(|one| &one.targets);
    let of = |from: RatioFrom| -> Vec<&AreaOdds> {
        let all = targets.into_iter().flatten();
        all.filter(|odds| odds.from == from).collect()
    };
    let given = of(RatioFrom::Given).into_iter().filter_map(|odds| {
        let harder = odds.harder?;
        let u = match harder.certainty {
            Certainty::NotStated => " (no uncertainty stated)",
            _ => "",
        };
        Some(format!("{} {}{u}", odds.band, harder.value))
    });
    let given: Vec<String> = given.collect();
    let others: Vec<&str> = of(RatioFrom::NotNamed)
        .into_iter()
        .map(|odds| odds.band.name())
        .collect();
    let mut words = format!("times harder as given: {}", given.join(", "));
    if !others.is_empty() {
        words += &format!("; exactly 1, as nothing was said: {}", others.join(", "));
    }
    words
}

/// How the perfect leg was chosen.
pub(super) fn leg_rule(comparison: &AreaComparison) -> String {
    match comparison.leg_rule {
        LegRule::EasiestOnFirst { spread_mm } => {
            let first = comparison.boards.first().map_or("", |board| &board.label);
            format!(
                "of the shortest legs, the easiest on {first} for a spread of {spread_mm:.0} mm \
                 (house rule)"
            )
        }
        LegRule::FewestBulls => "of the shortest legs, those with the fewest darts at the inner \
                                 bull, of them those with the most at singles, of them the one \
                                 with the largest scores (house rule, as the rings of the first \
                                 board are not known)"
            .to_owned(),
    }
}

/// What needs rings, and what is missing for it.
pub(super) fn left_out(comparison: &AreaComparison) -> Vec<String> {
    let mut lines = vec![
        "The spread rule, the player's own average, what metal does, maps, curves and drawings \
         need every ring and wire of every board."
            .to_owned(),
    ];
    lines.extend(comparison.boards.iter().filter_map(lacking));
    let bands: Vec<&str> = comparison
        .differences
        .iter()
        .flat_map(|one| &one.targets)
        .filter(|odds| odds.harder.is_none())
        .map(|odds| odds.band.name())
        .collect();
    if !bands.is_empty() {
        let mut names: Vec<&str> = Vec::new();
        for band in bands {
            if !names.contains(&band) {
                names.push(band);
            }
        }
        lines.push(format!(
            "No ratio of {}: the free area is not known on both boards.",
            names.join(", ")
        ));
    }
    if comparison
        .differences
        .iter()
        .any(|one| one.averages.is_none())
    {
        lines.push("No averages: they follow from the treble's ratio.".to_owned());
    }
    lines
}

/// What a board lacks, and what would help.
fn lacking(board: &AreaBoard) -> Option<String> {
    let label = &board.label;
    match board.described {
        Described::Nominal => None,
        Described::NotDescribed => Some(format!("The {label}: name its file.")),
        Described::Ratios => Some(format!(
            "The {label}: name its file in place of the ratios."
        )),
        Described::File if board.lacks.is_empty() => None,
        Described::File => {
            let lacks: Vec<String> = board.lacks.iter().map(Quantity::to_string).collect();
            let remedy = if board.has_rings {
                "Measure them, or let a table's nominal board stand in for them: `--fill wdf`."
            } else {
                "Measure them."
            };
            Some(format!("{label} lacks: {}. {remedy}", lacks.join(", ")))
        }
    }
}

/// Why a route has no figure.
pub(super) fn route_lacks(bands: &[Band], by_ratios: bool) -> String {
    let names: Vec<&str> = bands.iter().map(|band| band.name()).collect();
    let names = names.join(" and ");
    if by_ratios {
        format!(
            "a single is two beds, of which each counts as much as its area on the first board: \
             that of the {names} is not known"
        )
    } else {
        format!("the free area of the {names} is not known on both boards")
    }
}

/// A figure with as many decimals as its interval leaves it, or as are usual.
pub(super) fn digits(figure: Option<Figure>, usual: usize) -> String {
    figure.map_or_else(dash, |figure| {
        sure::digits(Some(figure.value), &figure.certainty, usual)
    })
}

/// An interval of 95 %, or why there is none.
pub(super) fn interval(figure: Option<Figure>) -> String {
    figure.map_or_else(dash, |figure| match figure.certainty {
        Certainty::Exact => "exact".to_owned(),
        Certainty::NotStated => "not stated".to_owned(),
        Certainty::Within { all, .. } => sure::ends(all),
    })
}

/// What the figures are, and what they are not.
pub(super) const CAUTIONS: [&str; 2] = [
    "Area rule: as if darts fell evenly over a target and its surroundings. A player who aims \
     well sees less of a difference, and what metal does to a dart changes it: neither can be \
     said from areas.",
    "This is a calculation, not an official approval: the governing body's current rules prevail. \
     Rounded points and bent wires make bounce-outs likelier: keep spectators behind the throwing \
     line.",
];
