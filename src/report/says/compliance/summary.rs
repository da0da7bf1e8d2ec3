//! The first part of a report on several boards.

use crate::report::mark::Mark;
use std::collections::BTreeMap;

use super::board::{cautions, departures, fact, rule, signature};
use super::tables::text;
use super::{BoardLine, Compliance, statements};
use crate::conformity::Verdict;
use crate::event::{Event, Person};
use crate::report::page::{Block, Cell, Column, ColumnKind, Fact, Grid, Part, Row};
use crate::report::says::phrases;

pub(super) fn part(report: &Compliance<'_>) -> Part {
    let event = report.event;
    let mut blocks = vec![
        Block::Verdict {
            mark: overall(&report.lines),
            words: counts(&report.lines),
        },
        Block::heading("The inspection"),
        Block::Facts(inspection(event)),
        Block::heading("Boards"),
        Block::Grid(boards(&report.lines)),
    ];
    if let Some(failing) = failing(&report.lines) {
        blocks.push(Block::heading("Which checks fail most"));
        blocks.push(Block::Grid(failing));
    }
    blocks.push(Block::heading("What the boards were checked against"));
    blocks.push(Block::Facts(rule(report.table)));
    blocks.push(Block::heading("Method"));
    blocks.extend(statements::METHOD.map(|words| Block::Text(words.to_owned())));
    blocks.extend(departures(event));
    if let Some(remarks) = &event.remarks {
        blocks.push(Block::heading("Remarks"));
        blocks.push(Block::Text(remarks.clone()));
    }
    blocks.push(Block::heading("Authorisation"));
    blocks.push(Block::Signature(signature(event)));
    blocks.push(Block::Cautions(cautions()));
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
        blocks,
    }
}

/// An event conforms when every board does; one that fails condemns it.
fn overall(lines: &[BoardLine]) -> Mark {
    let worst = lines.iter().map(|line| line.verdict).max();
    worst.map_or(Mark::NoLimit, Mark::from)
}

fn count(lines: &[BoardLine], verdict: Verdict) -> usize {
    lines.iter().filter(|line| line.verdict == verdict).count()
}

fn counts(lines: &[BoardLine]) -> String {
    let (good, bad, open) = (
        count(lines, Verdict::Conforms),
        count(lines, Verdict::DoesNotConform),
        count(lines, Verdict::Inconclusive),
    );
    let conform = if good == 1 { "conforms" } else { "conform" };
    let fail = if bad == 1 { "does" } else { "do" };
    let doubt = if open == 1 { "is" } else { "are" };
    format!(
        "{} boards were inspected: {good} {conform}, {bad} {fail} not conform, {open} {doubt} \
         inconclusive.",
        lines.len()
    )
}

fn inspection(event: &Event) -> Vec<Fact> {
    let person = |person: Option<&Person>| person.map(ToString::to_string);
    let day = |day: Option<jiff::civil::Date>| day.map(|day| day.to_string());
    vec![
        fact("report number", event.report_number.clone()),
        fact("event", event.name.clone()),
        fact("place", event.place.clone()),
        fact("ordered by", person(event.ordered_by.as_ref())),
        fact("inspected by", person(event.inspected_by.as_ref())),
        fact("date of inspection", day(event.inspected)),
        fact("date of issue", day(event.issued)),
        fact("conditions", event.conditions.clone()),
    ]
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
            Column::new("open", ColumnKind::Figures, 7.0),
            Column::new("not checked", ColumnKind::Figures, 9.0),
            Column::new("worst band", ColumnKind::Words, 22.0),
        ],
    }
}

/// The checks that fail on most boards; `None` if every check conforms.
fn failing(lines: &[BoardLine]) -> Option<Grid> {
    let mut checks: BTreeMap<&str, [usize; 3]> = BTreeMap::new();
    for check in lines.iter().flat_map(|line| &line.doubtful) {
        let counts = checks.entry(&check.subject).or_default();
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
    let row = |(subject, counts): (&str, [usize; 3])| Row {
        key: subject.to_owned(),
        link: None,
        cells: std::iter::once(text(subject))
            .chain(counts.map(|count| text(count.to_string())))
            .collect(),
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
