//! What a leg assumes and comes to, in words, and its numbers as text.

use crate::comparison::{Certainty, LegOnBoard, WholeLegs};
use crate::play::{Aims, Entry, Objective};
use crate::report::page::Block;
use crate::report::says::comparison::sure::{digits, plus_minus};
use crate::report::says::comparison::thrown::remarks;
use crate::report::says::comparison::words::{metal, one_in, origin, spread};
use crate::report::says::phrases::count;

/// A probability that is printed as a percentage: below this it is a dash. House rule.
const LEAST_PERCENT: f64 = 0.05;

/// The first board's leg in a sentence.
pub(super) fn answer(legs: &WholeLegs, board: &LegOnBoard) -> Block {
    Block::Answer {
        headline: format!(
            "{} darts for a leg of {} on {}",
            digits(Some(board.expected_darts), &board.expected_certainty, 2),
            legs.leg.start,
            board.label
        ),
        words: format!(
            "A match average of {}, {}; a leg in {} once in {} for a player who plays for \
             nothing else.",
            digits(Some(board.match_average), &board.match_average_certainty, 2),
            digits_of_rate(board).map_or_else(
                || "and less than one dart a leg aimed at a double that wins".to_owned(),
                |rate| format!("and {rate} of darts at a double win")
            ),
            count(board.perfect.darts, "dart", "darts"),
            one_in(Some(1.0 / board.perfect.chance).filter(|tries| tries.is_finite()))
        ),
    }
}

/// What the figures depend on, a line each.
pub(super) fn assumptions(legs: &WholeLegs) -> Vec<String> {
    let given = &legs.assumptions;
    let first = legs.boards.first().map_or("", |board| board.label.as_str());
    let mut lines =
        vec![
        format!(
            "spread: {}, {}; it is the same for every dart and every aim",
            spread(given),
            origin(&given.spread_from, first)
        ),
        match legs.leg.objective {
            Objective::Visits => "played for the fewest expected visits".to_owned(),
            _ => "played for the fewest expected darts: a void visit counts three, the winning one \
                  what it took"
                .to_owned(),
        },
        match legs.leg.aims {
            Aims::Continuous => "aims: anywhere on the board, each right to a millionth of a dart \
                                 where the best of many hills is climbed; named by the bed \
                                 whose middle is nearest"
                .to_owned(),
            _ => "aims: the middles of the 81 beds, exactly (both bulls share one)".to_owned(),
        },
        match legs.leg.entry {
            Entry::Double => "double in, and double out; the inner bull counts as a double",
            _ => "straight in, double out; the inner bull counts as a double",
        }
        .to_owned(),
    ];
    lines.extend(remarks(&given.spread_from, first));
    for board in &legs.boards {
        lines.push(format!("metal of {}: {}", board.label, metal(board.metal)));
    }
    if let Some(other) = legs.against {
        lines.push(format!(
            "the other player's spread: {:.2} mm; each plays for the fewest darts, whatever the other \
             has left",
            other.sigma_x()
        ));
    }
    lines
}

/// The checkout rate in percent, as many digits as its interval leaves it.
fn digits_of_rate(board: &LegOnBoard) -> Option<String> {
    let rate = board.checkout_rate?;
    Some(match board.checkout_rate_certainty.in_percent() {
        sure @ Certainty::Within { .. } => {
            format!("{} %", digits(Some(100.0 * rate), &sure, 1))
        }
        _ if 100.0 * rate < LEAST_PERCENT => format!("less than {LEAST_PERCENT} %"),
        _ => percent(rate),
    })
}

/// A checkout rate in percent, and how far it may be off.
pub(super) fn rate(rate: Option<f64>, certainty: &Certainty) -> String {
    let Some(rate) = rate else {
        return "–".to_owned();
    };
    match certainty.in_percent() {
        sure @ Certainty::Within { .. } => {
            format!("{} %", plus_minus(Some(100.0 * rate), &sure, 1))
        }
        _ if 100.0 * rate < LEAST_PERCENT => format!("< {LEAST_PERCENT} %"),
        _ => percent(rate),
    }
}

/// A probability in percent: three digits.
pub(super) fn percent(probability: f64) -> String {
    match 100.0 * probability {
        p if p.is_nan() || p < LEAST_PERCENT => "–".to_owned(),
        p if p < 9.95 => format!("{p:.2} %"),
        p => format!("{p:.1} %"),
    }
}

/// Under the figures of a leg.
pub(super) fn sure(legs: &WholeLegs) -> String {
    let mut words = String::new();
    let of = |certainty: Certainty| {
        let boards = legs.boards.iter();
        let boards = boards.filter(|board| board.expected_certainty == certainty);
        let labels: Vec<&str> = boards.map(|board| board.label.as_str()).collect();
        labels.join(", ")
    };
    if legs
        .boards
        .iter()
        .any(|board| board.expected_certainty.interval().is_some())
    {
        words.push_str(
            "±: 95 %, to first order, from the uncertainties that files state for lengths and, \
             where it was estimated, from the player's spread. ",
        );
    }
    let (exact, silent) = (of(Certainty::Exact), of(Certainty::NotStated));
    if !exact.is_empty() {
        words.push_str("Exact by definition: a nominal board, and a spread that was given. ");
    }
    if !silent.is_empty() {
        words.push_str("No ± can be given for ");
        words.push_str(&silent);
        words.push_str(if legs.boards.iter().any(|own| !own.filled.is_empty()) {
            ": a length that matters states no uncertainty; what is nominal and was not measured \
             has none before it is measured. "
        } else {
            ": the file states no uncertainty for a length that matters; `uncertainty: 0.05` \
             states one for all. "
        });
    }
    words
        .push_str("The scoring average counts scoring darts alone, so the match average is lower.");
    words
}

/// Under the chances against another player.
pub(super) const AGAINST: &str = "Each throws a whole visit in turn. A player who adapts to what \
the other has left wins a little more often.";

/// Under the finish tables of pages.
pub(super) const SHORT: &str = "The aim that most visits want; + : a visit that began at some other \
total wants another, which the spreadsheet and the JSON name. For the player and the metal of this \
leg alone: another player's best aims differ.";

/// Under the finish tables of terminals.
pub(super) const FINISHES: &str = "Where a visit begun elsewhere wants another aim, the beds are \
listed one after the other, the one that most visits want first. Further: darts still expected, in a \
visit that begins with this total; a dart of this visit counts.";

/// What the figures are, and what they are not.
pub(super) const CAUTIONS: [&str; 3] = [
    "Computed for a player whose throws scatter normally about every aim, who never tires and knows \
     this table by heart: nobody's real legs.",
    "A match average counts every dart of a leg, also at doubles and in void visits; an average of \
     scoring darts alone is higher.",
    "This is a calculation, not an official approval: the governing body's current rules prevail. \
     Rounded points and bent wires make bounce-outs likelier: keep spectators behind the throwing \
     line.",
];
