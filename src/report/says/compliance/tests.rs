//! What a report prints, page by page.
#![allow(clippy::expect_used, reason = "a test may stop")]

use std::path::Path;

use super::{Compliance, PaperSize};
use crate::board::Board;
use crate::conformity::Judge;
use crate::document::Source;
use crate::event::Event;
use crate::report::page;
use crate::table::{Table, shelf_of};

fn read(path: &str) -> Source {
    let text = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let text = std::fs::read_to_string(text).expect("the file is there");
    Source::new(path, text)
}

#[test]
fn the_pages_of_an_inconclusive_board_and_of_a_failing_one() {
    // Tests run in the project's folder; a whole path would break its line
    // elsewhere on every machine.
    let path = Path::new("tolerances/fenwick-lane.yaml");
    let table = read("tolerances/fenwick-lane.yaml");
    let table = Table::read(table, &shelf_of(path)).expect("a sound table");
    let event = read("specs/events/fenwick-lane-autumn.yaml");
    let event = Event::read(event).expect("a sound event");
    let judge = Judge::new(&table);
    let files = ["10-close-to-the-limit.yaml", "03-narrow-treble.yaml"];
    let boards =
        files.map(|file| Board::read(read(&format!("specs/demo/{file}"))).expect("a sound board"));
    let mut report = Compliance::new(&event, &table);
    for board in &boards {
        report.add(&judge.judge(board));
    }
    let parts = report.lines.iter().zip(&boards);
    let parts = parts.map(|(line, board)| report.board_part(line, &judge.judge(board), true));
    let parts = report.summary().into_iter().chain(parts);
    let head = report.pdf_head(PaperSize::A4, Vec::new());
    let pages = page::printed(&head, parts);
    insta::with_settings!({
        snapshot_path => "../../../../tests/snapshots",
        prepend_module_to_snapshot => false,
    }, {
        insta::assert_snapshot!("report-pdf", pages);
    });
}
