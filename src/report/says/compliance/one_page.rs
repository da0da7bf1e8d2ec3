//! A board on one page: what came of it, where on the board the trouble is, and how
//! it was measured.

use super::super::{people, phrases, reasons, uneven};
use super::board::{authorisation, fact, inspection, length_doubt, rule, verdict};
use super::{BoardLine, Compliance, tables};
use crate::board::Board;
use crate::conformity::{Assessment, BandOutcome, LimitFinding, Outcome, Verdict};
use crate::report::draw::Figure;
use crate::report::page::{Block, Fact, Part};

/// Lines that what is wrong may take; what is more is counted. House rule: what is wrong
/// with a board shows in the first of them, and a page has no room for more.
const LINES: usize = 5;

/// Letters in a line, as good as any number that is near it.
const LETTERS: usize = 100;

/// Remarks on readings that are listed, at most.
const BESIDE: usize = 2;

pub(super) fn part(
    report: &Compliance<'_>,
    line: &BoardLine,
    assessment: &Assessment<'_>,
    drawings: impl Iterator<Item = Figure>,
) -> Part {
    let board = assessment.board;
    let alone = !report.has_summary();
    let mut blocks = vec![Block::Verdict {
        mark: line.verdict.into(),
        // The list says which.
        words: verdict(line, assessment, false),
    }];
    let beside = people::beside_the_verdict(assessment).into_iter();
    let beside: Vec<String> = beside.take(BESIDE).collect();
    // The heading of these takes two lines.
    let taken = beside.iter().map(|words| lines(words)).sum::<usize>();
    let taken = taken + if beside.is_empty() { 0 } else { 2 };
    let left = LINES.saturating_sub(taken);
    blocks.extend(Block::points(troubles(assessment, left)));
    blocks.extend(Block::section(
        "Readings to look at again",
        Block::points(beside),
    ));
    blocks.extend(drawings.map(Block::Figure));
    blocks.push(Block::Grid(tables::bands_in_short(assessment)));
    let measured = measured(report, board, line);
    // In an event's report every board has one page, and lines are dear.
    let measured = if alone {
        Block::Facts(measured)
    } else {
        Block::Note(in_a_paragraph(measured))
    };
    blocks.extend(Block::section("How it was measured", [measured]));
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

/// How many lines words take.
fn lines(words: &str) -> usize {
    words.chars().count().div_ceil(LETTERS)
}

/// What does not plainly conform, each with its reason, in about so many lines; what is
/// worst first.
fn troubles(assessment: &Assessment<'_>, room: usize) -> Vec<String> {
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
    let all: Vec<String> = all.into_iter().map(|(_, words)| words).collect();
    let suspicion = assessment.suspicion.as_ref().map(reasons::suspicion);
    let room = room.saturating_sub(suspicion.as_deref().map_or(0, lines));
    let mut taken = 0;
    let fits = all.iter().take_while(|words| {
        taken += lines(words);
        taken <= room
    });
    let shown = fits.count().max(1).min(all.len());
    let left = all.len() - shown;
    let mut words: Vec<String> = all.into_iter().take(shown).collect();
    if left > 0 {
        let more = phrases::count(left, "more check", "more checks");
        words.push(format!("and {more}: see the report in full detail"));
    }
    words.extend(suspicion);
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

/// Facts one after the other.
fn in_a_paragraph(facts: Vec<Fact>) -> String {
    let facts = facts.into_iter().map(|fact| {
        let value = fact.value.unwrap_or_else(|| "not stated".to_owned());
        format!("{}: {value}.", fact.name)
    });
    facts.collect::<Vec<_>>().join(" ")
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
    // Enough to tell files apart; the full report and the JSON have all of it.
    let digest: String = source.sha256().chars().take(16).collect();
    facts.push(fact(
        "described in",
        Some(format!("{}, SHA-256 begins {digest}", source.name())),
    ));
    facts
}
