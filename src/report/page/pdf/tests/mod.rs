//! A report with every kind of block, and what tests share.

mod file;
mod pages;

use crate::report::style::Mark;
use std::collections::BTreeSet;

use super::super::model::{Block, Cell, Column, ColumnKind, Fact, Grid, Part, Row};
use super::*;
use crate::report::draw::Figure;

fn fact(name: &str, value: Option<&str>) -> Fact {
    Fact {
        name: name.to_owned(),
        value: value.map(str::to_owned),
    }
}

fn column(head: &'static str, kind: ColumnKind, weight: f64) -> Column {
    Column::new(head, kind, weight)
}

fn table(rows: usize, link: Option<&str>) -> Grid {
    let bookmarks = [
        Mark::Conforms,
        Mark::DoesNotConform,
        Mark::Inconclusive,
        Mark::NotChecked,
    ];
    let row = |n: usize| Row {
        key: format!("row-{n}"),
        link: link.filter(|_| n < 3).map(str::to_owned),
        cells: vec![
            Cell::Text(format!("Double ring, outside radius {n}")),
            Cell::Text(format!("{}.{:02} mm", 170 + n % 3, n % 100)),
            Cell::Text("170.0 ± 0.5 mm".to_owned()),
            Cell::Mark(bookmarks[n % 4]),
            Cell::Text(if n % 7 == 3 {
                "measured three times, the last with another gauge; spread above what the gauge explains".to_owned()
            } else {
                String::new()
            }),
        ],
    };
    Grid {
        caption: "Limits and what was measured".to_owned(),
        columns: vec![
            column("limit", ColumnKind::Head, 2.0),
            column("measured", ColumnKind::Figures, 1.0),
            column("allowed", ColumnKind::Figures, 1.0),
            column("verdict", ColumnKind::Mark, 1.0),
            column("remark", ColumnKind::Words, 3.0),
        ],
        rows: (0..rows).map(row).collect(),
    }
}

fn figure(title: &str) -> Figure {
    Figure {
        group: "boards",
        width: 360.0,
        height: 300.0,
        body: "<circle cx=\"180\" cy=\"150\" r=\"120\" style=\"fill:var(--bed2);stroke:var(--ink)\"/>\
               <path class=\"curve\" d=\"M20 280L340 20\"/><circle class=\"mark\" cx=\"180\" cy=\"150\" r=\"9\"/>\
               <text x=\"180\" y=\"80\" font-size=\"18\" text-anchor=\"middle\" class=\"halo\" \
               stroke-width=\"6\">20 Σπύρος</text>"
            .to_owned(),
        title: title.to_owned(),
        description: "A ring with a line across it.".to_owned(),
    }
}

fn part(anchor: &str, title: &str, blocks: Vec<Block>) -> Part {
    Part {
        anchor: anchor.to_owned(),
        title: title.to_owned(),
        kicker: "Inspection of one board".to_owned(),
        foot: format!("report 7 · {title}"),
        on_one_page: false,
        listed: None,
        blocks,
    }
}

fn head() -> PdfHead {
    PdfHead {
        title: "Boards of the spring open".to_owned(),
        author: Some("A. Inspector".to_owned()),
        subject: Some("Conformity of boards".to_owned()),
        date: Some(jiff::civil::date(2026, 3, 1)),
        identifier: "ringrule-7".to_owned(),
        ..PdfHead::default()
    }
}

const HEBREW: &str = "לוח המטרה";

fn sample() -> Vec<Part> {
    let long = "Unbrokenboardname".repeat(9);
    let words = "The rings were measured with a calliper from the centre outwards, three times each, \
                 and the bull with a gauge; the mean of the readings and their spread are given below.";
    vec![
        part(
            "summary",
            "Summary of the event",
            vec![
                Block::Text(words.to_owned()),
                Block::Grid(table(9, Some("board-1"))),
                Block::Cautions(vec![
                    "Two boards were not checked.".to_owned(),
                    words.repeat(2),
                ]),
            ],
        ),
        part(
            "board-1",
            "Board 1, Σπύρος’ practice board (stage)",
            vec![
                Block::Verdict {
                    mark: Mark::DoesNotConform,
                    words: "One limit is broken: the double ring is 0.9 mm too wide.".to_owned(),
                },
                Block::Facts(vec![
                    fact("ordered by", Some(HEBREW)),
                    fact("owner", None),
                    fact("name of the board", Some(&long)),
                    fact(
                        "place where the board was hung when it was measured",
                        Some(&words.repeat(2)),
                    ),
                ]),
                Block::Heading("What was found".to_owned()),
                Block::Points(vec!["One point.".to_owned(), words.repeat(2), long.clone()]),
                Block::Grid(table(60, None)),
                Block::Heading("Drawings".to_owned()),
                Block::Figure(figure("The board and its rings")),
                Block::Figure(figure(
                    "The same board, deviations drawn ten times too large so that they can be seen",
                )),
                Block::Figure(Figure {
                    group: "odds",
                    width: 700.0,
                    ..figure("Alone")
                }),
                Block::Heading("Signatures".to_owned()),
                Block::Signature(vec![
                    fact("measured by", None),
                    fact("checked by", None),
                    fact("date", Some("1 March 2026")),
                ]),
            ],
        ),
        part(
            "board-2",
            "Board 2",
            vec![
                Block::Verdict {
                    mark: Mark::Conforms,
                    words: words.to_owned(),
                },
                Block::Verdict {
                    mark: Mark::Inconclusive,
                    words: String::new(),
                },
            ],
        ),
    ]
}

#[test]
#[ignore = "writes a file to look at"]
fn a_sample_to_look_at() {
    let pdf = write(&head(), sample().into_iter()).expect("a PDF");
    assert_eq!(pdf.pages, 6);
    let place = std::env::temp_dir().join("ringrule-sample.pdf");
    std::fs::write(place, &pdf.bytes).expect("written");
}

fn one(blocks: Vec<Block>) -> Vec<Part> {
    vec![part("one", "One", blocks)]
}

/// The laid-out pages.
fn pages_of(head: &PdfHead, parts: Vec<Part>) -> Vec<list::Page> {
    let faces = Faces::new(&head.fonts).expect("fonts");
    lay_out(head, &faces, parts.into_iter())
        .expect("laid out")
        .0
        .flow
        .pages
}

/// Left, top, right, bottom and words of each line of text.
fn boxes(page: &list::Page) -> Vec<([f32; 4], &str, bool)> {
    let text = |item| match item {
        &Item::Text {
            x,
            y,
            ref words,
            width,
            style,
            node,
        } => {
            // Ascent and descent of the typeface's letters: 0.76 and 0.24 em.
            let area = [x, y - 0.76 * style.size, x + width, y + 0.24 * style.size];
            Some((area, words.as_str(), node.is_some()))
        }
        _ => None,
    };
    page.items
        .iter()
        .filter_map(text)
        .filter(|(_, words, _)| !words.is_empty())
        .collect()
}

/// Every line lies within the margins, and none covers another.
fn is_tidy(pages: &[list::Page], measure: Measure) {
    for (index, page) in pages.iter().enumerate() {
        let all = boxes(page);
        for (n, (a, words, body)) in all.iter().enumerate() {
            assert!(
                a[0] >= MARGIN - 0.1,
                "{words:?} of page {index} starts at {a:?}"
            );
            assert!(
                a[2] <= measure.width - MARGIN + 0.5,
                "{words:?} of page {index} ends at {a:?}"
            );
            if *body {
                assert!(a[1] >= TOP - 0.1, "{words:?} of page {index} is at {a:?}");
                assert!(
                    a[3] <= measure.bottom() + 0.6,
                    "{words:?} of page {index} is at {a:?}"
                );
            }
            for (b, others, _) in all.iter().skip(n + 1) {
                let apart =
                    a[2] <= b[0] + 0.05 || b[2] <= a[0] + 0.05 || a[3] <= b[1] || b[3] <= a[1];
                assert!(
                    apart,
                    "page {index}: {words:?} {a:?} covers {others:?} {b:?}"
                );
            }
        }
    }
}

fn words_of(pages: &[list::Page]) -> String {
    let lines = pages.iter().flat_map(boxes).map(|(_, words, _)| words);
    lines.collect::<Vec<_>>().join(" ")
}
