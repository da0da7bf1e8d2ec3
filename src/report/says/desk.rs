//! Pieces of pages for a board that is being measured: the page around them asks, these
//! say what is known so far.

use super::compliance::bands_in_short;
use super::reasons::{self, Grounds};
use super::{people, phrases};
use crate::board::{Bearing, Input, Profile, Quantity};
use crate::conformity::{Assessment, Outcome, Verdict};
use crate::document::{Diagnostic, InvalidFile, Place};
use crate::readings::PlannedItem;
use crate::report::draw;
use crate::report::page::{Block, html_blocks, html_style};
use crate::report::style::Mark;

/// What has to be said beside one length of a board that is being measured.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LengthRemark {
    /// The length.
    pub quantity: Quantity,
    /// Where around the board, if it is about one place.
    pub at: Option<Bearing>,
    /// What there is to say, in a sentence.
    pub words: String,
    /// Whether something looks mistaken; else more certainty is wanted.
    pub doubtful: bool,
}

/// What readings give cause to say, length by length: which stands apart, on which people
/// disagree, which edge looks mistaken, and how certain a verdict needs a length to be.
pub fn length_remarks(assessment: &Assessment<'_>) -> Vec<LengthRemark> {
    let board = assessment.board;
    let of_people = people::by_length(board).into_iter();
    let mut remarks: Vec<LengthRemark> = of_people
        .map(|(input, words)| remark(input, words, true))
        .collect();
    if let Some(suspicion) = &assessment.suspicion {
        let words = reasons::suspicion(suspicion);
        for ring in suspicion.redeclared.iter().flat_map(|step| &step.rings) {
            let inputs = board.construction.inputs.iter();
            let own = inputs
                .filter(|input| matches!(input.quantity, Quantity::Ring(of, _) if of == *ring));
            remarks.extend(own.map(|input| LengthRemark {
                quantity: input.quantity,
                at: None,
                words: words.clone(),
                doubtful: true,
            }));
        }
    }
    for finding in &assessment.limits {
        let Outcome::Length(length) = &finding.outcome else {
            continue;
        };
        let grounds = Grounds::of_length(length);
        // Of a length that follows from several, the one that matters most.
        let first = length.contributions.first().map(|of| of.input);
        let first = first.or(length.inputs.first().copied());
        let input = first.and_then(|id| board.construction.input(id));
        if let (Some(input), Some(doubt)) = (input, grounds.doubt(assessment)) {
            let words = format!("{}: {doubt}", phrases::subject(finding));
            remarks.push(remark(input, words, false));
        }
    }
    let mut known: Vec<LengthRemark> = Vec::new();
    for remark in remarks {
        if !known.contains(&remark) {
            known.push(remark);
        }
    }
    known
}

const fn remark(input: &Input, words: String, doubtful: bool) -> LengthRemark {
    LengthRemark {
        quantity: input.quantity,
        at: input.at,
        words,
        doubtful,
    }
}

/// The verdict so far, in two or three words, and how many checks conform.
pub fn standing_html(assessment: &Assessment<'_>) -> String {
    let tally = assessment.tally();
    let words = format!("{} of {} checks conform", tally.conform, tally.total());
    html_blocks(&[Block::Verdict {
        mark: Mark::from(assessment.verdict),
        words: match tally.not_checked {
            0 => words + ".",
            missing => format!("{words}, {missing} cannot be checked yet."),
        },
    }])
}

/// What the readings so far come to: doubts, the free areas of the bands, and what does not
/// conform; then the drawings.
pub fn glance_html(assessment: &Assessment<'_>) -> String {
    let beside = people::beside_the_verdict(assessment);
    let wrong = assessment.limits.iter().filter_map(|finding| {
        let Outcome::Length(length) = &finding.outcome else {
            return None;
        };
        let broken = finding.outcome.verdict() == Some(Verdict::DoesNotConform);
        let decimals = phrases::decimals(finding.limit.measurand);
        broken.then(|| {
            let excess = phrases::beyond(length.excess, decimals);
            let value = phrases::value(length, decimals);
            format!("{}: {value}, {excess}", phrases::subject(finding))
        })
    });
    let missing = reasons::unchecked(assessment).map(|(words, _)| words);
    let sections = [
        Block::section("Does not conform", Block::points(wrong.collect())),
        Block::section("To look at again", Block::points(beside)),
        Block::section("Free areas", [Block::Grid(bands_in_short(assessment))]),
        Block::section("Cannot be checked yet", Block::points(missing.collect())),
        Block::section("Drawings", draw::board(assessment, "d").map(Block::Figure)),
    ];
    html_blocks(&sections.into_iter().flatten().collect::<Vec<_>>())
}

/// Where the calliper goes for one length, and to which edge: a section through the board
/// with nothing else on it, and the places round it if it is taken at several.
pub fn taking_html(item: &PlannedItem, letter: char, profile: Profile) -> String {
    let marked = [(letter, item.item.0, item.edge)];
    let places = (!item.places.is_empty()).then(|| draw::sheet_places(&item.places));
    let figures = [Some(draw::sheet_section(&marked, profile)), places];
    let figures = figures.into_iter().flatten().map(Block::Figure);
    html_blocks(&figures.collect::<Vec<_>>())
}

/// The edges of a wire, and what each means of a width.
pub fn edges_html(profile: Profile) -> String {
    html_blocks(&[Block::Figure(draw::edges(profile))])
}

/// What a file's problems are, a sentence each, with the place where there is one.
pub fn problems_of(invalid_file: &InvalidFile) -> Vec<String> {
    let problem = |diagnostic: &Diagnostic| {
        let place = place(&diagnostic.place);
        match &diagnostic.remedy {
            Some(remedy) if !remedy.is_empty() => {
                format!("{place}{}; {remedy}", diagnostic.message)
            }
            _ => format!("{place}{}", diagnostic.message),
        }
    };
    invalid_file.diagnostics.iter().map(problem).collect()
}

fn place(place: &Place) -> String {
    match place.excerpt() {
        Some(_) => format!("line {}, column {}: ", place.from.line, place.from.column),
        None => String::new(),
    }
}

/// The style of everything above.
pub fn desk_style() -> String {
    html_style()
}
