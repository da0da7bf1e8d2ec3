//! A board on one page: what came of it, where on the board the trouble is, and how
//! it was measured.

use super::super::{people, phrases, reasons, uneven};
use super::board::{authorisation, fact, inspection, length_doubt, rule, verdict};
use super::{BoardLine, Compliance, tables};
use crate::board::Board;
use crate::conformity::{Assessment, BandOutcome, LimitFinding, Outcome, Verdict};
use crate::report::draw::Figure;
use crate::report::page::{Block, Fact, Part};

/// Checks that are listed; more are counted. House rule: what is wrong with a board
/// shows in the first of them, and a page has no room for more.
const LISTED: usize = 7;

/// Remarks on readings that are listed, likewise.
const BESIDE: usize = 3;

pub(super) fn part(
    report: &Compliance<'_>,
    line: &BoardLine,
    assessment: &Assessment<'_>,
    drawing: Option<Figure>,
) -> Part {
    let board = assessment.board;
    let alone = !report.has_summary();
    let mut blocks = vec![Block::Verdict {
        mark: line.verdict.into(),
        words: verdict(line, assessment),
    }];
    blocks.extend(Block::points(troubles(assessment)));
    let beside = people::beside_the_verdict(assessment).into_iter();
    blocks.extend(Block::section(
        "Readings to look at again",
        Block::points(beside.take(BESIDE).collect()),
    ));
    blocks.extend(drawing.map(Block::Figure));
    blocks.push(Block::Grid(tables::bands_in_short(assessment)));
    blocks.extend(Block::section(
        "How it was measured",
        [Block::Facts(measured(report, board, line))],
    ));
    if alone {
        blocks.extend(Block::section(
            "The inspection",
            [Block::Facts(inspection(report.event, line, board))],
        ));
        blocks.extend(Block::section(
            "What it was checked against",
            [Block::Facts(rule(report.table))],
        ));
        blocks.extend(authorisation(report.event));
    }
    line.part(!alone, blocks)
}

/// What does not plainly conform, each with its reason; what is worst first.
fn troubles(assessment: &Assessment<'_>) -> Vec<String> {
    let limits = assessment.limits.iter().filter_map(|finding| {
        let verdict = finding.outcome.verdict();
        (verdict != Some(Verdict::Conforms)).then(|| (verdict, limit(finding, assessment)))
    });
    let bands = assessment.bands.iter().filter_map(|finding| {
        let BandOutcome::Compared(band) = &finding.outcome else {
            return None;
        };
        let verdict = band
            .verdict
            .filter(|verdict| *verdict != Verdict::Conforms)?;
        let words = format!(
            "{} area: {}, limits {}",
            finding.band,
            phrases::deviation(band),
            phrases::within(band.bounds.as_ref())
        );
        Some((Some(verdict), words))
    });
    let mut all: Vec<_> = limits.chain(bands).collect();
    // A stable order keeps the table's within each kind.
    all.sort_by_key(|(verdict, _)| match verdict {
        Some(Verdict::DoesNotConform) => 0,
        Some(_) => 1,
        None => 2,
    });
    let left = all.len().saturating_sub(LISTED);
    let mut words: Vec<String> = all.into_iter().map(|(_, words)| words).collect();
    words.truncate(LISTED);
    if left > 0 {
        let more = phrases::count(left, "more check", "more checks");
        words.push(format!("and {more}: see the report in full detail"));
    }
    words.extend(assessment.suspicion.as_ref().map(reasons::suspicion));
    words
}

fn limit(finding: &LimitFinding<'_>, assessment: &Assessment<'_>) -> String {
    let subject = phrases::subject(finding);
    let words = match &finding.outcome {
        Outcome::Length(length) => {
            let decimals = phrases::decimals(finding.limit.measurand);
            let value = phrases::value(length, decimals);
            let interval = phrases::interval(length.interval, decimals);
            let why = length_doubt(assessment, length);
            match (finding.outcome.verdict(), why) {
                (Some(Verdict::Inconclusive), Some(why)) => {
                    format!("{value}, limits {interval}: not decided, {why}")
                }
                _ => format!("{value}, limits {interval}"),
            }
        }
        Outcome::NotChecked(missing) => format!("not checked, needs {}", reasons::needs(missing)),
        Outcome::Mounting { found, .. } => found.to_string(),
        Outcome::Bed(found) => format!(
            "{}, limits {}",
            uneven::bed_value(found),
            uneven::bed_interval(found.lower, found.upper)
        ),
    };
    format!("{subject}: {words}")
}

fn measured(report: &Compliance<'_>, board: &Board, line: &BoardLine) -> Vec<Fact> {
    let event = report.event;
    let own = board.inspection.as_ref();
    let by = own.and_then(|own| own.by.clone());
    let by = by.or_else(|| event.inspected_by.as_ref().map(ToString::to_string));
    let on = own.and_then(|own| own.date).or(event.inspected);
    let basis = phrases::uncertainty_basis(board, &board.construction);
    let source = &board.document.source;
    let mut facts = vec![
        fact("inspected", {
            let on = on.map(|day| day.to_string());
            match (on, by) {
                (Some(on), Some(by)) => Some(format!("{on}, by {by}")),
                (Some(on), None) => Some(on),
                (None, by) => by.map(|by| format!("by {by}")),
            }
        }),
        fact("construction", Some(phrases::build(&board.construction))),
    ];
    let basis = basis.join("; ");
    facts.extend((!basis.is_empty()).then(|| fact("uncertainty", Some(basis))));
    facts.extend(line.since.as_ref().map(|since| {
        let words = since.in_a_line();
        fact("since the inspection before", Some(words))
    }));
    facts.push(fact(
        "described in",
        Some(format!("{}, SHA-256 {}", source.name(), source.sha256())),
    ));
    facts
}
