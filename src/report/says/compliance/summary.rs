//! The first part of a report on several boards.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::report::style::Mark;

use super::board::{about, authorisation, method, rule};
use super::tables::text;
use super::{BoardLine, Compliance, ReportDetail};
use crate::conformity::Verdict;
use crate::document::InvalidFile;
use crate::report::page::{Block, Cell, Column, ColumnKind, Grid, Part, Row};
use crate::report::says::phrases;
use crate::report::says::usage::{self, Usage};

pub(super) fn part(report: &Compliance<'_>) -> Part {
    let event = report.event;
    let full = report.detail == ReportDetail::Full;
    let beside = report.lines.iter().flat_map(|line| {
        let words = line.beside.iter();
        words.map(|words| format!("{}: {words}", line.id))
    });
    // What the event does not say, the boards' files may.
    let by = event.inspected_by.as_ref().map(ToString::to_string);
    let by = by.or_else(|| distinct(report.lines.iter().filter_map(|line| line.by.clone())));
    let days = report.lines.iter().filter_map(|line| line.inspected);
    let mut inspection = about(event, event.report_number.clone(), by, event.inspected);
    if event.inspected.is_none()
        && let Some(fact) = inspection
            .iter_mut()
            .find(|fact| fact.name == "date of inspection")
    {
        fact.value = period(days);
    }
    let only_full = |blocks: Vec<Block>| if full { blocks } else { Vec::new() };
    let sections = [
        Block::section(
            "Invalid files: their boards were not judged",
            Block::points(report.invalid_files.iter().map(left_out).collect()),
        ),
        Block::section(
            "Which boards may be used",
            [Block::Grid(usages(&report.lines))],
        ),
        Block::section("What to do", Block::points(to_do(&report.lines))),
        Block::section("The inspection", [Block::Facts(inspection)]),
        only_full(Block::section(
            "Boards",
            [Block::Grid(boards(&report.lines))],
        )),
        only_full(Block::section(
            "Readings to look at again",
            Block::points(beside.collect()),
        )),
        only_full(Block::section(
            "Which checks fail most",
            failing(&report.lines).map(Block::Grid),
        )),
        Block::section(
            "What the boards were checked against",
            [Block::Facts(rule(report.table))],
        ),
        only_full(method(event)),
        Block::section("Remarks", event.remarks.clone().map(Block::Text)),
        authorisation(event),
    ];
    let mut blocks = vec![Block::Answer {
        headline: headline(&report.lines),
        words: counts(report),
    }];
    blocks.extend(sections.into_iter().flatten());
    Part {
        anchor: "summary".to_owned(),
        title: event
            .name
            .clone()
            .unwrap_or_else(|| "Summary of the inspection".to_owned()),
        kicker: "Compliance report on the boards of one event".to_owned(),
        foot: event
            .report_number
            .clone()
            .unwrap_or_else(|| "Summary".to_owned()),
        on_one_page: false,
        listed: None,
        blocks,
    }
}

/// Each of them once, in the order in which they are met.
fn distinct(all: impl Iterator<Item = String>) -> Option<String> {
    let mut known: Vec<String> = Vec::new();
    for one in all {
        if !known.contains(&one) {
            known.push(one);
        }
    }
    (!known.is_empty()).then(|| known.join(", "))
}

fn period(days: impl Iterator<Item = Date>) -> Option<String> {
    let days: Vec<Date> = days.collect();
    let (first, last) = (days.iter().min()?, days.iter().max()?);
    Some(if first == last {
        first.to_string()
    } else {
        format!("{first} to {last}")
    })
}

/// The answer of the evening.
fn headline(lines: &[BoardLine]) -> String {
    let good = lines.iter().filter(|line| line.usage.may_be_used()).count();
    match (good, lines.len()) {
        (0, _) => "No board may be used".to_owned(),
        (good, all) if good == all => format!("All {all} boards may be used"),
        (1, all) => format!("1 of {all} boards may be used"),
        (good, all) => format!("{good} of {all} boards may be used"),
    }
}

/// What has to be done, board by board.
fn to_do(lines: &[BoardLine]) -> Vec<String> {
    let with = |words: &str| {
        let all = lines.iter().filter(|line| line.usage.words() == words);
        let ids: Vec<&str> = all.map(|line| line.id.as_str()).collect();
        (!ids.is_empty()).then(|| ids.join(", "))
    };
    let down = with(Usage::BAD).map(|ids| {
        format!("Take out of use until put right and measured again, or replace: {ids}.")
    });
    let again = with(Usage::AGAIN)
        .map(|ids| format!("Measure again, what the reason above names first: {ids}."));
    down.into_iter().chain(again).collect()
}

/// A file of which no board could be read, with what is wrong first.
fn left_out(invalid_file: &InvalidFile) -> String {
    let file = &invalid_file.file;
    let Some(first) = invalid_file.diagnostics.first() else {
        return file.name().to_owned();
    };
    // Of a file that cannot be opened there are no lines.
    let line = match file.text() {
        "" => String::new(),
        _ => format!(", line {}", first.place.from.line),
    };
    let more = match invalid_file.diagnostics.len() - 1 + invalid_file.unlisted {
        0 => String::new(),
        1 => " (and 1 more problem)".to_owned(),
        more => format!(" (and {more} more problems)"),
    };
    format!("{}{line}: {}{more}", file.name(), first.message)
}

fn count(lines: &[BoardLine], verdict: Verdict) -> usize {
    lines.iter().filter(|line| line.verdict == verdict).count()
}

fn counts(report: &Compliance<'_>) -> String {
    let lines = &report.lines;
    let (good, bad, open) = (
        count(lines, Verdict::Conforms),
        count(lines, Verdict::DoesNotConform),
        count(lines, Verdict::Inconclusive),
    );
    let conform = if good == 1 { "conforms" } else { "conform" };
    let fail = if bad == 1 { "does" } else { "do" };
    let doubt = if open == 1 { "is" } else { "are" };
    let boards = match lines.len() {
        1 => "1 board was".to_owned(),
        number => format!("{number} boards were"),
    };
    let left_out = match report.invalid_files.len() {
        0 => String::new(),
        1 => " 1 file was invalid and is left out.".to_owned(),
        number => format!(" {number} files were invalid and are left out."),
    };
    format!(
        "{boards} inspected: {good} {conform}, {bad} {fail} not conform, {open} {doubt} \
         inconclusive.{left_out}"
    )
}

/// The answer for the evening, by venue.
fn usages(lines: &[BoardLine]) -> Grid {
    let venues = usage::by_venue(lines.iter().map(|line| &line.usage));
    let boards = venues
        .into_iter()
        .flat_map(|(venue, boards)| boards.into_iter().map(move |usage| (venue, usage)));
    let row = |(venue, usage): (Option<&str>, &Usage)| {
        let or_empty = |words: &Option<String>| text(words.clone().unwrap_or_default());
        Row::keyed(
            format!("{} {}", venue.unwrap_or_default(), usage.id),
            vec![
                text(venue.unwrap_or("not stated")),
                text(usage.id.clone()),
                or_empty(&usage.position),
                text(usage.words()),
                or_empty(&usage.remarks()),
            ],
        )
    };
    Grid {
        caption: "By the table named below, and nothing else: whether a board is safe and fit to \
                  play on is for whoever looks after it. The reason is what lies farthest beyond \
                  its limits, or what leaves the verdict open."
            .to_owned(),
        rows: boards.map(row).collect(),
        columns: vec![
            Column::new("venue", ColumnKind::Head, 18.0),
            Column::new("board", ColumnKind::Words, 9.0),
            Column::new("position", ColumnKind::Words, 16.0),
            Column::new("use", ColumnKind::Words, 14.0),
            Column::new("reason", ColumnKind::Words, 43.0),
        ],
    }
}

fn boards(lines: &[BoardLine]) -> Grid {
    let row = |line: &BoardLine| {
        let tally = &line.tally;
        let worst = line.worst.as_ref();
        Row {
            key: line.id.clone(),
            link: Some(line.anchor.clone()),
            cells: vec![
                text(line.id.clone()),
                text(line.name.clone().unwrap_or_default()),
                Cell::Mark(line.verdict.into()),
                text(format!("{} of {}", tally.conform, tally.total())),
                text(tally.do_not_conform.to_string()),
                text(tally.inconclusive.to_string()),
                text(tally.not_checked.to_string()),
                text(worst.map_or_else(String::new, |worst| {
                    let shape = worst.mark.sign();
                    let deviation = phrases::signed(worst.deviation);
                    format!("{shape} {} {deviation}", worst.band)
                })),
            ],
        }
    };
    Grid {
        caption: "Every board, with how many of its checks conform, and the band whose area comes \
                  closest to its limit, or farthest beyond it, with its deviation."
            .to_owned(),
        rows: lines.iter().map(row).collect(),
        columns: vec![
            Column::new("board", ColumnKind::Head, 11.0),
            Column::new("where it hangs", ColumnKind::Words, 26.0),
            Column::new("verdict", ColumnKind::Mark, 16.0),
            Column::new("conform", ColumnKind::Figures, 10.0),
            Column::new("fail", ColumnKind::Figures, 6.0),
            Column::new("inconclusive", ColumnKind::Figures, 9.0),
            Column::new("not checked", ColumnKind::Figures, 9.0),
            Column::new("worst band", ColumnKind::Words, 22.0),
        ],
    }
}

/// The checks that fail on most boards; `None` if every check conforms.
fn failing(lines: &[BoardLine]) -> Option<Grid> {
    let mut checks: BTreeMap<&str, [usize; 3]> = BTreeMap::new();
    for check in lines.iter().flat_map(|line| &line.doubtful) {
        let counts = checks.entry(&check.check).or_default();
        let [fail, open, unchecked] = counts;
        match check.mark {
            Mark::DoesNotConform => *fail += 1,
            Mark::Inconclusive => *open += 1,
            Mark::NotChecked => *unchecked += 1,
            Mark::Conforms | Mark::NoLimit => {}
        }
    }
    let mut rows: Vec<_> = checks.into_iter().collect();
    // The map was in the order of names, which stays among equals.
    rows.sort_by_key(|&(_, counts)| std::cmp::Reverse(counts));
    let row = |(subject, counts): (&str, [usize; 3])| {
        let counts = counts.map(|count| text(count.to_string()));
        Row::keyed(subject, [text(subject)].into_iter().chain(counts).collect())
    };
    (!rows.is_empty()).then(|| Grid {
        caption: "On how many boards each check does not conform, is inconclusive, or could not \
                  be made."
            .to_owned(),
        rows: rows.into_iter().map(row).collect(),
        columns: vec![
            Column::new("check", ColumnKind::Head, 52.0),
            Column::new("does not conform", ColumnKind::Figures, 16.0),
            Column::new("inconclusive", ColumnKind::Figures, 16.0),
            Column::new("not checked", ColumnKind::Figures, 16.0),
        ],
    })
}
