//! What a comparison assumes, in words, and its numbers as text.

use super::thrown;
use crate::comparison::{
    Assumptions, Comparison, MetalFrom, MetalSetting, RouteName, SpreadOrigin,
};
use crate::play::AimRule;

/// What the figures depend on, a line each.
pub(super) fn assumptions(comparison: &Comparison) -> Vec<String> {
    let given = &comparison.assumptions;
    let first = comparison
        .boards
        .first()
        .map_or("", |board| board.label.as_str());
    let mut lines = vec![format!(
        "spread: {}, {}",
        spread(given),
        origin(&given.spread_from, first)
    )];
    lines.extend(thrown::remarks(&given.spread_from, first));
    lines.extend([
        format!(
            "that averages {:.1} on {first} (scoring darts, best aim, metal as set)",
            given.average_on_first
        ),
        match given.aim {
            AimRule::Middle => {
                "aim: the middle of the bed on each board; for the outer bull, the middle of the inner bull"
                    .to_owned()
            }
            AimRule::MostHits => {
                "aim: where the target is hit most often on each board; curves aim at the middle"
                    .to_owned()
            }
        },
    ]);
    // Boards of one setting are named together.
    let mut settings: Vec<(String, Vec<&str>)> = Vec::new();
    for board in &comparison.boards {
        let words = metal(board.metal);
        match settings.iter_mut().find(|(known, _)| *known == words) {
            Some((_, boards)) => boards.push(&board.label),
            None => settings.push((words, vec![&board.label])),
        }
    }
    let settings = settings.into_iter();
    lines
        .extend(settings.map(|(words, boards)| format!("metal of {}: {words}", boards.join(", "))));
    lines.push(
        "\"as set\" is each board with its own setting; \"all lost\": every dart on metal is lost, \
         on every board; \"all glance\": every one falls to its side of the apex"
            .to_owned(),
    );
    lines
}

/// A player's spread.
pub(in crate::report) fn spread(given: &Assumptions) -> String {
    let (x, y) = (given.spread_x_mm, given.spread_y_mm);
    if (x - y).abs() < 1e-9 && given.correlation.abs() < 1e-9 {
        return format!("{x:.2} mm in every direction");
    }
    let rho = given.correlation;
    format!("{x:.2} mm sideways, {y:.2} mm up and down, correlation {rho:.2}")
}

/// Where a player's spread comes from.
pub(in crate::report) fn origin(origin: &SpreadOrigin, first: &str) -> String {
    match origin {
        SpreadOrigin::Assumed => "assumed because none was named (house rule)".to_owned(),
        SpreadOrigin::Given => "as given".to_owned(),
        SpreadOrigin::Average { average } => {
            format!("from a three-dart average of {average} on {first}")
        }
        SpreadOrigin::Throws(thrown) => thrown::origin(thrown),
    }
}

/// What a board's metal does, and who said so.
pub(in crate::report) fn metal(setting: MetalSetting) -> String {
    let share = setting.lost_percent;
    let what = if share >= 100.0 {
        "a dart on it is lost".to_owned()
    } else if share <= 0.0 {
        "a dart on it glances to its side of the apex".to_owned()
    } else {
        format!("{share} % of the darts on it are lost, the others glance")
    };
    let from = match setting.from {
        MetalFrom::Default => "the default, a house rule",
        MetalFrom::File => "as its file says",
        MetalFrom::Run => "as asked for",
    };
    format!("{what} ({from})")
}

/// What a board is called.
pub(super) fn label(comparison: &Comparison, index: usize) -> &str {
    let board = comparison.boards.get(index);
    board.map_or("", |board| board.label.as_str())
}

/// What a route is called, on pages and in records.
pub(in crate::report) fn route_name(name: RouteName) -> String {
    match name {
        RouteName::Maximum => "maximum".to_owned(),
        RouteName::PerfectLeg(start) => format!("perfect leg of {start}"),
    }
}

/// What the figures are, and what they are not.
pub(super) const CAUTIONS: [&str; 3] = [
    "Area rule: a target is harder in inverse proportion to its free area. Spread rule: throws \
     scatter normally about the aim. They are different questions, and neither is a measurement \
     of play.",
    "No published share of darts that bounce out is known. \"All lost\" and \"all glance\" give \
     every board one setting; two boards may differ in it, and lie between the crossed figures.",
    "This is a calculation, not an official approval: the governing body's current rules prevail. \
     Rounded points and bent wires make bounce-outs likelier: keep spectators behind the throwing \
     line.",
];

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

/// Where there is no figure.
pub(in crate::report) fn dash() -> String {
    "–".to_owned()
}

/// Tries for one success: three digits, in groups of thousands while they can
/// be read.
pub(in crate::report) fn one_in(tries: Option<f64>) -> String {
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
