//! What has changed on boards since they were inspected before, and which are due.

mod changes;

use super::phrases;
use super::worksheet::CAUTIONS;
use crate::board::Due;
use crate::conformity::{Assessment, LimitFinding, Outcome};
use crate::history::{BoardHistory, Season};
use crate::report::draw::trend::{Point, trend};
use crate::report::page::{self, Block, Cell, Column, ColumnKind, Grid, Part, Row, TextLayout};
#[cfg(feature = "pdf")]
use crate::report::page::{PaperSize, Pdf, PdfError, PdfHead};

pub use changes::ChangesShown;
pub(super) use changes::{ChangeLine, since, tally};

/// As text for a terminal.
pub fn history_text(season: &Season<'_>, shown: ChangesShown, layout: TextLayout) -> String {
    let parts = parts(season, shown, false).into_iter();
    let pages: Vec<_> = parts.map(|part| page::text_page(&part, layout)).collect();
    pages.join("\n\n")
}

/// As a Markdown document, without drawings.
pub fn history_markdown(season: &Season<'_>, shown: ChangesShown) -> String {
    let parts = parts(season, shown, false).into_iter();
    parts.map(|part| page::markdown_part(&part)).collect()
}

/// As one self-contained HTML page, with a chart of every limited length.
pub fn history_html(season: &Season<'_>, shown: ChangesShown) -> String {
    let parts = parts(season, shown, true).into_iter();
    let parts: String = parts.map(|part| page::html_part(&part)).collect();
    page::html_opening(TITLE, false) + &parts + &page::html_closing()
}

/// As a PDF, likewise; `fonts` are font files for characters that our own font does
/// not have. Needs the feature `pdf`.
#[cfg(feature = "pdf")]
pub fn history_pdf(
    season: &Season<'_>,
    shown: ChangesShown,
    paper: PaperSize,
    fonts: Vec<Vec<u8>>,
) -> Result<Pdf, PdfError> {
    let parts = parts(season, shown, true);
    let head = parts.first().map(|part| PdfHead {
        subject: Some(season.table.title.clone()),
        ..PdfHead::of(part, paper, fonts)
    });
    // The summary is always there.
    page::pdf(&head.unwrap_or_default(), parts.into_iter())
}

const TITLE: &str = "History of boards";

fn parts(season: &Season<'_>, shown: ChangesShown, drawn: bool) -> Vec<Part> {
    let several = season
        .boards
        .iter()
        .filter(|board| !board.earlier.is_empty());
    let several = several.enumerate();
    let boards = several.map(|(index, board)| of_history(board, index, shown, drawn));
    std::iter::once(summary(season)).chain(boards).collect()
}

fn summary(season: &Season<'_>) -> Part {
    let mut blocks = vec![Block::Text(counts(season))];
    blocks.extend(Block::section(
        "How long inspections are still valid",
        due(season).map(Block::Grid),
    ));
    blocks.extend(Block::section(
        "What has changed",
        [Block::Grid(overview(season))],
    ));
    blocks.push(Block::Note(METHOD.to_owned()));
    blocks.push(Block::Cautions(
        [CAUTIONS[0], PREVAIL].map(str::to_owned).into(),
    ));
    Part {
        anchor: "summary".to_owned(),
        title: TITLE.to_owned(),
        kicker: format!("Inspections judged by {}", season.table.title),
        foot: format!("as of {}", season.on),
        on_one_page: false,
        listed: None,
        blocks,
    }
}

const METHOD: &str = "A change is called beyond its uncertainty where it is larger than its \
    expanded uncertainty (En of ISO 13528 beyond 1). Errors that both inspections share, such as \
    those of an instrument that was not calibrated in between, cancel out of a change; where the \
    files do not say whether they are shared, whichever gives the larger uncertainty counts. Of \
    boards on which nothing changed, about one check in twenty is beyond its uncertainty by \
    chance.";

const PREVAIL: &str = "The governing body's current rules and the venue's own safety rules prevail \
    over this page, which is not an official approval.";

fn counts(season: &Season<'_>) -> String {
    let boards = phrases::count(season.boards.len(), "board", "boards");
    let several = season
        .boards
        .iter()
        .filter(|board| !board.earlier.is_empty());
    let several = several.count();
    let mut words = format!(
        "{boards}, {several} of them inspected more than once; the latest inspection decides."
    );
    let worse = season.worse();
    if worse > 0 {
        words += &format!(
            " {} conformed at the inspection before and no longer {}.",
            phrases::count(worse, "board", "boards"),
            if worse == 1 { "does" } else { "do" }
        );
    }
    words
}

/// Which inspections end soon or have ended; `None` where nobody says how long one
/// is valid.
fn due(season: &Season<'_>) -> Option<Grid> {
    let mut rows: Vec<(Due, Row)> = Vec::new();
    for history in &season.boards {
        let (Some((_, due)), Some(day)) = (history.due, history.latest.board.key().1) else {
            continue;
        };
        let board = history.latest.board;
        let row = Row::keyed(
            board.id.clone(),
            vec![
                Cell::Text(board.id.clone()),
                Cell::Text(board.hangs().unwrap_or_default()),
                Cell::Text(day.to_string()),
                Cell::Text(due.until.to_string()),
                Cell::Text(due.state.to_string()),
            ],
        );
        rows.push((due, row));
    }
    // What is most urgent first.
    rows.sort_by_key(|(due, _)| due.until);
    let lasts = season.boards.iter().find_map(|board| board.due);
    let (validity, _) = lasts?;
    let unknown = season.boards.iter().filter(|board| board.due.is_none());
    let unknown = match unknown.count() {
        0 => String::new(),
        1 => " 1 board states no day of inspection.".to_owned(),
        more => format!(" {more} boards state no day of inspection."),
    };
    Some(Grid {
        caption: format!(
            "As of {}. By the settings an inspection is valid for {}, and a board is due {} before \
             that ends.{unknown}",
            season.on, validity.lasts, validity.remind
        ),
        rows: rows.into_iter().map(|(_, row)| row).collect(),
        columns: vec![
            Column::new("board", ColumnKind::Head, 14.0),
            Column::new("where it hangs", ColumnKind::Words, 36.0),
            Column::new("inspected", ColumnKind::Figures, 16.0),
            Column::new("valid until", ColumnKind::Figures, 16.0),
            Column::new("state", ColumnKind::Words, 18.0),
        ],
    })
}

/// A line for every board.
fn overview(season: &Season<'_>) -> Grid {
    let row = |history: &BoardHistory<'_>| {
        let board = history.latest.board;
        let before = history.earlier.first();
        let words = match before {
            None => "inspected once".to_owned(),
            Some(_) => tally(&lines(history)),
        };
        let verdict = |of: Option<&Assessment<'_>>| match of {
            Some(of) => Cell::Mark(of.verdict.into()),
            None => Cell::Text(String::new()),
        };
        Row::keyed(
            board.id.clone(),
            vec![
                Cell::Text(board.id.clone()),
                Cell::Text(board.hangs().unwrap_or_default()),
                verdict(before),
                verdict(Some(&history.latest)),
                Cell::Text(words),
            ],
        )
    };
    Grid {
        caption: "Every board: the verdict of the inspection before the latest, that of the \
                  latest, and what has changed between them."
            .to_owned(),
        rows: season.boards.iter().map(row).collect(),
        columns: vec![
            Column::new("board", ColumnKind::Head, 10.0),
            Column::new("where it hangs", ColumnKind::Words, 24.0),
            Column::new("before", ColumnKind::Mark, 18.0),
            Column::new("latest", ColumnKind::Mark, 18.0),
            Column::new("changed", ColumnKind::Words, 30.0),
        ],
    }
}

fn of_history(history: &BoardHistory<'_>, index: usize, shown: ChangesShown, drawn: bool) -> Part {
    let board = history.latest.board;
    let changes = lines(history);
    let before = history.earlier.first();
    let day = before.and_then(|before| before.board.key().1);
    let day = day.map(|day| day.to_string()).unwrap_or_default();
    let mut blocks = vec![Block::Verdict {
        mark: history.latest.verdict.into(),
        words: format!("{}.", capital(&tally(&changes))),
    }];
    blocks.extend(Block::section(
        "Inspections",
        [Block::Grid(inspections(history))],
    ));
    blocks.extend(Block::section(
        "Changes since the inspection before",
        since(&changes, &day, shown),
    ));
    if drawn {
        let charts = charts(history).into_iter().map(Block::Figure);
        blocks.extend(Block::section("Every limited length", charts));
    }
    Part {
        anchor: format!("board-{}", index + 1),
        title: match board.hangs() {
            Some(name) => format!("{}, {name}", board.id),
            None => board.id.clone(),
        },
        kicker: "History of one dartboard".to_owned(),
        foot: board.id.clone(),
        on_one_page: false,
        listed: None,
        blocks,
    }
}

fn lines(history: &BoardHistory<'_>) -> Vec<ChangeLine> {
    history.changes().iter().map(ChangeLine::of).collect()
}

fn capital(words: &str) -> String {
    let mut characters = words.chars();
    let first = characters.next().map(|first| first.to_ascii_uppercase());
    first.into_iter().chain(characters).collect()
}

fn all<'h, 'a>(history: &'h BoardHistory<'a>) -> impl Iterator<Item = &'h Assessment<'a>> {
    std::iter::once(&history.latest).chain(&history.earlier)
}

fn inspections(history: &BoardHistory<'_>) -> Grid {
    let row = |assessment: &Assessment<'_>| {
        let board = assessment.board;
        let own = board.inspection.as_ref();
        let by = own.and_then(|own| own.by.clone());
        let day = board.key().1.map(|day| day.to_string());
        let tally = assessment.tally();
        Row::keyed(
            board.document.source.name(),
            vec![
                Cell::Text(day.unwrap_or_default()),
                Cell::Text(by.unwrap_or_default()),
                Cell::Mark(assessment.verdict.into()),
                Cell::Text(format!("{} of {}", tally.conform, tally.total())),
                Cell::Text(board.document.source.name().to_owned()),
            ],
        )
    };
    Grid {
        caption: "The latest first, which decides.".to_owned(),
        rows: all(history).map(row).collect(),
        columns: vec![
            Column::new("day", ColumnKind::Head, 14.0),
            Column::new("by", ColumnKind::Words, 24.0),
            Column::new("verdict", ColumnKind::Mark, 18.0),
            Column::new("checks that conform", ColumnKind::Figures, 14.0),
            Column::new("file", ColumnKind::Words, 30.0),
        ],
    }
}

/// A chart of every limited length that at least two inspections with a day have.
fn charts(history: &BoardHistory<'_>) -> Vec<crate::report::draw::Figure> {
    let chart = |finding: &LimitFinding<'_>| {
        let Outcome::Length(latest) = &finding.outcome else {
            return None;
        };
        let decimals = phrases::decimals(finding.limit.measurand);
        let mut points: Vec<Point> = all(history)
            .filter_map(|assessment| {
                let day = assessment.board.key().1?;
                let same = |old: &&LimitFinding<'_>| {
                    old.limit.name == finding.limit.name && old.part == finding.part
                };
                match &assessment.limits.iter().find(same)?.outcome {
                    Outcome::Length(found) => Some(Point {
                        day,
                        value: found.value.as_mm(),
                        expanded: found.uncertainty.map(|u| u.expanded().expanded),
                    }),
                    _ => None,
                }
            })
            .collect();
        points.sort_by_key(|point| point.day);
        let title = phrases::check(finding);
        (points.len() > 1).then(|| trend(title, &points, latest.interval, decimals))
    };
    history.latest.limits.iter().filter_map(chart).collect()
}
