//! How the figures of a production run come about, and what they are not.

use crate::lot::{FEWEST, Lot, WEIGHT};

/// How the figures were worked out.
pub(super) fn method(lot: &Lot<'_>) -> Vec<String> {
    let alarm = 100.0 * lot.false_alarm;
    vec![
        format!(
            "Charts: single values, the exponentially weighted moving average (EWMA, weight \
             {WEIGHT}) and runs on one side of the median, of each measurand with {FEWEST} values \
             or more. Of sound runs at most {alarm} % get a false signal on any of the {} charts \
             together (each has an equal share of that; house rule).",
            lot.charts
        ),
        "The centre line is the mean; the standard deviation is that of successive boards (mean \
         moving range over 1.128, ISO 7870-2 from memory), so that a drift does not widen the \
         limits. The mean is that of the whole run: a change at its end moves it too, and an \
         average may leave its limits before the change as well as after it. Values beyond the limits move the centre line and the average no further than \
         the limits."
            .to_owned(),
        "Where the average leaves its limits, the one shift or the one drift that explains the \
         values best is named with its likeliest beginning: an estimate, with the places where it \
         may have begun as well."
            .to_owned(),
        "Cp and Cpk (terms of ISO 22514, from memory) are given where the charts are stable, with \
         95 % intervals; of one limit, Cpk alone. They look at the process: the part of the \
         variance that the measurement adds anew on every board (rounding, scatter of readings, \
         uncertainties that files state for single lengths, not a repeatability by house rule) is \
         taken out; \"as measured\" leaves \
         it in."
            .to_owned(),
        "What all boards share, such as an instrument's permissible error, the temperature or \
         one person's touch, moves their mean and not their spread, and is left in. If a stated \
         uncertainty is for such a shared error, Cp and Cpk come out too favourable, and the \
         ones as measured hold."
            .to_owned(),
        "n is the number of values, s their standard deviation on n − 1; shares outside have exact \
         95 % intervals of a binomial. Areas are deviations of a band's free area in percent of \
         the nominal board's."
            .to_owned(),
    ]
}

/// What a run's figures are not.
pub(super) const CAUTIONS: [&str; 2] = [
    "A chart says that something changed, not what: look at tools, wire and measurement at the \
     boards that it names. The order of the boards is the order that was given.",
    "This is a calculation, not an official approval: the governing body's current rules prevail. \
     A capable process does not make a single board conform.",
];
