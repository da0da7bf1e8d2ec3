//! What is said of a production run, in words.

use crate::lot::{
    ChangeKind, Lot, NotCharted, Series, Side, Signal, Subject, Tolerance, Unit, Withheld,
};
use crate::report::says::phrases::{check_of, count, decimals as decimals_of, key_of};

/// Boards beyond a limit that are named one by one; more are counted. House rule.
const NAMED: usize = 5;

/// What a series is of, in words.
pub(in crate::report) fn name(subject: &Subject<'_>) -> String {
    match subject {
        Subject::Length { limit, part } => check_of(limit, *part),
        Subject::Area(band) => format!("{band} area, deviation"),
    }
}

/// Its key, as findings have it.
pub(in crate::report) fn key(subject: &Subject<'_>) -> String {
    match subject {
        Subject::Length { limit, part } => key_of(limit, *part),
        Subject::Area(band) => format!("{}.area", band.key()),
    }
}

/// The unit of a series.
pub(in crate::report) const fn unit(subject: &Subject<'_>) -> &'static str {
    match subject.unit() {
        Unit::Mm => "mm",
        Unit::Percent => "%",
    }
}

/// Decimals of a single value.
pub(super) const fn decimals(subject: &Subject<'_>) -> usize {
    match subject {
        Subject::Length { limit, .. } => decimals_of(limit.measurand),
        Subject::Area(_) => 1,
    }
}

/// A value with its unit.
pub(super) fn valued(subject: &Subject<'_>, value: f64, more: usize) -> String {
    let decimals = decimals(subject) + more;
    format!("{value:.decimals$} {}", unit(subject))
}

/// A board by its place in the run.
fn board(lot: &Lot<'_>, place: usize) -> String {
    let id = lot.boards.get(place).map_or("", |board| board.id.as_str());
    format!("{id} (place {})", place + 1)
}

/// The board of a value, by its index in the series.
pub(super) fn board_of(lot: &Lot<'_>, series: &Series<'_>, at: usize) -> String {
    board(lot, series.places.get(at).copied().unwrap_or_default())
}

/// What the run comes to, in a sentence or two.
pub(super) fn state(lot: &Lot<'_>) -> String {
    let ends = [lot.boards.first(), lot.boards.last()];
    let [first, last] = ends.map(|board| board.map_or("", |board| board.id.as_str()));
    let order = match lot.order {
        crate::lot::Order::File => "in the order of their files",
        crate::lot::Order::Made => {
            "by the year in which they were made, the day of their inspection and their files"
        }
    };
    let charted = lot.series.iter().filter(|own| own.chart.is_ok()).count();
    let unstable = lot.series.iter().filter(|own| own.is_unstable()).count();
    let verdict = match (charted, unstable) {
        (0, _) => "Nothing could be charted, so nothing is said of its stability.".to_owned(),
        (_, 0) => format!(
            "No chart gives a signal: {} charted, and the process looks stable.",
            count(charted, "measurand was", "measurands were")
        ),
        _ => format!(
            "Not stable: charts of {unstable} of {} give a signal.",
            count(charted, "charted measurand", "charted measurands")
        ),
    };
    format!(
        "{} {order}, from {first} to {last}, against {}. {verdict}",
        count(lot.boards.len(), "board", "boards"),
        lot.table.title
    )
}

/// Everything that charts name, a line each.
pub(super) fn named(lot: &Lot<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    for series in &lot.series {
        let said = signals(lot, series);
        lines.extend(
            said.into_iter()
                .map(|said| format!("{}: {said}", name(&series.subject))),
        );
    }
    lines
}

/// What the charts of one series name, in the order of the run.
pub(in crate::report) fn signals(lot: &Lot<'_>, series: &Series<'_>) -> Vec<String> {
    let Ok(chart) = &series.chart else {
        return Vec::new();
    };
    let is_beyond = |signal: &&Signal| matches!(signal, Signal::Beyond { .. });
    let beyond = chart.signals.iter().filter(is_beyond).count();
    let (single, other): (Vec<&Signal>, Vec<&Signal>) = chart.signals.iter().partition(is_beyond);
    let mut said: Vec<String> = other
        .into_iter()
        .map(|own| signal(lot, series, own))
        .collect();
    let single = single.into_iter().take(NAMED);
    said.extend(single.map(|own| signal(lot, series, own)));
    if beyond > NAMED {
        said.push(format!(
            "{} more boards beyond the limits of the chart",
            beyond - NAMED
        ));
    }
    said
}

fn signal(lot: &Lot<'_>, series: &Series<'_>, signal: &Signal) -> String {
    let of = |at: usize| board_of(lot, series, at);
    match *signal {
        Signal::Beyond { at, side } => {
            let value = series.values.get(at).copied().unwrap_or_default();
            let value = valued(&series.subject, value, 0);
            let side = match side {
                Side::Above => "above",
                Side::Below => "below",
            };
            format!(
                "{} lies {side} the limits of the chart with {value}",
                of(at)
            )
        }
        Signal::Run {
            first,
            last,
            length,
            side,
        } => {
            let side = match side {
                Side::Above => "above",
                Side::Below => "below",
            };
            format!(
                "a run of {length} boards {side} the median, beginning at {} and ending at {}",
                of(first),
                of(last)
            )
        }
        Signal::Change { beginning, .. } => {
            let way = if beginning.amount > 0.0 {
                "upwards"
            } else {
                "downwards"
            };
            let (from, to) = beginning.range;
            let size = beginning.amount.abs();
            let what = match beginning.kind {
                ChangeKind::Drift => {
                    let each = valued(&series.subject, size, 2);
                    format!("a drift {way} of {each} from board to board")
                }
                ChangeKind::Shift => {
                    format!("a shift {way} by {}", valued(&series.subject, size, 1))
                }
            };
            let place = |at: usize| series.places.get(at).map_or(0, |place| place + 1);
            let id = |at: usize| {
                let board = place(at).checked_sub(1).and_then(|at| lot.boards.get(at));
                board.map_or("", |board| board.id.as_str())
            };
            format!(
                "{what}, beginning at about {} (place {}; with 95 % confidence {} to {})",
                id(beginning.at),
                place(beginning.at),
                place(from),
                place(to)
            )
        }
    }
}

/// Why there is no chart, in words.
pub(in crate::report) fn not_charted(why: NotCharted) -> String {
    match why {
        NotCharted::TooFew { count: 0 } => "not recorded".to_owned(),
        NotCharted::TooFew { count: number } => format!(
            "{}, and a chart needs {}",
            count(number, "value", "values"),
            crate::lot::FEWEST
        ),
        NotCharted::AllAlike => "all values are alike".to_owned(),
        NotCharted::TooCoarse { step, .. } => {
            format!("recorded in steps of {step:.3}, which hide the spread")
        }
    }
}

/// Why there is no capability, in words.
pub(in crate::report) fn withheld(series: &Series<'_>, why: Withheld) -> String {
    match (why, &series.chart) {
        (Withheld::NoLimits, _) => "no limits".to_owned(),
        (Withheld::PointLimit, _) => "the limits allow one value alone".to_owned(),
        (Withheld::LimitsDiffer, _) => "limits differ from board to board".to_owned(),
        (Withheld::NotCharted, Err(why)) => not_charted(*why),
        (Withheld::NotStable, _) => "not stable".to_owned(),
        (Withheld::MeasurementTooCoarse { noise, deviation }, _) => format!(
            "the measurement is too coarse to see the process: its s is {noise:.3}, that of the \
             values {deviation:.3}"
        ),
        _ => "withheld".to_owned(),
    }
}

/// The state of the charts in a word or two.
pub(in crate::report) fn stability(series: &Series<'_>) -> &'static str {
    match (&series.chart, series.is_unstable()) {
        (Err(_), _) => "not charted",
        (Ok(_), true) => "not stable",
        (Ok(_), false) => "stable",
    }
}

/// The values that conform.
pub(super) fn tolerance(series: &Series<'_>) -> String {
    let figure = |value: f64| format!("{value:.*}", decimals(&series.subject));
    let unit = unit(&series.subject);
    let Tolerance::Same { lower, upper } = series.tolerance else {
        let differs = series.tolerance == Tolerance::Differs;
        return if differs { "differs" } else { "no limits" }.to_owned();
    };
    match (lower, upper) {
        (Some(lower), Some(upper)) => format!("{} to {} {unit}", figure(lower), figure(upper)),
        (Some(lower), None) => format!("at least {} {unit}", figure(lower)),
        (None, Some(upper)) => format!("at most {} {unit}", figure(upper)),
        (None, None) => "no limits".to_owned(),
    }
}

/// What else a reader should know of single measurands.
pub(super) fn remarks(lot: &Lot<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    for series in &lot.series {
        let name = name(&series.subject);
        if series.lacking > 0 {
            lines.push(format!(
                "{name}: {} did not record it, so n is smaller.",
                count(series.lacking, "board", "boards")
            ));
        }
        if series.capability.is_ok() && series.unstated > 0 {
            lines.push(format!(
                "{name}: of {} no uncertainty is known, so nothing of the measurement was taken \
                 out for these.",
                count(series.unstated, "value", "values")
            ));
        }
        if !series.is_unstable() && series.normality.is_some_and(|own| own.is_doubtful()) {
            lines.push(format!(
                "{name}: the values do not look normal, and limits of charts, Cp and Cpk rest on \
                 that. Look at the normal probability plot before you rely on them."
            ));
        }
    }
    lines
}
