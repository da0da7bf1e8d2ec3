//! The part of a report that is about one board.

use jiff::civil::Date;

use super::super::reasons::Grounds;
use super::super::{budget, people, phrases, reasons, uneven, warmth};
use super::line::Since;
use super::tables::{self, Sources};
use super::takings::takings;
use super::{BoardLine, Compliance, statements};
use crate::board::Board;
use crate::conformity::{Assessment, BandOutcome, ComparedBand, LengthFinding, Outcome};
use crate::event::Event;
use crate::report::draw::Figure;
use crate::report::page::{Block, Fact, Part};
use crate::report::style::Mark;
use crate::table::{BuiltIn, Table};
use crate::units::Instrument;

/// A fact, stated or not.
pub(super) fn fact(name: &str, value: Option<impl Into<String>>) -> Fact {
    Fact {
        name: name.to_owned(),
        value: value.map(Into::into),
    }
}

pub(super) fn part(
    report: &Compliance<'_>,
    line: &BoardLine,
    assessment: &Assessment<'_>,
    figures: Vec<Figure>,
) -> Part {
    let board = assessment.board;
    let mut sources = Sources::default();
    let method = if report.has_summary() {
        Vec::new()
    } else {
        method(report.event)
    };
    let sections = [
        Block::section(
            "Readings to look at again",
            Block::points(people::beside_the_verdict(assessment)),
        ),
        Block::section(
            "The inspection",
            [Block::Facts(inspection(report.event, line, board))],
        ),
        Block::section("The board", [Block::Facts(identity(board))]),
        Block::section(
            "What it was checked against",
            [Block::Facts(rule(report.table))],
        ),
        Block::section(
            "Since the inspection before",
            line.since.iter().flat_map(Since::blocks),
        ),
        Block::section("Drawings", figures.into_iter().map(Block::Figure)),
        Block::section(
            "Limits",
            [Block::Grid(tables::limits(assessment, &mut sources))],
        ),
        Block::section(
            "Bands",
            [Some(Block::Grid(tables::bands(assessment, &mut sources)))]
                .into_iter()
                .chain([
                    uneven_beds(assessment),
                    Some(Block::Points(sources.lines())),
                ])
                .flatten(),
        ),
        Block::section(
            "What drives each deviation",
            tables::drivers(assessment).map(Block::Grid),
        ),
        Block::section(
            "What is not decided, and why",
            Block::points(undecided(assessment)),
        ),
        Block::section(
            "What could not be checked",
            Block::points(
                reasons::unchecked(assessment)
                    .map(|(words, _)| words)
                    .collect(),
            ),
        ),
        Block::section("What was measured", [Block::Grid(tables::measured(board))]),
        Block::section("Who read what", takings(board).map(Block::Grid)),
        budget::annex(assessment),
        method,
        Block::section("Remarks", [remarks(report.event, assessment)]),
        authorisation(report.event),
    ];
    let mut blocks = vec![Block::Verdict {
        mark: line.verdict.into(),
        words: verdict(line, assessment, true),
    }];
    blocks.extend(sections.into_iter().flatten());
    line.part(false, blocks)
}

/// The verdict, with the checks that it hangs on if they are `named`, and how probable it
/// is that the board meets all its limits.
pub(super) fn verdict(line: &BoardLine, assessment: &Assessment<'_>, named: bool) -> String {
    let mut words = sentence(line, named);
    if let Some(probability) = phrases::board_probability(assessment) {
        words.push_str(&format!(" The board {probability}."));
    }
    words
}

/// The verdict in a sentence.
fn sentence(line: &BoardLine, named: bool) -> String {
    let subjects = |mark: Mark| {
        let with = line.doubtful.iter().filter(|check| check.mark == mark);
        with.map(|check| check.subject.clone()).collect::<Vec<_>>()
    };
    let mut parts = vec![format!(
        "{} of {} checks conform",
        line.tally.conform,
        line.tally.total()
    )];
    for (mark, one, many) in [
        (Mark::DoesNotConform, "does not conform", "do not conform"),
        (Mark::Inconclusive, "is inconclusive", "are inconclusive"),
        (
            Mark::NotChecked,
            "could not be checked",
            "could not be checked",
        ),
    ] {
        let subjects = subjects(mark);
        match subjects.as_slice() {
            [] => {}
            [_] if !named => parts.push(format!("1 {one}")),
            all if !named => parts.push(format!("{} {many}", all.len())),
            [subject] => parts.push(format!("1 {one} ({subject})")),
            all => parts.push(format!("{} {many} ({})", all.len(), all.join("; "))),
        }
    }
    parts.join(", ") + "."
}

pub(super) fn inspection(event: &Event, line: &BoardLine, board: &Board) -> Vec<Fact> {
    let own = board.inspection.as_ref();
    let by = own.and_then(|own| own.by.clone());
    let by = by.or_else(|| event.inspected_by.as_ref().map(ToString::to_string));
    let on = own.and_then(|own| own.date).or(event.inspected);
    let instruments = board.instruments.iter();
    let instruments = instruments.map(|known| fact("instrument", Some(instrument(known))));
    let mut facts = about(event, line.number.clone(), by, on);
    let stated = board.temperature.map(warmth::temperature);
    facts.extend(stated.map(|words| fact("temperature", Some(words))));
    facts.extend(instruments);
    facts
}

/// The facts of an inspection: of one board, or of all boards of an event.
pub(super) fn about(
    event: &Event,
    number: Option<String>,
    by: Option<String>,
    on: Option<Date>,
) -> Vec<Fact> {
    let ordered = event.ordered_by.as_ref();
    vec![
        fact("report number", number),
        fact("event", event.name.clone()),
        fact("place", event.place.clone()),
        fact("ordered by", ordered.map(ToString::to_string)),
        fact("inspected by", by),
        fact("date of inspection", on.map(|day| day.to_string())),
        fact("date of issue", event.issued.map(|day| day.to_string())),
        fact("conditions", event.conditions.clone()),
    ]
}

fn instrument(instrument: &Instrument) -> String {
    let mut words = vec![
        instrument
            .name
            .clone()
            .unwrap_or_else(|| "without a name".to_owned()),
    ];
    if let Some(step) = instrument.resolution {
        words.push(format!("step {} mm", step.as_mm()));
    }
    if let Some(error) = instrument.max_error {
        words.push(format!("permissible error ± {} mm", error.as_mm()));
    }
    if let Some((least, most)) = instrument.range {
        words.push(format!("range {} to {} mm", least.as_mm(), most.as_mm()));
    }
    if let Some(known) = instrument.correction {
        words.push(format!("correction {:+} mm", known.value.as_mm()));
    }
    if let Some(certificate) = &instrument.certificate {
        words.push(format!("certificate {certificate}"));
    }
    match instrument.calibrated {
        Some(day) => words.push(format!("calibrated {day}")),
        None => words.push("day of calibration not stated".to_owned()),
    }
    if let Some(day) = instrument.due {
        words.push(format!("due {day}"));
    }
    words.join(", ")
}

fn identity(board: &Board) -> Vec<Fact> {
    let source = &board.document.source;
    vec![
        fact("id on the board", Some(board.id.clone())),
        fact("where it hangs", board.hangs()),
        fact("maker", board.maker.clone()),
        fact("serial number", board.serial.clone()),
        fact("made", board.made.map(|year| year.to_string())),
        fact("construction", Some(phrases::build(&board.construction))),
        fact("described in", Some(source.name())),
        fact("SHA-256 of that file", Some(source.sha256())),
    ]
}

/// The table, its source and the decision rule.
pub(super) fn rule(table: &Table) -> Vec<Fact> {
    let source = &table.source;
    let mut facts = vec![
        fact("table", Some(table.title.clone())),
        fact("source", Some(source.document.clone())),
        fact("edition", source.edition.clone()),
        fact("clause", source.clause.clone()),
        fact("provenance", Some(source.provenance.to_string())),
    ];
    for (index, document) in table.documents.iter().enumerate() {
        let name = if index == 0 { "file" } else { "extends" };
        let file = &document.source;
        let whose = match BuiltIn::of_source(file.name()) {
            Some(table) => format!("`{}`, built into Ringrule {}", table.name, BuiltIn::VERSION),
            None => file.name().to_owned(),
        };
        let words = format!("{whose}, SHA-256 {}", file.sha256());
        facts.push(fact(name, Some(words)));
    }
    facts.push(fact(
        "decision rule",
        Some(statements::decision(table.decision)),
    ));
    facts.push(fact("agreed by", table.agreed_by.clone()));
    facts
}

/// How it was judged, and what was done otherwise.
pub(super) fn method(event: &Event) -> Vec<Block> {
    let method = statements::METHOD.map(str::to_owned).into_iter();
    let departures = event.departures.as_ref();
    let departures = departures.map(|words| format!("Departures from the method: {words}"));
    Block::section("Method", method.chain(departures).map(Block::Text))
}

/// Why checks are inconclusive, and how well the board would have to be
/// measured.
fn undecided(assessment: &Assessment<'_>) -> Vec<String> {
    let lengths = assessment.limits.iter().filter_map(|finding| {
        let Outcome::Length(length) = &finding.outcome else {
            return None;
        };
        let why = length_doubt(assessment, length)?;
        Some(format!("{}: {why}", phrases::subject(finding)))
    });
    let bands = assessment.bands.iter().filter_map(|finding| {
        let BandOutcome::Compared(band) = &finding.outcome else {
            return None;
        };
        let why = band_doubt(assessment, band)?;
        Some(format!("{} area: {why}", finding.band))
    });
    lengths.chain(bands).collect()
}

pub(super) fn length_doubt(assessment: &Assessment<'_>, length: &LengthFinding) -> Option<String> {
    if let Some(other) = &length.contradiction {
        return Some(phrases::contradiction(assessment.board, other));
    }
    Grounds::of_length(length).doubt(assessment)
}

fn band_doubt(assessment: &Assessment<'_>, band: &ComparedBand<'_>) -> Option<String> {
    if let Some(other) = band.contradicted_by {
        return Some(format!(
            "by all lengths it deviates by {}, without one of them by {}: they contradict one \
             another, measure again",
            phrases::signed(band.deviation),
            phrases::signed(other)
        ));
    }
    let doubt = Grounds::of_band(band)?.doubt(assessment)?;
    let moving = reasons::moving_bounds(band).map(|words| format!("; {words}"));
    Some(doubt + &moving.unwrap_or_default())
}

fn remarks(event: &Event, assessment: &Assessment<'_>) -> Block {
    let own = assessment.board.note.clone();
    let suspicion = assessment.suspicion.as_ref().map(reasons::suspicion);
    let all: Vec<String> = [own, suspicion, event.remarks.clone()]
        .into_iter()
        .flatten()
        .collect();
    if all.is_empty() {
        Block::Text("None.".to_owned())
    } else {
        Block::Points(all)
    }
}

/// Who signs, with room to do so, and what stands below it.
pub(super) fn authorisation(event: &Event) -> Vec<Block> {
    let by = event.authorised_by.as_ref();
    let signature = vec![
        fact("authorised by", by.map(ToString::to_string)),
        fact("date", None::<String>),
        fact("signature", None::<String>),
    ];
    let blocks = [Block::Signature(signature), Block::Cautions(cautions())];
    Block::section("Authorisation", blocks)
}

/// What every part ends with.
pub(super) fn cautions() -> Vec<String> {
    let all = statements::STATEMENTS.iter().chain(&statements::CAUTIONS);
    all.map(|&words| words.to_owned()).collect()
}

/// The beds that lose and gain most, a band each, where beds differ.
fn uneven_beds(assessment: &Assessment<'_>) -> Option<Block> {
    let lines = assessment.bands.iter().filter_map(|finding| {
        let BandOutcome::Compared(band) = &finding.outcome else {
            return None;
        };
        uneven::extreme_beds(finding.band, band)
    });
    let lines: Vec<String> = lines.collect();
    let words = format!("Beds that deviate most: {}.", lines.join(". "));
    (!lines.is_empty()).then_some(Block::Text(words))
}
